"""Scales of readings, and faults that no reading tells apart."""

import numpy as np
import pytest

from sigcalc.design.bench.indistinguishable import classes, doubt, scaled
from sigcalc.design.bench.measuring_point import measuring_points
from sigcalc.design.bench.predictions import predict
from sigcalc.parts.meter import meters
from tests.design.bench.circuits import circuits

HAND = meters["hand meter"]
POINTS = measuring_points(circuits()["one-shot"])


def groups(circuit, points, positions=(0, 1)):
    found = predict(circuits()[circuit], HAND, pairs=False, draws=400)
    numbered = classes(found, points, positions)
    return {
        frozenset(f.name for f, g in zip(found.faults, numbered, strict=True) if g == number) for number in numbered
    }


@pytest.mark.parametrize("name", ["shared resistor ohms", "hold", "pair, red", "current, red"])
def test_a_doubt_is_that_of_a_small_step(name):
    """The doubt on a point's own scale is what the meter's uncertainty makes of the reading there."""
    for value in (0.5, 8.0, 470.0, 20_000.0):
        unsure = HAND.uncertainty(POINTS[name].setting, value)
        step = scaled(POINTS[name], value + 1e-6 * unsure) - scaled(POINTS[name], value)
        assert doubt(HAND, POINTS[name], value) == pytest.approx(1e6 * step, rel=1e-3)


def test_ol_stays_infinite():
    assert scaled(POINTS["shared resistor ohms"], np.array([0.0, np.inf])).tolist() == [0.0, np.inf]


def test_with_nothing_read_and_nothing_seen_all_are_alike():
    assert len(groups("resistor", [], ())) == 1


def test_the_eye_alone_tells_colours_apart():
    found = groups("resistor", [])
    dark = next(each for each in found if "no supply" in each)
    assert {"break in the mast", "short at the mast hole", "resistor open", "no supply"} <= dark
    assert next(each for each in found if "wires swapped" in each) == {
        "wires swapped",
        "both LEDs reversed",
        "supply reversed",
    }


@pytest.mark.parametrize(
    ("points", "apart"),
    [
        (["supply open"], {"supply reversed"}),
        (["diode test A to B"], {"supply reversed"}),
        (["pair, red"], {"both LEDs reversed"}),
    ],
)
def test_each_reading_splits_what_it_can(points, apart):
    found = groups("resistor", points)
    assert any(each == apart for each in found)


def test_more_readings_never_join_what_fewer_had_told_apart():
    few = groups("mixed", ["pair, red"])
    more = groups("mixed", ["pair, red", "pair, green", "shared resistor ohms"])
    for each in more:
        assert any(each <= other for other in few)


def test_a_part_of_the_faults_alone():
    found = predict(circuits()["resistor"], HAND, pairs=False, draws=400)
    names = [each.name for each in found.faults]
    among = [names.index(each) for each in ("wires swapped", "both LEDs reversed", "no supply")]
    first, second, third = classes(found, [], (0, 1), among)
    assert first == second != third
