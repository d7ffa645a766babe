"""The circuit of the first lesson."""

import pytest

from sigcalc.design.lamp.drive import operate
from sigcalc.errors import RangeError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.views.one_led import one_led_circuit
from tests.views.samples import CONSTANT, GREEN, RED, RESISTOR
from tests.views.svg import by_words, corners, fills, group, groups, words


def test_with_a_resistor():
    point = operate("9.5 V", RESISTOR, RED)
    picture = one_led_circuit(point, "9 V alkaline")
    assert groups(picture, "resistor")
    assert "#d55e00" in fills(group(picture, "led red lit"))
    current, led, rest = f"{point.si.current * 1e3:.1f} mA", f"{point.si.led_voltage:.2f} V", point.si.drive_voltage
    assert {current, led, "680 Ω ± 5 %", "RED ON", "9 V alkaline", "9.5 V"} <= set(words(picture))
    assert picture.sentence == (
        f"The red LED is lit with {current}; {led} lies across it and {rest:.2f} V across the resistor."
    )


def test_bare_the_resistance_is_the_supplys_own():
    picture = one_led_circuit(operate("9.5 V", ResistorDrive("2.5 ohm"), RED), "9 V alkaline", bare=True)
    assert not groups(picture, "resistor")
    assert {"no resistor", "2.5 Ω inside", "RED DEAD"} <= set(words(picture))
    assert "times the 30 mA it stands, and will not last" in picture.sentence


LOOKS = {  # mA through the ordinary red LED: what is said beside it
    0.005: ("RED DARK", ""),
    0.0112: ("RED ON", "dim"),
    0.8: ("RED ON", "normal light"),
    16: ("RED ON", "bright"),
    43: ("RED ON", "OVERLOADED"),
    1160: ("RED DEAD", ""),
}


def drawn_at(milliamperes, led=RED):
    return one_led_circuit(operate("12 V", ConstantCurrentDrive(f"{milliamperes} mA", "1 V"), led), "supply")


def test_a_lamp_is_drawn_and_named_by_its_light():
    seen = {}
    for milliamperes, (state, look) in LOOKS.items():
        picture = drawn_at(milliamperes)
        (lamp,) = groups(picture, "led red")
        assert {state, look} - {""} <= set(words(picture))
        assert ("lit" in lamp.get("class")) == (state == "RED ON")
        seen[milliamperes] = (*fills(lamp), *(each.get("style") for each in lamp.iter() if each.get("style")))
    looks = [seen[each] for each in (0.0112, 0.8, 16, 43, 1160)]
    assert len(set(looks)) == len(looks)  # each is another drawing, the colour apart


def test_a_dead_lamp_does_not_shine_and_is_crossed_out():
    dead, dark = (group(drawn_at(each), "led red dark") for each in (1160, 0.005))
    assert "#d55e00" not in fills(dead)
    assert len(list(dead.iter())) == len(list(dark.iter())) + 2


def test_what_is_too_little_to_see_is_not_lit():
    picture = drawn_at(0.05, leds["green gap 3 mm"])
    assert groups(picture, "led green dark")
    assert {"GREEN DARK", "too little to see"} <= set(words(picture))
    assert picture.sentence == "The green LED gives too little light to see: 50 µA flows."


def test_just_over_the_limit_is_not_called_one_times():
    picture = one_led_circuit(operate("9.5 V", ResistorDrive("240 ohm"), RED), "9 V alkaline")
    assert "more than the 30 mA it stands" in picture.sentence


def test_a_negative_supply_is_drawn_turned_round():
    upright = one_led_circuit(operate("4 V", RESISTOR, RED), "battery")
    turned = one_led_circuit(operate("-4 V", RESISTOR, RED), "battery")
    assert by_words(upright, "+").top < by_words(upright, "−").top
    assert by_words(turned, "+").top > by_words(turned, "−").top
    assert group(turned, "led red dark") is not None
    assert turned.sentence == "The red LED is dark with 4 V across it in reverse."
    beyond = one_led_circuit(operate("-12 V", RESISTOR, RED), "battery")
    assert beyond.sentence == "The red LED is dark with 12 V across it in reverse, more than the 5 V it stands."


def test_the_anode_of_the_led_is_at_the_top_where_plus_is():
    triangle = corners(group(one_led_circuit(operate("9 V", RESISTOR, GREEN), "battery"), "led"))[0]
    heights = sorted(y for _, y in triangle)
    assert heights[0] == heights[1] < heights[2]


def test_too_little_voltage_leaves_it_dark():
    picture = one_led_circuit(operate("1.2 V", RESISTOR, GREEN), "one cell")
    assert group(picture, "led green dark") is not None
    assert picture.sentence.startswith("The green LED is dark: ")
    assert not [line for line in corners(group(picture, "current")) if len(line) == 3]  # no arrow


@pytest.mark.parametrize(
    ("count", "note"), [(2, None), (3, None), (4, "and 1 more LED in series"), (9, "and 6 more LEDs in series")]
)
def test_a_string_is_drawn_as_far_as_it_fits_and_the_rest_is_said(count, note):
    picture = one_led_circuit(
        operate("40 V", ConstantCurrentDrive("10 mA", "2 V"), [RED] * count), "adapter", adapter=True
    )
    assert len(groups(picture, "led red lit")) == min(count, 3)
    assert [each for each in words(picture) if "more LED" in each] == ([note] if note else [])
    assert picture.sentence.startswith(f"The string of {count} LEDs is lit with 10 mA")
    assert "across the driver" in picture.sentence


def test_an_ideal_supply_without_a_resistor_holds_all_the_voltage_at_the_led():
    picture = one_led_circuit(operate("1.7 V", ResistorDrive("0 ohm"), RED), "bench supply")
    assert picture.sentence.endswith("1.7 V lies across it.")


def test_a_constant_drop_is_drawn_as_well():
    assert "BLUE ON" in words(one_led_circuit(operate("5 V", ResistorDrive("150 ohm"), CONSTANT), "5 V adapter"))


def test_arrays_are_refused():
    with pytest.raises(RangeError, match="one supply voltage"):
        one_led_circuit(operate(["5 V", "9 V"], RESISTOR, RED), "battery")
