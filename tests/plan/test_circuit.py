"""From wishes to a circuit: which resistors or driver a plan gets, and its figures over all tolerances."""

import itertools

import numpy as np
import pytest
from scipy.optimize import brentq

from sigcalc import Plan, Q, adapter_voltage, adapters, batteries, choose_resistor, current_diodes, leds, regulators
from sigcalc.errors import SigcalcError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.plan.circuit import circuit_of, lamp_figures, resistance_figures, supply_figure
from tests.plan.plans import LAMPS

RED, GREEN = (LAMPS[lamp]["part"] for lamp in ("red", "green"))
EXTRAS = {"extra_red": "100 ohm", "extra_green": "47 ohm"}
EACH, EXTRA = "one in each branch", "shared and extra"
OWN_LAMP = {"points": [["2 V", "10 mA"]], "max_current": "20 mA"}
OWN_SUPPLY = {"voltage": "9 V", "no_load_voltage": "13.3 V", "max_current": "500 mA", "tolerance": "0 %"}
BATTERY = {"kind": "battery", "part": "9 V zinc-carbon"}  # with much resistance of its own


def circuit(drive=None, form=None, **given):
    """The circuit of two usual lamps, or those given, at 8 mA."""
    wiring = {"wiring": {"form": form} | given.pop("wiring", {})} if form else {}
    return circuit_of(Plan(**LAMPS | {"drive": {"current": "8 mA"} | (drive or {})} | wiring | given))


def study(**given):
    return Plan(**LAMPS | given).study()


def ohms(circuit):
    return circuit.shared_resistance, circuit.extra("red"), circuit.extra("green")


def needed(name, **wish):
    return choose_resistor(**{"supply": "12 V", "led": leds[name], "current": "8 mA"} | wish).resistance.m_as("ohm")


class TestResistors:
    def test_the_lamp_that_needs_the_larger_one_decides_and_none_gets_more_than_wished(self):
        found = circuit({"series": "E96"})
        assert ohms(found) == (needed(RED, series="E96"), 0, 0)
        assert needed(RED, series="E96") > needed(GREEN, series="E96")
        assert "suits the red lamp" in found.story[0]
        for series in ("E6", "E12", "E24", "E96"):
            found = study(drive={"current": "7 mA", "series": series})
            assert all(found.figures[f"{lamp}_current"].nominal <= 7e-3 for lamp in ("red", "green"))

    def test_those_given_are_taken_as_they_are(self):
        found = circuit({"resistance": "1 kohm", "tolerance": "1 %"})
        assert (ohms(found), found.drive) == ((1000, 0, 0), ResistorDrive("1 kohm", 0.01))
        assert ohms(circuit(form=EXTRA, wiring={"extra_green": "120 ohm"}))[1:] == (0, 120)
        assert ohms(circuit(form=EACH, wiring={"extra_red": "2.2 kohm"})) == (0, 2200, needed(GREEN))
        assert ohms(circuit(form=EACH)) == (0, needed(RED), needed(GREEN))
        wire = study(supply={"part": "5 V regulated"}, drive={"resistance": "0 ohm"})
        assert wire.grade == "do not build"
        assert not any("resistor" in line.part for line in wire.parts)

    def test_the_brighter_lamp_is_dimmed_to_the_other(self):
        wiring = {"form": EXTRA, "series_diodes": True}
        found = study(drive={"current": "8 mA", "series": "E96"}, wiring=wiring)
        red, green = (found.figures[f"{lamp}_light"].nominal for lamp in ("red", "green"))
        assert red == pytest.approx(green, rel=0.03)  # a step of E96 is 2 %
        assert found.pair.si.extra_red > 0 == found.pair.si.extra_green
        drawer = ["330 ohm", "1 kohm", "4.7 kohm", "10 kohm"]
        assert circuit({"drawer": drawer}, form=EXTRA).extra("red") in (330, 1000, 4700, 10000)

    def test_even_lamps_are_not_dimmed(self):
        same = OWN_LAMP | {"intensity": "20 mcd", "intensity_current": "10 mA"}
        found = circuit({"series": "E6"}, red=same, green=same, form=EXTRA)
        assert max(ohms(found)[1:]) < 0.01 * found.shared_resistance
        found = circuit({"drawer": ["1 kohm", "4.7 kohm"]}, red=same, green=same, form=EXTRA)
        assert ohms(found)[1:] == (0, 0)
        assert found.story[-1] == "Typical lamps are as good as equally bright; no extra resistor is needed."

    def test_two_out_of_the_drawer_make_up_the_value_and_are_measured_together(self):
        found = circuit({"drawer": ["1 kohm", "300 ohm", "10 kohm"]})
        assert ohms(found) == (1300, 0, 0)
        combination = found.combinations["shared"]
        assert (combination.arrangement, combination.si.first, combination.si.second) == ("in series", 1000, 300)
        current = lamp_figures(found, "red")["red_current"].nominal
        assert current == pytest.approx(combination.si.current, rel=1e-4)  # the adapter's 0.1 ohm apart
        assert resistance_figures(found)["shared_resistance"].label == "shared resistor (two in series)"
        assert set(circuit({"drawer": ["1 kohm", "220 ohm"]}, form=EACH).combinations) == {"red", "green"}

    def test_series_diodes_are_counted_in_and_the_supply_is_the_nominal_one(self):
        bare, kept = (circuit({"series": "E96"}, wiring={"series_diodes": each}) for each in (False, True))
        # a silicon diode takes 0.6 to 0.8 V, which the resistor does not have to take
        assert 0.6 < (bare.shared_resistance - kept.shared_resistance) * 8e-3 < 0.9
        found = circuit(supply={"kind": "battery", "part": "6 x AA alkaline"})
        assert found.shared_resistance == pytest.approx(needed(RED, supply=Q(9.7, "V")))

    @pytest.mark.parametrize(
        ("given", "said"),
        [
            ({"supply": {"voltage": "1.5 V"}}, r"^red lamp: supply 1\.5 V is below"),
            ({"drive": {"drawer": ["100 ohm"]}}, "red lamp: drawer reaches 200 Ω"),
            ({"red": {"part": "white 3 mm"}, "form": EXTRA}, f'form "{EXTRA}": white 3 mm has no luminous intensity'),
            ({"drive": {"kind": "regulator", "part": "lm317l", "resistance": "1 ohm"}}, "more than the .* that the lm"),
        ],
    )
    def test_what_cannot_be_built_says_which_lamp_or_part(self, given, said):
        with pytest.raises(SigcalcError, match=said):
            circuit(**given)


class TestDriver:
    def test_the_driver_and_no_resistor_but_those_given(self):
        found = circuit({"kind": "constant current", "dropout": "2 V"})
        assert (found.drive, ohms(found)) == (ConstantCurrentDrive("8 mA", "2 V", 0.05), (0, 0, 0))
        assert ohms(circuit({"kind": "constant current"}, form=EXTRA, wiring={"extra_red": "100 ohm"})) == (0, 100, 0)

    def test_a_regulator_s_resistor_is_the_preferred_value_that_gives_no_more_than_wished(self):
        made = circuit({"kind": "regulator", "part": "lm317l", "current": "10 mA", "series": "E24"}).driver
        exact = regulators["lm317l"].resistance_for("10 mA").m_as("ohm")
        assert exact <= made.setting < 1.11 * exact
        assert made.drive.limit <= 10e-3
        assert made.drive == regulators["lm317l"].set_by(Q(made.setting, "ohm"), 0.05)
        assert circuit({"kind": "regulator", "part": "lm317l", "resistance": "130 ohm"}).driver.setting == 130

    def test_an_own_regulator_goes_by_its_reference_voltage(self):
        own = {"reference_voltage": "2.5 V", "dropout": "1 V", "resistance": "500 ohm", "tolerance": "0 %"}
        made = circuit({"kind": "regulator"} | own).driver
        assert (made.drive.limit, made.drive.si.dropout, made.drive.tolerance) == pytest.approx((5e-3, 3.5, 0.04))
        assert "taken to be within 4 %" in made.story

    def test_a_regulator_in_parts_readings_steps_and_bands(self):
        found = study(drive={"kind": "regulator", "part": "lm317l", "current": "10 mA", "tolerance": "1 %"})
        (line,) = [each for each in found.parts if "sets the current" in each.part]
        assert line.bands == ("brown", "green", "black", "black", "brown")
        assert found.bench_test.before[0].expected.nominal == 150
        assert any("adjust pin" in each.text and each.caution for each in found.steps)
        drive = found.points["red"].drive
        assert found.figures["red_current"].most == pytest.approx(drive.limit * (1 + drive.tolerance))

    @pytest.mark.parametrize(("wish", "count"), [("1 mA", 1), ("4.7 mA", 1), ("9.5 mA", 2), ("19 mA", 4)])
    def test_as_many_current_diodes_side_by_side_as_stay_within_the_wish(self, wish, count):
        drive = {"kind": "current diode", "part": "1n5314", "current": wish}
        made = circuit(drive).driver
        assert (made.count, made.drive) == (count, current_diodes["1n5314"].drive(count))
        found = study(drive=drive)
        assert (count, "current-regulator diode") in [(each.count, each.part) for each in found.parts]
        assert any(f"{count} current diodes side by side" in each.text for each in found.steps) == (count > 1)

    @pytest.mark.parametrize(
        ("given", "topic"),
        [
            ({"drive": {"kind": "regulator", "part": "lm317", "current": "5 mA"}}, "driver, minimum load"),
            ({"drive": {"kind": "current diode", "part": "1n5314", "current": "2 mA"}}, "red lamp, wish"),
            ({"drive": {"kind": "current diode", "part": "1n5314"}, "supply": {"voltage": "4 V"}}, "red lamp, driver"),
        ],
    )
    def test_too_little_or_too_much_for_it_is_said(self, given, topic):
        assert topic in [each.topic for each in study(**given).findings if each.grade == "look again"]


class TestOwnSupply:
    def test_an_own_unregulated_adapter_is_like_that_of_the_table_and_rules_the_resistor(self):
        own, table = Plan(supply=OWN_SUPPLY).supply.source(), adapters["9 V unregulated"]
        for load in ("0 mA", "100 mA", "500 mA"):
            there = adapter_voltage(table, load).voltage.m_as("V")
            assert adapter_voltage(own, load).voltage.m_as("V") == pytest.approx(there, abs=0.01)
        own, printed = (circuit(supply=each) for each in (OWN_SUPPLY, {"voltage": "9 V"}))
        assert own.shared_resistance > printed.shared_resistance
        assert own.plan.supply.name == "9 V unregulated adapter"

    def test_a_tolerance_or_capacity_of_one_s_own_takes_the_place_of_the_table_s(self):
        battery = Plan(supply={"kind": "battery", "part": "9 V alkaline", "tolerance": "3 %", "capacity": "400 mAh"})
        source, table = battery.supply.source(), batteries["9 V alkaline"]
        assert [volts for volts, _ in source.corners] == pytest.approx([9.5 * 0.97, 9.5, 9.5 * 1.03])
        assert (source.capacity, table.capacity) == (Q("400 mAh"), None)
        idle = adapters["12 V unregulated"].si.no_load_voltage
        source = Plan(supply={"part": "12 V unregulated", "tolerance": "1 %"}).supply
        assert list(source.corners()) == pytest.approx([idle * 0.99, idle, idle * 1.01])


def single_currents(plan, lamp, ohms):
    """The current at each of the 27 corners, by scipy, from the voltages of the LED alone."""
    led = leds[getattr(plan, lamp).part]
    below, above = led.si.drop_below, led.si.drop_above
    source = plan.supply.source()
    tolerance = plan.drive.tolerance
    offs, shifts = (1 - tolerance, 1, 1 + tolerance), (-below, 0, above)
    for (volts, inner), off, shift in itertools.product(source.corners, offs, shifts):

        def excess(current, volts=volts, total=inner + ohms * off, shift=shift):
            return volts - current * total - led.model.voltage_si(current) - shift

        yield brentq(excess, 1e-12, volts / (inner + ohms * off), rtol=1e-13)


@pytest.mark.parametrize("lamp", ["red", "green"])
def test_the_current_spans_all_corners(lamp):
    plan = Plan(**LAMPS, supply=BATTERY, drive={"resistance": "820 ohm", "tolerance": "10 %"})
    band = lamp_figures(circuit_of(plan), lamp)[f"{lamp}_current"]
    singles = list(single_currents(plan, lamp, 820))
    assert tuple(band) == pytest.approx((min(singles), singles[13], max(singles)), rel=1e-9)


@pytest.mark.parametrize("lamp", ["red", "green"])
@pytest.mark.parametrize("wiring", [{}, {"form": EACH}, {"form": EXTRA, "series_diodes": True} | EXTRAS])
@pytest.mark.parametrize("drive", [{"current": "8 mA"}, {"kind": "constant current", "current": "8 mA"}])
def test_voltages_sum_to_the_supply_and_powers_balance(lamp, wiring, drive):
    plan = Plan(**LAMPS, supply=BATTERY, drive=drive, wiring=wiring)
    circuit = circuit_of(plan)
    figures = {key.removeprefix(f"{lamp}_"): band.nominal for key, band in lamp_figures(circuit, lamp).items()}
    volts, inner = plan.supply.source().corners[1]
    current = figures["current"]
    assert current * inner + figures["drive_voltage"] + figures["pair_voltage"] == pytest.approx(volts, rel=1e-9)
    assert figures["led_power"] == pytest.approx(current * figures["led_voltage"])
    assert figures["shared_power"] == pytest.approx(current * figures["drive_voltage"])
    assert figures["extra_power"] == pytest.approx(current * figures["extra_voltage"])
    assert figures["extra_voltage"] == pytest.approx(current * circuit.extra(lamp))
    diode = figures["pair_voltage"] - figures["led_voltage"] - figures["extra_voltage"]
    assert (0.55 < diode < 0.85) if plan.wiring.series_diodes else diode == pytest.approx(0, abs=1e-9)
    led = leds[getattr(plan, lamp).part]
    assert figures["led_voltage"] == pytest.approx(float(led.model.voltage_si(current)))
    assert figures["light"] == pytest.approx(float(led.light_si(current)))


def test_a_driver_holds_its_current_and_below_its_drop_out_voltage_is_a_resistance():
    drive = {"kind": "constant current", "current": "10 mA", "tolerance": "10 %"}
    assert tuple(lamp_figures(circuit(drive), "red")["red_current"]) == pytest.approx((9e-3, 10e-3, 11e-3))
    low = circuit(drive | {"dropout": "3 V", "tolerance": 0}, supply={"voltage": "3.2 V", "tolerance": 0})
    figures = lamp_figures(low, "red")
    current, volts = figures["red_current"].nominal, figures["red_drive_voltage"].nominal
    assert current < 9e-3
    assert volts / current == pytest.approx(300)


def test_without_any_spread_the_band_has_no_width_and_a_wider_tolerance_never_narrows_it():
    lamp = OWN_LAMP | {"drop_below": "0 V", "drop_above": "0 V"}
    drive = {"resistance": "1 kohm", "tolerance": 0}
    found = circuit(drive, red=lamp, green=lamp, supply={"voltage": "9 V", "tolerance": 0})
    for band in [supply_figure(found), *lamp_figures(found, "red").values(), *resistance_figures(found).values()]:
        assert band.least == band.nominal == band.most
        assert "(" not in band.text
    bands = [lamp_figures(circuit(drive | {"tolerance": each}), "red") for each in (0, 0.01, 0.05, 0.2)]
    assert np.all(np.diff([each["red_current"].most - each["red_current"].least for each in bands]) > 0)


def test_resistors_as_bought_and_light_only_where_it_is_known():
    bands = resistance_figures(circuit({"resistance": "1 kohm"}, form=EXTRA, wiring={"extra_green": "100 ohm"}))
    assert set(bands) == {"shared_resistance", "green_resistance"}
    assert tuple(bands["green_resistance"]) == pytest.approx((95, 100, 105))
    found = circuit(red={"part": "white 3 mm"})
    assert [f"{lamp}_light" in lamp_figures(found, lamp) for lamp in ("red", "green")] == [False, True]
