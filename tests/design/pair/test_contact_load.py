"""A signal's few milliamperes on a contact."""

import hypothesis.strategies as st
import pytest
from hypothesis import given

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.pair.contact_load import contact_load, findings
from sigcalc.errors import SigcalcError, UnitError, UnknownNameError
from sigcalc.parts.contacts import contact_ratings
from sigcalc.units import Q


@pytest.mark.parametrize(
    ("contact", "current", "voltage", "grade"),
    [
        # Omron G5V-2 data sheet, minimum load: 10 µA 10 mVDC; resistive load 2 A 30 VDC
        ("signal relay", "5 mA", "9 V", FINE),
        ("signal relay", "10 mA", "9 V", FINE),
        ("signal relay", "9 µA", "9 V", LOOK),
        ("signal relay", "1 mA", "9 mV", LOOK),
        ("signal relay", "2.1 A", "9 V", STOP),
        # common practice: 100 mA at 5 V for power contacts
        ("power relay", "5 mA", "9 V", LOOK),
        ("power relay", "10 mA", "12 V", LOOK),
        ("power relay", "100 mA", "12 V", FINE),
        ("power relay", "100 mA", "-12 V", FINE),
        ("power relay", "100 mA", "4.9 V", LOOK),
    ],
)
def test_load_against_rating(contact, current, voltage, grade):
    load = contact_load(contact, current, voltage)
    (found,) = findings(load)
    assert found.grade == grade
    assert load.current == Q(current)
    assert contact in found.reason
    assert ("common practice" in found.reason) == (contact == "power relay")


def test_a_rating_of_ones_own():
    assert contact_load(contact_ratings["power relay"], Q(0.2, "A"), "12 V").enough


def test_bad_input_is_refused():
    with pytest.raises(UnitError, match="current needs a current with its unit"):
        contact_load("signal relay", 0.005, "9 V")
    with pytest.raises(UnknownNameError, match="signal relay"):
        contact_load("signal relays", "5 mA", "9 V")


@given(
    st.one_of(st.sampled_from(list(contact_ratings)), st.text(max_size=5), st.none(), st.lists(st.integers())),
    st.one_of(st.floats(-1, 20).map(lambda a: Q(a, "A")), st.text(max_size=5), st.floats()),
    st.one_of(st.floats(-30, 80).map(lambda v: Q(v, "V")), st.text(max_size=5)),
)
def test_an_answer_or_a_sigcalc_error(contact, current, voltage):
    try:
        load = contact_load(contact, current, voltage)
    except SigcalcError:
        return
    assert findings(load)
