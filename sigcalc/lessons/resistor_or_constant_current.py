"""Predictions and exercises of "resistor or constant current": a sagging supply, and what a driver needs."""

from __future__ import annotations

from functools import cache

from ..design.lamp.drive import operate
from ..design.pair.shared_limiter import share_limiter
from ..design.power.drive_choice import DRIVER, RESISTOR, Comparison, compare_drives, same_current
from ..parts.drive import ConstantCurrentDrive, ResistorDrive, regulators
from ..parts.led import leds
from ..parts.resistor import at_least, at_most
from ..units import Current, Q, Resistance, SupplyVoltage, kind_of, say
from .choice import Choice, Option, Prediction
from .question import Draw, Question, plain_led

RED, GREEN = "bright red 3 mm", "ordinary green 3 mm"
FRESH, FLAT, DROPOUT = 9.0, 3.0, 1.5
REGULATOR = "lm317l"
_COUNTS = {2: "Two", 3: "Three", 4: "Four"}


@cache
def _sagged() -> Comparison:
    """A resistor and a driver for 10 mA, on 9 V and on two thirds of it."""
    return compare_drives(Q([FRESH, 2 / 3 * FRESH], "V"), same_current(Q(FRESH, "V"), leds[RED], "10 mA"), leds[RED])


def two_thirds() -> Prediction:
    """How the light falls behind a resistor."""
    resistor, driver = (say(float(_sagged()[name].light[1]), "", 2) for name in (RESISTOR, DRIVER))
    why = (
        f"{resistor} is left. Nearly the same voltage stays across the LED, so the resistor has lost more than a third."
    )
    return Prediction(
        text="A battery sags from 9 V to 6 V, two thirds. How much of its light does a red LED behind a resistor keep?",
        options={
            "two thirds": f"it is a little worse: {why}",
            "less than two thirds": f"less it is: {why}",
            "all of it": f"that is a driver's way: it keeps {driver}. Behind the resistor {why}",
        },
        seen=f"Let 3 V sag away in the panel: behind the resistor {why}",
    )


def nearly_flat() -> Prediction:
    """The sixth of the seven beliefs: a 20 mA driver gives 20 mA from a flat battery."""
    point = operate(Q(FLAT, "V"), ConstantCurrentDrive("20 mA", Q(DROPOUT, "V")), leds[RED]).si
    flows = (
        f"{say(point.current, 'A', 2)} flow. Of the {say(FLAT, 'V')}, {say(point.led_voltage, 'V')} are across the "
        f"LED, and the driver needs {say(DROPOUT, 'V')} across itself. With less it is only a small resistor."
    )
    return Prediction(
        text=f"A driver is set to 20 mA. Its battery is nearly flat and gives {say(FLAT, 'V')}. What flows through the "
        "red LED?",
        options={
            "20 mA: that is what the driver is for": "that is what its name promises, and while the battery is strong "
            f"it keeps the promise. But a driver cannot push. Here {flows}",
            "less than 20 mA": f"less it is: {flows}",
            "nothing at all": f"it is not quite so bad: {flows}",
        },
        seen=f"Set 20 mA in the panel and let 6 V sag away: {flows}",
        belief="a 20 mA driver gives 20 mA from a flat battery",
    )


def wasted() -> Prediction:
    """A driver saves no power."""
    heats = {name: say(_sagged()[name].si.drive_power[0], "W", 2) for name in (RESISTOR, DRIVER)}
    both = f"fresh, there are {heats[RESISTOR]} of heat in the resistor and {heats[DRIVER]} in the driver."
    return Prediction(
        text="Does a driver waste less power than a resistor?",
        options={
            "yes, much less": f"many expect that. But what the LED does not use becomes heat in either: {both}",
            "no, about as much": f"so it is: {both}",
            "no, much more": f"no, about as much: {both}",
        },
        seen=f"View “figures” says it: {both}",
    )


def one_for_two() -> Prediction:
    """One driver for two lamps at once."""
    drive = ConstantCurrentDrive("10 mA", Q(DROPOUT, "V"), 0.1)
    shared = share_limiter("9 V", drive, [(leds[RED], "4 mA", "0 ohm"), (leds[GREEN], "10 mA", "0 ohm")])
    red, green = (f"{each * 1e3:.2g} mA" for each in shared.si.current)
    gets = f"red carries {red} and green {green}: nearly all flows through the LED with the lower drop."
    return Prediction(
        text="One driver of 10 mA feeds a red and a green LED side by side. How is the current divided?",
        options={
            "half and half": f"two equal LEDs would come near to that. Here {gets}",
            "nearly all of it flows through red": f"so it is: {gets}",
            "each takes what it needs": f"an LED takes nothing, it is given. Here {gets}",
        },
        seen=f"In the second panel {gets}",
    )


def sagged_current(seed: int = 0) -> Question:
    """What a resistor lets through when the supply has sagged."""
    draw = Draw(seed)
    volts, less = draw.one((9.0, 6.5), (9.0, 6.0), (12.0, 9.5), (12.0, 8.0))
    ohms = draw.one(820.0, 560.0, 1000.0)
    led, drive = plain_led(RED), ResistorDrive(Q(ohms, "ohm"))
    fresh, sagged = (operate(Q(each, "V"), drive, led).si for each in (volts, less))
    drop = sagged.led_voltage
    return Question(
        text=f"A red LED and {say(ohms, 'ohm')} are in series on {say(volts, 'V')}. There are {say(drop, 'V')} across "
        f"the LED, and {say(fresh.current, 'A')} flows. The battery sags to {say(less, 'V')}. What current is left?",
        kind=kind_of(Current),
        answer=sagged.current,
        mistakes={
            fresh.current
            * less
            / volts: "It does not fall in step with the supply: the voltage across the LED stays as it is.",
            fresh.current: "That is a driver's answer. A resistor lets less through when the supply sags.",
            less / ohms: "Not the whole voltage is across the resistor: take off the LED's drop.",
            (volts - less) / ohms: "That is by how much the current fell, not what is left.",
        },
        hint="Take the LED's drop off the voltage that is there now, then divide by the resistance.",
        working=f"{say(less, 'V')} − {say(drop, 'V')} = {say(less - drop, 'V')}, and {say(less - drop, 'V')} ÷ "
        f"{say(ohms, 'ohm')} = {say(sagged.current, 'A')}: {say(sagged.current / fresh.current, '')} of the "
        f"light, from {say(less / volts, '')} of the voltage.",
    )


def least_supply(seed: int = 0) -> Question:
    """The supply that a driver with several LEDs in series needs."""
    draw = Draw(seed)
    count, dropout = draw.one((2, DROPOUT), (3, DROPOUT), (3, 2.5), (4, 2.0))
    drop = plain_led(RED).model.si.forward_voltage
    whole = count * drop + dropout
    return Question(
        text=f"{_COUNTS[count]} red LEDs are in series, with {say(drop, 'V')} across each. Their driver needs "
        f"{say(dropout, 'V')} across itself. Down to which supply does it hold its current?",
        kind=kind_of(SupplyVoltage),
        answer=whole,
        mistakes={
            count * drop: "All of it would be across the LEDs and nothing across the driver: it needs its share too.",
            drop + dropout: "That is enough for one LED. In series their voltages add up.",
            dropout: "That is what the driver needs across itself. The LEDs' drops come on top.",
            count * (drop + dropout): "There is one driver for the string: its share counts once.",
        },
        hint="In series all voltages add up: each LED's, and what the driver needs.",
        working=f"{count} × {say(drop, 'V')} + {say(dropout, 'V')} = {say(whole, 'V')}.",
        close=0.05,  # the panel shows 5.06 V at 5 mA and 5.3 V at 20 mA
    )


def regulator_resistor(seed: int = 0) -> Question:
    """The resistor that makes a current source of an adjustable regulator."""
    volts, wanted = regulators[REGULATOR].si.reference_voltage, Draw(seed).one(15e-3, 18e-3, 12e-3, 22e-3)
    exact = volts / wanted
    sold, below = at_least(exact, "E24"), at_most(exact, "E24")
    return Question(
        text=f"An adjustable regulator holds {say(volts, 'V')} across the resistor that sets its current. You want "
        f"{say(wanted, 'A')} at most. Which value of series E24 do you buy?",
        kind=kind_of(Resistance),
        answer=sold,
        mistakes={
            exact: "That is the exact value, and nobody sells it. Take the next one up in E24.",
            below: f"That is the next value down: {say(volts / below, 'A')} would flow, more than you allow.",
            FRESH
            / wanted: "The supply does not matter here: the regulator holds the same voltage across its resistor.",
            volts * wanted: "You multiplied. For a resistance, divide the voltage by the current.",
        },
        hint="Voltage across the resistor ÷ current through it. Then go up to the next value of E24.",
        working=f"{say(volts, 'V')} ÷ {say(wanted, 'A')} = {say(exact, 'ohm')}; the next value up in E24 is "
        f"{say(sold, 'ohm')}, which sets {say(volts / sold, 'A')}. Some samples of this regulator hold nothing "
        f"below {say(regulators[REGULATOR].si.least_load, 'A')}: for a dimmer LED it is the wrong part.",
        close=0.005,  # neighbours in E24 are close together
    )


def driver_let_go(seed: int = 0) -> Choice:
    """Three circuits in pictures, in one of which the driver has less across it than it needs."""
    draw = Draw(seed)
    tight, easy, low = draw.one(
        ((5.0, 2), (9.0, 3), (4.0, 1)), ((6.0, 3), (12.0, 3), (4.5, 1)), ((3.0, 1), (6.0, 2), (12.0, 3))
    )
    drive = ConstantCurrentDrive("10 mA", Q(DROPOUT, "V"))
    points = {each: operate(Q(each[0], "V"), drive, [leds[RED]] * each[1]) for each in draw.mixed((easy, tight, low))}

    def reason(each: tuple[float, int]) -> str:
        si = points[each].si
        has = (
            f"{say(each[0], 'V')} less {say(si.led_voltage, 'V')} leave {say(si.drive_voltage, 'V')} across the driver"
        )
        return f"{has}, {'less than' if each == tight else 'and it needs'} {say(DROPOUT, 'V')}."

    return Choice(
        text=f"Each driver is set to 10 mA and needs {say(DROPOUT, 'V')} across itself. Which one has let go?",
        options=tuple(
            Option(
                f"{say(volts, 'V')}, LEDs in series: {count}", reason((volts, count)), (volts, count) == tight, point
            )
            for (volts, count), point in points.items()
        ),
        hint="Look at the bar of shared voltage: how much is left across each driver?",
        working=" ".join(map(reason, points)),
    )


def what_to_choose() -> Choice:
    """A resistor or a driver: it depends on how much the supply sags."""
    return Choice(
        text="Three signals. For which of them is a driver worth its price?",
        options=(
            Option(
                "one lamp, half a metre from a regulated 12 V adapter",
                "Such a supply hardly sags. A resistor does the same for a fraction of the price.",
            ),
            Option(
                "one lamp that must stay bright until its 9 V battery is nearly empty",
                "A battery loses a third of its voltage and more, and the driver holds the light meanwhile.",
                True,
            ),
            Option(
                "one lamp that should tell you by fading that the battery is nearly empty",
                "The lamp behind a resistor fades and so gives warning. Behind a driver it goes out at once.",
            ),
        ),
        hint="A driver helps where the voltage changes. Where does it change, and do you mind?",
        working="A steady supply: a resistor. One that sags, with a lamp that must not show it: a driver.",
    )


def dim_string() -> Choice:
    """Find the mistake: a supply too low for a driver and three LEDs."""
    volts = 6.5
    point = operate(Q(volts, "V"), ConstantCurrentDrive("10 mA", Q(DROPOUT, "V")), [leds[RED]] * 3)
    si = point.si
    return Choice(
        text=f"This driver was set to 10 mA, and only {say(si.current, 'A', 2)} flow. What is wrong?",
        shows=point,
        options=(
            Option("the driver is broken", "It does what it can. How much voltage is left across it?"),
            Option(
                "one LED is the wrong way round",
                "Then next to nothing would flow through any of them: they are in series.",
            ),
            Option(
                "there are too many LEDs for this supply",
                f"{say(si.led_voltage, 'V')} are across the three, and {say(si.drive_voltage, 'V')} are left for the "
                f"driver, which needs {say(DROPOUT, 'V')}. Two LEDs, or a higher supply.",
                True,
            ),
            Option("the supply gives too much", f"Of {say(volts, 'V')} too little is left for the driver."),
        ),
        hint="Add up what is across the LEDs and what the driver needs. Is the supply more than that?",
        working=f"3 LEDs have {say(si.led_voltage, 'V')} across them; {say(volts, 'V')} − {say(si.led_voltage, 'V')} = "
        f"{say(si.drive_voltage, 'V')}, less than {say(DROPOUT, 'V')}.",
    )
