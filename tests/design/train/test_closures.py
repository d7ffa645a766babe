"""Where a passing magnet keeps the reed closed: the three orientations, hysteresis, arrays, the reed's length."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sigcalc.design.train.closures import closures
from sigcalc.design.train.passing import Passing
from sigcalc.errors import RangeError, SigcalcError, UnitError, UnknownNameError
from sigcalc.parts.magnet import BarMagnet, Magnet
from sigcalc.parts.reed import BRIDGE, Reed, reeds
from sigcalc.units import Q

DISC = Magnet(diameter="5 mm", length="3 mm", remanence="1.2 T")
REED = Reed(pull_in="2 mT", release="1 mT")


def millimetres(pairs):
    return np.array([[end.to("mm").magnitude for end in pair] for pair in pairs]).reshape(-1, 2)


def reed_at(peak, times):
    """A reed whose pull-in is the peak over `times`, with hysteresis."""
    return Reed(Q(peak / times, "T"), Q(0.7 * peak / times, "T"))


class TestThreeOrientations:
    def test_an_upright_magnet_closes_it_twice(self):
        found = millimetres(closures(magnet=DISC, reed=REED, gap="8 mm", orientation="upright"))
        assert len(found) == 2
        assert found[0, 1] < 0 < found[1, 0]  # open right under the magnet, where the field stands upright

    @pytest.mark.parametrize("times", [1.05, 2, 4.5])
    def test_a_lengthwise_one_once_below_about_five_times_the_pull_in(self, times):
        peak = Passing(DISC, "lengthwise").peak(15e-3)[0]
        found = millimetres(closures(DISC, reed_at(peak, times), "15 mm", "lengthwise"))
        assert len(found) == 1
        assert found[0, 0] < 0 < found[0, 1]

    @pytest.mark.parametrize("times", [5.5, 20, 200])
    def test_and_three_times_above(self, times):
        peak = Passing(DISC, "lengthwise").peak(15e-3)[0]
        found = millimetres(closures(DISC, reed_at(peak, times), "15 mm", "lengthwise"))
        assert len(found) == 3
        assert found[1, 0] < 0 < found[1, 1]

    def test_for_a_small_magnet_far_off_the_limit_is_that_of_a_dipole(self):
        # side lobes of (2 t - 1) / (1 + t)^2.5 at t = 3/2, t the square of place over height: 2 / 2.5^2.5 of the peak
        limit = 2.5**2.5 / 2
        small = Magnet("1 mm", "1 mm", "1.2 T")
        peak = Passing(small, "lengthwise").peak(60e-3)[0]
        for times, count in ((0.99 * limit, 1), (1.01 * limit, 3)):
            assert (
                len(closures(small, Reed(Q(peak / times, "T"), Q(peak / times, "T")), "60 mm", "lengthwise")) == count
            )
        assert limit == pytest.approx(5, abs=0.1)

    @pytest.mark.parametrize("gap", ["0.2 mm", "3 mm", "8 mm", "30 mm"])
    @pytest.mark.parametrize("magnet", [DISC, BarMagnet("10 mm", "5 mm", "2 mm", "1.2 T")], ids=["disc", "bar"])
    def test_a_crosswise_one_never_on_the_centre_line(self, magnet, gap):
        tender = Reed("1 µT", "0.5 µT")
        assert closures(magnet, tender, gap, "crosswise") == []
        assert len(closures(magnet, tender, gap, "crosswise", offset="3 mm")) > 0


def test_what_the_magnet_is_called_does_not_matter():
    by_name = millimetres(closures("5 x 3 mm disc, N35", REED, "8 mm", "upright"))
    by_size = millimetres(closures(Magnet("5 mm", "3 mm", "1.195 T"), REED, "8 mm", "upright"))
    assert by_name == pytest.approx(by_size, abs=1e-9)


@settings(max_examples=40)
@given(
    gap=st.floats(0.5, 25),
    pull_in=st.floats(0.1, 30),
    ratio=st.floats(0.2, 1),
    orientation=st.sampled_from(["upright", "lengthwise"]),
)
def test_hysteresis_only_delays_the_opening(gap, pull_in, ratio, orientation):
    where = {"magnet": DISC, "gap": Q(gap, "mm"), "orientation": orientation}
    loose = millimetres(closures(reed=Reed(Q(pull_in, "mT"), Q(pull_in * ratio, "mT")), **where))
    tight = millimetres(closures(reed=Reed(Q(pull_in, "mT"), Q(pull_in, "mT")), **where))
    assert tight == pytest.approx(-tight[::-1, ::-1], abs=1e-6)  # without hysteresis, the same from either side
    assert len(loose) <= len(tight)
    assert len(tight) in ({"upright": (0, 2), "lengthwise": (0, 1, 3)}[orientation])
    for start, end in tight:
        around = loose[(loose[:, 0] <= start + 1e-6) & (loose[:, 1] >= end - 1e-6)]
        assert len(around) == 1


@settings(max_examples=40)
@given(st.floats(0.2, 40), st.floats(0.2, 40))
def test_nearer_means_closed_for_longer(one, two):
    near, far = sorted((one, two))
    lengths = [np.ptp(millimetres(closures(DISC, REED, Q(gap, "mm"), "lengthwise")), axis=1) for gap in (near, far)]
    # beyond the first millimetres, where side lobes split off the stretch
    if near > 5:
        assert lengths[0].sum() >= lengths[1].sum() - 1e-6


def test_arrays_of_gaps_give_lists():
    gaps = ["3 mm", "8 mm", "40 mm"]
    found = closures(DISC, REED, gaps, "upright")
    assert [len(each) for each in found] == [2, 2, 0]
    for gap, each in zip(gaps, found, strict=True):
        assert millimetres(each) == pytest.approx(millimetres(closures(DISC, REED, gap, "upright")), abs=1e-9)
    square = closures(DISC, REED, Q([[3, 8], [9, 40]], "mm"), "upright", offset=["0 mm", "1 mm"])
    assert [[len(each) for each in row] for row in square] == [[2, 2], [2, 0]]
    assert millimetres(square[0][1]) == pytest.approx(
        millimetres(closures(DISC, REED, "8 mm", "upright", offset="1 mm")), abs=1e-9
    )


def test_pairs_are_lengths():
    (start, end), _ = closures(DISC, REED, "8 mm", "upright")
    assert start.check("[length]")
    assert end.check("[length]")


class TestLengthOfTheReed:
    def test_one_from_ampere_turns_takes_several_times_its_coil_s_field_and_a_mean(self):
        coil = Reed.from_ampere_turns("20 AT", "10 AT", "25.4 mm")
        measured = Reed(Q(coil.at_magnet[0], "T"), Q(coil.at_magnet[1], "T"))
        near, far = (
            [np.ptp(millimetres(closures(DISC, reed, gap, "lengthwise")), axis=1).sum() for reed in (coil, measured)]
            for gap in ("3 mm", "8 mm")
        )
        assert near[0] < near[1]
        assert far[0] < far[1]

    def test_near_one_pole_the_mean_over_the_reed_is_about_half(self):
        # Littelfuse, Ampere-turn versus mT: one pole near one end needs about twice the field, within a factor of 2
        point, mean = (Passing(DISC, "upright", length).peak(5e-3)[0] for length in (0.0, BRIDGE.length))
        assert 1 / 2 < 2 * mean / point < 2

    def test_far_off_it_makes_no_difference(self):
        point, mean = (
            Passing(DISC, "lengthwise", length).stretches(60e-3, 0.0, 0.02e-3, 0.01e-3)[0] for length in (0.0, 5e-3)
        )
        assert mean == pytest.approx(point, rel=1e-2)


@pytest.mark.parametrize(
    ("changed", "kind", "said"),
    [
        ({"gap": "-1 mm"}, RangeError, "gap needs a length from 0 mm to 1 km, for example .*; you gave -1 mm"),
        ({"gap": "0 mm"}, RangeError, "gap needs to be more than 0 mm, but 0 mm came"),
        ({"gap": ["5 mm", "0 mm"]}, RangeError, "gap needs to be more than 0 mm"),
        ({"gap": "1 km"}, RangeError, "gap needs to lie from 1 nm to 900 m, but 1 km came"),
        ({"gap": Q(1e-30, "m")}, RangeError, "gap needs to lie from 1 nm"),
        ({"gap": ["3 mm", "5 mm"], "offset": ["0 mm", "1 mm", "2 mm"]}, RangeError, r"shapes do not fit .* gap \(2,\)"),
        ({"gap": 5}, UnitError, "gap needs a length with its unit, for example .*; you gave 5"),
        ({"gap": "5 mT"}, UnitError, "gap needs a length, for example .*; you gave '5 mT'"),
        ({"orientation": "sideways"}, UnknownNameError, "orientation 'sideways' is not known"),
        ({"reed": "2 mT"}, UnitError, "reed needs a Reed"),
        ({"reed": reeds["10 W reed, 7 to 21 AT"]}, UnitError, "take its .least_sensitive"),
        ({"magnet": 5}, UnitError, "magnet needs a Magnet"),
        ({"offset": "-1 mm"}, RangeError, "offset needs a length from 0 m"),
    ],
)
def test_what_cannot_be_is_refused(changed, kind, said):
    with pytest.raises(kind, match=said):
        closures(**({"magnet": DISC, "reed": REED, "gap": "8 mm", "orientation": "upright"} | changed))


@settings(max_examples=60)
@given(st.floats(1e-9, 900.0), st.floats(1e-7, 2.9))
def test_any_gap_and_reed_are_answered(gap, pull_in):
    reed = Reed(Q(pull_in, "T"), Q(pull_in / 2, "T"))
    for orientation in ("upright", "lengthwise", "crosswise"):
        try:
            found = millimetres(closures(DISC, reed, Q(gap, "m"), orientation))
        except SigcalcError as error:
            pytest.fail(str(error))
        assert np.isfinite(found).all()
        assert (found[:, 0] < found[:, 1]).all()
