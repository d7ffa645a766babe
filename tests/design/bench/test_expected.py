"""Expected readings: bands against drawn samples, exact corners, the meter's part, verdicts; readings as typed."""

import math

import numpy as np
import pytest

from sigcalc.design.bench.circuit import drawn, sound
from sigcalc.design.bench.expected import expected_readings, read_measured
from sigcalc.design.bench.fault import NOTHING_WRONG, catalogue
from sigcalc.design.bench.reading import BenchReadings, measuring_points
from sigcalc.design.bench.simulated import SimulatedSignal
from sigcalc.errors import UnitError, UnknownNameError
from sigcalc.units import Q
from tests.design.bench.circuits import HAND, NAMES, circuits


@pytest.mark.parametrize("name", NAMES)
def test_no_drawn_sample_lies_outside_its_band(name):
    expected = expected_readings(circuits()[name])
    points = measuring_points(circuits()[name])
    samples, _ = BenchReadings(circuits()[name], sound(circuits()[name], drawn(400, 31)), HAND).at(points.values())
    assert [each.point.name for each in expected.readings] == list(points)
    for each in expected.readings:
        values = samples[each.point.name]
        assert each.least <= values.min(), each.point.name
        assert values.max() <= each.most, each.point.name
        assert each.allows(each.nominal)
        for end in (each.least, each.most):  # what the display says at the band's ends lies within it
            assert each.allows(each.meter.displayed(each.point.setting, end))


@pytest.mark.parametrize("name", NAMES)
def test_a_sound_signal_s_readings_are_fine(name):
    signal = SimulatedSignal(circuits()[name], catalogue()[NOTHING_WRONG], seed=5)
    readings = {point: signal.read(point) for point in signal.points}
    found = expected_readings(circuits()[name]).judged(readings)
    assert len(found) == len(readings)
    assert {each.grade for each in found} == {"fine"}


class TestBands:
    def test_the_open_supply_by_hand(self):
        """12 V within 5 %, then 0.5 % and 3 digits of 0.01 V of the meter."""
        band = expected_readings(circuits()["resistor"])["supply open"]
        assert band.least == pytest.approx(11.4 * (1 - 1e-8) - (0.005 * 11.4 + 0.03), abs=1e-5)
        assert band.most == pytest.approx(12.6 + 0.005 * 12.6 + 0.03, abs=1e-5)
        assert band.text == "11.31 to 12.69 V"

    def test_the_resistor_by_its_bands(self):
        """1 kohm within 5 %, 0.2 ohm of leads, 0.8 % and 3 digits of 1 ohm (the least in the 4 kohm range)."""
        band = expected_readings(circuits()["resistor"])["shared resistor ohms"]
        assert (band.least, band.most) == (
            pytest.approx(950.2 - 7.6 - 3, abs=0.01),
            pytest.approx(1050.2 + 8.4 + 3, abs=0.01),
        )

    def test_both_positions_and_both_signs(self):
        expected = expected_readings(circuits()["resistor"])
        assert expected["pair, red"].least > 1.5
        assert expected["pair, green"].most < -1.5
        assert expected["shared resistor, red"].least > 0
        assert expected["shared resistor, green"].least > 0

    def test_open_ends_are_said(self):
        expected = expected_readings(circuits()["mixed"])
        assert expected["pair ohms"].text == "OL"
        assert expected["diode test B to A"].text == "OL"
        assert expected["diode test A to B"].most == np.inf  # a red LED at the top of its spread has more than 2 V
        assert expected["diode test A to B"].text.endswith(" to OL")

    def test_a_low_battery_only_widens_upward(self):
        good, low = (
            expected_readings(circuits()["resistor"], each) for each in ("hand meter", "hand meter, battery low")
        )
        assert low["supply open"].least == good["supply open"].least
        assert low["supply open"].most > 1.25 * good["supply open"].most
        assert low["shared resistor ohms"].most == good["shared resistor ohms"].most

    def test_a_pocket_meter_has_wider_bands(self):
        good, pocket = (expected_readings(circuits()["resistor"], each) for each in ("hand meter", "pocket meter"))
        assert pocket["pair, red"].most - pocket["pair, red"].least > good["pair, red"].most - good["pair, red"].least


def test_cautions_and_assumptions_come_along():
    expected = expected_readings(circuits()["one-shot"])
    about = {each.about for each in expected.cautions}
    assert {"current in series", "probe back", "power off", "lift a lead", "bench"} <= about
    said = " ".join(expected.assumptions)
    assert "reverse breakdown" in said
    assert "capacitor is sound" in said


class TestFindings:
    def test_a_reading_outside_its_band(self):
        expected = expected_readings(circuits()["resistor"])
        (found,) = expected.judged({"pair, red": "11.9 V"})
        assert found.grade == "look again"
        assert "1.61" in found.reason

    def test_a_reading_that_cannot_be_is_questioned(self):
        (found,) = expected_readings(circuits()["resistor"]).judged({"pair, red": "12 mA"})
        assert (found.grade, found.topic) == ("look again", "reading")
        assert "needs a voltage" in found.reason


def test_refusals():
    with pytest.raises(UnitError, match="circuit needs a BenchCircuit"):
        expected_readings("my signal")
    with pytest.raises(UnknownNameError, match="meter 'handmeter'"):
        expected_readings(circuits()["resistor"], "handmeter")


def read(name, given, circuit="resistor", meter=HAND):
    return read_measured(circuits()[circuit], meter, {name: given})


@pytest.mark.parametrize(
    ("name", "given", "value"),
    [
        ("pair, red", "1.83 V", 1.83),
        ("pair, green", "-2.2 V", -2.2),
        ("pair, red", Q(830, "mV"), 0.83),
        ("current, red", "-9.7 mA", -9.7e-3),
        ("shared resistor ohms", "1k", 1000.0),
        ("shared resistor ohms", "OL", math.inf),
        ("pair ohms", "1", math.inf),
        ("diode test A to B", " ol ", math.inf),
        ("pair ohms", "60 Mohm", math.inf),
    ],
)
def test_taken(name, given, value):
    found = read(name, given)
    assert found.questions == ()
    assert found.values[name] == pytest.approx(value)


def test_a_hold_that_never_ends():
    assert read("hold", "never", "one-shot").values["hold"] == math.inf
    assert read("hold", "8 s", "one-shot").values["hold"] == 8.0
    assert read("hold", "20 min", "one-shot").values["hold"] == math.inf


@pytest.mark.parametrize(
    ("name", "given", "said"),
    [
        ("pair, red", "9 mA", "needs a voltage, for example"),
        ("pair, red", 9.0, "with its unit"),
        ("pair, red", "nine", "pair, red"),
        ("shared resistor ohms", "9 V", "needs a resistance"),
        ("pair, red", "120 V", "more than any fault makes of this supply"),
        ("supply AC", "-3 V", "cannot be below zero"),
        ("shared resistor ohms", "-40 ohm", "there is still a voltage on the part"),
        ("pair, red", "OL", "the range is too small"),
        ("diode test A to B", "2.4 V", "which meter was it?"),
        ("current, red", "12 A", "current"),
        ("pair, red", "9..12 V", "pair, red"),
        ("pair, red", "9**9**9 V", "pair, red"),
    ],
)
def test_questioned_and_not_used(name, given, said):
    found = read(name, given)
    assert found.values == {}
    (question,) = found.questions
    assert said in question
    assert name in question
    assert "\n" not in question


def test_more_current_than_a_small_battery_gives():
    assert "more than this supply gives" in read("current, red", "9.9 A", "mixed").questions[0]


def test_a_good_reading_beside_a_bad_one_is_used():
    found = read_measured(circuits()["resistor"], HAND, {"pair, red": "1.8 V", "pair, green": "1.8 A"})
    assert found.values == {"pair, red": 1.8}
    assert len(found.questions) == 1


def test_a_point_that_is_none():
    with pytest.raises(UnknownNameError, match="measuring point 'pair red' is not known; use one of: 'pair, red'"):
        read("pair red", "1.8 V")
    with pytest.raises(UnknownNameError, match="measuring point 'coil, red'"):
        read("coil, red", "1.8 V")
