"""Pictures of the lesson "let the train do it": closings along the track, on-times, a passing in time, and its odds."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np

from ..design.train.hold import Hold
from ..design.train.magnet_and_reed import Gap, Passing, closures
from ..design.train.passing_odds import PassingOdds
from ..design.train.passing_train import MISSED, NEEDLESS, OWN_RED, SHORT, PassingTrain
from ..design.train.train_run import GREEN, RED
from ..errors import UnknownNameError
from ..parts.magnet import Magnet, as_magnet, as_orientation
from ..parts.reed import Reed, as_reed, band_of
from ..physics.events import Spans
from ..physics.magnetics import CROSSWISE, LENGTHWISE, ORIENTATIONS, UPRIGHT
from ..physics.rc import settled
from ..units import Length, Q, Time, say, say_times, with_units
from .canvas import Canvas, text_width
from .chart import Chart, between, kept
from .picture import Picture
from .rows import Rows
from .scene.magnet_scene import Place
from .scene.table import Table
from .style import DASHES, FLOW, LINE, NORMAL, PAPER, SHADE, STAGE, STAGE_BOX, THIN, Size, lamp_fill

WHOLE, OVER_THE_REED, FIRST_CLOSING = "whole time", "over the reed", "first closing"
VIEWS = (WHOLE, OVER_THE_REED, FIRST_CLOSING)

_WIDTH, _LONE_WIDTH = 530.0, 460.0
_LANE, _LONE_LANE, _FIELD = 66.0, 180.0, 62.0  # points: heights of the rows with a field
_LEAST_REACH, _LEAST_TOP = 0.01, 0.1  # m, T: any axis of places, and of fields, goes so far at least
_LIES = {UPRIGHT: "a pole down", LENGTHWISE: "poles along", CROSSWISE: "poles across"}
_BELOW = 4.0  # the axis of a field begins at least this many times below the release
_LEVEL_DASHES = {"pull-in": (0, (8, 3)), "release": (0, (2, 3))}
_MARK_DASHES = {"front at the signal": (0, (7, 3)), "last wheel clear": (0, (2, 3))}
_TURNS = np.linspace(0.0, 1.0, 41)
_KEY_ROOM, _WALL_KEY = (60.0, 46.0, 14.0, 58.0), (54.0, 42.0, 14.0, 48.0)
_BESIDE_BOARD, _BOARD = (196.0, 42.0, 14.0, 48.0), ((4.0, 72.0), 0.7)  # on a wall: the board's corner and scale
_LONGEST, _FILLED = 60.0, 30.0  # s: the axes of on-times and of time end here, whatever the timer
_ODDS = {
    "right": "gets its red",
    "missed": "never red",
    "short": "green too soon",
    "own_red": "red too early",
    "for_good": "red for good",
}

Window = tuple[float, float]


class _FieldAxis(NamedTuple):
    """An axis of flux densities by their amount, each line ten times the one below: `low` to `high` in T."""

    low: float
    high: float

    @classmethod
    def around(cls, reed: Reed, most: float) -> _FieldAxis:
        """The axis that shows a reed's two levels and the most of what is drawn (T)."""
        pull_in, release = reed.at_magnet
        top = np.ceil(np.log10(max(pull_in, most, _LEAST_TOP)) - 1e-9)
        return cls(*kept(10.0 ** np.floor(np.log10(release / _BELOW)), 10.0**top, "field"))

    def share(self, field: Any) -> np.ndarray:
        """Where amounts (T) are between foot and top; below the axis on its foot."""
        return np.log10(np.maximum(np.abs(field), self.low) / self.low) / np.log10(self.high / self.low)

    def draw(self, rows: Rows, tall: float, reed: Reed) -> None:
        """Lines for the powers of ten that have room for their figures, and the reed's levels with their names."""
        decades = np.arange(round(np.log10(self.low)), round(np.log10(self.high)) + 1)
        every = max(int(np.ceil(13.0 * (len(decades) - 1) / tall)), 1)
        for decade in decades[::-1][::every]:
            unit = " mT" if decade == decades[-1] else ""
            shown = f"{10.0 ** (decade + 3):g}{unit}"
            rows.level(float(self.share(10.0**decade)), shown, width=0.6, colour="#b0b0b0")
        pull_in, release = (float(self.share(each)) for each in reed.at_magnet)
        apart = max(13.0 / tall - (pull_in - release), 0.0) / 2  # so that the two names do not touch
        for name, level, shift in (("pull-in", pull_in, apart), ("release", release, -apart)):
            rows.level(level, dash=_LEVEL_DASHES[name], width=THIN + 0.4)
            rows.level(level + shift, behind=name, width=0.0)


@with_units(scalar=True)
def closures_picture(
    magnet: Magnet | str,
    reed: Reed,
    gap: Gap,
    orientations: Sequence[str] = ORIENTATIONS,
    size: Size = NORMAL,
    place: Place | None = None,
    reach: Length | None = None,
) -> Picture:
    """What the reed takes of the flux density against the magnet's place, by amount, one row for each orientation.

    Below each curve are the closed stretches, numbered; a lone orientation has a higher row. Arguments as `closures`,
    and raises as it does; `place` is where the magnet is now, and `reach` how far the axis goes on either side. On the
    stage there are the closed stretches alone.
    """
    magnet, reed = as_magnet(magnet), as_reed(reed)
    names = [as_orientation(each) for each in orientations]
    found = {
        name: [tuple(float(end.m_as("mm")) for end in pair) for pair in closures(magnet, reed, Q(gap, "m"), name)]
        for name in names
    }
    ends = [1e3 * _LEAST_REACH, *(abs(x) for each in found.values() for pair in each for x in pair)]
    _, reach = kept(0.0, 1.2 * max(ends) if reach is None else 1e3 * reach, "reach")
    curves = {name: Passing.over(magnet, name, reed).curve(gap, 0.0, reach / 1e3) for name in names}
    peaks = {name: float(curve.peaks()[0]) for name, curve in curves.items()}
    axis = _FieldAxis.around(reed, max(peaks.values()))
    wall, tall = size is STAGE, _LANE if len(names) > 1 else _LONE_LANE
    title, width = "Field along the reed, and where it closes the reed:", _WIDTH if len(names) > 1 else _LONE_WIDTH
    sides, title = ((118.0, 36.0), "Where the magnet closes the reed:") if wall else ((140.0, 70.0), title)
    rows = Rows(-reach, reach, *sides, title=title, width=width, size=size)
    if place is not None:
        rows.mark(1e3 * place, f"magnet now: {_signed(1e3 * place)}", "-", bold=True)
    if not wall:
        rows.row("", tall=8.0, gap=0.0)  # room for the topmost figure
    for name, curve in curves.items():
        if not wall:
            none = peaks[name] < axis.low
            rows.row(name.upper(), _LIES[name], *(("no field", "along the reed") if none else ()), tall=tall, gap=3.0)
            axis.draw(rows, tall, reed)
            if not none:
                rows.curve(1e3 * curve.places, axis.share(curve.values[0]), width=2.4)
        rows.row(name if wall else "closed", tall=16.0, bold=wall)
        rows.strip([(-reach, reach)], fill=PAPER)
        for number, pair in enumerate(found[name], 1):
            rows.strip([pair], str(number), fill=FLOW if wall else SHADE, bold=True)
        rows.words(f"{len(found[name])}×", bold=True)
    rows.axis("mm past the reed" if wall else "mm from the reed to the magnet, which travels to the right →")
    return rows.picture(_closures_sentence(found, gap, {name: peaks[name] / reed.at_magnet[0] for name in names}))


@with_units(scalar=True)
def closures_brief(magnet: Magnet | str, reed: Reed, gap: Gap, orientations: Sequence[str]) -> str:
    """How often the magnet closes the reed, for a wall, in twelve words at the most; arguments as `closures`."""
    often = {name: _often(len(closures(magnet, reed, Q(gap, "m"), name))) for name in orientations}
    if len(often) > 1:
        return ", ".join(f"{name} {each}" for name, each in often.items()).capitalize() + "."
    ((name, times),) = often.items()
    does = "never closes the reed" if times == _often(0) else f"closes the reed {times}"
    return f"{name.capitalize()}, gap {say(gap, 'm')}: the magnet {does}."


def _closures_sentence(found: dict[str, Any], gap: float, times: dict[str, float]) -> str:
    strong = {name: f"{say_times(peak)} times" for name, peak in times.items() if peak > 1e-9}
    over = f"Straight over the reed, at a gap of {say(gap, 'm')}, the magnet"
    if len(found) == 1:
        (name,) = found
        places = [f"from {_signed(start)} to {_signed(end)}" for start, end in found[name]]
        said = (
            f"{over} closes it {_often(len(places))}: {' and '.join(places)}" if places else f"{over} never closes it"
        )
        return f"{said}. At its peak the field is {strong[name]} the pull-in." if strong else f"{said}."
    *parts, last = (f"{name} {_often(len(each))}" for name, each in found.items())
    peaks = " and ".join(f"{many} {name}" for name, many in strong.items())
    return (
        f"{over} closes it {', '.join(parts)} and {last}. At its peak the field is this much of the pull-in: {peaks}."
    )


def _often(count: int) -> str:
    return {0: "never", 1: "once", 2: "twice"}.get(count, f"{count} times")


def _signed(place: float) -> str:
    return say(place / 1e3, "m", 2).replace("-", "−")


class HoldCurve(Chart):
    """The on-time against the pot's turn, with the band of bought parts, on a scale that never changes."""

    def __init__(self) -> None:
        lines = {
            "least": {"ls": DASHES[2], "lw": 1.2},
            "most": {"ls": DASHES[2], "lw": 1.2},
            "hold": {"lw": 1.5 * LINE},
            "wanted": {"ls": DASHES[1]},
            "point": {"ls": "none", "marker": "o", "markersize": 9, "clip_on": False},
        }
        rooms = {"room": _KEY_ROOM, "wall_room": _BESIDE_BOARD}
        super().__init__(lines, shades={"band": {"fc": SHADE}}, height=290.0, **rooms)
        self.scale(100.0, _LONGEST, "turn of the pot (%)", "on-time (s)", NORMAL)

    @with_units(scalar=True)
    def picture(self, hold: Hold, wanted: Time | None = None, size: Size = NORMAL) -> Picture:
        """The curve of a timer's circuit, a point where its pot is turned to, and an on-time that is wanted.

        What is beyond the scale goes through its upper edge; the point becomes an arrowhead there. On the stage the
        board is beside it.
        """
        self.lay(size)
        seconds = np.array(list(hold.circuit.seconds(hold.si.supply, _TURNS)))
        turns, (least, nominal, most) = 100 * _TURNS, np.minimum(seconds, 1e3 * _LONGEST)
        beyond = hold.si.hold > _LONGEST
        self.lines["point"].set_marker("^" if beyond else "o")
        self.shades["band"].set_xy(between(turns, least, most))
        here = ([100 * hold.si.turn], [min(hold.si.hold, _LONGEST)])
        flat = {} if wanted is None else {"wanted": (turns, np.full(len(turns), wanted))}
        self.draw(least=(turns, least), most=(turns, most), hold=(turns, nominal), point=here, **flat)
        said = f"on for {say(hold.si.hold, 's')} with the pot at {say(hold.si.turn, '')}"
        items = [("as printed", 1.5 * LINE, ""), ("parts as bought", 0.0, "")]
        items += [] if wanted is None else [(f"wanted: {say(wanted, 's')}", LINE, "7 3")]
        key = _key(f"{said}{', beyond the scale' if beyond and not self.on_wall else ''}", *items, wall=self.on_wall)
        board = Table(*STAGE_BOX)
        if self.on_wall:
            board.put("timer_board", *_BOARD, running=True, share=1.0, turn=round(hold.si.turn, 2))
        return self.printed(hold.sentence, size, over=key + board.markup())


class FillCurve(Chart):
    """The voltage across the timer's capacitor while it is on, on scales that never change."""

    def __init__(self) -> None:
        lines = {
            "supply": {"ls": DASHES[2]},
            "threshold": {"ls": DASHES[1]},
            "across": {"lw": 1.5 * LINE},
            "point": {"ls": "none", "marker": "o", "markersize": 9, "clip_on": False},
        }
        super().__init__(lines, room=_KEY_ROOM, height=290.0, wall_room=_WALL_KEY)
        self.scale(_FILLED, 20.0, "seconds since the reed closed", "voltage (V)", NORMAL)

    def picture(self, hold: Hold, size: Size = NORMAL) -> Picture:
        """How it rises, or falls, to the threshold; an arrowhead at the edge where that is beyond the scale."""
        self.lay(size)
        circuit, si = hold.circuit, hold.si
        threshold, start, end = circuit.timer.trips(si.supply)[1], 0.0, si.supply
        if circuit.timer.discharges:
            start, end = end, start
        tau = (circuit.si.end_resistor + si.turn * circuit.si.pot) * circuit.capacitor.si.capacitance
        times = np.linspace(0.0, min(si.hold, _FILLED), 201)
        across = settled(times, tau, start, end)
        self.lines["point"].set_marker(">" if si.hold > _FILLED else "o")
        levels = {"supply": si.supply, "threshold": threshold}
        flat = {name: ([0.0, _FILLED], [volts, volts]) for name, volts in levels.items()}
        self.draw(across=(times, across), point=(times[-1:], across[-1:]), **flat)
        way, named = "falls" if circuit.timer.discharges else "rises", {each: say(levels[each], "V") for each in levels}
        key = _key(
            f"{way} to the threshold in {say(si.hold, 's')}",
            ("across the capacitor", 1.5 * LINE, ""),
            (f"threshold: {named['threshold']}", LINE, "7 3"),
            (f"supply: {named['supply']}", LINE, "2 2"),
            wall=self.on_wall,
        )
        sentence = (
            f"The voltage across the capacitor {way} from {say(start, 'V')} to the threshold, {named['threshold']}, in "
            f"{say(si.hold, 's')}; then the {circuit.timer.name} timer turns off."
        )
        return self.printed(sentence, size, over=key)


def hold_brief(hold: Hold) -> str:
    """The on-time for a wall, in twelve words at the most."""
    si = hold.si
    if si.hold_max is None:
        return f"{say(si.hold, 's')} printed; a leaky capacitor may keep it on for ever."
    return f"{say(si.hold, 's')} printed, but bought parts give {say(si.hold_min, 's')} to {say(si.hold_max, 's')}."


def fill_brief(hold: Hold) -> str:
    """The capacitor at the end of the on-time for a wall, in twelve words at the most."""
    threshold = hold.circuit.timer.trips(hold.si.supply)[1]
    return f"On for {say(hold.si.hold, 's')}: the capacitor is then at {say(threshold, 'V')}."


def _key(said: str, *items: tuple[str, float, str], wall: bool = False) -> str:
    """What is drawn how (words, width, dashes), above the axes where no line runs: as SVG. A width of 0 is a shade."""
    canvas, x = Canvas(480.0, 60.0), 8.0 if wall else 60.0
    canvas.group("key")
    canvas.text((x, 16), said, bold=True, size=16 if wall else 12)
    for words, width, dash in items:
        if width:
            canvas.line((x, 35), (x + 24, 35), width=width, dash=dash)
        else:
            canvas.rectangle((x, 28), (24, 14), fill=SHADE, width=THIN)
        canvas.text((x + 29, 39), words)
        x += (40.0 if wall else 44.0) + text_width(words)
    return canvas.markup()


def odds_picture(result: PassingOdds, size: Size = NORMAL) -> Picture:
    """A bar for each outcome, with its count; one train may be in two of them."""
    wall, title = size is STAGE, f"Of {result.samples} trains, parts and speeds from all over their bands:"
    room = (110.0, 110.0) if wall else (140.0, 120.0)
    rows = Rows(0.0, 1.0, *room, title="" if wall else title, width=_WIDTH, size=size)
    for name, words in _ODDS.items():
        share = getattr(result.si, name)
        rows.row(words, gap=14.0, bold=False)
        rows.strip([(0.0, 1.0)], fill=PAPER)
        if share:
            rows.strip([(0.0, share)], fill=SHADE if name == "right" else "#000000")
        rows.words(f"{round(share * result.samples)}, {say(share, '')}", bold=bool(share))
    return rows.picture(result.sentence)


def odds_brief(result: PassingOdds) -> str:
    """The odds for a wall, in twelve words at the most."""
    right = round(result.si.right * result.samples)
    if right in (0, result.samples):
        return f"{'All' if right else 'None of the'} {result.samples} trains get their red."
    return f"Of {result.samples} trains {right} get their red; {result.samples - right} do not."


def passing_brief(result: PassingTrain) -> str:
    """One passing for a wall, in twelve words at the most."""
    si, verdict = result.si, result.verdict
    if verdict == MISSED:
        return f"Never red: the {'reed closes too briefly' if result.closings else 'magnet does not close the reed'}."
    lasts, late = say(si.red_until - si.red_from, "s", 2), si.red_until - si.clear
    if np.isinf(si.red_until):
        return "Red for good: the timer never turns off."
    if verdict == NEEDLESS:
        return f"{lasts} of red, though this train does not need it."
    if verdict == SHORT:
        return f"Green {say(-late, 's', 2)} before the last wheel is clear."
    if verdict == OWN_RED:
        reach = float(result.run.place(result.happenings.red.first[0])) + result.run.si.magnet_from_front
        return f"Red {say(result.run.signal - reach, 'm', 2)} too early: the driver sees it."
    return f"{lasts} of red: {say(late, 's', 2)} more than the train needs."


def passing_timeline(
    result: PassingTrain, view: str = WHOLE, moment: float | None = None, brief: bool = False, size: Size = NORMAL
) -> Picture:
    """All that happens while a train passes: field, reed, timer, coil and lamp below one another on one time axis.

    Parameters
    ----------
    result: one train
    view: "whole time", "over the reed" (while the field matters), or "first closing" (milliseconds)
    moment: a time in s from the account's start, marked by a line
    brief: leave out the field and the coil, as on the stage

    Raises UnknownNameError for another view.
    """
    if view not in VIEWS:
        raise UnknownNameError(argument="view", need=f"one of {', '.join(VIEWS)}", given=repr(view))
    (low, high), case, si = kept(*_window(result, view), "time", view), result.happenings, result.si
    zero, factor, label = _time_axis(result, view, (low, high))
    slack = 1e-9 * (high - low)  # a moment at an end of the window is in it
    wall = size is STAGE
    brief |= wall
    ends = (low - slack - zero) * factor, (high + slack - zero) * factor
    rows = Rows(*ends, *((60.0, 40.0) if wall else (90.0, 68.0)), width=_WIDTH, size=size)

    def shown(spans: Spans) -> list[Window]:
        there = np.isfinite(spans.starts[0])
        ends = np.clip([spans.starts[0][there], spans.ends[0][there]], low, high)
        return [(start, end) for start, end in ((ends - zero) * factor).T if end > start]

    marks = {"front at the signal": si.at_signal, "last wheel clear": si.clear}
    for words, time in marks.items():
        rows.mark((time - si.start - zero) * factor, words, _MARK_DASHES[words])
    if moment is not None:
        rows.mark((moment - si.start - zero) * factor, f"now: {say(moment, 's')}", "-", bold=True)
    if not brief:
        _field(rows, result, (low, high), (zero, factor))
    fed_for_red = result.run.coil_fed_for == RED
    for name, spans, on, off in (
        ("reed", case.contact, "CLOSED", "open"),
        ("timer", case.timer, "ON", "off"),
        ("coil", case.timer, *(("FED", "not fed") if fed_for_red else ("not fed", "FED"))),
    ):
        if brief and name == "coil":
            continue
        rows.row(name)
        inside, outside = shown(spans), _between(shown(spans), rows)
        for stretches, words, raised in ((inside, on, on.isupper()), (outside, off, off.isupper())):
            rows.strip(stretches, words, fill=SHADE if raised else "none", rim=1.2 if raised else 0.0, bold=raised)
        rows.level(0.0)
        if name == "reed":
            rows.words(f"{result.closings}×", bold=True)
    rows.row("lamp", tall=26.0)
    rows.strip(_between(shown(case.red), rows), "GREEN", fill=lamp_fill(GREEN), inset=6.0, bold=True)
    rows.strip(shown(case.red), "RED", fill=lamp_fill(RED), rim=2.4, bold=True)
    rows.axis(label)
    return rows.picture(result.sentence)


def moments_of(result: PassingTrain, view: str, count: int) -> np.ndarray:
    """So many times in s from the account's start that a view shows, rising: of the whole time every event as well."""
    if view == WHOLE:
        return result.moments(count)
    return np.linspace(*_window(result, view), count) + result.si.start


def _window(result: PassingTrain, view: str) -> Window:
    """The times that are shown, in s from the first magnet over the reed."""
    case, si, run = result.happenings, result.si, result.run
    first = float(case.field.starts[0, 0])
    if view == WHOLE:
        return -si.start, si.end - si.start
    if np.isnan(first):  # nothing closes: what the field does is all there is
        half = 0.05 / run.si.speed
        return -half, half
    if view == OVER_THE_REED:
        ends = case.field.ends[0]
        last = float(np.nanmax(ends if run.si.last_magnet is None else ends[: len(ends) // 2]))
        return first - 0.2 * (last - first), last + 0.2 * (last - first)
    until_red = run.operate_time + run.delays[0]
    return first - 0.25 * until_red, first + 1.4 * until_red


def _time_axis(result: PassingTrain, view: str, window: Window) -> tuple[float, float, str]:
    """Where the axis counts from (s), in how many parts of a second, and its label."""
    if view == WHOLE:
        return -result.si.start, 1.0, "time in s"
    first = float(result.happenings.field.starts[0, 0])
    zero, since = (0.0, "from the magnet over the reed") if np.isnan(first) else (first, "from the first closing")
    factor, unit = (1e3, "ms") if window[1] - window[0] < 2 else (1.0, "s")
    return zero, factor, f"time in {unit} {since}"


def _field(rows: Rows, result: PassingTrain, window: Window, counted: tuple[float, float]) -> None:
    run, reed = result.run, band_of(result.run.reed)[1]
    # the crossings themselves, so that a spike narrower than the grid is drawn as high as it is
    near = run.when(np.linspace(-0.03, 0.03, 601))
    times = np.union1d(np.linspace(*window, 601), near[(near >= window[0]) & (near <= window[1])])
    field = np.abs(run.field(times))
    axis = _FieldAxis.around(reed, float(field.max()))
    rows.row("", tall=8.0, gap=0.0)  # room for the topmost figure
    rows.row("field", tall=_FIELD)
    axis.draw(rows, _FIELD, reed)
    rows.curve((times - counted[0]) * counted[1], axis.share(field), width=1.8)


def _between(spans: list[Window], rows: Rows) -> list[Window]:
    """What the axis shows outside of rising spans."""
    edges = [rows.low, *(each for pair in spans for each in pair), rows.high]
    return [(start, end) for start, end in zip(edges[::2], edges[1::2], strict=True) if end > start]
