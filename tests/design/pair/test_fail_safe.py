"""What each wiring shows when something fails, and what it costs."""

import contextlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.findings import FINE, LOOK
from sigcalc.design.pair import fail_safe as module
from sigcalc.design.pair.fail_safe import (
    AS_IT_WAS,
    DARK_SIDE,
    FED_FOR_GREEN,
    FED_FOR_RED,
    LATCHING,
    RIGHT,
    SAFE_SIDE,
    WRONG_SIDE,
    fail_safe,
)
from sigcalc.design.pair.wiring import change, reversing
from sigcalc.errors import SigcalcError
from sigcalc.parts.relay import relays
from sigcalc.units import Q
from tests.refusals import wishes_refused

SENSITIVE = "9 V two-pole sensitive"
SCHEMES = {each.name: each for name in ("9 V two-pole", "9 V two-pole latching") for each in fail_safe(name, "9 V")}


def shows(scheme, failure, wanted):
    (case,) = (each for each in SCHEMES[scheme].cases if (each.failure, each.wanted) == (failure, wanted))
    return case.shows


def test_reversal_takes_two_changeover_contacts():
    """Kuphaldt, Lessons in Electric Circuits vol. IV ch. 4 (poles and throws) and vol. VI ch. 4 (the X)."""
    crossed = reversing("crossed two-pole relay")
    assert crossed.reverses
    assert [crossed.states[each,].lamps for each in ("coil off", "coil on")] == [("red",), ("green",)]
    with pytest.raises(SigcalcError, match="takes two"):
        fail_safe("9 V one-pole", "9 V")


WIRE = "wire from relay normally closed 1 to relay normally open 2 broken"


SHOWN = [
    # 49 CFR 236.5 and 236.205 (d): a signal control circuit without current brings the most restrictive aspect
    (FED_FOR_GREEN, "coil open", "red", "red"),
    (FED_FOR_GREEN, "wire to the coil broken", "red", "red"),
    (FED_FOR_GREEN, "supply too low for the coil", "red", "red"),
    (FED_FOR_RED, "coil open", "green", "green"),
    (FED_FOR_RED, "wire to the coil broken", "green", "green"),
    (FED_FOR_RED, "supply too low for the coil", "green", "green"),
    (LATCHING, "coil open", "green", "red"),  # it stays where it was
    *((scheme, "supply lost", "dark", "dark") for scheme in SCHEMES),
    (FED_FOR_GREEN, "contact 1 stuck operated", "dark", "green"),
    (FED_FOR_GREEN, "both contacts stuck operated", "green", "green"),
    (FED_FOR_RED, "both contacts stuck at rest", "green", "green"),
    (FED_FOR_GREEN, WIRE, "red", "dark"),  # a broken cross wire only takes the fed aspect
    (FED_FOR_RED, WIRE, "dark", "green"),
    (FED_FOR_GREEN, "red lamp open", "dark", "green"),
]


@pytest.mark.parametrize(("scheme", "failure", "when_red", "when_green"), SHOWN)
def test_what_a_failure_shows(scheme, failure, when_red, when_green):
    assert (shows(scheme, failure, "red"), shows(scheme, failure, "green")) == (when_red, when_green)


@pytest.mark.parametrize("name", SCHEMES)
def test_every_failure_under_both_aspects_and_the_gravest_first(name):
    scheme, wiring = SCHEMES[name], module._signal(name)
    failures = {each.failure for each in scheme.cases}
    assert len(scheme.cases) == 2 * len(failures)
    assert len([each for each in failures if each.startswith("wire from")]) == len(wiring.jumpers)
    sides = [each.side for each in scheme.cases]
    assert sides == sorted(sides, key=[WRONG_SIDE, DARK_SIDE, SAFE_SIDE, RIGHT].index)
    assert scheme.on(WRONG_SIDE)  # none is safe against everything
    if name != LATCHING:  # and without a failure it works
        lamps = [reversing(wiring).states[each,].lamps for each in ("coil off", "coil on")]
        assert lamps == ([("red",), ("green",)] if name == FED_FOR_GREEN else [("green",), ("red",)])
        assert change(wiring, "coil off", "coil on").findings[0].grade == FINE


def test_only_the_coil_and_the_armature_can_still_show_red():
    """Of everything that can fail while green is wanted."""
    assert {each.failure for each in SCHEMES[FED_FOR_GREEN].on(SAFE_SIDE)} == {
        "coil open", "wire to the coil broken", "supply too low for the coil", "both contacts stuck at rest",
    }  # fmt: skip


def test_the_safest_first_and_what_each_says():
    one, other = fail_safe("9 V two-pole", "9 V")
    assert (one.name, other.name) == (FED_FOR_GREEN, FED_FOR_RED)
    assert len(one.on(WRONG_SIDE)) < len(other.on(WRONG_SIDE)) < len(SCHEMES[LATCHING].on(WRONG_SIDE))
    assert [each.at_power_up for each in (one, other, SCHEMES[LATCHING])] == ["red", "green", AS_IT_WAS]
    assert "coil open: green when it should be red (wrong side)" in [each.sentence for each in other.cases]
    said = "Coil fed for green: in 2 of 42 failures it shows green when it should be red"
    assert one.sentence.startswith(said)


def test_charge_by_hand():
    """9 V on 162 ohm is 55.56 mA; six trains of 20 s are red for a thirtieth of the hour."""
    green, red = fail_safe("9 V two-pole", "9 V", hold="20 s", trains_per_hour=6)
    assert green.coil_charge.to("mAh").magnitude == pytest.approx(55.556 * 29 / 30, abs=0.001)
    assert red.coil_charge.to("mAh").magnitude == pytest.approx(55.556 / 30, abs=0.001)
    assert green.si.coil_charge + red.si.coil_charge == pytest.approx(9 / 162, rel=1e-12)
    assert green.lamp_charge == red.lamp_charge == Q("10 mAh")
    assert fail_safe("9 V two-pole", "9 V", trains_per_hour=0)[1].si.coil_charge == 0
    (latching,) = fail_safe("9 V two-pole latching", "9 V", trains_per_hour=18, pulse="0.1 s")  # it takes only pulses
    assert latching.coil_charge.to("µAh").magnitude == pytest.approx(9 / 810 * 1e6 * 0.1 * 36 / 3600, rel=1e-12)


def test_findings():
    green, red = ({each.topic: each.grade for each in one.findings} for one in fail_safe(SENSITIVE, "9 V"))
    assert green == {"failures": FINE, "dark signal": FINE, "charge": LOOK}
    assert red == {"failures": LOOK, "dark signal": FINE, "charge": FINE}
    assert SCHEMES[LATCHING].findings[0].grade == LOOK
    said = " ".join(map(str, SCHEMES[FED_FOR_GREEN].findings))
    assert "49 CFR 236.5 and 236.205" in said
    assert "a dark signal means stop" in said


test_refusals = wishes_refused(
    fail_safe,
    {"relay": "9 V two-pole", "supply": "9 V"},
    ({"supply": "0 V"}, "supply needs more than 0 V"),
    ({"hold": "10 min"}, "hold needs no more than 5 min for 12 trains an hour; you gave 10 min"),
    ({"trains_per_hour": -1}, "trains_per_hour needs a count from"),
    ({"relay": "9 V one-pole"}, "has one moving contact"),
    ({"relay": 9}, "relay needs a Relay or its name"),
)


def test_every_two_pole_relay_has_its_schemes():
    for relay in (each for each in relays.values() if each.si.poles == 2):
        schemes = fail_safe(relay, relay.rated_voltage)
        assert len(schemes) == (1 if relay.latching else 2)
        assert all(each.findings for each in schemes)


@given(st.sampled_from(list(relays)), st.floats(0, 60), st.floats(0, 100), st.floats(), st.floats(0, 1))
def test_an_answer_or_a_refusal(name, supply, hold, trains, lamp):
    with contextlib.suppress(SigcalcError):
        schemes = fail_safe(name, Q(supply, "V"), Q(hold, "s"), trains, Q(lamp, "A"))
        assert all(0 <= each.si.coil_charge < float("inf") for each in schemes)
