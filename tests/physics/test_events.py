"""Motion, contact, timer and relay: sums of their own, a machine that steps through time, and what must hold."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sigcalc.physics.events import Spans, contact_spans, delayed, joined, place_at, time_at, timer_spans

NONE = np.nan


def spans(*rows):
    """One case a row, each a list of (start, end)."""
    most = max(len(row) for row in rows)
    table = np.array([[*row, *[(NONE, NONE)] * (most - len(row))] for row in rows], float)
    return Spans(table[..., 0], table[..., 1])


def same(one, other):
    np.testing.assert_allclose(one.starts, other.starts, rtol=0, atol=1e-9)
    np.testing.assert_allclose(one.ends, other.ends, rtol=0, atol=1e-9)


def test_a_halt_delays_what_lies_beyond_it_and_one_before_nought_comes_earlier():
    np.testing.assert_allclose(time_at([-1.0, 0.0, 3.0], 0.5), [-2, 0, 6])  # without a halt
    np.testing.assert_allclose(time_at([0.5, 0.7, 1.0], 1.0, 0.7, 10.0), [0.5, 0.7, 11])
    np.testing.assert_allclose(time_at([-1.0, -0.5, 0.0, 1.0], 1.0, -0.5, 10.0), [-11, -10.5, 0, 1])
    np.testing.assert_allclose(place_at([0.5, 5.0, 11.0], 1.0, 0.7, 10.0), [0.5, 0.7, 1.0])
    np.testing.assert_allclose(place_at([-11.0, -5.0, 0.0], 1.0, -0.5, 10.0), [-1, -0.5, 0])


millimetres = st.integers(-5000, 5000)


@given(st.lists(millimetres, min_size=2, max_size=20, unique=True), st.floats(0.05, 3), millimetres, st.floats(0, 9))
def test_time_rises_with_the_place_and_the_place_is_found_again(places, speed, stop_at, stop_time):
    places, stop_at = np.sort(places) / 1e3, stop_at / 1e3
    times = time_at(places, speed, stop_at, stop_time)
    assert (np.diff(times) > 0).all()
    np.testing.assert_allclose(place_at(times, speed, stop_at, stop_time), places, atol=1e-9)
    assert time_at(0.0, speed, stop_at, stop_time) == 0


def test_spans_that_touch_or_overlap_are_one():
    mixed = spans([(5, 6), (0, 2), (1, 3)], [(0, 9), (2, 3), (9, 10)], [], [(1, 2)])
    same(joined(mixed), spans([(0, 3), (5, 6)], [(0, 10)], [], [(1, 2), (NONE, NONE), (NONE, NONE)]))


def test_a_contact_comes_late_and_a_closing_too_short_counts_for_nothing():
    found = contact_spans([[0.0, 1.0]], [[0.5, 1.002]], 0.001, 0.0005, least_pulse=0.002)
    same(found, spans([(0.001, 0.5005), (NONE, NONE)]))
    assert np.isfinite(contact_spans([[0.0]], [[0.003]], 0.001, 0, 0.002).first)  # just enough
    # a release time longer than the opening bridges it
    same(contact_spans([[0.0, 1.0001]], [[1.0, 2.0]], 0.0, 0.0002), spans([(0, 2.0002), (NONE, NONE)]))


CLOSINGS = spans([(0, 0.5), (1, 2), (5, 6)], [(0, 0.5), (1, 11), (12, 13)], [(0, 30), (31, 32)], [])


@pytest.mark.parametrize("retriggers", [False, True])
def test_a_hold_without_end_and_one_of_nothing(retriggers):
    found = timer_spans(CLOSINGS, [np.inf, 0.0, np.inf, 1.0], retriggers)
    np.testing.assert_array_equal(found.first_end, [np.inf, NONE, np.inf, NONE])


gaps = st.lists(st.tuples(st.floats(0.01, 8), st.floats(0.01, 8)), min_size=1, max_size=6)


def test_published_a_further_trigger_has_no_effect_while_it_times():
    """TI LM555 data sheet SNAS548B p. 7: a further trigger has no effect while it times."""
    twice = spans([(0, 0.1), (6, 6.1)])
    same(timer_spans(twice, 10.0, False), spans([(0, 10), (NONE, NONE)]))
    same(timer_spans(twice, 10.0, True), spans([(0, 16.1), (NONE, NONE)]))


@given(gaps, st.floats(0.1, 9), st.booleans())
def test_many_cases_at_once_against_a_walk_from_closing_to_closing(steps, hold, retriggers):
    edges = np.cumsum(np.array(steps).ravel())
    closes, opens = edges[::2], edges[1::2]
    on_until, walked = -1.0, []
    for begin, end in zip(closes, opens, strict=True):
        if begin > on_until:
            walked.append([begin, begin])
            on_until = begin + hold
        on_until = end + hold if retriggers else max(on_until, end)
        walked[-1][1] = on_until
    found = timer_spans(Spans(np.stack([closes, closes]), np.stack([opens, opens])), hold, retriggers)
    for row in range(2):
        there = np.isfinite(found.starts[row])
        np.testing.assert_allclose(np.stack([found.starts[row][there], found.ends[row][there]], axis=1), walked)


def stepped(closings, operate, release, least, hold, retriggers, delays, step, last):
    """The chain by a machine that goes through time in steps: contact, timer and lamp as booleans on a grid."""
    times = np.arange(-1.0, last, step)
    contact, timer, lamp = (np.zeros(len(times), bool) for _ in range(3))
    left = -1.0
    for index, time in enumerate(times):
        contact[index] = any(
            start + operate <= time < end + release and end - start >= operate + least for start, end in closings
        )
        before = index > 0 and contact[index - 1]
        edge = contact[index] and not before
        if (retriggers and contact[index]) or (not retriggers and edge and not (index and timer[index - 1])):
            left = hold
        left -= step
        timer[index] = left > 0 or contact[index]
        # the lamp is red once the timer has been on for the first delay, until it has been off for the second
        changed = next((back for back in range(1, index + 1) if timer[index - back] != timer[index]), index) * step
        lamp[index] = changed >= delays[0] if timer[index] else (index > 0 and lamp[index - 1] and changed < delays[1])
    return times, contact, timer, lamp


@pytest.mark.parametrize("retriggers", [False, True])
@pytest.mark.parametrize(
    "closings", [[(0.0, 0.5), (0.7, 1.2)], [(0.0, 0.5), (0.7, 4.6)], [(0.0, 0.4), (3.0, 3.4)], [(0, 0.05)]]
)
def test_a_machine_that_steps_through_time_agrees(closings, retriggers):
    times, contact, timer, lamp = stepped(closings, 0.1, 0.05, 0.02, 2.0, retriggers, (0.2, 0.1), step=0.01, last=9.0)
    table = np.array([closings], float)
    reed = contact_spans(table[..., 0], table[..., 1], 0.1, 0.05, 0.02)
    held = timer_spans(reed, 2.0, retriggers)
    for found, grid in ((reed, contact), (held, timer), (delayed(held, 0.2, 0.1), lamp)):
        edges = np.concatenate([found.starts[0], found.ends[0]])
        clear = np.abs(times[:, np.newaxis] - edges[np.isfinite(edges)]).min(axis=1, initial=1.0) > 0.035
        inside = [bool(found.holds(time)[0]) for time in times[clear]]
        assert inside == grid[clear].tolist()


def test_what_follows_late_leaves_out_what_is_over_before_it_would_begin():
    same(delayed(spans([(0, 0.001), (1, 2)]), 0.01, 0.0), spans([(1.01, 2), (NONE, NONE)]))
    same(delayed(spans([(0, 1), (1.002, 2)]), 0.0, 0.005), spans([(0, 2.005), (NONE, NONE)]))


@settings(max_examples=30)
@given(
    st.lists(st.lists(st.tuples(st.floats(0, 50), st.floats(0, 10)), min_size=3, max_size=3), min_size=1, max_size=5)
)
def test_joining_keeps_what_is_covered_and_leaves_gaps_between(rows):
    given_spans = spans(*[[(start, start + length) for start, length in row] for row in rows])
    found = joined(given_spans)
    times = np.linspace(-1, 61, 301)
    for time in times:
        np.testing.assert_array_equal(found.holds(time), given_spans.holds(time))
    for starts, ends in zip(*found, strict=True):
        there = np.isfinite(starts)
        assert (there == np.isfinite(ends)).all()
        assert all(later > end for later, end in zip(starts[there][1:], ends[there], strict=False))
