"""sigcalc: working LED signals for model railways, from the first resistor to the two-lead pair and its plan.

The public names are loaded when they are first used (PEP 562), so that
`import sigcalc.physics.diode` loads neither pint nor matplotlib.
"""

from importlib import import_module
from typing import Any

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
    "design.power.evenings": ("evenings",),
    "design.power.adapter": ("adapter_voltage", "resistor_on_adapter"),
    "design.power.running_cost": ("yearly_energy", "break_even"),
    "design.board.board": ("Board", "BoardSignal", "FeederSection", "chain_board", "star_board"),
    "parts.fuse": ("Fuse", "fuses"),
    "design.board.feeder": ("feeder_voltages", "study_board"),
    "parts.magnet": ("Magnet", "magnets", "axial_field"),
    "parts.reed": ("Reed", "reeds"),
    "parts.scale": ("scale_speed", "scales"),
    "design.train.magnet_and_reed": ("closures",),
    "design.train.hold": ("hold_time", "one_shot_time"),
    "design.bench.circuit": ("BenchCircuit",),
    "design.train.hold_circuit": ("HoldCircuit",),
    "parts.meter": ("Meter", "meters"),
    "design.bench.simulated": ("SimulatedSignal",),
    "design.bench.readings": ("expected_readings",),
    "design.bench.faults": ("fault_views", "look_alikes"),
    "design.bench.diagnosis": ("diagnose",),
    "design.pair.brightness": ("compare_brightness", "even_out", "even_currents"),
    "plan": ("Plan",),
    "plan.layout": ("Layout",),
}
_HOME = {name: home for home, names in _HOMES.items() for name in names}

__all__ = sorted(_HOME)


def __getattr__(name: str) -> Any:
    if name not in _HOME:
        raise AttributeError(f"sigcalc has no {name!r}; it has {', '.join(__all__)}")
    value = getattr(import_module(f"{__name__}.{_HOME[name]}"), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
