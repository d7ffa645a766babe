"""The panels that a talk can name, and what is wrong with a talk that names a panel or a control there is not."""

from __future__ import annotations

from string import ascii_uppercase

from ..errors import Fault, SigcalcError, UnknownNameError
from ..lessons.scene import Scene
from ..lessons.talk import Talk
from ..parts.table import need_name
from ..views.findings import NOTHING, SENTENCE
from .base import Panel
from .battery_or_adapter import AdapterVoltagePanel, BatteryRun, BreakEvenPanel
from .fault_round import FaultRoundPanel
from .find_the_fault import FaultGamePanel
from .find_your_fault import DiagnosisPanel
from .let_the_train_do_it import HoldTimerPanel, OrientationPanel, PassingTrainPanel
from .many_signals_one_adapter import HowManySignals, ShortPanel, SignalsOneByOne, WhichGauge
from .resistor_or_constant_current import DriveChoice, SharedDriver
from .start_here import FirstLight
from .two_wires_two_colours import (
    AlternationPanel,
    BranchPanel,
    FourSwitchesPanel,
    PairPanel,
    ReversingPanel,
    SharedReturnPanel,
)
from .which_resistor import ResistorHeat, WhichResistor
from .why_a_resistor import ALittleMore, WhyAResistor

PANELS: dict[str, type[Panel]] = {
    "first light": FirstLight,
    "why a resistor": WhyAResistor,
    "a little more": ALittleMore,
    "which resistor": WhichResistor,
    "resistor heat": ResistorHeat,
    "which lamp lights": PairPanel,
    "equally bright": BranchPanel,
    "turned round": ReversingPanel,
    "four switches": FourSwitchesPanel,
    "shared return": SharedReturnPanel,
    "alternating current": AlternationPanel,
    "sagging supply": DriveChoice,
    "shared driver": SharedDriver,
    "battery run": BatteryRun,
    "adapter voltage": AdapterVoltagePanel,
    "break even": BreakEvenPanel,
    "signals one by one": SignalsOneByOne,
    "which gauge": WhichGauge,
    "how many signals": HowManySignals,
    "short circuit": ShortPanel,
    "magnet over reed": OrientationPanel,
    "hold timer": HoldTimerPanel,
    "passing train": PassingTrainPanel,
    "find the fault": FaultGamePanel,
    "your own signal": DiagnosisPanel,
    "fault round": FaultRoundPanel,
}
"""The panels by the names that a talk calls them."""


def kind_of(name: str) -> type[Panel]:
    """The panel of that name; UnknownNameError for a name that is none of PANELS."""
    return PANELS[need_name(name, "panel", PANELS)]


def _on_stage(scene: Scene) -> Panel:
    """The panel of a scene, not yet drawn for the wall; UnknownNameError where there is none of that name."""
    with Panel.undrawn():
        panel = kind_of(scene.panel)()
        panel.stage.value = True
    return panel


def asked(scene: Scene) -> Panel:
    """The panel of a scene, drawn for the wall as the question finds it: what gives the answer away is covered.

    Its axes reach as far as question and answer need, so that a fall is seen as a fall. Raises SigcalcError for what
    the panel cannot show.
    """
    panel = _on_stage(scene)
    panel.hold_axes(True)
    panel.covered = dict.fromkeys(scene.cover, "")
    if scene.choices:  # they stand where the answer will be told
        panel.covered[SENTENCE] = "   ".join(map(_kept_together, ascii_uppercase, scene.choices))
    panel.put(scene.start)
    if scene.answer:
        before = {name: panel[name].value for name in scene.answer}
        panel.put(scene.answer)
        with panel.silent():
            for name, value in before.items():
                panel[name].value = value
        panel.redraw()
    return panel


def _kept_together(letter: str, choice: str) -> str:
    """A choice with its letter, which no line ends in the middle of."""
    return f"{letter}: {choice}".replace(" ", "\u00a0")


def answer(panel: Panel, scene: Scene) -> None:
    """Uncover what was covered, and set what the answer changes."""
    panel.covered = NOTHING
    panel.put(scene.answer)


def faults_of(talk: Talk) -> list[Fault]:
    """What the scenes of a talk name that the panels do not have or cannot take: each fault with its place."""
    faults = []
    for number, scene in enumerate(talk.scene):
        try:
            panel = _on_stage(scene)
        except UnknownNameError as unknown_panel:
            faults.append(Fault(("scene", number, "panel"), unknown_panel))
            continue
        for field in ("start", "answer"):
            with panel.silent():
                for name, value in getattr(scene, field).items():
                    try:
                        panel[name].put(value)
                    except SigcalcError as refusal:
                        faults.append(Fault(("scene", number, field, name), refusal))
            panel.redraw()
            if panel.picture is None:
                faults.append(Fault(("scene", number, field), SigcalcError(panel.refusal)))
    return faults
