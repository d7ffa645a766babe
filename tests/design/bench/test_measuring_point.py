"""The measuring points: which a circuit has, their order, and the cautions that go with them."""

import pytest

from sigcalc.design.bench.measuring_point import BENCH, bench_cautions, measuring_points
from sigcalc.design.bench.power import PLACES
from sigcalc.design.bench.reading import BenchReadings
from sigcalc.parts.meter import AMPERES, DIODE, OHMS, SETTINGS, VOLTS
from tests.design.bench.circuits import NAMES, circuits


@pytest.mark.parametrize("name", NAMES)
def test_every_useful_point_is_there(name):
    points, has = measuring_points(circuits()[name]), circuits()[name].features
    places = ("supply", "pair", "lead A", "lead B", "lamps", "current")
    both = {f"{each}, {lamp}" for each in places for lamp in ("red", "green")}
    assert ("supply AC" in points) == ("adapter" in has)
    assert both | {"supply open", "pair ohms", "diode test A to B", "diode test B to A"} <= set(points)
    assert ("shared resistor, red" in points) == ("shared resistor" in has)
    assert ("driver, red" in points) == ("driver" in has)
    assert ("shared resistor ohms" in points) == ("shared resistor" in has)
    assert ("coil, green" in points) == ("relay" in has)
    assert {"hold", "reed alone", "timer output, green"}.issubset(points) == ("timer" in has)
    for lamp in ("red", "green"):
        assert (f"{lamp} resistor" in points) == (f"{lamp} resistor" in has)


@pytest.mark.parametrize("name", NAMES)
def test_the_order_is_the_one_to_measure_in(name):
    points = list(measuring_points(circuits()[name]).values())
    alone = ["nothing connected" in each.where for each in points]
    assert alone == sorted(alone, reverse=True)  # before the supply feeds anything: an adapter may give AC
    assert points[0].name == ("supply AC" if "adapter" in circuits()[name].features else "supply open")
    assert [each.setting == AMPERES for each in points] == sorted(each.setting == AMPERES for each in points)
    volts = [each.effort for each in points if each.setting == VOLTS]
    assert volts == sorted(volts)
    assert {each.setting for each in points} <= set(SETTINGS)


def said(point):
    return {each.about for each in point.cautions}


@pytest.mark.parametrize("name", NAMES)
def test_cautions_go_with_what_they_are_about(name):
    for point in measuring_points(circuits()[name]).values():
        assert ("current in series" in said(point)) == ("probe back" in said(point)) == (point.setting == AMPERES)
        assert ("power off" in said(point)) == ("lift a lead" in said(point)) == (point.setting in (OHMS, DIODE))


def test_what_holds_for_the_whole_bench():
    text = " ".join(each.text for each in bench_cautions() if each.about == BENCH)
    for word in ("hot enough to burn", "may burst", "eye protection"):
        assert word in text
    assert all(each.source for each in bench_cautions())
    assert "shorts the supply at the next voltage reading" in " ".join(each.text for each in bench_cautions())


def test_where_names_the_parts_of_the_circuit():
    assert "across the driver" in measuring_points(circuits()["driver"])["driver, red"].where
    assert "leaves the relay" in measuring_points(circuits()["one-shot"])["lead A, red"].where
    assert str(measuring_points(circuits()["resistor"])["pair, red"]).endswith("at the mast's foot, signal set for red")


@pytest.mark.parametrize("name", NAMES)
def test_every_place_can_be_read(name):
    known = set(PLACES) | set(BenchReadings.__init__.__globals__["_UNPOWERED"])
    assert {each.place for each in measuring_points(circuits()[name]).values()} <= known


def test_a_caution_names_the_range_that_the_measurement_needs():
    for circuit in circuits().values():
        for point in measuring_points(circuit).values():
            told = " ".join(each.text for each in point.cautions)
            if point.setting in ("DC volts", "AC volts"):
                assert f"Set the meter to {point.setting}" in told
            else:
                assert "Set the meter to" not in told
