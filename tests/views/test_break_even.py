"""Costs over the evenings: the lines meet in the ring, the bar is the band, and never is said as never."""

import math

import numpy as np
import pytest

from sigcalc.views.break_even import BreakEvenChart, money
from tests.views.power_samples import costs
from tests.views.svg import words


@pytest.fixture(scope="module")
def chart():
    return BreakEvenChart()


def test_the_lines_meet_in_the_ring(chart):
    result, *given = costs(5.0, 15.0)
    picture = chart.picture(result, *given)
    ((evening,), (height,)) = chart.meeting.get_data()
    assert evening == result.evening == 16
    batteries, adapter = (np.interp(evening, *line.get_data()) for line in (chart.batteries, chart.adapter))
    assert height == pytest.approx(adapter)
    assert batteries == pytest.approx(adapter, abs=result.battery_per_evening)  # the evening is a whole one
    assert list(chart.spread_ends.get_xdata()) == [result.evening_min, result.evening_max]
    assert {"evening 16", "batteries", "adapter"} <= set(words(picture))


def test_the_sentence_says_evening_and_time(chart):
    sentence = chart.picture(*costs(5.0, 15.0)).sentence
    assert sentence.startswith("An evening costs 1.00 in batteries and 0.005 in mains energy.")
    assert sentence.endswith("From evening 16 (10 to 28) on the adapter is cheaper; that comes after 4 months.")


def test_never_is_said_and_not_drawn(chart):
    result, *given = costs(1.0, 15.0, uses=500)
    picture = chart.picture(result, *given)
    assert math.isinf(result.evening)
    assert picture.sentence.endswith("at these prices the adapter never pays for itself.")
    assert len(chart.meeting.get_xdata()) == len(chart.spread.get_xdata()) == 0
    assert "inf" not in picture.html()


def test_a_band_that_leaves_the_sheet_has_no_end_there(chart):
    result, *given = costs(0.05, 5.0, evenings=(0.5, 2.0, 40.0))
    chart.picture(result, *given)
    assert result.evening_max > chart.chart.axes.get_xlim()[1]
    assert list(chart.spread_ends.get_xdata()) == [result.evening_min]
    assert chart.spread.get_xdata()[1] == chart.chart.axes.get_xlim()[1]


@pytest.mark.parametrize("given", [(5.0, 15.0), (0.0, 15.0), (50.0, 0.0), (0.0, 0.0), (50.0, 100.0)])
def test_the_band_stays_on_the_sheet(chart, given):
    chart.picture(*costs(*given))
    right, top = chart.chart.axes.get_xlim()[1], chart.chart.axes.get_ylim()[1]
    x, y = chart.band.get_xy().T
    assert (x <= right).all()
    assert (y <= top).all()


@pytest.mark.parametrize(
    ("amount", "said"), [(0, "0.00"), (12.345, "12.35"), (0.0042, "0.004"), (1e-5, "under 0.001"), (0.01, "0.01")]
)
def test_money(amount, said):
    assert money(amount) == said
