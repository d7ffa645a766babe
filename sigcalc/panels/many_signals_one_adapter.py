"""Many signals on one adapter: added one by one, how many, which wire, a short circuit, and a whole layout's file."""

from __future__ import annotations

import dataclasses
import html
import math
import time
from collections.abc import Callable
from pathlib import Path

import ipywidgets as widgets

from ..design.board.board import MIXED, WIRINGS, Board, board_along
from ..design.board.feeder import (
    RELAYS,
    USUAL_GAUGES,
    WIRE_CURRENT,
    BoardStudy,
    SignalPoint,
    gauge_for,
    relay_reach,
    study_board,
)
from ..design.board.fuse import QUICK, SLOW, FuseCheck, ShortCircuit, check_fuse, fuse_action, short_at
from ..design.board.limits import LAYOUTS, add_signals, most_signals
from ..design.board.state import BoardState
from ..design.findings import FINE, LOOK, MARKS, Finding, gravest_first
from ..design.lamp.drive import DARK, FULL, GRADES, brightness_word
from ..design.power.load import Load
from ..errors import PlanError, RangeError
from ..lessons import quillhaven
from ..parts.fuse import fuses
from ..parts.source import Adapter, Battery, Source
from ..plan.layout import Layout
from ..plan.layout_study import LAMPS, LayoutStudy
from ..units import say
from ..views.board import board_picture, share_words, wire_words, words_of
from ..views.board_scene import board_scene
from ..views.findings import Answer
from ..views.many_signals_one_adapter import (
    MostSignalsChart,
    board_showing,
    gauge_bars,
    gauge_brief,
    lamp_words,
    layout_sheet,
    most_brief,
)
from ..views.picture import Picture
from ..views.sheet import study_findings
from ..views.style import STAGE
from ..views.table import Table
from .base import AS_IT_LOOKS, Panel
from .control import Button, Control, NumberControl, choice
from .own_files import FOLDERS, StudyPanel

SOURCE, MAKE, LIMIT = "source", "each signal", "what limits the current"
WIRING, GAUGE, LENGTH = "wired as", "wire", "layout length"
SIGNALS, SHOW = "signals connected", "they show"
COLOURS = ("red", "green")
RUN, SHARE, DERATING = "signal to signal", "light wanted", "adapter loaded to"
FUSE, SHORT = "fuse at the source", "short circuit at"
NO_FUSE, NOWHERE = "none", "nowhere"
_ALWAYS = ("load", "thinnest wire")  # those checks of a fuse that do not depend on where the short is
_SHOWN = {FULL: "in full light"} | {word: word for word in GRADES if word != FULL}
_BATTERY = 0.3  # A
_MOST_IN_A_ROW, _MOST_ON_A_WALL = 16, 32
_PATIENCE = 0.3  # s; a study that is quicker shows no progress, which would only flicker


def _power_controls(make: str = quillhaven.RELAY) -> list[Control]:
    """What feeds the signals, what each of them is, and what limits its current."""
    return [
        choice(SOURCE, list(quillhaven.SOURCES.items())),
        choice(MAKE, list(quillhaven.MAKES), make),
        choice(LIMIT, list(quillhaven.DRIVES)),
    ]


def _wire_controls(gauge: int = 30, wiring: str = WIRINGS[0]) -> list[Control]:
    """How the signals are wired, and with what."""
    return [
        choice(WIRING, list(WIRINGS), wiring, narrow=True),
        choice(GAUGE, list(quillhaven.GAUGES.items()), gauge, narrow=True),
        NumberControl(LENGTH, "m", 2, 60, quillhaven.LENGTH, step=1),
    ]


def _worth_saying(found: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """What to look at again, the gravest first; where there is nothing, that all is fine."""
    return gravest_first(each for each in found if each.grade != FINE) or found


class BoardPanel(Panel):
    """Signals of Quillhaven on one source, with the controls for power and wires."""

    first_shown = AS_IT_LOOKS  # both are too much for one screen

    def pictured(self, looks: Callable[[], Picture], drawn: Callable[[], Picture]) -> tuple[Picture, ...]:
        """On a wall the signals as they look: the drawing of a whole layout cannot be read there."""
        self.show.enable(not self.on_stage)
        return (looks(),) if self.on_stage else super().pictured(looks, drawn)

    def board(self, count: int = len(quillhaven.PLACES), wire: int | None = None) -> Board:
        """The first so many signals, wired as the controls say."""
        source = self[SOURCE].value
        load = quillhaven.load(source, self[MAKE].value, self[LIMIT].value)
        places = quillhaven.places(self.text(LENGTH), count)
        gauge = self[GAUGE].value if wire is None else wire
        return board_along("Quillhaven", source, load, places, self[WIRING].value, gauge)


class SignalsOneByOne(BoardPanel):
    """Signals added one at a time, until the last one dims."""

    wall = (SIGNALS, WIRING, GAUGE)

    def __init__(self) -> None:
        controls = [
            *_power_controls(),
            *_wire_controls(),
            NumberControl(SIGNALS, "", 1, len(quillhaven.PLACES), 1, step=1),
            choice(SHOW, list(COLOURS), narrow=True),
        ]
        super().__init__(controls, "Signals on one source, added one at a time", height="34em", scene=True)

    def draw(self) -> Answer:
        """The board with its signals, the weakest of them, and what the last one added cost."""
        count, showing = self[SIGNALS].whole, self[SHOW].value
        study = study_board(self.board(count))
        before = study_board(self.board(count - 1)) if count > 1 else None
        state, shown = study.state(showing), {"size": self.size, "waiting": list(quillhaven.PLACES)[count:]}
        pictures = self.pictured(
            lambda: board_scene(state, reach=relay_reach(study), **shown), lambda: board_picture(state, **shown)
        )
        many = f"{count} signals" if count > 1 else "One signal"
        metres = study.board.pair_length.m_as("m")
        sentence = f"{many} on {metres:.3g} m of twin wire. {_weakest_words(study, before, showing)}"
        found = study.findings
        if isinstance(study.board.source, Battery):
            reason = "This holds for a fresh battery, and says nothing of how long it lasts."
            found += (Finding(LOOK, "battery", reason, "Work out the run time; a battery is for few signals."),)
        return Answer(pictures, sentence, _worth_saying(found), _weakest_brief(study, showing))


def _weakest_brief(study: BoardStudy, showing: str) -> str:
    """The weakest lamp for a wall, in twelve words at the most."""
    count, share = len(study.board.signals), share_words(_weakest(study, showing).share)
    if share == share_words(1.0):
        return f"{count} signals, each in full light." if count > 1 else "One signal, in full light."
    return f"{count} signals: the weakest has {share} of its light."


def _weakest_words(study: BoardStudy, before: BoardStudy | None, showing: str) -> str:
    """The weakest lamp of what is shown, and what the weakest had before the last signal was added."""
    point = _weakest(study, showing)
    look = brightness_word(point.share, point.si.current)
    said = f"The weakest, {point.name}, has {share_words(point.share)} of its light: {look}."
    if share_words(point.share) == share_words(1.0):
        said = "Every lamp has all of its light."
    if before is None:
        return said
    return f"{said} With one signal less the weakest had {share_words(_weakest(before, showing).share)}."


def _weakest(study: BoardStudy, showing: str) -> SignalPoint:
    return min(study.signals(showing), key=lambda each: each.share)


class HowManySignals(Panel):
    """Equal signals on one source: the most of them, and what sets the end."""

    wall = (RUN, GAUGE, MAKE)

    def __init__(self) -> None:
        self.chart, self._ends = MostSignalsChart(), {}
        controls = [
            *_power_controls(),
            NumberControl(DERATING, "%", 20, 100, 80, step=5),
            choice(WIRING, list(LAYOUTS), narrow=True),
            choice(GAUGE, list(quillhaven.GAUGES.items()), 26, narrow=True),
            NumberControl(RUN, "m", 0.2, 10, 1.5, step=0.1),
            NumberControl(SHARE, "%", 20, 99, 80, step=1),
        ]
        super().__init__(controls, "How many signals does one source feed?", height="34em")

    def draw(self) -> Answer:
        """The curve, the most signals, and the rule of thumb with what it supposes."""
        source = self[SOURCE].value
        load = quillhaven.load(source, self[MAKE].value, self[LIMIT].value)
        way = {"wire": self[GAUGE].value, "run": self.text(RUN), "layout": self[WIRING].value}
        result = most_signals(source, load, share=self.text(SHARE), derating=self.text(DERATING), **way)
        count, most = result.count, self._end(source, load)
        end = max(count + 1, min(max(8, 2 * count), math.ceil(most)))
        counts = sorted({1, max(count // 2, 1), count, count + 1, (count + end) // 2, end})
        adding = add_signals(source, load, counts=counts, **way)
        picture = self.chart.picture(result, adding, most, self.size)
        limits = _limits(study_board(result.board))
        found = result.findings if self.on_stage else result.findings[1:]  # what the first says is the sentence
        return Answer((picture,), picture.sentence, (*limits, *found), most_brief(result))

    def _end(self, source: Source, load: Load) -> float:
        """The end of the axis, which no slider moves: somewhat more signals than the rating of the source is good for.

        A battery has no rating; more than so much it gives for minutes only.
        """
        key = source, load
        if key not in self._ends:
            one = study_board(board_along("one", source, load, {"one": "0.1 m"}, wire=20))
            rated = source.si.max_current if isinstance(source, Adapter) else _BATTERY
            self._ends[key] = max(8.0, 1.2 * rated / one.supply_current.m_as("A"))
        return self._ends[key]


class WhichGauge(BoardPanel):
    """The thinnest wire that leaves the last signal a share of its light."""

    wall = (LENGTH, WIRING, SHARE)

    def __init__(self) -> None:
        kept = [each for each in _wire_controls() if each.name != GAUGE]
        controls = [*_power_controls(), *kept, NumberControl(SHARE, "%", 20, 99, 90, step=1)]
        super().__init__(controls, "Which wire keeps the last signal bright?", height="38em")

    def draw(self) -> Answer:
        """What each gauge leaves, the one that is enough, and how much of it the wiring needs."""
        chosen = gauge_for(self.board(wire=USUAL_GAUGES[0]), share=self.text(SHARE))
        picture = gauge_bars(chosen.shares, chosen.wanted, self.size)
        metres = chosen.board.pair_length.m_as("m")
        sentence = (
            f"Wired as {self[WIRING].value}, {metres:.3g} m of twin wire, {wire_words(chosen.gauge)}: the weakest, "
            f"{chosen.weakest}, has {say(chosen.share, '')} of its light at worst."
        )
        relays = [each for each in _limits(study_board(chosen.board)) if each.topic == RELAYS]
        return Answer((picture,), sentence, (*relays, *chosen.findings), gauge_brief(chosen))


def _limits(study: BoardStudy) -> tuple[Finding, ...]:
    """What gives up before the lamps are too dim: relays that stay off, and wire that is not rated for its current."""
    found = [each for each in study.findings if each.topic in (RELAYS, WIRE_CURRENT) and each.grade != FINE]
    return tuple(sorted(found, key=lambda each: each.topic != RELAYS))


class ShortPanel(BoardPanel):
    """All signals, a short circuit between the two wires somewhere, with a fuse at the source or without."""

    wall = (SHORT, FUSE, GAUGE)

    def __init__(self) -> None:
        controls = [
            *_power_controls(quillhaven.SENSITIVE),
            *_wire_controls(24, MIXED),
            choice(FUSE, [NO_FUSE, *fuses]),
            choice(SHORT, [NOWHERE, *quillhaven.PLACES], "north junction"),
        ]
        super().__init__(controls, "A short circuit somewhere on the layout", height="34em", scene=True)

    def draw(self) -> Answer:
        """The board while there is a short, and what the fuse does about it."""
        fuse = self[FUSE].value
        board = self.board() if fuse == NO_FUSE else dataclasses.replace(self.board(), fuse=fuses[fuse])
        if self[SHORT].value == NOWHERE:
            study = study_board(board)
            pictures = self._pictures(study.state())
            sentence = f"Without a short circuit: {_light_words(study.state())}."
            found = (*study.findings, *(() if board.fuse is None else _against(_check(board))))
            dark = words_of(study.state()).count(DARK)
            brief = f"No short circuit: {len(board.signals) - dark} of {len(board.signals)} signals are lit."
            return Answer(pictures, sentence, _worth_saying(found), brief)
        short = short_at(board, self[SHORT].value)
        pictures = self._pictures(short.lasting, short.node)
        return Answer(pictures, _short_words(short), _short_findings(short), _short_brief(short))

    def _pictures(self, state: BoardState, short: str | None = None) -> tuple[Picture, ...]:
        return self.pictured(
            *(lambda draw=draw: draw(state, short, self.size) for draw in (board_scene, board_picture))
        )


def _short_brief(short: ShortCircuit) -> str:
    """The short circuit for a wall, in twelve words at the most."""
    if short.board.fuse is None:
        flows, dark = say(short.lasting.si.supply_current, "A"), words_of(short.lasting).count(DARK)
        return f"{flows} flows, {dark} of {len(short.board.signals)} signals dark; nothing stops it."
    action = fuse_action(short.board, short.node)
    flows = say(action.si.current, "A")
    if action.outcome == QUICK:
        return f"{flows} flows; after {say(action.fuse.si.sure_trip_time, 's')} the fuse acts: all dark."
    return f"{flows} flows: {'the fuse acts, but slowly' if action.outcome == SLOW else 'the fuse may never act'}."


def _short_findings(short: ShortCircuit) -> tuple[Finding, ...]:
    """Source and wires without a fuse; with one what it does, and what else is wrong with it."""
    if short.board.fuse is None:
        return _worth_saying(tuple(each for each in short.findings if each.topic != "other signals"))
    # with a short circuit nothing is fine, though the fuse does what it is there for
    acts = {"grade": LOOK, "topic": "short circuit, the fuse acts"}
    action = (
        dataclasses.replace(each, **acts) if each.grade == FINE else each
        for each in fuse_action(short.board, short.node).findings
    )
    return gravest_first([*action, *_against(_check(short.board))])


def _check(board: Board) -> FuseCheck:
    return check_fuse(dataclasses.replace(board, fuse=None), board.fuse)


def _against(check: FuseCheck) -> list[Finding]:
    """What is wrong with a fuse wherever the short is."""
    return [each for each in check.findings if each.topic in _ALWAYS and each.grade != FINE]


def _short_words(short: ShortCircuit) -> str:
    """What flows, and what every signal shows until something ends it."""
    draws, left = say(short.free.si.supply_current, "A"), _light_words(short.lasting)
    before = " before the fuse acts" if short.board.fuse is not None else ""
    if not short.lasting.limited:
        return f"With a short circuit at {short.node} the source gives {draws}, which leaves {left}{before}."
    rated = say(short.board.source.si.max_current, "A")
    return (
        f"With a short circuit at {short.node} the adapter would give {draws} if it could. Held at the "
        f"{rated} it is rated for, that leaves {left}{before}."
    )


def _light_words(state: BoardState) -> str:
    """How many signals show how much light, the first along the layout first."""
    words = words_of(state)
    if set(words) == {DARK}:
        return "every signal dark"
    counted = [f"{words.count(word)} {_SHOWN[word]}" for word in dict.fromkeys(words)]
    counted[0] = counted[0].replace(" ", " signals " if words.count(words[0]) > 1 else " signal ", 1)
    return counted[0] if len(counted) == 1 else f"{', '.join(counted[:-1])} and {counted[-1]}"


class LayoutPanel(StudyPanel):
    """All signals of a layout file on one supply.

    `panel.layout_file` names the file, `panel.study` is the last study, None where the file has faults.
    """

    def __init__(self, path: str | Path | None = None):
        found = [str(each) for folder in FOLDERS for each in sorted(Path(folder).glob("*layout*.toml"))]
        self.layout_file = widgets.Combobox(
            value=str(path) if path is not None else (found[0] if found else ""),
            options=found,
            description="layout file",
            tooltip="layout file",
            continuous_update=False,
            style={"description_width": "initial"},
            layout={"width": "24em"},
        )
        lamps = {lamp: f"every signal at {lamp}" for lamp in LAMPS}
        pages = {
            "As it looks": self._row,
            "As it is drawn": self._board,
            "Signals": _signals,
            "Findings": study_findings,
            "Parts": _parts,
        }
        super().__init__("layout", "my_layout", lamps, pages, {"Save layout sheet": self.save_sheet})
        self._show_progress(False)
        self.layout_file.observe(lambda _: self.redraw(), names="value")
        self.redraw()

    def arranged(self) -> tuple[widgets.Widget, ...]:
        """The file with the progress of its study, what was found, and the row to save it."""
        self.button = Button(description="Study", tooltip="read the file again and study the layout")
        self.button.on_click(lambda _: self.redraw())
        tip = "progress of the study"
        self.progress = widgets.IntProgress(max=1, layout={"width": "8em"}, bar_style="info", tooltip=tip)
        self.progressing = widgets.HTML()
        rows = (
            [self.layout_file, self.button, self.progress, self.progressing],
            [widgets.HTML("every signal shows&nbsp;"), self.lit, self.large],
            [self.files.path, *self.files.buttons, self.files.replace],
        )
        top, shown, saving = (widgets.HBox(row, layout={"flex_flow": "row wrap"}) for row in rows)
        return top, self.headline, shown, self.views, saving, self.files.told

    def studied(self) -> LayoutStudy:
        """The study of the file, which shows its progress."""
        began = time.monotonic()

        def tell(done: int, total: int, what: str) -> None:
            if time.monotonic() - began > _PATIENCE:
                self._show_progress(True)
            self.progress.max, self.progress.value = total, done
            self.progressing.value = f"{done} of {total}: {html.escape(what)}"

        self._studied = self.layout_file.value.strip()
        if not self._studied:
            raise PlanError(["layout file: type its name, such as plans/quillhaven_layout.toml"])
        try:
            return Layout.load(self._studied).study(tell)
        finally:
            self._show_progress(False)

    def _show_progress(self, shown: bool) -> None:
        for each in (self.progress, self.progressing):
            each.layout.visibility = "visible" if shown else "hidden"

    def summary(self, study: LayoutStudy) -> str:
        """The weakest lamp."""
        point = study.board.weakest
        return (
            f"{len(study.signals)} signals; the weakest lamp is the {point.colour} one of {point.name}, with "
            f"{say(point.share, '')} of its light ({say(point.share_min, '')} at worst)."
        )

    def on_wall(self, study: LayoutStudy) -> Answer:
        """The row of signals as it looks."""
        count, least = len(study.signals), share_words(study.board.weakest.si.share_min)
        if count > _MOST_ON_A_WALL:
            raise RangeError(f"More than {_MOST_ON_A_WALL} signals are too many for a wall: see them on the page.")
        picture = board_scene(study.board.state(self.lit.value), size=STAGE)
        brief = f"{count} signals: the weakest has {least} of its light at worst."
        return Answer((picture,), picture.sentence, study.findings, brief)

    def _row(self, study: LayoutStudy) -> str:
        if len(study.signals) > _MOST_IN_A_ROW:
            return f"More than {_MOST_IN_A_ROW} signals are too many for one row: see how it is drawn."
        return board_scene(study.board.state(self.lit.value), size=self.size).html()

    def _board(self, study: LayoutStudy) -> str:
        picture = board_showing(study, self.lit.value, self.size)
        return "This layout is too large to draw." if picture is None else picture.html()

    def save_sheet(self) -> str:
        """Write the layout's sheet as an HTML page, to be opened and printed in a browser."""
        page = layout_sheet(self.needed())
        said = self.files.write(self.files.target(".html"), page)
        return f"{said} It is the sheet of {html.escape(self._studied)} as last studied."


def _signals(study: LayoutStudy) -> str:
    rows = []
    for each in study.signals:
        lamps = (lamp_words(each.lamps[lamp]) for lamp in LAMPS)
        rows.append(
            (each.name, each.at, say(each.voltage, "V"), *lamps, f"{MARKS[each.study.grade]} {each.study.grade}")
        )
    return Table("The signals", ("signal", "at", "volts there", "red", "green", "alone"), rows).html()


def _parts(study: LayoutStudy) -> str:
    rows = [(f"{line.count} × {line.part}", line.detail, line.note) for line in study.parts]
    return Table("Parts for all signals", ("part", "which", "note"), rows).html()
