"""Timers: where they trip, from which supply, what feeds the coil, and what is refused."""

import dataclasses

import pytest

from sigcalc.errors import SigcalcError
from sigcalc.parts.timer import Timer, timer_output, timers

USUAL = {
    "name": "odd", "discharges": False, "retriggers": True, "least_supply": "3 V", "most_supply": "15 V",
    "least_resistance": "1 kohm",
}  # fmt: skip


def test_every_timer_reads_and_which_trip_where():
    for timer in timers.values():
        least, trip, most = timer.trips(timer.si.least_supply * 1.01)
        assert 0 < least <= trip <= most < timer.si.least_supply * 1.01
    # Malvino & Bates ex. 23-6: 8 V on 12 V. TI LM555 SNAS548B p. 7: a further trigger has no effect while it times
    assert timers["one-shot"].trips(12.0) == pytest.approx((8, 8, 8), rel=1e-15)
    assert not timers["one-shot"].retriggers
    assert {name for name, timer in timers.items() if timer.follows_supply} == {"one-shot", "schmitt gate"}
    # 2N7000: gate threshold 0.8 V least, 2.1 V typical, 3 V most, at any supply
    assert timers["mosfet"].trips(9.0) == timers["mosfet"].trips(12.0) == (0.8, 2.1, 3.0)
    assert timers["mosfet"].discharges
    # ST LM193/LM293/LM393 data sheet, Doc ID 2164, table 3 and note 2: 250 nA most, out of the IC
    assert timers["comparator"].input_current.to("nA").magnitude == pytest.approx(-250)
    assert Timer(**USUAL, trip_voltage="5 V").trips(9.0) == (5.0, 5.0, 5.0)  # without a band


# least, typical and most positive-going threshold in V at a supply of 5, 10 and 15 V
SCHMITT = [
    # Philips HEF40106B data sheet, January 1995, p. 3
    {5: (2.0, 3.0, 3.5), 10: (3.7, 5.8, 7.0), 15: (4.9, 8.3, 11.0)},
    # National Semiconductor CD40106B data sheet TL/F/5985, p. 2
    {5: (3.0, 3.6, 4.3), 10: (6.0, 6.8, 8.6), 15: (9.0, 10.0, 12.9)},
    # from memory: TI CD40106B data sheet SCHS097
    {5: (2.2, 2.9, 3.6), 10: (4.6, 5.9, 7.1), 15: (6.8, 8.8, 10.8)},
]


@pytest.mark.parametrize("make", SCHMITT)
def test_the_schmitt_gates_of_three_makes_lie_within_the_band(make):
    for supply, (least, typical, most) in make.items():
        ours = timers["schmitt gate"].trips(supply)
        assert ours[0] <= least
        assert ours[1] == pytest.approx(typical, rel=0.2)
        assert ours[2] >= most * (1 - 1e-12)


def test_the_schmitt_gates_band_is_no_wider_than_the_makes():
    """HEF40106B: 4.9 V least at 15 V; CD40106B: 8.6 V most at 10 V (the sheets above)."""
    assert timers["schmitt gate"].trips(15.0)[0] == pytest.approx(4.9, rel=5e-3)
    assert timers["schmitt gate"].trips(10.0)[2] == pytest.approx(8.6, rel=5e-3)


@pytest.mark.parametrize(
    ("given", "sentence"),
    [
        ({}, "either a trip_share or a trip_voltage"),
        ({"trip_share": 0.5, "trip_voltage": "5 V"}, "either a trip_share or a trip_voltage"),
        ({"trip_share": 1.0}, "a share below 1"),
        ({"trip_share": 0.5, "trip_share_min": 0.6}, "rising order"),
        ({"trip_voltage": "0 V"}, "above zero"),
        ({"trip_share": 0.5, "least_supply": "16 V"}, "least_supply to most_supply needs"),
    ],
)
def test_refusals(given, sentence):
    with pytest.raises(SigcalcError, match=sentence):
        Timer(**USUAL | given)


@pytest.mark.parametrize("name", list(timers))
@pytest.mark.parametrize("lamp", ["red", "green"])
def test_only_an_output_that_bears_the_coil_may_feed_it_from_below(name, lamp):
    """High while it holds red: a coil to minus is fed for red, one from plus for green. A transistor only sinks."""
    output = timer_output(timers[name], lamp)
    assert output.from_plus is (not timers[name].drives_coil or lamp == "green")
    for least, usual, most in (output.keeps, output.leaves):
        assert 0 <= least <= usual <= most < 3


def test_published_limits_of_the_one_shot_s_output_and_those_of_an_own_timer():
    """TI NE555 data sheet SLFS022: 12.75 V least at 15 V and 100 mA, 0.75 V most at 50 mA."""
    for lamp, end in (("red", 15 - 12.75), ("green", 0.75)):
        assert timer_output(timers["one-shot"], lamp).keeps[2] == pytest.approx(end)
    own = dataclasses.replace(timers["one-shot"], name="own", high_drop="3 V", low_drop=None)
    assert timer_output(own, "red").keeps == (0.0, 3.0, 3.0)
    assert timer_output(own, "green").keeps == (0.0, 0.0, 0.0)
