"""Drill sizes and the choice of the next one."""

import hypothesis.strategies as st
import pytest
from hypothesis import given

from sigcalc.errors import DesignError, RangeError, SigcalcError, UnitError, UnknownNameError
from sigcalc.parts.drill import FRACTIONAL, KINDS, METRIC, NUMBER, drills, nearest_drill, next_drill_up
from sigcalc.units import Q


@pytest.mark.parametrize(
    ("name", "millimetres"),
    [
        # GNU units 2.22: fractional inch drills, exact
        ("1/16 in", 1.5875),
        ("5/64 in", 1.984375),
        ("3/32 in", 2.38125),
        ("7/64 in", 2.778125),
        ("1/8 in", 3.175),
        ("9/64 in", 3.571875),
        ("5/32 in", 3.96875),
        # GNU units 2.22, drillgauge(52), drillgauge(1), drillgauge(60), drillgauge(80)
        ("no. 52", 1.6129),
        ("no. 1", 5.7912),
        ("no. 60", 1.016),
        ("no. 80", 0.3429),
        ("3.2 mm", 3.2),
    ],
)
def test_published_diameters(name, millimetres):
    assert drills[name].diameter.to("mm").magnitude == pytest.approx(millimetres, rel=1e-12)


def test_the_table_is_whole():
    kinds = {kind: [each for each in drills.values() if each.kind == kind] for kind in KINDS}
    assert {kind: len(found) for kind, found in kinds.items()} == {FRACTIONAL: 32, NUMBER: 80, METRIC: 104}
    numbered = [drills[f"no. {number}"].si.diameter for number in range(80, 0, -1)]
    assert numbered == sorted(set(numbered))  # a higher number is a thinner drill


@pytest.mark.parametrize(
    ("wanted", "kinds", "up", "nearest"),
    [
        ("3.175 mm", KINDS, "1/8 in", "1/8 in"),
        ("1/8 in", FRACTIONAL, "1/8 in", "1/8 in"),
        ("3.18 mm", FRACTIONAL, "9/64 in", "1/8 in"),
        ("3.18 mm", [METRIC], "3.2 mm", "3.2 mm"),
        ("3.18 mm", (FRACTIONAL, NUMBER), "no. 30", "1/8 in"),
        ("0.1 mm", NUMBER, "no. 80", None),
        ("13 mm", KINDS, "13 mm", "13 mm"),
    ],
)
def test_next_and_nearest(wanted, kinds, up, nearest):
    assert next_drill_up(wanted, kinds).name == up
    if nearest:
        assert nearest_drill(wanted, kinds).name == nearest
    else:
        with pytest.raises(DesignError, match="beyond the drills"):
            nearest_drill(wanted, kinds)


def test_bad_input_is_refused():
    with pytest.raises(DesignError, match="thickest drill here, 1/2 in"):
        next_drill_up("13 mm", FRACTIONAL)
    with pytest.raises(UnitError, match="diameter needs a length with its unit"):
        next_drill_up(3.2)
    with pytest.raises(RangeError, match="more than nothing"):
        nearest_drill("0 mm")
    with pytest.raises(UnknownNameError, match="fractional"):
        next_drill_up("3 mm", "fraction")
    with pytest.raises(UnknownNameError, match="at least one of"):
        next_drill_up("3 mm", [])
    with pytest.raises(UnknownNameError, match="'1/8 in'"):
        drills["1/8 inch"]


@given(
    st.one_of(st.floats(-1, 20).map(lambda d: Q(d, "mm")), st.text(max_size=5), st.floats(), st.none()),
    st.one_of(st.sampled_from(KINDS), st.lists(st.sampled_from([*KINDS, "odd", 3]), max_size=3), st.integers()),
)
def test_an_answer_or_a_sigcalc_error(diameter, kinds):
    for choose in (next_drill_up, nearest_drill):
        try:
            drill = choose(diameter, kinds)
        except SigcalcError:
            continue
        assert drill is drills[drill.name]
        if choose is next_drill_up:
            assert drill.diameter >= diameter - Q(1e-6, "mm")
            thinner = [each for each in drills.values() if each.kind in kinds and each.diameter < drill.diameter]
            assert all(each.diameter < diameter for each in thinner)
