"""Meters: accuracy in figures of real manuals, what the display shows, and refusals."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.errors import RangeError, UnitError, UnknownNameError
from sigcalc.parts.meter import AC_VOLTS, AMPERES, DIODE, OHMS, SETTINGS, VOLTS, WATCH, Meter, as_meter, meters

HAND, POCKET = meters["hand meter"], meters["pocket meter"]


class TestPublished:
    def test_the_diode_test_of_a_hand_meter(self):
        """Ideal ND-3511 manual p. 13: 1.5 mA and 3 V at most; 1.5 % and 5 digits; from 2.0 V on it is open."""
        assert HAND.diode_resistance == pytest.approx(2000.0)
        assert HAND.limit(DIODE, 0.6) == pytest.approx(0.015 * 0.6 + 5 * 1e-3)
        assert HAND.shown(DIODE, 2.0) == "OL"

    def test_resistance_of_a_pocket_meter(self):
        """Elenco M-1000D manual: 0.8 % of the reading and 2 digits; 2 kohm range to the ohm; most 2000 kohm."""
        assert POCKET.limit(OHMS, 1000.0) == pytest.approx(8.0 + 2 * 1.0)
        assert POCKET.limit(OHMS, 15_000.0) == pytest.approx(120.0 + 2 * 10.0)
        assert POCKET.shown(OHMS, 2.1e6) == "OL"

    def test_how_an_error_is_worked_out(self):
        """Yato YT-73081 manual p. 12: 1.396 V at 0.8 % and 5 digits is off by at most 0.016 V."""
        fields = {**dict(vars(HAND.si)), "volts_accuracy": 0.008, "volts_digits": 5.0, "counts": 2000.0}
        as_printed = Meter.of(name="as printed", note="", **fields)
        assert as_printed.limit(VOLTS, 1.396) == pytest.approx(0.016, abs=5e-4)


@pytest.mark.parametrize(("value", "place"), [(0.0, 1e-3), (3.999, 1e-3), (4.1, 1e-2), (-12.3, 1e-2), (41.0, 1e-1)])
def test_the_last_place_follows_the_range(value, place):
    assert HAND.last_place(VOLTS, value) == pytest.approx(place)


@given(st.sampled_from(SETTINGS), st.floats(0.001, 1e5), st.floats(1.001, 3.0))
def test_a_larger_reading_is_never_surer(setting, value, more):
    assert HAND.limit(setting, value) <= HAND.limit(setting, value * more)
    assert 0 < HAND.uncertainty(setting, value) == pytest.approx(HAND.limit(setting, value) / math.sqrt(3))
    assert HAND.limit(setting, -value) == HAND.limit(setting, value)


@pytest.mark.parametrize(
    ("setting", "value", "said"),
    [
        (VOLTS, 9.0123, "9.01 V"),
        (VOLTS, -1.8344, "-1.834 V"),
        (AC_VOLTS, 12.06, "12.06 V"),
        (AMPERES, 0.0123456, "12.35 mA"),
        (OHMS, 469.97, "470 Ω"),
        (OHMS, 0.43, "0.4 Ω"),  # the lowest range of a hand-held meter ends in tenths of an ohm
        (OHMS, math.inf, "OL"),
        (OHMS, 4.1e7, "OL"),
        (WATCH, 8.26, "8.3 s"),
        (WATCH, 700.0, "OL"),
    ],
)
def test_the_display(setting, value, said):
    assert HAND.shown(setting, value) == said


def test_refusals():
    with pytest.raises(UnknownNameError, match="hand meter"):
        as_meter("hnd meter")
    with pytest.raises(UnitError, match=r'a Meter or its name; .* try "hand meter"'):
        as_meter(10e6)
    fields = {name: getattr(HAND, name) for name in vars(HAND.si)}
    with pytest.raises(RangeError, match="input_resistance needs more than 0"):
        Meter(name="broken", **(fields | {"input_resistance": "0 ohm"}))
