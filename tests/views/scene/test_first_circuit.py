"""The first circuit as things: it says and shows what the circuit in symbols does."""

import pytest

from sigcalc.design.lamp.drive import operate
from sigcalc.errors import RangeError, UnknownNameError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.source import adapters, batteries
from sigcalc.views.led_circuit import one_led_circuit
from sigcalc.views.light import Light
from sigcalc.views.scene.first_circuit import one_led_scene, resistor_facts
from sigcalc.views.scene.source import SOURCES, kind_of
from sigcalc.views.style import MINUS, PLUS
from sigcalc.views.which_resistor import band_fills
from tests.views.samples import DRIVER, GREEN, RED, RESISTOR, SCENES
from tests.views.svg import SVG, fills, flows, groups, words


@pytest.mark.parametrize("name", SCENES)
def test_it_says_what_the_circuit_says(name):
    given, supply, kind, bare = SCENES[name]
    point = operate(*given)
    assert one_led_scene(point, supply, kind, bare).sentence == one_led_circuit(point, supply, bare=bare).sentence


def test_the_figures_are_those_of_the_point_and_the_lamp_has_its_light():
    point = operate("9.5 V", RESISTOR, RED)
    picture, light = one_led_scene(point, "9 V alkaline"), Light.of(RED, point.si.current)
    said = {f"{point.si.current * 1e3:.1f} mA flows", f"{point.si.led_voltage:.2f} V", "680 Ω ± 5 %", "9.5 V"}
    said.add(f"{point.si.drive_voltage:.2f} V")
    assert said | {"RED ON", light.word} <= set(words(picture))
    assert light.lens.lower() in fills(groups(picture, "thing led")[1])
    assert groups(picture, "thing resistor")


def test_bands_and_body_are_those_of_a_resistor_one_can_buy():
    usual, close = resistor_facts(ResistorDrive("470 ohm")), resistor_facts(ResistorDrive("470 ohm", 0.01))
    assert usual["bands"] == band_fills(["yellow", "violet", "brown", "gold"])
    assert close["bands"] == band_fills(["yellow", "violet", "black", "black", "brown"])
    assert usual["body"] != close["body"]
    assert resistor_facts(ResistorDrive("473.2 ohm"))["bands"] == ()  # no bands say that


def test_dots_run_from_plus_through_the_lamp_to_minus_while_it_lives():
    moving = flows(one_led_scene(operate("9.5 V", RESISTOR, RED), "9 V alkaline"))
    (first, last), (back,) = moving[PLUS], moving[MINUS]
    # out of the source on the left, through the lamp on the right, and back
    assert first[0][0] < first[-1][0] < last[0][0] < last[-1][0] < back[0][0]
    assert back[-1][0] < first[-1][0]
    dead = one_led_scene(operate("9.5 V", ResistorDrive("2.5 ohm"), RED), "9 V alkaline", bare=True)
    assert not flows(dead)
    assert {"RED DEAD", "no resistor", "2.5 Ω inside"} <= set(words(dead))
    assert not groups(dead, "thing resistor")


@pytest.mark.parametrize("kind", SOURCES)
def test_a_source_turned_round_exchanges_its_wires(kind):
    for voltage, order in (("9 V", ["+", "−"]), ("-9 V", ["−", "+"])):
        picture = one_led_scene(operate(voltage, RESISTOR, GREEN), "supply", kind)
        assert [each[0].text for each in groups(picture, "pole")] == order
        colours = [wire[1].get("stroke") for wire in groups(picture, "wire")]
        assert (colours[0], colours[-1]) == ((PLUS, MINUS) if voltage == "9 V" else (MINUS, PLUS))


def test_a_driver_takes_both_wires_of_the_source():
    picture = one_led_scene(operate("12 V", DRIVER, [RED, GREEN]), "9 V alkaline")
    assert groups(picture, "thing driver")
    assert not groups(picture, "thing resistor")
    assert len(groups(picture, "thing led")) == 2 * 2  # each with its light
    assert {"RED ON", "GREEN ON"} <= set(words(picture))
    limited = one_led_scene(operate("40 V", ConstantCurrentDrive("10 mA", "2 V"), [RED] * 5), "40 V")
    assert "and 2 more LEDs in series" in words(limited)


def test_a_source_is_drawn_as_what_it_is():
    kinds = {name: kind_of(source) for name, source in {**batteries, **adapters}.items()}
    assert kinds["9 V lithium"] == "9 V battery"
    assert kinds["6 x AA NiMH"] == "6 AA cells"
    assert kinds["8 x AA NiMH"] == "8 AA cells"
    assert kinds["3 V coin cell"] == "coin cell"
    assert kinds["12 V regulated"] == "adapter"
    assert set(kinds.values()) <= set(SOURCES)
    for kind, supply, label in (
        ("9 V battery", "8.4 V NiMH", "8.4 V"),
        ("9 V battery", "an old one", "9 V"),
        ("adapter", "an old one", "7.9 V"),
        ("bench supply", "12 V regulated", "7.9 V"),
    ):
        picture = one_led_scene(operate("7.9 V", RESISTOR, RED), supply, kind)
        assert [each.text for each in groups(picture, f"thing {SOURCES[kind][0]}")[1].iter(SVG + "text")][-1] == label


def test_what_cannot_be_drawn_is_refused():
    with pytest.raises(UnknownNameError, match="kind"):
        one_led_scene(operate("9 V", RESISTOR, RED), "9 V", "car battery")
    with pytest.raises(RangeError, match="array"):
        one_led_scene(operate(["3 V", "9 V"], RESISTOR, RED), "9 V")
