"""The seeded study: repeatable, within its bands, right at its ends, and with what it hangs on."""

import numpy as np
import pytest

from sigcalc.design.train.passing_odds import WATCH, passing_odds
from sigcalc.errors import DesignError, RangeError
from sigcalc.parts.reed import Reed
from tests.design.train.passing_runs import circuit, run

USUAL = passing_odds(run())


def test_the_same_seed_gives_the_same_trains_and_another_gives_others():
    again, other = passing_odds(run()), passing_odds(run(), seed=2)
    for one, same, different in zip(USUAL.sample, again.sample, other.sample, strict=True):
        np.testing.assert_array_equal(one, same)
        assert not np.array_equal(one, different)


def test_every_train_lies_within_the_bands():
    sample, made = USUAL.sample, run()
    low, nominal, high = made.magnet.remanence_band
    (least, _), (most, _) = made.reed.most_sensitive.at_magnet, made.reed.least_sensitive.at_magnet
    assert sample.pull_in.min() >= least * nominal / high
    assert sample.pull_in.max() <= most * nominal / low
    assert sample.pull_in.max() / sample.pull_in.min() > most / least / 2  # and the band is used
    assert (sample.release < sample.pull_in).all()
    assert np.abs(sample.gap / 5e-3 - 1).max() <= 0.2
    assert np.abs(sample.speed / 0.3 - 1).max() <= 0.2
    shortest, _, longest = made.circuit.seconds(9.0, 0.3)
    assert shortest <= sample.hold.min() < sample.hold.max() <= longest
    assert np.ptp(sample.hold) > 0.5 * (longest - shortest)  # and the band is used
    by_watch = passing_odds(run(), watch=True).sample
    assert np.abs(by_watch.hold / run().hold - 1).max() <= WATCH
    measured = passing_odds(run(reed=Reed("2 mT", "1 mT"))).sample  # has no band and no bridge
    assert np.ptp(measured.pull_in) / 2e-3 < 0.05  # what is left is the magnet's


def test_shares_are_counts_of_the_trains():
    case, si = USUAL.happenings, USUAL.si
    assert si.missed == case.missed.mean()
    bad = case.missed | case.short | case.own_red | case.for_good
    assert si.right == 1 - bad.mean()
    assert si.red_low < si.red_high
    assert USUAL.uncertainty(0.5) == pytest.approx(np.sqrt(0.25 / 500))
    assert USUAL.uncertainty(0.0) > 0


@pytest.mark.parametrize(
    ("changes", "share"),
    [
        ({"orientation": "crosswise"}, "missed"),
        ({"speed": "0.05 m/s"}, "short"),
        ({"reed_beyond": "0 mm", "magnet_from_front": "0 mm"}, "own_red"),
    ],
)
def test_certain_failures_are_certain(changes, share):
    odds = passing_odds(run(**changes))
    assert getattr(odds.si, share) == 1
    assert odds.si.right == 0
    assert "do not build" in [each.grade for each in odds.findings[:2]]
    assert (odds.red_low is None) == ("lasts" not in odds.sentence) == (share == "missed")


def test_a_nearer_magnet_and_a_longer_hold_never_do_worse():
    missed = [passing_odds(run(gap=f"{gap} mm"), samples=150).si.missed for gap in (8, 12, 14, 16, 20)]
    assert missed == sorted(missed)
    assert missed[0] < missed[-1]
    short = [passing_odds(run(turn=turn), samples=150).si.short for turn in (0.1, 0.2, 0.25, 0.4)]
    assert short == sorted(short, reverse=True)
    assert short[0] > short[-1]
    by_scale, by_watch = (passing_odds(run(turn=0.24), watch=each).si.short for each in (False, True))
    assert by_watch < by_scale


def test_the_share_of_a_plain_chance_comes_out():
    """A timer that must outlast a fixed way: the share of short reds is that of short holds, counted by itself."""
    odds = passing_odds(run(turn=0.2), samples=1000, gap_spread=0, speed_spread=0)
    needed = 1.39 / 0.3
    assert odds.si.short == pytest.approx((odds.sample.hold < needed).mean(), abs=0.05)


def test_leaky_capacitors_leave_it_red_for_good_now_and_then():
    leaky = run(circuit=circuit("schmitt gate", "wide-tolerance electrolytic", "1 Mohm"), turn=1.0)
    odds = passing_odds(leaky)
    assert odds.si.for_good > 0
    assert any("red for good" in each.topic for each in odds.findings)
    # a filled capacitor below the trip holds nothing
    odds = passing_odds(run(circuit=circuit("mosfet"), supply="2.5 V"))
    assert odds.si.missed > 0
    assert (odds.sample.hold >= 0).all()


def test_none_seen_is_not_none_there():
    (found,) = passing_odds(run(turn=0.5)).findings
    assert found.grade == "fine"
    assert "fewer than 0.6 %" in found.reason  # the rule of three: 3 / 500


@pytest.mark.parametrize(
    ("given", "kind", "said"),
    [
        ({"samples": 0}, RangeError, "whole number from 1"),
        ({"samples": 10**9}, RangeError, "whole number from 1"),
        ({"gap_spread": 1.0}, RangeError, "gap_spread needs a fraction from 0 % to 99 %"),
        ({"run": run(backwards=True)}, DesignError, "needs no red"),
    ],
)
def test_bad_input_is_refused(given, kind, said):
    with pytest.raises(kind, match=said):
        passing_odds(**{"run": run()} | given)
