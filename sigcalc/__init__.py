"""sigcalc: working LED signals for model railways, from the first resistor to the two-lead pair and its plan.

The public names are loaded when they are first used (PEP 562), so that
`import sigcalc.physics.diode` loads neither pint nor matplotlib.
"""

import sys
from typing import TYPE_CHECKING

_HOMES = {
    "errors": ("SigcalcError", "UnitError", "RangeError", "UnknownNameError", "DesignError", "PlanError"),
    "units": ("Q",),
    "parts.led": ("ConstantDrop", "Exponential", "Led", "leds", "diodes"),
    "parts.source": ("Battery", "Adapter", "batteries", "adapters"),
    "parts.drive": ("ResistorDrive", "ConstantCurrentDrive", "regulators", "current_diodes"),
    "design.pair.two_lead_pair": ("TwoLeadPair",),
    "design.power.load": ("Load",),
    "parts.relay": ("Relay", "relays"),
    "design.caution": ("cautions",),
    "parts.resistor": ("preferred_values",),
    "parts.marking": ("colour_bands", "read_colour_bands", "rkm_code", "read_rkm"),
    "parts.wire": ("wire_resistance", "wires"),
    "parts.capacitor": ("Capacitor", "capacitor_kinds"),
    "parts.timer": ("timers",),
    "parts.drill": ("drills",),
    "design.lamp.resistor": ("exact_resistance", "choose_resistor"),
    "design.lamp.drive": ("operate",),
    "design.lamp.direct": ("connect_directly",),
    "design.power.drive_choice": ("compare_drives",),
    "design.power.run_time": ("run_time",),
    "design.power.adapter": ("adapter_voltage", "resistor_on_adapter"),
    "design.power.cost": ("evenings", "yearly_energy", "break_even"),
    "design.board.board": ("Board", "BoardSignal", "FeederSection", "chain_board", "star_board"),
    "parts.fuse": ("Fuse", "fuses"),
    "design.board.feeder": ("feeder_voltages", "study_board"),
    "parts.magnet": ("Magnet", "magnets", "axial_field"),
    "parts.reed": ("Reed", "reeds"),
    "parts.scale": ("scale_speed", "scales"),
    "design.train.magnet_and_reed": ("closures",),
    "design.train.hold": ("HoldCircuit", "hold_time", "one_shot_time"),
    "design.bench.circuit": ("BenchCircuit",),
    "parts.meter": ("Meter", "meters"),
    "design.bench.simulated": ("SimulatedSignal",),
    "design.bench.expected": ("expected_readings",),
    "design.bench.predictions": ("fault_views", "look_alikes"),
    "design.bench.diagnosis": ("diagnose",),
    "design.pair.brightness": ("compare_brightness", "even_out", "even_currents"),
    "plan": ("Plan",),
    "plan.layout": ("Layout",),
    "lessons.talk": ("Talk",),
}
_HOME = {name: home for home, names in _HOMES.items() for name in names}

__all__ = sorted(_HOME)


if TYPE_CHECKING:  # for editors and type checkers, which follow no names made at run time; a test compares the lists
    from .design.bench.circuit import BenchCircuit as BenchCircuit
    from .design.bench.diagnosis import diagnose as diagnose
    from .design.bench.expected import expected_readings as expected_readings
    from .design.bench.predictions import fault_views as fault_views
    from .design.bench.predictions import look_alikes as look_alikes
    from .design.bench.simulated import SimulatedSignal as SimulatedSignal
    from .design.board.board import Board as Board
    from .design.board.board import BoardSignal as BoardSignal
    from .design.board.board import FeederSection as FeederSection
    from .design.board.board import chain_board as chain_board
    from .design.board.board import star_board as star_board
    from .design.board.feeder import feeder_voltages as feeder_voltages
    from .design.board.feeder import study_board as study_board
    from .design.caution import cautions as cautions
    from .design.lamp.direct import connect_directly as connect_directly
    from .design.lamp.drive import operate as operate
    from .design.lamp.resistor import choose_resistor as choose_resistor
    from .design.lamp.resistor import exact_resistance as exact_resistance
    from .design.pair.brightness import compare_brightness as compare_brightness
    from .design.pair.brightness import even_currents as even_currents
    from .design.pair.brightness import even_out as even_out
    from .design.pair.two_lead_pair import TwoLeadPair as TwoLeadPair
    from .design.power.adapter import adapter_voltage as adapter_voltage
    from .design.power.adapter import resistor_on_adapter as resistor_on_adapter
    from .design.power.cost import break_even as break_even
    from .design.power.cost import evenings as evenings
    from .design.power.cost import yearly_energy as yearly_energy
    from .design.power.drive_choice import compare_drives as compare_drives
    from .design.power.load import Load as Load
    from .design.power.run_time import run_time as run_time
    from .design.train.hold import HoldCircuit as HoldCircuit
    from .design.train.hold import hold_time as hold_time
    from .design.train.hold import one_shot_time as one_shot_time
    from .design.train.magnet_and_reed import closures as closures
    from .errors import DesignError as DesignError
    from .errors import PlanError as PlanError
    from .errors import RangeError as RangeError
    from .errors import SigcalcError as SigcalcError
    from .errors import UnitError as UnitError
    from .errors import UnknownNameError as UnknownNameError
    from .lessons.talk import Talk as Talk
    from .parts.capacitor import Capacitor as Capacitor
    from .parts.capacitor import capacitor_kinds as capacitor_kinds
    from .parts.drill import drills as drills
    from .parts.drive import ConstantCurrentDrive as ConstantCurrentDrive
    from .parts.drive import ResistorDrive as ResistorDrive
    from .parts.drive import current_diodes as current_diodes
    from .parts.drive import regulators as regulators
    from .parts.fuse import Fuse as Fuse
    from .parts.fuse import fuses as fuses
    from .parts.led import ConstantDrop as ConstantDrop
    from .parts.led import Exponential as Exponential
    from .parts.led import Led as Led
    from .parts.led import diodes as diodes
    from .parts.led import leds as leds
    from .parts.magnet import Magnet as Magnet
    from .parts.magnet import axial_field as axial_field
    from .parts.magnet import magnets as magnets
    from .parts.marking import colour_bands as colour_bands
    from .parts.marking import read_colour_bands as read_colour_bands
    from .parts.marking import read_rkm as read_rkm
    from .parts.marking import rkm_code as rkm_code
    from .parts.meter import Meter as Meter
    from .parts.meter import meters as meters
    from .parts.reed import Reed as Reed
    from .parts.reed import reeds as reeds
    from .parts.relay import Relay as Relay
    from .parts.relay import relays as relays
    from .parts.resistor import preferred_values as preferred_values
    from .parts.scale import scale_speed as scale_speed
    from .parts.scale import scales as scales
    from .parts.source import Adapter as Adapter
    from .parts.source import Battery as Battery
    from .parts.source import adapters as adapters
    from .parts.source import batteries as batteries
    from .parts.timer import timers as timers
    from .parts.wire import wire_resistance as wire_resistance
    from .parts.wire import wires as wires
    from .plan import Plan as Plan
    from .plan.layout import Layout as Layout
    from .units import Q as Q


def __getattr__(name: str) -> object:
    from importlib import import_module, metadata

    if name == "__version__":
        return metadata.version(__name__)
    if name not in _HOME:
        raise AttributeError(f"sigcalc has no {name!r}; it has {', '.join(__all__)}")
    value = globals()[name] = getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
    if records := sys.modules.get(f"{__name__}.units.record"):
        records.natural.views = lambda: import_module(f"{__name__}.views.natural")
    return value


def __dir__() -> list[str]:
    return [*__all__, "__version__"]
