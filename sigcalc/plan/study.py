"""The study of a plan: every decision of the library asked once, and the answers put together."""

from __future__ import annotations

import dataclasses

from ..design.findings import gravest_first
from ..design.pair import pair
from ..design.pair.two_lead_pair import PairPoint
from ..errors import DesignError
from ..parts.led import Exponential
from ..units import Q, say
from . import bench
from .bench_readings import bench_test
from .bench_signal import bench_signal
from .circuit import LAMPS, Circuit, circuit_of
from .corners import lamp_figures, resistance_bands, supply_band
from .evening import study_evening
from .lamps import OWN_TEMPERATURE
from .model import PlanFields
from .result import Band, BenchTest, Study, TriggerStudy
from .trigger import study_trigger
from .verdicts import verdicts


def study(plan: PlanFields, shared_supply: bool = False) -> Study:
    """Study a plan, alone on its supply or not; raises DesignError where there is no circuit (nothing would light)."""
    circuit = circuit_of(plan)
    figures = {"supply": supply_band(circuit)} | resistance_bands(circuit)
    for lamp in LAMPS:
        figures |= lamp_figures(circuit, lamp)
    for lamp in LAMPS:
        figures[f"{lamp}_reverse"] = _reverse(figures, lamp)
    points = {lamp: _point(circuit, lamp, figures) for lamp in LAMPS}
    findings = [*pair.findings(pair.PairStudy(**points)), *verdicts(circuit, figures), *bench.fit_findings(plan)]
    evening = None if plan.evening is None else study_evening(circuit, plan.evening, figures, shared_supply)
    trigger = None if plan.trigger is None else study_trigger(plan, plan.trigger)
    test, no_test = _bench_test(circuit, trigger)
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
        bench_test=test,
        assumptions=tuple(said),
        evening=evening,
        trigger=trigger,
        no_bench_test=no_test,
    )


def _bench_test(circuit: Circuit, trigger: TriggerStudy | None) -> tuple[BenchTest | None, str]:
    """The readings, with the pot where the wished hold needs it, if it can; else the sentence why there are none."""
    turn = None if trigger is None else trigger.figures.get("pot_turn")
    try:
        signal = bench_signal(circuit, None if turn is None else turn.nominal)
    except DesignError as refusal:
        return None, f"There are no test readings: {refusal}."
    return bench_test(circuit, signal, resistance_bands(circuit)), ""


def _shown(figures: list[dict[str, Band]]) -> dict[str, Band]:
    """All figures together, without those that are nought."""
    return {key: band for each in figures for key, band in each.items() if band.most > 0}


def _point(circuit: Circuit, lamp: str, figures: dict[str, Band]) -> PairPoint:
    """The nominal operating point, at the voltage that the supply's own resistance leaves at its terminals."""
    source = circuit.plan.supply.source()
    ohms = 0.0 if source is None else source.corners[1][1]
    volts = figures["supply"].nominal - figures[f"{lamp}_current"].nominal * ohms
    return circuit.pair.operate(Q(max(volts, 0.0), "V"), circuit.drive, +1 if lamp == "red" else -1)


def _reverse(figures: dict[str, Band], lit: str) -> Band:
    """What the other lamp's branch sees in reverse while `lit` is on."""
    dark = "green" if lit == "red" else "red"
    return dataclasses.replace(figures[f"{lit}_pair_voltage"], label=f"{lit} lit: reverse voltage on the {dark} branch")


def _assumptions(circuit: Circuit) -> tuple[str, ...]:
    plan = circuit.plan
    air = say(plan.limits.ambient.m_as("K"), "K")
    said = [
        *circuit.story,
        f"Supply voltage: its band is {plan.supply.hangs_on}.",
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
        said.append(f"{lamp} LED: {say(led.si.max_reverse_voltage, 'V')} taken as the most it stands in reverse.")
    if wish.part is None and wish.drop_below is None and wish.drop_above is None:
        said.append(
            f"{lamp} LED: no spread of its drop is given; the points are taken to be this very part's. "
            f"Points and meter tell its drop to within {say(led.si.drop_above, 'V')}."
        )
    return said
