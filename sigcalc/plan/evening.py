"""What an evening asks of a plan's supply: the battery's run or the adapter's load, and the relay's coil on it."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable
from typing import Any

from ..design.findings import FINE, HEAT, LOOK, STOP, Finding
from ..design.power.adapter import adapter_voltage
from ..design.power.cost import evenings, yearly_energy
from ..design.power.load import Load
from ..design.power.relay_coil import coil_on
from ..design.power.run_time import run_time
from ..design.tolerance import Band
from ..parts.relay import relays
from ..parts.source import Adapter, Battery
from ..parts.timer import timer_output, timers
from ..units import Q, say
from .circuit import LAMPS, Circuit
from .circuit_fields import Supply
from .model import PlanFields, where_in_plan
from .result import COUNTED, EveningStudy, Figure, Told
from .signal_fields import Evening

_LOAD = "adapter, "


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
    told, source = EveningStudy(), circuit.plan.supply.source()
    if shared:
        pass
    elif isinstance(source, Battery):
        told.ask("run time", lambda: _run(told, circuit, evening, source))
    elif isinstance(source, Adapter):
        told.ask(f"{_LOAD}load", lambda: _load(told, circuit, evening, source, known), risk=HEAT)
    else:
        told.findings.append(_unknown(circuit.plan.supply))
    if circuit.plan.trigger is None:  # else the coil is studied with the timer that switches it
        tell_of_coil(told, circuit.plan)
    return told


def _unknown(supply: Supply) -> Finding:
    if supply.kind == "battery":
        reason = "How long it lasts is not known of a battery that is given by its voltage."
        return Finding(LOOK, "run time", reason, "Name the nearest battery of the table, and its printed capacity.")
    reason = "What it may be asked for is not known of an adapter that is given by its voltage alone."
    return Finding(LOOK, f"{_LOAD}load", reason, "Give max_current as printed on it.")


def _run(told: EveningStudy, circuit: Circuit, evening: Evening, battery: Battery) -> Iterable[Finding]:
    """The battery's run, and how many evenings it makes."""
    until = Q(evening.until)
    run = run_time(battery, load_of(circuit), until.m_as("") if until.dimensionless else until)
    nights = evenings(run, evening.hours, evening.every)
    si, spread, each = run.si, "the spread of battery, drive and LEDs", say(evening.hours.m_as("s"), "s")
    told.run = run
    told.figure("run_time", f"run until {run.end}", Band(si.hours_min, si.hours, si.hours_max, "s"), spread)
    counts = Band(nights.count_min, nights.count, nights.count_max, COUNTED)
    told.figure("evenings", f"evenings of {each}", counts, spread)
    told.assumptions.append(
        f"The run ends when {run.until}, or when relay or timer fail before; it began with a new battery."
    )
    for what, charge in (("lamp", si.lamp_charge), ("standby", si.standby_charge), ("coil", si.coil_charge)):
        if charge > 0:
            label = f"charge for the {what}, whole run"
            told.figure(f"{what}_charge", label, Band.exactly(charge, "Ah"), "the nominal run")
    return [*run.findings_for(evening.hours), *nights.findings]


def _load(
    told: EveningStudy, circuit: Circuit, evening: Evening, source: Adapter, figures: dict[str, Figure]
) -> Iterable[Finding]:
    """The most that the adapter has to give, and what it draws from the mains in a year."""
    load, coil = load_of(circuit), 0.0
    if load.relay is not None and not load.relay.latching:
        coil = coil_on(load.relay, source).current.most
    beside = coil + load.si.standby + float(load.drive.own_current)
    ends = zip(*(figures[f"{lamp}_current"] for lamp in LAMPS), strict=True)
    band = Band(*(pick(each) + beside for pick, each in zip((min, max, max), ends, strict=True)), "A")
    told.figure("adapter_load", "load of the adapter", band, "lamp, standby and coil")
    at = adapter_voltage(source, Q(band.most, "A"))
    told.assumptions.append("The adapter's own losses are the most that level VI (10 CFR 430.32) lets a new one have.")
    found = [dataclasses.replace(each, topic=_LOAD + each.topic) for each in at.findings]
    return [*found, _energy(evening, source, band.nominal)]


def _energy(evening: Evening, source: Adapter, amperes: float) -> Finding:
    energy = yearly_energy(source, Q(amperes, "A"), evening.hours, evening.every)
    lit, idle = (each.m_as("kWh") for each in (energy.lit, energy.idle))
    reason = (
        f"In a year it draws about {lit + idle:.2g} kWh from the mains, {idle:.2g} kWh of that while nothing is lit, "
        "if it stays plugged in."
    )
    return Finding(FINE, f"{_LOAD}energy", reason)


def tell_of_coil(told: Told, plan: PlanFields) -> None:
    """Add figures and findings of the coil; none where the signal has no relay."""
    if plan.relay is not None:
        told.ask("relay coil", lambda: _coil(told, plan), remedy="Use a higher supply voltage.")
    elif plan.wiring.reversing == "relay":
        reason = "The wiring asks for a relay, and none is named: its coil is not counted."
        places = " or ".join(map(where_in_plan, ("evening", "trigger")))
        told.findings.append(Finding(LOOK, "relay coil", reason, f"Name the relay under {places}."))
    elif plan.trigger is not None:
        reason = "A train is to set the signal, but the wiring has a hand switch to turn the current round."
        remedy = f"Choose relay for reversing under {where_in_plan('wiring')}, and name it."
        told.findings.append(Finding(STOP, "reversing", reason, remedy))


def _coil(told: Told, plan: PlanFields) -> Iterable[Finding]:
    coil = coil_on(plan.relay, plan.supply.record(), **coil_drops(plan))
    told.figure("coil_voltage", "across the relay's coil", coil.voltage, "supply and coil")
    told.figure("coil_current", "relay's coil", coil.current, "supply and coil")
    return coil.findings


def coil_drops(plan: PlanFields) -> dict[str, Any]:
    """The voltage lost in the timer's output, or the transistor behind it, while it feeds the coil; {} without one."""
    if plan.trigger is None:
        return {}
    lost = timer_output(timers[plan.trigger.timer], plan.coil_fed_for).keeps
    return {f"coil_drop{end}": Q(each, "V") for end, each in zip(("_min", "", "_max"), lost, strict=True)}
