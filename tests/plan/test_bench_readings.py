"""A plan's signal on the bench: its circuit, what the meter should read, and where to look when it does not."""

import math
import re

import pytest

from sigcalc import Plan
from sigcalc.parts.meter import AMPERES, DIODE, OHMS
from sigcalc.parts.timer import timers
from sigcalc.plan.bench_readings import BEFORE, bench_signal, fault_table
from sigcalc.plan.circuit import circuit_of
from tests.plan.plans import FORMS, LAMPS, QUILLHAVEN

TRAIN = FORMS["train"]
RELAY = {"wiring": {"reversing": "relay"}}
EACH_PLAN = pytest.mark.parametrize("path", QUILLHAVEN, ids=lambda path: path.stem)


def study(**fields):
    return Plan(**LAMPS, **fields).study()


def read(**fields):
    return {each.name: each for each in study(**fields).bench_test.readings}


def made(pot_turn=None, **fields):
    return bench_signal(circuit_of(Plan(**fields)), pot_turn)


class TestSignal:
    def test_wires_have_the_resistance_of_their_length(self):
        # HyperPhysics' wire gauge table: 40.81 ohm for 1000 ft of 26 AWG, 0.1339 ohm/m
        # 0.65 m to the mast's foot, 0.13 m up the mast
        signal = made(wire={"part": "26 AWG solid hook-up", "distance": "600 mm", "slack": "50 mm"}).circuit
        assert signal.si.wire_resistance == pytest.approx(0.65 * 0.1339, rel=5e-3)
        assert signal.si.mast_resistance == pytest.approx(0.13 * 0.1339, rel=5e-3)

    def test_the_supply_is_the_plan_s_and_a_voltage_alone_is_said(self):
        signal = made(supply={"voltage": "9.1 V", "tolerance": "2 %"})
        assert signal.circuit.source.corners[0] == (pytest.approx(9.1 * 0.98), 0)
        assert "only its 9.1 V are known" in signal.notes[0]
        signal = made(supply={"kind": "battery", "voltage": "9 V"})
        assert "battery" in signal.circuit.features
        signal = made(supply={"part": "12 V regulated", "tolerance": "1 %"})
        assert [volts for volts, _ in signal.circuit.source.corners] == pytest.approx([11.88, 12, 12.12])
        assert signal.notes == ()

    def test_a_relay_is_read_where_it_is_named_and_does_not_latch(self):
        for evening, word in (({}, "no name yet"), ({"relay": "9 V two-pole latching"}, "latching")):
            signal = made(**RELAY, evening=evening)
            assert (signal.circuit.relay, "hand switch" in signal.circuit.features) == (None, True)
            assert word in signal.notes[0]
        signal = made(**RELAY, evening={"relay": "12 V two-pole", "coil_fed": "for green"})
        assert signal.circuit.fed_lamp == "green"
        assert "To set it for green, feed the relay's coil (made for 12 V)" in signal.notes[0]

    def test_the_timer_comes_with_a_relay_and_a_turn_of_its_pot(self):
        timed = made(0.25, **TRAIN)
        assert timed.circuit.timer == Plan(**TRAIN).trigger.circuit()
        assert (timed.circuit.si.pot_turn, timed.circuit.fed_lamp) == (0.25, "red")
        assert "set by its scale" in timed.notes[0]
        assert made(**TRAIN).circuit.timer is None
        assert "left out" in made(**TRAIN).notes[0]
        assert len(made(0.25, **RELAY, trigger={}).notes) == 2


class TestReadings:
    @pytest.mark.parametrize("form", FORMS)
    def test_each_has_its_band_and_the_current_comes_last(self, form):
        test = study(**FORMS[form]).bench_test
        for reading in (*test.before, *test.readings):
            assert reading.expected.least <= reading.expected.nominal <= reading.expected.most
            assert reading.shown
        order = {AMPERES: 2, OHMS: 1, DIODE: 1}  # power on before power off
        stage = [order.get(each.setting, 0) for each in test.readings]
        assert stage == sorted(stage)
        assert set(stage) == {0, 1, 2}

    def test_loose_resistors_come_first_with_the_meter_s_error(self):
        (before,) = study(drive={"resistance": "1 kohm"}).bench_test.before
        assert before.setting == BEFORE
        # 950 ohm to 1050 ohm as bought; the meter's share of the reading and its digits come on top
        assert 930 < before.expected.least < 950
        assert 1050 < before.expected.most < 1070
        assert before.shown == f"{before.expected.least:.0f} Ω to {before.expected.most / 1e3:.3f} kΩ"

    @EACH_PLAN
    @pytest.mark.parametrize("lamp", ["red", "green"])
    def test_the_voltages_sum_up_and_the_current_is_the_study_s(self, path, lamp):
        """Kirchhoff's voltage law round the loop, and Ohm's law in the shared resistor."""
        made = Plan.load(path).study()
        test = {each.name: each.expected.nominal for each in made.bench_test.readings}
        limit, current = test[f"shared resistor, {lamp}"], abs(test[f"current, {lamp}"])
        assert limit + abs(test[f"pair, {lamp}"]) == pytest.approx(test[f"supply, {lamp}"], abs=5e-3)
        assert current == pytest.approx(limit / test["shared resistor ohms"], rel=5e-3)
        assert current == pytest.approx(made.figures[f"{lamp}_current"].nominal, rel=0.01)

    def test_under_a_driver_the_current_itself_is_read_and_the_plan_s_meter_widens_the_bands(self):
        found = read(**FORMS["driver"])
        assert found["current, red"].expected.nominal == pytest.approx(8e-3, rel=1e-4)
        assert "shared resistor ohms" not in found
        fine, coarse = (read(bench={"meter": name})["pair, red"].expected for name in ("hand meter", "pocket meter"))
        assert coarse.most - coarse.least > fine.most - fine.least

    def test_a_train_adds_reed_and_hold(self):
        found = read(**TRAIN)
        wanted = study(**TRAIN).figures["hold_wanted"].nominal
        assert found["hold"].expected.nominal == pytest.approx(wanted, rel=0.02)
        assert (found["reed alone"].expected.nominal, found["reed alone"].shown) == (math.inf, "OL")

    @pytest.mark.parametrize("timer", list(timers))
    @pytest.mark.parametrize("fed", ["red", "green"])
    def test_the_coil_reads_what_the_study_says_however_it_is_fed(self, timer, fed):
        """Whatever the timer, and whichever aspect the coil is fed for, a train sets red."""
        evening = {"relay": "9 V two-pole sensitive", "coil_fed": f"for {fed}"}
        made = study(**RELAY, evening=evening, trigger={"timer": timer})
        found = {each.name: each.expected.nominal for each in made.bench_test.readings}
        assert found[f"coil, {fed}"] == pytest.approx(made.figures["coil_voltage"].nominal, rel=0.01)
        rest = "green" if fed == "red" else "red"
        assert found[f"coil, {rest}"] == pytest.approx(0.0, abs=0.05)
        assert "set it for red, roll the train's magnet over the reed" in " ".join(made.bench_test.notes)
        from_plus = made.bench_test.circuit.coil_from_plus
        for lamp in (fed, rest):
            beside = found[f"supply, {lamp}"] if from_plus else 0.0
            assert abs(found[f"timer output, {lamp}"] - beside) == pytest.approx(found[f"coil, {lamp}"], abs=0.02)

    def test_a_lamp_with_nothing_to_limit_it_is_not_tested(self):
        made = study(drive={"resistance": "0 ohm"})
        assert made.bench_test is made.to_dict()["bench_test"] is None
        assert made.no_bench_test in made.assumptions
        assert made.no_bench_test.startswith("There are no test readings: ")


@pytest.fixture(scope="module", params=FORMS)
def table(request):
    return fault_table(study(**FORMS[request.param]).bench_test)


class TestFaultTable:
    def test_every_fault_stands_once_and_has_a_remedy(self, table):
        shown = [fault for signs in table.signs.values() for sign in signs for fault in sign.faults]
        assert sorted([*shown, *table.hidden]) == sorted(table.remedies)
        assert all(table.remedies.values())

    def test_a_wrong_look_is_none_that_is_right_and_each_stands_once(self, table):
        looks = [tuple(each.seen.values()) for each in table.looks]
        assert len(looks) == len(set(looks))
        assert table.right == {"red": "red", "green": "green"}
        assert ("red", "green") not in looks
        dark = table.looks[looks.index(("none", "none"))]
        assert {"no supply", "break in the mast"} <= set(dark.faults)
        assert dark.measure.setting == "DC volts"  # with the power on

    def test_a_plan_s_reversed_led_is_looked_for_where_the_other_one_s_position_lights(self, table):
        """Both LEDs the same way round share the current as their voltages have it: one may take nearly all of it."""
        looks = [each.seen for each in table.looks if "red LED reversed" in each.faults]
        assert looks
        assert all(each["red"] == "none" and each["green"] != "none" for each in looks)

    def test_what_glares_or_gets_hot_has_no_resistor_to_speak_of(self, table):
        assert [each for each in table.glaring if not re.search("bridged|no resistor|too small|mast hole", each)] == []
        assert "bridged" in str(table.glaring)


def test_on_a_battery_it_may_be_flat_and_a_lamp_lit_by_its_own_usual_current_does_not_glare():
    """The yard's green lamp gets more than its red one: wires swapped are no reason to switch off at once."""
    table = fault_table(Plan.load(next(path for path in QUILLHAVEN if "yard" in path.stem)).study().bench_test)
    dim = [each for each in table.looks if any("dim" in seen for seen in each.seen.values())]
    assert any("flat battery" in each.faults for each in dim)
    assert not {"wires swapped", "both LEDs reversed", "supply reversed"} & set(table.glaring)
    assert {"resistor bridged", "red resistor bridged"} <= set(table.glaring)
