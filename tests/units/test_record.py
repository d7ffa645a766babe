"""Frozen records that hold SI floats and show quantities."""

import copy
import dataclasses
import pickle
import subprocess
import sys

import numpy as np
import pytest

from sigcalc.errors import RangeError
from sigcalc.units import Current, Q, Ratio, Resistance, Temperature, Voltage, record
from tests.refusals import refused


@record
class Part:
    """A part for the tests."""

    name: str
    resistance: Resistance
    tolerance: Ratio = "5 %"
    ambient: Temperature | None = None

    def __post_init__(self):
        if self.si.resistance == 0:
            raise RangeError("resistance needs to be above 0 ohm")


@record
class Whole:
    """A record that holds another one, and a yes or no."""

    part: Part | None = None
    sound: bool = True


@record
class Outcome:
    current: Current
    voltage: Voltage
    lit: str


def test_given_as_text_read_as_quantities():
    part = Part("one", "4k7")
    assert part.resistance == Q("4700 ohm")
    assert part.si.resistance == 4700.0
    assert part.tolerance == part.si.tolerance == 0.05
    assert part.ambient is None
    warm = Part(name="one", resistance=Q("4.7 kohm"), ambient="27 degC")
    assert warm.ambient.to("degC").magnitude == pytest.approx(27)


test_faults_name_the_field = refused(
    (lambda: Part("one", 470), r"resistance needs a resistance with its unit, .*; you gave 470"),
    (lambda: Part("one", None), r"resistance needs a resistance with its unit, .*; you gave None"),
    (lambda: Part("one", "1 ohm", None), r"tolerance needs a fraction, .*; you gave None"),
    (lambda: Part("one", ["1 ohm", "2 ohm"]), "resistance needs one resistance"),
    (lambda: Part("one", "1 ohm", 5), "tolerance needs a fraction from 0 %"),
    (lambda: Part("one", "0 ohm"), "above 0 ohm"),
    (lambda: Part(None, "1 ohm"), "name needs a text, for example .*; you gave None"),
    (lambda: Part(np.zeros((2, 2)), "1 ohm"), "name needs a text"),
    (lambda: Whole("one"), r"part needs Part; you gave 'one'; make one with Part\(...\)"),
    (lambda: Whole(None, np.array([True, False])), "sound needs True or False"),
)


def test_a_value_that_is_frozen_compared_copied_and_replaced():
    part, whole = Part("one", "4k7"), Whole(Part("one", "1 ohm"), np.bool_(False))
    for name in ("name", "resistance", "ambient"):
        with pytest.raises(dataclasses.FrozenInstanceError):
            setattr(part, name, "1 ohm")
    assert len({part, Part("one", "4700 ohm")}) == 1
    assert part != Part("two", "4k7")
    assert part != "one"
    assert copy.copy(part) == copy.deepcopy(part) == pickle.loads(pickle.dumps(part)) == part
    assert dataclasses.replace(part, name="two").resistance == part.resistance
    assert dataclasses.replace(whole, sound=True).part is whole.part


def test_results_are_made_from_floats():
    outcome, same, other = (
        Outcome.of(current=0.01, voltage=np.array([1.0, last]), lit="red") for last in (2.0, 2.0, 3.0)
    )
    assert outcome.current == Q("10 mA")
    assert outcome.voltage.to("V").magnitude.tolist() == [1.0, 2.0]
    assert outcome == same != other
    assert hash(outcome) == hash(same)
    with pytest.raises(TypeError, match=r"Outcome.of lacks \['lit'\]"):
        Outcome.of(current=0.01, voltage=1.0)


@record
class Spread:
    __arrays__ = True

    led_current: Current
    led_current_min: Current
    led_current_max: Current
    voltage_least: Voltage | None
    voltage_most: Voltage | None
    lit: object
    on: bool = True
    share: object = 0.5


def spread(**fields):
    current = {"led_current": 0.01, "led_current_min": 0.009, "led_current_max": 0.012}
    others = {"voltage_least": None, "voltage_most": None, "lit": "red", "on": True, "share": 0.5}
    return Spread.of(**{**current, **others, **fields})


def test_one_line_says_the_name_the_words_and_the_figures_and_no_array():
    assert repr(Part("one", "4k7")) == "Part one: resistance 4.7 kΩ, tolerance 5 %"
    line = "Spread: lit red, LED current 10 mA (9 mA to 12 mA), voltage 1 V to 2 V, on yes, share 0.5"
    assert repr(spread(voltage_least=1.0, voltage_most=2.0)) == line
    assert spread().figures() == {"LED current": "10 mA (9 mA to 12 mA)", "lit": "red", "on": "yes", "share": "0.5"}
    assert spread(voltage_most=2.0).figures()["voltage"] == "at most 2 V"
    assert spread(voltage_least=1.0).figures()["voltage"] == "at least 1 V"
    many = spread(led_current=np.linspace(0.001, 0.02, 500), lit=np.array(["red", "both", "red"]), share=np.zeros(4))
    assert many.figures()["LED current"] == "500 values, 1 mA to 20 mA (9 mA to 12 mA)"
    assert (many.figures()["lit"], many.figures()["share"]) == ("3 values, both, red", "4 values, 0")


def test_nothing_that_draws_is_loaded_for_a_line():
    code = (
        "import sys\nfrom sigcalc.parts.led import leds\nled = next(iter(leds.values()))\n"
        "print(repr(led), repr(leds))\nassert led._repr_html_() is None\n"
        "assert not {'matplotlib', 'sigcalc.views'} & set(sys.modules)"
    )
    subprocess.run([sys.executable, "-W", "error", "-c", code], check=True, capture_output=True)
