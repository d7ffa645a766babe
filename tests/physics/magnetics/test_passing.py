"""Closed stretches, peaks and last places of fields whose answer is known."""

import numpy as np
import pytest

from sigcalc.physics.magnetics import DIRECTIONS, ORIENTATIONS, closed_stretches, last_above, peaks, positions

GRID = np.linspace(-10.0, 10.0, 301)[None, :]


def closed(field, pull_in, release, grid=GRID):
    rows = len(grid)
    row, start, end = closed_stretches(field, grid, np.broadcast_to(pull_in, rows), np.broadcast_to(release, rows))
    return row, np.column_stack([start, end])


def bell(x, rows):
    return np.exp(-(x**2)) + 0.0 * rows


def two_lobes(x, rows):
    return x * np.exp(-(x**2) / 2) + 0.0 * rows  # peaks of exp(-1/2) at -1 and 1


def test_a_single_peak_closes_at_pull_in_and_opens_at_release():
    row, found = closed(bell, np.exp(-1.0), np.exp(-4.0))
    assert row.tolist() == [0]
    assert found == pytest.approx(np.array([[-1.0, 2.0]]), abs=1e-10)


def test_both_signs_close_it_and_it_opens_in_between():
    _, found = closed(two_lobes, 0.5, 0.2)
    assert len(found) == 2
    assert np.abs(two_lobes(found[:, 0], 0)) == pytest.approx(0.5, abs=1e-10)
    assert np.abs(two_lobes(found[:, 1], 0)) == pytest.approx(0.2, abs=1e-10)
    assert found[0, 1] < 0 < found[1, 0]


def test_without_hysteresis_the_stretches_are_symmetric():
    _, found = closed(two_lobes, 0.4, 0.4)
    assert found == pytest.approx(-found[::-1, ::-1], abs=1e-10)


def test_a_dip_that_stays_above_the_release_does_not_open_it():
    def saddle(x, rows):
        return np.exp(-((x - 1.5) ** 2)) + np.exp(-((x + 1.5) ** 2)) + 0.0 * rows  # 0.211 in the middle

    assert len(closed(saddle, 0.5, 0.2)[1]) == 1
    assert len(closed(saddle, 0.5, 0.22)[1]) == 2


def test_a_peak_between_two_positions_is_found():
    grid = np.linspace(-10.0, 10.0, 40)[None, :]  # two neighbours equally far from the peak, as high as each other
    assert peaks(bell, grid) == pytest.approx([1.0], abs=1e-9)
    assert closed(bell, 0.99, 0.5, grid)[1].shape == (1, 2)
    assert closed(bell, 1.01, 0.5, grid)[1].shape == (0, 2)


def test_no_field_never_closes_it():
    def none(x, rows):
        return 0.0 * x * rows

    assert closed(none, 0.1, 0.05)[1].shape == (0, 2)
    assert peaks(none, GRID) == [0.0]


def test_rows_are_kept_apart():
    def scaled(x, rows):
        return (rows + 1) * bell(x, rows)

    grid = np.repeat(GRID, 3, axis=0)
    row, start, end = closed_stretches(scaled, grid, np.array([2.0, 1.0, 1.0]), np.array([0.5, 0.5, 0.5]))
    assert row.tolist() == [1, 2]
    assert start == pytest.approx([-np.sqrt(np.log(2)), -np.sqrt(np.log(3))], abs=1e-10)
    assert end == pytest.approx([np.sqrt(np.log(4)), np.sqrt(np.log(6))], abs=1e-10)
    assert peaks(scaled, grid) == pytest.approx([1, 2, 3], abs=1e-9)


def test_the_last_place_above_a_level():
    def hills(x):
        return np.exp(-((x - 2) ** 2)) + 2 * np.exp(-((x - 6) ** 2))

    grid = np.linspace(0, 12, 40)
    found = last_above(hills, grid, np.array([1.0, 1.5, 3.0]))
    expected = 6 + np.sqrt(np.log(np.array([2.0, 2.0 / 1.5])))
    assert found[:2] == pytest.approx(expected, abs=1e-6)
    assert np.isnan(found[2])
    assert np.isnan(last_above(hills, grid, np.array([9.0]))).all()


def test_positions_reach_both_ends_and_lie_close_at_the_extents():
    grid = positions(np.array([0.1, 0.2]), np.array([[0.01], [0.02]]), np.array([1e-4, 1e-3]))
    assert grid[:, 0].tolist() == [-0.1, -0.2]
    assert grid[:, -1].tolist() == [0.1, 0.2]
    assert (np.diff(grid, axis=1) >= 0).all()
    for row, (extent, nearest) in enumerate([(0.01, 1e-4), (0.02, 1e-3)]):
        for place in (-extent, 0.0, extent):
            beside = np.sort(np.abs(grid[row] - place))[:3]
            assert beside[0] == 0
            assert beside[2] < nearest


def test_each_direction_of_the_track_has_one_of_the_magnet():
    assert set(DIRECTIONS) == set(ORIENTATIONS)
    assert all(sorted(each) == [0, 1, 2] for each in DIRECTIONS.values())
