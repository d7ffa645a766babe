"""What each wiring shows when something fails, and what it costs."""

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

SCHEMES = {each.name: each for name in ("9 V two-pole", "9 V two-pole latching") for each in fail_safe(name, "9 V")}


def shows(scheme, failure, wanted):
    (case,) = (each for each in SCHEMES[scheme].cases if (each.failure, each.wanted) == (failure, wanted))
    return case.shows


class TestPublished:
    def test_reversal_takes_two_changeover_contacts(self):
        """Kuphaldt, Lessons in Electric Circuits vol. IV ch. 4 (poles and throws) and vol. VI ch. 4 (the X)."""
        crossed = reversing("crossed two-pole relay")
        assert crossed.reverses
        assert (crossed.lamp_in("coil off"), crossed.lamp_in("coil on")) == ("red", "green")
        with pytest.raises(SigcalcError, match="takes two"):
            fail_safe("9 V one-pole", "9 V")

    def test_the_closed_circuit(self):
        """49 CFR 236.5 and 236.205 (d): a signal control circuit without current brings the most restrictive aspect."""
        for failure in ("coil open", "wire to the coil broken", "supply too low for the coil"):
            assert shows(FED_FOR_GREEN, failure, "green") == "red"
            assert shows(FED_FOR_GREEN, failure, "red") == "red"
            assert shows(FED_FOR_RED, failure, "red") == "green"

    def test_a_two_lead_signal_without_power_is_dark(self):
        for scheme in SCHEMES:
            assert shows(scheme, "supply lost", "red") == shows(scheme, "supply lost", "green") == "dark"


class TestCases:
    @pytest.mark.parametrize("name", [FED_FOR_GREEN, FED_FOR_RED])
    def test_the_wirings_work_when_nothing_fails(self, name):
        wiring = module._signal(name)
        lamps = [reversing(wiring).lamp_in(each) for each in ("coil off", "coil on")]
        assert lamps == (["red", "green"] if name == FED_FOR_GREEN else ["green", "red"])
        assert not change(wiring, "coil off", "coil on").short

    @pytest.mark.parametrize("name", SCHEMES)
    def test_every_failure_under_both_aspects(self, name):
        scheme = SCHEMES[name]
        failures = {each.failure for each in scheme.cases}
        assert len(scheme.cases) == 2 * len(failures)
        assert sum(len(scheme.on(side)) for side in (RIGHT, SAFE_SIDE, DARK_SIDE, WRONG_SIDE)) == len(scheme.cases)
        wires = [each for each in failures if each.startswith("wire from")]
        assert len(wires) == len(module._signal(name).jumpers)

    def test_the_gravest_come_first(self):
        sides = [each.side for each in SCHEMES[FED_FOR_RED].cases]
        assert sides == sorted(sides, key=[WRONG_SIDE, DARK_SIDE, SAFE_SIDE, RIGHT].index)

    def test_a_welded_contact_alone_is_dark_and_both_together_keep_the_aspect(self):
        assert shows(FED_FOR_GREEN, "contact 1 stuck operated", "red") == "dark"
        assert shows(FED_FOR_GREEN, "both contacts stuck operated", "red") == "green"
        assert shows(FED_FOR_RED, "both contacts stuck at rest", "red") == "green"

    def test_no_wiring_is_safe_against_everything(self):
        assert all(each.on(WRONG_SIDE) for each in SCHEMES.values())

    def test_a_broken_cross_wire_only_takes_the_fed_aspect(self):
        wire = "wire from relay normally closed 1 to relay normally open 2 broken"
        assert (shows(FED_FOR_GREEN, wire, "red"), shows(FED_FOR_GREEN, wire, "green")) == ("red", "dark")
        assert (shows(FED_FOR_RED, wire, "red"), shows(FED_FOR_RED, wire, "green")) == ("dark", "green")

    def test_a_lamp_that_is_open_is_dark_in_its_own_aspect(self):
        assert (shows(FED_FOR_GREEN, "red lamp open", "red"), shows(FED_FOR_GREEN, "red lamp open", "green")) == (
            "dark",
            "green",
        )

    def test_only_the_coil_and_the_armature_can_still_show_red(self):
        """Of everything that can fail while green is wanted."""
        assert {each.failure for each in SCHEMES[FED_FOR_GREEN].on(SAFE_SIDE)} == {
            "coil open", "wire to the coil broken", "supply too low for the coil", "both contacts stuck at rest",
        }  # fmt: skip

    def test_a_latching_relay_stays_where_it_was(self):
        assert shows(LATCHING, "coil open", "red") == "green"
        assert shows(LATCHING, "coil open", "green") == "red"

    def test_sentences(self):
        assert "coil open: green when it should be red (wrong side)" in [
            each.sentence for each in SCHEMES[FED_FOR_RED].cases
        ]
        assert SCHEMES[FED_FOR_GREEN].sentence.startswith(
            "Coil fed for green: in 2 of 42 failures it shows green when it should be red"
        )


class TestRankAndCost:
    def test_the_safest_first(self):
        one, other = fail_safe("9 V two-pole", "9 V")
        assert (one.name, other.name) == (FED_FOR_GREEN, FED_FOR_RED)
        assert len(one.on(WRONG_SIDE)) < len(other.on(WRONG_SIDE)) < len(SCHEMES[LATCHING].on(WRONG_SIDE))

    def test_at_power_up(self):
        assert [each.at_power_up for each in fail_safe("9 V two-pole", "9 V")] == ["red", "green"]
        assert SCHEMES[LATCHING].at_power_up == AS_IT_WAS

    def test_charge_by_hand(self):
        """9 V on 162 ohm is 55.56 mA; six trains of 20 s are red for a thirtieth of the hour."""
        green, red = fail_safe("9 V two-pole", "9 V", hold="20 s", trains_per_hour=6)
        assert green.red_share == pytest.approx(1 / 30)
        assert green.coil_charge.to("mAh").magnitude == pytest.approx(55.556 * 29 / 30, abs=0.001)
        assert red.coil_charge.to("mAh").magnitude == pytest.approx(55.556 / 30, abs=0.001)
        assert green.lamp_charge == red.lamp_charge == Q("10 mAh")

    def test_both_together_are_the_whole_hour(self):
        green, red = fail_safe("12 V two-pole sensitive", "12 V")
        assert green.si.coil_charge + red.si.coil_charge == pytest.approx(green.si.coil_current, rel=1e-12)

    def test_a_latching_coil_takes_only_pulses(self):
        (scheme,) = fail_safe("9 V two-pole latching", "9 V", trains_per_hour=18, pulse="0.1 s")
        assert scheme.coil_charge.to("µAh").magnitude == pytest.approx(9 / 810 * 1e6 * 0.1 * 36 / 3600, rel=1e-12)

    def test_no_trains_cost_nothing_when_red_is_fed(self):
        assert fail_safe("9 V two-pole", "9 V", trains_per_hour=0)[1].si.coil_charge == 0


class TestFindings:
    def graded(self, scheme):
        return {each.topic: each.grade for each in scheme.findings}

    def test_grades(self):
        green, red = fail_safe("9 V two-pole sensitive", "9 V")
        assert self.graded(green) == {"failures": FINE, "dark signal": FINE, "charge": LOOK}
        assert self.graded(red) == {"failures": LOOK, "dark signal": FINE, "charge": FINE}
        assert self.graded(SCHEMES[LATCHING])["failures"] == LOOK

    def test_the_rule_and_the_reading_of_a_dark_signal_are_said(self):
        said = " ".join(map(str, SCHEMES[FED_FOR_GREEN].findings))
        assert "49 CFR 236.5 and 236.205" in said
        assert "a dark signal means stop" in said


@pytest.mark.parametrize(
    ("given_", "sentence"),
    [
        ({"supply": "0 V"}, "supply needs more than 0 V"),
        ({"supply": "-9 V"}, "supply needs more than 0 V"),
        ({"hold": "10 min"}, "hold needs no more than 5 min for 12 trains an hour; you gave 10 min"),
        ({"hold": "-1 s"}, "hold needs a time from 0 s"),
        ({"trains_per_hour": -1}, "trains_per_hour needs a count from"),
        ({"relay": "9 V one-pole"}, "has one moving contact"),
        ({"relay": 9}, "relay needs a Relay or its name"),
    ],
)
def test_refusals(given_, sentence):
    with pytest.raises(SigcalcError, match=sentence):
        fail_safe(**{"relay": "9 V two-pole", "supply": "9 V"} | given_)


@pytest.mark.parametrize("name", [each for each in relays if relays[each].si.poles == 2])
def test_every_two_pole_relay_has_its_schemes(name):
    schemes = fail_safe(name, relays[name].rated_voltage)
    assert len(schemes) == (1 if relays[name].latching else 2)
    assert all(each.findings for each in schemes)


def wild(unit, low, high):
    """Mostly quantities of the range, besides any number at all and what is no quantity."""
    numbers = st.floats(low, high) | st.floats(low, high) | st.floats() | st.sampled_from([low, high, 0.0])
    return numbers.map(lambda value: (value, unit)) | st.text(max_size=5) | st.none()


def quantity(given):
    return Q(*given) if isinstance(given, tuple) else given


@given(st.sampled_from(list(relays)), wild("V", 0, 60), wild("s", 0, 100), st.floats(), wild("A", 0, 1))
def test_an_answer_or_a_sigcalc_error(name, supply, hold, trains, lamp):
    try:
        schemes = fail_safe(name, quantity(supply), quantity(hold), trains, quantity(lamp))
    except SigcalcError:
        return
    assert all(0 <= each.si.coil_charge < float("inf") for each in schemes)
