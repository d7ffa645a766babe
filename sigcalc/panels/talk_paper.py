"""A talk on paper, and as stills that any browser shows without a kernel: one HTML file, nothing from outside."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import accumulate, pairwise
from string import ascii_uppercase

from markupsafe import Markup

from ..design.caution import cautions_about
from ..design.findings import MARKS, STOP
from ..errors import PlanError
from ..lessons.fault_round import Secret, secrets
from ..lessons.scene import Scene
from ..lessons.talk import Talk
from ..plan import Plan
from ..views.picture import Picture
from ..views.sheet import board_pictures, page_template
from .base import AS_IT_IS_DRAWN, AS_IT_LOOKS, Panel
from .control import page_text
from .fault_round import ROUND, FaultRoundPanel
from .on_the_wall import PANELS, asked, faults_of
from .talk_stage import TalkStage

_CIRCUITS = ("which lamp lights", "equally bright", "turned round", "sagging supply", "why a resistor", "first light")
"""The panels that show a circuit both ways: first the signal with the talk's own parts, then the switch alone."""
_TALL = 0.7
"""From which share of its width on a drawing's height needs a page laid out for it."""
_TRAIN = ("passing train", "hold timer", "magnet over reed")
_TRAIN_SIGNAL = {
    "supply": {"kind": "battery", "part": "9 V alkaline"},
    "drive": {"current": "12 mA"},
    "red": {"part": "bright red 3 mm"},
    "green": {"part": "ordinary green 3 mm"},
    "wiring": {"reversing": "relay"},
    "trigger": {"relay": "9 V two-pole sensitive"},
}
"""The signal of the ready talk's demonstration with a train, whose panels show no circuit: its relay side is drawn."""
_HOME = {
    "work": ("supply", "soldering", "eyes", "LED"),
    "battery": ("short circuit",),
    "rectangular battery": ("posts",),
    "coin cell": ("children",),
    "adapter": ("unmarked", "joining"),
    "train": ("magnets", "reed", "track power"),
}
"""The cautions that go home with the audience: what they are about, with their topics."""
_AT_BENCH = {
    "bench": ("repair", "warm parts", "bare LED", "eye protection"),
    "dc range": ("voltage",),
    "probe back": ("current",),
}
"""Those for the demonstration."""
_NEEDED = {
    "battery": r"batter|cell\b",
    "rectangular battery": r"9 V\b.*batter|batter.*9 V\b",
    "coin cell": r"coin cell",
    "adapter": r"adapter",
    "train": r"magnet|reed",
    "dc range": r"meter\b",
    "probe back": r"meter\b",
}
"""By which words in the kit list a caution is called for; what is not named here always is."""


@dataclass(frozen=True)
class _Still:
    """What the room sees at one moment of a talk; `settings`: each main control, what it says, whether it has moved."""

    question: Markup
    place: str
    body: Markup
    settings: tuple[tuple[str, str, bool], ...] = ()


@dataclass(frozen=True)
class _Line:
    """A scene on paper."""

    scene: Scene
    time: str
    choices: tuple[tuple[str, str], ...]
    verdict: str
    answer: str
    secrets: tuple[Secret, ...]


def talk_paper(talk: Talk, seats: int | None = None) -> str:
    """The run sheet, the hand-out, the kit list for so many seats, the answers, and every scene as a still: one page.

    Raises PlanError where the talk names a panel or a control that there is not, and RangeError for no number of seats.
    """
    kit = talk.kit_list(seats)
    if faults := faults_of(talk):
        raise PlanError(faults)
    stills, lines = _played(talk)
    kinds, circuit = _called_for(talk), _circuit(talk)
    return page_template("talk.html.j2").render(
        talk=talk,
        kit=kit,
        lines=lines,
        stills=stills,
        circuit=[Markup(each.svg) for each in circuit],
        tall=circuit[-1].height > _TALL * circuit[-1].width,
        home_cautions=_cautions(_HOME, kinds),
        bench_cautions=_cautions(_AT_BENCH, kinds),
        panel_css=Markup(page_text("panel.css")),
    )


def _played(talk: Talk) -> tuple[list[_Still], list[_Line]]:
    """The talk gone through on a stage of its own: what the room sees, and for each scene what the answer says."""
    stage, lines = TalkStage(talk), []
    stills, before = [_still(stage, {})], {}
    times = [f"{_clock(start)} to {_clock(end)}" for start, end in pairwise(_due(talk))]
    while not stage.next.disabled:
        stage.go_on()
        now = {} if stage.panel is None else {name: stage.panel[name].said for name in stage.panel.wall}
        stills.append(_still(stage, before if stage.answered else now))
        if stage.answered:
            lines.append(_line(talk.scene[stage.at], times[stage.at], stage.panel))
        before = now
    return stills, lines


def _still(stage: TalkStage, before: dict[str, str]) -> _Still:
    """What stands on the stage now."""
    panel, scenes = stage.panel, stage.talk.scene
    body = stage.body.children[0].value if panel is None else panel.view.value
    said = {} if panel is None else {name: panel[name].said for name in panel.wall}
    settings = tuple((name, text, text != before[name]) for name, text in said.items())
    place = "" if panel is None else f"{stage.at + 1} of {len(scenes)}"
    return _Still(Markup(stage.question.value), place, Markup(body), settings)


def _line(scene: Scene, time: str, panel: Panel) -> _Line:
    """A scene whose answer is shown."""
    shown = panel.picture
    found = getattr(shown, "findings", ())[:1]
    verdict = "".join(f"{MARKS[each.grade]} {each.grade}: {each.topic}." for each in found)
    hidden = secrets(panel[ROUND].whole) if isinstance(panel, FaultRoundPanel) else ()
    choices = tuple(zip(ascii_uppercase, scene.choices, strict=False))
    return _Line(scene, time, choices, verdict, getattr(shown, "brief", "") or shown.sentence, hidden)


def _due(talk: Talk) -> Iterator[float]:
    """When each scene begins, in seconds, and when the last one ends."""
    return accumulate((60 * each.minutes for each in talk.scene), initial=0.0)


def _clock(seconds: float) -> str:
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes}:{rest:02d}"


# ---- what goes home


def _circuit(talk: Talk) -> tuple[Picture, ...]:
    """The talk's circuit as it looks and as it is drawn: as a question finds it, and none that must not be built."""
    ranked = sorted(
        (each for each in talk.scene if each.panel in _CIRCUITS), key=lambda each: _CIRCUITS.index(each.panel)
    )
    for scene in ranked:
        if both := _both_ways(asked(scene)):
            return both
    if any(each.panel in _TRAIN for each in talk.scene):
        trains = (asked(each) for each in talk.scene if each.panel == _TRAIN[0])
        passing = next(trains, None) or _on_stage(_TRAIN[0])
        passing.show.value = AS_IT_LOOKS
        return passing.picture.pictures[0], *board_pictures(Plan(**_TRAIN_SIGNAL).study())
    return _both_ways(_on_stage(_CIRCUITS[0]))


def _on_stage(name: str) -> Panel:
    """A panel as it opens, drawn for the wall."""
    panel = PANELS[name]()
    panel.stage.value = True
    return panel


def _both_ways(panel: Panel) -> tuple[Picture, ...]:
    """What a panel shows as it looks and as it is drawn; nothing where it has no choice, or says not to build it."""
    shown = []
    for way in (AS_IT_LOOKS, AS_IT_IS_DRAWN):
        panel.show.value = way
        shown.append(panel.picture.pictures[0])
    stopped = any(each.grade == STOP for each in panel.picture.findings)
    return () if stopped or shown[0].svg == shown[1].svg else tuple(shown)


def _called_for(talk: Talk) -> set[str]:
    """What cautions are about that the talk's kit or its panels call for."""
    items = [each.item for each in talk.kit]
    found = {about for about, words in _NEEDED.items() if any(re.search(words, each, re.IGNORECASE) for each in items)}
    found |= {"train"} if any(each.panel in _TRAIN for each in talk.scene) else set()
    return found | ({*_HOME, *_AT_BENCH} - {*_NEEDED})


def _cautions(named: Mapping[str, tuple[str, ...]], kinds: set[str]) -> list[str]:
    """Of the cautions that are named, those about what is called for."""
    found = cautions_about(*(each for each in named if each in kinds))
    return [each.text for each in found if each.topic in named[each.about]]
