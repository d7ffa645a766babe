"""The curve of the weakest lamp against the number of signals."""

import pytest

from sigcalc.design.board.adding_signals import add_signals
from sigcalc.design.board.most_signals import most_signals
from sigcalc.parts.source import adapters
from sigcalc.views.most_signals import MostSignalsChart
from tests.views.board_samples import ADAPTER, HEAVY
from tests.views.svg import words

CHART = MostSignalsChart()


def drawn(source, gauge, run):
    result = most_signals(source, HEAVY, gauge, run)
    adding = add_signals(source, HEAVY, gauge, run, [1, result.count, result.count + 1])
    return result, CHART.picture(result, adding)


def test_the_end_of_the_row_and_what_sets_it():
    result, picture = drawn(ADAPTER, 22, "1 m")
    assert result.limited_by == "adapter"
    assert f"{result.count} at most: one more is too much for the adapter" in words(picture)
    assert "one more would ask too much of the adapter" in picture.sentence
    result, picture = drawn(adapters["9 V unregulated"], 30, "4 m")
    assert result.limited_by == "light"
    assert f"{result.count} at most: with one more the last is too dim" in words(picture)
    assert "one more would leave the weakest lamp" in picture.sentence


def test_the_curve_goes_through_what_was_found():
    result, _ = drawn(ADAPTER, 26, "1 m")
    count, share = CHART.curve.get_data()
    assert count.tolist() == [1, result.count, result.count + 1]
    assert share[1:] == pytest.approx([100 * result.share, 100 * result.next_share])
    assert CHART.most.get_xdata() == [result.count + 0.5] * 2
    assert CHART.wanted.get_ydata() == [80, 80]
