"""A hold on a fresh and on a flat supply."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.train.hold_circuit import HoldCircuit
from sigcalc.design.train.hold_supply import findings, supply_effect
from sigcalc.errors import SigcalcError
from sigcalc.parts.capacitor import Capacitor
from sigcalc.parts.timer import timers
from sigcalc.units import Q


def circuit(timer):
    return HoldCircuit(timer, Capacitor("electrolytic", "100 µF", "16 V"), "100 kohm", "4.7 kohm")


@given(st.floats(5, 12), st.floats(0, 1))
def test_a_one_shot_does_not_depend_on_the_supply(flat, turn):
    """TI LM555 data sheet SNAS548B p. 7: timing independent of the supply."""
    effect = supply_effect(circuit("one-shot"), "12 V", Q(flat, "V"), turn)
    assert effect.change == pytest.approx(0, abs=1e-12)
    (found,) = findings(effect)
    assert found.grade == FINE
    assert "share of the supply" in found.reason


def test_a_fixed_trip_lengthens_the_hold_as_the_battery_sags():
    effect = supply_effect(circuit("comparator"), "9 V", "7 V")
    by_hand = np.log(7 / (7 - 5.1)) / np.log(9 / (9 - 5.1)) - 1
    assert effect.change == pytest.approx(by_hand, rel=1e-12)
    assert findings(effect)[0].grade == LOOK


def test_a_discharge_shortens_it():
    effect = supply_effect(circuit("mosfet"), "9 V", "7 V")
    assert effect.change == pytest.approx(np.log(7 / 2.1) / np.log(9 / 2.1) - 1, rel=1e-12)
    assert "-17%" in effect.sentence


def test_below_the_trip_it_never_ends():
    effect = supply_effect(circuit("comparator"), "9 V", "5 V")
    assert effect.hold_flat is effect.change is None
    assert findings(effect)[0].grade == STOP


def test_a_little_sag_is_not_noticed():
    assert findings(supply_effect(circuit("comparator"), "9 V", "8.8 V"))[0].grade == FINE


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (
            (circuit("comparator"), "9 V", "10 V"),
            "flat needs a voltage above 0 V and no more than .* 9 V, but 10 V came",
        ),
        ((circuit("comparator"), "9 V", "0 V"), "flat needs a voltage above 0 V"),
        ((circuit("comparator"), "4 V", "3 V"), "fresh needs to be above the 5.1 V"),
        ((timers["comparator"], "9 V", "8 V"), "circuit needs a HoldCircuit"),
    ],
)
def test_refusals(arguments, sentence):
    with pytest.raises(SigcalcError, match=sentence):
        supply_effect(*arguments)


def wild(unit, low, high):
    """Mostly quantities of the range, besides any number at all and what is no quantity."""
    numbers = st.floats(low, high) | st.floats(low, high) | st.floats() | st.sampled_from([low, high, 0.0])
    return numbers.map(lambda value: (value, unit)) | st.text(max_size=5) | st.none()


def quantity(given):
    return Q(*given) if isinstance(given, tuple) else given


@given(st.sampled_from(list(timers)), wild("V", 0, 20), wild("V", 0, 20), st.floats(-0.1, 1.1))
def test_an_answer_or_a_sigcalc_error(timer, fresh, flat, turn):
    try:
        effect = supply_effect(circuit(timer), quantity(fresh), quantity(flat), turn)
    except SigcalcError:
        return
    assert effect.change is None or np.isfinite(effect.change)
    assert findings(effect)
