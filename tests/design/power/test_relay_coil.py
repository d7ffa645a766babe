"""A coil on a supply, and the contacts behind it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.power.relay_coil import coil_on, operates_down_to
from sigcalc.errors import RangeError, SigcalcError
from sigcalc.parts.relay import relays
from sigcalc.parts.source import adapters, batteries
from sigcalc.parts.timer import timers
from sigcalc.units import Q

# common practice, no source: supplies of 9 to 12 V DC


def graded(result):
    return {each.topic: each.grade for each in result.findings}


class TestPublished:
    def test_coil_tolerance(self):
        """Omron G5V-2 data sheet (dtsheet.com/doc/1167300): 10 % either way."""
        result = coil_on("12 V two-pole", "12 V")
        assert result.current_min.magnitude == pytest.approx(result.current.magnitude / 1.1, rel=1e-12)
        assert result.current_max.magnitude == pytest.approx(result.current.magnitude / 0.9, rel=1e-12)

    def test_must_operate(self):
        """Omron G5V-2: at most 75 % of 12 V; G5V-1: at most 80 % of 9 V."""
        assert operates_down_to("12 V two-pole") == Q("9 V")
        assert operates_down_to("9 V one-pole").to("V").magnitude == pytest.approx(7.2)


class TestPhysics:
    @given(st.sampled_from(list(relays)), st.floats(1, 40), st.floats(0, 80))
    def test_voltages_and_powers_balance(self, name, supply, celsius):
        result = coil_on(name, Q(supply, "V"), Q(celsius, "degC"))
        assert result.si.power == pytest.approx(result.si.voltage * result.si.current, rel=1e-12)
        assert result.si.voltage_min == result.si.voltage == result.si.voltage_max == supply
        assert result.si.current_min < result.si.current < result.si.current_max
        assert result.si.power_min < result.si.power < result.si.power_max

    @pytest.mark.parametrize("source", [batteries["9 V alkaline"], adapters["9 V regulated"]])
    def test_a_source_keeps_a_part_for_itself(self, source):
        result = coil_on("9 V two-pole", source)
        (least, inside), (volts, middle), _ = source.corners
        assert result.si.voltage_min == pytest.approx(least * 145.8 / (145.8 + inside), rel=1e-12)
        assert result.si.voltage == pytest.approx(volts * 162 / (162 + middle), rel=1e-12)
        assert result.si.current_min < result.si.current < result.si.current_max

    def test_a_warm_coil_takes_less_and_needs_more(self):
        cold, hot = (coil_on("12 V two-pole", "12 V", each) for each in ("23 °C", "60 °C"))
        assert hot.current < cold.current
        assert hot.operate_voltage / cold.operate_voltage == pytest.approx(1.1437, abs=5e-5)  # 0.393 % for each kelvin
        assert cold.hot_operate_voltage == hot.operate_voltage

    @given(st.sampled_from(list(relays)), st.floats(0, 80), st.floats(0, 20), st.floats(0, 1))
    def test_at_the_voltage_named_the_coil_just_pulls_in(self, name, celsius, inside, drop):
        relay, kelvin = relays[name], celsius + 273.15
        supply = operates_down_to(name, Q(celsius, "degC"), Q(inside, "ohm"), Q(drop, "V")).magnitude
        least = relay.resistances(kelvin)[0]
        across = (supply - drop) * least / (least + inside)
        assert across == pytest.approx(relay.operate_voltage(kelvin), rel=1e-12)


class TestFindings:
    @pytest.mark.parametrize(
        ("name", "supply", "grade"),
        [
            ("9 V two-pole", "9 V", FINE),
            ("9 V two-pole", "7 V", LOOK),  # cold it pulls in at 6.75 V, hot at 7.72 V
            ("9 V two-pole", "6.7 V", STOP),
            ("9 V two-pole", "10.8 V", FINE),
            ("9 V two-pole", "10.9 V", STOP),
            ("9 V two-pole sensitive", "16 V", FINE),
            ("5 V two-pole", "9 V", STOP),
            ("12 V two-pole", "9 V", LOOK),
        ],
    )
    def test_voltage(self, name, supply, grade):
        assert graded(coil_on(name, supply))["relay coil"] == grade

    def test_a_fresh_block_battery_works_a_sensitive_relay_and_an_adapter_the_usual_one(self):
        assert graded(coil_on("9 V two-pole sensitive", batteries["9 V alkaline"])) == {"relay coil": FINE}
        assert graded(coil_on("12 V two-pole", adapters["12 V regulated"])) == {"relay coil": FINE}

    def test_a_one_shot_feeds_a_coil_better_from_plus_than_to_minus(self):
        """TI NE555 data sheet SLFS022: the high output keeps up to 2.25 V for itself, the low one 0.75 V."""
        one_shot = timers["one-shot"]
        high, low = (
            coil_on("9 V two-pole", "9 V", coil_drop_max=each) for each in (one_shot.high_drop, one_shot.low_drop)
        )
        assert graded(high)["relay coil"] == LOOK
        assert graded(low)["relay coil"] == FINE

    def test_a_driver_that_may_keep_less_lets_the_coil_have_more(self):
        """A data sheet gives the most that an output keeps; a coil that may overheat gets what is left at the least."""
        kept, bare = (coil_on("9 V two-pole", "12 V", coil_drop_max=drop) for drop in ("2.25 V", "0 V"))
        assert kept.voltage_max == bare.voltage_max
        assert kept.si.voltage_min == pytest.approx(12 - 2.25)
        known = coil_on("9 V two-pole", "12 V", coil_drop_max="2.25 V", coil_drop_min="1.2 V")
        assert known.si.voltage_max == pytest.approx(12 - 1.2)
        usual = coil_on("9 V two-pole", "12 V", coil_drop_max="2.25 V", coil_drop="1.7 V")
        assert (usual.voltage_min, usual.voltage.m_as("V")) == (kept.voltage_min, pytest.approx(10.3))
        for name in ("coil_drop", "coil_drop_min"):
            with pytest.raises(RangeError, match="need to rise from 0 V"):
                coil_on("9 V two-pole", "12 V", coil_drop_max="1 V", **{name: "2 V"})

    def test_one_pole_does_not_turn_a_current_round(self):
        assert graded(coil_on("9 V one-pole", "9 V"))["relay contacts"] == LOOK
        (found,) = coil_on("9 V two-pole", "7 V").findings
        assert "60 °C needs 7.72 V" in found.reason


@pytest.mark.parametrize(
    ("arguments", "sentence"),
    [
        (("9 V relay", "9 V"), "relay '9 V relay' is not known"),
        (("9 V two-pole", "0 V"), "supply needs more than 0 V"),
        (("9 V two-pole", "-9 V"), "supply needs more than 0 V"),
        (("9 V two-pole", 9), "supply needs a supply voltage with its unit"),
        (("9 V two-pole", "9 V", "500 °C"), "coil_temperature needs a temperature"),
        (("9 V two-pole", "9 V", "23 °C", "9 V"), "nothing would be left for it"),
        (("9 V two-pole", "9 V", "23 °C", "-1 V"), "need to rise from 0 V"),
    ],
)
def test_refusals(arguments, sentence):
    with pytest.raises(SigcalcError, match=sentence):
        coil_on(*arguments)


def test_a_driver_cannot_give_voltage():
    with pytest.raises(SigcalcError, match="driver_drop needs 0 V or more"):
        operates_down_to("9 V two-pole", driver_drop="-1 V")
