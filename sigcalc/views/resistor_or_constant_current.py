"""Pictures of the lesson "resistor or constant current": a sagging supply, and lamps behind one driver."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from ..design.pair.shared_limiter import SharedLimiter
from ..design.power.drive_choice import HALF, OverSupply
from ..parts.drive import ConstantCurrentDrive, Drive, ResistorDrive
from ..parts.led import LIT_FROM
from ..units import Q, say, say_band, say_times
from .canvas import Canvas, wrapped
from .chart import Chart, current_axis, nice
from .light import Light
from .phrases import current_words, drive_name, light_word
from .picture import Picture
from .rows import Rows
from .side_by_side import SideBySide, Way
from .style import DASHES, LINE, NORMAL, PAPER, STAGE, STAGE_BOX, TEXT, THIN, Size, lamp_fill, lamp_hatch

_COLUMNS, _ROW = (6.0, 146.0, 314.0), 22.0
_WALL_COLUMNS, _WALL_ROW = (6.0, 142.0, 270.0), 31.0
_ON_A_WALL = ("", "current", "light, of the fresh", "heat in the drive", "half the light gone", "current is held")
_NOTHING = "next to nothing"
_NEAR = 0.1  # of the wanted current
_MOST = 0.025  # A, where the bars of wanted currents end

BoughtCurrent = tuple[float, float, float]
"""A current with bought parts: nominal, least and most."""


def limiter_shares(shared: SharedLimiter, size: Size = NORMAL) -> Picture:
    """Two bars for each branch, the wanted current above and what it gets below, all to one scale that stays."""
    turns = "both lit at once" if shared.together else "lit one at a time"
    title = f"one driver of {say(shared.drive.limit, 'A')}, {turns}"
    left, right = (118.0, 100.0) if size is STAGE else (150.0, 110.0)
    chart = Rows(0.0, _MOST, left=left, right=right, title=title, size=size)
    said = []
    for branch, gets, wanted in zip(shared.branches, shared.si.current.tolist(), shared.si.wanted, strict=True):
        colour = branch[0].colour
        chart.row(f"{colour} wants", gap=6.0, bold=False)
        chart.bar(float(wanted), current_words(wanted), PAPER)
        chart.row(f"{colour} gets".upper(), *([] if chart.on_wall else [branch[0].name]), gap=16.0)
        chart.bar(gets, current_words(gets), lamp_fill(colour), lamp_hatch(colour), bold=True)
        verdict = _share_words(gets, float(wanted))
        said.append(f"{colour} wants {say(float(wanted), 'A')} and gets {current_words(gets)}, {verdict}")
    start = "Lit at once" if shared.together else "Lit one at a time"
    return chart.picture(f"{start}, {'; '.join(said)}.")


def sharing_brief(shared: SharedLimiter) -> str:
    """For a wall: what each lamp gets and what it wants."""
    (red, green), gets = shared.branches, [current_words(each) for each in shared.si.current.tolist()]
    wants = [f"{1e3 * float(each):g}" for each in shared.si.wanted]
    said = f"{red[0].colour} {gets[0]}, wants {wants[0]}; {green[0].colour} {gets[1]}, wants {wants[1]}"
    return f"{'Together' if shared.together else 'In turn'}: {said}."


def _share_words(gets: float, wanted: float) -> str:
    share = gets / wanted
    if gets <= LIT_FROM:
        return "and stays dark"
    if abs(share - 1) <= _NEAR:
        return "about right"
    return f"{say_times(share)} times what it wants" if share > 1 else f"{say(share, '', 2)} of what it wants"


def sagging(comparison: Mapping[str, OverSupply], source: str, kind: str, full: float) -> SideBySide:
    """Both lamps at the last of the supply voltages, side by side on one source."""
    ways = []
    for name, over in comparison.items():
        light, current = float(over.light[-1]), float(over.si.current[-1])
        lit = current > LIT_FROM
        words = (name.upper(), *wrapped(what_to_buy(over.drive), 130.0, 3), light_word(light, lit))
        ways.append(Way(over.drive, over.string, current, words, (words[0], words[-1]), _share(light, 2)))
    volts = float(next(iter(comparison.values())).si.supply[-1])
    return SideBySide(source, kind, volts, full, tuple(ways))


def sharing(shared: SharedLimiter, source: str, kind: str, volts: float, lit: Sequence[str], ohms: float) -> SideBySide:
    """Red, with a resistor of its own, and green behind one driver; only what is `lit` is switched on."""
    ways = []
    for string, gets, wants in zip(shared.branches, shared.si.current.tolist(), shared.si.wanted, strict=True):
        if (colour := string[0].colour) in lit:
            light = Light.of(string[0], gets).said().split(", ")
            words = (*light, f"carries {current_words(gets)}", f"wants {current_words(float(wants))}")
            ways.append(Way(ResistorDrive(Q(ohms if colour == "red" else 0.0, "ohm")), string, gets, words))
    return SideBySide(source, kind, volts, volts, tuple(ways), shared.drive)


def sag_figures(
    comparison: Mapping[str, OverSupply], bands: Mapping[str, BoughtCurrent], size: Size = NORMAL
) -> Picture:
    """The figures of both drives at the last of the supply voltages, against the greatest.

    Parameters
    ----------
    comparison: two drives by name, as `compare_drives` gives them
    bands: for each drive nominal, least and most current in A over bought parts, at that voltage
    """
    columns = [{"": name.upper()} | _figures(over, bands[name]) for name, over in comparison.items()]
    places, tall, wide, rows = _COLUMNS, _ROW, 480.0, tuple(columns[0])
    if size is STAGE:
        places, tall, wide, rows = _WALL_COLUMNS, _WALL_ROW, STAGE_BOX[0], _ON_A_WALL
        for column, over in zip(columns, comparison.values(), strict=True):
            column["current"] = current_words(over.si.current[-1])
    canvas = Canvas(wide, tall * len(rows) + 10.0)
    for number, what in enumerate(rows):
        y = tall * (number + 1)
        canvas.group(what or "heads")
        for x, text in zip(places, (what, *(column[what] for column in columns)), strict=True):
            canvas.text((x, y), text, bold=number == 0)
        canvas.line((6, y + 6.5), (wide - 6, y + 6.5), width=0.5)
    return canvas.picture(sentence(comparison), size)


def what_to_buy(drive: Drive) -> str:
    """A drive in words, with its value."""
    plain = drive.kind in ("resistor", "constant-current driver")
    return drive_name(drive) if plain else f"{drive.kind}: {say(drive.limit, 'A')}"


def _figures(over: OverSupply, band: BoughtCurrent) -> dict[str, str]:
    """The figures of one drive at the last voltage, by what they are."""
    si = over.si
    nominal, least, most = band
    current = _NOTHING if most < 1e-6 else say_band(least, nominal, most, "A", 2 if least < 1e-4 else 3)
    if least < 1e-6 <= most:  # what no hobby meter shows is not given a figure
        current = f"{current_words(nominal)} (up to {current_words(most)})"
    power, volts = float(si.led_power[-1] + si.drive_power[-1]), float(over.sensitivity[-1])
    many = "LED" if len(over.string) == 1 else "LEDs"
    return {
        "current": current,
        "light, of the fresh": _share(float(over.light[-1])),
        "heat in the drive": _power(float(si.drive_power[-1])),
        f"power in the {many}": _power(float(si.led_power[-1])),
        # of next to no power a share says nothing
        f"reaches the {many}": _NOTHING if power < 1e-6 else f"{say(float(over.efficiency[-1]), '')} of the power",
        # a driver whose output resistance is not known has none in the formulas
        "a volt changes it by": current_words(volts) if volts >= 1e-7 else _NOTHING,
        "half the light gone": f"below {say(si.stops_at, 'V')}",
        "current is held": "at no voltage" if si.drops_out_at is None else f"above {say(si.drops_out_at, 'V')}",
    }


def sag_brief(comparison: Mapping[str, OverSupply]) -> str:
    """For a wall: what each drive keeps of the light at the last voltage, or what it gives at the fresh one."""
    si = next(iter(comparison.values())).si
    (first, one), (second, other) = comparison.items()
    if si.supply[-1] == np.max(si.supply):
        gives = current_words(one.si.current[-1]), current_words(other.si.current[-1])
        return f"Fresh: {gives[0]} with the {first}, {gives[1]} with the {second}."
    left = _share(float(one.light[-1]), 2), _share(float(other.light[-1]), 2)
    return f"{first.capitalize()}: {left[0]} of the light; {second}: {left[1]}."


def _share(light: float, digits: int = 3) -> str:
    return say(light, "", digits) if light >= 1e-3 else "under 0.1 %"


def _power(watts: float) -> str:
    return say(watts, "W") if watts >= 1e-6 else _NOTHING


def sentence(comparison: Mapping[str, OverSupply]) -> str:
    """What both drives leave of the light at the last voltage, and where half of it is gone."""
    any_one = next(iter(comparison.values())).si
    now, fresh = (say(volts, "V") for volts in (any_one.supply[-1], np.max(any_one.supply)))
    currents = {name: current_words(over.si.current[-1]) for name, over in comparison.items()}
    start = f"Fresh, at {fresh}, {' and '.join(f'the {name} gives {flows}' for name, flows in currents.items())}."
    if now != fresh:
        left = {name: _share(float(over.light[-1])) for name, over in comparison.items()}
        said = " and ".join(f"the {name} keeps {left[name]} of the light ({currents[name]})" for name in comparison)
        start = f"At {now}, down from {fresh}, {said}."
    ends = [f"{say(over.si.stops_at, 'V')} with the {name}" for name, over in comparison.items()]
    return f"{start} Half the light is gone below {ends[0]}, and below {ends[1]}."


class SagCurve(Chart):
    """Current against supply voltage for two drives: a line for each, points at the voltage of now.

    A cross marks on each line where half the light is gone. `picture` changes the data of the one figure.
    """

    def __init__(self) -> None:
        ring = {"marker": "o", "markersize": 8, "markerfacecolor": PAPER, "markeredgewidth": 1.6}
        styles = {
            "now": {"ls": DASHES[2], "lw": THIN},
            "first": {"lw": 1.5 * LINE},
            "second": {"ls": DASHES[1], "lw": 1.5 * LINE},
            "half": {"ls": "none", "marker": "x", "markersize": 9, "markeredgewidth": 2.0},
            "points": {"ls": "none", **ring},
        }
        super().__init__(styles, ("now", "first", "second", "half"), ("now",))

    def picture(self, comparison: Mapping[str, OverSupply], now: float, size: Size = NORMAL) -> Picture:
        """Both lines from the greatest supply of the comparison down, with points at the voltage `now` in V."""
        shown = list(comparison.values())
        volts = shown[0].si.supply
        most = nice(1.05 * min(led.si.max_current for led in shown[0].string))  # the LED's limit: no slider moves it
        factor, unit = current_axis(most)
        _, top = self.scale(1.02 * float(volts.max()), most * factor, "supply (V)", f"current ({unit})", size)
        at_now = [float(np.interp(now, volts, over.si.current)) for over in shown]
        lines = self.draw(
            first=(volts, shown[0].si.current * factor),
            second=(volts, shown[1].si.current * factor),
            now=(np.full(60, now), np.linspace(0, top, 60)),
            half=np.array([[over.si.stops_at, HALF * float(over.si.current.max()) * factor] for over in shown]).T,
            points=([now] * 2, np.array(at_now) * factor),
        )
        del lines["points"]
        upper = self.points([now], [top - 0.9 * TEXT * top / (self.box[3] - self.box[1])])
        first, second = comparison
        said = {"now": (f"now {say(now, 'V')}", upper), "half": ("half the light", lines["half"][[0]])}
        self.name(lines, said | {"second": (second, 0.8), "first": (first, 0.6)})
        return self.printed(self._sentence(comparison, now, at_now), size)

    def _sentence(self, comparison: Mapping[str, OverSupply], now: float, at_now: list[float]) -> str:
        said = [f"the {name} passes {current_words(current)}" for name, current in zip(comparison, at_now, strict=True)]
        ends = [f"{say(over.si.stops_at, 'V')} ({name})" for name, over in comparison.items()]
        held = [
            f" The {name} holds its current above {say(over.si.drops_out_at, 'V')}."
            for name, over in comparison.items()
            if isinstance(over.drive, ConstantCurrentDrive)
        ]
        half = f"Half the light is gone below {' and '.join(ends)}."
        return f"At {say(now, 'V')} {said[0]}, {said[1]}. {half}{''.join(held)}"
