"""Two wires, two colours: which lamp lights, where the resistor goes, how the current is turned round, and AC."""

from __future__ import annotations

from ..design.findings import FINE, LOOK, STOP, Finding, worst
from ..design.lamp.drive import DEAD, lamp_look
from ..design.pair.alternation import AC, REVERSED, on_ac, turned_round
from ..design.pair.brightness import EVEN_UP_TO, EvenedOut, Evenness, compare_brightness, even_currents, even_out
from ..design.pair.two_lead_pair import PairStudy, TwoLeadPair, study_pair, with_series_diodes
from ..design.pair.wiring import BREAK_FIRST, MAKE_FIRST, RESISTOR_FIRST, Wiring, change, reversing, show, wirings
from ..lessons import two_wires_two_colours as lesson
from ..parts.contacts import Join
from ..parts.drive import ConstantCurrentDrive, Drive, ResistorDrive
from ..parts.led import leds
from ..units import Q, say
from ..views.findings import Answer
from ..views.picture import Picture
from ..views.scene.signal_scene import signal_scene
from ..views.scene.switch_scene import has_hand_switch, switch_front_and_back
from ..views.shared_wires import signals_on_wires
from ..views.signal_circuit import RESISTOR_IN, signal_brief, signal_circuit
from ..views.two_wires_two_colours import alternation_brief, brightness_bars, even_brief, timeline
from ..views.wiring import brief, reversing_brief, reversing_circuit, said
from .base import AS_IT_LOOKS, Panel
from .control import Control, NumberControl, choice, positions, switch

LIMITED_BY = "what limits the current"
WAYS = {"wire A is plus": "red", "wire B is plus": "green"}
SHARED, INSIDE, DRIVER = "one resistor, shared", "a resistor in each branch", "a driver, constant current"
BRIGHTNESS = "compare the brightness"
EXTRA, DIODES = "extra in one branch", "series diodes"
NOTHING = "0 ohm"
FULL = 24.0
"""Volts at the end of the bar of shared voltage: the most that a supply is set to."""


def led_choices(**chosen: str) -> list[Control]:
    """For each colour a list of its LEDs, with the one that is chosen at first."""
    return [
        choice(f"{colour} LED", [(name, led) for name, led in leds.items() if led.colour == colour], leds[value])
        for colour, value in chosen.items()
    ]


class PairPanel(Panel):
    """A supply, one shared resistor, and the red and the green LED back to back."""

    wall = ("direction", "resistor", "supply")

    def __init__(self) -> None:
        controls = [
            NumberControl("supply", "V", 0, 24, 9),
            NumberControl("resistor", "ohm", 100, 10_000, 680, logarithmic=True),
            choice("the resistor is in", RESISTOR_IN),
            *led_choices(red="bright red 3 mm", green="ordinary green 3 mm"),
            positions("direction", list(WAYS.items())),
        ]
        super().__init__(controls, "Which lamp lights?", height="30em", scene=True)

    def draw(self) -> Answer:
        """The circuit at the chosen direction, and what the limits of both lamps say."""
        two_lamps = TwoLeadPair(self["red LED"].value, self["green LED"].value)
        study = study_pair(self.text("supply"), ResistorDrive(self.text("resistor"), "5 %"), two_lamps)
        lamp = self["direction"].value
        point, shown = study.point(lamp), {"switch": False, "size": self.size}
        shown["resistor_in"] = self["the resistor is in"].value
        pictures = self.pictured(
            lambda: signal_scene(point, "supply", "adapter", bare=True, **shown),
            lambda: signal_circuit(point, "supply", adapter=True, full=FULL, **shown),
        )
        found = _of_this_direction(study, lamp)
        return Answer(pictures, pictures[0].sentence, found, signal_brief(point))


def _of_this_direction(study: PairStudy, lamp: str) -> tuple[Finding, ...]:
    """The findings on the lit lamp and on the one that is dark meanwhile; nothing is fine beside what must not be."""
    other = "green" if lamp == "red" else "red"
    topics = (f"{lamp} lamp", f"dark {other} lamp")
    found = tuple(each for each in study.findings if each.topic in topics)
    return tuple(each for each in found if each.grade != FINE or worst(found) != STOP)


class BranchPanel(Panel):
    """Where the resistor goes, the voltage across the dark lamp, and how even both lamps look."""

    wall = (EXTRA, BRIGHTNESS, LIMITED_BY)

    def __init__(self) -> None:
        controls = [
            NumberControl("supply", "V", 0, 24, 9),
            choice(LIMITED_BY, [SHARED, INSIDE, DRIVER]),
            NumberControl("resistor", "ohm", 100, 10_000, 680, logarithmic=True),
            NumberControl(EXTRA, "ohm", 0, 5000, 0, step=10),
            switch(DIODES),
            *led_choices(red="ordinary red 3 mm", green="ordinary green 3 mm"),
            choice("direction", list(WAYS.items())),
            switch(BRIGHTNESS),
        ]
        super().__init__(controls, "Where does the resistor go? Equally bright?", height="36em", scene=True)

    def draw(self) -> Answer:
        """The signal, bars if wanted, the reverse voltage on the dark lamp, and what would even the lamps out."""
        self["resistor"].enable(self[LIMITED_BY].value != DRIVER)
        supply, drive = self.text("supply"), self._drive()
        without = self._pair(TwoLeadPair(self["red LED"].value, self["green LED"].value), Q(NOTHING), "")
        extra, study = Q(self.text(EXTRA)), study_pair(supply, drive, without)
        evenness = plain = _compared(study)
        if evenness is not None and extra.magnitude:
            study = study_pair(supply, drive, self._pair(without, extra, evenness.brighter))
            evenness = _compared(study)
        if any(lamp_look(getattr(without, each), study.point(each).si.current) == DEAD for each in ("red", "green")):
            evenness = None
        lamp = self["direction"].value
        sentence = f"{_reverse_words(study, lamp)} {_even_words(study, evenness, supply)}"
        bars = self._bars(study, evenness, plain)
        found = _not_fine(study, lamp, evenness)
        # what must not be built says why, unless the bars are what is shown
        why = evenness is None or (worst(found) == STOP and not bars)
        told = signal_brief(study.point(lamp)) if why else even_brief(study, evenness, supply)
        return Answer(self._in_order(self._circuits(study, lamp), bars), sentence, found, told)

    def _drive(self) -> Drive:
        """What both lamps share: a resistor, a driver, or a plain wire."""
        way = self[LIMITED_BY].value
        if way == DRIVER:
            return lesson.DRIVER
        return ResistorDrive(self.text("resistor") if way == SHARED else NOTHING)

    def _pair(self, lamps: TwoLeadPair, extra: object, brighter: str) -> TwoLeadPair:
        """The pair with the resistors inside its branches, and the diodes."""
        inside = self.text("resistor") if self[LIMITED_BY].value == INSIDE else NOTHING
        red, green = (Q(inside) + (extra if lamp == brighter else Q(NOTHING)) for lamp in ("red", "green"))
        made = TwoLeadPair(lamps.red, lamps.green, extra_red=red, extra_green=green)
        return with_series_diodes(made) if self[DIODES].value else made

    def _circuits(self, study: PairStudy, lamp: str) -> tuple[Picture, ...]:
        point = study.point(lamp)
        return self.pictured(
            lambda: signal_scene(point, "supply", "adapter", switch=False, size=self.size),
            lambda: signal_circuit(point, "supply", adapter=True, switch=False, size=self.size, full=FULL),
        )

    def _bars(self, study: PairStudy, evenness: Evenness | None, plain: Evenness | None) -> tuple[Picture, ...]:
        """How bright both lamps are, if wanted; a dark lamp has no bar, nor has a dead one; `plain`: nothing extra."""
        if not self[BRIGHTNESS].value or evenness is None:
            return ()
        # of the lamps with nothing extra on a wall, else of their limits: a bar stays while the other lamp is dimmed
        lamps = (study.red.pair.red, study.red.pair.green)
        limits = (float(led.light_si(led.si.max_current)) for led in lamps)
        full = 1.1 * max(plain.si.red_light, plain.si.green_light) if self.on_stage else max(limits)
        return (brightness_bars(evenness, full, self.size),)


def _compared(study: PairStudy) -> Evenness | None:
    """How even the lamps look; None where one of them is dark in both directions."""
    if "none" in (study.red.lit, study.green.lit):
        return None
    lamps = study.red.pair
    return compare_brightness(lamps.red, lamps.green, study.red.current, study.green.current)


def _reverse_words(study: PairStudy, lamp: str) -> str:
    other = "green" if lamp == "red" else "red"
    point, dark = study.point(lamp), getattr(study.red.pair, other)
    across, limit = say(point.si.reverse_voltage, "V"), say(dark.si.max_reverse_voltage, "V")
    if point.lit == "none":
        return f"Neither lamp is lit; the {other} LED has {across} across it in reverse."
    if point.pair.series_diode is not None:
        blocked = "its plain diode blocks it"
        return f"While {lamp} is lit, the dark {other} branch has {across} across it in reverse; {blocked}."
    return f"While {lamp} is lit, the dark {other} LED has {across} across it in reverse; its limit is {limit}."


def _even_words(study: PairStudy, evenness: Evenness | None, supply: str) -> str:
    """The exact remedy; how uneven the lamps look is a finding."""
    if evenness is None:
        return "A lamp that gives no light compares with nothing."
    if evenness.ratio <= EVEN_UP_TO:
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


def _price(study: PairStudy, evening: EvenedOut, supply: float) -> str:
    """What the remedy would do to the dark lamp, where that is too much and no diode blocks it."""
    point, other = study.point(evening.lamp), "green" if evening.lamp == "red" else "red"
    limit = getattr(point.pair, other).si.max_reverse_voltage
    across = supply - getattr(evening.si, f"{evening.lamp}_current") * point.drive.series_resistance
    if point.pair.series_diode is not None or across <= limit or point.si.reverse_voltage > limit:
        return ""
    return f" But then the dark {other} LED has {say(across, 'V')} across it in reverse: tick {DIODES} as well."


def _not_fine(study: PairStudy, lamp: str, evenness: Evenness | None) -> tuple[Finding, ...]:
    """What is wrong, but nothing twice: of the two directions only the one that is shown."""
    other = "green" if lamp == "red" else "red"
    of_the_other = (f"{other} lamp", f"dark {lamp} lamp")
    found = [each for each in study.findings if each.topic not in of_the_other]
    held = isinstance(study.red.drive, ConstantCurrentDrive)
    found += evenness.judged(held=held) if evenness is not None else ()
    return tuple(each for each in found if each.grade != FINE) or (
        Finding(FINE, "pair", "In this direction both lamps are within their limits, and they look about alike."),
    )


FIRST_RESISTOR = "the resistor comes before the switch"
FIRST, LAST = "up, or coil off", "down, or coil on"
OPEN, BRIDGED = "between, touching nothing", "between, touching both"
# by names that the list shows whole; the drawing's sentence says the full one
ONE_SIGNAL = {
    "crossed switch": wirings["crossed double-throw switch"],
    "crossed, centre off": wirings["crossed double-throw switch, centre off"],
    "crossed relay": wirings["crossed two-pole relay"],
    "cutting switch": wirings["double-pole single-throw switch"],
    "split supply": wirings["one changeover contact on a split supply"],
    "wrong: both straight": wirings["straight instead of crossed"],
    "wrong: one straight": wirings["crossed double-throw switch, one jumper straight"],
    "wrong: one missing": wirings["crossed double-throw switch, one jumper missing"],
    "wrong: + − exchanged": wirings["crossed double-throw switch, supply exchanged"],
}
TWO_SIGNALS = {
    "shared return wire": wirings["two signals, one supply, shared return"],
    "own wires": wirings["two signals, one supply, own wires"],
    "shared, own supplies": wirings["two signals, own supplies, shared return"],
    "shared, split supply": wirings["two signals, split supply, shared return"],
    "behind one switch": wirings["two signals behind one switch"],
}


class ReversingPanel(Panel):
    """A wiring with one switch or relay, its contacts at either end or on the way."""

    first_shown = AS_IT_LOOKS
    wall = ("contacts", "wiring")

    def __init__(self) -> None:
        controls = [
            switch(FIRST_RESISTOR),
            choice("wiring", list(ONE_SIGNAL.items())),
            positions("contacts", [FIRST, OPEN, BRIDGED, LAST]),
        ]
        super().__init__(controls, "How is the current turned round?", height="34em", scene=True)

    def draw(self) -> Answer:
        """The wiring with its contacts where they are."""
        wiring, before = self["wiring"].value, self[FIRST_RESISTOR]
        single = len(wiring.sources) == 1  # on a split supply no one place of the resistor is before the switch
        before.enable(single)
        first = before.value and single
        closed, words = _contacts(wiring, self["contacts"].value)
        shown = show(wiring, closed, words)
        circuit = reversing_circuit(wiring, closed, shown, resistor_first=first, size=self.size)
        where = self["contacts"].value
        pictures, by_hand = (circuit,), has_hand_switch(wiring)
        self.show.enable(by_hand)  # a relay and a split supply are drawn with symbols only
        if by_hand:
            up, bridged = {FIRST: True, LAST: False}.get(where), where == BRIDGED
            pictures = self.pictured(
                lambda: switch_front_and_back(up, wiring, self.size, bridged, first), lambda: circuit
            )
        found = _findings(wiring, where, tamed=first and shown.short)
        said = f"{circuit.sentence} {wiring.name.capitalize()}: {wiring.says}."
        return Answer(pictures, said, found, reversing_brief(wiring, shown, first))


def _contacts(wiring: Wiring, where: str) -> tuple[tuple[Join, ...], str]:
    """What is joined, and the position in words."""
    ((label, device),) = wiring.devices
    first, *_, last = device.positions
    if where in (FIRST, LAST):
        name = first if where == FIRST else last
        return wiring.closed([name]), f"{label} {name}"
    if where == OPEN:
        return (), f"{label} between {first} and {last}, touching nothing"
    both = dict.fromkeys((*wiring.closed([first]), *wiring.closed([last])))
    return tuple(both), f"{label} between {first} and {last}, touching both"


def _findings(wiring: Wiring, where: str, tamed: bool) -> tuple[Finding, ...]:
    """The verdict on the wiring; on the way, the verdict on contacts of that manner.

    A short circuit that is `tamed`, behind the resistor, only puts the supply across it.
    """
    found = reversing(wiring).findings
    if where in (FIRST, LAST):
        return found
    if where == BRIDGED and tamed:
        remedy = "Use contacts that break before they make."
        return (Finding(LOOK, "changing over", RESISTOR_FIRST, remedy),)
    ((_, device),) = wiring.devices
    first, *_, last = device.positions
    way = change(wiring, first, last, BREAK_FIRST if where == OPEN else MAKE_FIRST).findings
    # beside a short circuit on the way nothing is fine about the wiring
    return way if worst(way) == STOP and worst(found) != STOP else (*found, *way)


_SHORT = Finding(
    STOP,
    "this position",
    "The current goes past the lamps, through two closed switches on the same side: only the source limits it.",
    "Open one of these two.",
)


class FourSwitchesPanel(Panel):
    """Four single switches around the pair."""

    wiring = wirings["four-switch bridge"]
    _closed_first = ("switch 1", "switch 4")
    wall = tuple(f"{label} closed" for label, _ in wiring.devices)

    def __init__(self) -> None:
        controls = [
            switch("the resistor comes before the switches"),
            *(switch(f"{label} closed", label in self._closed_first) for label, _ in self.wiring.devices),
        ]
        super().__init__(controls, "Four single switches: which two light red?", height="34em")

    def draw(self) -> Answer:
        """The bridge with its switches as they are set."""
        states = ["closed" if self[f"{label} closed"].value else "open" for label, _ in self.wiring.devices]
        closed = self.wiring.closed(states)
        shown = show(self.wiring, closed, self.wiring.in_words(states))
        first = self["the resistor comes before the switches"].value
        circuit = reversing_circuit(self.wiring, closed, shown, resistor_first=first, size=self.size)
        found = reversing(self.wiring).findings
        found = (_SHORT, *found) if shown.short and not first else found
        return Answer((circuit,), circuit.sentence, found, brief(shown, first))


_ONE_SWITCH = (
    Finding(
        LOOK,
        "one switch",
        "Both signals are side by side behind one switch and always show the same.",
        "Where they are to show different colours, give each a switch and two wires of its own.",
    ),
)


class SharedReturnPanel(Panel):
    """Two signals, each with a switch of its own, and the ways of saving a wire."""

    wall = ("switch 1", "switch 2", "wiring")

    def __init__(self) -> None:
        controls = [
            choice("wiring", list(TWO_SIGNALS.items())),
            positions("switch 1", ["up", "down"]),
            positions("switch 2", ["up", "down"]),
        ]
        super().__init__(controls, "May two signals share a wire?", height="36em")

    def draw(self) -> Answer:
        """Both signals on their wires."""
        wiring = self["wiring"].value
        self["switch 2"].enable(len(wiring.devices) > 1)  # else one switch turns both signals round
        states = [self[label].value for label, _ in wiring.devices]
        shown = show(wiring, wiring.closed(states), wiring.in_words(states))
        picture = signals_on_wires(wiring, shown, size=self.size)
        found = _ONE_SWITCH if len(wiring.devices) < 2 else reversing(wiring).sharing
        return Answer((picture,), said(shown), found, brief(shown))


class AlternationPanel(Panel):
    """A supply that turns round all the time, one shared resistor, and the pair."""

    wall = ("frequency", "supply turns round", "share of the time for red")

    def __init__(self) -> None:
        controls = [
            positions("supply turns round", [("as AC does", AC), ("by quick reversal of DC", REVERSED)]),
            NumberControl("supply", "V", 0, 24, 12),
            NumberControl("frequency", "Hz", 1, 3000, 60, logarithmic=True),
            NumberControl("share of the time for red", "%", 5, 95, 50, step=1),
            NumberControl("resistor", "ohm", 100, 10_000, 1000, logarithmic=True),
            *led_choices(red="ordinary red 3 mm", green="ordinary green 3 mm"),
        ]
        super().__init__(controls, "When the supply turns round all the time", height="36em")

    def draw(self) -> Answer:
        """The timeline of both lamps; the share of the time counts only for quick reversal."""
        on_mains = self["supply turns round"].value == AC
        self["share of the time for red"].enable(not on_mains)
        lamps = TwoLeadPair(self["red LED"].value, self["green LED"].value)
        drive, frequency = ResistorDrive(self.text("resistor"), "5 %"), self.text("frequency")
        if on_mains:
            result = on_ac(self.text("supply"), drive, lamps, frequency)
        else:
            share = self.text("share of the time for red")
            result = turned_round(self.text("supply"), drive, lamps, frequency, share)
        told = tuple(each for each in result.findings if each.grade != FINE)
        full = max(float(led.si.max_current) for led in (lamps.red, lamps.green))  # of the LEDs alone, so that it stays
        return Answer((timeline(result, self.size, full),), result.sentence, told, alternation_brief(result))
