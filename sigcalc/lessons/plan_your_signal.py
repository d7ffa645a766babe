"""Predictions and exercises of the planner's lesson: another supply, another LED, and the dark lamp's voltage."""

from __future__ import annotations

from ..design.lamp.resistor import choose_resistor, exact_resistance
from ..design.pair.brightness import compare_brightness, even_currents
from ..design.pair.two_lead_pair import PairPoint, TwoLeadPair
from ..parts.drive import ResistorDrive
from ..parts.led import leds
from ..parts.resistor import at_least
from ..parts.source import adapters, batteries
from ..units import Current, Q, Resistance, Voltage, kind_of, say, say_times
from .choice import Choice, Option, Prediction
from .question import FORGOT_DROP, NOBODY_SELLS_IT, Draw, Question

RED, GREEN, BRIGHT = "low-current red 3 mm", "low-current green 3 mm", "bright red 3 mm"
CURRENT = 5e-3


def battery_in_place_of_the_adapter() -> Prediction:
    """Whether the resistor stays."""
    battery, adapter = batteries["9 V alkaline"].fresh_voltage, adapters["12 V regulated"].voltage
    small, large = (choose_resistor(each, leds[RED], Q(CURRENT, "A")).si.resistance for each in (battery, adapter))
    return Prediction.seeing(
        text="You replace the 12 V adapter of the plan with a 9 V battery. What becomes of the resistor?",
        options={
            "it stays: the LED is the same": "the LED is the same, but less voltage is left for the resistor.",
            "it becomes smaller": "so it does.",
            "it becomes larger": "a larger one would dim the lamp even more.",
        },
        seen=f"For {say(CURRENT, 'A')} through the red LED it is {say(large, 'ohm')} on the adapter and "
        f"{say(small, 'ohm')} on a fresh battery. Choose the battery under Supply.",
    )


def a_very_bright_red() -> Prediction:
    """What the planner says of a red LED that outshines the green one."""
    times = compare_brightness(leds[BRIGHT], leds[GREEN], Q(CURRENT, "A"), Q(CURRENT, "A")).ratio
    return Prediction.seeing(
        text="You replace the red LED with a modern, very bright one. What will the planner complain about?",
        options={
            "too much current": "a bright LED needs no more current than a dim one.",
            "red outshines green": "so it does.",
            "too much voltage": "its drop is nearly the same as before.",
        },
        seen=f"At {say(CURRENT, 'A')} the {BRIGHT} has {say_times(times)} times the light of the {GREEN}. The planner "
        "names a remedy beside the finding.",
    )


def lamp_in_danger() -> Prediction:
    """Which lamp suffers from a resistor in each branch."""
    across = _signal("12 V", "0 ohm", "2.2 kohm").si.reverse_voltage
    return Prediction.seeing(
        text="You give each LED a resistor of its own in its branch and share none. Which lamp is in danger?",
        options={
            "the lit one": "the lit one has its resistor to protect it.",
            "the dark one": "so it is.",
            "neither": "each is well as long as it is lit.",
        },
        seen=f"Choose the form “one in each branch”: {say(across, 'V')} are across the dark lamp in reverse, and its "
        f"limit is {say(leds[GREEN].si.max_reverse_voltage, 'V')}.",
    )


def _signal(supply: str, shared: str, inside: str) -> PairPoint:
    """The signal of the plan, red lit."""
    pair = TwoLeadPair(leds[RED], leds[GREEN], extra_red=inside, extra_green=inside)
    return pair.operate(supply, ResistorDrive(shared), +1)


def battery_resistor(seed: int = 0) -> Question:
    """The resistor for a red low-current LED on a fresh battery, from the E12 series."""
    draw = Draw(seed)
    volts = batteries[draw.one("9 V alkaline", "9 V lithium", "8.4 V NiMH", "6 x AA alkaline")].si.fresh_voltage
    current = draw.one(3e-3, 2e-3, CURRENT, 4e-3)
    led = leds[RED]
    drop = float(led.model.voltage_si(current))
    exact = float(exact_resistance(supply=Q(volts, "V"), led=led, current=Q(current, "A")).m_as("ohm"))
    bought = float(at_least(exact, "E12"))
    adapter = float(at_least((adapters["12 V regulated"].si.voltage - drop) / current, "E12"))
    return Question(
        text=f"You replace the plan's adapter with a fresh battery of {say(volts, 'V')}. At {say(current, 'A')} there "
        f"are {say(drop, 'V')} across the red LED, and you want no more than {say(current, 'A')}. "
        "Which resistor of the E12 series do you buy?",
        kind=kind_of(Resistance),
        answer=bought,
        mistakes={
            exact: NOBODY_SELLS_IT,
            adapter: "That is the one for the adapter. The battery gives less voltage.",
            volts / current: FORGOT_DROP,
        },
        hint="Voltage left for the resistor, divided by the current; then the next larger value of E12.",
        working=f"({say(volts, 'V')} − {say(drop, 'V')}) ÷ {say(current, 'A')} = {say(exact, 'ohm')}; "
        f"the next larger one is {say(bought, 'ohm')}.",
        close=0.01,
    )


def dark_lamp_voltage(seed: int = 0) -> Question:
    """What the dark lamp sees with a resistor in each branch and none shared."""
    volts = Draw(seed).one(9.0, adapters["12 V regulated"].si.voltage, 15.0, 5.0)
    drop = float(leds[RED].model.voltage_si(CURRENT))
    return Question(
        text=f"Each lamp has a resistor in its own branch, none is shared, and the adapter gives {say(volts, 'V')}. "
        f"Red is lit, with {say(drop, 'V')} across it. What voltage is across the dark green lamp, in reverse?",
        kind=kind_of(Voltage),
        answer=volts,
        mistakes={
            drop: "That is right for one shared resistor. Here the lit branch's resistor comes in between as well.",
            volts - drop: "That is across the red lamp's resistor. The dark branch is joined to both wires.",
            0.0: "No current flows in the dark branch, but there is a voltage across it all the same.",
        },
        hint="No current flows in the dark branch. So what is the voltage across its resistor?",
        working="Without current there is no voltage across the dark branch's resistor, and nothing is shared: the "
        f"whole {say(volts, 'V')} is across the lamp; its limit is {say(leds[RED].si.max_reverse_voltage, 'V')}.",
    )


def planned_current(seed: int = 0) -> Question:
    """What flows with the resistor that is sold, in place of the exact one."""
    draw = Draw(seed)
    volts, ohms = draw.one(9.0, 12.0, 15.0), draw.one(1500.0, 1800.0, 2700.0, 2200.0)
    drop = float(f"{float(leds[RED].model.voltage_si(CURRENT)):.2g}")
    left = volts - drop
    return Question(
        text=f"The planner chooses {say(ohms, 'ohm')} for a supply of {say(volts, 'V')}. With {say(drop, 'V')} across "
        "the red LED, what current flows?",
        kind=kind_of(Current),
        answer=left / ohms,
        mistakes={
            volts / ohms: FORGOT_DROP,
            drop / ohms: "That is with the LED's voltage. The rest of the voltage is across the resistor.",
            (volts + drop) / ohms: "Subtract the drop from the supply's voltage; do not add it.",
        },
        hint="Voltage left for the resistor, divided by its resistance.",
        working=f"({say(volts, 'V')} − {say(drop, 'V')}) ÷ {say(ohms, 'ohm')} = {say(left / ohms, 'A')}.",
    )


def dimmed_to_match(seed: int = 0) -> Question:
    """The current that makes the brighter lamp look like the other one."""
    given = Draw(seed).one(8e-3, 10e-3, 5e-3, 15e-3)
    red, green = leds["ordinary red 3 mm"], leds["ordinary green 3 mm"]
    wanted = float(even_currents(red, green, Q(given, "A"))[0].m_as("A"))
    times = red.si.intensity / green.si.intensity
    return Question(
        text=f"A plan says that red has {say_times(times, 3)} times the light of green when both carry "
        f"{say(given, 'A')}. Light grows in step with current. To which current do you dim red to match?",
        kind=kind_of(Current),
        answer=wanted,
        mistakes={
            given * times: "The other way round: the brighter LED must get less, not more.",
            given: "Then red outshines green, as the plan says.",
            given - wanted: "That is how much less it must be. Asked is what is left.",
        },
        hint="So many times too bright needs so many times less current.",
        working=f"{say(given, 'A')} ÷ {say_times(times, 3)} = {say(wanted, 'A')}.",
    )


def which_one_to_build(seed: int = 0) -> Choice:
    """Three plans in pictures, one within every limit."""
    limit = leds[RED].si.max_current
    fine = _signal("12 V", "2.2 kohm", "0 ohm"), "2.2 kΩ, shared"
    inside = _signal("12 V", "0 ohm", "2.2 kohm"), "2.2 kΩ in each branch"
    strong = _signal("12 V", "820 ohm", "0 ohm"), "820 Ω, shared"
    reverse = say(leds[GREEN].si.max_reverse_voltage, "V")
    return Choice(
        text=f"The limits of each LED are {say(limit, 'A')} when lit and {reverse} in reverse. Which of these signals "
        "do you build?",
        options=Draw(seed).mixed(
            (
                Option(
                    inside[1],
                    f"The lit lamp is well, but {say(inside[0].si.reverse_voltage, 'V')} are across the dark one.",
                    shows=inside[0],
                ),
                Option(
                    fine[1],
                    f"{say(fine[0].si.current, 'A')} through the lit lamp, {say(fine[0].si.reverse_voltage, 'V')} "
                    "across the dark one: both are within their limits.",
                    True,
                    fine[0],
                ),
                Option(
                    strong[1], f"{say(strong[0].si.current, 'A')} through the lit lamp is too much.", shows=strong[0]
                ),
            )
        ),
        hint="Look at both lamps: at the current through the lit one and at the voltage across the dark one.",
        working=f"With {fine[1]}, both lamps are within their limits. A resistor in each branch leaves the dark lamp "
        "alone with the whole supply.",
    )
