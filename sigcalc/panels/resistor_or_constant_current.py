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
from ..views.picture import Picture
from ..views.resistor_or_constant_current import (
    SagCurve,
    limiter_shares,
    sag_brief,
    sag_figures,
    sagging,
    sentence,
    sharing,
    sharing_brief,
)
from .base import AS_IT_LOOKS, Panel
from .control import NumberControl, choice, positions
from .two_wires_two_colours import led_choices

SOURCES = {"9 V battery": ("9 V battery", 9.0), "12 V adapter": ("adapter", 12.0), "24 V adapter": ("adapter", 24.0)}
"""How each supply looks, and what it gives when fresh, in V."""
LAMPS, CURVE, FIGURES = "lamps", "curve", "figures"
OTHERS = {"a driver, constant current": DRIVER, "an adjustable regulator": REGULATOR, "current-regulator diodes": DIODE}
TOGETHER, RED_ALONE, GREEN_ALONE = "both", "red", "green"
_LIT = {TOGETHER: ("red", "green"), RED_ALONE: ("red",), GREEN_ALONE: ("green",)}
_LEAST_SHOWN = 0.05  # V; the curves begin here
_POINTS = 240


class DriveChoice(Panel):
    """A resistor and another drive, which give the same lamp the same current when the supply is fresh."""

    wall = ("it has sagged by", "power")

    def __init__(self) -> None:
        self.curve = SagCurve()
        controls = [
            choice("power", list(SOURCES)),
            NumberControl("it has sagged by", "V", 0, 8, 0),
            NumberControl("wanted current", "mA", 1, 25, 10, step=0.5),
            choice("beside the resistor", list(OTHERS.items())),
            choice("LED", list(leds.items()), leds["bright red 3 mm"]),
            choice("in series", [("one LED", 1), ("two LEDs", 2), ("three LEDs", 3)]),
            positions("view", [LAMPS, CURVE, FIGURES]),
        ]
        super().__init__(controls, "The supply sags: who keeps the light?", height="32em", scene=True)
        self.show.value = AS_IT_LOOKS

    def draw(self) -> Answer:
        """Both lamps on their source, their curves, or their figures."""
        source = self["power"].value
        kind, fresh = SOURCES[source]
        now = fresh - self["it has sagged by"].checked()
        lamp = [self["LED"].value] * self["in series"].value
        every = same_current(Q(fresh, "V"), lamp, self.text("wanted current"))
        drives = {name: every[name] for name in (RESISTOR, self["beside the resistor"].value)}
        comparison = compare_drives(Q(np.array([fresh, now]), "V"), drives, lamp)
        view = self["view"].value
        if view == CURVE:
            down = compare_drives(Q(np.linspace(_LEAST_SHOWN, fresh, _POINTS), "V"), drives, lamp)
            pictures: tuple[Picture, ...] = (self.curve.picture(down, now, self.size),)
        elif view == FIGURES:
            bands = {
                name: tuple(current_with_bought_parts(Q(now, "V"), drive, lamp).m_as("A"))
                for name, drive in drives.items()
            }
            pictures = (sag_figures(comparison, bands, self.size),)
        else:
            seen, said = sagging(comparison, source, kind, fresh), sentence(comparison)
            pictures = self.pictured(lambda: seen.looks(said, self.size), lambda: seen.drawn(said, self.size))
        return Answer(pictures, sentence(comparison), _findings(comparison), sag_brief(comparison))


def _findings(comparison: Comparison) -> tuple[Finding, ...]:
    """The verdict, and what is not fine about a drive; the sentence says already how its light falls."""
    told, verdict = {say(over.si.stops_at, "V") for over in comparison.values()}, comparison.findings[-1]
    return tuple(
        each
        for each in comparison.findings
        if each == verdict
        or each.grade == STOP
        or (each.grade == LOOK and not any(volts in each.reason for volts in told))
    )


class SharedDriver(Panel):
    """Red and green behind one constant-current driver, each with a current of its own in mind."""

    wall = ("driver", "resistor in red", "lit")

    def __init__(self) -> None:
        controls = [
            choice("power", list(SOURCES)),
            NumberControl("driver", "mA", 1, 25, 10, step=0.5),
            NumberControl("red wants", "mA", 1, 20, 4, step=0.5),
            NumberControl("green wants", "mA", 1, 20, 10, step=0.5),
            NumberControl("resistor in red", "ohm", 0, 1000, 0, step=10),
            *led_choices(red="bright red 3 mm", green="ordinary green 3 mm"),
            positions("lit", list(_LIT), RED_ALONE),  # both is what the reader guesses at
        ]
        super().__init__(controls, "One driver for two lamps that want different currents", height="36em", scene=True)
        self.show.value = AS_IT_LOOKS

    def draw(self) -> Answer:
        """Both lamps behind their driver, and what each gets, as bars beside its wish."""
        kind, volts = SOURCES[self["power"].value]
        drive = ConstantCurrentDrive(self.text("driver"), "1.5 V", 0.1)
        red = (self["red LED"].value, self.text("red wants"), self.text("resistor in red"))
        green = (self["green LED"].value, self.text("green wants"), "0 ohm")
        lit = self["lit"].value
        shared = share_limiter(Q(volts, "V"), drive, [red, green], lit == TOGETHER)
        bars = limiter_shares(shared, self.size)
        seen = sharing(shared, self["power"].value, kind, volts, _LIT[lit], self["resistor in red"].checked())
        said = f"{bars.sentence} {_sum_words(shared)}".strip()
        pictures = self.beside(lambda: seen.looks(said, self.size), lambda: seen.drawn(said, self.size))
        return Answer((*pictures, bars), said, _of_the_sharing(shared), sharing_brief(shared))


def _sum_words(shared: SharedLimiter) -> str:
    if not shared.together:
        return ""
    return (
        f"Together that is {say(float(shared.si.current.sum()), 'A')} of the driver's {say(shared.drive.limit, 'A')}."
    )


def _of_the_sharing(shared: SharedLimiter) -> tuple[Finding, ...]:
    """What is wrong with the sharing, and with a lamp that gets too much; the sentence says the rest already."""
    found = shared.findings
    graver = tuple(
        each for each in found if each.grade == STOP or (each.grade == LOOK and each.topic == "one driver for both")
    )
    return graver or (Finding(FINE, "one driver for both", "Each lamp gets what it wants, or nearly."),)
