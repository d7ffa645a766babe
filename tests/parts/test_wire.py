"""Wires: conductor, insulation, resistance."""

import hypothesis.strategies as st
import numpy as np
import pytest
from hypothesis import given

from sigcalc.errors import RangeError, SigcalcError, UnitError
from sigcalc.parts.wire import Wire, wire_resistance, wires
from sigcalc.units import Q

GAUGES = [20, 22, 24, 26, 28, 30, 32]
# HyperPhysics wire gauge table, ohm per 1000 ft at 20 degC; within 0.2 % (it uses other copper)
PER_1000_FEET = [10.15, 16.14, 25.67, 40.81, 64.9, 103.2, 164.1]
# HwB AWG table (Standard Handbook for Electrical Engineers, 14th ed.), ohm per km; within 0.5 %
PER_KILOMETRE = [33.3, 53, 84.2, 134, 213, 339, 538]


def test_resistance_by_gauge():
    for gauge, feet, kilometre in zip(GAUGES, PER_1000_FEET, PER_KILOMETRE, strict=True):
        for given_as in (gauge, f"{gauge} AWG", f"AWG {gauge}", f"{gauge}awg", np.int64(gauge)):
            assert wire_resistance(given_as, "1000 ft").to("ohm").magnitude == pytest.approx(feet, rel=2e-3)
        assert wire_resistance(gauge=gauge, length="1 km").to("ohm").magnitude == pytest.approx(kilometre, rel=5e-3)


def test_resistance_by_area_and_temperature():
    # rho l / A with annealed copper of IEC 60028: 0.017241 ohm mm2/m, 0.00393 per kelvin from 20 degC
    for area in ("0.129 mm2", Q(0.129, "mm2")):
        cold = wire_resistance(area, "10 m").to("ohm").magnitude
        assert cold == pytest.approx(0.017241 * 10 / 0.129, rel=1e-12)
    warm = wire_resistance(26, "10 m", temperature="50 degC") / wire_resistance(26, "10 m")
    assert warm.magnitude == pytest.approx(1 + 0.00393 * 30, rel=1e-12)
    # 4/0 is 0.46 in thick: the gauge's other fixed point (ASTM B258, from memory)
    expected = 0.017241 * 100 / (np.pi / 4 * (0.46 * 25.4) ** 2)
    thick = wire_resistance("4/0 AWG", ["100 m", "200 m"]).m_as("ohm")
    assert thick == pytest.approx([expected, 2 * expected], rel=1e-9)


def test_26_gauge_solid_hook_up_wire():
    wire = wires["26 AWG solid hook-up"]
    # UL style 10236, average wall at least 15 mil; GNU units wiregauge(26); by arithmetic 1.167 mm within 0.01
    assert wire.outer_least.to("mm").magnitude == pytest.approx(1.167, abs=0.0005)
    # GNU units 2.22 wiregauge(): 0.40489 mm
    assert wire.strand_diameter.to("mm").magnitude == pytest.approx(0.40489, abs=5e-6)
    # makers quote 1.2 to 1.3
    assert Q("1.2 mm") <= wire.outer_nominal <= wire.outer_most <= Q("1.3 mm") * (1 + 1e-12)
    assert wire.resistance("1000 ft").to("ohm").magnitude == pytest.approx(40.81, rel=2e-3)


def test_every_wire_is_sound():
    for wire in wires.values():
        assert wire.strand_diameter < wire.outer_least <= wire.outer_nominal <= wire.outer_most
    strands, solid = wires["26 AWG stranded hook-up"], wires["26 AWG solid hook-up"]
    assert strands.area / solid.area == pytest.approx(1, rel=0.1)


def test_bad_gauges_are_refused():
    for gauge in ("26", 26.0, True, None, "AWG"):
        with pytest.raises(UnitError, match="gauge"):
            wire_resistance(gauge, "1 m")
    with pytest.raises(RangeError, match="gauge"):
        wire_resistance(99, "1 m")


@pytest.mark.parametrize(
    "fault", [{"strands": 0}, {"strands": 1.5}, {"strands": True}, {"outer_least": "0.3 mm"}, {"outer_most": "0.9 mm"}]
)
def test_a_wire_of_ones_own_has_to_be_sound(fault):
    sound = {"name": "own", "strands": 1, "strand_diameter": "0.4 mm"}
    sound |= {"outer_least": "1 mm", "outer_nominal": "1.1 mm", "outer_most": "1.2 mm"}
    assert Wire(**sound).area.to("mm**2").magnitude == pytest.approx(np.pi / 4 * 0.16)
    with pytest.raises(RangeError):
        Wire(**sound | fault)


@given(
    st.integers(-10, 70) | st.floats(-1, 20).map(lambda a: Q(a, "mm2")) | st.text(max_size=6) | st.floats(),
    st.floats(-1, 2000).map(lambda d: Q(d, "m")) | st.text(max_size=5),
    st.floats(-300, 500).map(lambda t: Q(t, "degC")),
)
def test_an_answer_or_a_sigcalc_error(gauge, length, temperature):
    try:
        resistance = wire_resistance(gauge, length, temperature).to("ohm").magnitude
    except SigcalcError:
        return
    assert np.isfinite(resistance)
    assert resistance >= 0
