"""What the lesson "which resistor" says in words holds in the library: each statement stands in its test."""

import pytest

from sigcalc.design.lamp.drawer import choose_from_drawer
from sigcalc.design.lamp.drive import operate
from sigcalc.design.lamp.resistor import choose_resistor, exact_resistance
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.parts.marking import colour_bands
from sigcalc.parts.resistor import USUAL_MARGIN, preferred_values, resistor_ratings
from tests.notebooks.lesson_text import open_words, says_in

says = says_in("which_resistor")
RED = leds["bright red 3 mm"]
WISH = {"supply": "12 V", "led": RED, "current": "10 mA"}


def band(**more):
    si = choose_resistor(**{**WISH, **more}).si
    return si, si.current_max - si.current_min, si.worst_max - si.worst_min


def test_the_sum_that_no_shop_sells_and_the_series():
    assert exact_resistance(**WISH).m_as("ohm") == pytest.approx(1017, abs=0.5)
    says("12 values from one power of ten to the next in E12")
    assert len(preferred_values("E12")) == 12
    says("A finer series comes closer to the wish")
    found = [choose_resistor(**WISH, series=series).si.current for series in ("E6", "E12", "E24", "E96")]
    assert found == sorted(found)
    assert found[0] < found[-1] <= 10e-3


def test_the_sum():
    says("At 10 mA it is 1.83 V for this red one.")
    assert RED.model.voltage_si(10e-3) == pytest.approx(1.83, abs=0.005)
    choice = choose_resistor(**WISH, supply_tolerance=0.05).si
    assert choice.resistance == 1200
    says("its heat is larger")
    assert choice.power > ((12 - 1.83) / 1200) ** 2 * 1200


def test_five_per_cent():
    says("five per cent in the resistor is about five per cent in the current")
    si, _, _ = band()
    assert (si.current_max / si.current, si.current_min / si.current) == pytest.approx((1.05, 0.95), abs=0.005)


def test_supply_and_led_do_more_than_the_resistor():
    says("Supply and LED together do more than the resistor: a closer resistor helps less than you would think.")
    _, resistor_alone, everything = band(supply_tolerance=0.05)
    assert everything - resistor_alone > resistor_alone
    _, _, closer = band(supply_tolerance=0.05, tolerance=0.01)
    assert closer > everything / 2


def test_a_higher_supply_evens_the_leds_out():
    says("The higher the supply above the LED's drop, the less the LED's spread matters.")
    bands = [band(supply=supply) for supply in ("4 V", "6 V", "12 V", "24 V")]
    shares = [everything / si.current for si, _, everything in bands]
    assert shares == sorted(shares, reverse=True)


def test_two_together():
    says("Two in series add up. Two in parallel make less than the smaller of them.")
    both = choose_from_drawer(**WISH, drawer=["2.2 kohm", "470 ohm", "1 kohm"], count=5)
    series, parallel = ([each.si for each in both if each.arrangement == kind] for kind in ("in series", "in parallel"))
    assert series
    assert parallel
    assert [each.resistance for each in series] == pytest.approx([each.first + each.second for each in series])
    assert all(each.resistance < min(each.first, each.second) for each in parallel)


def test_the_rating_and_the_bands():
    says("a rating of at least twice that heat. This is common practice")  # common practice, no source
    assert USUAL_MARGIN == 2
    choice = choose_resistor(**WISH, supply_tolerance=0.05)
    smaller = max((each.si.power for each in resistor_ratings.values() if each.si.power < choice.si.rating), default=0)
    assert smaller < 2 * choice.si.power <= choice.si.rating
    says("the resistor on the adapter gets hotter")
    assert choice.power > choose_resistor(**WISH | {"supply": "9 V"}, supply_tolerance=0.05).power
    says("A bigger resistor lets less current through, and with about the same voltage across it there is less heat.")
    ohms = [220, 470, 1200, 2700, 10_000]
    heats = [operate("12 V", ResistorDrive(f"{each} ohm"), RED).si.drive_power for each in ohms]
    assert heats == sorted(heats, reverse=True)
    says("Resistors of 5 % and wider show two digits")
    says("of 1 % and 2 %, show three digits and so have five bands")
    assert len(colour_bands("1 kohm", "5 %")) == 4
    assert len(colour_bands("2.2 kohm", "1 %")) == len(colour_bands("2.2 kohm", "2 %")) == 5


def test_the_page_is_short():
    assert open_words("which_resistor") <= 900
