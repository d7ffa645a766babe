"""Drill sizes and the choice of the next one."""

import hypothesis.strategies as st
import pytest
from hypothesis import given

from sigcalc.errors import DesignError, SigcalcError, UnknownNameError
from sigcalc.parts.drill import FRACTIONAL, METRIC, NUMBER, drills, next_drill_up
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
    kinds = {kind: [each for each in drills.values() if each.kind == kind] for kind in (FRACTIONAL, NUMBER, METRIC)}
    assert {kind: len(found) for kind, found in kinds.items()} == {FRACTIONAL: 32, NUMBER: 80, METRIC: 104}
    numbered = [drills[f"no. {number}"].si.diameter for number in range(80, 0, -1)]
    assert numbered == sorted(set(numbered))  # a higher number is a thinner drill


@pytest.mark.parametrize(
    ("wanted", "up"),
    [("3.175 mm", "1/8 in"), ("1/8 in", "1/8 in"), ("3.18 mm", "3.2 mm"), ("0.1 mm", "0.3 mm"), ("13 mm", "13 mm")],
)
def test_the_next_drill_up(wanted, up):
    assert next_drill_up(wanted).name == up


def test_bad_input_is_refused():
    with pytest.raises(DesignError, match="thickest drill here, 13 mm"):
        next_drill_up("14 mm")
    with pytest.raises(UnknownNameError, match="'1/8 in'"):
        drills["1/8 inch"]


@given(st.one_of(st.floats(-1, 20).map(lambda d: Q(d, "mm")), st.text(max_size=5), st.floats(), st.none()))
def test_an_answer_or_a_sigcalc_error(diameter):
    try:
        drill = next_drill_up(diameter)
    except SigcalcError:
        return
    assert drill is drills[drill.name]
    assert drill.diameter >= diameter - Q(1e-6, "mm")
    assert all(each.diameter < diameter for each in drills.values() if each.diameter < drill.diameter)
