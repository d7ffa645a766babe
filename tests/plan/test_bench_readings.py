"""What the meter should read on a plan's signal, and where to look when it does not."""

import math

import pytest

from sigcalc import Plan
from sigcalc.parts.meter import AMPERES, DIODE, OHMS
from sigcalc.parts.timer import timers
from sigcalc.plan.bench_readings import BEFORE, fault_table
from tests.plan.plans import QUILLHAVEN

LAMPS = {"red": {"part": "red alingap 3 mm"}, "green": {"part": "green gap 3 mm"}}
SHARED = {"drive": {"current": "8 mA"}}
EXTRA = {"drive": {"resistance": "680 ohm"}, "wiring": {"form": "shared and extra", "extra_red": "47 ohm"}}
OWN = {"wiring": {"form": "one in each branch", "series_diodes": True, "reversing": "relay"}}
DRIVER = {"drive": {"kind": "constant current", "current": "8 mA"}}
TRAIN = {"wiring": {"reversing": "relay"}, "trigger": {"relay": "12 V two-pole"}}
FORMS = {"shared": SHARED, "extra": EXTRA, "own": OWN, "driver": DRIVER, "train": TRAIN}
EACH = pytest.mark.parametrize("form", FORMS)


def study(**fields):
    return Plan(**LAMPS, **fields).study()


def read(**fields):
    return {each.name: each for each in study(**fields).bench_test.readings}


@EACH
def test_every_point_has_a_band_about_its_nominal_value(form):
    test = study(**FORMS[form]).bench_test
    for reading in (*test.before, *test.readings):
        assert reading.expected.least <= reading.expected.nominal <= reading.expected.most
        assert reading.shown
        assert reading.lamp in ("", "red", "green")
    assert test.notes or form in ("shared", "extra", "driver")


@EACH
def test_power_on_before_power_off_and_the_current_last(form):
    stage = [
        2 if each.setting == AMPERES else 1 if each.setting in (OHMS, DIODE) else 0
        for each in study(**FORMS[form]).bench_test.readings
    ]
    assert stage == sorted(stage)
    assert set(stage) == {0, 1, 2}


def test_loose_resistors_come_first_with_the_meter_s_error():
    (before,) = study(drive={"resistance": "1 kohm"}).bench_test.before
    assert before.setting == BEFORE
    # 950 ohm to 1050 ohm as bought; the meter's share of the reading and its digits come on top
    assert 930 < before.expected.least < 950
    assert 1050 < before.expected.most < 1070
    assert before.shown == f"{before.expected.least:.0f} Ω to {before.expected.most / 1e3:.3f} kΩ"


@pytest.mark.parametrize("path", QUILLHAVEN, ids=lambda path: path.stem)
@pytest.mark.parametrize("lamp", ["red", "green"])
def test_the_voltages_sum_up_and_the_current_is_the_study_s(path, lamp):
    """Kirchhoff's voltage law round the loop, and Ohm's law in the shared resistor."""
    made = Plan.load(path).study()
    test = {each.name: each.expected.nominal for each in made.bench_test.readings}
    limit, current = test[f"shared resistor, {lamp}"], abs(test[f"current, {lamp}"])
    assert limit + abs(test[f"pair, {lamp}"]) == pytest.approx(test[f"supply, {lamp}"], abs=5e-3)
    assert current == pytest.approx(limit / test["shared resistor ohms"], rel=5e-3)
    assert current == pytest.approx(made.figures[f"{lamp}_current"].nominal, rel=0.01)


def test_under_a_driver_the_current_itself_is_read():
    found = read(**DRIVER)
    assert found["current, red"].expected.nominal == pytest.approx(8e-3, rel=1e-4)
    assert "shared resistor ohms" not in found


def test_the_plan_s_meter_widens_the_bands():
    fine, coarse = (
        read(**SHARED, bench={"meter": name})["pair, red"].expected for name in ("hand meter", "pocket meter")
    )
    assert coarse.most - coarse.least > fine.most - fine.least


def test_a_train_adds_coil_reed_and_hold():
    found = read(**TRAIN)
    made = study(**TRAIN)
    assert found["coil, red"].expected.nominal == pytest.approx(made.figures["coil_voltage"].nominal, rel=0.01)
    assert found["hold"].expected.nominal == pytest.approx(made.figures["hold_wanted"].nominal, rel=0.02)
    assert math.isinf(found["reed alone"].expected.nominal)
    assert found["reed alone"].shown == "OL"
    assert "timer output, red" in found


@pytest.mark.parametrize("timer", list(timers))
@pytest.mark.parametrize("fed", ["red", "green"])
def test_the_coil_reads_what_the_study_says_however_it_is_fed(timer, fed):
    """Whatever the timer, and whichever aspect the coil is fed for, a train sets red."""
    given = TRAIN | {
        "evening": {"relay": "9 V two-pole sensitive", "coil_fed": f"for {fed}"},
        "trigger": {"timer": timer},
    }
    made = study(**given)
    found = {each.name: each.expected.nominal for each in made.bench_test.readings}
    assert found[f"coil, {fed}"] == pytest.approx(made.figures["coil_voltage"].nominal, rel=0.01)
    rest = "green" if fed == "red" else "red"
    assert found[f"coil, {rest}"] == pytest.approx(0.0, abs=0.05)
    assert "set it for red, roll the train's magnet over the reed" in " ".join(made.bench_test.notes)
    from_plus = made.bench_test.circuit.coil_from_plus
    for lamp in (fed, rest):
        beside = found[f"supply, {lamp}"] if from_plus else 0.0
        assert abs(found[f"timer output, {lamp}"] - beside) == pytest.approx(found[f"coil, {lamp}"], abs=0.02)


def test_a_lamp_with_nothing_to_limit_it_is_not_tested():
    made = study(drive={"resistance": "0 ohm"})
    assert made.bench_test is None
    assert made.no_bench_test in made.assumptions
    assert made.no_bench_test.startswith("There are no test readings: ")
    assert study().no_bench_test == ""
    assert made.to_dict()["bench_test"] is None


@pytest.fixture(scope="module", params=FORMS)
def table(request):
    return fault_table(study(**FORMS[request.param]).bench_test)


class TestFaultTable:
    def test_every_fault_stands_somewhere_and_has_a_remedy(self, table):
        shown = [fault for signs in table.signs.values() for sign in signs for fault in sign.faults]
        assert len(shown) == len(set(shown))
        assert set(shown) | set(table.hidden) == set(table.remedies)
        assert not set(shown) & set(table.hidden)
        assert all(table.remedies.values())

    def test_a_wrong_look_is_none_that_is_right_and_each_stands_once(self, table):
        looks = [tuple(each.seen.values()) for each in table.looks]
        assert len(looks) == len(set(looks))
        assert table.right == {"red": "red", "green": "green"}
        assert ("red", "green") not in looks
        assert ("none", "none") in looks

    def test_the_first_measurement_of_a_dark_signal_is_one_with_the_power_on(self, table):
        (dark,) = [each for each in table.looks if set(each.seen.values()) == {"none"}]
        assert {"no supply", "break in the mast"} <= set(dark.faults)
        assert dark.measure.setting == "DC volts"

    def test_a_plan_s_reversed_led_is_looked_for_where_the_other_one_s_position_lights(self, table):
        """Both LEDs the same way round share the current as their voltages have it: one may take nearly all of it."""
        looks = [each.seen for each in table.looks if "red LED reversed" in each.faults]
        assert looks
        assert all(each["red"] == "none" and each["green"] != "none" for each in looks)

    def test_what_glares_or_gets_hot_has_no_resistor_to_speak_of(self, table):
        words = "bridged", "no resistor", "too small", "short at the mast hole"
        assert [name for name in table.glaring if not any(word in name for word in words)] == []
        assert any("bridged" in name for name in table.glaring)


def test_a_used_battery_is_looked_for_where_the_lamps_are_dim():
    test = Plan.load(next(path for path in QUILLHAVEN if "yard" in path.stem)).study().bench_test
    dim = [each for each in fault_table(test).looks if any("dim" in seen for seen in each.seen.values())]
    assert any("flat battery" in each.faults for each in dim)


def test_a_lamp_lit_by_its_own_usual_current_does_not_glare():
    """The yard's green lamp gets more than its red one: wires swapped are no reason to switch off at once."""
    test = Plan.load(next(path for path in QUILLHAVEN if "yard" in path.stem)).study().bench_test
    glaring = fault_table(test).glaring
    assert not {"wires swapped", "both LEDs reversed", "supply reversed"} & set(glaring)
    assert {"resistor bridged", "red resistor bridged"} <= set(glaring)


def test_a_relay_without_a_timer_says_how_it_is_set():
    notes = " ".join(study(wiring={"reversing": "relay"}, evening={"relay": "12 V two-pole"}).bench_test.notes)
    assert "To set it for red, feed the relay's coil (made for 12 V)" in notes
