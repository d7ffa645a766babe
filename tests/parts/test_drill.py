"""Drill sizes and the choice of the next one."""

import hypothesis.strategies as st
import pytest
from hypothesis import given

from sigcalc.errors import DesignError
from sigcalc.parts.drill import FRACTIONAL, METRIC, NUMBER, drills, next_drill_up
from sigcalc.units import Q


def test_published_diameters():
    # GNU units 2.22: fractional inch drills, exact; drillgauge(52), drillgauge(1), drillgauge(60), drillgauge(80)
    inches = {"1/16 in": 1.5875, "5/64 in": 1.984375, "3/32 in": 2.38125, "7/64 in": 2.778125, "1/8 in": 3.175}
    numbers = {"no. 52": 1.6129, "no. 1": 5.7912, "no. 60": 1.016, "no. 80": 0.3429}
    for name, millimetres in {**inches, **numbers, "3.2 mm": 3.2}.items():
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


@given(st.floats(0.1, 13))
def test_the_next_drill_up_is_the_thinnest_that_is_enough(millimetres):
    drill = next_drill_up(Q(millimetres, "mm"))
    assert drill.si.diameter >= (millimetres - 1e-6) * 1e-3
    assert all(each.si.diameter < millimetres * 1e-3 for each in drills.values() if each.diameter < drill.diameter)


def test_beyond_the_thickest_there_is_none():
    with pytest.raises(DesignError, match="thickest drill here, 13 mm"):
        next_drill_up("14 mm")
