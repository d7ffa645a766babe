"""Scales: names and ratios of the standards, what is ambiguous, and speeds in scale."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.errors import RangeError, UnitError, UnknownNameError
from sigcalc.parts.scale import prototype_speed, scale_ratio, scale_speed, scales
from sigcalc.units import Q


def test_published_ratios():
    printed = {
        "HO": (87.0857, 5e-5),  # NMRA S-1: 3.5 mm to the foot exactly, 304.8 / 3.5
        "H0": (87, 0.5),  # NEM 010: 1:87
        "OO": (76.2, 0.05),  # 4 mm to the foot, FROM MEMORY
        "British N": (147.78, 5e-3),  # its definition: "2.0625 mm = 1 foot (1:147.78)"
    }
    # from memory of NEM 010
    printed |= {"Z": (220, 0.5), "N": (160, 0.5), "TT": (120, 0.5), "S": (64, 0.5), "G": (22.5, 0.05)}
    for name, (ratio, half_digit) in printed.items():
        assert scales[name].ratio == pytest.approx(ratio, abs=half_digit)
        assert scale_ratio(name) == scales[name].ratio == scale_ratio(scales[name])


def test_ratios_fit_the_gauges():
    # 1435 mm over the ratio against the model's gauge; Z 6.5 mm: from memory of NEM 010. 1.5 %
    for name, gauge in {"HO": 16.5, "N": 9.0, "TT": 12.0, "Z": 6.5, "S": 22.5}.items():
        assert 1435 / scales[name].ratio == pytest.approx(gauge, rel=0.015)


def test_published_speeds():
    # 27.778 m/s over the ratio; the tolerance given is 0.1 %, HO being rounded to 87.1 there
    printed = {"HO": 0.3189, "OO": 0.3645, "N": 0.1736, "TT": 0.2315, 48: 0.5787, "Z": 0.1263}
    for scale, metres_per_second in printed.items():
        found = scale_speed(speed="100 km/h", scale=scale).to("m/s").magnitude
        assert found == pytest.approx(metres_per_second, rel=1e-3)


def test_a_ratio_of_ones_own():
    for scale in (48, 48.0, "48", "1/48", " 1 : 48 ", "1:48.0"):
        assert scale_ratio(scale) == 48
    assert [scale_ratio(each) for each in ("1:48", "1:45", "1:43.5")] == [48, 45, 43.5]


@pytest.mark.parametrize("ask", [scale_ratio, scales.__getitem__, lambda name: scale_speed("100 km/h", name)])
def test_a_plain_o_is_refused_with_the_three_to_type(ask):
    for scale in ("O", "o", "0", " O "):
        with pytest.raises(UnknownNameError, match=r'"1:48" .*"1:45" .*"1:43\.5"'):
            ask(scale)


@pytest.mark.parametrize(
    ("scale", "kind", "said"),
    [
        ("ho", UnknownNameError, "scale 'ho' is not known; use one of: 'HO'"),
        ("1:43,5", UnitError, 'cannot be read; type for example scale="1:48"'),
        ("1:48:2", UnitError, "cannot be read"),
        ("1:0", RangeError, "scale needs a ratio from 1 to 1000"),
        (1 / 48, RangeError, "prototype over model, .*; you gave 0.0208"),
        (-48, RangeError, "you gave -48"),
        (float("nan"), RangeError, "you gave nan"),
        (10**400, RangeError, "scale needs a ratio from 1 to 1000"),
        (True, UnitError, "scale needs a name or a ratio, .*; you gave True"),
    ],
)
def test_what_is_no_scale(scale, kind, said):
    with pytest.raises(kind, match=said):
        scale_speed("100 km/h", scale)


@given(st.floats(0, 100), st.floats(1, 1000))
def test_there_and_back(speed, ratio):
    model = scale_speed(Q(speed, "m/s"), ratio)
    assert prototype_speed(model, ratio).to("m/s").magnitude == pytest.approx(speed, rel=1e-12, abs=1e-300)
    assert scale_speed(["0 m/s", "60 mph"], "HO")[1].m_as("m/s") == pytest.approx(60 * 0.44704 * 3.5 / 304.8)
