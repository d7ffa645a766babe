"""Pictures of the lesson "battery or adapter": a battery's light, voltage and charge, an adapter's line, and costs."""

from __future__ import annotations

import math

import numpy as np

from ..design.power.adapter import AdapterResistor, AdapterVoltage
from ..design.power.cost import BreakEven
from ..design.power.drive_choice import HALF
from ..design.power.load import Load
from ..design.power.run_time import EMPTY, RELAY, RunTime
from ..parts.drive import ConstantCurrentDrive
from ..units import say
from .chart import Chart, between, kept
from .phrases import current_words, drive_name, light_word
from .picture import Picture
from .places import along
from .rows import Rows
from .side_by_side import RelayBoard, SideBySide, Way
from .style import DASHES, LINE, NORMAL, PAPER, SHADE, THIN, Size, lamp_fill

_HOUR = 3600.0
_SHOWN, _POINTS = 240, 60
_LOW = 196.0  # in points: charts of a run are lower than usual, for above them is the signal as it looks
_WHISKER = 7.0  # per cent of light, where the band of the end is drawn
_BATTERIES_SHOWN, _LEAST_SHOWN = 6.0, 8.0  # batteries, and evenings at the least
_AS_PRINTED = 0.05  # of the printed voltage
_COST_SHOWN = 60.0  # in the reader's currency
_BAND = {"band": {"fc": "#dcdcdc"}}
_THICK = {"lw": 1.6 * LINE}
_CROSS = {"ls": "none", "marker": "X", "markersize": 11, "markeredgecolor": "white"}
_RING = {"ls": "none", "marker": "o", "markersize": 9, "markerfacecolor": "white", "markeredgewidth": 2.0}
_NEEDS = {"relay": "relay pulls in from", "timer": "timer board needs"}
Costs = tuple[float, float, float]
"""Least, nominal and most, in the reader's currency."""


class RunTimeCurve(Chart):
    """The light of a run: a ring marks where half of it is gone, a cross the end, a bar with two ends its band."""

    def __init__(self) -> None:
        styles = {
            "guide": {"ls": DASHES[2], "lw": THIN},
            "now": {"ls": DASHES[3]},
            "divided": {"ls": DASHES[4], "lw": THIN},
            "bar": {"marker": "|", "markersize": 11, "markeredgewidth": LINE},
            "other": {"ls": DASHES[1]},
            "light": _THICK,
            "end": _CROSS,
            "half": _RING,
        }
        labels = ("now", "half", "end", "divided", "light", "other", "guide")
        super().__init__(styles, labels, ("now", "half", "end"), _BAND, height=_LOW, wall_room=(54.0, 42.0, 12.0, 34.0))

    def picture(
        self,
        run: RunTime,
        name: str,
        other: RunTime | None = None,
        other_name: str = "",
        size: Size = NORMAL,
        now: float | None = None,
    ) -> Picture:
        """The light of one run with its band over the spread of battery, drive and LEDs, beside the line of another.

        Parameters
        ----------
        run, other: of the same lamp, such as with a resistor and with a driver
        name, other_name: what is written beside their lines
        now: the share of the run that has passed; it is marked then (on a wall not the start), and what
            charge ÷ current says as well
        """
        self.lay(size)
        now = None if self.on_wall and not now else now
        self.taken_above = 14.0 if self.on_wall else None
        si, half, divided = run.si, _half(run), run.divided.m_as("h")
        longest = max(si.hours_max, other.si.hours if other is not None else 0.0) / _HOUR
        most = 1.04 * (longest if now is None or self.on_wall else max(longest, divided))
        right, _ = self.scale(most, 100.0, "hours switched on", "light (% of the start)", size)
        self.axes.set_ylim(0.0, 106.0)  # a line at 100 is seen whole
        self.shades["band"].set_xy(_outline(run))
        across, end = np.linspace(0.0, right, _POINTS), si.hours / _HOUR
        series = {
            "light": _falling(run),
            "guide": (across, np.full(_POINTS, 100 * HALF)),
            "bar": (np.array([si.hours_min, si.hours_max]) / _HOUR, [_WHISKER] * 2),
            "end": ([end], [100 * float(run.curve.light[-1])]),
            "half": ([half], [100 * HALF]) if half is not None else ([], []),
        } | ({"other": _falling(other)} if other is not None else {})
        if now is not None:
            heights = np.linspace(0.0, 100.0, _POINTS)
            series["now"] = np.full(_POINTS, now * end), heights
            series |= {} if self.on_wall else {"divided": (np.full(_POINTS, divided), heights)}
        lines = self.draw(**series)
        ring, cross, _ = (lines.pop(key) for key in ("half", "end", "bar"))
        bar = self.points(np.linspace(si.hours_min, si.hours_max, _POINTS) / _HOUR, _WHISKER)
        lines["end"] = bar
        said = {
            "end": (f"fails: {_hours(si.hours)}", [*self.points([end], [_WHISKER]), *cross, *bar[::6]]),
            "half": ("" if half is None else f"the eye notices: {_hours(half * _HOUR)}", ring),
            "light": (name, 0.3),
            "other": ("" if other is None else other_name, 0.6),
        }
        passed = "" if now is None else f"now: {_hours(now * si.hours)}"
        if not self.on_wall:
            said |= {"guide": ("half the light", 0.05)}
            said |= {"now": (passed, 0.95), "divided": ("mAh ÷ mA", 0.15)} if passed else {}
        self.name(lines, said)
        if self.on_wall and passed:
            self.above("now", passed, lines["now"][0, 0])
        return self.printed(run_sentence(run), size)


def run_time_picture(run: RunTime, size: Size = NORMAL) -> Picture:
    """The light of one run alone, such as that of a plan's evening: a still picture for a page or a sheet."""
    return RunTimeCurve().picture(run, f"with a {run.load.drive.kind}", size=size)


def _half(run: RunTime) -> float | None:
    """The hour at which half the light is gone with typical parts; None where the run ends before."""
    when = float(run.when_light(HALF)[1].m_as("h"))
    return when if when <= run.si.hours / _HOUR else None


def _falling(run: RunTime) -> tuple[np.ndarray, np.ndarray]:
    """Hours and per cent along the nominal run; where the battery is empty it falls to nothing."""
    hours, light = run.curve.si.time / _HOUR, 100 * np.asarray(run.curve.light)
    return (np.append(hours, hours[-1]), np.append(light, 0.0)) if run.ended_by == EMPTY else (hours, light)


def _outline(run: RunTime) -> np.ndarray:
    """The area between the least and the most light of all corners, up to the latest end."""
    times = np.linspace(0.0, run.si.hours_max, _SHOWN)
    pairs = zip(run.spread.time, run.spread.light, strict=True)
    lights = 100 * np.array([np.interp(times, time, light, right=0.0) for time, light in pairs])
    return between(times / _HOUR, lights.min(axis=0), lights.max(axis=0))


def run_sentence(run: RunTime) -> str:
    """When the eye notices, and when and why the run ends."""
    return f"The {run.battery.name} battery runs it for {run.lasts}; then {run.end}. {notices(run)}"


def run_brief(run: RunTime, share: float) -> str:
    """For a wall: when the eye notices and when it fails, or what is left when so much of the run has passed."""
    end, half = _hours(run.si.hours), _half(run)
    if share >= 1 or (share <= 0 and half is None):
        return f"{end}, then {run.end}."
    if share <= 0:
        return f"{_hours(half * _HOUR)} until the eye notices; it fails after about {end}."
    light, passed = _light_left(run, share), _hours(share * run.si.hours)
    return f"{say(light, '', 2)} of its light after {passed}: {light_word(light).lower()}."


def _light_left(run: RunTime, share: float) -> float:
    """Of the starting light, when so much of the run has passed."""
    return run.moment(share).si.current / float(run.curve.si.current[0])


def notices(run: RunTime) -> str:
    """When the eye notices that half the light is gone, if it is before the end."""
    least, nominal, most = (float(each) for each in run.when_light(HALF).m_as("s"))
    if nominal <= run.si.hours:
        spread = f"{_hours(least)} to {_hours(most)}" if math.isfinite(most) else f"{_hours(least)} or later"
        return f"The eye notices after {_hours(nominal)} ({spread}), when half the light is gone."
    weak = f"; with poor parts it may be after {_hours(least)}" if least < run.si.hours else ""
    return f"Half the light is not gone before that{weak}."


def signal_now(run: RunTime, share: float, kind: str) -> SideBySide:
    """The lamp and its relay, if any, when so much of the run has passed; `kind` is how the battery looks."""
    point, load = run.moment(share), run.load
    light = _light_left(run, share)
    name = "DRIVER" if isinstance(load.drive, ConstantCurrentDrive) else "RESISTOR"
    words = (name, drive_name(load.drive), f"{current_words(point.si.current)} flows")
    way = Way(load.drive, point.string, point.si.current, (*words, f"{say(light, '', 2)} of its light"))
    volts, board = point.si.led_voltage + point.si.drive_voltage, None
    if load.relay is not None:
        coil = run.coil_current(share)
        pulled = coil > 0 and not (share >= 1 and run.ended_by == RELAY)
        state = "RELAY HELD" if pulled else "LATCHING" if load.relay.latching else "RELAY FAILS"
        board = RelayBoard(coil, pulled, (state, f"coil {say(coil, 'A')}" if coil else "draws nothing"))
    return SideBySide(run.battery.name, kind, volts, run.battery.si.fresh_voltage, (way,), board=board)


def after(run: RunTime, share: float) -> str:
    """What the lamp does when so much of the run has passed, and what the plain sum would have said of it."""
    point, hours = run.moment(share).si, _hours(share * run.si.hours)
    left = say(_light_left(run, share), "", 2)
    lamp = f"the lamp has {left} of its light" if point.current > 0 else "the lamp is dark"
    when, volts = f"After {hours}" if share > 0 else "At first", point.led_voltage + point.drive_voltage
    gives = f"gives {say(volts, 'V')}" if volts > 0 else "is empty"
    return f"{when} the battery {gives} and {lamp}. By mAh ÷ mA it would run for {_hours(run.divided.m_as('s'))}."


def _hours(seconds: float) -> str:
    return say(seconds, "s", 2)


class RunVoltage(Chart):
    """The battery's voltage while it runs down, against what relay and timer board need."""

    def __init__(self) -> None:
        needs = {"relay": {"ls": DASHES[1]}, "timer": {"ls": DASHES[3]}}
        labels = ("now", "end", "voltage", "relay", "timer")
        lines = {**needs, "now": {"ls": DASHES[4]}, "voltage": _THICK, "end": _CROSS}
        super().__init__(lines, labels, ("now", "end"), height=_LOW)

    def picture(self, run: RunTime, size: Size = NORMAL, now: float | None = None) -> Picture:
        """The nominal run of a Load up to its end; `now` is the share of it that has passed."""
        self.lay(size)
        now = None if self.on_wall and not now else now
        hours, volts = run.curve.si.time / _HOUR, run.curve.si.voltage
        right, top = self.scale(1.04 * hours[-1], 1.08 * float(volts.max()), "hours switched on", "battery (V)", size)
        across = np.linspace(0.0, right, _POINTS)
        needs = {key: f"{_NEEDS[key]} {say(limit, 'V')}" for key, limit in _needs(run).items()}
        flat = {key: (across, np.full(_POINTS, limit)) for key, limit in _needs(run).items()}
        said = {"voltage": ("battery", 0.25)}
        if now is not None:
            flat["now"] = (np.full(_POINTS, now * hours[-1]), np.linspace(0.0, top, _POINTS))
            said["now"] = (f"now: {_hours(now * run.si.hours)}", 0.1)
        lines = self.draw(voltage=(hours, volts), end=(hours[-1:], volts[-1:]), **flat)
        cross = lines.pop("end")
        said["end"] = (f"fails at {say(volts[-1], 'V')}", cross)
        self.name(lines, said | {key: (text, 0.25) for key, text in needs.items()})
        told = f"; {' and '.join(f'the {each}' for each in needs.values())}" if needs else ""
        fell = f"falls from {say(volts[0], 'V')} to {say(volts[-1], 'V')}"
        return self.printed(f"In {_hours(run.si.hours)} the battery under load {fell}{told}.", size)


def _needs(run: RunTime) -> dict[str, float]:
    """The least voltages in V of relay and timer board, where there are any."""
    load, needs = run.load, {}
    if isinstance(load, Load) and load.relay is not None:
        needs["relay"] = load.relay.si.rated_voltage * load.relay.si.must_operate
    if isinstance(load, Load) and load.timer_voltage is not None:
        needs["timer"] = load.si.timer_voltage
    return needs


def charge_shares(run: RunTime, size: Size = NORMAL) -> Picture:
    """What the charge used up to the end of the run has gone into: three bars, each beginning where the last ends."""
    si, lamp = run.si, lamp_fill(run.load.branch(run.load.shown)[0][0].colour)
    parts = (
        ("the lamp", si.lamp_charge, lamp, ""),
        ("the timer board and the drive", si.standby_charge, PAPER, ""),
        ("the relay's coil", si.coil_charge, SHADE, "///"),
    )
    title = f"{say(si.used, 'Ah')} are used in {_hours(si.hours)}"
    _, end = kept(0.0, si.used, "charge")
    rows, done, said = Rows(0.0, end, left=130.0, right=130.0, title=title, size=size), 0.0, []
    for name, charge, fill, hatch in parts:
        share = say(charge / si.used, "", 2)
        rows.row(name, tall=34.0)
        if charge > 0:
            rows.strip([(done, done + charge)], fill=fill, hatch=hatch, rim=LINE)
            said.append(f"{name} {say(charge, 'Ah', 2)} ({share})")
        rows.words(f"{say(charge, 'Ah')}, {share}" if charge > 0 else "nothing", bold=rows.on_wall)
        done += charge
    return rows.picture(f"{title}: {', '.join(said)}.")


class AdapterLine(Chart):
    """An adapter's voltage against its load: what is printed on it, and what it gives."""

    def __init__(self) -> None:
        bar = {"marker": "_", "markersize": 12, "markeredgewidth": LINE}
        styles = {"printed": {"ls": DASHES[2]}, "line": _THICK, "bar": bar, "point": _RING}
        shades = {"ripple": {"fc": PAPER, "hatch": "////"}, **_BAND}
        super().__init__(styles, ("point", "printed", "line", "ripple"), ("point",), shades)

    def picture(self, at: AdapterVoltage, size: Size = NORMAL) -> Picture:
        """The whole line with its band over mains and samples, ripple hatched around it, and the point of the load."""
        si, adapter, load = at.si, at.adapter, at.si.load * 1e3
        loads = np.linspace(0.0, adapter.si.max_current, _POINTS)
        least, nominal, most = (volts - ohms * loads for volts, ohms in adapter.corners)
        swing = adapter.ripple * adapter.si.voltage * loads / adapter.si.max_current / 2
        top = 1.08 * float(max((most + swing).max(), si.peak))
        self.scale(1.02 * adapter.si.max_current * 1e3, top, "load (mA)", "adapter (V)", size)
        milli = loads * 1e3
        self.shades["band"].set_xy(between(milli, least, most))
        self.shades["ripple"].set_xy(between(milli, least - swing, most + swing))
        lines = self.draw(
            line=(milli, nominal),
            printed=(milli, np.full(_POINTS, adapter.si.voltage)),
            bar=([load] * 2, [si.voltage_min, si.voltage_max]),
            point=([load], [si.voltage]),
        )
        point, _, edge = lines.pop("point"), lines.pop("bar"), self.points(milli, most + swing)
        said = {
            "point": (f"{say(si.voltage, 'V')} at {say(si.load, 'A')}", point),
            "printed": (f"printed: {say(adapter.si.voltage, 'V')}", 0.25),
            "line": ("" if adapter.regulated else "what it gives", 0.6),
            "ripple": ("hatched: ripple" if adapter.ripple and not self.on_wall else "", along(edge, self.box, 0.8)),
        }
        self.name(lines, said)
        return self.printed(at.sentence, size)


def adapter_brief(result: AdapterResistor) -> str:
    """For a wall: what the adapter gives beside what is printed on it, and the resistor for that."""
    at, printed = result.at.si, result.at.adapter.si.voltage
    as_printed = abs(at.voltage / printed - 1) <= _AS_PRINTED
    but = "as printed" if as_printed else f"not {say(printed, 'V')}"
    return f"{say(at.voltage, 'V')} at {say(at.load, 'A')}, {but}: use {say(result.si.resistance, 'ohm')}."


class BreakEvenChart(Chart):
    """What batteries and an adapter cost, evening after evening: a ring where they meet, a bar for its band."""

    def __init__(self) -> None:
        styles = {
            "guide": {"ls": DASHES[2], "lw": THIN},
            "adapter": {"ls": DASHES[1], "lw": 1.4 * LINE},
            "batteries": _THICK,
            "bar": {},
            "ends": {"ls": "none", "marker": "|", "markersize": 11, "markeredgewidth": LINE},
            "ring": _RING,
        }
        # room for a long number at the right end
        super().__init__(styles, ("ring", "batteries", "adapter"), ("ring",), _BAND, room=(60.0, 46.0, 24.0, 14.0))

    def picture(
        self, result: BreakEven, adapter_price: float, per_evening: Costs, lasting: float, size: Size = NORMAL
    ) -> Picture:
        """Both costs against the number of evenings.

        Parameters
        ----------
        result: what `break_even` gives
        adapter_price: where the adapter's line begins
        per_evening: what batteries cost each evening, over the spread of how long they last
        lasting: the evenings that one battery lasts; they set the axis, which no price does, so that it stays
        """
        right, top = self.scale(
            max(_BATTERIES_SHOWN * lasting, _LEAST_SHOWN), _COST_SHOWN, "evenings", "cost (your currency)", size
        )
        meets, evenings = result.evening <= right, np.linspace(0.0, right, _POINTS)
        least, nominal, most = (np.minimum(evenings * each, top) for each in per_evening)
        adapter = np.minimum(adapter_price + evenings * result.adapter_per_evening, top)
        self.shades["band"].set_xy(between(evenings, least, most))
        leaves = top / per_evening[1] if per_evening[1] > 0 else right  # where the line goes beyond the sheet
        series = {"batteries": (np.minimum(evenings, leaves), nominal), "adapter": (evenings, adapter)}
        lines, ring = self.draw(**series), ()
        if meets:
            height = min(adapter_price + result.evening * result.adapter_per_evening, top)
            band, low = [result.evening_min, result.evening_max], 0.06 * top
            seen = [each for each in band if each <= right]  # a bar that goes on beyond the sheet has no end there
            series |= {
                "ring": ([result.evening], [height]),
                "guide": ([result.evening] * 2, [0.0, height]),
                "bar": ([min(each, right) for each in band], [low] * 2),
                "ends": (seen, [low] * len(seen)),
            }
            ring = self.draw(**series)["ring"]
        elif math.isfinite(result.evening):  # beyond the right end: said there
            ring = self.points([right], [0.5 * top])
        said = {"ring": (f"evening {result.evening:.0f}{'' if meets else ' →'}" if len(ring) else "", ring)}
        self.name(lines, said | {"batteries": ("batteries", 0.85), "adapter": ("adapter", 0.9)})
        return self.printed(cost_sentence(result), size)


def cost_sentence(result: BreakEven) -> str:
    """What an evening costs, and from which evening on the adapter is cheaper."""
    batteries, mains = money(result.battery_per_evening), money(result.adapter_per_evening)
    return f"An evening costs {batteries} in batteries and {mains} in mains energy. {result.sentence}"


def cost_brief(result: BreakEven) -> str:
    """For a wall: from which evening on the adapter is cheaper."""
    if math.isinf(result.evening):
        return "Never: at these prices the adapter does not pay for itself."
    if result.evening <= 1:
        return "From the first evening on the adapter is cheaper."
    return f"From evening {result.evening:.0f} on the adapter is cheaper, after {result.waiting}."


def money(amount: float) -> str:
    """An amount in the reader's currency, to a hundredth; small ones to a thousandth."""
    if 0 < amount < 0.001:
        return "under 0.001"
    return f"{amount:.2f}" if amount >= 0.01 or amount == 0 else f"{amount:.3f}"
