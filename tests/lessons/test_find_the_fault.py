"""The rules of the game of "find the fault"."""

from collections import Counter

import pytest

from sigcalc.design.bench.fault import NOTHING_WRONG, faults_of
from sigcalc.design.bench.simulated import SimulatedSignal
from sigcalc.lessons.find_the_fault import (
    ALIKE,
    FULL,
    HALF_WAY,
    LEVELS,
    ONE_OF_TWO,
    PARTLY,
    PER_EFFORT,
    RIGHT,
    WRONG,
    candidates,
    hidden_fault,
    judge,
    quillhaven_signal,
)

SIGNAL = quillhaven_signal()


def signal_with(name, seed=3):
    fault = next(each for each in faults_of(SIGNAL) if each.name == name)
    return SimulatedSignal(SIGNAL, fault, seed)


def judged(hidden, named, *points, seed=3):
    signal = signal_with(hidden, seed)
    return judge(SIGNAL, signal.fault, named, signal.seen, {each: signal.read(each) for each in points})


@pytest.mark.parametrize("level", LEVELS, ids=lambda level: level.name)
def test_a_number_hides_one_and_the_same_fault(level):
    drawn = [hidden_fault(SIGNAL, level, number) for number in range(1, 60)]
    assert drawn == [hidden_fault(SIGNAL, level, number) for number in range(1, 60)]
    assert {len(each.changes) for each in drawn} <= ({2} if level.faults == 2 else {0, 1})
    assert len(set(drawn)) > 8


def test_common_faults_are_drawn_more_often():
    drawn = Counter(hidden_fault(SIGNAL, LEVELS[0], number).name for number in range(1, 1500))
    weights = {each.name: each.weight for each in candidates(SIGNAL, LEVELS[0])}
    for name, weight in weights.items():
        expected = 1499 * weight / sum(weights.values())
        assert abs(drawn[name] - expected) < 4 * expected**0.5, name


def test_the_right_name_is_worth_all_but_the_effort_which_takes_at_most_half():
    points = ("pair, red", "shared resistor, red", "diode test A to B", "shared resistor ohms")
    result = judged("red LED open", ["red LED open"], *points)
    assert (result.outcome, result.effort) == (RIGHT, 1 + 1 + 2 + 2)
    assert result.points == FULL - PER_EFFORT * result.effort
    assert result.pointed > 0.9
    result = judged("red LED open", ["red LED open"], *signal_with("red LED open").points)
    assert PER_EFFORT * result.effort > FULL / 2
    assert result.points == FULL / 2


def test_what_looks_the_same_in_all_that_was_read_is_worth_less_and_a_wrong_name_nothing():
    result = judged("red LED shorted", ["green LED shorted"], "pair, red")
    assert (result.outcome, result.points) == (ALIKE, HALF_WAY - PER_EFFORT)
    assert result.pointed < 0.9
    result = judged("wires swapped", [NOTHING_WRONG], "pair, red")
    assert (result.outcome, result.points) == (WRONG, 0)


@pytest.mark.parametrize("named", [("wires swapped", "red LED reversed"), ("red LED reversed", "wires swapped")])
def test_two_faults_may_be_named_in_either_order(named):
    assert judged("red LED reversed + wires swapped", named, "diode test A to B", "wire A, red").outcome == RIGHT


@pytest.mark.parametrize("named", [["wires swapped"], ["wires swapped", "green LED open"], ["red LED reversed"]])
def test_one_of_two_faults_is_worth_something(named):
    result = judged("red LED reversed + wires swapped", named, "diode test A to B", "wire A, red")
    assert (result.outcome, result.points) == (PARTLY, ONE_OF_TWO - 3 * PER_EFFORT)
