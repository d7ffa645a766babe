"""The sum by hand of the passing: each step by a sum of its own, and what the library says of it."""

import math

import pytest

from sigcalc.errors import DesignError
from sigcalc.views.passing_sum import passing_by_hand
from tests.design.train.passing_runs import circuit, run


def test_each_step_by_hand():
    steps = passing_by_hand(run()).steps
    ohms = 4.7e3 + 0.3 * 220e3
    hold, way = ohms * 100e-6 * math.log(3), 0.9 - 0.01 + 0.5
    wanted = [ohms / 1e3, ohms * 100e-6, hold, way, way / 0.3, way / hold]
    assert [float(each.answer.split()[0]) for each in steps] == pytest.approx(wanted, rel=5e-4)


def test_the_library_follows_all_parts_and_says_what_differs():
    said = passing_by_hand(run()).sentence
    assert "red for 7.76 s" in said
    assert "a need of 4.68 s" in said
    assert "not given its red" in passing_by_hand(run(orientation="crosswise")).sentence


@pytest.mark.parametrize(
    ("changes", "said"),
    [({"circuit": circuit("mosfet")}, "R C ln 3"), ({"stop_at": "1 mm", "stop_time": "5 s"}, "halts")],
)
def test_what_the_sum_does_not_hold_for_is_refused(changes, said):
    with pytest.raises(DesignError, match=said):
        passing_by_hand(run(**changes))
