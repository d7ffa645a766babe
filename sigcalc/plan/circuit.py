"""The circuit of a plan: which resistors or driver in which place, and its figures over all tolerances."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from ..design.lamp.drawer import Combination, choose_from_drawer
from ..design.lamp.drive import loop_current, shift_of, string_voltage
from ..design.lamp.resistor import Choice, choose_resistor
from ..design.pair.brightness import even_out
from ..design.pair.two_lead_pair import TwoLeadPair, with_series_diodes
from ..design.tolerance import Band, over_corners, source_bands
from ..errors import SigcalcError
from ..parts.drive import ConstantCurrentDrive, Drive, Regulator, ResistorDrive, current_diodes, regulators
from ..parts.resistor import at_least, nearest
from ..units import Q, say
from .circuit_fields import DIODE, REGULATOR, RESISTOR, DriveSpec
from .model import PlanFields
from .result import Figure

LAMPS = ("red", "green")


@dataclass(frozen=True)
class Circuit:
    """The circuit of a plan: the shared drive, the pair with its extra resistors, and how each resistor was chosen.

    `combinations` holds, by place ("shared", "red", "green"), the two resistors out of the
    builder's drawer that make up the resistance in that place; `driver` is None where a
    resistor sets the current.
    """

    plan: PlanFields
    drive: Drive
    pair: TwoLeadPair
    story: tuple[str, ...]
    combinations: Mapping[str, Combination] = field(default_factory=dict)
    driver: Driver | None = None

    @property
    def shared_resistance(self) -> float:
        """The shared resistor in ohm; 0 where there is none."""
        return self.drive.si.resistance if isinstance(self.drive, ResistorDrive) else 0.0

    def extra(self, lamp: str) -> float:
        """The resistor in the branch of "red" or "green", in ohm."""
        return getattr(self.pair.si, f"extra_{lamp}")


def circuit_of(plan: PlanFields) -> Circuit:
    """The circuit that a plan asks for; raises DesignError where no resistor can do what is wished."""
    pair = TwoLeadPair(red=plan.red.led("red"), green=plan.green.led("green"))
    if plan.wiring.series_diodes:
        pair = with_series_diodes(pair)
    given = {f"extra_{lamp}": getattr(plan.wiring, f"extra_{lamp}") for lamp in LAMPS}
    pair = dataclasses.replace(pair, **{name: value for name, value in given.items() if value is not None})
    if plan.drive.kind != RESISTOR:
        return _driven(plan, pair)
    if plan.wiring.form == "one in each branch":
        return _in_each_branch(plan, pair)
    shared = _shared(plan, pair)
    if plan.wiring.form == "shared and extra" and all(value is None for value in given.values()):
        return _with_extra(shared)
    return shared


def _driven(plan: PlanFields, pair: TwoLeadPair) -> Circuit:
    driver = driver_of(plan.drive)
    said = [driver.story]
    if plan.wiring.form != "one shared resistor":
        said.append(f'The form "{plan.wiring.form}" asks for extra resistors only where their values are given.')
    return Circuit(plan, driver.drive, pair, tuple(said), driver=driver)


def _choose(plan: PlanFields, pair: TwoLeadPair, lamp: str) -> Choice | Combination:
    """The choice for one lamp alone, or the best combination of the drawer; its refusal says which lamp."""
    wish = plan.drive
    try:
        supply, string = Q(plan.supply.corners()[1], "V"), list(pair.branch(lamp)[0])
        if wish.drawer is not None:
            return choose_from_drawer(
                drawer=list(wish.drawer), supply=supply, led=string, current=wish.current, tolerance=wish.tolerance
            )[0]
        return choose_resistor(
            supply=supply, led=string, current=wish.current, series=wish.series, tolerance=wish.tolerance
        )
    except SigcalcError as refusal:
        raise type(refusal)(f"{lamp} lamp: {refusal}") from None


def _out_of_drawer(choices: Mapping[str, Choice | Combination]) -> dict[str, Combination]:
    """Those made of two resistors."""
    made = {place: choice for place, choice in choices.items() if isinstance(choice, Combination)}
    return {place: each for place, each in made.items() if each.si.second is not None}


def _shared(plan: PlanFields, pair: TwoLeadPair) -> Circuit:
    wish = plan.drive
    if wish.resistance is not None:
        drive = ResistorDrive(wish.resistance, wish.tolerance)
        return Circuit(plan, drive, pair, ("The shared resistor is the one you gave.",))
    choices = {lamp: _choose(plan, pair, lamp) for lamp in LAMPS}
    lamp = max(LAMPS, key=lambda each: choices[each].si.resistance)
    said = f"The shared resistor suits the {lamp} lamp, which needs the larger one; the other gets a little less."
    drive = ResistorDrive(choices[lamp].resistance, wish.tolerance)
    return Circuit(plan, drive, pair, (said,), _out_of_drawer({"shared": choices[lamp]}))


def _with_extra(shared: Circuit) -> Circuit:
    """The same circuit with the brighter lamp dimmed to the other one's light."""
    plan, drive, pair = shared.plan, shared.drive, shared.pair
    try:
        evening = even_out(supply=Q(plan.supply.corners()[1], "V"), drive=drive, pair=pair)
    except SigcalcError as refusal:
        raise type(refusal)(f'form "{plan.wiring.form}": {refusal}') from None
    value = _nearest(evening.si.extra, plan.drive)
    changed = dataclasses.replace(pair, **{f"extra_{evening.lamp}": Q(value, "ohm")})
    said = f"The extra resistor dims the {evening.lamp} lamp to the other's typical light."
    if not value:
        said = "Typical lamps are as good as equally bright; no extra resistor is needed."
    return dataclasses.replace(shared, pair=changed, story=(*shared.story, said))


def _nearest(ohms: float, wish: DriveSpec) -> float:
    """The value at hand, or for sale, that is nearest; none at all where that is nearer still."""
    if wish.drawer is not None:
        at_hand = [0.0, *(each.m_as("ohm") for each in wish.drawer)]
        return min(at_hand, key=lambda each: abs(each - ohms))
    return float(nearest(ohms, wish.series)) if ohms >= 1 else 0.0


def _in_each_branch(plan: PlanFields, pair: TwoLeadPair) -> Circuit:
    given = {lamp: getattr(plan.wiring, f"extra_{lamp}") for lamp in LAMPS}
    choices = {lamp: _choose(plan, pair, lamp) for lamp in LAMPS if given[lamp] is None}
    values = {f"extra_{lamp}": choices[lamp].resistance if lamp in choices else given[lamp] for lamp in LAMPS}
    said = "Each lamp has a resistor of its own, and none is shared."
    drive = ResistorDrive("0 ohm", plan.drive.tolerance)
    return Circuit(plan, drive, dataclasses.replace(pair, **values), (said,), _out_of_drawer(choices))


OWN_SPREAD = 0.04
"""How far an own regulator's reference voltage is taken to be off: that of the usual kind, 1.2 V to 1.3 V."""


@dataclass(frozen=True)
class Driver:
    """A driver as it is bought and built.

    `setting` is the resistor in ohm that sets a regulator's current, 0 where there is none, and `setting_voltage`
    the most in V across it. `story` says how it was chosen.
    """

    drive: ConstantCurrentDrive
    name: str
    detail: str
    story: str
    count: int = 1
    setting: float = 0.0
    setting_voltage: float = 0.0


def driver_of(wish: DriveSpec) -> Driver:
    """The driver of a plan whose drive is no resistor; raises DesignError where the part cannot do what is wished."""
    if wish.kind == REGULATOR:
        return _regulator(wish)
    if wish.kind == DIODE and wish.part is not None:
        return _diodes(wish, wish.part)
    kind = "current-regulator diode" if wish.kind == DIODE else "constant-current driver"
    drive = ConstantCurrentDrive(wish.current, wish.dropout, wish.tolerance, kind=kind)
    return Driver(drive, kind, _figures(drive), "The driver sets the current; no resistor is chosen.")


def _figures(drive: ConstantCurrentDrive) -> str:
    drops_out = say(drive.si.dropout, "V")
    return f"{say(drive.limit, 'A')}, {say(drive.tolerance, '', 2)}, drop-out {drops_out}"


def _regulator(wish: DriveSpec) -> Driver:
    regulator, said = _bought(wish)
    ohms, how = wish.resistance, "is the one you gave"
    if ohms is None:
        exact = regulator.resistance_for(wish.current).m_as("ohm")
        ohms, how = Q(at_least(exact, wish.series), "ohm"), f"is the {wish.series} value for the current you wish"
    drive = regulator.set_by(ohms, wish.tolerance)
    return Driver(
        drive=drive,
        name="adjustable regulator",
        detail=f"{regulator.name}, set to {_figures(drive)}",
        story=f"The resistor from the regulator's output to its adjust pin {how}.{said}",
        setting=ohms.m_as("ohm"),
        setting_voltage=regulator.si.reference_max,
    )


def _bought(wish: DriveSpec) -> tuple[Regulator, str]:
    """The regulator, and what is taken for granted of an own one."""
    if wish.part is not None:
        return regulators[wish.part], ""
    volts = wish.reference_voltage
    own = Regulator(
        name="own regulator",
        reference_voltage=volts,
        reference_min=volts * (1 - OWN_SPREAD),
        reference_max=volts * (1 + OWN_SPREAD),
        headroom=wish.dropout,
        max_current=wish.current if wish.resistance is None else Q(10, "A"),
    )
    said = f" Its reference voltage is taken to be within {say(OWN_SPREAD, '')}, its own currents as nothing."
    return own, said


def _diodes(wish: DriveSpec, name: str) -> Driver:
    """As many diodes side by side as stay within the wish, and one at the least."""
    diode = current_diodes[name]
    count = max(1, int(wish.current.m_as("A") / diode.si.current * (1 + 1e-9)))
    drive = diode.drive(count)
    many = f"{count} current diodes side by side set" if count > 1 else "The current diode sets"
    story = f"{many} {say(drive.limit, 'A')}, of {say(wish.current.m_as('A'), 'A')} wished; no resistor is chosen."
    return Driver(drive, "current-regulator diode", f"{diode.name.upper()}, {_figures(drive)}", story, count)


def lamp_figures(circuit: Circuit, lamp: str) -> dict[str, Figure]:
    """Bands of one lamp's figures while it is lit: current, voltages, powers, and its light where it is known.

    The tolerances of supply, resistors and LED are taken as independent, all resistors as off in the same direction,
    and the supply's voltage and internal resistance as going to their ends together.
    """
    string, extra = circuit.pair.branch(lamp)
    led, driven = string[0], isinstance(circuit.drive, ConstantCurrentDrive)
    tolerance = circuit.plan.drive.tolerance

    def values(supply: Any, off: Any, spread: Any) -> dict[str, Any]:
        volts, source_ohms = supply
        scale, own = 1 + off * circuit.drive.tolerance, extra * (1 + off * tolerance)
        # a driver set to more current has less resistance below its drop-out
        shared = circuit.drive.series_resistance * (1 / scale if driven else scale)
        current = loop_current(volts, source_ohms + shared + own, string, None, spread)
        if driven:
            current = np.minimum(current, circuit.drive.limit * scale)
        led_volts = led.model.voltage_si(current, None, shift_of(led, spread))
        across = string_voltage(current, string, None, spread) + current * own
        drive_volts = np.maximum(volts - current * source_ohms - across, 0.0) if driven else current * shared
        found = (current, led_volts, current * own, across, drive_volts)
        found += (current * led_volts, current**2 * own, current * drive_volts)
        light = {} if led.intensity is None else {"light": led.light_si(current)}
        return dict(zip(_LAMP_FIGURES, found, strict=False)) | light

    either_way = Band(-1.0, 0.0, 1.0)
    bands = over_corners(values, supply=_supply_bands(circuit), off=either_way, spread=either_way)
    if led.intensity is not None:
        least, nominal, most = bands["light"]
        bands["light"] = Band(least * led.light_shares[0], nominal, most * led.light_shares[1])
    figures, name = {}, "driver" if driven else "shared resistor"
    for key, band in bands.items():
        label, unit = _LAMP_FIGURES[key]
        depends_on = "supply, resistor and LED spread"
        depends_on += ", and how LEDs of a type vary in light" if key == "light" else ""
        figures[f"{lamp}_{key}"] = Figure(*band, unit, f"{lamp} lit: {label.format(drive=name)}", depends_on)
    return figures


_LAMP_FIGURES = {
    "current": ("current", "A"),
    "led_voltage": ("voltage across the LED", "V"),
    "extra_voltage": ("voltage across the branch's own resistor", "V"),
    "pair_voltage": ("voltage across the two wires", "V"),
    "drive_voltage": ("voltage across the {drive}", "V"),
    "led_power": ("heat in the LED", "W"),
    "extra_power": ("heat in the branch's own resistor", "W"),
    "shared_power": ("heat in the {drive}", "W"),
    "light": ("light on the axis", "cd"),
}


def _supply_bands(circuit: Circuit) -> tuple[Band, Band]:
    """The supply's open-circuit voltage, and its internal resistance."""
    source = circuit.plan.supply.source()
    ohms = Band.exactly(0.0, "ohm") if source is None else source_bands(source)[1]
    return Band(*circuit.plan.supply.corners(), "V"), ohms


def supply_figure(circuit: Circuit) -> Figure:
    """The open-circuit voltage of the supply."""
    return Figure.of("supply, without load", _supply_bands(circuit)[0], circuit.plan.supply.depends_on)


def resistance_figures(circuit: Circuit) -> dict[str, Figure]:
    """The resistors of the circuit as bought."""
    values = {"shared_resistance": ("shared resistor", circuit.shared_resistance)}
    values |= {f"{lamp}_resistance": (f"extra resistor, {lamp} branch", circuit.extra(lamp)) for lamp in LAMPS}
    if circuit.driver is not None:
        values["setting_resistance"] = ("resistor that sets the regulator's current", circuit.driver.setting)
    for place, combination in circuit.combinations.items():
        label, ohms = values[f"{place}_resistance"]
        values[f"{place}_resistance"] = (f"{label} (two {combination.arrangement})", ohms)
    return {
        key: Figure.of(label, Band.within(ohms, circuit.plan.drive.tolerance, "ohm"), "the resistor's tolerance")
        for key, (label, ohms) in values.items()
        if ohms > 0
    }
