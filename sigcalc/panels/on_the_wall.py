"""The panels that a talk can name, and what is wrong with a talk that names a panel or a control there is not."""

from __future__ import annotations

from typing import Any

from ..errors import Fault, SigcalcError, UnknownNameError
from ..parts.table import need_name
from .base import Panel
from .battery_or_adapter import AdapterVoltagePanel, BatteryRun, BreakEvenPanel
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
}
"""The panels by the names that a talk calls them."""


def kind_of(name: str) -> type[Panel]:
    """The panel of that name; UnknownNameError for a name that is none of PANELS."""
    return PANELS[need_name(name, "panel", PANELS)]


def faults_of(talk: Any) -> list[Fault]:
    """What the scenes of a talk name that the panels do not have or cannot take: each fault with its place."""
    faults = []
    for number, scene in enumerate(talk.scene):
        try:
            panel = kind_of(scene.panel)()
        except UnknownNameError as unknown_panel:
            faults.append(Fault(("scene", number, "panel"), unknown_panel))
            continue
        for field in ("start", "answer"):
            for name, value in getattr(scene, field).items():
                try:
                    panel.put({name: value})
                except SigcalcError as refusal:
                    faults.append(Fault(("scene", number, field, name), refusal))
            if panel.picture is None:
                faults.append(Fault(("scene", number, field), SigcalcError(panel.refusal)))
    return faults
