"""The study of a plan: every decision of the library asked once, and the answers put together."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable

from ..design.findings import LOOK, STOP, Finding, check_rating, gravest_first
from ..design.pair import brightness, wiring
from ..design.pair.two_lead_pair import PairPoint, PairStudy
from ..design.power.drive_choice import minimum_load
from ..errors import DesignError, SigcalcError
from ..parts.drive import ConstantCurrentDrive
from ..parts.led import Exponential, Led
from ..units import Q, say
from . import bench
from .bench_readings import bench_signal, bench_test
from .circuit import LAMPS, Circuit, circuit_of, lamp_figures, resistance_figures, supply_figure
from .circuit_fields import OWN_TEMPERATURE
from .evening import study_evening
from .model import PlanFields
from .result import BenchTest, Figure, Study, TriggerStudy
from .trigger import study_trigger


def study(plan: PlanFields, shared_supply: bool = False) -> Study:
    """Study a plan, alone on its supply or not; raises DesignError where there is no circuit (nothing would light)."""
    circuit = circuit_of(plan)
    figures = {"supply": supply_figure(circuit)} | resistance_figures(circuit)
    for lamp in LAMPS:
        figures |= lamp_figures(circuit, lamp)
    for lamp, dark in zip(LAMPS, LAMPS[::-1], strict=True):  # what the other lamp's branch sees
        label = f"{lamp} lit: reverse voltage on the {dark} branch"
        figures[f"{lamp}_reverse"] = dataclasses.replace(figures[f"{lamp}_pair_voltage"], label=label)
    points = {lamp: _point(circuit, lamp, figures) for lamp in LAMPS}
    findings = [*PairStudy(**points).findings, *verdicts(circuit, figures), *bench.fit_findings(plan)]
    evening = None if plan.evening is None else study_evening(circuit, plan.evening, figures, shared_supply)
    trigger = None if plan.trigger is None else study_trigger(plan, plan.trigger)
    test_of, no_test = _bench_test(circuit, trigger)
    more = [each for each in (evening, trigger) if each is not None]
    findings += [finding for each in more for finding in each.findings]
    said = [*_assumptions(circuit), *([no_test] if no_test else [])]
    said += [sentence for each in more for sentence in each.assumptions]
    return Study(
        plan=plan,
        pair=circuit.pair,
        points=points,
        figures=_shown([figures, *(each.figures for each in more)]),
        findings=gravest_first(findings),
        parts=(*bench.parts(circuit, figures), *(() if trigger is None else trigger.parts)),
        cuts=bench.cuts(plan),
        drills=bench.holes(plan),
        steps=bench.steps(circuit),
        test_of=test_of,
        assumptions=tuple(said),
        evening=evening,
        trigger=trigger,
        no_bench_test=no_test,
        made_of=dict(circuit.combinations),
    )


def _bench_test(circuit: Circuit, trigger: TriggerStudy | None) -> tuple[Callable[[str], BenchTest] | None, str]:
    """What works the readings out, for a signal's name; or the sentence why there are none.

    With the pot where the hold that is asked for needs it, if it can be set so.
    """
    turn = None if trigger is None else trigger.figures.get("pot_turn")
    try:
        signal = bench_signal(circuit, None if turn is None else turn.nominal)
    except DesignError as refusal:
        return None, f"There are no test readings: {refusal}."

    def test_of(name: str) -> BenchTest:
        named = dataclasses.replace(signal, circuit=dataclasses.replace(signal.circuit, name=name))
        return bench_test(circuit, named, resistance_figures(circuit))

    return test_of, ""


def _shown(figures: list[dict[str, Figure]]) -> dict[str, Figure]:
    """All figures together, without those that are zero."""
    return {key: band for each in figures for key, band in each.items() if band.most > 0}


def _point(circuit: Circuit, lamp: str, figures: dict[str, Figure]) -> PairPoint:
    """The nominal operating point, at the voltage that the supply's own resistance leaves at its terminals."""
    source = circuit.plan.supply.source()
    ohms = 0.0 if source is None else source.corners[1][1]
    volts = figures["supply"].nominal - figures[f"{lamp}_current"].nominal * ohms
    return circuit.pair.operate(Q(max(volts, 0.0), "V"), circuit.drive, +1 if lamp == "red" else -1)


def _assumptions(circuit: Circuit) -> tuple[str, ...]:
    plan = circuit.plan
    air = say(plan.limits.ambient.m_as("K"), "K")
    said = [
        *circuit.story,
        f"Supply voltage: its band is {plan.supply.depends_on}.",
        "Bands span all combinations of supply, resistor and LED spread; tables are typical, not guaranteed.",
        f"LEDs at {OWN_TEMPERATURE.replace('degC', '°C')}, as their figures hold; air at {air} at most.",
        "Light is taken as proportional to current. Reverse breakdown of an LED is not modelled.",
    ]
    for lamp in LAMPS:
        said += _fit_said(lamp, getattr(circuit.pair, lamp).model) + _own_said(circuit, lamp)
    if plan.supply.kind == "battery" and plan.evening is None:
        said.append("The battery is fresh; the light fades as it empties.")
    return tuple(said)


def _fit_said(lamp: str, model: Exponential) -> list[str]:
    """How well the LED's curve is known."""
    fit, said = model.fit, []
    if fit.assumption:
        said.append(f"{lamp} LED: {fit.assumption}.")
    if fit.residual is not None:
        said.append(f"{lamp} LED: the {fit.points} readings lie within {say(fit.si.residual, 'V')} of the curve (rms).")
    if fit.poor:
        said.append(f"{lamp} LED: the readings fit a diode's curve poorly; take them again.")
    return said


def _own_said(circuit: Circuit, lamp: str) -> list[str]:
    """What is taken for granted where a builder's own data leave it open."""
    wish, led, said = getattr(circuit.plan, lamp), getattr(circuit.pair, lamp), []
    if wish.part is None and wish.max_reverse_voltage is None:
        said.append(f"{lamp} LED: {say(led.si.max_reverse_voltage, 'V')} taken as its limit in reverse.")
    if wish.part is None and wish.drop_below is None and wish.drop_above is None:
        said.append(
            f"{lamp} LED: no spread of its drop is given; the points are taken to be this very part's. "
            f"Points and meter tell its drop to within {say(led.si.drop_above, 'V')}."
        )
    return said


CONTACTS = {"hand switch": "small toggle switch with gold contacts", "relay": "signal relay"}
_UNSURE = 2.0  # times the least: a lamp so uncertain would look different from one signal to the next

_AT_WORST = "With every tolerance at its worst"

Figures = dict[str, Figure]


def verdicts(circuit: Circuit, figures: Figures) -> list[Finding]:
    """All of them, for both lamps."""
    found: list[Finding] = []
    for lamp in LAMPS:
        found += [*_colour(circuit, lamp), *_current(circuit, figures, lamp), *_heat(circuit, figures, lamp)]
        found += [*_reverse(circuit, figures, lamp), *_wish(circuit, figures, lamp)]
    return [*found, *_driver(circuit, figures), *_evenness(circuit, figures), *_contacts(circuit, figures)]


def _colour(circuit: Circuit, lamp: str) -> list[Finding]:
    led: Led = getattr(circuit.pair, lamp)
    if led.colour == lamp:
        return []
    reason = f"The LED for the {lamp} lamp, {led.name}, is {led.colour}."
    return [Finding(LOOK, f"{lamp} lamp, colour", reason, f"Choose a {lamp} LED.")]


def _less(circuit: Circuit) -> str:
    """What makes the current smaller."""
    if isinstance(circuit.drive, ConstantCurrentDrive):
        return "Choose a driver for less current."
    return "Use the next larger resistor."


def _current(circuit: Circuit, figures: Figures, lamp: str) -> list[Finding]:
    """A lamp's current, with every tolerance at its worst, against its rating and the builder's own ceiling."""
    led, band, less = getattr(circuit.pair, lamp), figures[f"{lamp}_current"], _less(circuit)
    ceiling, what = circuit.plan.limits.max_current.m_as("A"), f"the current through the {led.name}"
    topic = f"{lamp} lamp, worst case"
    found = _only_at_worst(what, band, led.si.max_current, less, "A", topic)
    if not found and ceiling < band.most <= led.si.max_current:
        reason = f"{_AT_WORST}, {what} is up to {say(band.most, 'A')}; your own ceiling is {say(ceiling, 'A')}."
        found.append(Finding(LOOK, topic, reason, f"{less} Or raise the ceiling."))
    if band.most > _UNSURE * band.least:
        reason = f"The current may be anywhere from {say(band.least, 'A')} to {say(band.most, 'A')}."
        remedy = (
            "Use a supply of a higher or closer voltage, a resistor of closer tolerance, "
            "or measure your LEDs and give the readings."
        )
        found.append(Finding(LOOK, f"{lamp} lamp, headroom", reason, remedy))
    return found


def _only_at_worst(what: str, band: Figure, limit: float, remedy: str, unit: str, topic: str) -> list[Finding]:
    """A figure that passes its limit only with every tolerance at its worst; else it is found elsewhere."""
    if not band.nominal <= limit < band.most:
        return []
    return [check_rating(f"{_AT_WORST}, {what}", band.most, limit, remedy, unit=unit, topic=topic)]


def _heat(circuit: Circuit, figures: Figures, lamp: str) -> list[Finding]:
    """What the LED may carry and its junction's temperature in the warmest air, and its power at worst."""
    led, band, less = getattr(circuit.pair, lamp), figures[f"{lamp}_led_power"], _less(circuit)
    air, cooler = circuit.plan.limits.ambient.m_as("K"), f"{less} Or keep it cooler."
    found, warm = [], f"In air at {say(air, 'K')} the"
    allowed, most = led.max_current_in(air), figures[f"{lamp}_current"].most
    if allowed < most <= led.si.max_current:
        what, topic = f"{warm} current through the {led.name}", f"{lamp} lamp, warm air"
        usual = f"{say(led.si.max_current, 'A')} in cooler air"
        found.append(check_rating(what, most, allowed, cooler, unit="A", topic=topic, source=usual))
    if led.max_power is not None:
        heat = f"the heat in the {led.name}"
        found += _only_at_worst(heat, band, led.si.max_power, less, "W", f"{lamp} lamp, heat")
    if led.thermal_resistance is not None and led.max_junction_temperature is not None:
        hottest, limit = air + band.most * led.si.thermal_resistance, led.si.max_junction_temperature
        if hottest > limit:
            what, topic = f"{warm} temperature inside the {led.name}", f"{lamp} lamp, temperature"
            found.append(check_rating(what, hottest, limit, cooler, unit="K", topic=topic))
    return found


def _reverse(circuit: Circuit, figures: Figures, lit: str) -> list[Finding]:
    """The reverse voltage on the dark lamp's branch with every tolerance at its worst."""
    dark = "green" if lit == "red" else "red"
    part: Led = circuit.pair.series_diode or getattr(circuit.pair, dark)
    remedy = "Share one resistor between both lamps, or put a plain diode in series with each LED."
    what = f"the reverse voltage on the {part.name}, while {lit} is lit,"
    topic = f"dark {dark} lamp, worst case"
    return _only_at_worst(what, figures[f"{lit}_reverse"], part.si.max_reverse_voltage, remedy, "V", topic)


def _wish(circuit: Circuit, figures: Figures, lamp: str) -> list[Finding]:
    """Whether a lamp gets less than its driver is set to, or more than was wished."""
    wish = circuit.plan.drive.current.m_as("A")
    nominal, limit = figures[f"{lamp}_current"].nominal, circuit.drive.limit
    if isinstance(circuit.drive, ConstantCurrentDrive) and nominal < limit * (1 - 1e-6):
        reason = f"The driver drops out: the lamp gets {say(nominal, 'A')} of the {say(limit, 'A')} it is set to."
        return [Finding(LOOK, f"{lamp} lamp, driver", reason, "Use a higher supply voltage.")]
    if nominal <= wish * (1 + 1e-6):
        return []
    reason = f"It gets {say(nominal, 'A')}, more than the {say(wish, 'A')} you want."
    remedy = "Use a larger resistor, or let the library choose it."
    if circuit.driver is not None and not circuit.driver.setting:
        remedy = "Use a driver for less current."
    return [Finding(LOOK, f"{lamp} lamp, wish", reason, remedy)]


def _driver(circuit: Circuit, figures: Figures) -> list[Finding]:
    """Whether the driver can hold so small a current at all, and is rated for the voltage left to it."""
    drive = circuit.drive
    if not isinstance(drive, ConstantCurrentDrive):
        return []
    found = list(minimum_load(drive, "driver, minimum load"))
    across = max(figures[f"{lamp}_drive_voltage"].most for lamp in LAMPS)
    if drive.max_voltage is not None and across > drive.si.max_voltage:
        remedy, what = "Use a lower supply voltage or another driver.", "The voltage across the driver"
        found.append(check_rating(what, across, drive.si.max_voltage, remedy, unit="V", topic="driver, voltage"))
    return found


def _evenness(circuit: Circuit, figures: Figures) -> list[Finding]:
    currents = {f"{lamp}_current": Q(figures[f"{lamp}_current"].nominal, "A") for lamp in LAMPS}
    try:
        compared = brightness.compare_brightness(red=circuit.pair.red, green=circuit.pair.green, **currents)
    except SigcalcError as refusal:
        reason, remedy = f"Not compared: {refusal}.", "Compare both lamps on the bench before soldering."
        return [Finding(LOOK, "brightness", reason, remedy)]
    held = isinstance(circuit.drive, ConstantCurrentDrive)
    return list(compared.judged(circuit.plan.limits.unevenness, held=held))


def _contacts(circuit: Circuit, figures: Figures) -> list[Finding]:
    """Whether the reversing contacts are rated for the smaller of both currents, and kept clean by it."""
    least = min(figures[f"{lamp}_current"].nominal for lamp in LAMPS)
    volts = Q(circuit.plan.supply.corners()[1], "V")
    contact = CONTACTS[circuit.plan.wiring.reversing]
    try:
        load = wiring.contact_load(contact=contact, current=Q(least, "A"), voltage=volts)
    except SigcalcError as refusal:
        return [Finding(STOP, "contacts", f"Not checked: {refusal}.", "Put the current right first.")]
    return list(load.findings)
