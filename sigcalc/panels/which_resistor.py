"""Which resistor to buy, or to take from one's own drawer: its bands, its load line, and what bought parts may do."""

from __future__ import annotations

import re
from typing import Any

from ..design.findings import FINE, Finding
from ..design.lamp.drawer import IN_PARALLEL, Combination, choose_from_drawer
from ..design.lamp.drive import operate
from ..design.lamp.resistor import Choice, choose_resistor
from ..errors import UnitError
from ..lessons.which_resistor import SERIES, SUPPLY_TOLERANCES, TOLERANCES
from ..parts.drive import ResistorDrive
from ..parts.led import leds
from ..parts.marking import colour_bands
from ..parts.resistor import rating_for, rating_name
from ..units import Q, say
from ..units.quantity import unit
from ..units.reading import quoted
from ..views.chart import nice
from ..views.findings import Answer
from ..views.led_circuit import one_led_circuit
from ..views.phrases import current_words
from ..views.picture import Picture
from ..views.scene.first_circuit import one_led_scene
from ..views.scene.joined import joined_scene
from ..views.which_resistor import colour_band_picture, heat_bar, joined_resistors
from ..views.why_a_resistor import LoadLine
from .base import Panel
from .control import NumberControl, choice, switch, text_line
from .why_a_resistor import causes

LOAD_LINE = "load line"
DRAWER = "own drawer (ohm)"
_HIGHEST = 24.0  # V of supply
_WARM_SUPPLY = 15.0  # V, the most of it where the heat is looked at
_TOP = 1.25  # times the LED's limit, at the top of the load line's axes
_ACROSS = 4.9  # V at the right of them: the LEDs' curves and their spread fill the picture, and the line may leave it
_VALUES = "such as 470, 1k, 2k2"
# values are kept apart by a semicolon, a comma with a space after it, or a space before a digit; "4,7" is refused later
_BETWEEN = re.compile(r"\s*;\s*|\s*,(?:\s+|$)|\s+(?=[\d.])")


class WhichResistor(Panel):
    """A wish (supply, current, LED) and what resistors there are; empty is the drawer of a shop."""

    wall = ("wanted current", "supply", "series")

    def __init__(self) -> None:
        self.load_line = LoadLine()
        controls = [
            NumberControl("supply", "V", 1, _HIGHEST, 12, step=0.5),
            choice("supply tolerance", list(SUPPLY_TOLERANCES.items()), 0.05),
            NumberControl("wanted current", "mA", 0.5, 30, 10, step=0.5),
            choice("series", SERIES, "E12", narrow=True),
            choice("its tolerance", list(TOLERANCES.items()), 0.05, narrow=True),
            text_line(DRAWER, hint=_VALUES),
            choice("LED", list(leds.items()), leds["bright red 3 mm"]),
            switch(LOAD_LINE),
        ]
        super().__init__(controls, "What you have, what you want, what to ask for", height="27em")

    def draw(self) -> Answer:
        """The resistor with its bands, the load line if wanted, and what to ask for in the shop."""
        self["series"].enable(not self[DRAWER].value.strip())  # it counts only where the shop is asked
        drawer = read_drawer(self[DRAWER].value)
        return self._from_drawer(drawer) if drawer else self._from_shop()

    @property
    def _wish(self) -> dict[str, object]:
        return {
            "supply": self.text("supply"),
            "led": self["LED"].value,
            "current": self.text("wanted current"),
            "tolerance": self["its tolerance"].value,
            "supply_tolerance": self["supply tolerance"].value,
        }

    def _from_shop(self) -> Answer:
        found = choose_resistor(**self._wish, series=self["series"].value)
        bands = (self._bands(found.si.resistance),)
        si, pictures = found.si, self._pictures(found.si.resistance, bands)
        told = f"Buy {say(si.resistance, 'ohm')}, {rating_name(si.rating)}: it gives {say(si.current, 'A')}."
        return Answer(pictures, _to_buy(found), _graver(found.findings), told)

    def _from_drawer(self, drawer: list[str]) -> Answer:
        (best,) = choose_from_drawer(**self._wish, drawer=drawer, count=1)
        # two of one value have the same bands
        bands = tuple(self._bands(each) for each in dict.fromkeys((best.si.first, best.si.second)) if each is not None)
        if best.si.second is not None:
            parallel = best.arrangement == IN_PARALLEL
            both, tolerance = (best.si.first, best.si.second), self["its tolerance"].value
            things = joined_scene(*both, tolerance, parallel, self.size)
            bands = (things, joined_resistors(*both, parallel, self.size), *bands)
        told = f"{best.parts[:1].upper()}{best.parts[1:]}: {say(best.si.current, 'A')}."
        return Answer(self._pictures(best.si.resistance, bands), _to_take(best), _graver(best.findings), told)

    def _bands(self, ohms: float) -> Picture:
        tolerance = self["its tolerance"].value
        caption = f"{say(ohms, 'ohm')} ± {say(tolerance, '')}"
        return colour_band_picture(colour_bands(Q(ohms, "ohm"), tolerance), caption, self.size)

    def _pictures(self, ohms: float, bands: tuple[Picture, ...]) -> tuple[Picture, ...]:
        if not self[LOAD_LINE].value:
            return bands
        resistor = ResistorDrive(Q(ohms, "ohm"), self["its tolerance"].value)
        point = operate(self.text("supply"), resistor, self["LED"].value)
        line = self.load_line.picture(
            point, spread=True, size=self.size, most=nice(_TOP * point.weakest.si.max_current), right=_ACROSS
        )
        return self._in_order(bands, (line,))


class ResistorHeat(Panel):
    """A resistor and an LED on a supply, and the heat in the resistor."""

    wall = ("resistor", "supply")

    def __init__(self) -> None:
        controls = [
            NumberControl("supply", "V", 3, _WARM_SUPPLY, 12, step=0.5),
            NumberControl("resistor", "ohm", 220, 12_000, 1200, logarithmic=True),
            choice("LED", list(leds.items()), leds["bright red 3 mm"]),
        ]
        super().__init__(controls, "Which resistor gets hotter?", height="30em", scene=True)

    def draw(self) -> Answer:
        """The circuit, and the heat on a scale that stays."""
        point = operate(self.text("supply"), ResistorDrive(self.text("resistor")), self["LED"].value)
        si, supply = point.si, f"{self['supply'].value:g} V supply"
        pictures = self.pictured(
            lambda: one_led_scene(point, supply, "bench supply", size=self.size),
            lambda: one_led_circuit(point, supply, size=self.size, full=_WARM_SUPPLY),
        )
        ohms, heat = point.drive.si.resistance, say(si.drive_power, "W")
        said = (
            f"{say(si.drive_voltage, 'V')} across {say(ohms, 'ohm')} times {current_words(si.current)} through it make "
            f"{heat} of heat. Ask for a rating of {rating_for(point.drive_power).name}."
        )
        bar, findings = heat_bar(si.drive_power, self.size), causes(point.findings)
        told = f"{say(si.drive_voltage, 'V')} times {current_words(si.current)}: {heat} of heat in the resistor."
        return Answer((bar, *pictures), said, findings, told)


def read_drawer(typed: str) -> list[str]:
    """The values of a drawer as typed: "470, 1k, 4k7" or "470 ohm; 1 kohm"; numbers alone are ohms.

    Raises UnitError for a comma between digits, which may part two values or stand for a decimal point, and for what
    is no resistance.
    """
    if found := re.search(r"[\w.]*\d,\d[\w.]*", typed):
        raise UnitError(
            f"own drawer: {quoted(found[0])} may be two values or one; put a space after a comma that parts two "
            "values, and write a decimal point as a point"
        )
    return [_resistance(each) for each in _BETWEEN.split(typed.strip()) if each]


def _resistance(typed: str) -> str:
    """A value such as "470" or "1k" with the unit that is understood."""
    value = f"{typed} ohm" if re.fullmatch(r"[\d.]+", typed) else typed
    try:
        understood = Q(value).is_compatible_with(unit("ohm"))
    except UnitError:
        understood = False
    if not understood:
        raise UnitError(f"own drawer: {quoted(typed)} is no resistance; type values {_VALUES}")
    return value


def _to_buy(found: Choice) -> str:
    si = found.si
    part = f"{say(si.resistance, 'ohm')} ± {say(si.tolerance, '')}, {rating_name(si.rating)}"
    return (
        f"Buy {part}: {', '.join(found.bands)}. "
        f"It gives {say(si.current, 'A')}. {_bands_of_current(si)} "
        f"At most {say(si.power, 'W')} of heat. Exactly {say(si.wanted, 'A')} would need {say(si.exact, 'ohm')}."
    )


def _to_take(best: Combination) -> str:
    si = best.si
    both = dict.fromkeys((si.first_rating, si.second_rating))
    ratings = " and ".join(rating_name(each) for each in both if each is not None)
    twice = " You need two of that value." if si.first == si.second else ""
    return f"From your drawer use {best}.{twice} {_bands_of_current(si)} Rating {ratings} or more."


def _bands_of_current(si: Any) -> str:
    return (
        f"The resistor's tolerance makes that {say(si.current_min, 'A')} to {say(si.current_max, 'A')}; "
        f"with supply and LED as well, {say(si.worst_min, 'A')} to {say(si.worst_max, 'A')}."
    )


def _graver(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    return tuple(each for each in findings if each.grade != FINE)
