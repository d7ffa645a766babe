"""Two wires, two colours: which lamp of the pair lights, where its resistor goes, and what evens the lamps out."""

from __future__ import annotations

from ..design.findings import FINE, Finding
from ..design.lamp.drive import DEAD, lamp_look
from ..design.pair import brightness, pair
from ..design.pair.brightness import Evenness, compare_brightness, even_currents, even_out
from ..design.pair.pair import PairStudy, study_pair, with_series_diodes
from ..design.pair.two_lead_pair import TwoLeadPair
from ..parts.drive import ConstantCurrentDrive, Drive, ResistorDrive
from ..parts.led import leds
from ..units import Q, say
from ..views.brightness import picture_of
from ..views.picture import Picture
from ..views.schematic import signal_circuit
from .base import Panel
from .control import Control, NumberControl, choice, positions, switch
from .scene import Scene

WAYS = {"wire A is plus": +1, "wire B is plus": -1}
SHARED, INSIDE, DRIVER = "one resistor, shared", "a resistor in each branch", "a driver, constant current"
CIRCUIT, BRIGHTNESS, BOTH = "circuit", "brightness", "both"
EXTRA, DIODES = "extra in one branch", "series diodes"
NOTHING = "0 ohm"


def led_choice(colour: str, value: str) -> Control:
    """A list of the LEDs of one colour."""
    return choice(f"{colour} LED", [(name, led) for name, led in leds.items() if led.colour == colour], leds[value])


class PairPanel(Panel):
    """A supply, one shared resistor, and the red and the green LED head to tail."""

    height = "30em"

    def __init__(self) -> None:
        controls = [
            NumberControl("supply", "V", 0, 24, 9),
            NumberControl("resistor", "ohm", 100, 10_000, 680, logarithmic=True),
            led_choice("red", "red alingap 3 mm"),
            led_choice("green", "green gap 3 mm"),
            positions("direction", list(WAYS)),
        ]
        super().__init__(controls, "Which lamp lights?")

    def draw(self) -> Scene:
        """The circuit at the chosen direction, and what the limits of both lamps say."""
        two_lamps = TwoLeadPair(self["red LED"].value, self["green LED"].value)
        study = study_pair(self.text("supply"), ResistorDrive(self.text("resistor"), "5 %"), two_lamps)
        lamp = "red" if WAYS[self["direction"].value] > 0 else "green"
        circuit = signal_circuit(study.point(lamp), "supply", adapter=True, size=self.size)
        return Scene((circuit,), circuit.sentence, _of_this_direction(study, lamp))


def _of_this_direction(study: PairStudy, lamp: str) -> tuple[Finding, ...]:
    """The findings on the lit lamp and on the one that is dark meanwhile."""
    other = "green" if lamp == "red" else "red"
    topics = (f"{lamp} lamp", f"dark {other} lamp")
    return tuple(each for each in pair.findings(study) if each.topic in topics)


class BranchPanel(Panel):
    """Where the resistor goes, what then lies across the dark lamp, and how even both lamps look."""

    height = "36em"
    driver = ConstantCurrentDrive("10 mA", "1.5 V")

    def __init__(self) -> None:
        controls = [
            NumberControl("supply", "V", 0, 24, 9),
            choice("what limits the current", [SHARED, INSIDE, DRIVER]),
            NumberControl("resistor", "ohm", 100, 10_000, 680, logarithmic=True),
            NumberControl(EXTRA, "ohm", 0, 5000, 0, step=10),
            switch(DIODES),
            led_choice("red", "red gaasp 3 mm"),
            led_choice("green", "green gap 3 mm"),
            choice("direction", list(WAYS)),
            choice("view", [CIRCUIT, BRIGHTNESS, BOTH]),
        ]
        super().__init__(controls, "Where does the resistor go, and are the lamps equally bright?")

    def redraw(self) -> None:
        """Draw again, with only those controls enabled that count."""
        self["resistor"].enable(self["what limits the current"].value != DRIVER)
        super().redraw()

    def draw(self) -> Scene:
        """Circuit, brightness or both; the reverse voltage on the dark lamp, and what would even the lamps out."""
        supply, drive = self.text("supply"), self._drive()
        without = self._pair(TwoLeadPair(self["red LED"].value, self["green LED"].value), Q(NOTHING), "")
        extra, study = Q(self.text(EXTRA)), study_pair(supply, drive, without)
        evenness = _compared(study)
        if evenness is not None and extra.magnitude:
            study = study_pair(supply, drive, self._pair(without, extra, evenness.brighter))
            evenness = _compared(study)
        if any(lamp_look(getattr(without, each), study.point(each).si.current) == DEAD for each in ("red", "green")):
            evenness = None
        lamp = "red" if WAYS[self["direction"].value] > 0 else "green"
        sentence = f"{_reverse_words(study, lamp)} {_even_words(study, evenness, supply)}"
        return Scene(self._pictures(study, lamp, evenness), sentence, _not_fine(study, lamp, evenness))

    def _drive(self) -> Drive:
        """What both lamps share: a resistor, a driver, or a plain wire."""
        way = self["what limits the current"].value
        if way == DRIVER:
            return self.driver
        return ResistorDrive(self.text("resistor") if way == SHARED else NOTHING)

    def _pair(self, lamps: TwoLeadPair, extra: object, brighter: str) -> TwoLeadPair:
        """The pair with the resistors inside its branches, and the diodes."""
        inside = self.text("resistor") if self["what limits the current"].value == INSIDE else NOTHING
        red, green = (Q(inside) + (extra if lamp == brighter else Q(NOTHING)) for lamp in ("red", "green"))
        made = TwoLeadPair(lamps.red, lamps.green, extra_red=red, extra_green=green)
        return with_series_diodes(made) if self[DIODES].value else made

    def _pictures(self, study: PairStudy, lamp: str, evenness: Evenness | None) -> tuple[Picture, ...]:
        view = self["view"].value
        circuit = signal_circuit(study.point(lamp), "supply", adapter=True, switch=view == CIRCUIT, size=self.size)
        if view == CIRCUIT or evenness is None:  # a dark lamp has no bar, nor has a dead one
            return (circuit,)
        lamps = (study.red.pair.red, study.red.pair.green)
        # the scale hangs on the LEDs alone: a lamp's bar stays as it is while the other one is dimmed
        full = max(float(led.light_si(led.si.max_current)) for led in lamps)
        bars = picture_of(evenness, full=Q(full, "cd"), size=self.size)
        return (bars,) if view == BRIGHTNESS else (circuit, bars)


def _compared(study: PairStudy) -> Evenness | None:
    """How even the lamps look; None where one of them is dark in both directions."""
    if "none" in (study.red.lit, study.green.lit):
        return None
    lamps = study.red.pair
    return compare_brightness(lamps.red, lamps.green, study.red.current, study.green.current)


def _reverse_words(study: PairStudy, lamp: str) -> str:
    other = "green" if lamp == "red" else "red"
    point, dark = study.point(lamp), getattr(study.red.pair, other)
    across, stands = say(point.si.reverse_voltage, "V"), say(dark.si.max_reverse_voltage, "V")
    if point.lit == "none":
        return f"Neither lamp is lit; the {other} LED has {across} across it in reverse."
    if point.pair.series_diode is not None:
        blocked = "its plain diode blocks it"
        return f"While {lamp} is lit, the dark {other} branch has {across} across it in reverse; {blocked}."
    return f"While {lamp} is lit, the dark {other} LED has {across} across it in reverse; it stands {stands}."


def _even_words(study: PairStudy, evenness: Evenness | None, supply: str) -> str:
    """The exact remedy; how uneven the lamps look is a finding."""
    if evenness is None:
        return "A lamp that gives no light compares with nothing."
    if evenness.ratio <= brightness.EVEN_UP_TO:
        return "Both lamps are typically about as bright as each other."
    point, lamps = study.red, study.red.pair
    if isinstance(point.drive, ConstantCurrentDrive):
        currents = even_currents(lamps.red, lamps.green, point.drive.current)
        red, green = (say(each.m_as("A"), "A") for each in currents)
        return f"Two drivers, {red} for red and {green} for green, would make typical lamps equally bright."
    evening = even_out(supply, point.drive, lamps)
    return (
        f"Another {say(evening.si.extra, 'ohm')} in the {evening.lamp} branch would make typical lamps equally bright."
        f"{_price(study, evening, Q(supply).m_as('V'))}"
    )


def _price(study: PairStudy, evening: brightness.Evening, supply: float) -> str:
    """What the remedy would do to the dark lamp, where that is too much and no diode blocks it."""
    point, other = study.point(evening.lamp), "green" if evening.lamp == "red" else "red"
    stands = getattr(point.pair, other).si.max_reverse_voltage
    across = supply - getattr(evening.si, f"{evening.lamp}_current") * point.drive.series_resistance
    if point.pair.series_diode is not None or across <= stands or point.si.reverse_voltage > stands:
        return ""
    return f" But then the dark {other} LED has {say(across, 'V')} across it in reverse: tick {DIODES} as well."


def _not_fine(study: PairStudy, lamp: str, evenness: Evenness | None) -> tuple[Finding, ...]:
    """What is wrong, but nothing twice: of the two directions only the one that is shown."""
    other = "green" if lamp == "red" else "red"
    of_the_other = (f"{other} lamp", f"dark {lamp} lamp")
    found = [each for each in pair.findings(study) if each.topic not in of_the_other]
    held = isinstance(study.red.drive, ConstantCurrentDrive)
    found += brightness.findings(evenness, held=held) if evenness is not None else []
    return tuple(each for each in found if each.grade != FINE) or (
        Finding(FINE, "pair", "In this direction both lamps are within their limits, and they look about alike."),
    )
