"""A train's run: what is refused, where the reed is closed, and the chain from the field to the lamp."""

import numpy as np
import pytest

from sigcalc.design.train.magnet_and_reed import closures, levels
from sigcalc.errors import RangeError, UnknownNameError
from sigcalc.parts.reed import reeds
from sigcalc.parts.timer import timers
from tests.design.train.passing_runs import circuit, run

LEVELS = levels(run().magnet, run().reed)


def happens(made, **changes):
    """With the middle reed."""
    return made.happenings(LEVELS[0][1:2], LEVELS[1][1:2], made.hold, **changes)


@pytest.mark.parametrize(
    ("changes", "kind", "said"),
    [
        ({"magnet_from_front": "950 mm"}, RangeError, "magnet_from_front needs .* the train's 900 mm, .* gave 950 mm"),
        ({"last_magnet": "10 mm"}, RangeError, "the last magnet behind the first"),
        ({"last_magnet": "901 mm"}, RangeError, "within the train's 900 mm"),
        ({"coil_fed_for": "blue"}, UnknownNameError, "coil_fed_for"),
        ({"supply": "0 V"}, RangeError, "supply needs more than"),
    ],
)
def test_what_cannot_be_is_refused_in_a_sentence(changes, kind, said):
    with pytest.raises(kind, match=said):
        run(**changes)
    made = run(last_magnet="60 mm")  # where their fields would meet
    with pytest.raises(RangeError, match=r"last_magnet needs a place 7\d(\.\d)? mm or more behind the first"):
        happens(made)


@pytest.mark.parametrize("orientation", ["upright", "lengthwise", "crosswise"])
def test_the_field_holds_the_reed_where_the_closures_say(orientation):
    made = run(orientation=orientation)
    wanted = closures(made.magnet, reeds["10 W reed, 7 to 21 AT"].middle, "5 mm", orientation)
    starts, ends = made.stretches(LEVELS[0][1:2], LEVELS[1][1:2])
    there = np.isfinite(starts[0])
    assert starts[0][there] == pytest.approx([start.m_as("m") for start, _ in wanted])
    assert ends[0][there] == pytest.approx([end.m_as("m") for _, end in wanted])
    times = happens(made).field.starts[0]
    np.testing.assert_allclose(times, starts[0] / 0.3)


def test_a_second_magnet_closes_it_again_as_far_behind_as_it_lies():
    made = run(last_magnet="810 mm")
    one, two = happens(run()), happens(made)
    assert two.field.starts.shape == (1, 4)
    np.testing.assert_allclose(two.field.starts[0, 2:] - one.field.starts[0], 0.8 / 0.3)
    places = np.array([0.004, -0.2])
    both = made.passing.field(places, 0.005) + made.passing.field(places - 0.8, 0.005)
    np.testing.assert_allclose(made.field(places / 0.3), both)


def test_the_chain_adds_the_times_of_reed_and_relay():
    case = happens(run())
    # Coto RI-02 (manualshelf.com) p. 2: operate 0.3 ms, release 0.07 ms; Omron G5V-2 (scribd 376911004): 7 ms, 3 ms
    assert case.contact.first[0] - case.field.first[0] == pytest.approx(0.3e-3)
    assert case.contact.first_end[0] - case.field.first_end[0] == pytest.approx(0.07e-3)
    assert case.timer.first[0] == case.contact.first[0]
    assert case.red.first[0] - case.timer.first[0] == pytest.approx(7e-3)
    assert case.red.first_end[0] - case.timer.first_end[0] == pytest.approx(3e-3)
    other = happens(run(coil_fed_for="green"))
    assert other.red.first[0] - other.timer.first[0] == pytest.approx(3e-3)
    # LM555, TI SNAS548B p. 7: R C ln 3
    hold = (4.7e3 + 0.3 * 220e3) * 100e-6 * np.log(3)
    assert case.timer.first_end[0] - case.timer.first[0] == pytest.approx(hold)


def test_signal_and_clearing_place_are_passed_by_front_and_last_wheel():
    case = happens(run())
    # the front is 10 mm ahead of the magnet, the signal 50 mm before the reed; the tail is 890 mm behind the magnet
    assert case.at_signal[0] == pytest.approx((-0.05 - 0.01) / 0.3)
    assert case.clear[0] == pytest.approx((0.5 + 0.89) / 0.3)
    assert happens(run(backwards=True)).at_signal[0] == pytest.approx((0.05 - 0.01) / 0.3)


def test_a_halt_keeps_the_reed_closed_and_the_last_wheel_waiting_and_a_hold_may_never_end():
    going, halted = happens(run()), happens(run(stop_at="10 mm", stop_time="20 s"))
    assert halted.field.ends[0, 1] - going.field.ends[0, 1] == pytest.approx(20)
    assert halted.clear[0] - going.clear[0] == pytest.approx(20)
    assert halted.field.starts[0] == pytest.approx(going.field.starts[0])
    case = run().happenings(LEVELS[0][1:2], LEVELS[1][1:2], np.inf)
    assert case.for_good[0]
    assert not case.short[0]


def test_faster_trains_and_weaker_reeds_miss_it():
    speeds = np.array([0.3, 9.0])
    pull_in, release = (np.repeat(each[1], 2) for each in LEVELS)
    case = run(gap="6 mm", orientation="lengthwise").happenings(pull_in, release, 8.0, None, speeds)
    assert case.missed.tolist() == [False, False]
    # 10.5 mm of closed track at 0.5 m/s is 21 ms; three times 100 ohm x 100 µF, until the capacitor is empty, are more
    fast = run(gap="10 mm", orientation="lengthwise", speed="0.5 m/s", circuit=circuit("comparator"))
    assert happens(fast).missed.tolist() == [True]
    # the reed has closed all the same: field and contact show it, timer and lamp do not
    case = happens(fast)
    assert np.isfinite(case.contact.starts).sum() == np.isfinite(case.field.starts).sum() == 1
    assert np.isnan(case.timer.starts).all()
    eased = run(gap="10 mm", orientation="lengthwise", speed="0.5 m/s", circuit=fast.circuit, reed_resistor="47 ohm")
    assert happens(eased).missed.tolist() == [False]


def test_what_the_timer_takes_notice_of_is_its_own_figure_or_the_capacitor_s_time():
    assert run().least_pulse == timers["one-shot"].si.least_pulse == pytest.approx(1e-5)
    assert run(circuit=circuit("mosfet"), reed_resistor="1 kohm").least_pulse == pytest.approx(3 * 1e3 * 100e-6)
    starts, _ = run().stretches(*(each[1:2] for each in LEVELS))  # what is kept cannot be written into
    with pytest.raises(ValueError, match="read-only"):
        starts[0, 0] = 0.0
