"""A train that works a reed: time closed, fastest train, double triggers, direction, a halt; the reed's contacts."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.train.magnet_and_reed import closures
from sigcalc.design.train.trigger import reed_contact, trigger
from sigcalc.errors import RangeError, UnitError
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
# Littelfuse MDSR-10: "capable of switching 200Vdc or 0.5A at up to 10W", all limits at once; Coto RI-02 the same
LIMITED = "10 mm reed, 10 to 25 AT"


def verdicts(usual=USUAL, **changed):
    return {each.topic: each for each in trigger(**(usual | changed)).findings}


class TestTime:
    def test_time_closed_is_the_longest_stretch_over_the_speed(self):
        found = trigger(**USUAL)
        ((start, end),) = closures(DISC, REED, "8 mm", "lengthwise")
        assert found.nominal == ((pytest.approx(start.magnitude), pytest.approx(end.magnitude)),)
        assert found.closed.nominal == pytest.approx((end - start).magnitude / 0.4, rel=1e-9)
        assert found.fastest.nominal == pytest.approx((end - start).magnitude / 10.5e-3, rel=1e-9)
        ideal = USUAL | {"needed": "0 s", "reed": Reed("2 mT", "1 mT", operate_time="0 s")}
        assert trigger(**ideal).fastest.nominal == float("inf")

    @settings(max_examples=20)
    @given(st.floats(0.01, 9))
    def test_faster_than_the_fastest_is_not_built(self, speed):
        limit = trigger(**USUAL).fastest.nominal
        verdict = verdicts(speed=Q(speed, "m/s"))["speed"]
        assert verdict.grade == (FINE if speed <= limit else STOP)
        assert verdict.grade == FINE or f"The limit is {say(limit, 'm/s')}" in verdict.remedy

    def test_the_band_of_a_type(self):
        found = trigger(**SOLD)
        assert found.closed.least < found.closed.nominal < found.closed.most
        between = Q((found.fastest.least + found.fastest.nominal) / 2, "m/s")
        assert verdicts(SOLD, speed=between)["speed"].grade == LOOK
        assert "the reed's own 300 µs included" in verdicts(SOLD)["speed"].reason
        # 100 km/h in 1:48 is 0.5787 m/s; a relay's usual 10 ms are then 5.8 mm of track
        assert verdicts(speed=scale_speed("100 km/h", 48))["speed"].grade == FINE
        # a gap that the worst pair does not bridge
        assert verdicts(SOLD, gap="9 mm")["speed"].grade == LOOK

    @pytest.mark.parametrize(
        ("changed", "remedy"),
        [
            ({"gap": "30 mm"}, "Bring the magnet nearer."),
            ({"gap": "30 mm", "orientation": "upright"}, "Bring the magnet nearer."),
            ({"orientation": "crosswise"}, "Turn the magnet upright or lengthwise, or bring it nearer."),
        ],
    )
    def test_a_reed_that_stays_open(self, changed, remedy):
        (verdict,) = verdicts(**changed).values()
        assert (verdict.grade, verdict.topic, verdict.remedy) == (STOP, "closing", remedy)


class TestDoubleTriggers:
    def test_upright_closes_twice_and_an_on_time_covers_it_down_to_a_speed(self):
        upright = USUAL | {"orientation": "upright"}
        assert verdicts()["double triggers"].grade == FINE  # lengthwise, once
        (first, _), (second, _) = closures(DISC, REED, "8 mm", "upright")
        apart = (second - first).magnitude
        assert verdicts(upright)["double triggers"].grade == LOOK
        for factor, grade in ((0.9, LOOK), (1.1, FINE)):
            assert verdicts(upright, hold=Q(factor * apart / 0.4, "s"))["double triggers"].grade == grade
            assert verdicts(upright, hold="10 s", speed=Q(factor * apart / 10, "m/s"))["double triggers"].grade == grade
        assert say(apart / 10, "m/s") in verdicts(upright, hold="10 s")["double triggers"].reason
        with pytest.raises(RangeError, match="hold needs a time above zero"):
            trigger(**upright, hold="0 s")

    def test_once_or_three_times_as_parts_differ(self):
        assert "1 to 3 times, as magnet and reed differ" in verdicts(SOLD)["double triggers"].reason


def test_trains_the_other_way_and_trains_that_stop_on_the_reed():
    assert set(verdicts()) == {"speed", "double triggers"}
    found = verdicts(both_ways=True, may_stop=True)
    assert found["reverse running"].grade == found["standing train"].grade == LOOK
    for each in closures(DISC, REED, "8 mm", "lengthwise")[0]:
        assert f"{each.to('mm').magnitude:.2f} mm" in found["standing train"].reason


class TestContacts:
    @pytest.mark.parametrize(
        ("load", "crossed"),
        [
            (("12 V", "20 mA"), []),
            (("20 V", "0.5 A"), []),  # 10 W exactly
            (("21 V", "0.5 A"), ["product of voltage and current at the contacts is up to 10.5 W; its limit is 10 W"]),
            (("200 V", "50 mA"), []),
            (("201 V", "10 mA"), ["voltage across the contacts is up to 201 V; its limit is 200 V"]),
            (("5 V", "0.6 A"), ["current at closing through the contacts is up to 600 mA; its limit is 500 mA"]),
            (("5 V", "1.2 A"), ["current at closing", "current once closed through the contacts is up to 1.2 A"]),
        ],
    )
    def test_limits(self, load, crossed):
        verdict = reed_contact(LIMITED, *load)[0]
        assert verdict.grade == (STOP if crossed else FINE)
        assert verdict.reason.count("is up to") == len(crossed)
        assert all(each in verdict.reason for each in crossed)

    @pytest.mark.parametrize(("voltage", "ohms"), [("12 V", 24), ("5 V", 10), ("40 V", 160), ("100 V", 1000)])
    def test_least_series_resistance(self, voltage, ohms):
        # a dead short behind it: V / 0.5 A below 20 V, V^2 / 10 W above
        assert f"put {say(ohms, 'ohm')} or more" in reed_contact(LIMITED, voltage, "1.1 A")[0].remedy
        assert reed_contact(LIMITED, voltage, Q(voltage) / Q(ohms, "ohm"))[0].grade == FINE

    def test_bounce_is_mentioned_where_the_current_is_small(self):
        # Coto, technical notes: "above approximately 100 mA the bounce time is almost zero"
        small, large = (reed_contact(LIMITED, "5 V", current) for current in ("100 mA", "101 mA"))
        assert [each.topic for each in small] == ["reed's contacts", "bounce"]
        assert [each.topic for each in large] == ["reed's contacts"]
        with pytest.raises(UnitError, match="a single Reed has no limits"):
            reed_contact(Reed("2 mT", "1 mT"), "12 V", "20 mA")
