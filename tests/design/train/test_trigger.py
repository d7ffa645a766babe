"""A passing train: time closed, fastest train, double triggers, direction, several magnets, standing trains."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.train.closures import closures
from sigcalc.design.train.trigger import findings, trigger
from sigcalc.errors import RangeError, UnitError, UnknownNameError
from sigcalc.parts.magnet import Magnet
from sigcalc.parts.reed import Reed
from sigcalc.parts.scale import scale_speed
from sigcalc.units import Q, say

DISC = Magnet("5 mm", "3 mm", "1.2 T")
REED = Reed("2 mT", "1 mT", operate_time="0.5 ms")
USUAL = {
    "magnet": DISC,
    "reed": REED,
    "gap": "8 mm",
    "orientation": "lengthwise",
    "speed": "0.4 m/s",
    "needed": "10 ms",
}
SOLD = USUAL | {"magnet": "10 x 3 mm disc, N35", "gap": "6 mm", "reed": "10 W reed, 7 to 21 AT"}


def verdicts(**changed):
    return {each.topic: each for each in findings(trigger(**(USUAL | changed)))}


class TestTime:
    def test_time_closed_is_the_longest_stretch_over_the_speed(self):
        found = trigger(**USUAL)
        ((start, end),) = closures(DISC, REED, "8 mm", "lengthwise")
        assert found.nominal.closures == [(start, end)]
        assert found.nominal.closed.magnitude == pytest.approx((end - start).magnitude / 0.4, rel=1e-12)
        assert found.nominal.fastest.magnitude == pytest.approx((end - start).magnitude / 10.5e-3, rel=1e-12)

    @settings(max_examples=30)
    @given(st.floats(0.01, 20))
    def test_faster_than_the_fastest_is_not_built(self, speed):
        limit = trigger(**USUAL).nominal.si.fastest
        verdict = verdicts(speed=Q(speed, "m/s"))["speed"]
        assert verdict.grade == (FINE if speed <= limit else STOP)
        if verdict.grade == STOP:
            assert f"The limit is {say(limit, 'm/s')}" in verdict.remedy

    def test_the_band_of_a_type(self):
        found = trigger(**SOLD)
        assert found.worst.closed < found.nominal.closed < found.best.closed
        between = Q((found.worst.si.fastest + found.nominal.si.fastest) / 2, "m/s")
        by_topic = {each.topic: each for each in findings(trigger(**(SOLD | {"speed": between})))}
        assert by_topic["speed"].grade == LOOK
        assert found.operate_time.to("ms").magnitude == pytest.approx(0.3)

    def test_a_train_in_scale(self):
        # 100 km/h in 1:48 is 0.5787 m/s; a relay's usual 10 ms are then 5.8 mm of track
        assert verdicts(speed=scale_speed("100 km/h", 48))["speed"].grade == FINE

    def test_nothing_needed_and_an_ideal_reed_have_no_limit(self):
        found = trigger(**(USUAL | {"needed": "0 s", "reed": Reed("2 mT", "1 mT", operate_time="0 s")}))
        assert found.nominal.si.fastest == float("inf")


class TestClosing:
    def test_too_far_off(self):
        for gap, orientation in (("30 mm", "upright"), ("30 mm", "lengthwise")):
            (verdict,) = verdicts(gap=gap, orientation=orientation).values()
            assert (verdict.grade, verdict.topic) == (STOP, "closing")
            assert "below the pull-in of 2 mT" in verdict.reason
            largest = trigger(**(USUAL | {"orientation": orientation})).largest_gap
            assert f"The limit is a gap of {largest.to('mm').magnitude:.1f} mm" in verdict.remedy

    def test_crosswise(self):
        (verdict,) = verdicts(orientation="crosswise").values()
        assert verdict.grade == STOP
        assert "No gap helps: turn the magnet" in verdict.remedy
        assert verdicts(orientation="crosswise", offset="6 mm", gap="3 mm")["closing"].grade == FINE

    def test_a_gap_that_the_worst_pair_does_not_bridge(self):
        found = findings(trigger(**(SOLD | {"gap": "9 mm"})))
        assert (found[0].grade, found[0].topic) == (LOOK, "closing")
        assert "The weakest magnet does not close the least sensitive reed" in found[0].reason


class TestDoubleTriggers:
    def test_lengthwise_closes_once(self):
        verdict = verdicts()["double triggers"]
        assert (verdict.grade, verdict.reason) == (FINE, "Each magnet closes the reed once.")

    def test_upright_closes_twice_and_a_hold_covers_it(self):
        (first, _), (second, _) = closures(DISC, REED, "8 mm", "upright")
        apart = (second - first).magnitude / 0.4
        found = trigger(**(USUAL | {"orientation": "upright"}))
        assert found.nominal.first_to_last.magnitude == pytest.approx(apart, rel=1e-12)
        assert verdicts(orientation="upright")["double triggers"].grade == LOOK
        assert verdicts(orientation="upright", hold=Q(0.9 * apart, "s"))["double triggers"].grade == LOOK
        assert verdicts(orientation="upright", hold=Q(1.1 * apart, "s"))["double triggers"].grade == FINE

    def test_below_the_slowest_speed_the_hold_is_over_in_between(self):
        found = trigger(**(USUAL | {"orientation": "upright", "hold": "10 s"}))
        for factor, grade in ((1.01, FINE), (0.99, LOOK)):
            slow = verdicts(orientation="upright", hold="10 s", speed=factor * found.slowest)["double triggers"]
            assert slow.grade == grade
        assert trigger(**USUAL).slowest is None

    def test_once_or_three_times_as_parts_differ(self):
        found = findings(trigger(**SOLD))
        reason = next(each.reason for each in found if each.topic == "double triggers")
        assert "1 to 3 times, as magnet and reed differ" in reason


class TestOtherTrains:
    def test_the_other_way(self):
        assert "reverse running" not in verdicts()
        assert verdicts(both_ways=True)["reverse running"].grade == LOOK
        found = trigger(**USUAL).nominal
        (start, end), (back_start, back_end) = found.closures[0], found.closures_backwards[0]
        assert (back_start, back_end) == (-start, -end)
        assert back_start > back_end

    def test_magnets_at_both_ends(self):
        assert "several magnets" not in verdicts()
        assert verdicts(magnets_apart="1.2 m")["several magnets"].grade == LOOK
        assert "3 s after its first" in verdicts(magnets_apart="1.2 m")["several magnets"].reason
        assert verdicts(magnets_apart="1.2 m", hold="2.9 s")["several magnets"].grade == LOOK
        assert verdicts(magnets_apart="1.2 m", hold="3.1 s")["several magnets"].grade == FINE

    def test_a_train_that_stops_on_the_reed(self):
        assert "standing train" not in verdicts()
        verdict = verdicts(may_stop=True)["standing train"]
        start, end = closures(DISC, REED, "8 mm", "lengthwise")[0]
        assert verdict.grade == LOOK
        for each in (start, end):
            assert f"{each.to('mm').magnitude:.2f} mm" in verdict.reason


@pytest.mark.parametrize(
    ("changed", "kind", "said"),
    [
        ({"gap": "-1 mm"}, RangeError, "gap needs a length from 0 mm to 1 km, for example .*; you gave -1 mm"),
        ({"gap": "0 mm"}, RangeError, "gap needs to be above zero"),
        ({"speed": "0 m/s"}, RangeError, "speed needs to be above zero"),
        ({"speed": "80"}, UnitError, "speed needs a speed with its unit"),
        ({"hold": "0 s"}, RangeError, "hold needs to be above zero"),
        ({"needed": "-1 ms"}, RangeError, "needed needs a time from 0 s"),
        ({"orientation": "up"}, UnknownNameError, "orientation 'up' is not known"),
        ({"reed": "reed"}, UnknownNameError, "reed 'reed' is not known"),
    ],
)
def test_what_cannot_be_is_refused(changed, kind, said):
    with pytest.raises(kind, match=said):
        trigger(**(USUAL | changed))
