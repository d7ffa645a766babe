"""From the builder's wishes to a circuit: which resistors, in which place, and the pair that comes of it."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from dataclasses import dataclass, field

from ..design.lamp.drawer import Combination, choose_from_drawer
from ..design.lamp.resistor import Choice, choose_resistor
from ..design.pair.brightness import even_out
from ..design.pair.pair import with_series_diodes
from ..design.pair.two_lead_pair import TwoLeadPair
from ..errors import SigcalcError
from ..parts.drive import Drive, ResistorDrive
from ..parts.led import Led
from ..parts.resistor import nearest
from ..units import Q
from .drive_spec import RESISTOR, DriveSpec
from .driver import Driver, driver_of
from .model import PlanFields

LAMPS = ("red", "green")


@dataclass(frozen=True)
class Circuit:
    """The circuit of a plan: the shared drive, the pair with its extra resistors, and how each resistor came about.

    `combinations` holds, by place ("shared", "red", "green"), the resistors out of the
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


def _string(pair: TwoLeadPair, lamp: str) -> list[Led]:
    return list(pair.branch(lamp)[0])


def _choose(plan: PlanFields, pair: TwoLeadPair, lamp: str) -> Choice | Combination:
    """The choice for one lamp alone, or the best combination of the drawer; its refusal says which lamp."""
    wish = plan.drive
    try:
        supply, string = Q(plan.supply.corners()[1], "V"), _string(pair, lamp)
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
    return {place: choice for place, choice in choices.items() if isinstance(choice, Combination)}


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
