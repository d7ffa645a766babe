"""On-times: the contract's two functions against printed examples; a circuit's band, pot and supply; the verdicts."""

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.train.hold import (
    USUAL_MOST_HOLD,
    HoldCircuit,
    hold_at,
    hold_time,
    one_shot_time,
    pot_turn,
    supply_effect,
)
from sigcalc.errors import DesignError, RangeError, SigcalcError
from sigcalc.parts.capacitor import Capacitor
from sigcalc.parts.timer import Timer, timers
from sigcalc.units import Q

WET = Capacitor("electrolytic", "100 µF", "16 V")
FILM = Capacitor("polyester film", "10 µF", "63 V")


def circuit(timer="one-shot", capacitor=WET, pot="100 kohm", end="4.7 kohm", **tolerances):
    return HoldCircuit(timer, capacitor, pot, end, **tolerances)


def graded(result):
    return {each.topic: each.grade for each in result.findings}


class TestPublished:
    @pytest.mark.parametrize(
        ("resistance", "capacitance", "supply", "trip", "start", "printed", "half_digit"),
        [
            pytest.param("47 kohm", "10 µF", "0 V", "10 V", "20 V", 0.33, 0.005, id="Tooley ex. 3.11: 0.33 s"),
            pytest.param("10 kohm", "0.05 µF", "36 V", "24 V", "0 V", 549e-6, 5e-7, id="Grob ex. 22-10: 0.549 ms"),
            pytest.param("47 kohm", "15 µF", "120 V", "60 V", "0 V", 0.48867, 5e-6, id="Bird ch. 17 ex. 1: 0.48867 s"),
            pytest.param("10.1 ohm", "0.5 F", "100 V", "80 V", "0 V", 8.13, 0.005, id="OpenStax UP 2, m58457: 8.13 s"),
        ],
    )
    def test_hold_time(self, resistance, capacitance, supply, trip, start, printed, half_digit):
        time = hold_time(resistance=resistance, capacitance=capacitance, supply=supply, trip=trip, start=start)
        assert time.to("s").magnitude == pytest.approx(printed, abs=half_digit)

    def test_one_shot_time(self):
        """Kuphaldt, Lessons in Electric Circuits VI ch. 8, figure 45011: 270 kilohm, 10 uF, about 3 s (1.5 %)."""
        times = one_shot_time("270 kohm", ["10 µF", "100 µF"])
        assert times.to("s").magnitude == pytest.approx([3, 30], rel=0.015)


class TestContract:
    def test_arrays(self):
        times = hold_time(Q([10, 100], "kohm"), "100 µF", "9 V", ["3 V", "6 V"])
        np.testing.assert_allclose(times.to("s").magnitude, [1.0 * np.log(1.5), 10 * np.log(3)], rtol=1e-14)
        assert hold_time("1 kohm", "1 µF", "9 V", "6 V") == hold_time("1 kohm", "1 µF", "9 V", "6 V", "0 V")
        assert hold_time("1 kohm", "1 µF", "9 V", "6 V", "-3 V") > hold_time("1 kohm", "1 µF", "9 V", "6 V")

    @pytest.mark.parametrize(
        ("given_", "sentence"),
        [
            ({"trip": "10 V"}, r"trip needs a level between the start of 0 V and the limit of 9 V .* gave 10 V"),
            ({"trip": "9 V"}, r"the limit of 9 V that it heads for; you gave 9 V; that is never reached"),
            ({"start": "7 V"}, r"between the start of 7 V and the limit of 9 V"),
        ],
    )
    def test_a_trip_that_is_never_reached(self, given_, sentence):
        usual = {"resistance": "10 kohm", "capacitance": "100 µF", "supply": "9 V", "trip": "6 V"}
        with pytest.raises(RangeError, match=sentence):
            hold_time(**usual | given_)


class TestCircuit:
    @pytest.mark.parametrize("timer", list(timers))
    def test_least_and_most_are_the_solvers_corners(self, timer):
        """Every combination of limits through scipy's solver of the circuit's own equation."""
        made, supply, turn = circuit(timer), 9.0, 0.6
        discharges, spread = made.timer.discharges, made.timer.si.spread

        def solved(pot, end, farad, trip, leak, drawn):
            ohm = 4.7e3 * (1 + 0.05 * end) + turn * 100e3 * (1 + 0.2 * pot)
            drain, leaks = max(drawn, 0) * made.timer.si.input_current, max(leak, 0) / WET.leakage_resistance
            start, heads_for = (supply, 0.0) if discharges else (0.0, supply)
            level = made.timer.trips(supply)[trip + 1]
            at_trip = lambda _, v: v[0] - level  # noqa: E731
            at_trip.terminal = True
            slope = lambda _, v: ((heads_for - v) / ohm - v * leaks - drain) / (100e-6 * (1 + 0.2 * farad))  # noqa: E731
            return solve_ivp(slope, (0, 400), [start], events=at_trip, rtol=1e-8, atol=1e-10).t_events[0][0]

        times = [solved(*signs) for signs in itertools.product((-1, 1), repeat=6)]
        least, nominal, most = made.seconds(supply, turn)
        assert least == pytest.approx(min(times) * (1 - spread), rel=1e-6)
        assert most == pytest.approx(max(times) * (1 + spread), rel=1e-6)
        assert nominal == pytest.approx(solved(0, 0, 0, 0, 0, 0), rel=1e-6)

    def test_what_flows_out_of_a_comparators_input_shortens_and_never_holds_for_good(self):
        """LM393 sheets: the bias current flows out of the input, so into the capacitor."""
        made = circuit("comparator", Capacitor("polyester film", "1 µF", "63 V"), "10 Mohm", pot_tolerance=0)
        fields = {key: getattr(made.timer, key) for key in made.timer.__dataclass_fields__}
        still = HoldCircuit(
            Timer(**fields | {"input_current": "0 A"}), made.capacitor, made.pot, made.end_resistor, pot_tolerance=0
        )
        with_it, without = made.seconds(9.0, 1.0), still.seconds(9.0, 1.0)
        assert with_it.least < 0.8 * without.least
        assert (with_it.nominal, with_it.most) == (without.nominal, without.most)
        assert np.isfinite(with_it.most)
        assert made.sure_resistance(9.0) == pytest.approx(still.sure_resistance(9.0))

    @given(st.sampled_from(list(timers)), st.sampled_from([WET, FILM]), st.floats(7.5, 15), st.floats(0.001, 0.999))
    def test_the_turn_undoes_the_time(self, timer, capacitor, supply, turn):
        made = circuit(timer, capacitor)
        turns, within_reach = made.turns(supply, made.seconds(supply, turn).nominal)
        assert within_reach[0]
        assert turns[0] == pytest.approx(turn, abs=1e-9)
        assert turns.min() <= turns[0] <= turns.max()

    @given(st.sampled_from(list(timers)), st.floats(7.5, 15), st.floats(0, 0.9))
    def test_further_turned_is_longer_also_in_an_array(self, timer, supply, turn):
        band = circuit(timer).seconds(supply, np.array([turn, turn + 0.1]))
        for each in band:
            assert each[1] >= each[0]
        assert [each[0] for each in band] == pytest.approx(list(circuit(timer).seconds(supply, turn)))

    def test_the_ends_of_the_band(self):
        exact = Capacitor("polyester film", "10 µF", "63 V", 0.0, 0.0)
        least, nominal, most = circuit("one-shot", exact, pot_tolerance=0, end_tolerance=0).seconds(9.0, 1.0)
        assert (least / nominal, most / nominal) == pytest.approx((0.97, 1.03), rel=1e-2)  # the timer's own, and a leak
        least, nominal, most = circuit(pot="470 kohm").seconds(9.0, 1.0)  # a leak may keep it from the trip for ever
        assert least < nominal < most == np.inf
        least, nominal, most = circuit("mosfet").seconds(2.5, 1.0)  # up to 3 V are needed: not filled to the trip
        assert least == 0 < nominal < most

    @pytest.mark.parametrize(("hold", "end"), [(1e3, 1), (1e-3, 0)])
    def test_where_a_turn_cannot_be_had_it_is_the_nearer_end(self, hold, end):
        turns, within_reach = circuit().turns(9.0, hold)
        assert not within_reach.any()
        assert turns == pytest.approx(end, abs=1e-3)

    @pytest.mark.parametrize(
        ("call", "sentence"),
        [
            (lambda: circuit("one shot"), "use one of: 'one-shot'"),
            (lambda: circuit(pot_tolerance=1.0), "pot_tolerance needs less than 100 %"),
            (lambda: hold_at(circuit("mosfet"), "2 V"), r"supply needs more than the .* V at which the .* trips"),
            (lambda: pot_turn("one-shot", "9 V", "5 s"), "circuit needs a HoldCircuit; you gave str"),
            (lambda: pot_turn(circuit("comparator"), "5 V", "5 s"), r"supply needs more than the 5.1 V at which"),
            (lambda: supply_effect(circuit(), "9 V", "10 V"), "flat needs a voltage above 0 V and no more than .* 9 V"),
            (lambda: supply_effect(circuit(), "9 V", "0 V"), "flat needs a voltage above 0 V"),
            (lambda: supply_effect(circuit("comparator"), "4 V", "3 V"), "fresh needs more than the 5.1 V"),
        ],
    )
    def test_refusals(self, call, sentence):
        with pytest.raises(SigcalcError, match=sentence):
            call()


class TestHold:
    def test_least_nominal_most(self):
        low, high = (hold_at(circuit(), "9 V", turn) for turn in (0, 1))
        assert high.si.hold == pytest.approx(one_shot_time("104.7 kohm", "100 µF").magnitude, rel=1e-14)
        assert low.hold_min < low.hold < low.hold_max < high.hold_min < high.hold < high.hold_max

    def test_the_usual_hold_is_had_from_usual_parts(self):
        """A red hold of up to about 20 s at supplies of 9 to 12 V: common practice, no source."""
        for supply in ("9 V", "12 V"):
            low, high = (hold_at(circuit(pot="180 kohm"), supply, turn) for turn in (0, 1))
            assert low.hold < Q("1 s")
            assert high.hold.to("s").magnitude == pytest.approx(USUAL_MOST_HOLD, abs=1)

    def test_a_good_circuit(self):
        assert graded(hold_at(circuit(), "9 V")) == dict.fromkeys(
            ("capacitor polarity", "on-time", "further train"), FINE
        )
        sentence = hold_at(circuit(), "9 V", 0.5).sentence
        assert "With the pot at 50 % the one-shot timer is on for 6.01 s; with bought parts from" in sentence

    def test_a_leak_that_may_hold_it_red_for_ever(self):
        result = hold_at(circuit(pot="470 kohm"), "9 V")
        assert result.hold_max is None
        (leakage,) = (each for each in result.findings if each.topic == "leakage")
        assert leakage.grade == LOOK
        # what is called safe is safe: the pot turned back to that on-time
        safe = float(leakage.remedy.split("about ")[1].split(" s ")[0])
        share = (safe / result.hold.magnitude * 474.7 - 4.7) / 470
        assert hold_at(circuit(pot="470 kohm"), "9 V", share * 0.995).hold_max is not None
        assert hold_at(circuit(pot="470 kohm"), "9 V", share * 1.02).hold_max is None
        assert "for ever" in result.sentence

    @pytest.mark.parametrize(
        ("made", "supply", "topic", "grade"),
        [
            (circuit(), "12.9 V", "capacitor voltage", LOOK),
            (circuit(), "16.1 V", "capacitor voltage", STOP),
            (circuit(capacitor=FILM), "9 V", "capacitor polarity", None),
            (circuit(end="1 kohm"), "9 V", "end resistor", STOP),
            (circuit(end="1.1 kohm"), "9 V", "end resistor", None),
            (circuit(), "4 V", "timer supply", STOP),
            (circuit(capacitor=FILM), "18 V", "timer supply", STOP),
            (circuit(pot="220 kohm"), "9 V", "long on-time", LOOK),
            (circuit(capacitor=Capacitor("wide-tolerance electrolytic", "100 µF", "16 V")), "9 V", "on-time", LOOK),
        ],
    )
    def test_other_verdicts(self, made, supply, topic, grade):
        assert graded(hold_at(made, supply)).get(topic) == grade

    @pytest.mark.parametrize("timer", list(timers))
    def test_what_a_further_train_does(self, timer):
        said = "ignores a further train" if timer == "one-shot" else "starts it anew"
        assert said in hold_at(circuit(timer), "9 V").findings[-1].reason


class TestPot:
    def test_by_hand(self):
        """R = t / (C ln 3) = 5 s / (100 uF * 1.0986) = 45.51 kilohm; less the end resistor, 40.8 % of the pot."""
        setting = pot_turn(circuit(), "9 V", "5 s")
        assert setting.turn == pytest.approx(0.4081, abs=5e-5)
        assert setting.resistance.to("kohm").magnitude == pytest.approx(45.51, abs=5e-3)
        assert setting.turn_min < setting.turn < setting.turn_max
        assert graded(setting) == {"pot": FINE}

    @given(st.sampled_from(list(timers)), st.floats(7.5, 12), st.floats(1, 5))
    def test_the_hold_at_the_turn_is_the_wanted_one(self, timer, supply, hold):
        setting = pot_turn(circuit(timer), Q(supply, "V"), Q(hold, "s"))
        assert hold_at(circuit(timer), Q(supply, "V"), setting.turn).si.hold == pytest.approx(hold, rel=1e-9)
        assert graded(setting)["pot"] in {FINE, LOOK}

    def test_bought_parts_that_cannot_be_set_to_it(self):
        for hold, said in (("10 s", "with the pot right up"), ("0.6 s", "with the pot right down")):
            (found,) = pot_turn(circuit(), "9 V", hold).findings
            assert found.grade == LOOK
            assert said in found.reason

    @pytest.mark.parametrize(
        ("hold", "sentence"), [("20 s", "use a larger pot"), ("0.2 s", "use a smaller end resistor")]
    )
    def test_a_hold_beyond_the_pot_names_its_range_and_the_remedy(self, hold, sentence):
        with pytest.raises(
            DesignError, match=f"hold needs an on-time that .* at 9 V, 516 ms to 11.5 s; .*{sentence}"
        ) as no:
            pot_turn(circuit(), "9 V", hold)
        # the capacitor it names does give the on-time
        named = no.value.advice.split()[-2:]
        other = circuit(capacitor=Capacitor("electrolytic", " ".join(named), "16 V"))
        ends = [hold_at(other, "9 V", turn).si.hold for turn in (0.0, 1.0)]
        assert ends[0] * 0.99 <= Q(hold).to("s").magnitude <= ends[1] * 1.01


class TestSupply:
    @given(st.floats(5, 12), st.floats(0, 1))
    def test_a_one_shot_does_not_depend_on_the_supply(self, flat, turn):
        """TI LM555 data sheet SNAS548B p. 7: timing independent of the supply."""
        found = supply_effect(circuit("one-shot"), "12 V", Q(flat, "V"), turn)
        assert found.grade == FINE
        assert "share of the supply" in found.reason
        made = circuit("one-shot")
        assert made.seconds(flat, turn).nominal == pytest.approx(made.seconds(12.0, turn).nominal, rel=1e-12)

    @pytest.mark.parametrize(
        ("timer", "flat", "by_hand", "grade"),
        [
            # a fixed trip lengthens it as the battery sags, a discharge shortens it, a little sag is not noticed
            ("comparator", 7.0, np.log(7 / (7 - 5.1)) / np.log(9 / (9 - 5.1)), LOOK),
            ("mosfet", 7.0, np.log(7 / 2.1) / np.log(9 / 2.1), LOOK),
            ("comparator", 8.8, np.log(8.8 / (8.8 - 5.1)) / np.log(9 / (9 - 5.1)), FINE),
            ("comparator", 5.0, np.inf, STOP),  # below the trip it never ends
        ],
    )
    def test_of_the_others(self, timer, flat, by_hand, grade):
        made = circuit(timer)
        assert made.seconds(flat, 1.0).nominal / made.seconds(9.0, 1.0).nominal == pytest.approx(by_hand, rel=1e-12)
        found = supply_effect(made, "9 V", Q(flat, "V"))
        assert found.grade == grade
        change = f"{100 * abs(by_hand - 1):.0f} % {'longer' if by_hand > 1 else 'shorter'}"
        assert (change if np.isfinite(by_hand) else "without end") in found.reason
