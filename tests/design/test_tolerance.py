"""The one mechanism for tolerances: against the corners of a divider by hand, and random sets against their bands."""

import numpy as np
import pytest

from sigcalc.design.tolerance import Band, at_corners, over_corners, over_draws, source_bands
from sigcalc.parts.source import batteries


def divider(volts, upper, lower):
    return volts * lower / (upper + lower)


BANDS = {"volts": Band(8.5, 9.0, 9.6, "V"), "upper": Band.within(1000.0, 0.05), "lower": Band.within(2000.0, 0.1)}


def test_the_corners_of_a_divider_by_hand():
    band = over_corners(divider, unit="V", **BANDS)
    assert band.least == pytest.approx(8.5 * 1800 / 2850, rel=1e-12)
    assert band.nominal == pytest.approx(6.0, rel=1e-12)
    assert band.most == pytest.approx(9.6 * 2200 / 3150, rel=1e-12)
    assert str(band) == "6 V (5.37 V to 6.7 V)"


def test_bands_in_a_tuple_go_to_their_ends_together():
    band = over_corners(lambda source: source[0] / source[1], source=(Band(8.0, 9.0, 10.0), Band(1.0, 2.0, 4.0)))
    assert tuple(band) == (2.5, 4.5, 8.0)


def test_arrays_and_mappings_keep_their_shape():
    found = over_corners(
        lambda volts, upper, lower: {"out": divider(volts, upper, lower), "same": 3.0},
        **BANDS | {"volts": Band.within(np.array([3.0, 9.0]), 0.1)},
    )
    assert found["out"].nominal == pytest.approx([2.0, 6.0])
    assert tuple(found["same"]) == (3.0, 3.0, 3.0)


def test_random_sets_lie_within_the_corners_and_come_again():
    band = over_corners(divider, **BANDS)
    drawn = over_draws(divider, 3, 2000, peaked=("volts",), **BANDS)
    assert drawn.shape == (2000,)
    assert band.least < drawn.min() < drawn.max() < band.most
    assert np.array_equal(drawn, over_draws(divider, 3, 2000, peaked=("volts",), **BANDS))


def test_a_peaked_band_keeps_nearer_to_its_nominal():
    even, peaked = (
        over_draws(lambda volts: volts, 1, 5000, peaked=each, volts=Band(8.0, 9.0, 10.0)) for each in ((), ("volts",))
    )
    assert np.std(even) == pytest.approx(2 / np.sqrt(12), rel=0.03)  # of an even spread over 2 V
    assert np.std(peaked) == pytest.approx(1 / np.sqrt(6), rel=0.03)  # of a triangle over 2 V


def test_a_source_goes_to_its_ends_as_one():
    volts, ohms = at_corners(source=source_bands(batteries["9 V alkaline"]))["source"]
    assert list(zip(volts, ohms, strict=True)) == [batteries["9 V alkaline"].corners[place] for place in (1, 0, 2)]
    assert (np.diff((volts / (ohms + 100))[[1, 0, 2]]) > 0).all()  # least, nominal, most current
