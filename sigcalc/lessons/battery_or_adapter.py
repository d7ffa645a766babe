"""Exercises of the lesson "battery or adapter": hours with a relay, an unregulated adapter, the evening that pays."""

from __future__ import annotations

from dataclasses import replace

from ..design.power.adapter import adapter_voltage
from ..design.power.cost import break_even, yearly_energy
from ..parts.relay import relays
from ..parts.source import adapters, batteries
from ..physics.discharge import capacity_at
from ..units import Count, Q, SupplyVoltage, Time, kind_of, say
from .question import Question

BATTERY, RELAY, LAMP = "9 V alkaline", "9 V two-pole sensitive", 20e-3
ADAPTER, LOAD = "9 V unregulated", 0.1
ADAPTER_PRICE, BATTERY_PRICE, EVENINGS = 18.0, 6.0, 4
_HOUR = 3600.0


def hours_with_relay() -> Question:
    """Capacity over drain, the relay's coil included."""
    relay = relays[RELAY].si
    coil = relay.rated_voltage / relay.coil_resistance
    both = LAMP + coil
    drains, (_, charges, _) = batteries[BATTERY].capacity_band()
    charge = float(capacity_at(both, drains, charges))
    volts, ohms, lamp, drain = (
        say(each, unit)
        for each, unit in ((relay.rated_voltage, "V"), (relay.coil_resistance, "ohm"), (LAMP, "A"), (both, "A"))
    )
    held = say(charge / _HOUR, "Ah")
    return Question(
        text=f"A lamp draws {lamp}. Beside it the coil of a relay, {ohms}, is held on {volts} all the time. With both "
        f"on it, the battery gives {held}. How many hours is that?",
        kind=kind_of(Time),
        answer=charge / both,
        mistakes={
            charge / LAMP: "You left out the relay: its coil draws from the same battery.",
            charge / coil: "You left out the lamp.",
            2 * charge / both: "You took the mean of both currents. They flow at the same time: add them.",
            charge * both: "You multiplied. Ampere-hours divided by amperes leave hours.",
        },
        hint="First the coil's current by Ohm's law, then both currents together, then charge ÷ current.",
        working=f"{volts} ÷ {ohms} = {say(coil, 'A')}. {lamp} + {say(coil, 'A')} = {drain}, and {held} ÷ {drain} = "
        f"{say(charge / both, 's')}. The relay stops pulling in a little before that.",
        close=0.04,  # so that whole hours will do
    )


def unregulated_voltage() -> Question:
    """Between no load and full load an unregulated adapter's voltage follows a straight line."""
    si = adapters[ADAPTER].si
    open_voltage, share = si.no_load_voltage, LOAD / si.max_current
    falls = open_voltage - si.voltage
    given = adapter_voltage(adapters[ADAPTER], Q(LOAD, "A")).si.voltage
    printed, none, load = say(si.voltage, "V"), say(open_voltage, "V"), say(LOAD, "A")
    return Question(
        text=f"An unregulated adapter is marked {printed} {say(si.max_current, 'A')}. With nothing connected, your "
        f"meter reads {none}. About what does it give at {load}?",
        kind=kind_of(SupplyVoltage),
        answer=given,
        mistakes={
            si.voltage: "The printed voltage is there at the full printed current only.",
            open_voltage: "That is with nothing connected. With a load it gives a little less.",
            open_voltage * (1 - share): "At full load it does not fall to nothing, but to the printed voltage.",
            si.voltage + share * falls: "You went the right share of the way, but from the wrong end.",
        },
        hint="It falls in a straight line from no load to the printed point. Which share of the printed current do you "
        "draw?",
        working=f"{load} is {say(share, '')} of {say(si.max_current, 'A')}. From {none} to {printed} it falls by "
        f"{say(falls, 'V')}; less {say(share, '')} of that, {say(given, 'V')} are left.",
        close=0.015,
    )


def evening_that_pays() -> Question:
    """Break-even without energy, at invented prices."""
    energy = yearly_energy(adapters["9 V regulated"], Q(LAMP, "A"), "3 h")
    evening = break_even(energy, ADAPTER_PRICE, 0.0, BATTERY_PRICE, EVENINGS).evening
    each = BATTERY_PRICE / EVENINGS
    return Question(
        text=f"Suppose an adapter costs {ADAPTER_PRICE:g}, a battery costs {BATTERY_PRICE:g} and lasts {EVENINGS} "
        "evenings. Leave the mains energy out. After how many evenings have the batteries cost as much as the adapter?",
        kind=replace(kind_of(Count), example="30 evenings"),
        answer=evening,
        mistakes={
            ADAPTER_PRICE / BATTERY_PRICE: "That is how many batteries. Each of them lasts several evenings.",
            ADAPTER_PRICE / EVENINGS: "First find what one evening costs in batteries.",
            ADAPTER_PRICE * EVENINGS: "You took a battery to cost 1. Divide by its price as well.",
            ADAPTER_PRICE * each: "You multiplied with the price of an evening: divide by it.",
        },
        hint="What does one evening cost in batteries? How often does that go into the adapter's price?",
        working=f"{BATTERY_PRICE:g} ÷ {EVENINGS} = {each:g} an evening, and {ADAPTER_PRICE:g} ÷ {each:g} = {evening:g} "
        "evenings.",
    )
