"""From wishes to a circuit: which resistors or driver a plan gets, and its figures over all tolerances."""

import itertools

import numpy as np
import pytest
from scipy.optimize import brentq

from sigcalc import (
    Plan,
    PlanError,
    Q,
    adapter_voltage,
    adapters,
    batteries,
    choose_resistor,
    current_diodes,
    leds,
    regulators,
)
from sigcalc.errors import DesignError, SigcalcError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.plan.circuit import circuit_of, lamp_figures, resistance_figures, supply_figure

RED, GREEN = "red alingap 3 mm", "green gap 3 mm"
LAMPS = {"red": {"part": RED}, "green": {"part": GREEN}}


def ohms(circuit):
    return circuit.shared_resistance, circuit.extra("red"), circuit.extra("green")


class TestShared:
    def test_the_lamp_that_needs_the_larger_one_decides(self):
        circuit = circuit_of(Plan(**LAMPS, drive={"current": "8 mA", "series": "E96"}))
        needed = {
            name: choose_resistor(supply="12 V", led=leds[name], current="8 mA", series="E96").resistance.m_as("ohm")
            for name in (RED, GREEN)
        }
        assert needed[RED] > needed[GREEN]
        assert ohms(circuit) == (needed[RED], 0, 0)
        assert "suits the red lamp" in circuit.story[0]

    @pytest.mark.parametrize("series", ["E6", "E12", "E24", "E96"])
    def test_no_lamp_gets_more_than_wished_nominally(self, series):
        study = Plan(**LAMPS, drive={"current": "7 mA", "series": series}).study()
        assert all(study.figures[f"{lamp}_current"].nominal <= 7e-3 for lamp in ("red", "green"))

    def test_a_given_resistor_is_taken_as_it_is(self):
        circuit = circuit_of(Plan(**LAMPS, drive={"resistance": "1 kohm", "tolerance": "1 %"}))
        assert ohms(circuit) == (1000, 0, 0)
        assert circuit.drive == ResistorDrive("1 kohm", 0.01)
        assert circuit.story == ("The shared resistor is the one you gave.",)

    def test_a_plain_wire_is_taken_as_it_is_too(self):
        study = Plan(**LAMPS, supply={"part": "5 V regulated"}, drive={"resistance": "0 ohm"}).study()
        assert study.grade == "do not build"
        assert not any("resistor" in line.part for line in study.parts)

    def test_given_extras_are_added(self):
        wiring = {"form": "shared and extra", "extra_green": "120 ohm"}
        circuit = circuit_of(Plan(**LAMPS, drive={"current": "8 mA"}, wiring=wiring))
        assert ohms(circuit)[1:] == (0, 120)

    def test_where_nothing_would_light_the_refusal_names_the_lamp(self):
        with pytest.raises(DesignError, match=r"^red lamp: supply 1\.5 V is below"):
            circuit_of(Plan(supply={"voltage": "1.5 V"}))


class TestExtra:
    def test_the_brighter_lamp_is_dimmed_to_the_other(self):
        plan = Plan(
            **LAMPS,
            drive={"current": "8 mA", "series": "E96"},
            wiring={"form": "shared and extra", "series_diodes": True},
        )
        study = plan.study()
        red, green = (study.figures[f"{lamp}_light"].nominal for lamp in ("red", "green"))
        assert red == pytest.approx(green, rel=0.03)  # a step of E96 is 2 %
        assert study.pair.si.extra_red > 0 == study.pair.si.extra_green

    def test_even_lamps_get_none(self):
        same = {
            "intensity": "20 mcd",
            "intensity_current": "10 mA",
            "max_current": "20 mA",
            "points": [["2 V", "10 mA"]],
        }
        circuit = circuit_of(Plan(red=same, green=same, wiring={"form": "shared and extra"}, drive={"series": "E6"}))
        evened = max(circuit.extra("red"), circuit.extra("green"))
        assert evened < 0.01 * circuit.shared_resistance
        alike = {"drawer": ["1 kohm", "4.7 kohm"]}
        circuit = circuit_of(Plan(red=same, green=same, wiring={"form": "shared and extra"}, drive=alike))
        assert ohms(circuit)[1:] == (0, 0)
        assert circuit.story[-1] == "Typical lamps are as good as equally bright; no extra resistor is needed."

    def test_one_out_of_the_drawer(self):
        drawer = ["330 ohm", "1 kohm", "4.7 kohm", "10 kohm"]
        plan = Plan(**LAMPS, drive={"current": "8 mA", "drawer": drawer}, wiring={"form": "shared and extra"})
        circuit = circuit_of(plan)
        assert circuit.extra("red") in (330, 1000, 4700, 10000)

    def test_without_light_to_compare_it_says_so(self):
        with pytest.raises(SigcalcError, match='form "shared and extra": white 3 mm has no luminous intensity'):
            circuit_of(Plan(red={"part": "white 3 mm"}, wiring={"form": "shared and extra"}))


class TestInEachBranch:
    def test_each_lamp_has_its_own(self):
        circuit = circuit_of(Plan(**LAMPS, drive={"current": "8 mA"}, wiring={"form": "one in each branch"}))
        for lamp, name in (("red", RED), ("green", GREEN)):
            needed = choose_resistor(supply="12 V", led=leds[name], current="8 mA").resistance
            assert circuit.extra(lamp) == pytest.approx(needed.m_as("ohm"))
        assert circuit.shared_resistance == 0
        assert circuit.story == ("Each lamp has a resistor of its own, and none is shared.",)

    def test_given_ones_stay(self):
        wiring = {"form": "one in each branch", "extra_red": "2.2 kohm"}
        circuit = circuit_of(Plan(**LAMPS, drive={"current": "8 mA"}, wiring=wiring))
        assert circuit.extra("red") == 2200
        assert circuit.extra("green") > 0

    def test_out_of_the_drawer(self):
        drive = {"current": "8 mA", "drawer": ["1 kohm", "220 ohm"]}
        circuit = circuit_of(Plan(**LAMPS, drive=drive, wiring={"form": "one in each branch"}))
        assert set(circuit.combinations) == {"red", "green"}


class TestDrawer:
    def test_two_that_make_up_the_value(self):
        plan = Plan(**LAMPS, drive={"current": "8 mA", "drawer": ["1 kohm", "300 ohm", "10 kohm"]})
        circuit = circuit_of(plan)
        assert ohms(circuit) == (1300, 0, 0)
        combination = circuit.combinations["shared"]
        assert (combination.arrangement, combination.si.first, combination.si.second) == ("in series", 1000, 300)
        current = plan.study().figures["red_current"].nominal
        assert current == pytest.approx(combination.si.current, rel=1e-4)  # the adapter's 0.1 ohm apart

    def test_a_drawer_that_is_too_small(self):
        with pytest.raises(DesignError, match="red lamp: drawer reaches 200 Ω"):
            circuit_of(Plan(**LAMPS, drive={"current": "8 mA", "drawer": ["100 ohm"]}))


class TestDriver:
    def test_the_driver_and_no_resistor(self):
        circuit = circuit_of(Plan(drive={"kind": "constant current", "current": "4 mA", "dropout": "2 V"}))
        assert circuit.drive == ConstantCurrentDrive("4 mA", "2 V", 0.05)
        assert ohms(circuit) == (0, 0, 0)
        assert circuit.story == ("The driver sets the current; no resistor is chosen.",)

    def test_a_form_that_it_does_not_work_out_is_said(self):
        plan = Plan(drive={"kind": "constant current"}, wiring={"form": "shared and extra", "extra_red": "100 ohm"})
        circuit = circuit_of(plan)
        assert ohms(circuit) == (0, 100, 0)
        assert "asks for extra resistors only where their values are given" in circuit.story[1]


def test_series_diodes_are_counted_in():
    bare, kept = (
        circuit_of(Plan(**LAMPS, drive={"current": "8 mA", "series": "E96"}, wiring={"series_diodes": with_them}))
        for with_them in (False, True)
    )
    assert bare.pair.series_diode is None
    assert kept.pair.series_diode.name == "1n4148"
    # a silicon diode takes 0.6 to 0.8 V, which the resistor does not have to take
    assert 0.6 < (bare.shared_resistance - kept.shared_resistance) * 8e-3 < 0.9


def test_the_supply_of_the_wish_is_the_nominal_one():
    circuit = circuit_of(Plan(**LAMPS, supply={"kind": "battery", "part": "6 x AA alkaline"}))
    needed = choose_resistor(supply=Q(9.7, "V"), led=leds[RED], current="5 mA")
    assert circuit.shared_resistance == pytest.approx(needed.resistance.m_as("ohm"))


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
        ({"kind": "regulator", "part": "lm317", "resistance": "0 ohm"}, "drive.resistance needs to be above zero"),
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
        volts = np.array([each for each, _ in supply.source().corners])
        assert volts == pytest.approx(np.array(supply.corners()))
        supply = Plan(supply={"part": "12 V unregulated", "tolerance": "1 %"}).supply
        assert [each for each, _ in supply.source().corners] == pytest.approx(list(supply.corners()))

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


BATTERY = {"kind": "battery", "part": "9 V zinc-carbon"}  # with much resistance of its own


def single_currents(plan, lamp, ohms):
    """The current at each of the 27 corners, by scipy, from the voltages of the LED alone."""
    led = leds[getattr(plan, lamp).part]
    below, above = led.si.drop_below, led.si.drop_above
    source = plan.supply.source()
    tolerance = plan.drive.tolerance
    for (volts, inner), off, shift in itertools.product(
        source.corners, (1 - tolerance, 1, 1 + tolerance), (-below, 0, above)
    ):

        def excess(current, volts=volts, total=inner + ohms * off, shift=shift):
            return volts - current * total - led.model.voltage_si(current) - shift

        yield brentq(excess, 1e-12, volts / (inner + ohms * off), rtol=1e-13)


@pytest.mark.parametrize("lamp", ["red", "green"])
def test_the_current_spans_all_corners(lamp):
    plan = Plan(**LAMPS, supply=BATTERY, drive={"resistance": "820 ohm", "tolerance": "10 %"})
    band = lamp_figures(circuit_of(plan), lamp)[f"{lamp}_current"]
    singles = list(single_currents(plan, lamp, 820))
    assert band.least == pytest.approx(min(singles), rel=1e-9)
    assert band.nominal == pytest.approx(singles[13], rel=1e-9)
    assert band.most == pytest.approx(max(singles), rel=1e-9)


@pytest.mark.parametrize("lamp", ["red", "green"])
@pytest.mark.parametrize(
    "wiring",
    [
        {},
        {"form": "shared and extra", "extra_red": "100 ohm", "extra_green": "47 ohm", "series_diodes": True},
        {"form": "one in each branch"},
    ],
)
@pytest.mark.parametrize("drive", [{"current": "8 mA"}, {"kind": "constant current", "current": "8 mA"}])
def test_voltages_sum_to_the_supply_and_powers_balance(lamp, wiring, drive):
    plan = Plan(**LAMPS, supply=BATTERY, drive=drive, wiring=wiring)
    circuit = circuit_of(plan)
    figures = {key.removeprefix(f"{lamp}_"): band.nominal for key, band in lamp_figures(circuit, lamp).items()}
    inner = plan.supply.source().corners[1][1]
    current = figures["current"]
    assert current * inner + figures["drive_voltage"] + figures["pair_voltage"] == pytest.approx(
        plan.supply.corners()[1], rel=1e-9
    )
    assert figures["led_power"] == pytest.approx(current * figures["led_voltage"])
    assert figures["shared_power"] == pytest.approx(current * figures["drive_voltage"])
    assert figures["extra_power"] == pytest.approx(current * figures["extra_voltage"])
    assert figures["extra_voltage"] == pytest.approx(current * circuit.extra(lamp))
    diode = figures["pair_voltage"] - figures["led_voltage"] - figures["extra_voltage"]
    assert (0.55 < diode < 0.85) if plan.wiring.series_diodes else diode == pytest.approx(0, abs=1e-9)
    led = leds[getattr(plan, lamp).part]
    assert figures["led_voltage"] == pytest.approx(float(led.model.voltage_si(current)))
    assert figures["light"] == pytest.approx(float(led.light_si(current)))


def test_a_driver_holds_its_current_and_its_tolerance():
    plan = Plan(**LAMPS, drive={"kind": "constant current", "current": "10 mA", "tolerance": "10 %"})
    band = lamp_figures(circuit_of(plan), "red")["red_current"]
    assert (band.least, band.nominal, band.most) == pytest.approx((9e-3, 10e-3, 11e-3))


def test_below_its_drop_out_voltage_a_driver_is_a_resistance():
    drive = {"kind": "constant current", "current": "10 mA", "dropout": "3 V", "tolerance": 0}
    supply = {"voltage": "3.2 V", "tolerance": 0}
    figures = lamp_figures(circuit_of(Plan(**LAMPS, supply=supply, drive=drive)), "red")
    current, volts = figures["red_current"].nominal, figures["red_drive_voltage"].nominal
    assert current < 9e-3
    assert volts / current == pytest.approx(300)


def test_without_any_spread_the_band_has_no_width():
    lamp = {"points": [["1.8 V", "2 mA"]], "max_current": "20 mA", "drop_below": "0 V", "drop_above": "0 V"}
    plan = Plan(
        red=lamp, green=lamp, supply={"voltage": "9 V", "tolerance": 0}, drive={"resistance": "1 kohm", "tolerance": 0}
    )
    circuit = circuit_of(plan)
    for band in [supply_figure(circuit), *lamp_figures(circuit, "red").values(), *resistance_figures(circuit).values()]:
        assert band.least == band.nominal == band.most
        assert "(" not in band.text


def test_a_wider_tolerance_never_narrows_a_band():
    widths = []
    for tolerance in (0, 0.01, 0.05, 0.2):
        plan = Plan(**LAMPS, drive={"resistance": "1 kohm", "tolerance": tolerance})
        band = lamp_figures(circuit_of(plan), "red")["red_current"]
        widths.append(band.most - band.least)
    assert np.all(np.diff(widths) > 0)


def test_resistors_as_bought():
    wiring = {"form": "shared and extra", "extra_green": "100 ohm"}
    bands = resistance_figures(circuit_of(Plan(**LAMPS, drive={"resistance": "1 kohm"}, wiring=wiring)))
    assert set(bands) == {"shared_resistance", "green_resistance"}
    green = bands["green_resistance"]
    assert (green.least, green.nominal, green.most) == pytest.approx((95, 100, 105))
    assert green.label == "extra resistor, green branch"


def test_two_resistors_are_measured_together():
    drive = {"current": "8 mA", "drawer": ["1 kohm", "300 ohm"]}
    band = resistance_figures(circuit_of(Plan(**LAMPS, drive=drive)))["shared_resistance"]
    assert (band.label, band.nominal) == ("shared resistor (two in series)", 1300)
    one = resistance_figures(circuit_of(Plan(**LAMPS, drive=drive | {"drawer": ["1.5 kohm"]})))["shared_resistance"]
    assert one.label == "shared resistor"


def test_where_the_light_is_not_known_there_is_no_figure_of_it():
    plan = Plan(red={"part": "white 3 mm"})
    assert "red_light" not in lamp_figures(circuit_of(plan), "red")
    assert "green_light" in lamp_figures(circuit_of(plan), "green")
