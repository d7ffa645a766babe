"""Pictures of "many signals, one adapter": how many, which gauge, which fuse; and a layout's sheet."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from markupsafe import Markup

from ..design.board.board import Board
from ..design.board.feeder import GaugeChoice
from ..design.board.fuse import FuseCheck, check_fuse
from ..design.board.limits import BY_ADAPTER, BY_COUNT, BY_LIGHT, Adding, MostSignals
from ..design.findings import LOOK, MARKS, STOP
from ..design.lamp.drive import brightness_word
from ..errors import RangeError, UnitError
from ..parts.fuse import BEARABLE_RULE
from ..plan.layout_study import LAMPS, LampOnBoard, LayoutStudy
from ..units import Q, Ratio, say, with_units
from ..units.reading import quoted
from .board import board_picture, share_words
from .chart import Chart
from .picture import Picture
from .rows import Rows
from .sheet import GRADE_CLASSES, GRADE_SENTENCES, page_style, page_template
from .style import DASHES, LINE, NORMAL, PAPER, SHADE, Size
from .table import Table

_ON_A_WALL = 5
"""Gauges that a wall has room for."""
_BEYOND = {
    BY_ADAPTER: "one more is too much for the adapter",
    BY_LIGHT: "with one more the last is too dim",
    BY_COUNT: "no end was found",
}


class MostSignalsChart(Chart):
    """The weakest lamp's light against the number of signals, on one figure; `picture` changes its data."""

    def __init__(self) -> None:
        lines = {
            "wanted": {"ls": DASHES[1]},
            "most": {"ls": DASHES[3]},
            "curve": {"lw": 1.5 * LINE, "marker": "o", "markersize": 5, "clip_on": False},
        }
        shades = {"beyond": {"fc": SHADE, "hatch": "//"}}
        rooms = {"room": (60.0, 46.0, 14.0, 32.0), "wall_room": (54.0, 42.0, 12.0, 34.0)}
        super().__init__(lines, ("curve", "wanted", "most"), ("most",), shades, **rooms)
        self.taken_above = 8.0

    def picture(self, result: MostSignals, adding: Adding, end: float, size: Size = NORMAL) -> Picture:
        """The curve through what `add_signals` found, and what `most_signals` allows, on an axis up to `end` or more.

        What is beyond the axis is said at its edge.
        """
        count, share = np.asarray(adding.count, float), 100 * adding.si.share
        # above 100 % there is room for the curve's name
        end, top_share = self.scale(end, 110, "number of signals", "light of the weakest (%)", size)
        at = min(result.count + 0.5, end)
        if count[-1] > end:
            share = np.append(share[count < end], np.interp(end, count, share))
            count = np.append(count[count < end], end)
        lines = self.draw(
            curve=(count, share),
            wanted=(np.linspace(0, end, 100), np.full(100, 100 * result.wanted)),
            most=(np.full(100, at), np.linspace(0, top_share, 100)),
        )
        self.shades["beyond"].set_xy([[at, 0], [end, 0], [end, top_share], [at, top_share]])
        across = np.linspace(count[0], count[-1], 100)
        lines["curve"] = self.points(across, np.interp(across, count, share))
        why = "" if self.on_wall else f": {_BEYOND[result.limited_by]}"
        text = f"{result.count} at most{why}" + ("" if result.count < end else " ▶")
        said = {"wanted": (f"asked for: {say(result.wanted, '')}", 0.1), "curve": ("the weakest lamp", 0.4)}
        self.name(lines, said)
        self.above("most", text, lines["most"][0, 0])
        return self.printed(result.findings[0].reason, size)


def most_brief(result: MostSignals) -> str:
    """For a wall: how many signals at the most, and why no more."""
    many = "1 signal" if result.count == 1 else f"{result.count} signals"
    return f"{many} at most: {_BEYOND[result.limited_by]}."


def gauge_brief(chosen: GaugeChoice) -> str:
    """For a wall: the thinnest wire that is enough, and what it leaves."""
    return f"{chosen.gauge} AWG: the weakest keeps {say(chosen.share, '', 2)} of its light at worst."


@with_units(scalar=True)
def gauge_bars(shares: Mapping[int, float], wanted: Ratio, size: Size = NORMAL) -> Picture:
    """A bar for the share of light that each gauge leaves the weakest lamp, the thinnest first, and what is wanted.

    `shares` is as `gauge_for(...).shares`.
    """
    pairs = sorted(shares.items(), reverse=True)
    thinnest = max((gauge for gauge, share in pairs if share >= wanted), default=None)
    rows = Rows(0.0, 1.0, left=70.0, right=150.0, size=size)
    start, digits = 0, 3
    if rows.on_wall:  # the thinnest that is enough, and those next to it
        least = len(pairs) - 1 if thinnest is None else [gauge for gauge, _ in pairs].index(thinnest)
        start, digits = max(min(least - _ON_A_WALL // 2, len(pairs) - _ON_A_WALL), 0), 2
    for gauge, share in pairs[start : start + _ON_A_WALL] if rows.on_wall else pairs:
        chosen, enough = gauge == thinnest, share >= wanted
        rows.row(f"{gauge} AWG", tall=18.0, bold=chosen)
        rows.bar(share, fill=SHADE if enough else PAPER)
        rows.words(f"{say(share, '', digits)} {'✔ enough' if enough else '✘ too thin'}", 1.0, bold=chosen)
    rows.mark(wanted, f"asked for: {say(wanted, '')}", bold=True)
    said = ", ".join(f"{gauge} AWG {say(share, '')}" for gauge, share in pairs)
    enough = "No gauge shown is enough" if thinnest is None else f"{thinnest} AWG is the thinnest that is enough"
    return rows.picture(
        f"What each gauge leaves the weakest lamp of its light at worst: {said}. Asked for: {say(wanted, '')}. "
        f"{enough}."
    )


def fuse_table(board: Board, names: Sequence[str], size: Size = NORMAL, folded: bool = False) -> Table:
    """Each fuse of those names at the board's source, as `check_fuse` finds it.

    Raises UnitError for what is no list of names, UnknownNameError for a fuse that is not in the table.
    """
    if isinstance(names, str) or not isinstance(names, Sequence) or not names:
        raise UnitError(
            argument="names", need="a list of fuses", given=quoted(names), advice="try ['300 mA resettable']"
        )
    checks = [check_fuse(board, name) for name in names]
    rows = [(each.fuse.name, _said_of(each), "suits" if each.suits else "does not suit") for each in checks]
    load, rated = say(checks[0].si.load_current, "A"), say(checks[0].si.bearable, "A")
    caption = f"Fuses at the source: up to {load} to carry, a wire that is rated for {rated}"
    heads = ("Fuse", "What there is to say", "Verdict")
    return Table(caption, heads, rows, f"What a wire is rated for: {BEARABLE_RULE}.", size, folded)


def _said_of(check: FuseCheck) -> str:
    """The reasons against the fuse, or else what is worth knowing; the rule for wires is below the table once."""
    wanted = LOOK if check.suits else STOP
    said = [each.reason.partition(" (700")[0].rstrip(".") + "." for each in check.findings if each.grade == wanted]
    return " ".join(said) or "No problems found."


def layout_sheet(study: LayoutStudy) -> str:
    """A layout on one printable HTML page for A4 or Letter: board, signals, findings, parts and cuts.

    It has no links to anything outside; every text in it is escaped.
    """
    board = board_showing(study, LAMPS[0])
    return page_template("layout_sheet.html.j2").render(
        study=study,
        grade_sentence=GRADE_SENTENCES[study.grade],
        marks=MARKS,
        classes=GRADE_CLASSES,
        board=None if board is None else Markup(board.html()),  # a Picture escapes every text
        words=lamp_words,
        volts=lambda volts: say(volts, "V"),
        rule=study.layout.feeders[0].length if study.layout.feeders else Q("1 m"),
        style=Markup(page_style()),
    )


def board_showing(study: LayoutStudy, lamp: str, size: Size = NORMAL) -> Picture | None:
    """The board with every signal at "red" or "green"; None where it is too large to draw."""
    try:
        return board_picture(study.board.state(lamp), size=size)
    except RangeError:
        return None


def lamp_words(lamp: LampOnBoard) -> str:
    """How bright a lamp is on the board, in words and figures."""
    word = brightness_word(lamp.share, lamp.current)
    return f"{word}: {say(lamp.current, 'A')}, {share_words(lamp.share)} ({share_words(lamp.share_least)} at worst)"
