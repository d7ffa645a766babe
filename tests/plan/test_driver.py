"""Drives and supplies out of the tables or by own figures, as a plan asks for them."""

import numpy as np
import pytest

from sigcalc import Plan, PlanError, Q, adapter_voltage, adapters, batteries, current_diodes, regulators
from sigcalc.errors import DesignError
from sigcalc.plan.circuit import circuit_of

BRIGHT = {"red": {"part": "red alingap 3 mm"}, "green": {"part": "green gap 3 mm"}}


def study(**given):
    return Plan(**BRIGHT | given).study()


def driver(**wish):
    return circuit_of(Plan(**BRIGHT, drive=wish)).driver


class TestRegulator:
    def test_its_resistor_is_the_preferred_value_that_gives_no_more_than_wished(self):
        made = driver(kind="regulator", part="lm317l", current="10 mA", series="E24")
        exact = regulators["lm317l"].resistance_for("10 mA").m_as("ohm")
        assert exact <= made.setting < 1.11 * exact
        assert made.drive.limit <= 10e-3
        assert made.drive == regulators["lm317l"].set_by(Q(made.setting, "ohm"), 0.05)

    def test_an_own_resistor_is_taken_as_it_is(self):
        made = driver(kind="regulator", part="lm317l", resistance="130 ohm")
        assert made.setting == 130
        assert "the one you gave" in made.story

    def test_an_own_regulator_goes_by_its_reference_voltage(self):
        made = driver(kind="regulator", reference_voltage="2.5 V", dropout="1 V", resistance="500 ohm", tolerance="0 %")
        assert made.drive.limit == pytest.approx(5e-3)
        assert made.drive.si.dropout == pytest.approx(3.5)
        assert made.drive.tolerance == pytest.approx(0.04)
        assert "taken to be within 4 %" in made.story

    def test_resistor_in_parts_readings_and_steps(self):
        found = study(drive={"kind": "regulator", "part": "lm317l", "current": "10 mA"})
        (line,) = [each for each in found.parts if "sets the current" in each.part]
        assert line.bands == ("brown", "green", "brown", "gold")
        assert found.bench_test.before[0].expected.nominal == 150
        assert any("adjust pin" in each.text and each.caution for each in found.steps)

    def test_the_band_is_that_of_reference_and_resistor(self):
        found = study(drive={"kind": "regulator", "part": "lm317l", "current": "10 mA", "tolerance": "1 %"})
        drive = found.points["red"].drive
        band = found.figures["red_current"]
        assert band.most == pytest.approx(drive.limit * (1 + drive.tolerance))
        assert drive.tolerance > 0.02

    def test_too_dim_a_lamp_is_below_its_minimum_load(self):
        found = study(drive={"kind": "regulator", "part": "lm317", "current": "5 mA"})
        assert "driver, minimum load" in [each.topic for each in found.findings if each.grade == "look again"]

    def test_more_current_than_it_gives_is_refused(self):
        with pytest.raises(DesignError, match=r"more than the .* that the lm317l gives"):
            circuit_of(Plan(drive={"kind": "regulator", "part": "lm317l", "resistance": "1 ohm"}))


class TestCurrentDiode:
    @pytest.mark.parametrize(("wish", "count"), [("1 mA", 1), ("4.7 mA", 1), ("9.5 mA", 2), ("19 mA", 4)])
    def test_as_many_side_by_side_as_stay_within_the_wish(self, wish, count):
        made = driver(kind="current diode", part="1n5314", current=wish)
        assert made.count == count
        assert made.drive == current_diodes["1n5314"].drive(count)

    def test_more_than_wished_is_said(self):
        found = study(drive={"kind": "current diode", "part": "1n5314", "current": "2 mA"})
        (finding,) = [each for each in found.findings if each.topic == "red lamp, wish"]
        assert finding.remedy == "Use a driver for less current."

    def test_below_its_knee_it_drops_out(self):
        found = study(drive={"kind": "current diode", "part": "1n5314"}, supply={"voltage": "4 V"})
        assert "red lamp, driver" in [each.topic for each in found.findings]

    def test_several_are_soldered_side_by_side(self):
        found = study(drive={"kind": "current diode", "part": "1n5314", "current": "10 mA"})
        assert any("2 current diodes side by side" in each.text for each in found.steps)
        assert (2, "current-regulator diode") in [(each.count, each.part) for each in found.parts]


@pytest.mark.parametrize(
    ("drive", "said"),
    [
        ({"kind": "regulator"}, 'a regulator needs either part (such as "lm317l") or reference_voltage'),
        ({"kind": "regulator", "part": "lm317", "reference_voltage": "1.25 V"}, "a regulator needs either"),
        ({"kind": "regulator", "part": "1n5314"}, "drive.part: '1n5314' is of another kind; choose"),
        ({"kind": "regulator", "part": "lm318"}, "regulator 'lm318'"),
        ({"kind": "regulator", "part": "lm317", "resistance": "0 ohm"}, "drive.resistance needs to be above 0 Ω"),
        ({"part": "lm317"}, 'drive.part: it has no place where the kind is "resistor"'),
        ({"kind": "current diode", "part": "1n5314", "drawer": ["1 kohm"]}, "drive.drawer: it has no place"),
        ({"kind": "constant current", "reference_voltage": "1 V"}, "drive.reference_voltage: it has no place"),
    ],
)
def test_contradictions_of_the_drive(drive, said):
    with pytest.raises(PlanError, match=r"^drive") as refusal:
        Plan(drive=drive)
    assert said in str(refusal.value)


OWN = {"voltage": "9 V", "no_load_voltage": "13.3 V", "max_current": "500 mA", "tolerance": "0 %"}


class TestOwnSupply:
    def test_an_own_unregulated_adapter_is_like_that_of_the_table(self):
        own, table = Plan(supply=OWN).supply.source(), adapters["9 V unregulated"]
        for load in ("0 mA", "100 mA", "500 mA"):
            assert adapter_voltage(own, load).voltage.m_as("V") == pytest.approx(
                adapter_voltage(table, load).voltage.m_as("V"), abs=0.01
            )

    def test_its_no_load_voltage_rules_the_resistor(self):
        own, printed = (study(supply=each) for each in (OWN, {"voltage": "9 V"}))
        assert own.figures["shared_resistance"].nominal > printed.figures["shared_resistance"].nominal
        assert own.plan.supply.name == "9 V unregulated adapter"

    def test_a_tolerance_of_one_s_own_takes_the_place_of_the_table_s(self):
        supply = Plan(supply={"kind": "battery", "part": "9 V alkaline", "tolerance": "3 %"}).supply
        volts = np.array([each for each, _ in supply.fed_from().corners])
        assert volts == pytest.approx(np.array(supply.corners()))
        supply = Plan(supply={"part": "12 V unregulated", "tolerance": "1 %"}).supply
        assert [each for each, _ in supply.fed_from().corners] == pytest.approx(list(supply.corners()))

    def test_a_printed_capacity_goes_into_the_battery(self):
        supply = Plan(supply={"kind": "battery", "part": "9 V alkaline", "capacity": "400 mAh"}).supply
        assert supply.source().capacity == Q("400 mAh")
        assert batteries["9 V alkaline"].capacity is None

    @pytest.mark.parametrize(
        ("supply", "said"),
        [
            ({"voltage": "9 V", "no_load_voltage": "13 V"}, "no_load_voltage needs max_current beside it"),
            ({"part": "9 V regulated", "max_current": "1 A"}, "max_current: it belongs to an adapter of your own"),
            ({"kind": "battery", "voltage": "9 V", "max_current": "1 A"}, "max_current: it belongs to an adapter"),
            ({"voltage": "9 V", "no_load_voltage": "8 V", "max_current": "1 A"}, "at least the printed 9 V"),
            ({"voltage": "9 V", "no_load_voltage": "28 V", "max_current": "1 A"}, "to twice that"),
            ({"voltage": "9 V", "max_current": "0 A"}, "max_current needs more than 0 A"),
            ({"voltage": "9 V", "capacity": "1 Ah"}, "capacity: it belongs to a battery named by its part"),
            ({"kind": "battery", "part": "9 V alkaline", "capacity": "0 Ah"}, "capacity needs more than 0 Ah"),
        ],
    )
    def test_contradictions_of_the_supply(self, supply, said):
        with pytest.raises(PlanError, match=r"^supply") as refusal:
            Plan(supply=supply)
        assert said in str(refusal.value)
