"""One train on one timeline: verdicts, the reed's place, the on-time it needs, and the findings with their limits."""

import numpy as np
import pytest

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.train.passing_train import (
    MISSED,
    NEEDLESS,
    OWN_RED,
    RIGHT,
    SHORT,
    hold_findings,
    passing_train,
    train_hold,
)
from sigcalc.errors import RangeError
from sigcalc.parts.reed import reeds
from sigcalc.units import Q
from tests.design.train.passing_runs import circuit, run


@pytest.mark.parametrize(
    ("changes", "verdict", "closings", "wanted"),
    [
        ({}, RIGHT, 2, {"on-time": FINE, "reed's place": FINE}),
        ({"orientation": "lengthwise"}, RIGHT, 3, {"on-time": FINE, "reed's place": FINE}),
        ({"orientation": "lengthwise", "gap": "9 mm"}, RIGHT, 1, {"on-time": FINE, "reed's place": FINE}),
        ({"orientation": "crosswise"}, MISSED, 0, {"red": STOP}),
        ({"gap": "25 mm"}, MISSED, 0, {"red": STOP}),
        ({"speed": "0.1 m/s"}, SHORT, 2, {"on-time": STOP, "reed's place": FINE}),
        ({"turn": 0.1}, SHORT, 2, {"on-time": STOP, "reed's place": FINE}),
        ({"reed_beyond": "0 mm"}, OWN_RED, 2, {"on-time": FINE, "reed's place": STOP}),
        ({"reed_beyond": "11 mm"}, RIGHT, 2, {"on-time": FINE, "reed's place": LOOK}),
        ({"reed_beyond": "0 mm", "magnet_from_front": "40 mm"}, RIGHT, 2, {"on-time": FINE, "reed's place": FINE}),
        ({"backwards": True}, NEEDLESS, 2, {"the other way": LOOK}),
        (
            {"stop_at": "10 mm", "stop_time": "20 s"},
            SHORT,
            2,
            {"on-time": STOP, "reed's place": FINE, "halt": LOOK},
        ),
        ({"orientation": "lengthwise", "circuit": circuit("comparator"), "speed": "3 m/s"}, MISSED, 3, {"red": STOP}),
    ],
)
def test_verdict_and_findings(changes, verdict, closings, wanted):
    result = passing_train(run(), **changes)
    assert (result.verdict, result.closings) == (verdict, closings)
    assert {each.topic: each.grade for each in result.findings} == wanted


def test_needed_is_the_trains_way_over_its_speed_but_for_the_early_closing():
    result = passing_train(run())
    by_hand = train_hold("900 mm", "0.3 m/s", "500 mm", "10 mm").m_as("s")
    early = -float(result.happenings.red.first[0])
    assert result.si.needed == pytest.approx(by_hand + early)
    assert 0 < early < 0.1


def test_the_hold_at_which_the_train_is_just_covered():
    result = passing_train(run())
    # Omron G5V-2 (scribd 376911004): operate 7 ms, release 3 ms
    assert result.si.red_until - result.si.red_from == pytest.approx(run().hold - 7e-3 + 3e-3)
    needed = result.si.needed + 4e-3
    ohms = needed / (100e-6 * np.log(3))
    turn = (ohms - 4.7e3) / 220e3
    assert passing_train(run(), turn=turn * 1.001).verdict == RIGHT
    assert passing_train(run(), turn=turn * 0.999).verdict == SHORT


def test_least_beyond_is_where_the_most_sensitive_reed_no_longer_shows_its_own_red():
    least = passing_train(run()).least_beyond.m_as("mm")
    most_sensitive = reeds["10 W reed, 7 to 21 AT"].most_sensitive
    magnet = run().magnet.of_grade("N35", diameter="8 mm", length="3 mm")
    strongest = type(magnet)("8 mm", "3 mm", magnet.remanence_most)
    # the relay's 7 ms and the reed's 0.3 ms take the front another 2.2 mm on
    for beyond, verdict in ((least + 0.1, RIGHT), (least - 2.5, OWN_RED)):
        made = run(reed=most_sensitive, magnet=strongest, reed_beyond=f"{beyond} mm")
        assert passing_train(made).verdict == verdict


def test_a_slow_train_with_two_magnets_turns_it_red_twice():
    result = passing_train(run(), last_magnet="860 mm", speed="0.05 m/s")
    assert result.reds == 2
    assert LOOK in [each.grade for each in result.findings if each.topic == "second red"]
    assert passing_train(run(), last_magnet="860 mm").reds == 1


def test_a_timer_that_retriggers_holds_from_the_second_magnet():
    made = run(circuit=circuit("schmitt gate"), last_magnet="860 mm")
    result, single = passing_train(made), passing_train(run(circuit=circuit("schmitt gate")))
    assert result.reds == 1
    assert result.si.red_until - single.si.red_until == pytest.approx(0.85 / 0.3)


def test_the_limit_that_was_crossed_is_named():
    made = {"orientation": "lengthwise", "gap": "10 mm", "circuit": circuit("comparator")}
    (found,) = passing_train(run(), **made, speed="0.5 m/s").findings
    # 10.5 mm of closed track; 0.3 ms of the reed and three times 100 ohm x 100 µF are 30.3 ms
    assert "reed and timer need 30.3 ms. The limit is 0.347 m/s" in found.reason
    assert "smaller capacitor" in found.remedy
    assert not passing_train(run(), **made, speed="0.34 m/s").happenings.missed[0]
    # the one-shot is quick enough for every train
    quick = {"orientation": "lengthwise", "gap": "10 mm", "speed": "10 m/s"}
    assert not passing_train(run(), **quick).happenings.missed[0]
    assert passing_train(run(), **quick, circuit=circuit("mosfet")).happenings.missed[0]


@pytest.mark.parametrize(
    ("where", "said"),
    [("10 mm", "reed closed"), ("-10 mm", "reed closed"), ("-40 mm", "reed open"), ("60 mm", "reed open")],
)
def test_a_halt_before_on_and_after_the_reed(where, said):
    (halt,) = (each for each in passing_train(run(), stop_at=where, stop_time="20 s").findings if each.topic == "halt")
    assert said in halt.reason


@pytest.mark.parametrize(
    "changes", [{}, {"backwards": True}, {"speed": "0.05 m/s"}, {"stop_at": "-30 mm", "stop_time": "5 s"}]
)
def test_the_account_holds_the_whole_passing_and_its_moments_every_event(changes):
    result = passing_train(run(), **changes)
    si = result.si
    assert 0 < si.at_signal < si.clear < si.end
    assert 0 < si.red_from < si.red_until < si.end
    moments = result.moments(101)
    assert len(moments) == 101
    assert (np.diff(moments) >= 0).all()
    assert moments[0] == 0
    assert moments[-1] == pytest.approx(si.end)
    for event in (si.at_signal, si.clear, si.red_from, si.red_until):
        assert np.abs(moments - event).min() < 1e-9


def test_the_sentence_says_what_happens():
    said = passing_train(run()).sentence
    assert "closes the reed twice" in said
    assert "beyond the signal" in said
    assert "after the last wheel is clear" in said
    assert "stays green: the magnet does not close" in passing_train(run(), orientation="crosswise").sentence


def test_the_on_time_of_a_train_by_hand():
    """1.2 m of train and 0.3 m to clear at 0.3 m/s: 5 s; a magnet 0.15 m behind the front saves half a second."""
    assert train_hold("1.2 m", "0.3 m/s", "0.3 m") == Q("5 s")
    assert train_hold("1.2 m", "0.3 m/s", "0.3 m", "150 mm").to("s").magnitude == pytest.approx(4.5)
    with pytest.raises(RangeError, match=r"magnet_from_front needs no more than .* 1.2 m; you gave 2 m"):
        train_hold("1.2 m", "0.3 m/s", "0.3 m", "2 m")
    for hold, grade, said in ((10.0, FINE, "as slow as 0.15 m/s"), (5.0, FINE, "0.3 m/s"), (4.0, STOP, "300 mm still")):
        (found,) = hold_findings(5.0, hold, 0.3)
        assert found.grade == grade
        assert said in found.reason
