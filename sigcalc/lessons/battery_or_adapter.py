"""Predictions and exercises of "battery or adapter": hours, what uses the charge, an adapter's voltage, what pays."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

from ..design.lamp.direct import connect_to_source
from ..design.lamp.drive import operate
from ..design.lamp.resistor import choose_resistor
from ..design.power.adapter import adapter_voltage
from ..design.power.cost import break_even, yearly_energy
from ..design.power.drive_choice import DRIVER, RESISTOR, same_current
from ..design.power.load import Load
from ..design.power.run_time import RunTime, run_time
from ..parts.drive import ResistorDrive
from ..parts.led import leds
from ..parts.relay import relays
from ..parts.resistor import at_most
from ..parts.source import adapters, batteries
from ..physics.discharge import capacity_at
from ..units import Count, Q, SupplyVoltage, Time, kind_of, say
from .choice import Choice, Option, Prediction
from .question import Draw, Question

BATTERY, RELAY, STRONG, LAMP = "9 V alkaline", "9 V two-pole sensitive", "9 V two-pole", 20e-3
ADAPTER = "9 V unregulated"
HAND = "hand switch"
REVERSED_BY = {
    HAND: None,
    "relay, 9 V": relays["9 V two-pole"],
    "sensitive relay, 9 V": relays["9 V two-pole sensitive"],
    "latching relay, 9 V": relays["9 V two-pole latching"],
}
CURRENTS = {f"{each:g} mA": each for each in (20, 10, 5, 2.5, 1)}
TIMER_DRAWS = {"nothing": 0.0, "2 mA": 2.0, "5 mA": 5.0, "10 mA": 10.0, "20 mA": 20.0}
SHARES = {"always": 1.0, "1/2": 0.5, "1/5": 0.2, "1/20": 0.05}
"""What the panel of a battery's run offers; a share is that of the time for which the coil is held."""
_HOUR = 3600.0


@cache
def _run(relay: str = "", drive: str = RESISTOR, current: float = LAMP, **load: Any) -> RunTime:
    """A fresh 9 V battery, the red lamp, and a relay if there is one, until a tenth of the light is left."""
    battery, led = batteries[BATTERY], leds["bright red 3 mm"]
    held = relays[relay] if relay else None
    return run_time(
        battery, Load(same_current(battery.fresh_voltage, led, Q(current, "A"))[drive], led, relay=held, **load), 0.1
    )


def _hours(run: RunTime) -> str:
    return say(run.si.hours, "s", 2)


def lamp_or_relay() -> Prediction:
    """What draws more: the lamp, or the coil of the relay that is held."""
    coils = [relays[name].si.rated_voltage / relays[name].si.coil_resistance for name in (RELAY, STRONG)]
    sensitive, usual = (say(each, "A", 2) for each in coils)
    draws = f"a usual relay's coil draws {usual} as long as it is held, a sensitive one's {sensitive}."
    return Prediction(
        text=f"What empties a 9 V battery faster: a lamp of {say(LAMP, 'A')}, or a relay that is held beside it?",
        options={
            "the lamp: it gives the light": f"light is not what counts, current is: {draws}",
            "the relay": f"with most relays it is so: {draws}",
            "the relay draws next to nothing": f"a latching relay would, between two changes. But {draws}",
        },
        seen=f"Choose a relay in the first panel: {draws}",
    )


def divided() -> Prediction:
    """The fifth of the seven beliefs: mAh divided by mA is hours, always."""
    run = _run(STRONG)
    charge, drain = run.battery.discharge.si.capacity[0], float(run.curve.si.drain[0])
    simple, alone = say(_HOUR * charge / drain, "s", 2), _run()
    sum_alone = say(_HOUR * charge / float(alone.curve.si.drain[0]), "s", 2)
    lasts = (
        f"it lasts {_hours(run)}: at a high current the battery gives less of its charge, and the relay lets go while "
        f"some is left. With the lamp alone, which fades, the sum says {sum_alone} and the panel {_hours(alone)}."
    )
    return Prediction(
        text=f"In a gentle test a 9 V battery gave {say(charge, 'Ah', 2)}. Lamp and relay draw {say(drain, 'A')} "
        "from it. How long does it last?",
        options={
            f"{simple}: mAh divided by mA is hours, always": f"that is a good first guess, and no more. Here {lasts}",
            f"less than {simple}": f"less it is: {lasts}",
            f"more than {simple}": f"that happens too, but not here: {lasts}",
        },
        seen=f"With a relay in the first panel {lasts}",
        belief="mAh divided by mA is hours, always",
    )


def dark_by_then() -> Prediction:
    """What fails first: the lamp or the relay."""
    run = _run(RELAY)
    left = say(float(run.curve.light[-1]), "", 2)
    ends = f"the relay lets go first, while the lamp still has {left} of its light."
    return Prediction(
        text="A signal with a relay runs on a battery until it fails. Is the lamp dark by then?",
        options={
            "yes": f"with a hand switch it would be. Here {ends}",
            "no, it is still bright": f"bright it is: {ends}",
            "it is just too dim to see": f"with a hand switch it might be. Here {ends}",
        },
        seen=f"Choose a relay in the first panel: {ends}",
    )


def marked_nine_volts() -> Prediction:
    """What an unregulated adapter gives at a small load."""
    gives = say(adapter_voltage(adapters[ADAPTER], "10 mA").si.voltage, "V")
    both = f"a regulated one gives its 9 V; an unregulated one about {gives}, and 9 V only at its full current."
    return Prediction(
        text="An adapter is marked “9 V”. You connect one signal and measure. What do you read?",
        options={
            "9 V": f"it depends on the kind: {both}",
            "a little less": f"neither kind does that with one signal: {both}",
            "it depends on the adapter": f"so it is: {both}",
        },
        seen=f"In the second panel {both}",
    )


def hours_with_relay(seed: int = 0) -> Question:
    """Capacity over drain, the relay's coil included."""
    draw = Draw(seed)
    # the sensitive relay beside 20 mA is the lesson's own sum
    name, current = draw.one((STRONG, 10e-3), (RELAY, 5e-3), (STRONG, 5e-3), (RELAY, 10e-3), (STRONG, LAMP))
    relay = relays[name].si
    coil = relay.rated_voltage / relay.coil_resistance
    both = current + coil
    drains, (_, charges, _) = batteries[BATTERY].capacity_band()
    charge = float(capacity_at(both, drains, charges))
    volts, ohms, lamp, drain = (
        say(each, unit)
        for each, unit in ((relay.rated_voltage, "V"), (relay.coil_resistance, "ohm"), (current, "A"), (both, "A"))
    )
    held = say(charge / _HOUR, "Ah")
    return Question(
        text=f"A lamp draws {lamp}. Beside it the coil of a relay, {ohms}, is held on {volts} all the time. Feeding "
        f"both, the battery gives {held}. How many hours is that?",
        kind=kind_of(Time),
        answer=charge / both,
        mistakes={
            charge / current: "You left out the relay: its coil draws from the same battery.",
            charge / coil: "You left out the lamp.",
            2 * charge / both: "You took the mean of both currents. They flow at the same time: add them.",
            charge * both: "You multiplied. Ampere-hours divided by amperes leave hours.",
        },
        hint="First the coil's current by Ohm's law, then both currents together, then charge ÷ current.",
        working=f"{volts} ÷ {ohms} = {say(coil, 'A')}. {lamp} + {say(coil, 'A')} = {drain}, and {held} ÷ {drain} = "
        f"{say(charge / both, 's')}. The relay stops pulling in a little before that.",
        close=0.04,  # so that whole hours will do
    )


def unregulated_voltage(seed: int = 0) -> Question:
    """Between no load and full load an unregulated adapter's voltage follows a straight line."""
    draw = Draw(seed)
    adapter, amperes = adapters[draw.one(ADAPTER, "12 V unregulated")], draw.one(0.1, 0.15, 0.2)
    si = adapter.si
    open_voltage, share = si.no_load_voltage, amperes / si.max_current
    falls = open_voltage - si.voltage
    given = adapter_voltage(adapter, Q(amperes, "A")).si.voltage
    printed, none, load = say(si.voltage, "V"), say(open_voltage, "V"), say(amperes, "A")
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


def evening_that_pays(seed: int = 0) -> Question:
    """Break-even without energy, at invented prices."""
    draw = Draw(seed)
    adapter, price, count = draw.one((18.0, 6.0, 4), (12.0, 4.0, 5), (20.0, 4.0, 5), (24.0, 8.0, 5))
    energy = yearly_energy(adapters["9 V regulated"], Q(LAMP, "A"), "3 h")
    evening = break_even(energy, adapter, 0.0, price, count).evening
    each = price / count
    return Question(
        text=f"Suppose an adapter costs {adapter:g}, a battery costs {price:g} and lasts {count} "
        "evenings. Leave the mains energy out. After how many evenings have the batteries cost as much as the adapter?",
        kind=replace(kind_of(Count), example="30 evenings"),
        answer=evening,
        mistakes={
            adapter / price: "That is how many batteries. Each of them lasts several evenings.",
            adapter / count: "First find what one evening costs in batteries.",
            adapter * count: "You took a battery to cost 1. Divide by its price as well.",
            adapter * each: "You multiplied with the price of an evening: divide by it.",
        },
        hint="What does one evening cost in batteries? How often does that go into the adapter's price?",
        working=f"{price:g} ÷ {count} = {each:g} an evening, and {adapter:g} ÷ {each:g} = {evening:g} evenings.",
    )


def relay_ends_it(seed: int = 0) -> Choice:
    """Three runs in pictures, in one of which the relay gives up before the lamp does."""
    draw = Draw(seed)
    runs = {
        "the lamp fades to nothing": _run(current=draw.one(LAMP, 10e-3, 5e-3)),
        "the light stays, then goes out at once": _run(drive=DRIVER, current=draw.one(10e-3, LAMP, 5e-3)),
        "it fails while the lamp is still bright": _run(draw.one(RELAY, STRONG)),
    }
    why = {
        "the lamp fades to nothing": "The battery is empty and the lamp with it: a hand switch and a resistor.",
        "the light stays, then goes out at once": "A driver holds the light until the battery is empty: no relay.",
        "it fails while the lamp is still bright": "The cross is high up: the lamp could go on, and the relay cannot.",
    }
    return Choice(
        text="Here are three runs of a 9 V battery. In which of them does a relay end it?",
        options=tuple(
            Option(said, why[said], said.startswith("it fails"), runs[said]) for said in draw.mixed(tuple(runs))
        ),
        hint="The cross is where it fails. How much light has the lamp there?",
        working="A relay needs three quarters of its voltage to be sure of pulling in. The lamp is content with less.",
    )


def longest_of_all() -> Choice:
    """Of three changes to a signal with a relay, the one that makes its battery last longest."""
    before = _hours(_run(RELAY))
    changes = {
        "half the current for the lamp": _run(RELAY, current=LAMP / 2),
        "a relay that is held for half of the time": _run(RELAY, energised=0.5),
        "a latching relay": _run("9 V two-pole latching"),
    }
    why = {
        "half the current for the lamp": "the coil goes on drawing.",
        "a relay that is held for half of the time": "half of the coil's charge is saved.",
        "a latching relay": "all of the coil's charge is saved.",
    }
    longest = max(changes, key=lambda name: changes[name].si.hours)
    return Choice(
        text=f"A 9 V battery feeds a lamp of {say(LAMP, 'A')} and a sensitive relay that is always held, for {before}. "
        "Which one change makes it last longest?",
        options=tuple(Option(name, f"{_hours(run)}: {why[name]}", name == longest) for name, run in changes.items()),
        hint="Try them in the first panel, one at a time. What still draws current all the time?",
        working="; ".join(f"{name}: {_hours(run)}" for name, run in changes.items()) + ".",
    )


def buzzes_late() -> Choice:
    """Find the mistake: why a relay buzzes at the end of an evening."""
    needs = say(relays[RELAY].si.rated_voltage * relays[RELAY].must_operate, "V")
    return Choice(
        text="Early in the evening the relay clicks as it should. Late at night it buzzes when a train comes, and the "
        "red lamp is still quite bright. What is wrong?",
        options=(
            Option(
                "the relay is worn out", f"It worked at first. What has changed since? It needs {needs} to pull in."
            ),
            Option(
                "the battery sags when the coil is switched on",
                f"The relay needs {needs}. Until the coil draws its current the battery just gives that, and then it "
                "sags, so the relay lets go, the battery recovers, and it all begins again.",
                True,
            ),
            Option("the resistor of the lamp is too small", "Then the lamp would have been too bright all evening."),
            Option("the lamp is the wrong way round", "Then it would be dark, early and late."),
        ),
        hint="Measure the battery while the coil is switched on. What does the relay need?",
        working=f"Measured under load the battery is below {needs}: change it, or put a latching relay in.",
    )


def more_than_planned(seed: int = 0) -> Choice:
    """Find the mistake: too much current from an adapter that was believed, or through a resistor that was mistaken."""
    wanted, adapter = Draw(seed).one(
        (10e-3, ADAPTER), (8e-3, "9 V regulated"), (5e-3, ADAPTER), (6e-3, "9 V regulated"), (15e-3, ADAPTER)
    )
    led, believed = leds["bright red 3 mm"], adapter == ADAPTER
    planned = choose_resistor(adapters[adapter].voltage, led, Q(wanted, "A")).si.resistance
    built = planned if believed else at_most(planned / 1.6, "E12")
    gives = connect_to_source(adapters[adapter], led, Q(built, "ohm")).terminal_voltage
    printed, ohms = say(adapters[adapter].si.voltage, "V"), say(planned, "ohm")
    return Choice(
        text=f"An adapter is marked {printed}. For that, and for {say(wanted, 'A')} at most through a red LED, you "
        f"have worked out a resistor of {ohms}. More current flows; the picture has what a meter shows. What is wrong?",
        shows=operate(gives, ResistorDrive(Q(built, "ohm")), led),
        options=(
            Option("the LED is the wrong way round", "Then it would be dark, and no current would flow."),
            Option(
                "the resistor is not the one that was worked out",
                "It is: compare its value in the picture with yours."
                if believed
                else f"It has {say(built, 'ohm')} in place of {ohms}; the adapter gives what is printed on it.",
                not believed,
            ),
            Option(
                "the adapter gives more than is printed on it",
                f"It gives {say(gives.m_as('V'), 'V')}: it is unregulated, and one LED is next to no load for it."
                if believed
                else f"Add up the two voltages of the bar: it gives {printed}, as is printed on it.",
                believed,
            ),
            Option("the adapter is too weak", "Then its voltage would sag, and less current would flow, not more."),
        ),
        hint="Go round the circuit: supply, resistor, LED. Which of them is not as it was taken to be?",
        working=f"Worked out: {printed} and {ohms}. In the circuit: {say(gives.m_as('V'), 'V')} and "
        f"{say(built, 'ohm')}.",
    )
