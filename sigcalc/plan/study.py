"""The study of a plan: every decision of the library asked once, and the answers put together."""

from __future__ import annotations

import dataclasses
import math

from ..design import brightness, contact_load, pair
from ..errors import SigcalcError
from ..parts.drive import ConstantCurrentDrive
from ..parts.finding import FINE, LOOK, STOP, Finding
from ..units import Q, say
from . import bench
from .circuit import LAMPS, Circuit, circuit_of
from .corners import lamp_figures, resistance_bands, supply_band
from .model import PlanFields
from .result import Band, Study

CONTACTS = {"hand switch": "small toggle switch with gold contacts", "relay": "signal relay"}


def study(plan: PlanFields) -> Study:
    """Study a plan; raises DesignError where there is no circuit to study (nothing would light)."""
    circuit = circuit_of(plan)
    figures = {"supply": supply_band(circuit)} | resistance_bands(circuit)
    for lamp in LAMPS:
        figures |= lamp_figures(circuit, lamp)
    both = pair.study_pair(supply=Q(plan.supply.corners()[1], "V"), drive=circuit.drive, pair=circuit.pair)
    for lamp in LAMPS:
        figures[f"{lamp}_reverse"] = _reverse(figures, lamp)
    findings = [*_limits(circuit, figures), *pair.findings(both), *_evenness(circuit, figures)]
    findings += [*_current_wish(circuit, figures), *_contacts(circuit, figures), *bench.fit_findings(plan)]
    return Study(
        plan=plan,
        pair=circuit.pair,
        points={"red": both.red, "green": both.green},
        figures={key: band for key, band in figures.items() if band.most > 0},
        findings=tuple(sorted(findings, key=lambda each: [STOP, LOOK, FINE].index(each.grade))),
        parts=bench.parts(circuit, figures),
        cuts=bench.cuts(plan),
        drills=bench.holes(plan),
        steps=bench.steps(circuit),
        readings=bench.readings(figures),
        assumptions=_assumptions(circuit),
    )


def _reverse(figures: dict[str, Band], lit: str) -> Band:
    """What the other lamp's branch sees in reverse while `lit` is on."""
    dark = "green" if lit == "red" else "red"
    return dataclasses.replace(figures[f"{lit}_pair_voltage"], label=f"{lit} lit: reverse voltage on the {dark} branch")


def _limits(circuit: Circuit, figures: dict[str, Band]) -> list[Finding]:
    """The worst corner of each lamp's current against its rating and the builder's own ceiling."""
    found = []
    ceiling = circuit.plan.limits.max_current.m_as("A")
    for lamp in LAMPS:
        led, band = getattr(circuit.pair, lamp), figures[f"{lamp}_current"]
        if band.most > led.si.max_current:
            stands = say(led.si.max_current, "A")
            reason = f"In the worst corner {say(band.most, 'A')} flows, and the {led.name} stands {stands}."
            found.append(Finding(STOP, f"{lamp} lamp, worst case", reason, "Use the next larger resistor."))
        elif band.most > ceiling:
            reason = f"In the worst corner {say(band.most, 'A')} flows, above your own ceiling of {say(ceiling, 'A')}."
            found.append(
                Finding(LOOK, f"{lamp} lamp, worst case", reason, "Use the next larger resistor, or raise the ceiling.")
            )
        spread = band.most / band.least if band.least > 0 else math.inf
        if spread > 2:
            reason = (
                f"The current may lie anywhere from {say(band.least, 'A')} to {say(band.most, 'A')}: "
                "the supply leaves little headroom."
            )
            found.append(
                Finding(
                    LOOK,
                    f"{lamp} lamp, headroom",
                    reason,
                    "Use a higher supply voltage, or measure your LEDs and give the readings.",
                )
            )
    return found


def _evenness(circuit: Circuit, figures: dict[str, Band]) -> list[Finding]:
    currents = {f"{lamp}_current": Q(figures[f"{lamp}_current"].nominal, "A") for lamp in LAMPS}
    try:
        compared = brightness.compare_brightness(red=circuit.pair.red, green=circuit.pair.green, **currents)
    except SigcalcError as refusal:
        return [
            Finding(
                LOOK, "brightness", f"Not compared: {refusal}.", "Compare both lamps on the bench before soldering."
            )
        ]
    return brightness.findings(compared, circuit.plan.limits.unevenness)


def _current_wish(circuit: Circuit, figures: dict[str, Band]) -> list[Finding]:
    """Whether a lamp gets much less than was wished."""
    wish = circuit.plan.drive.current.m_as("A")
    found = []
    for lamp in LAMPS:
        nominal = figures[f"{lamp}_current"].nominal
        if isinstance(circuit.drive, ConstantCurrentDrive) and nominal < wish * (1 - 1e-6):
            reason = (
                f"The driver drops out: the {lamp} lamp gets {say(nominal, 'A')} of the {say(wish, 'A')} it is set to."
            )
            found.append(Finding(LOOK, f"{lamp} lamp, driver", reason, "Use a higher supply voltage."))
        elif nominal > wish * (1 + 1e-6):
            reason = f"It gets {say(nominal, 'A')}, more than the {say(wish, 'A')} you wish for."
            found.append(
                Finding(LOOK, f"{lamp} lamp, wish", reason, "Use a larger resistor, or let the library choose it.")
            )
    return found


def _contacts(circuit: Circuit, figures: dict[str, Band]) -> list[Finding]:
    """Whether the reversing contacts bear, and are kept clean by, the smaller of both currents."""
    least = min(figures[f"{lamp}_current"].nominal for lamp in LAMPS)
    volts = Q(circuit.plan.supply.corners()[1], "V")
    contact = CONTACTS[circuit.plan.wiring.reversing]
    return list(contact_load.findings(contact_load.contact_load(contact=contact, current=Q(least, "A"), voltage=volts)))


def _assumptions(circuit: Circuit) -> tuple[str, ...]:
    plan = circuit.plan
    said = [
        *circuit.story,
        "Junctions at the temperature of the LED's figures.",
        f"Air around the resistors at {say(plan.limits.ambient.m_as('K'), 'K')}.",
        "Bands span every combination of supply, resistor and LED spread; tables are typical, not guaranteed.",
        "Light is taken as proportional to current.",
        "Reverse breakdown of an LED is not modelled.",
    ]
    for lamp in LAMPS:
        fit = getattr(circuit.pair, lamp).model.fit
        if fit is not None and fit.assumption:
            said.append(f"{lamp} LED: {fit.assumption}.")
        if fit is not None and fit.poor:
            said.append(
                f"{lamp} LED: the readings fit a diode's curve poorly ({say(fit.si.residual, 'V')}); take them again."
            )
    if plan.supply.kind == "battery":
        said.append("The battery is fresh; the light fades as it empties.")
    return tuple(said)
