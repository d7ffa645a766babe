"""Frozen records that hold SI floats and show quantities."""

import copy
import dataclasses
import pickle
import subprocess
import sys

import numpy as np
import pytest

from sigcalc.errors import RangeError, UnitError
from sigcalc.units import Current, Q, Ratio, Resistance, Temperature, Voltage, record


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

    @property
    def most(self):
        return self.si.resistance * (1 + self.si.tolerance)


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
    assert part.most == pytest.approx(4935)
    assert Part(name="one", resistance=Q("4.7 kohm"), ambient="27 degC").ambient.to("degC").magnitude == pytest.approx(
        27
    )


def test_faults_name_the_field():
    with pytest.raises(UnitError, match=r"resistance needs a resistance with its unit, .*; you gave 470"):
        Part("one", 470)
    with pytest.raises(UnitError, match=r"resistance needs a resistance with its unit, .*; you gave None"):
        Part("one", None)
    with pytest.raises(UnitError, match=r"tolerance needs a fraction, .*; you gave None"):
        Part("one", "1 ohm", None)
    with pytest.raises(UnitError, match="resistance needs one resistance"):
        Part("one", ["1 ohm", "2 ohm"])
    with pytest.raises(RangeError, match="tolerance needs a fraction from 0 %"):
        Part("one", "1 ohm", 5)
    with pytest.raises(RangeError, match="above 0 ohm"):
        Part("one", "0 ohm")
    with pytest.raises(TypeError):
        Part("one")


@pytest.mark.parametrize(
    ("make", "said"),
    [
        (lambda: Part(5, "1 ohm"), "name needs a text, for example .*; you gave 5"),
        (lambda: Part(None, "1 ohm"), "name needs a text, for example .*; you gave None"),
        (lambda: Part(np.zeros((2, 2)), "1 ohm"), "name needs a text"),
        (lambda: Whole("one"), r"part needs Part; you gave 'one'; make one with Part\(...\)"),
        (lambda: Whole(None, "no"), "sound needs True or False; you gave 'no'"),
        (lambda: Whole(None, np.array([True, False])), "sound needs True or False"),
    ],
)
def test_fields_without_a_unit_are_checked_too(make, said):
    with pytest.raises(UnitError, match=said):
        make()


def test_records_in_records():
    part = Part("one", "1 ohm")
    assert Whole(part, np.bool_(False)).part is part
    assert Whole().part is None


def test_frozen():
    part = Part("one", "4k7")
    for name in ("name", "resistance", "ambient"):
        with pytest.raises(dataclasses.FrozenInstanceError):
            setattr(part, name, "1 ohm")


def test_equal_by_value():
    assert Part("one", "4k7") == Part("one", "4.7 kohm")
    assert hash(Part("one", "4k7")) == hash(Part("one", "4.7 kohm"))
    assert Part("one", "4k7") != Part("two", "4k7")
    assert Part("one", "4k7") != "one"
    assert len({Part("one", "4k7"), Part("one", "4700 ohm")}) == 1


def test_replaced():
    part = Part("one", "4k7")
    assert dataclasses.replace(part, name="two").resistance == part.resistance
    assert [field.name for field in dataclasses.fields(part)] == ["name", "resistance", "tolerance", "ambient"]


def test_results_are_made_from_floats():
    outcome = Outcome.of(current=0.01, voltage=np.array([1.0, 2.0]), lit="red")
    assert outcome.current == Q("10 mA")
    assert outcome.voltage.to("V").magnitude.tolist() == [1.0, 2.0]
    assert outcome.lit == "red"
    assert outcome == Outcome.of(current=0.01, voltage=np.array([1.0, 2.0]), lit="red")
    assert outcome != Outcome.of(current=0.01, voltage=np.array([1.0, 3.0]), lit="red")
    assert hash(outcome) == hash(Outcome.of(current=0.01, voltage=np.array([1.0, 2.0]), lit="red"))
    with pytest.raises(TypeError, match=r"Outcome.of lacks \['lit'\]"):
        Outcome.of(current=0.01, voltage=1.0)


def test_copied_and_pickled():
    part = Part("one", "4k7")
    assert copy.copy(part) == copy.deepcopy(part) == part
    assert pickle.loads(pickle.dumps(part)) == part


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


def test_one_line_says_the_name_the_words_and_the_figures():
    assert repr(Part("one", "4k7")) == "Part one: resistance 4.7 kΩ, tolerance 5 %"
    line = "Spread: lit red, LED current 10 mA (9 mA to 12 mA), voltage 1 V to 2 V, on yes, share 0.5"
    assert repr(spread(voltage_least=1.0, voltage_most=2.0)) == line


def test_a_record_without_its_least_or_most_still_says_its_figure():
    assert spread().figures() == {"LED current": "10 mA (9 mA to 12 mA)", "lit": "red", "on": "yes", "share": "0.5"}
    assert spread(voltage_most=2.0).figures()["voltage"] == "at most 2 V"
    assert spread(voltage_least=1.0).figures()["voltage"] == "at least 1 V"


def test_an_array_says_its_count_and_its_ends_and_never_its_values():
    many = spread(led_current=np.linspace(0.001, 0.02, 500), lit=np.array(["red", "both", "red"]), share=np.zeros(4))
    assert many.figures()["LED current"] == "500 values, 1 mA to 20 mA (9 mA to 12 mA)"
    assert many.figures()["lit"] == "3 values, both, red"
    assert many.figures()["share"] == "4 values, 0"


def test_nothing_that_draws_is_loaded_for_a_line():
    code = (
        "import sys\nfrom sigcalc.parts.led import leds\nled = next(iter(leds.values()))\n"
        "print(repr(led), repr(leds))\nassert led._repr_html_() is None\n"
        "assert not {'matplotlib', 'sigcalc.views'} & set(sys.modules)"
    )
    subprocess.run([sys.executable, "-W", "error", "-c", code], check=True, capture_output=True)
