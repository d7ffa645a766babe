"""Resistor or constant-current driver on a sagging supply, and one driver for lamps that want different currents."""

from __future__ import annotations

import numpy as np

from ..design.findings import FINE, LOOK, STOP, Finding
from ..design.pair.shared_limiter import SharedLimiter, share_limiter
from ..design.power.drive_choice import (
    DIODE,
    DRIVER,
    REGULATOR,
    RESISTOR,
    Comparison,
    compare_drives,
    current_with_bought_parts,
    same_current,
)
from ..parts.drive import ConstantCurrentDrive
from ..parts.led import leds
from ..units import Q, say
from ..views.findings import Answer
from ..views.resistor_or_constant_current import SagCurve, limiter_shares, sag_figures, sentence
from .base import Panel
from .control import NumberControl, choice, positions
from .two_wires_two_colours import led_choices

LAMPS, CURVE, BOTH = "lamps", "curve", "both"
OTHERS = {"a driver, constant current": DRIVER, "an adjustable regulator": REGULATOR, "current-regulator diodes": DIODE}
TOGETHER, IN_TURN = "at once", "in turn"
_LEAST_SHOWN = 0.05  # V; the curves begin here
_POINTS = 240


class DriveChoice(Panel):
    """A resistor and another drive, which give the same lamp the same current when the supply is fresh."""

    def __init__(self) -> None:
        self.curve = SagCurve()
        controls = [
            NumberControl("fresh supply", "V", 9, 24, 9, step=0.5),
            NumberControl("it has sagged by", "V", 0, 8, 0),
            NumberControl("wanted current", "mA", 1, 25, 10, step=0.5),
            choice("beside the resistor", list(OTHERS.items())),
            choice("LED", list(leds.items()), leds["bright red 3 mm"]),
            choice("in series", [("one LED", 1), ("two LEDs", 2), ("three LEDs", 3)]),
            positions("view", [LAMPS, CURVE, BOTH]),
        ]
        super().__init__(controls, "The supply sags: who keeps the light?", height="32em")

    def draw(self) -> Answer:
        """Both lamps with their figures, their curves, or both."""
        fresh = self["fresh supply"].checked()
        now = fresh - self["it has sagged by"].checked()
        lamp = [self["LED"].value] * self["in series"].value
        every = same_current(Q(fresh, "V"), lamp, self.text("wanted current"))
        drives = {name: every[name] for name in (RESISTOR, self["beside the resistor"].value)}
        comparison = compare_drives(Q(np.array([fresh, now]), "V"), drives, lamp)
        bands = {
            name: tuple(current_with_bought_parts(Q(now, "V"), drive, lamp).m_as("A")) for name, drive in drives.items()
        }
        pictures = []
        if self["view"].value != CURVE:
            pictures.append(sag_figures(comparison, bands, self.size))
        if self["view"].value != LAMPS:
            down = compare_drives(Q(np.linspace(_LEAST_SHOWN, fresh, _POINTS), "V"), drives, lamp)
            pictures.append(self.curve.picture(down, now, self.size))
        return Answer(tuple(pictures), sentence(comparison), _findings(comparison))


def _findings(comparison: Comparison) -> tuple[Finding, ...]:
    """The verdict, and what is not fine about a drive; the sentence says already how its light falls."""
    told = {say(over.si.stops_at, "V") for over in comparison.values()}
    return tuple(
        each
        for each in comparison.findings
        if each.topic == "comparison"
        or each.grade == STOP
        or (each.grade == LOOK and not any(volts in each.reason for volts in told))
    )


class SharedDriver(Panel):
    """Red and green behind one constant-current driver, each with a current of its own in mind."""

    def __init__(self) -> None:
        controls = [
            NumberControl("supply", "V", 2, 24, 9, step=0.5),
            NumberControl("driver", "mA", 1, 25, 10, step=0.5),
            NumberControl("red wants", "mA", 1, 20, 4, step=0.5),
            NumberControl("green wants", "mA", 1, 20, 10, step=0.5),
            NumberControl("resistor in red", "ohm", 0, 1000, 0, step=10),
            *led_choices(red="bright red 3 mm", green="ordinary green 3 mm"),
            positions("lit", [TOGETHER, IN_TURN]),
        ]
        super().__init__(controls, "One driver for two lamps that want different currents", height="30em")

    def draw(self) -> Answer:
        """What each lamp gets, as bars beside its wish."""
        drive = ConstantCurrentDrive(self.text("driver"), "1.5 V", 0.1)
        red = (self["red LED"].value, self.text("red wants"), self.text("resistor in red"))
        green = (self["green LED"].value, self.text("green wants"), "0 ohm")
        shared = share_limiter(self.text("supply"), drive, [red, green], self["lit"].value == TOGETHER)
        picture = limiter_shares(shared, self.size)
        return Answer((picture,), f"{picture.sentence} {_sum_words(shared)}", _of_the_sharing(shared))


def _sum_words(shared: SharedLimiter) -> str:
    if not shared.together:
        return ""
    return (
        f"Together that is {say(float(shared.si.current.sum()), 'A')} of the driver's {say(shared.drive.limit, 'A')}."
    )


def _of_the_sharing(shared: SharedLimiter) -> tuple[Finding, ...]:
    """What is wrong with the sharing, and with a lamp that gets too much; the sentence says the rest already."""
    found = shared.findings
    graver = tuple(each for each in found if each.grade == STOP or (each.grade == LOOK and each.topic == "one limiter"))
    return graver or (Finding(FINE, "one limiter", "Each lamp gets what it wants, or nearly."),)
