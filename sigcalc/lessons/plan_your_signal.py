"""Predictions and exercises of the planner's lesson: another supply, another LED, and what was built by the sheet."""

from __future__ import annotations

from typing import Any

from ..design.lamp.resistor import choose_resistor, exact_resistance
from ..design.pair.brightness import compare_brightness
from ..design.pair.two_lead_pair import PairPoint, TwoLeadPair
from ..parts.drive import ResistorDrive
from ..parts.led import leds
from ..parts.resistor import at_least
from ..parts.source import adapters, batteries
from ..plan import Plan
from ..units import Current, Q, Resistance, kind_of, say, say_times
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


def _signal(supply: Any, shared: Any, inside: str = "0 ohm") -> PairPoint:
    """The signal of the plan, red lit."""
    pair = TwoLeadPair(leds[RED], leds[GREEN], extra_red=inside, extra_green=inside)
    return pair.operate(supply, ResistorDrive(shared), +1)


def battery_resistor(seed: int = 0) -> Question:
    """The resistor for a red low-current LED on a fresh battery, from the E12 series."""
    draw = Draw(seed)
    volts = batteries[draw.one("9 V alkaline", "8.4 V NiMH", "6 x AA alkaline")].si.fresh_voltage
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


def reading_in_brackets(seed: int = 0) -> Choice:
    """What a reading says beside a figure with its least and most."""
    draw = Draw(seed)
    part = draw.one("9 V alkaline", "8.4 V NiMH", "6 x AA alkaline")
    study = Plan(supply={"kind": "battery", "part": part}).study()
    figure, resistor = study.figures["red_current"], study.figures["shared_resistance"].nominal
    volts = batteries[part].fresh_voltage
    tenth, tenfold = (_signal(volts, Q(resistor * times, "ohm")).si.current for times in (0.1, 10))
    read = draw.one((figure.least + figure.nominal) / 2, tenfold, tenth)
    flows = {
        f"The resistor has ten times the value: {say(10 * resistor, 'ohm')}": (tenfold,),
        "Nothing is wrong: no two parts are quite alike": (figure.least, figure.most),
        f"The resistor has a tenth of the value: {say(resistor / 10, 'ohm')}": (tenth,),
    }
    return Choice(
        text=f"On a fresh {part} battery the planner takes {say(resistor, 'ohm')} and says {figure.text} for red. Your "
        f"new signal shows red, and the meter reads {say(read, 'A')}. What do you conclude?",
        options=tuple(
            Option(
                says,
                f"With that, {' to '.join(say(each, 'A') for each in amps)} would flow.",
                min(amps) <= read <= max(amps),
            )
            for says, amps in flows.items()
        ),
        hint="In brackets are the least and the most with sound parts. Is the reading between them? If not, how many "
        "times too large or too small is it?",
        working=f"Sound parts give {say(figure.least, 'A')} to {say(figure.most, 'A')}; ten times the resistance gives "
        f"{say(tenfold, 'A')}, a tenth of it {say(tenth, 'A')}.",
    )


def mistake_in_the_signal(seed: int = 0) -> Choice:
    """What went wrong between the sheet and the signal that was built."""
    sound = _signal("12 V", "2.2 kohm")
    built = {
        "the shared resistor is too small": _signal("12 V", "680 ohm"),
        "the shared resistor is too large": _signal("12 V", "22 kohm"),
        "each branch has a resistor, and the wires have none": _signal("12 V", "0 ohm", "2.2 kohm"),
    }
    wrong = Draw(seed).one(*reversed(built))
    return Choice(
        text=f"The sheet says: {_expected(sound)}. Here is what was built. What went wrong?",
        shows=built[wrong],
        options=tuple(
            Option(says, f"With it there are {_expected(point)}.", says == wrong) for says, point in built.items()
        ),
        hint="Two things to look at: what the resistor's value is, and where it is.",
        working=f"As planned, there are {_expected(sound)}; as built, {_expected(built[wrong])}.",
    )


def _expected(point: PairPoint) -> str:
    """What flows through the lit lamp and what is across the dark one."""
    return (
        f"{say(point.si.current, 'A')} through the lit lamp and {say(point.si.reverse_voltage, 'V')} in reverse across "
        "the dark one"
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
