"""Why an LED needs a resistor: its steep curve, and its current from a real source with a resistor and without."""

from __future__ import annotations

from ..design.findings import STOP, Finding
from ..design.lamp.direct import FromSource, connect_to_source, steepness
from ..design.lamp.drive import DEAD, OperatingPoint, lamp_look, operate
from ..lessons.why_a_resistor import BARE, RED, SOURCES
from ..parts.drive import ResistorDrive
from ..parts.led import Led, leds
from ..parts.source import Adapter
from ..units import Q, say
from ..views.chart import nice
from ..views.findings import Answer
from ..views.led_circuit import led_brief, one_led_circuit
from ..views.phrases import current_words, two_figures
from ..views.picture import Picture
from ..views.scene.first_circuit import one_led_scene
from ..views.scene.source import kind_of
from ..views.why_a_resistor import AgainstResistor, LoadLine, steepness_brief
from .base import Panel
from .control import NumberControl, choice, switch

LOAD_LINE = "load line"
FULL = max(connect_to_source(source, leds[RED], "1 kohm").si.open_voltage for source in SOURCES.values())
"""Volts at the end of the bar of shared voltage, whatever the source."""
_TOP = 2.0  # times the LED's limit, at the top of the load line's axes
_CLEARLY = 1.05  # less of an excess is no number of times


class ALittleMore(Panel):
    """A voltage straight across an LED, and a tenth of a volt more: the curve against a resistor's straight line."""

    wall = ("voltage", "LED")

    def __init__(self) -> None:
        self.chart = AgainstResistor()
        self._led = leds[RED]
        controls = [
            NumberControl("voltage", "V", *_useful(self._led), step=0.05),
            choice("LED", list(leds.items()), self._led),
        ]
        super().__init__(controls, "A voltage straight across an LED, and 0.1 V more", height="29em")

    def draw(self) -> Answer:
        """The LED on a supply, and both lines with the two voltages."""
        led = self["LED"].value
        if led is not self._led:
            self._led = led
            with self.silent():
                self["voltage"].reach(*_useful(led))
        result = steepness(led, self.text("voltage"))
        chart = self.chart.picture(result, self.size)
        point = operate(result.voltage, ResistorDrive("0 ohm"), led)
        things = one_led_scene(point, "supply", "bench supply", size=self.size)
        return Answer(self._in_order((things,), (chart,)), chart.sentence, brief=steepness_brief(result))


def _useful(led: Led) -> tuple[float, float, float]:
    """Where the voltage across that LED is worth moving: from dark, where it begins, to well beyond its limit."""
    ends = (led.model.voltage_si(share * led.si.max_current) for share in (1e-6, 2.0))
    low, high = (round(round(float(volts) / 0.05) * 0.05, 2) for volts in ends)
    return low, high, low


class WhyAResistor(Panel):
    """A source, a resistor or a bare wire, and an LED."""

    wall = ("resistor", BARE, "source")

    def __init__(self) -> None:
        self.load_line = LoadLine()
        controls = [
            choice("source", list(SOURCES.items())),
            switch(BARE),
            NumberControl("resistor", "ohm", 47, 10_000, 470, logarithmic=True),
            choice("LED", list(leds.items()), leds[RED]),
            switch(LOAD_LINE),
        ]
        super().__init__(controls, "A source, a resistor or none, and an LED", height="34em", scene=True)

    def draw(self) -> Answer:
        """The circuit, and the load line if wanted; what flows, and how much a little more voltage adds."""
        source, led, bare = self["source"].value, self["LED"].value, self[BARE].value
        with_resistor = connect_to_source(source, led, self.text("resistor"))
        without = connect_to_source(source, led)
        result, other = (without, with_resistor) if bare else (with_resistor, without)
        line: tuple[Picture, ...] = ()
        if self[LOAD_LINE].value:
            whole = ResistorDrive(Q(result.si.internal_resistance + result.si.resistance, "ohm"))
            point = operate(result.open_voltage, whole, led)
            most = nice(_TOP * led.si.max_current)
            line = (self.load_line.picture(point, size=self.size, most=most),)
        return Answer(
            self._in_order(self._circuits(result, bare), line),
            f"{_what_flows(result)} {_a_little_more(result, other)}",
            causes(result.findings),
            led_brief(_seen_at_the_source(result)),
        )

    def _circuits(self, result: FromSource, bare: bool) -> tuple[Picture, ...]:
        """As it looks and as it is drawn, whichever is wanted."""
        point, source = _seen_at_the_source(result), result.source
        lost = 0.0 if bare else result.si.open_voltage - result.si.terminal_voltage
        adapter, shown = isinstance(source, Adapter), {"bare": bare, "size": self.size}
        return self.pictured(
            lambda: one_led_scene(point, source.name, kind_of(source), **shown),
            lambda: one_led_circuit(point, source.name, adapter, full=FULL, lost=lost, **shown),
        )


def causes(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """Without the heat in an LED that carries too much current: it comes of that, and the remedy is the same."""
    too_much = any(each.topic == "LED current" and each.grade == STOP for each in findings)
    return tuple(each for each in findings if not (too_much and each.topic == "LED power"))


def _seen_at_the_source(result: FromSource) -> OperatingPoint:
    """From the source's terminals; with a bare wire, from inside the source, whose own resistance is all there is."""
    if result.si.resistance:
        return operate(result.terminal_voltage, ResistorDrive(result.resistance), result.led)
    return operate(result.open_voltage, ResistorDrive(result.internal_resistance), result.led)


def _what_flows(result: FromSource) -> str:
    si, led, limit = result.si, result.led, result.led.si.max_current
    least, current, most = map(current_words, (si.current_min, si.current, si.current_max))
    behind = f"With {say(si.resistance, 'ohm')}" if si.resistance else "Without a resistor"
    lives = lamp_look(led, si.current) != DEAD
    behind += f" the current through the {led.colour} LED {'is' if lives else 'would be'}"
    times = si.current / limit
    more = "a little more than" if times < _CLEARLY else f"{two_figures(times)} times"
    over = f", {more} its limit of {say(limit, 'A')}" if times > 1 else ""
    return f"{behind} {current}{over}; with bought parts between {least} and {most}."


def _a_little_more(result: FromSource, other: FromSource) -> str:
    """The point of the lesson: what a little more voltage does with the resistor and without it."""
    where = f"with {say(other.si.resistance, 'ohm')}" if other.si.resistance else "without the resistor"
    return (
        f"A source stronger by {result.si.step:g} V would add {_milliamperes(result.si.added)} to that; "
        f"{where}, {_milliamperes(other.si.added)}."
    )


def _milliamperes(current: float) -> str:
    """In one unit, so that two currents can be compared at a glance."""
    return f"{current * 1e3:.2g} mA" if current >= 1e-6 else "under 0.001 mA"
