"""A magnet past a reed: stretches against a walk through magpylib's field, gaps and offsets at their limit."""

import magpylib
import numpy as np
import pytest

from sigcalc.design.train.passing import Passing, levels
from sigcalc.parts.magnet import BarMagnet, Magnet
from sigcalc.parts.reed import Reed, reeds

DISC = Magnet("5 mm", "3 mm", "1.2 T")
BAR = BarMagnet("10 mm", "4 mm", "6 mm", "1.2 T")
STEP = 5e-6
WALK = np.arange(-60e-3, 60e-3, STEP)


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


def magpylib_amount(orientation, gap, offset):
    """Amount of the flux density along the track of the disc, by magpylib."""
    axis = {"upright": (0, 0, 1), "lengthwise": (1, 0, 0), "crosswise": (0, 1, 0)}[orientation]
    turned = {"upright": None, "lengthwise": ("y", 90), "crosswise": ("x", -90)}[orientation]
    magnet = magpylib.magnet.Cylinder(dimension=(5e-3, 3e-3), polarization=(0, 0, 1.2))
    if turned:
        magnet.rotate_from_angax(turned[1], turned[0])
    height = gap + (1.5e-3 if orientation == "upright" else 2.5e-3)
    places = np.column_stack([-WALK, np.full_like(WALK, -offset), np.full_like(WALK, -height)])
    assert magnet.getB((axis[0] * 9e-3, axis[1] * 9e-3, axis[2] * 9e-3)) @ axis > 0
    return np.abs(magnet.getB(places)[:, 0])


@pytest.mark.parametrize("orientation", ["upright", "lengthwise", "crosswise"])
@pytest.mark.parametrize("gap", [2e-3, 4e-3, 9e-3])
@pytest.mark.parametrize("offset", [0.0, 6e-3])
def test_stretches_against_a_walk(orientation, gap, offset):
    amount = magpylib_amount(orientation, gap, offset)
    for pull_in, release in ((8e-3, 6e-3), (2e-3, 1e-3), (0.7e-3, 0.7e-3), (0.5e-3, 0.15e-3)):
        (found,) = Passing(DISC, orientation).stretches(gap, offset, pull_in, release)
        # magpylib gives nothing but rounding where there is no field
        expected = walked(np.where(amount > 1e-12, amount, 0.0), pull_in, release)
        assert found.shape == expected.shape
        assert found == pytest.approx(expected, abs=1.01 * STEP)


@pytest.mark.parametrize("magnet", [DISC, BAR], ids=["disc", "bar"])
@pytest.mark.parametrize("orientation", ["upright", "lengthwise"])
@pytest.mark.parametrize("length", [0.0, 12e-3])
def test_the_reed_is_at_its_thresholds_at_the_ends(magnet, orientation, length):
    passing = Passing(magnet, orientation, length)
    gaps = np.array([0.05e-3, 1e-3, 5e-3, 12e-3])
    for gap, found in zip(gaps, passing.stretches(gaps, 0.0, 0.8e-3, 0.5e-3), strict=True):
        assert len(found)
        start, end = found.T
        assert np.abs(passing.field(start, gap)) == pytest.approx(0.8e-3, rel=1e-6)
        assert np.abs(passing.field(end, gap)) == pytest.approx(0.5e-3, rel=1e-6)
        assert (start < end).all()
        assert (end[:-1] < start[1:]).all()


@pytest.mark.parametrize(("orientation", "offset"), [("upright", 0.0), ("lengthwise", 0.0), ("crosswise", 7e-3)])
def test_peaks_against_a_fine_grid(orientation, offset):
    passing = Passing(DISC, orientation)
    along = np.linspace(-30e-3, 30e-3, 60001)
    for gap in (0.5e-3, 8e-3):
        expected = np.abs(passing.field(along, gap, offset)).max()
        assert passing.peak(gap, offset) == pytest.approx([expected], rel=1e-7)


@pytest.mark.parametrize("orientation", ["upright", "lengthwise"])
@pytest.mark.parametrize("length", [0.0, 10e-3])
def test_the_largest_gap_is_the_last_that_closes(orientation, length):
    passing = Passing(DISC, orientation, length)
    levels_ = np.array([0.5e-3, 1e-3, 4e-3])
    gaps = passing.largest_gaps(levels_)
    assert passing.peak(gaps) == pytest.approx(levels_, rel=1e-5)
    assert (np.diff(gaps) < 0).all()
    for gap, level in zip(gaps, levels_, strict=True):
        assert len(passing.stretches(0.999 * gap, 0.0, level, level / 2)[0])
        assert not len(passing.stretches(1.001 * gap, 0.0, level, level / 2)[0])


@pytest.mark.parametrize("orientation", ["upright", "lengthwise", "crosswise"])
def test_the_farthest_offset_is_the_last_that_closes(orientation):
    passing = Passing(BAR, orientation)
    levels_ = np.array([0.3e-3, 1e-3])
    offsets = passing.farthest_offsets(levels_, 6e-3)
    for offset, level in zip(offsets, levels_, strict=True):
        assert passing.peak(6e-3, offset) == pytest.approx([level], rel=1e-4)
        beyond = np.linspace(1.001 * offset, 8 * offset, 40)
        assert (passing.peak(6e-3, beyond) < level).all()


def test_no_gap_and_no_offset_where_the_field_never_suffices():
    assert np.isnan(Passing(DISC, "crosswise").largest_gaps(np.array([1e-3]))).all()
    assert np.isnan(Passing(DISC, "upright").largest_gaps(np.array([2.9]))).all()
    assert np.isnan(Passing(DISC, "upright").farthest_offsets(np.array([0.1]), 8e-3)).all()


def test_levels_run_from_the_worst_pair_to_the_best():
    magnet = Magnet("5 mm", "3 mm", "1.2 T", remanence_least="1.0 T", remanence_most="1.5 T")
    sold = reeds["10 W reed, 7 to 21 AT"]
    pull_in, release = levels(magnet, sold)
    assert (np.diff(pull_in) < 0).all()
    assert (np.diff(release) < 0).all()
    assert pull_in[0] == pytest.approx(sold.least_sensitive.at_magnet[0] * 1.2)
    assert pull_in[1] == pytest.approx(sold.middle.at_magnet[0])
    assert release[2] == pytest.approx(sold.most_sensitive.at_magnet[1] / 1.25)
    # a weaker magnet at the reed's own thresholds closes it over the same stretches
    weak = Magnet("5 mm", "3 mm", "1.0 T")
    reed = Reed("2 mT", "1 mT")
    high = levels(magnet, reed)
    (one,) = Passing(weak, "upright").stretches(5e-3, 0.0, 2e-3, 1e-3)
    (other,) = Passing(magnet, "upright").stretches(5e-3, 0.0, high[0][0], high[1][0])
    assert one == pytest.approx(other, abs=1e-10)
