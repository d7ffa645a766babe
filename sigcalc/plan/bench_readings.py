"""A plan's signal as it lies on the bench: what the meter should read, and what to look at where it reads otherwise."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from dataclasses import dataclass

from ..design.bench.circuit import LAMPS, BenchCircuit
from ..design.bench.diagnosis import diagnose
from ..design.bench.expected import ExpectedReadings, ReadingBand, expected_readings
from ..design.bench.predictions import FaultView, FirstSign, fault_views, first_signs
from ..design.bench.reading import MeasuringPoint
from ..parts.meter import OHMS, Meter, meters
from ..parts.relay import relays
from ..parts.wire import wires
from ..units import say
from .circuit import Circuit
from .circuit_fields import Supply
from .model import PlanFields
from .result import BenchTest, Figure, Reading


@dataclass(frozen=True)
class BenchSignal:
    """The circuit, and in `notes` what had to be left out or taken for granted."""

    circuit: BenchCircuit
    notes: tuple[str, ...]


def bench_signal(circuit: Circuit, pot_turn: float | None = None) -> BenchSignal:
    """The signal that a plan's circuit makes, its pot at a turn from 0 to 1.

    Without a turn the timer is left out, and without a named relay both: that is said in the notes.
    """
    plan = circuit.plan
    wire, mast = wires[plan.wire.part], plan.mast.height
    relay, reasons = _relay(plan)
    timed = relay is not None and plan.trigger is not None and pot_turn is not None
    if plan.trigger is not None and not timed:
        reasons.append(
            "The readings of timer and reed are left out: they need a named relay, and a pot that can be set to the "
            "on-time (see the findings)."
        )
    if timed:
        reasons.append(
            "The on-time's band is for a pot set by its scale alone; time it with a watch to get the on-time you want."
        )
    if relay is not None:
        reasons.append(_how_to_set(plan, timed, plan.coil_fed_for))
    notes = [*reasons, *_supply_notes(plan.supply)]
    made = BenchCircuit(
        source=plan.supply.record(),
        drive=circuit.drive,
        pair=circuit.pair,
        reversing="hand switch" if relay is None else "relay",
        wire_resistance=wire.resistance(plan.wire.distance + plan.wire.slack),
        mast_resistance=wire.resistance(mast),
        branch_tolerance=plan.drive.tolerance,
        relay=relay,
        timer=plan.trigger.circuit() if timed else None,
        pot_turn=pot_turn if timed else 0.5,
        fed_lamp=plan.coil_fed_for,
        name=plan.name,
    )
    return BenchSignal(made, tuple(notes))


def _relay(plan: PlanFields) -> tuple[str | None, list[str]]:
    """The relay that the readings count with, and why there is none where the plan wants one."""
    if plan.wiring.reversing != "relay":
        return None, []
    if plan.relay is None:
        return None, ["The coil's readings are left out, as the relay has no name yet; its contacts count as a switch."]
    if relays[plan.relay].latching:
        return None, ["A latching relay stays where it was put, so that its coil is not read; it counts as a switch."]
    return plan.relay, []


def _how_to_set(plan: PlanFields, timed: bool, fed_lamp: str) -> str:
    """How somebody with a meter sets a signal that no switch sets."""
    if timed:
        return (
            "To set it for red, roll the train's magnet over the reed and leave it where the reed closes: the signal "
            "then stays as long as you measure. To set it for green, take the magnet away and wait until the on-time "
            "is over."
        )
    rests = "green" if fed_lamp == "red" else "red"
    volts = say(relays[plan.relay].si.rated_voltage, "V")
    return f"To set it for {fed_lamp}, feed the relay's coil (made for {volts}); to set it for {rests}, take that off."


def _supply_notes(supply: Supply) -> list[str]:
    if supply.source() is not None:
        return []
    volts = say(supply.corners()[1], "V")
    return [f"Of the supply only its {volts} are known: it counts as one that holds them whatever it feeds."]


_DRAWS = 400  # samples of each fault: enough for a sheet, which shows no probability
_OFTEN = 0.2  # a look that a smaller share of a fault's samples shows is left out of the page
_GLARING = 2.5  # times the usual current: eye, finger or nose notice; common practice, no source
BEFORE = f"{OHMS}, before soldering"


@dataclass(frozen=True)
class WrongLook:
    """What is seen in both positions where it is not right, the faults that look so, and what to measure first."""

    seen: dict[str, str]
    faults: tuple[str, ...]
    measure: MeasuringPoint | None


@dataclass(frozen=True)
class FaultTable:
    """From what is seen or read to what to look at.

    Attributes
    ----------
    right: what a sound signal shows, by position
    looks: what else may be seen, the commonest first; a fault is listed at every look that is not rare with it
    glaring: faults with which far too much current flows
    signs: by the name of a measuring point, what else it may read and which faults show there first
    hidden: faults that no reading shows for certain
    remedies: what to do about each fault, by its name
    """

    right: dict[str, str]
    looks: tuple[WrongLook, ...]
    glaring: tuple[str, ...]
    signs: dict[str, tuple[FirstSign, ...]]
    hidden: tuple[str, ...]
    remedies: dict[str, str]


def bench_test(circuit: Circuit, signal: BenchSignal, bands: dict[str, Figure]) -> BenchTest:
    """The readings of a plan's signal; `bands` are those of its resistors as bought."""
    meter = meters[circuit.plan.bench.meter]
    expected = expected_readings(signal.circuit, meter)
    return BenchTest(
        circuit=signal.circuit,
        meter=meter,
        before=tuple(_loose(band, meter) for band in bands.values()),
        readings=tuple(map(_reading, expected.readings)),
        cautions=expected.cautions,
        notes=signal.notes,
        assumptions=_assumptions(expected, meter),
    )


def _loose(band: Figure, meter: Meter) -> Reading:
    """A resistor's reading before it is soldered in, with the meter's own error."""
    least, most = (end + sign * float(meter.limit(OHMS, end)) for end, sign in ((band.least, -1), (band.most, +1)))
    widened = dataclasses.replace(band, least=max(least, 0.0), most=most)
    where, shown = f"across the {band.label}, nothing else joined to it", meter.shown_band(OHMS, widened.least, most)
    return Reading(band.label, where, BEFORE, widened, shown)


def _reading(each: ReadingBand) -> Reading:
    point = each.point
    depends_on = "parts' tolerances and the meter's error"
    band = Figure(each.least, each.nominal, each.most, each.unit, point.name, depends_on)
    return Reading(point.name, point.where, point.setting, band, each.text, point.position)


def _assumptions(expected: ExpectedReadings, meter: Meter) -> tuple[str, ...]:
    across = say(meter.si.input_resistance, "ohm")
    return (*expected.assumptions, f"Readings count the {across} that the {meter.name} puts across the circuit.")


def fault_table(test: BenchTest) -> FaultTable:
    """What else may be seen and read on a plan's signal, and what to look at then; takes some tenths of a second."""
    views = fault_views(test.circuit, test.meter, draws=_DRAWS)
    signs = first_signs(views)
    named = {fault for sign in signs for fault in sign.faults}
    return FaultTable(
        right=views[0].seen,
        looks=_wrong_looks(test, views),
        glaring=tuple(view.fault.name for view in views[1:] if _glares(view, views[0])),
        signs={name: tuple(each for each in signs if each.point.name == name) for name in views[0].readings},
        hidden=tuple(view.fault.name for view in views[1:] if view.fault.name not in named),
        remedies={view.fault.name: view.fault.remedy for view in views[1:]},
    )


def _wrong_looks(test: BenchTest, views: Sequence[FaultView]) -> tuple[WrongLook, ...]:
    """Faults by their looks, leaving out the one that is right; the commonest look first."""
    groups: dict[tuple[str, str], list[FaultView]] = {}
    right = tuple(views[0].seen[lamp] for lamp in LAMPS)
    for view in views[1:]:
        for look, share in view.looks.items():
            if look != right and share >= _OFTEN:
                groups.setdefault(look, []).append(view)

    def common(look: tuple[str, str]) -> float:
        return sum(each.fault.weight * each.looks[look] for each in groups[look])

    return tuple(_wrong_look(test, look, groups[look]) for look in sorted(groups, key=common, reverse=True))


def _glares(view: FaultView, sound: FaultView) -> bool:
    """Whether far more current than usual flows: a lamp glares or burns, or with both dark something gets hot."""
    if any(view.seen[lamp] == "none" for lamp in view.fault.burns):
        return True
    usual = {lamp: abs(sound.readings[f"current, {lamp}"].nominal) for lamp in LAMPS}
    for lamp in LAMPS:
        lit = [each for each in LAMPS if each in view.seen[lamp]] or LAMPS
        if abs(view.readings[f"current, {lamp}"].nominal) > _GLARING * max(usual[each] for each in lit):
            return True
    return False


def _wrong_look(test: BenchTest, look: tuple[str, str], group: list[FaultView]) -> WrongLook:
    seen = dict(zip(LAMPS, look, strict=True))
    told = diagnose(test.circuit, seen, meter=test.meter, pairs=False, draws=_DRAWS)
    faults = tuple(each.fault.name for each in sorted(group, key=lambda each: -each.fault.weight * each.looks[look]))
    return WrongLook(seen, faults, told.next[0].point if told.next else None)
