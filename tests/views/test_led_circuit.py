"""One LED's circuit: its figures, its light, and a string as far as it fits."""

import pytest

from sigcalc.design.lamp.drive import operate
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.views.led_circuit import one_led_circuit
from sigcalc.views.style import NORMAL, STAGE
from tests.views.samples import GREEN, RED, RESISTOR
from tests.views.svg import corners, fills, group, groups, middle, words


def one(supply, drive, led, **more):
    return one_led_circuit(operate(supply, drive, led), "9 V alkaline", **more)


def test_the_figures_of_one_led_are_those_of_the_point():
    si, picture = operate("9.5 V", RESISTOR, RED).si, one("9.5 V", RESISTOR, RED)
    assert groups(picture, "resistor")
    assert "#d5001c" in fills(group(picture, "led red lit"))
    current, led = f"{si.current * 1e3:.1f} mA", f"{si.led_voltage:.2f} V"
    assert {current, led, "680 Ω ± 5 %", "RED ON", "9 V alkaline", "9.5 V"} <= set(words(picture))
    shares = f"{led} across it and {si.drive_voltage:.2f} V across the resistor."
    assert picture.sentence == f"The red LED is lit with {current}, with {shares}"
    # bare, the resistance is the supply's own
    picture = one("9.5 V", ResistorDrive("2.5 ohm"), RED, bare=True)
    assert not groups(picture, "resistor")
    assert {"no resistor", "2.5 Ω inside", "RED DEAD"} <= set(words(picture))
    assert "times its limit of 30 mA, and will not last" in picture.sentence


def test_a_lamp_is_drawn_and_named_by_its_light():
    seen = []
    for milliamperes, said in (
        (0.005, {"RED DARK"}),
        (0.0112, {"RED ON", "dim"}),
        (0.8, {"RED ON", "normal light"}),
        (16, {"RED ON", "bright"}),
        (43, {"RED ON", "OVERLOADED"}),
        (1160, {"RED DEAD"}),
    ):
        picture = one("12 V", ConstantCurrentDrive(f"{milliamperes} mA", "1 V"), RED)
        assert said <= set(words(picture))
        lamp = group(picture, f"led red {'lit' if 'RED ON' in said else 'dark'}")
        seen.append((*fills(lamp), *(each.get("style") for each in lamp.iter() if each.get("style"))))
    assert len(set(seen[1:])) == len(seen[1:])  # each is another drawing, the colour apart


@pytest.mark.parametrize(
    ("supply", "led", "said"),
    [
        ("-4 V", RED, "The red LED is dark, with 4 V across it in reverse."),
        ("-12 V", RED, "The red LED is dark, with 12 V across it in reverse; its limit is 5 V."),
        ("1.2 V", GREEN, "The green LED is dark: under 0.001 mA flows, for 1.2 V is too little for its drop."),
    ],
)
def test_a_dark_led_is_said_to_be_dark_and_nothing_flows(supply, led, said):
    picture = one(supply, RESISTOR, led)
    assert picture.sentence == said
    assert groups(picture, f"led {led.colour} dark")
    assert (middle(picture, "+") < middle(picture, "−")) == (supply[0] != "-")
    assert not [line for line in corners(group(picture, "current")) if len(line) == 3]  # no arrow
    heights = sorted(y for _, y in corners(group(picture, "led"))[0])  # the triangle's base, the anode, is on top
    assert heights[0] == heights[1] < heights[2]


@pytest.mark.parametrize(("count", "note"), [(3, []), (4, ["and 1 more LED in series"])])
def test_a_string_is_drawn_as_far_as_it_fits_and_the_rest_is_said(count, note):
    picture = one("40 V", ConstantCurrentDrive("10 mA", "2 V"), [RED] * count, adapter=True)
    assert len(groups(picture, "led red lit")) == min(count, 3)
    assert [each for each in words(picture) if "more LED" in each] == note
    assert f"string of {count} LEDs is lit with 10 mA" in picture.sentence


# ---- the load line


def test_on_a_wall_the_volts_stand_beside_the_resistor_for_no_bar_shares_them_out():
    page, wall = (one("9.5 V", RESISTOR, RED, size=size) for size in (NORMAL, STAGE))
    volts = f"{operate('9.5 V', RESISTOR, RED).si.drive_voltage:.2f} V"
    assert f"680 Ω, {volts}" in words(wall)
    assert groups(page, "shares")
    assert not groups(wall, "shares")
    assert wall.sentence == page.sentence
