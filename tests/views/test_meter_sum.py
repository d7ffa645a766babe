"""The readings by hand against sums of their own, and the table for the bench."""

import pytest

from sigcalc.design.bench.circuit import BenchCircuit
from sigcalc.design.bench.expected import expected_readings
from sigcalc.errors import RangeError
from sigcalc.lessons.hidden_fault import quillhaven_signal
from sigcalc.parts.drive import ConstantCurrentDrive
from sigcalc.parts.source import adapters
from sigcalc.views.meter_sum import bench_table, readings_by_hand

SIGNAL = quillhaven_signal()


def answer(start, **changed):
    made = readings_by_hand(SIGNAL, **({"drop": "1.9 V", "joint": "75 ohm"} | changed))
    return next(step.answer for step in made.steps if step.what.startswith(start))


@pytest.mark.parametrize(
    ("start", "value"),
    [
        ("what is left", "10.1 V"),
        ("and the current", "14.85 mA"),  # 10.1 / 680
        ("The lamp open", "1.2 µA"),  # 12 / 10 000 680
        ("so the resistor keeps", "815.9 µV"),
        ("and the meter shows the full supply", "12 V"),
        ("The pair shorted", "17.65 mA"),  # 12 / 680
        ("A cold joint of 75", "13.38 mA"),  # 10.1 / 755
        ("and the pair reads", "2.903 V"),
    ],
)
def test_every_step(start, value):
    assert answer(start) == value


def test_a_meter_of_less_resistance_leaves_the_resistor_more():
    assert answer("so the resistor keeps", meter="pocket meter") == "8.154 mV"


def test_the_library_agrees_about_an_open_lamp():
    assert "12 V with the red LED open" in readings_by_hand(SIGNAL, "1.9 V", "75 ohm").sentence


def test_without_a_shared_resistor_or_enough_supply_it_refuses():
    driven = BenchCircuit(adapters["12 V regulated"], ConstantCurrentDrive("10 mA", "1.5 V"), SIGNAL.pair)
    with pytest.raises(RangeError, match="one shared resistor"):
        readings_by_hand(driven, "1.9 V", "75 ohm")
    with pytest.raises(RangeError, match="between 0 V and the supply's 12 V"):
        readings_by_hand(SIGNAL, "13 V", "75 ohm")


def test_the_table_holds_every_expected_reading_in_its_order():
    expected = expected_readings(SIGNAL).readings
    steps = bench_table(SIGNAL).steps
    assert [(step.how, step.answer) for step in steps] == [(each.point.setting, each.text) for each in expected]
    assert all(step.what.startswith(each.point.name) for step, each in zip(steps, expected, strict=True))
