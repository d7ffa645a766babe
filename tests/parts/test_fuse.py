"""Fuses: published figures, soundness of every row, derating, and what a wire bears."""

import pytest

from sigcalc.errors import SigcalcError
from sigcalc.parts.fuse import Fuse, area_of, as_fuse, bearable_current, fuses
from sigcalc.parts.wire import wires
from sigcalc.units import Q


def test_every_fuse_is_sound():
    for name, fuse in fuses.items():
        assert as_fuse(name) is fuse
        assert fuse.ohms == (fuse.si.resistance_max, fuse.si.resistance, fuse.si.resistance_min)
        assert fuse.si.trip_current >= 2 * fuse.si.hold_current * (1 - 1e-12)


def test_what_a_wire_bears():
    # Handbook of Electronic Tables and Formulas for American Wire Gauge, column "power transmission", as
    # powerstream.com/Wire_Size.htm quotes it: 700 circular mils an ampere
    for gauge, amperes in {22: 0.92, 24: 0.58, 30: 0.14}.items():
        assert bearable_current(gauge).to("A").magnitude == pytest.approx(amperes, abs=0.005)


@pytest.mark.parametrize(
    ("allowed", "times"),
    [
        # Belden, Technical information, p. 154, table 4: 2 or 3 hook-up wires of 90 °C insulation in a cable, at 30 °C
        ({22: 6, 20: 8, 18: 14, 16: 18}, 4),
        # R. A. Lundquist and H. Leidecker, Cable bundle wire derating (NTRS 19990113164): 15 and more, 70 °C, vacuum
        ({20: 3.7}, 2.5),
        # from memory: MIL-STD-975, one wire of 200 °C insulation; with 15 and more it may carry half
        ({30: 0.65, 28: 0.9, 26: 1.25, 24: 1.65}, 2.5),
    ],
)
def test_makers_and_standards_allow_a_wire_several_times_as_much(allowed, times):
    for gauge, amperes in allowed.items():
        ours = bearable_current(gauge).m_as("A")
        assert times * ours <= amperes * 1.02 <= 8 * ours


def test_wires_may_be_named_in_every_way():
    by_gauge = area_of(26)
    assert by_gauge == pytest.approx(0.129e-6, abs=0.0005e-6)  # HwB AWG table: 0.129 mm2
    for wire in ("26 AWG", "26 AWG solid hook-up", wires["26 AWG solid hook-up"], Q(by_gauge, "m2")):
        assert area_of(wire) == pytest.approx(by_gauge, rel=1e-12)


def test_warmth_lowers_what_a_resettable_fuse_holds():
    # from memory: six tenths at 60 °C, all at 20 °C, a straight line between
    assert fuses["100 mA resettable"].held == pytest.approx(0.1 * (1 - 0.4 * 5 / 40), rel=1e-12)
    assert fuses["400 mA fast glass"].held == 0.4


SOUND = {
    "name": "own", "kind": "one-time", "hold_current": "0.1 A", "trip_current": "0.21 A", "sure_trip_current": "0.3 A",
    "sure_trip_time": "2 s", "max_voltage": "60 V", "max_fault_current": "35 A", "resistance_min": "1 ohm",
    "resistance": "1 ohm", "resistance_max": "2 ohm",
}  # fmt: skip


@pytest.mark.parametrize(
    ("call", "said"),
    [
        *(
            (lambda fault=fault: Fuse(**SOUND | fault), next(iter(fault)))
            for fault in (
                {"kind": "slow"},
                {"trip_current": "0.05 A"},
                {"sure_trip_current": "0.2 A"},
                {"hold_current": "0 A"},
                {"resistance_min": "0 ohm"},
                {"resistance_max": "0.5 ohm"},
            )
        ),
        (lambda: as_fuse("100 mA resetable"), "100 mA resettable"),
        (lambda: as_fuse(0.1), "fuse needs a Fuse"),
        *((lambda wire=wire: bearable_current(wire), "^wire") for wire in ("26", None, 26.0, "thick")),
        (
            lambda: bearable_current("26 AWG solid hookup"),
            "wire '26 AWG solid hookup' .* use one of: '26 AWG solid hook-up'",
        ),
    ],
)
def test_what_is_refused(call, said):
    assert Fuse(**SOUND).si.trip_current == pytest.approx(0.21)
    with pytest.raises(SigcalcError, match=said):
        call()
