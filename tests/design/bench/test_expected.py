"""Expected readings: bands against drawn samples, exact corners, the meter's part, verdicts; readings as typed."""

import math

import pytest

from sigcalc.design.bench.circuit import drawn, sound
from sigcalc.design.bench.expected import expected_readings, read_measured
from sigcalc.design.bench.fault import NOTHING_WRONG, catalogue
from sigcalc.design.bench.reading import BenchReadings, measuring_points
from sigcalc.design.bench.simulated import SimulatedSignal
from sigcalc.units import Q
from tests.design.bench.circuits import HAND, NAMES, circuits

SIMPLE = circuits()["resistor"]


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


@pytest.mark.parametrize(
    ("reading", "topic", "said"), [("11.9 V", "pair, red", "1.61"), ("12 mA", "reading", "needs a voltage")]
)
def test_a_reading_outside_its_band_or_that_cannot_be_is_to_be_looked_at(reading, topic, said):
    (found,) = expected_readings(SIMPLE).judged({"pair, red": reading})
    assert (found.grade, found.topic) == ("look again", topic)
    assert said in found.reason


class TestBands:
    def test_by_hand(self):
        expected = expected_readings(SIMPLE)
        # 12 V within 5 %, then 0.5 % and 3 digits of 0.01 V of the meter
        band = expected["supply open"]
        assert band.least == pytest.approx(11.4 * (1 - 1e-8) - (0.005 * 11.4 + 0.03), abs=1e-5)
        assert band.most == pytest.approx(12.6 + 0.005 * 12.6 + 0.03, abs=1e-5)
        assert band.text == "11.31 to 12.69 V"
        # 1 kohm within 5 %, 0.2 ohm of leads, 0.8 % and 3 digits of 1 ohm (the least in the 4 kohm range)
        band = expected["shared resistor ohms"]
        assert band.least == pytest.approx(950.2 - 7.6 - 3, abs=0.01)
        assert band.most == pytest.approx(1050.2 + 8.4 + 3, abs=0.01)
        assert expected["pair, red"].least > 1.5
        assert expected["pair, green"].most < -1.5

    def test_open_ends_are_said(self):
        expected = expected_readings(circuits()["mixed"])
        assert expected["pair ohms"].text == "OL"
        assert expected["diode test B to A"].text == "OL"
        assert expected["diode test A to B"].text.endswith(" to OL")  # a red LED at the top of its spread has over 2 V

    def test_a_low_battery_only_widens_upward_and_a_pocket_meter_both_ways(self):
        good, low, pocket = (
            expected_readings(SIMPLE, each) for each in ("hand meter", "hand meter, battery low", "pocket meter")
        )
        assert low["supply open"].least == good["supply open"].least
        assert low["supply open"].most > 1.25 * good["supply open"].most
        assert low["shared resistor ohms"].most == good["shared resistor ohms"].most
        assert pocket["pair, red"].most - pocket["pair, red"].least > good["pair, red"].most - good["pair, red"].least


def test_cautions_and_assumptions_come_along():
    expected = expected_readings(circuits()["one-shot"])
    about = {each.about for each in expected.cautions}
    assert {"current in series", "probe back", "power off", "lift a lead", "bench"} <= about
    said = " ".join(expected.assumptions)
    assert "reverse breakdown" in said
    assert "capacitor is sound" in said


def read(name, given, circuit="resistor"):
    return read_measured(circuits()[circuit], HAND, {name: given})


@pytest.mark.parametrize(
    ("name", "given", "value", "circuit"),
    [
        ("pair, red", "1.83 V", 1.83, "resistor"),
        ("pair, green", "-2.2 V", -2.2, "resistor"),
        ("pair, red", Q(830, "mV"), 0.83, "resistor"),
        ("current, red", "-9.7 mA", -9.7e-3, "resistor"),
        ("shared resistor ohms", "1k", 1000.0, "resistor"),
        ("shared resistor ohms", "OL", math.inf, "resistor"),
        ("pair ohms", "1", math.inf, "resistor"),
        ("diode test A to B", " ol ", math.inf, "resistor"),
        ("pair ohms", "60 Mohm", math.inf, "resistor"),
        ("hold", "never", math.inf, "one-shot"),
        ("hold", "8 s", 8.0, "one-shot"),
        ("hold", "20 min", math.inf, "one-shot"),
    ],
)
def test_taken(name, given, value, circuit):
    found = read(name, given, circuit)
    assert found.questions == ()
    assert found.values[name] == pytest.approx(value)


@pytest.mark.parametrize(
    ("name", "given", "said"),
    [
        ("pair, red", 9.0, "with its unit"),
        ("pair, red", "9**9**9 V", "pair, red"),
        ("shared resistor ohms", "9 V", "needs a resistance"),
        ("pair, red", "120 V", "more than any fault makes of this supply"),
        ("supply AC", "-3 V", "cannot be below zero"),
        ("shared resistor ohms", "-40 ohm", "there is still a voltage on the part"),
        ("pair, red", "OL", "the range is too small"),
        ("diode test A to B", "2.4 V", "which meter was it?"),
        ("current, red", "12 A", "current"),
    ],
)
def test_questioned_and_not_used(name, given, said):
    found = read(name, given)
    assert found.values == {}
    (question,) = found.questions
    assert said in question
    assert name in question
    assert "\n" not in question


def test_more_current_than_a_small_battery_gives_and_a_good_reading_beside_a_bad_one():
    assert "more than this supply gives" in read("current, red", "9.9 A", "mixed").questions[0]
    found = read_measured(SIMPLE, HAND, {"pair, red": "1.8 V", "pair, green": "1.8 A"})
    assert found.values == {"pair, red": 1.8}
    assert len(found.questions) == 1
