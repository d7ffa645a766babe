"""The sum once by hand, in the open: a table of steps whose numbers come from the library."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

import jinja2

from ..design.lamp.direct import FromSource, connect_to_source
from ..design.lamp.drive import operate, string_voltage
from ..design.lamp.resistor import Choice
from ..errors import RangeError
from ..parts.drive import ResistorDrive
from ..parts.led import ConstantDrop, Led
from ..parts.resistor import USUAL_MARGIN, resistor_ratings
from ..parts.source import Source
from ..units import Q, Resistance, Voltage, say, say_band, with_units
from .style import NORMAL, Size

_DIGITS = 4  # so that a reader who works with the printed figures gets the printed answer


@dataclass(frozen=True)
class Step:
    """One line of a sum: what is wanted, how, and the answer."""

    what: str
    how: str
    answer: str


@dataclass(frozen=True)
class SumByHand:
    """A sum in steps, and in `sentence` what comes out and how far the library agrees."""

    title: str
    steps: tuple[Step, ...]
    sentence: str
    size: Size = NORMAL
    heads: tuple[str, str, str] = ("Step", "Sum", "Gives")
    equal: bool = False  # the last two columns weigh the same: the last is no answer to the one before

    def html(self) -> str:
        """A table with a caption, for a page or a notebook; all text is escaped."""
        return _template().render(sum=self)

    def _repr_html_(self) -> str:
        return self.html()


@with_units(scalar=True)
def current_by_hand(source: Source, led: Led, resistance: Resistance, drop: Voltage, size: Size = NORMAL) -> SumByHand:
    """The current of an LED with a resistor on a fresh battery or an adapter, with the LED as a constant drop.

    Parameters
    ----------
    source: from `batteries` or `adapters`; its open voltage counts, and its internal resistance in the last step
    led: whose curve the library follows for comparison
    resistance: the resistor
    drop: what the LED keeps for itself, as its data sheet says

    Raises RangeError where the resistance is nothing or the source lies below the drop.
    """
    followed = connect_to_source(source, led, Q(resistance, "ohm"), tolerance=0.0).si
    volts, inside = followed.open_voltage, followed.internal_resistance
    if not resistance > 0:
        raise RangeError('resistance needs to be above 0 ohm to divide by; give for example "470 ohm"')
    if not volts > drop:
        raise RangeError(
            f"drop {say(drop, 'V')} needs to be below the {say(volts, 'V')} of the source; "
            'give what the LED keeps for itself, such as "2 V"'
        )
    plain = Led(led.name, led.colour, ConstantDrop(Q(drop, "V")), led.max_current)
    behind, bare = (operate(Q(volts, "V"), ResistorDrive(Q(ohms, "ohm")), plain).si for ohms in (resistance, inside))
    left = _say(behind.drive_voltage, "V")
    steps = (
        Step("What the source gives, fresh", source.name, _say(volts, "V")),
        Step(f"What the {led.colour} LED keeps", "from its data sheet", _say(drop, "V")),
        Step("What is left for the resistor", f"{_say(volts, 'V')} − {_say(drop, 'V')}", left),
        Step("The current", f"{left} ÷ {_say(resistance, 'ohm')}", say(behind.current, "A")),
        Step(
            "The same, with only what is inside the source", f"{left} ÷ {_say(inside, 'ohm')}", say(bare.current, "A")
        ),
    )
    followed_bare = connect_to_source(source, led).si
    off = abs(behind.current / followed.current - 1)
    return SumByHand(
        "The current by hand, with a resistor and without",
        steps,
        f"Following the LED's curve, the library finds {say(followed.current, 'A')} with the resistor: the sum by hand "
        f"is off by {say(off, '', 2)}. Without one it finds {say(followed_bare.current, 'A')}, because the LED's own "
        f"resistance holds the current down as well. The LED stands {say(led.si.max_current, 'A')}.",
        size,
    )


def resistor_by_hand(choice: Choice, size: Size = NORMAL) -> SumByHand:
    """The steps from a wish to the resistor of a `Choice`, for one LED or several in series."""
    si = choice.si
    supply, resistance, wanted = _say(si.supply, "V"), _say(si.resistance, "ohm"), _say(si.wanted, "A")
    kept, kept_then = float(string_voltage(si.wanted, choice.string)), si.supply - si.current * si.resistance
    left = _say(si.supply - kept, "V")
    who = "the LED keeps" if len(choice.string) == 1 else "the LEDs in series keep"
    heat, twice = _say(si.power, "W"), _say(USUAL_MARGIN * si.power, "W")
    steps = (
        Step(f"What {who} at {wanted}", "from the curve", _say(kept, "V")),
        Step("What is left for the resistor", f"{supply} − {_say(kept, 'V')}", left),
        Step("The resistance for just that current", f"{left} ÷ {wanted}", _say(si.exact, "ohm")),
        Step("The next value that is sold", f"series {choice.series}", resistance),
        Step("What flows then", f"({supply} − {_say(kept_then, 'V')}) ÷ {resistance}", _say(si.current, "A")),
        Step("The most heat in it", "current × current × resistance, at the worst of all tolerances", heat),
        Step("The rating to ask for", f"at least {USUAL_MARGIN:g} × {heat} = {twice}", rating_name(si.rating)),
    )
    return SumByHand(
        "The resistor by hand", steps, f"Bands: {', '.join(choice.bands)}. Letter code: {choice.code}.", size
    )


def bench_readings(result: FromSource, size: Size = NORMAL) -> SumByHand:
    """What a meter should read at the bench when an LED with a resistor hangs on a source.

    The bands hold the spread of source, resistor and LED; a voltage is read between the two points named.
    """
    si, led, corners = result.si, result.led.si, result.source.corners
    drop = float(result.led.model.voltage_si(si.current))
    low, high = drop - led.drop_below, drop + led.drop_above
    rest = max(corners[0][0] - high, 0.0), si.current * si.resistance, corners[2][0] - low
    steps = (
        Step("The source, nothing on it", "from + to −", say_band(*(volts for volts, _ in corners), "V")),
        Step("The LED, lit", "from its longer lead to its shorter one", say_band(low, drop, high, "V")),
        Step("The resistor", "from end to end", say_band(*rest, "V")),
        Step(
            "The current", "resistor's voltage ÷ resistance", say_band(si.current_min, si.current, si.current_max, "A")
        ),
    )
    return SumByHand(
        f"What your meter should read: {result.source.name}, {say(si.resistance, 'ohm')}, {result.led.name}",
        steps,
        "In brackets what a fresh source and bought parts may give. Outside of that, look for the reason first.",
        size,
        ("Measure", "Where", "Should read"),
    )


def rating_name(watts: float) -> str:
    """What a power rating in W is called in the shop, such as "1/4 W"."""
    return next((name for name, each in resistor_ratings.items() if each.si.power == watts), say(watts, "W"))


def _say(si: float, unit: str) -> str:
    return say(si, unit, _DIGITS)


def _whole(text: str) -> str:
    """The text with each number and its unit in one line."""
    return re.sub(r"(?<=\d) (?=[^\W\d]{1,3}(?:\W|$)|%)", "\u00a0", text)


@cache
def _template() -> jinja2.Template:
    environment = jinja2.Environment(
        loader=jinja2.PackageLoader("sigcalc.views"), autoescape=True, undefined=jinja2.StrictUndefined
    )
    environment.filters["whole"] = _whole
    return environment.get_template("sum.html.j2")
