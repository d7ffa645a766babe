"""The LEDs people own in one table: names, colours, crystals, and the figures that tell them apart."""

from __future__ import annotations

from ..parts.led import leds
from ..units import say, say_band
from .style import NORMAL, Size
from .table import Table

SAME_CURRENT = 0.005
"""The current, in A, at which the light is compared: every LED of the table may carry it."""


def leds_people_own(folded: bool = True, size: Size = NORMAL) -> Table:
    """What each LED of the table is called, what is inside, and what is typical of it; folded up at first."""
    return Table(
        "The LEDs people own",
        ("LED", "colour", "crystal", "drop", "limit", f"light at {say(SAME_CURRENT, 'A')}"),
        [_row(name) for name in leds],
        "In brackets: from the least to the most that bought ones may have. Light is measured straight in front, in "
        "millicandela (mcd): a narrow beam gives a high figure, so look at one LED before you buy ten.",
        size,
        folded,
    )


def _row(name: str) -> tuple[str, ...]:
    led, figures = leds[name], leds.figures(name)
    current = figures["test_current"].text
    drop = led.voltage(current).m_as("V")
    ends = (drop - led.si.drop_below, drop, drop + led.si.drop_above)
    light = "not stated" if led.intensity is None else say(led.light_si(SAME_CURRENT), "cd")
    crystal = figures["technology"].value
    return name, led.colour, crystal, f"{say_band(*ends, 'V')} at {current}", say(led.si.max_current, "A"), light
