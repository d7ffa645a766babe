"""The pot's turn for a wanted hold."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.findings import FINE, LOOK
from sigcalc.design.train.hold import hold_at
from sigcalc.design.train.hold_circuit import HoldCircuit
from sigcalc.design.train.hold_pot import findings, pot_turn
from sigcalc.errors import DesignError, SigcalcError
from sigcalc.parts.capacitor import Capacitor
from sigcalc.parts.timer import timers
from sigcalc.units import Q

WET = Capacitor("electrolytic", "100 µF", "16 V")


def circuit(timer="one-shot"):
    return HoldCircuit(timer, WET, "100 kohm", "4.7 kohm")


def test_by_hand():
    """R = t / (C ln 3) = 5 s / (100 uF * 1.0986) = 45.51 kilohm; less the end resistor, 40.8 % of the pot."""
    setting = pot_turn(circuit(), "9 V", "5 s")
    assert setting.turn == pytest.approx(0.4081, abs=5e-5)
    assert setting.resistance.to("kohm").magnitude == pytest.approx(45.51, abs=5e-3)
    assert setting.trims
    assert setting.turn_min < setting.turn < setting.turn_max
    (found,) = findings(setting)
    assert (found.grade, found.topic) == (FINE, "pot")


@given(st.sampled_from(list(timers)), st.floats(7.5, 12), st.floats(1, 5))
def test_the_hold_at_the_turn_is_the_wanted_one(timer, supply, hold):
    setting = pot_turn(circuit(timer), Q(supply, "V"), Q(hold, "s"))
    assert hold_at(circuit(timer), Q(supply, "V"), setting.turn).si.hold == pytest.approx(hold, rel=1e-9)
    assert {each.grade for each in findings(setting)} <= {FINE, LOOK}


def test_bought_parts_that_cannot_be_set_to_it():
    (found,) = findings(pot_turn(circuit(), "9 V", "10 s"))
    assert found.grade == LOOK
    assert "with the pot right up" in found.reason
    (found,) = findings(pot_turn(circuit(), "9 V", "0.6 s"))
    assert found.grade == LOOK
    assert "with the pot right down" in found.reason


@pytest.mark.parametrize(
    ("hold", "sentence"), [("20 s", "take a larger pot"), ("0.2 s", "take a smaller end resistor")]
)
def test_a_hold_beyond_the_pot_names_its_range_and_the_remedy(hold, sentence):
    with pytest.raises(
        DesignError, match=rf"beyond what this circuit gives at 9 V, 516 ms to 11.5 s; {sentence}"
    ) as no:
        pot_turn(circuit(), "9 V", hold)
    # the capacitor it names does give the hold
    named = str(no.value).split()[-2:]
    other = HoldCircuit("one-shot", Capacitor("electrolytic", " ".join(named), "16 V"), "100 kohm", "4.7 kohm")
    ends = [hold_at(other, "9 V", turn).si.hold for turn in (0.0, 1.0)]
    assert ends[0] * 0.99 <= Q(hold).to("s").magnitude <= ends[1] * 1.01


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        ((circuit(), "9 V", "0 s"), "hold needs to be above 0 s"),
        ((circuit("comparator"), "5 V", "5 s"), "supply needs to be above the 5.1 V at which"),
        (("pot", "9 V", "5 s"), "circuit needs a HoldCircuit"),
        ((circuit(), "9 V", 5), "hold needs a time with its unit"),
        ((circuit(), "9 V", "-5 s"), "hold needs a time from 0 s"),
    ],
)
def test_refusals(arguments, sentence):
    with pytest.raises(SigcalcError, match=sentence):
        pot_turn(*arguments)


def wild(unit, low, high):
    """Mostly quantities of the range, besides any number at all and what is no quantity."""
    numbers = st.floats(low, high) | st.floats(low, high) | st.floats() | st.sampled_from([low, high, 0.0])
    return numbers.map(lambda value: (value, unit)) | st.text(max_size=5) | st.none()


def quantity(given):
    return Q(*given) if isinstance(given, tuple) else given


@given(st.sampled_from(list(timers)), wild("V", 0, 20), wild("s", 0, 100), wild("ohm", 0, 1e6), wild("ohm", 0, 1e4))
def test_an_answer_or_a_sigcalc_error(timer, supply, hold, pot, end):
    try:
        made = HoldCircuit(timer, WET, quantity(pot), quantity(end))
        setting = pot_turn(made, quantity(supply), quantity(hold))
    except SigcalcError:
        return
    assert 0 <= setting.turn_min <= setting.turn <= setting.turn_max <= 1
    assert findings(setting)
