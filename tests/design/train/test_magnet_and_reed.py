"""A magnet past a reed: the closed stretches in three orientations, the largest gap, the reach to the next track."""

import magpylib
import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.train.magnet_and_reed import Passing, closures, largest_gap, levels, side_reach
from sigcalc.errors import DesignError, RangeError, UnitError, UnknownNameError
from sigcalc.parts.magnet import Magnet, magnets
from sigcalc.parts.reed import BRIDGE, Reed, reeds
from sigcalc.units import Q, say

DISC = Magnet(diameter="5 mm", length="3 mm", remanence="1.2 T")
REED = Reed(pull_in="2 mT", release="1 mT")
SOLD = "10 W reed, 7 to 21 AT"
NAMED = "5 x 3 mm disc, N35"
LARGE = "10 x 3 mm disc, N35"
STEP = 5e-6
WALK = np.arange(-60e-3, 60e-3, STEP)


def millimetres(pairs):
    return np.array([[end.to("mm").magnitude for end in pair] for pair in pairs]).reshape(-1, 2)


def reed_at(peak, times):
    """A reed whose pull-in is the peak over `times`, with hysteresis."""
    return Reed(Q(peak / times, "T"), Q(0.7 * peak / times, "T"))


def walked(amount, pull_in, release):
    """The stretches by walking along the track and asking at each step."""
    closed, found, start = False, [], None
    for place, value in zip(WALK, amount, strict=True):
        if not closed and value >= pull_in:
            closed, start = True, place
        elif closed and value < release:
            closed = False
            found.append((start, place))
    return np.array(found).reshape(-1, 2)


def turned(orientation):
    """Magpylib's disc as it lies to the track (x along it, z up), and how high its centre is above its lowest point."""
    magnet = magpylib.magnet.Cylinder(dimension=(5e-3, 3e-3), polarization=(0, 0, 1.2))
    turn = {"lengthwise": (90, "y"), "crosswise": (90, "x")}.get(orientation)
    if turn:
        magnet.rotate_from_angax(*turn)
    return magnet, 1.5e-3 if orientation == "upright" else 2.5e-3


class TestPassing:
    @pytest.mark.parametrize("orientation", ["upright", "lengthwise", "crosswise"])
    @pytest.mark.parametrize(("gap", "offset"), [(2e-3, 0.0), (4e-3, 6e-3), (9e-3, 0.0)])
    def test_stretches_against_a_walk_past_a_magnet_turned_by_magpylib(self, orientation, gap, offset):
        magnet, half = turned(orientation)
        places = np.column_stack([-WALK, np.full_like(WALK, -offset), np.full_like(WALK, -gap - half)])
        amount = np.abs(magnet.getB(places)[:, 0])
        passing = Passing(DISC, orientation)
        assert np.abs(passing.field(WALK, gap, offset)) == pytest.approx(amount, rel=1e-9, abs=1e-12)
        for pull_in, release in ((8e-3, 6e-3), (2e-3, 1e-3), (0.7e-3, 0.7e-3), (0.5e-3, 0.15e-3)):
            (found,) = passing.stretches(gap, offset, pull_in, release)
            # nothing but rounding where there is no field
            expected = walked(np.where(amount > 1e-12, amount, 0.0), pull_in, release)
            assert found.shape == expected.shape
            assert found == pytest.approx(expected, abs=1.01 * STEP)

    @pytest.mark.parametrize("orientation", ["upright", "lengthwise"])
    @pytest.mark.parametrize("length", [0.0, 12e-3])
    def test_the_reed_is_at_its_thresholds_at_the_ends(self, orientation, length):
        passing = Passing(DISC, orientation, length)
        nodes, weights = np.polynomial.legendre.leggauss(200)
        gaps = np.array([0.5e-3, 1e-3, 5e-3, 12e-3])
        for gap, found in zip(gaps, passing.stretches(gaps, 0.0, 0.8e-3, 0.5e-3), strict=True):
            assert len(found)
            # ten nanometres before and after each end the field is on different sides of the threshold
            over = np.add.outer(length / 2 * nodes, np.add.outer([-1e-8, 1e-8], found))
            middle = passing.at_point(np.add.outer(length / 2 * nodes, found), gap)
            mean = np.abs(np.tensordot(weights, passing.at_point(over, gap), 1)) / 2
            assert passing.field(found, gap) == pytest.approx(np.tensordot(weights, middle, 1) / 2, rel=2e-3)
            assert (mean[0] < [0.8e-3, 0.5e-3]).tolist() == [[True, False]] * len(found)
            assert (mean[1] < [0.8e-3, 0.5e-3]).tolist() == [[False, True]] * len(found)
            assert (np.diff(found.ravel()) > 0).all()

    @pytest.mark.parametrize(("orientation", "offset"), [("upright", 0.0), ("lengthwise", 0.0), ("crosswise", 7e-3)])
    def test_peaks_against_a_fine_grid(self, orientation, offset):
        passing = Passing(DISC, orientation)
        along = np.linspace(-30e-3, 30e-3, 60001)
        for gap in (0.5e-3, 8e-3):
            expected = np.abs(passing.field(along, gap, offset)).max()
            assert passing.peak(gap, offset) == pytest.approx([expected], rel=1e-6)

    @pytest.mark.parametrize("orientation", ["upright", "lengthwise"])
    @pytest.mark.parametrize("length", [0.0, 10e-3])
    def test_the_largest_gap_is_the_last_that_closes(self, orientation, length):
        passing = Passing(DISC, orientation, length)
        limits = np.array([0.5e-3, 1e-3, 4e-3])
        gaps = passing.largest_gaps(limits)
        assert passing.peak(gaps) == pytest.approx(limits, rel=1e-5)
        assert (np.diff(gaps) < 0).all()
        for gap, level in zip(gaps, limits, strict=True):
            assert len(passing.stretches(0.999 * gap, 0.0, level, level / 2)[0])
            assert not len(passing.stretches(1.001 * gap, 0.0, level, level / 2)[0])

    @pytest.mark.parametrize("orientation", ["upright", "lengthwise", "crosswise"])
    def test_the_farthest_offset_is_the_last_that_closes(self, orientation):
        passing = Passing(DISC, orientation)
        limits = np.array([0.3e-3, 1e-3])
        for offset, level in zip(passing.farthest_offsets(limits, 6e-3), limits, strict=True):
            assert passing.peak(6e-3, offset) == pytest.approx([level], rel=1e-4)
            assert (passing.peak(6e-3, np.linspace(1.001 * offset, 8 * offset, 40)) < level).all()

    def test_no_gap_and_no_offset_where_the_field_never_suffices(self):
        assert np.isnan(Passing(DISC, "crosswise").largest_gaps(np.array([1e-3]))).all()
        assert np.isnan(Passing(DISC, "upright").largest_gaps(np.array([2.9]))).all()
        assert np.isnan(Passing(DISC, "upright").farthest_offsets(np.array([0.1]), 8e-3)).all()

    def test_levels_run_from_the_worst_pair_to_the_best(self):
        magnet = Magnet("5 mm", "3 mm", "1.2 T", remanence_least="1.0 T", remanence_most="1.5 T")
        sold = reeds[SOLD]
        pull_in, release = levels(magnet, sold)
        assert (np.diff(pull_in) < 0).all()
        assert (np.diff(release) < 0).all()
        assert pull_in[0] == pytest.approx(sold.least_sensitive.at_magnet[0] * 1.2)
        assert pull_in[1] == pytest.approx(sold.middle.at_magnet[0])
        assert release[2] == pytest.approx(sold.most_sensitive.at_magnet[1] / 1.25)
        # a weaker magnet at the reed's own thresholds closes it over the same stretches
        high = levels(magnet, REED)
        (one,) = Passing(Magnet("5 mm", "3 mm", "1.0 T"), "upright").stretches(5e-3, 0.0, 2e-3, 1e-3)
        (other,) = Passing(magnet, "upright").stretches(5e-3, 0.0, high[0][0], high[1][0])
        assert one == pytest.approx(other, abs=1e-8)


class TestThreeOrientations:
    def test_an_upright_magnet_closes_it_twice(self):
        found = millimetres(closures(magnet=NAMED, reed=REED, gap="8 mm", orientation="upright"))
        assert len(found) == 2
        assert found[0, 1] < 0 < found[1, 0]  # open right under the magnet, where the field stands upright
        own = Magnet("5 mm", "3 mm", "1.195 T")
        assert found == pytest.approx(millimetres(closures(own, REED, "8 mm", "upright")))

    @pytest.mark.parametrize(("times", "count"), [(1.05, 1), (2, 1), (4.5, 1), (5.5, 3), (20, 3), (200, 3)])
    def test_a_lengthwise_one_once_below_about_five_times_the_pull_in_and_three_times_above(self, times, count):
        peak = Passing(DISC, "lengthwise").peak(15e-3)[0]
        found = millimetres(closures(DISC, reed_at(peak, times), "15 mm", "lengthwise"))
        assert len(found) == count
        assert found[count // 2, 0] < 0 < found[count // 2, 1]

    def test_for_a_small_magnet_far_off_the_limit_is_that_of_a_dipole(self):
        # side lobes of (2 t - 1) / (1 + t)^2.5 at t = 3/2, t the square of place over height: 2 / 2.5^2.5 of the peak
        limit = 2.5**2.5 / 2
        small = Magnet("1 mm", "1 mm", "1.2 T")
        peak = Passing(small, "lengthwise").peak(60e-3)[0]
        for times, count in ((0.99 * limit, 1), (1.01 * limit, 3)):
            level = peak / times
            assert len(Passing(small, "lengthwise").stretches(60e-3, 0.0, level, level)[0]) == count
        assert limit == pytest.approx(5, abs=0.1)

    @pytest.mark.parametrize("gap", ["0.2 mm", "3 mm", "8 mm", "30 mm"])
    def test_a_crosswise_one_never_on_the_centre_line(self, gap):
        tender = Reed("1 µT", "0.5 µT")
        assert closures(DISC, tender, gap, "crosswise") == []
        assert len(closures(DISC, tender, gap, "crosswise", offset="3 mm")) > 0


class TestClosures:
    @settings(max_examples=30)
    @given(
        gap=st.floats(0.5, 25),
        pull_in=st.floats(0.1, 30),
        ratio=st.floats(0.2, 1),
        orientation=st.sampled_from(["upright", "lengthwise"]),
    )
    def test_hysteresis_only_delays_the_opening(self, gap, pull_in, ratio, orientation):
        where = {"magnet": DISC, "gap": Q(gap, "mm"), "orientation": orientation}
        loose = millimetres(closures(reed=Reed(Q(pull_in, "mT"), Q(pull_in * ratio, "mT")), **where))
        tight = millimetres(closures(reed=Reed(Q(pull_in, "mT"), Q(pull_in, "mT")), **where))
        assert tight == pytest.approx(-tight[::-1, ::-1], abs=1e-5)  # without hysteresis, the same from either side
        assert len(loose) <= len(tight)
        assert len(tight) in ({"upright": (0, 2), "lengthwise": (0, 1, 3)}[orientation])
        for start, end in tight:
            around = loose[(loose[:, 0] <= start + 1e-5) & (loose[:, 1] >= end - 1e-5)]
            assert len(around) == 1

    @given(st.floats(5, 40), st.floats(5, 40))  # in the first millimetres side lobes split off the stretch
    def test_nearer_means_closed_for_longer(self, one, two):
        near, far = sorted((one, two))
        lengths = [np.ptp(millimetres(closures(DISC, REED, Q(gap, "mm"), "lengthwise")), axis=1) for gap in (near, far)]
        assert lengths[0].sum() >= lengths[1].sum() - 1e-5

    def test_arrays_of_gaps_give_lists(self):
        assert [len(each) for each in closures(DISC, REED, ["3 mm", "8 mm", "40 mm"], "upright")] == [2, 2, 0]
        square = closures(DISC, REED, Q([[3, 8], [9, 40]], "mm"), "upright", offset=["0 mm", "1 mm"])
        assert [[len(each) for each in row] for row in square] == [[2, 2], [2, 0]]
        alone = closures(DISC, REED, "8 mm", "upright", offset="1 mm")
        assert millimetres(square[0][1]) == pytest.approx(millimetres(alone), rel=1e-6)

    def test_near_one_pole_the_mean_over_the_reed_is_about_half_and_far_off_it_makes_no_difference(self):
        # Littelfuse, Ampere-turn versus mT: one pole near one end needs about twice the field, within a factor of 2
        point, mean = (Passing(DISC, "upright", length).peak(5e-3)[0] for length in (0.0, BRIDGE.length))
        assert 1 / 2 < 2 * mean / point < 2
        point, mean = (
            Passing(DISC, "lengthwise", length).stretches(60e-3, 0.0, 0.02e-3, 0.01e-3)[0] for length in (0.0, 5e-3)
        )
        assert mean == pytest.approx(point, rel=1e-2)

    @pytest.mark.parametrize(
        ("changed", "kind", "said"),
        [
            ({"gap": ["5 mm", "0 mm"]}, RangeError, "gap needs .* from 0.01 mm to 100 m"),
            ({"gap": ["3 mm", "5 mm"], "offset": ["0 mm", "1 mm", "2 mm"]}, RangeError, r"do not fit .* gap \(2,\)"),
            ({"orientation": "sideways"}, UnknownNameError, "orientation 'sideways' is not known"),
            ({"reed": reeds[SOLD]}, UnitError, "use its .least_sensitive"),
        ],
    )
    def test_what_cannot_be_is_refused(self, changed, kind, said):
        with pytest.raises(kind, match=said):
            closures(**({"magnet": DISC, "reed": REED, "gap": "8 mm", "orientation": "upright"} | changed))

    @settings(max_examples=40)
    @given(st.floats(1e-5, 100.0), st.floats(1e-7, 2.9))
    def test_any_gap_and_reed_are_answered(self, gap, pull_in):
        reed = Reed(Q(pull_in, "T"), Q(pull_in / 2, "T"))
        for orientation in ("upright", "lengthwise", "crosswise"):
            found = millimetres(closures(DISC, reed, Q(gap, "m"), orientation))
            assert np.isfinite(found).all()
            assert (found[:, 0] < found[:, 1]).all()


class TestLargestGap:
    @pytest.mark.parametrize("orientation", ["upright", "lengthwise"])
    def test_the_least_is_that_of_the_weakest_magnet_and_the_least_sensitive_reed(self, orientation):
        found = largest_gap(magnet=NAMED, reed=SOLD, orientation=orientation)
        weakest = Magnet("5 mm", "3 mm", magnets[NAMED].remanence_least)
        for magnet, reed, gap in (
            (weakest, reeds[SOLD].least_sensitive, found.least),
            (NAMED, reeds[SOLD].middle, found.nominal),
        ):
            assert len(closures(magnet, reed, 0.999 * gap, orientation)) > 0
            assert closures(magnet, reed, 1.001 * gap, orientation) == []
        assert found.least < found.nominal < found.most

    def test_a_measured_pair_has_no_band(self):
        measured = largest_gap(DISC, Reed("1 mT", "0.5 mT"), "lengthwise")
        assert measured.least == measured.nominal == measured.most

    def test_within_the_least_it_is_fine_and_beyond_the_middle_pair_it_is_not_built(self):
        found = largest_gap(NAMED, SOLD, "upright").si
        near, middle = (np.array([0.99, 1.01]) * each for each in (found.least, found.nominal))
        for gap, grade in zip((*near, *middle), (FINE, LOOK, LOOK, STOP), strict=True):
            (verdict,) = largest_gap(NAMED, SOLD, "upright", gap=Q(gap, "m")).findings
            assert verdict.grade == grade
            assert bool(verdict.remedy) == (grade != FINE)
        assert f"Bring the magnet to {say(found.least, 'm')}" in verdict.remedy
        assert largest_gap(NAMED, SOLD, "upright").findings == ()

    def test_where_the_least_sensitive_reed_does_not_close_even_touching(self):
        magnet = Magnet("2 mm", "0.5 mm", "1.2 T")
        reed = Reed.from_ampere_turns("25 AT", "10 AT", "25.4 mm")
        found = largest_gap(magnet, reed, "lengthwise", gap="0.01 mm")
        assert found.least.magnitude == 0
        assert found.most > Q("0.05 mm")
        assert found.findings[0].grade == LOOK
        far = largest_gap(magnet, reed, "lengthwise", gap="5 mm").findings[0]
        assert far.grade == STOP
        assert f"Bring the magnet to {say(found.si.nominal, 'm')}" in far.remedy

    def test_where_it_closes_at_no_gap_is_refused(self):
        for reed, lies, said in ((SOLD, "crosswise", "turn it upright"), (Reed("2.9 T", "1 T"), "upright", "at any")):
            with pytest.raises(DesignError, match=said):
                largest_gap(NAMED, reed, lies)


class TestSideReach:
    @pytest.mark.parametrize("orientation", ["upright", "lengthwise", "crosswise"])
    def test_the_most_is_that_of_the_strongest_magnet_and_the_most_sensitive_reed(self, orientation):
        found = side_reach(magnet=LARGE, reed=SOLD, gap="4 mm", orientation=orientation)
        strongest, reed = Magnet("10 mm", "3 mm", magnets[LARGE].remanence_most), reeds[SOLD].most_sensitive
        assert len(closures(strongest, reed, "4 mm", orientation, offset=0.999 * found.most)) > 0
        beyond = Q(found.most.magnitude * np.linspace(1.001, 6, 30), "m")
        assert not any(closures(strongest, reed, Q(np.full(30, 4.0), "mm"), orientation, offset=beyond))
        assert found.least < found.nominal < found.most

    def test_verdicts(self):
        found = side_reach(LARGE, SOLD, "8 mm", "lengthwise").si
        middle, far = (np.array([0.99, 1.01]) * each for each in (found.nominal, found.most))
        for spacing, grade in zip((*middle, *far), (STOP, LOOK, LOOK, FINE), strict=True):
            (verdict,) = side_reach(LARGE, SOLD, "8 mm", "lengthwise", spacing=Q(spacing, "m")).findings
            assert verdict.grade == grade
            assert bool(verdict.remedy) == (grade != FINE)
        assert "neighbouring track is" not in side_reach(LARGE, SOLD, "8 mm", "lengthwise").findings[0].reason
        # a magnet that works nowhere reaches nowhere
        found = side_reach(LARGE, Reed("2 T", "1 T"), "8 mm", "upright", spacing="1 mm")
        assert found.most.magnitude == 0
        assert found.findings[0].grade == FINE
