"""Points, wires and sources: groups as scipy finds them, levels by hand, short circuits."""

import hypothesis.strategies as st
import numpy as np
import pytest
from hypothesis import given
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from sigcalc.physics.contacts import levels

PAIRS = st.lists(st.tuples(st.integers(0, 6), st.integers(0, 6)), max_size=10)


@given(PAIRS)
def test_groups_are_those_that_scipy_finds(pairs):
    found, short = levels(range(7), pairs)
    first, second = np.array(pairs, dtype=int).reshape(-1, 2).T
    theirs = connected_components(coo_array((np.ones(len(first)), (first, second)), shape=(7, 7)), directed=False)[1]
    ours = np.array([found[point][0] for point in range(7)])
    assert np.array_equal(ours[:, None] == ours, theirs[:, None] == theirs)
    assert not short


@given(PAIRS, PAIRS)
def test_levels_solve_kirchhoff_s_equations_or_there_is_a_short_circuit(joins, sources):
    """Least squares: each join holds its points at one level, each source its poles one apart."""
    found, short = levels(range(7), joins, sources)
    rows = np.zeros((len(joins) + len(sources), 7))
    for row, (plus, minus) in zip(rows, [*joins, *sources], strict=True):
        row[plus] += 1
        row[minus] -= 1
    wanted = np.array([0.0] * len(joins) + [1.0] * len(sources))
    best = np.linalg.lstsq(rows, wanted, rcond=None)[0] if len(rows) else np.zeros(7)
    assert short == bool(np.abs(rows @ best - wanted).max(initial=0.0) > 1e-9)
    if not short:
        own = np.array([found[point][1] for point in range(7)])
        assert rows @ own == pytest.approx(wanted, abs=1e-12)


def test_two_sources_in_series_add_up_and_side_by_side_do_not():
    sources = [("+1", "-1"), ("+2", "-2")]
    points = ["+1", "-1", "+2", "-2"]
    series, short = levels(points, [("-1", "+2")], sources)
    assert (series["+1"][1] - series["-2"][1], short) == (2, False)
    beside, short = levels(points, [("+1", "+2"), ("-1", "-2")], sources)
    assert (beside["+1"][1] - beside["-2"][1], short) == (1, False)
    assert levels(points, [("+1", "-2"), ("-1", "+2")], sources)[1]
    assert levels(points, [("+1", "-1")], sources)[1]


def test_points_that_nothing_holds_together_belong_to_different_parts():
    found, _ = levels(["+", "-", "A", "B"], [("+", "A")], [("+", "-")])
    assert found["A"][0] == found["-"][0] != found["B"][0]
