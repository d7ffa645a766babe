"""What an evening asks of a plan's supply: the battery's run or the adapter's load, and the relay's coil on it."""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass, field
from typing import Any

from ..design.findings import FINE, HEAT, LOOK, STOP, Finding
from ..design.power.adapter import adapter_voltage
from ..design.power.cost import evenings, yearly_energy
from ..design.power.load import Load
from ..design.power.relay_coil import coil_on
from ..design.power.run_time import RunTime, run_time
from ..design.tolerance import Band
from ..errors import SigcalcError
from ..parts.relay import relays
from ..parts.source import Adapter, Battery
from ..parts.timer import timer_output, timers
from ..units import Q, say
from .circuit import LAMPS, Circuit
from .circuit_fields import Supply
from .model import PlanFields, where_in_plan
from .result import COUNTED, EveningStudy, Figure, sentence
from .signal_fields import Evening

_LOAD = "adapter, "


@dataclass
class _Gathered:
    figures: dict[str, Figure] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    said: list[str] = field(default_factory=list)
    run: RunTime | None = None


def load_of(circuit: Circuit) -> Load:
    """The signal as its supply sees it over an evening; without one in the plan, red and no relay."""
    plan = circuit.plan
    evening, relay = plan.evening, plan.relay
    load = Load(circuit.drive, circuit.pair, **coil_drops(plan))
    if evening is None:
        return load if relay is None else dataclasses.replace(load, relay=relays[relay], energised=1.0)
    fed = evening.red_share if evening.coil_fed == "for red" else 1.0 - evening.red_share
    return dataclasses.replace(
        load,
        standby=evening.standby,
        red_share=evening.red_share,
        relay=None if relay is None else relays[relay],
        energised=fed,
        timer_voltage=evening.timer_voltage,
    )


def study_evening(circuit: Circuit, evening: Evening, known: dict[str, Figure], shared: bool = False) -> EveningStudy:
    """The evening of a circuit whose figures are known.

    On a supply that is `shared` with other signals nothing is said of battery or adapter: this signal's part of it
    would read as the whole.
    """
    got, source = _Gathered(), circuit.plan.supply.fed_from()
    if shared:
        pass
    elif isinstance(source, Battery):
        _run(got, circuit, evening, source)
    elif isinstance(source, Adapter):
        _load(got, circuit, evening, source, known)
    else:
        got.findings.append(_unknown(circuit.plan.supply))
    if circuit.plan.trigger is None:  # else the coil is studied with the timer that switches it
        figures, findings = study_coil(circuit.plan)
        got.figures |= figures
        got.findings += findings
    return EveningStudy(
        figures=got.figures,
        findings=tuple(got.findings),
        assumptions=tuple(got.said),
        run=got.run,
    )


def _unknown(supply: Supply) -> Finding:
    if supply.kind == "battery":
        reason = "How long it lasts is not known of a battery that is given by its voltage."
        return Finding(LOOK, "run time", reason, "Name the nearest battery of the table, and its printed capacity.")
    reason = "What it may be asked for is not known of an adapter that is given by its voltage alone."
    return Finding(LOOK, f"{_LOAD}load", reason, "Give max_current as printed on it.")


def _run(got: _Gathered, circuit: Circuit, evening: Evening, battery: Battery) -> None:
    """The battery's run, and how many evenings it makes."""
    try:
        until = Q(evening.until)
        run = run_time(battery, load_of(circuit), until.m_as("") if until.dimensionless else until)
        nights = evenings(run, evening.hours, evening.every)
    except SigcalcError as refusal:
        got.findings.append(Finding(STOP, "run time", sentence(refusal)))
        return
    si, spread = run.si, "the spread of battery, drive and LEDs"
    got.run = run
    got.figures["run_time"] = Figure(si.hours_min, si.hours, si.hours_max, "s", f"run until {run.end}", spread)
    counts = (nights.count_min, nights.count, nights.count_max)
    got.figures["evenings"] = Figure(*counts, COUNTED, f"evenings of {say(evening.hours.m_as('s'), 's')}", spread)
    got.findings += [*run.findings_for(evening.hours), *nights.findings]
    got.said.append(f"The run ends when {run.until}, or when relay or timer fail before; it began with a new battery.")
    for what, charge in (("lamp", si.lamp_charge), ("standby", si.standby_charge), ("coil", si.coil_charge)):
        if charge > 0:
            label = f"charge for the {what}, whole run"
            got.figures[f"{what}_charge"] = Figure.of(label, Band.exactly(charge, "Ah"), "the nominal run")


def _load(got: _Gathered, circuit: Circuit, evening: Evening, source: Adapter, figures: dict[str, Figure]) -> None:
    """The most that the adapter has to give, and what it takes from the mains in a year."""
    lamps = [getattr(figures[f"{lamp}_current"], end) for lamp in LAMPS for end in ("least", "nominal", "most")]
    load = load_of(circuit)
    coil = 0.0
    if load.relay is not None and not load.relay.latching:
        coil = coil_on(load.relay, source).si.current_max
    beside = coil + load.si.standby + float(load.drive.own_current)
    least, nominal, most = (pick(lamps[place::3]) + beside for place, pick in enumerate((min, max, max)))
    got.figures["adapter_load"] = Figure(least, nominal, most, "A", "load of the adapter", "lamp, standby and coil")
    try:
        at = adapter_voltage(source, Q(most, "A"))
    except SigcalcError as refusal:
        got.findings.append(Finding(STOP, f"{_LOAD}load", sentence(refusal), risk=HEAT))
        return
    got.findings += [Finding(each.grade, _LOAD + each.topic, each.reason, each.remedy) for each in at.findings]
    _energy(got, evening, source, nominal)


def _energy(got: _Gathered, evening: Evening, source: Adapter, amperes: float) -> None:
    energy = yearly_energy(source, Q(amperes, "A"), evening.hours, evening.every)
    lit, idle = (each.m_as("kWh") for each in (energy.lit, energy.idle))
    reason = (
        f"In a year it takes about {lit + idle:.2g} kWh from the mains, {idle:.2g} kWh of that while nothing is lit, "
        "if it stays plugged in."
    )
    got.findings.append(Finding(FINE, f"{_LOAD}energy", reason))
    got.said.append("The adapter's own losses are the most that level VI (10 CFR 430.32) lets a new one have.")


_TOPIC = "relay coil"


def study_coil(plan: PlanFields) -> tuple[dict[str, Figure], list[Finding]]:
    """Figures and findings of the coil; none where the signal has no relay."""
    if plan.relay is None:
        if plan.wiring.reversing != "relay":
            return {}, [] if plan.trigger is None else [_by_hand()]
        reason = "The wiring asks for a relay, and none is named: its coil is not counted."
        places = " or ".join(map(where_in_plan, ("evening", "trigger")))
        return {}, [Finding(LOOK, _TOPIC, reason, f"Name the relay under {places}.")]
    try:
        drops = coil_drops(plan)
        coil = coil_on(plan.relay, plan.supply.record(), **drops)
    except SigcalcError as refusal:
        return {}, [Finding(STOP, _TOPIC, sentence(refusal), "Use a higher supply voltage.")]
    si, depends_on = coil.si, "supply and coil"
    figures = {
        "coil_voltage": Figure(si.voltage_min, si.voltage, si.voltage_max, "V", "across the relay's coil", depends_on),
        "coil_current": Figure(si.current_min, si.current, si.current_max, "A", "relay's coil", depends_on),
    }
    return figures, list(coil.findings)


def _by_hand() -> Finding:
    reason = "A train is to set the signal, but the wiring has a hand switch to turn the current round."
    remedy = f"Choose relay for reversing under {where_in_plan('wiring')}, and name it."
    return Finding(STOP, "reversing", reason, remedy)


def coil_drops(plan: PlanFields) -> dict[str, Any]:
    """The voltage lost in the timer's output, or the transistor behind it, while it feeds the coil; {} without one."""
    if plan.trigger is None:
        return {}
    keeps = timer_output(timers[plan.trigger.timer], plan.coil_fed_for).keeps
    return {f"coil_drop{end}": Q(each, "V") for end, each in zip(("_min", "", "_max"), keeps, strict=True)}
