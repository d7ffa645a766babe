"""Red stretches for a list of closings."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.hold_retrigger import red_spans
from sigcalc.errors import SigcalcError
from sigcalc.units import Q


def spans(closes, opens, hold, retriggers):
    result = red_spans(Q(np.array(closes, float), "s"), Q(np.array(opens, float), "s"), Q(hold, "s"), retriggers)
    return list(zip(result.si.starts.tolist(), result.si.ends.tolist(), strict=True))


def test_one_train():
    assert spans([2], [2.1], 10, False) == [(2, 12)]
    assert spans([2], [2.1], 10, True) == [(2, 12.1)]
    result = red_spans("2 s", "2.1 s", "10 s", retriggers=False)
    assert result.ends[0] == Q("12 s")


def test_a_second_train_during_the_hold():
    """TI LM555 data sheet SNAS548B p. 7: a further trigger has no effect while it times."""
    assert spans([0, 6], [0.1, 6.1], 10, False) == [(0, 10)]
    assert spans([0, 6], [0.1, 6.1], 10, True) == [(0, 16.1)]


def test_a_train_that_stops_on_the_reed():
    assert spans([0, 40], [25, 40.1], 10, False) == [(0, 25), (40, 50)]
    assert spans([0, 40], [25, 40.1], 10, True) == [(0, 35), (40, 50.1)]


def test_closings_that_lie_apart():
    assert spans([0, 20, 40], [0.1, 20.1, 40.1], 10, False) == [(0, 10), (20, 30), (40, 50)]


@given(st.lists(st.floats(0.01, 30), min_size=2, max_size=20).map(np.cumsum), st.floats(0.1, 40), st.booleans())
def test_against_a_walk_through_time(edges, hold, retriggers):
    """The timer followed edge by edge: lit at any moment if and only if a stretch covers it."""
    closes, opens = edges[: len(edges) // 2 * 2 : 2], edges[1 : len(edges) // 2 * 2 : 2]
    lit_until, walked = -1.0, []
    for begin, end in zip(closes, opens, strict=True):
        if begin > lit_until:
            walked.append([begin, begin])
            lit_until = begin + hold
        lit_until = end + hold if retriggers else max(lit_until, end)
        walked[-1][1] = lit_until
    np.testing.assert_allclose(spans(closes, opens, hold, retriggers), walked, rtol=1e-12)


@given(st.lists(st.floats(0.01, 30), min_size=2, max_size=20).map(np.cumsum), st.floats(0.1, 40))
def test_retriggering_never_shows_less_red(edges, hold):
    closes, opens = edges[: len(edges) // 2 * 2 : 2], edges[1 : len(edges) // 2 * 2 : 2]
    once, anew = (np.array(spans(closes, opens, hold, each)) for each in (False, True))
    assert np.diff(anew).sum() >= np.diff(once).sum() - 1e-9


@pytest.mark.parametrize(
    ("closes", "opens", "hold"),
    [
        (["5 s", "0 s"], ["6 s", "1 s"], "10 s"),
        (["0 s", "5 s"], ["6 s", "7 s"], "10 s"),
        (["0 s"], ["1 s", "2 s"], "10 s"),
        (["2 s"], ["1 s"], "10 s"),
        (["0 s"], ["1 s"], ["10 s", "11 s"]),
        (["0 s"], ["1 s"], "-1 s"),
        ([0.0], [1.0], "10 s"),
    ],
)
def test_refusals(closes, opens, hold):
    with pytest.raises(SigcalcError):
        red_spans(closes, opens, hold, retriggers=True)
