"""From wishes to a circuit: which resistors a plan gets, and why."""

import pytest

from sigcalc import Plan, Q, choose_resistor, leds
from sigcalc.errors import DesignError, SigcalcError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.plan.circuit import circuit_of

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
