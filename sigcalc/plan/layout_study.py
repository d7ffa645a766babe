"""The study of a layout: each signal's plan, all signals on one feeder, and what to buy and to cut."""

from __future__ import annotations

import dataclasses
import itertools
from collections import defaultdict
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from ..design.board.board import Board, BoardSignal, FeederSection
from ..design.board.feeder import BREAKS_BELOW, STRONGER, BoardStudy, gauge_for, study_board
from ..design.board.fuse import check_fuse, choose_fuse, dark_by_shorts, fuse_action, short_at
from ..design.board.limits import most_signals
from ..design.board.state import most_drawn
from ..design.caution import Caution, work_cautions
from ..design.findings import FINE, HEAT, LOOK, Finding, gravest_first, worst
from ..design.power.load import Load
from ..design.tolerance import Band
from ..errors import DesignError, SigcalcError, UnitError
from ..parts.fuse import area_of
from ..parts.source import Adapter
from ..units import Q, say
from ..units.reading import quoted
from ..units.record import Shown
from .circuit import circuit_of
from .evening import load_of
from .layout_fields import LayoutFields, SignalSpec
from .result import Figure, PartLine, Study, in_unit, plain_data, sentence
from .study import study as study_plan

Progress = Callable[[int, int, str], None]
_NAMED = 3  # so many are named, of more the number is said
_BOARD_STEPS = ("the board", "the most signals", "the gauge", "the fuse", "shorts")


def study_layout(layout: LayoutFields, progress: Progress | None = None) -> LayoutStudy:
    """Study a layout; raises DesignError where a signal cannot light or its circuit cannot be solved on a board."""
    if progress is not None and not callable(progress):
        raise UnitError(argument="progress", need="a function of three arguments", given=quoted(progress))
    total, done = len(layout.signals) + len(_BOARD_STEPS), itertools.count()

    def begin(what: str) -> None:
        if progress is not None:
            progress(next(done), total, what)

    pairs: list[tuple[Study, Load]] = []
    known: dict[str, tuple[Study, Load]] = {}
    for signal in layout.signals:
        begin(signal.name)
        pairs.append(_one(layout, signal, known))
    studies, loads = map(list, zip(*pairs, strict=True))
    board = _board(layout, loads)
    begin(_BOARD_STEPS[0])
    found = study_board(board)
    findings = [*_supplies(layout), *_battery(found), *found.findings]
    begin(_BOARD_STEPS[1])
    if isinstance(board.source, Adapter) and board.sections:  # what a fresh battery lights says nothing of how long
        findings += _asked("most signals", lambda: _most(board, layout, loads))
    begin(_BOARD_STEPS[2])
    if board.sections:
        findings += _asked("gauge", lambda: _wires(found, layout.share))
    begin(_BOARD_STEPS[3])
    findings += _asked("fuse", lambda: _fuse(board))
    begin(_BOARD_STEPS[4])
    darkened, at_shorts = _shorts(board)
    findings += [*at_shorts, *_own(studies)]
    begin("done")
    return LayoutStudy(
        layout=layout,
        board=found,
        signals=_signals(layout, found, studies, darkened),
        figures=_figures(found),
        findings=gravest_first(findings),
        parts=part_totals(layout, studies),
        cuts=cut_totals(studies),
    )


def _one(layout: LayoutFields, signal: SignalSpec, known: dict[str, tuple[Study, Load]]) -> tuple[Study, Load]:
    """A signal's study and what it draws; signals whose plans differ in their names alone are studied once."""
    plan = layout.plan_of(signal)
    key = repr(plan.model_dump(exclude={"name"}))
    if key not in known:
        try:
            load = load_of(circuit_of(plan))
            known[key] = study_plan(plan, shared_supply=len(layout.signals) > 1), load
        except SigcalcError as refusal:
            raise DesignError(f"signal {signal.name!r}: {refusal}") from None
    (study, load), polarity = known[key], 1 if signal.shows == "red" else -1
    return dataclasses.replace(study, plan=plan), dataclasses.replace(load, polarity=polarity)


def _board(layout: LayoutFields, loads: list[Load]) -> Board:
    sections = [
        FeederSection(each.name, each.start, each.end, each.wire, each.length, each.temperature)
        for each in layout.feeders
    ]
    signals = [BoardSignal(each.name, each.at, load) for each, load in zip(layout.signals, loads, strict=True)]
    return Board(layout.name, layout.supply.source(), tuple(sections), tuple(signals), fuse=layout.fuse)


def _supplies(layout: LayoutFields) -> list[Finding]:
    """Which plans name another supply than the layout's: their drives are chosen anew here."""
    own = ((signal.name, layout.own_supply(signal)) for signal in layout.signals)
    others = [f"{quoted(name)} ({supply.name})" for name, supply in own if supply not in (None, layout.supply)]
    if not others:
        return []
    reason = (
        f"The {layout.supply.name} feeds every signal here. The supply in the own plan of "
        f"{_names(others)} does not count, and the drive is chosen anew."
    )
    return [Finding(LOOK, "supply", reason, "Build by this layout's sheet, and not by that plan's own.")]


def _battery(board: BoardStudy) -> list[Finding]:
    """Why no hours are given where a battery feeds all signals."""
    source = board.board.source
    if isinstance(source, Adapter) or len(board.board.signals) == 1:
        return []
    reason = (
        f"The signals share one {source.name} battery and draw up to {say(most_drawn(board.states), 'A')} together. "
        "No signal's hours or evenings are given: each would count the whole battery as its own."
    )
    return [Finding(LOOK, "battery", reason, "Use an adapter, or give each signal a battery of its own.")]


def _asked(topic: str, question: Callable[[], Iterable[Finding]]) -> list[Finding]:
    """The findings of a question, under its topic; where it has no answer, why."""
    try:
        found = list(question())
    except SigcalcError as refusal:
        return [Finding(LOOK, topic, sentence(refusal))]
    return [
        each if each.topic == topic else dataclasses.replace(each, topic=f"{topic}, {each.topic}") for each in found
    ]


def _most(board: Board, layout: LayoutFields, loads: list[Load]) -> list[Finding]:
    """How many signals like the one that draws most would go, one behind the other on the layout's thinnest wire."""
    heaviest = max(loads, key=lambda load: most_signals_current(board, load))
    thinnest = min(board.sections, key=lambda each: area_of(each.wire))
    run = sum(each.si.length for each in board.sections) / len(board.sections)
    found = most_signals(board.source, heaviest, thinnest.wire, Q(run, "m"), share=layout.share)
    name = layout.signals[loads.index(heaviest)].name
    how = f"If all were like {quoted(name)}, one every {say(run, 'm')} on the wire of {quoted(thinnest.name)}:"
    first, *others = found.findings
    first = dataclasses.replace(first, grade=FINE)  # of another layout than this one
    return [dataclasses.replace(first, reason=f"{how} {first.reason}"), *others]


def _wires(found: BoardStudy, share: float) -> list[Finding]:
    """Whether the wires as laid leave the share of light that is asked for, and only where not, which gauge would."""
    least, place, lamp = found.worst.weakest
    signal = quoted(found.board.signals[place].name)
    reason = (
        f"With the wires as laid the {lamp} lamp of {signal} has {say(least, '')} of its light at worst; "
        f"{say(share, '')} is asked for."
    )
    grade, remedy = FINE, ""
    if least < share:
        grade = LOOK
        try:
            choice = gauge_for(found.board, share)
            remedy = f"{choice.gauge} AWG in every run would leave {say(choice.share, '')}."
        except DesignError as refusal:
            remedy = sentence(refusal)
    said = [Finding(grade, "gauge", reason, remedy)]
    limit = area_of(BREAKS_BELOW) * (1 - 1e-9)
    thin = [quoted(each.name) for each in found.board.sections if area_of(each.wire) < limit]
    if thin:
        reason = (
            f"The wire of {_names(thin)} is thinner than {BREAKS_BELOW} AWG and breaks "
            "easily where it is pulled or stripped."
        )
        said.append(Finding(LOOK, "strength", reason, STRONGER))
    return said


def most_signals_current(board: Board, load: Load) -> float:
    """What a signal draws alone on the board's source, in A, the lamp it shows lit and its coil fed."""
    volts, ohms = board.source.corners[1]
    coil = 0.0
    if load.relay is not None and not load.relay.latching:
        coil = volts / load.relay.si.coil_resistance
    return float(load.lamp_current(load.shown, volts, ohms)) + coil + load.si.standby


def _fuse(board: Board) -> list[Finding]:
    if board.fuse is not None:
        return list(check_fuse(board, board.fuse).findings)
    chosen = choose_fuse(board)
    reason = f"The layout has none. The smallest of the table that suits is {chosen.fuse.name!r}."
    return [Finding(LOOK, "fuse", reason, "Put it into the supply's wire, before the first run.", HEAT)]


def _shorts(board: Board) -> tuple[dict[str, int], list[Finding]]:
    """How many other signals a short at each signal's place darkens, and the findings at the worst of them."""
    at = {each.name: each.node for each in board.signals}
    dark = dark_by_shorts(board)
    darkened = {node: sum(at[name] != node for name in names) for node, names in dark.items()}
    worst = short_at(board, max(darkened, key=darkened.__getitem__))
    found = worst.findings
    if board.fuse is not None:  # it ends what would else overload supply and wires
        found = [*fuse_action(board, worst.node).findings, *(each for each in found if each.topic == "other signals")]
    return darkened, [dataclasses.replace(each, topic=f"short at {worst.node}, {each.topic}") for each in found]


def _own(studies: list[Study]) -> list[Finding]:
    """What the signals' own studies say beyond fine, under their names; what is said of several, once."""
    whose: dict[Finding, list[str]] = {}
    for study in studies:
        for each in study.findings:
            if each.grade != FINE:
                whose.setdefault(each, []).append(study.plan.name)
    return [dataclasses.replace(each, topic=f"{_names(names)}: {each.topic}") for each, names in whose.items()]


def _names(names: list[str]) -> str:
    """The first few names, and of the others how many there are."""
    more = f" and {len(names) - _NAMED} more" if len(names) > _NAMED else ""
    return f"{', '.join(names[:_NAMED])}{more}"


def _signals(
    layout: LayoutFields, board: BoardStudy, studies: list[Study], darkened: dict[str, int]
) -> tuple[LayoutSignal, ...]:
    states, as_set = {lamp: board.signals(lamp) for lamp in LAMPS}, board.signals()
    return tuple(
        LayoutSignal(
            name=signal.name,
            at=signal.at,
            plan=signal.plan or "",
            voltage=as_set[place].si.voltage,
            lamps={
                lamp: LampOnBoard(at[place].si.current, at[place].share, at[place].share_min)
                for lamp, at in states.items()
            },
            darkened_by_a_short_here=darkened[signal.at],
            study=studies[place],
        )
        for place, signal in enumerate(layout.signals)
    )


def _figures(board: BoardStudy) -> dict[str, Figure]:
    drawn = [each.si.supply_current for each in board.states.values()]
    weakest = board.weakest
    brightest = max(weakest.share, *(float(each.share.min()) for each in board.states.values()))
    nominal = board.state()
    length = sum(each.si.length for each in board.board.sections)
    tolerances = "every tolerance, and what the signals show"
    return {
        "supply_current": Figure(
            min(drawn), nominal.si.supply_current, max(drawn), "A", "current from the supply", tolerances
        ),
        "weakest_share": Figure(
            weakest.share_min, weakest.share, brightest, "", "light of the weakest lamp, of its own", tolerances
        ),
        "pair_length": Figure.of("twin wire for the runs", Band.exactly(length, "m"), "the runs' lengths"),
    }


LAMPS = ("red", "green")


@dataclass(frozen=True)
class LampOnBoard:
    """One lamp of a signal on the layout: its current and the share of its own light, nominally and at worst."""

    current: float = in_unit("A")
    share: float = in_unit("")
    share_least: float = in_unit("")


@dataclass(frozen=True)
class LayoutSignal:
    """One signal of the layout: its place, the voltage there, its lamps, and its own study.

    `darkened_by_a_short_here` says how many other signals go dark with a short at its place.
    """

    name: str
    at: str
    plan: str
    voltage: float = in_unit("V")
    lamps: dict[str, LampOnBoard]
    darkened_by_a_short_here: int
    study: Study


@dataclass(frozen=True)
class CutTotal:
    """All pieces of one wire in one colour and length; metres."""

    count: int
    wire: str
    colour: str
    length: float = in_unit("m")
    whose: tuple[str, ...] = ()


@dataclass(frozen=True, repr=False)
class LayoutStudy(Shown):
    """Everything the library has to say about a layout."""

    layout: Any
    board: BoardStudy
    signals: tuple[LayoutSignal, ...]
    figures: dict[str, Figure]
    findings: tuple[Finding, ...]
    parts: tuple[PartLine, ...]
    cuts: tuple[CutTotal, ...]

    def __repr__(self) -> str:
        return f"Study of {self.layout.name}: {self.grade}, {len(self.findings)} findings, {len(self.signals)} signals"

    @property
    def grade(self) -> str:
        """The gravest grade among the findings."""
        return worst(self.findings)

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """What to heed at the bench, with the layout's supply, and with trains that set signals."""
        train = any(each.study.trigger is not None for each in self.signals)
        return work_cautions(self.layout.supply.record(), train)

    def to_dict(self) -> dict[str, Any]:
        """The study as plain JSON data; each figure is a value with its unit, each signal's own study included."""
        own = ("grade", "figures", "findings", "cautions", "parts", "cuts", "signals")
        return {"name": self.layout.name} | {name: plain_data(getattr(self, name)) for name in own}


def part_totals(layout: LayoutFields, studies: Iterable[Study]) -> tuple[PartLine, ...]:
    """All signals' parts, equal ones together; the supply, the fuse and the feeder's wire once."""
    same: dict[tuple[str, str], list[PartLine]] = defaultdict(list)
    wire: dict[tuple[str, str], float] = defaultdict(float)
    for study in studies:
        for line in study.parts:
            if line.part not in ("supply", "wire"):
                same[line.part, line.detail].append(line)
        for cut in study.cuts:
            wire["wire of the signals", cut.wire] += cut.length
    for each in layout.feeders:
        wire["twin wire of the runs", each.wire] += each.length.m_as("m")
    lines = [_together(each) for _, each in sorted(same.items())]
    lines += [PartLine(1, what, f"{kind}, {say(each, 'm')}", note="add waste") for (what, kind), each in wire.items()]
    if layout.fuse is not None:
        lines.append(PartLine(1, "fuse", layout.fuse, note="in the supply's wire"))
    return (*lines, PartLine(1, "supply", layout.supply.name))


def _together(lines: list[PartLine]) -> PartLine:
    """Equal parts as one line; of their notes the parts that they share."""
    first, *others = ([each.strip() for each in line.note.split(";")] for line in lines)
    note = "; ".join(each for each in first if all(each in other for other in others))
    return dataclasses.replace(lines[0], count=sum(line.count for line in lines), note=note)


def cut_totals(studies: Iterable[Study]) -> tuple[CutTotal, ...]:
    """All pieces to cut, equal ones together, the longest first."""
    whose: dict[tuple[str, str, float], list[str]] = defaultdict(list)
    for study in studies:
        for cut in study.cuts:
            whose[cut.wire, cut.colour, round(cut.length, 4)].append(study.plan.name)
    totals = [
        CutTotal(len(names), wire, colour, length, tuple(dict.fromkeys(names)))
        for (wire, colour, length), names in whose.items()
    ]
    return tuple(sorted(totals, key=lambda each: (each.wire, -each.length, each.colour)))
