"""The hold against the pot's turn: line, band, point and what is wanted lie where the circuit says."""

import numpy as np
import pytest

from sigcalc.design.train.hold import hold_at
from sigcalc.views.hold_curve import HoldCurve
from tests.design.train.passing_runs import circuit
from tests.views.svg import words

CURVE = HoldCurve()


def test_line_band_and_point_are_the_circuits():
    made = circuit()
    CURVE.picture(hold_at(made, "9 V", 0.4), "10 s")
    turns, holds = CURVE.hold.get_data()
    least, most = CURVE.least.get_ydata(), CURVE.most.get_ydata()
    for index in (0, 20, 40):
        assert (least[index], holds[index], most[index]) == pytest.approx(tuple(made.seconds(9.0, turns[index] / 100)))
    assert CURVE.point.get_data() == ([40], [pytest.approx(made.seconds(9.0, 0.4).nominal)])
    assert np.unique(CURVE.wanted.get_ydata()) == [10]


def test_words_name_point_and_wish():
    said = words(CURVE.picture(hold_at(circuit(), "9 V", 0.4), "10 s"))
    assert "wanted: 10 s" in said
    assert any(each.endswith("at 40 %") for each in said)
    assert not any(each.startswith("wanted") for each in words(CURVE.picture(hold_at(circuit(), "9 V", 0.4))))


def test_holds_that_never_end_reach_the_upper_edge():
    leaky = circuit("schmitt gate", "wide-tolerance electrolytic", "1 Mohm")
    result = hold_at(leaky, "9 V", 1.0)
    assert result.hold_max is None
    picture = CURVE.picture(result, "10 s")
    assert "for ever" in picture.sentence
    assert np.isfinite(CURVE.most.get_ydata()).all()
    assert CURVE.most.get_ydata()[-1] > CURVE.chart.axes.get_ylim()[1]
