"""Predictions and exercises of "two wires, two colours": the trap, evening out, the cross of a reversing switch."""

from __future__ import annotations

from dataclasses import replace

from ..design.pair.brightness import even_currents
from ..design.pair.two_lead_pair import FaultyPoint, TwoLeadPair, solder_fault, study_pair
from ..design.pair.wiring import reversing, wirings
from ..parts.drive import ConstantCurrentDrive, ResistorDrive
from ..parts.led import leds
from ..units import Count, Current, Resistance, Voltage, kind_of, say
from .choice import Choice, Option, Prediction, WiringAt
from .question import Draw, Question, plain_led

RED, GREEN = "ordinary red 3 mm", "ordinary green 3 mm"
SUPPLY, SHARED, EXTRA = "12 V", "680 ohm", "470 ohm"
GREEN_CURRENT = "10 mA"
DRIVER = ConstantCurrentDrive("10 mA", "1.5 V")
"""That of the panel which compares the brightness."""


_WAYS = ("up", "down")
CROSS, STRAIGHT = "crossed double-throw switch", "straight instead of crossed"
MISTAKES = {
    STRAIGHT: "both jumpers are straight",
    f"{CROSS}, one jumper straight": "one jumper of the cross is straight",
    f"{CROSS}, one jumper missing": "one jumper of the cross is missing",
    f"{CROSS}, supply exchanged": "plus and minus are exchanged",
}


def _in_reverse(supply: str, shared: str, inside: str, red: str) -> float:
    """The voltage in V across the dark green lamp while red is lit."""
    pair = TwoLeadPair(leds[red], leds[GREEN], extra_red=inside, extra_green=inside)
    return float(pair.operate(supply, ResistorDrive(shared), +1).si.reverse_voltage)


def across_the_dark_lamp() -> Prediction:
    """What the dark lamp sees behind a shared resistor."""
    low, high = (_in_reverse(supply, SHARED, "0 ohm", "bright red 3 mm") for supply in ("9 V", "24 V"))
    return Prediction.seeing(
        text="Red is lit. How much voltage is across the dark green LED?",
        options={
            "none": "it is true that no current flows through it. But there is a voltage across it.",
            "a little": "so it is.",
            "the whole supply": "without the lit red LED beside it, it would be.",
        },
        seen=f"Behind one shared resistor it is {say(low, 'V')} on 9 V and {say(high, 'V')} on 24 V: the drop of the "
        "lit red LED, which joins the same two points.",
    )


def one_resistor_or_two() -> Prediction:
    """The trap: a resistor in each branch."""
    shared, each = _in_reverse("9 V", SHARED, "0 ohm", RED), _in_reverse("9 V", "0 ohm", SHARED, RED)
    limit = say(leds[GREEN].si.max_reverse_voltage, "V")
    return Prediction.seeing(
        text="You have two resistors of the same value. Which is safer: one for each LED, or one for both?",
        options={
            "one for each LED": "two do sound safer than one.",
            "one for both": "so it is.",
            "both are as safe": "for the lit LED they are. It is the dark one that counts.",
        },
        seen=f"In the second panel, on 9 V, a shared resistor leaves {say(shared, 'V')} across the dark LED. "
        f"With one in each branch it is {say(each, 'V')}, and the limit is {limit}.",
    )


def on_alternating_current() -> Prediction:
    """What a signal on AC shows."""
    return Prediction.seeing(
        text="The signal is fed with AC from an old transformer. What do you see?",
        options={
            "both colours at once": "so it looks.",
            "red and green in turn": "in truth they are in turn, but faster than you can see.",
            "nothing": "each LED gets its own half of every cycle.",
        },
        seen="In the last panel each lamp carries current in one half of every cycle, so both seem to be lit. Such a "
        "signal tells nothing: feed it with DC.",
    )


def side_of_the_resistor() -> Prediction:
    """The third of the seven beliefs: the resistor must be on the plus side."""
    return Prediction.seeing(
        text="On which side of an LED must its resistor be?",
        options={
            "on the plus side, to stop the current before it gets there": "so many have learnt it. But current is not "
            "stopped on its way: the same current flows through all of a loop.",
            "on the minus side": "it may be there. Just as well it may be on the other.",
            "on either side": "so it is.",
        },
        seen="In the first panel the current is the same with the resistor in wire A, in wire B, and with half in "
        "each. And a resistor that is on the plus side for red is on the minus side for green.",
        belief="the resistor must be on the plus side",
    )


def any_two_pole_switch() -> Prediction:
    """The seventh of the seven beliefs: any two-pole switch reverses."""
    cut, straight, cross = (
        reversing(each).sentence.split("' ")[1] for each in ("double-pole single-throw switch", STRAIGHT, CROSS)
    )
    return Prediction.seeing(
        text="You want to turn the current round with a two-pole switch from the drawer. Will it do?",
        options={
            "yes, any two-pole switch reverses": "it does have the two poles. But one that only opens and closes has "
            "nowhere else to put the wires.",
            "only one with changeover contacts, and a cross of jumpers": "so it is.",
            "any with changeover contacts": "that is half of it. The jumpers count as well.",
        },
        seen=f"Go through the wirings in the reversing panel. A switch that only cuts both wires {cut} A changeover "
        f"switch with straight jumpers {straight} With the cross it {cross}",
        belief="any two-pole switch reverses",
    )


def reverse_voltage(seed: int = 0) -> Question:
    """A shared resistor and an extra one in green's branch: the reverse voltage on the dark red lamp."""
    draw = Draw(seed)
    source, shared, inside = draw.one(  # no slip comes near the answer
        (SUPPLY, SHARED, EXTRA),
        (SUPPLY, SHARED, "330 ohm"),
        (SUPPLY, "820 ohm", "330 ohm"),
        (SUPPLY, "1 kohm", EXTRA),
        ("9 V", "1 kohm", "220 ohm"),
        ("15 V", "1 kohm", EXTRA),
        ("15 V", "820 ohm", EXTRA),
    )
    lamps = TwoLeadPair(plain_led(RED), plain_led(GREEN), extra_green=inside)
    point = study_pair(source, ResistorDrive(shared), lamps).green.si
    drop, extra = say(point.led_voltage, "V"), say(point.extra_voltage, "V")
    supply, rated = kind_of(Voltage).read(source, "supply"), leds[RED].si.max_reverse_voltage
    return Question(
        text=f"A signal on {source} has one shared resistor of {_ohms(shared)}, and an extra one of {_ohms(inside)} "
        f"inside the green branch. Green is lit: {drop} is across the LED, and {say(point.current, 'A')} flows. "
        "What reverse voltage is across the dark red LED?",
        kind=kind_of(Voltage),
        answer=point.reverse_voltage,
        mistakes={
            point.led_voltage: "That is right without the extra resistor. Add the voltage across it.",
            point.extra_voltage: "That is across the extra resistor alone. Add the lit LED's drop.",
            point.drive_voltage: "That is across the shared resistor, which is outside both branches.",
            supply: "It would be the whole supply without a shared resistor. Here that one has its part of it.",
            rated: "That is the limit of the LED, not what is across it.",
        },
        hint="Both branches join the same two points. How many volts are between them while green is lit?",
        working=f"Across the extra resistor: {say(point.current, 'A')} × {_ohms(inside)} = {extra}. With the LED's "
        f"{drop} that makes {say(point.reverse_voltage, 'V')} between the two points that both branches join. No "
        f"current flows in the dark branch, so all of it is across the red LED, whose limit is {say(rated, 'V')}.",
    )


def _ohms(text: str) -> str:
    return say(kind_of(Resistance).read(text, "resistance"), "ohm")


def even_current(seed: int = 0) -> Question:
    """The current that dims the brighter lamp to the other one's light."""
    draw = Draw(seed)
    red, green = leds[draw.one(RED, "bright red 3 mm")], leds[GREEN]
    wanted, given = (
        float(each.m_as("A")) for each in even_currents(red, green, draw.one(GREEN_CURRENT, "8 mA", "15 mA"))
    )
    times = red.si.intensity / green.si.intensity
    at = say(red.si.intensity_current, "A")
    return Question(
        text=f"At {at} the red LED gives {say(red.si.intensity, 'cd')}, the green one {say(green.si.intensity, 'cd')}. "
        f"The green LED gets {say(given, 'A')}. Which current must the red LED get to look equally bright, "
        "if light grows in step with the current?",
        kind=kind_of(Current),
        answer=wanted,
        mistakes={
            given * times: "The other way round: the brighter LED must get less, not more.",
            given: "Then red would be as much brighter as the data sheets say.",
            given - wanted: "That is how much less it must be. Asked is what is left.",
        },
        hint="How many times brighter is red at the same current? Then it needs that many times less.",
        working=f"Red is {say(red.si.intensity, 'cd')} ÷ {say(green.si.intensity, 'cd')} = {times:.3g} times as "
        f"bright, so {say(given, 'A')} ÷ {times:.3g} = {say(wanted, 'A')}.",
    )


def cross_reading() -> Question:
    """At how many terminals of a switch with the cross on it a meter shows the battery's voltage."""
    wiring = wirings["crossed double-throw switch"]
    joined, plus = wiring.groups(wiring.closed(["up"])), wiring.poles[0]
    live = [each for contact in wiring.contacts for each in contact if joined[each] == joined[plus]]
    names = [each.removeprefix("switch ") for each in live]
    return Question(
        text="You have wired the cross on a two-pole changeover switch, plus of the battery on up 1 and minus on up 2, "
        "and set the switch to up. You hold a meter's black probe on minus and touch each of the six terminals "
        "with the red one. At how many of them should it show the battery's voltage?",
        kind=replace(kind_of(Count), example="1 terminal"),
        answer=float(len(live)),
        mistakes={
            1.0: "That is the one with the battery's wire on it. A jumper of the cross joins another to it.",
            2.0: "Those are the two that the jumper joins. Up 1 also touches the common of its own pole.",
            4.0: "One too many: the other jumper of the cross joins down 1 to minus.",
            6.0: "Then plus and minus would be joined: a short circuit.",
        },
        hint="Start at up 1. Where does its jumper end, and what does the switch join to it when it is set to up?",
        working=f"Plus is on {names[1]}, its jumper leads to {names[2]}, and set to up the switch joins {names[0]} to "
        f"it: {len(live)} terminals. The other {6 - len(live)} are joined to minus.",
        close=1e-6,
    )


def soldered_wrongly(seed: int = 0) -> Choice:
    """From what a pair shows in both directions to what was soldered."""
    faults = {
        "none": ("each LED has a resistor of its own", "Bad for the dark LED, but what you see is as it should be."),
        "both the same way round": (
            "both LEDs point the same way",
            "One way round red, with its lower drop, takes nearly all the current; the other way neither conducts.",
        ),
        "red open": ("a joint of the red LED is open", "No current gets through that LED, and the other one is well."),
        "red shorted": ("solder bridges the red LED", "The bridge carries all the current past both LEDs."),
    }
    right = Draw(seed).one("both the same way round", "red shorted", "red open")
    seen = {each: _seen(each) for each in faults}
    return Choice(
        text="You have soldered a red and a green LED together for two wires. On a battery, with a resistor, you see "
        f"{seen[right]}. What is wrong?",
        options=tuple(
            Option(said, reason if name == right else f"Then you would see {seen[name]}.", name == right)
            for name, (said, reason) in faults.items()
        ),
        hint="Draw both LEDs with their arrows. Which ways has the current, in one direction and in the other?",
        working="; ".join(f"{said}: {seen[name]}" for name, (said, _) in faults.items()) + ".",
    )


def _seen(fault: str) -> str:
    """What a pair with that mistake shows with the battery one way round, and the other."""
    points = solder_fault(SUPPLY, ResistorDrive(SHARED), TwoLeadPair(leds[RED], leds[GREEN]), fault)
    one, other = map(_brightest, points)
    return f"{one} one way round, {other} the other way" if one != other else f"{one}, either way round"


def _brightest(point: FaultyPoint) -> str:
    """The lamp that is seen: of two that share the current, the one that gets nearly all of it."""
    return (
        max((point.si.red_current, "red"), (point.si.green_current, "green"))[1] if point.lit != "none" else "nothing"
    )


def which_wiring_reverses(seed: int = 0) -> Choice:
    """Which of the wirings in the pictures shows green with the switch down."""
    why = {
        STRAIGHT: "With straight jumpers each wire meets the same pole again.",
        CROSS: "With the cross, wire A goes to minus and wire B to plus.",
        f"{CROSS}, one jumper missing": "One wire ends on a terminal that is joined to nothing.",
    }
    options = []
    for name, reason in why.items():
        down = WiringAt(name, "down").shown
        up = WiringAt(name, "up")
        options.append(
            Option(up.cross, f"With the switch down: {down.lamps[0]}. {reason}", down.lamps == ("green",), up)
        )
    return Choice(
        text="In all of these plus is on up 1, minus on up 2, and red is lit with the switch up. In which of them is "
        "green lit with the switch down?",
        options=Draw(seed).mixed(options),
        hint="Set the switch to down in your mind: each common then touches its down terminal. Where does that lead?",
        working="For green, wire A must be on minus, so plus and minus have to cross over between up and down.",
    )


def mistake_in_the_cross(seed: int = 0) -> Choice:
    """Find the mistake in the wiring of a reversing switch."""
    wrong = Draw(seed).one(f"{CROSS}, one jumper missing", STRAIGHT, f"{CROSS}, supply exchanged")
    does = {name: _lamps(name) for name in MISTAKES}
    return Choice(
        text=f"Red when up, green when down: that is wanted. You see {does[wrong]}. What is wrong in the wiring?",
        shows=WiringAt(wrong, _WAYS[0]),
        options=tuple(
            Option(
                said,
                f"That explains {does[name]}." if name == wrong else f"Then you would see {does[name]}.",
                name == wrong,
            )
            for name, said in MISTAKES.items()
        ),
        hint="Follow the wires from plus and from minus to the four outer terminals.",
        working=f"Here: {WiringAt(wrong, 'up').wires}. A sound cross: {WiringAt(CROSS, 'up').wires}.",
    )


def _lamps(wiring: str) -> str:
    """What a wiring shows in both positions: "red when up and green when down"."""
    return " and ".join(f"{WiringAt(wiring, each).shown.lamps[0]} when {each}" for each in _WAYS)
