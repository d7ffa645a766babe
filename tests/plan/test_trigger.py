"""The train that sets a plan's signal: gap, closures, place of the reed, hold, coil, and what it means at the bench."""

import json

import pytest

from sigcalc import Magnet, Plan, PlanError, Q, closures, reeds, relays, scale_speed
from sigcalc.design.pair.fail_safe import FED_FOR_GREEN, FED_FOR_RED, fail_safe
from sigcalc.design.train.hold import pot_turn
from sigcalc.design.train.magnet_and_reed import largest_gap
from sigcalc.design.train.passing_train import train_hold
from sigcalc.plan.signal_fields import USUAL_MAGNET
from sigcalc.plan.trigger import SPARE

BY_RELAY = {"reversing": "relay"}


def study(trigger, **given):
    return Plan(trigger=trigger, **{"wiring": BY_RELAY} | given).study()


def finding(found, topic):
    (each,) = [each for each in found.trigger.findings if each.topic == topic]
    return each


def test_a_plan_without_the_section_has_no_word_of_it():
    found = Plan().study()
    assert found.trigger is None
    assert "hands_off" not in found.to_dict()
    assert not any("reed" in each.part for each in found.parts)


class TestMagnetAndReed:
    def test_the_gap_is_judged_with_the_library_s_limits(self):
        found = study({"gap": "6 mm", "orientation": "lengthwise"})
        limits = largest_gap(USUAL_MAGNET, "10 mm reed, 10 to 25 AT", "lengthwise").si
        band = found.figures["reed_gap"]
        assert (band.least, band.nominal, band.most) == (limits.least, limits.nominal, limits.most)

    @pytest.mark.parametrize(("gap", "grade"), [("5 mm", "fine"), ("9 mm", "look again"), ("30 mm", "do not build")])
    def test_its_grade(self, gap, grade):
        assert finding(study({"gap": gap}), "gap").grade == grade

    def test_an_own_magnet_is_of_its_grade(self):
        plan = Plan(trigger={"diameter": "6 mm", "length": "2 mm", "grade": "N52"})
        assert plan.trigger.make_magnet() == Magnet.of_grade("N52", diameter="6 mm", length="2 mm")

    def test_the_closure_is_the_longest_stretch_over_the_speed(self):
        found = study({"speed": "0.25 m/s", "orientation": "lengthwise"})
        middle = reeds["10 mm reed, 10 to 25 AT"].middle
        stretches = closures(Plan(trigger={}).trigger.make_magnet(), middle, "5 mm", "lengthwise")
        longest = max(end - start for start, end in stretches).m_as("m")
        assert found.figures["reed_closed"].nominal == pytest.approx(longest / 0.25)

    def test_a_prototype_s_speed_goes_by_the_plan_s_scale(self):
        slow, quick = (study({"prototype_speed": "60 km/h"}, scale=scale) for scale in ("1:87", "1:32"))
        ratio = slow.figures["reed_closed"].nominal / quick.figures["reed_closed"].nominal
        assert ratio == pytest.approx(87 / 32)
        assert slow.plan.trigger.model_speed("1:87") == scale_speed("60 km/h", 87)

    def test_crosswise_never_closes_it(self):
        found = study({"orientation": "crosswise"})
        assert finding(found, "closing").grade == "do not build"
        assert found.grade == "do not build"
        assert "reed_closed" not in found.figures

    def test_a_slow_charging_timer_misses_a_fast_train(self):
        """A reed that has to empty 100 µF through 1 kohm takes 0.3 s; a one-shot's pulse is there at once."""
        quick = {"speed": "0.3 m/s", "timer": "schmitt gate", "capacitance": "100 µF", "reed_resistor": "1 kohm"}
        assert finding(study(quick), "speed").grade == "do not build"
        assert finding(study(quick | {"reed_resistor": "47 ohm"}), "speed").grade == "fine"
        assert finding(study(quick | {"timer": "one-shot"}), "speed").grade == "fine"

    def test_a_neighbouring_track_too_near(self):
        assert finding(study({"neighbour": "8 mm"}), "neighbouring track").grade == "do not build"
        assert finding(study({"neighbour": "90 mm"}), "neighbouring track").grade == "fine"

    def test_contacts_without_a_resistor_are_overloaded(self):
        assert finding(study({"reed_resistor": "10 ohm"}), "reed's contacts").grade == "do not build"


class TestPlaceOfTheReed:
    def test_right_at_the_signal_a_magnet_at_the_front_shows_the_train_its_own_red(self):
        found = study({"beyond": "0 mm", "magnet_from_front": "0 mm"})
        assert finding(found, "place of the reed").grade == "do not build"
        least = found.figures["reed_beyond_least"].nominal
        assert 0 < least < 0.05
        moved = study({"beyond": f"{least + 1e-4} m", "magnet_from_front": "0 mm"})
        assert finding(moved, "place of the reed").grade == "fine"
        assert f"{least * 1e3:.3g} mm at the least" in dict(moved.trigger.positions)["reed"]

    def test_a_magnet_well_behind_the_front_lets_the_reed_stand_at_the_signal(self):
        found = study({"beyond": "0 mm", "magnet_from_front": "80 mm"})
        assert finding(found, "place of the reed").grade == "fine"
        assert "reed_beyond_least" not in found.figures


TRAIN = ("1.5 m", "0.2 m/s", "300 mm", "100 mm")
GIVEN = dict(zip(("train_length", "speed", "clearing_distance", "magnet_from_front"), TRAIN, strict=True))


class TestHold:
    def test_left_out_it_is_what_the_train_needs_with_some_to_spare(self):
        found = study(GIVEN)
        needed = train_hold(*TRAIN).m_as("s")
        assert found.figures["hold_needed"].nominal == pytest.approx(needed)
        assert found.figures["hold_wanted"].nominal == pytest.approx(SPARE * needed)
        assert finding(found, "on-time for the train").grade == "fine"

    def test_the_pot_s_turn_is_the_library_s(self):
        found = study(GIVEN | {"hold": "12 s"})
        setting = pot_turn(found.plan.trigger.circuit(), "12 V", "12 s").si
        band = found.figures["pot_turn"]
        assert (band.least, band.nominal, band.most) == (setting.turn_min, setting.turn, setting.turn_max)
        assert band.text in dict(found.trigger.positions)["pot"]
        assert "12 s" in found.trigger.steps[-2].text

    def test_too_short_a_hold_for_the_train(self):
        assert finding(study(GIVEN | {"hold": "5 s"}), "on-time for the train").grade == "do not build"

    def test_a_hold_that_the_timer_cannot_give(self):
        found = study({"hold": "300 s"})
        assert finding(found, "on-time").grade == "do not build"
        assert "an on-time that this circuit gives" in finding(found, "on-time").reason
        assert "pot" not in dict(found.trigger.positions)

    def test_a_capacitor_for_too_low_a_voltage(self):
        assert finding(study({"capacitor_voltage": "10 V"}), "capacitor voltage").grade == "do not build"

    def test_an_unregulated_adapter_is_too_much_for_a_one_shot(self):
        found = study({}, supply={"part": "12 V unregulated"})
        assert finding(found, "timer supply").grade == "do not build"

    def test_a_falling_battery_moves_a_hold_with_a_fixed_trip(self):
        battery = {"supply": {"kind": "battery", "part": "9 V alkaline"}, "evening": {"until": "6.5 V"}}
        found = study({"timer": "comparator", "pot": "470 kohm"}, **battery)
        assert finding(found, "on-time on a flat battery").grade == "look again"
        assert finding(study({}, **battery), "on-time on a flat battery").grade == "fine"
        assert not [each for each in study({}).trigger.findings if each.topic == "on-time on a flat battery"]


class TestRelay:
    @pytest.mark.parametrize(
        ("timer", "bought"), [("one-shot", 0), ("schmitt gate", 1), ("comparator", 1), ("mosfet", 0)]
    )
    def test_a_gate_s_output_does_not_bear_a_coil(self, timer, bought):
        found = study({"timer": timer, "relay": "12 V two-pole"})
        assert len([each for each in found.parts if each.part == "transistor for the coil"]) == bought

    def test_the_timer_keeps_some_of_the_coil_s_voltage(self):
        with_timer = study({"relay": "12 V two-pole"}).figures["coil_voltage"]
        alone = Plan(evening={"relay": "12 V two-pole"}, wiring=BY_RELAY).study().figures["coil_voltage"]
        assert alone.nominal - with_timer.nominal == pytest.approx(1.7, abs=2e-3)
        assert alone.least - with_timer.least == pytest.approx(2.25, abs=2e-3)
        assert alone.most - with_timer.most == pytest.approx(1.2, abs=2e-3)
        low = study({"relay": "12 V two-pole"}, evening={"coil_fed": "for green"}).figures["coil_voltage"]
        assert alone.least - low.least == pytest.approx(0.75, abs=2e-3)

    def test_named_once_it_counts_for_the_evening_too(self):
        given = {"supply": {"kind": "battery", "part": "9 V alkaline"}, "evening": {}}
        found = study({"relay": "9 V two-pole sensitive"}, **given)
        assert found.figures["coil_charge"].nominal > 0
        assert [each.topic for each in found.findings].count("relay coil") == 1
        assert any("1N4148" in each.detail for each in found.parts)

    def test_a_weak_battery_does_not_reach_it(self):
        found = study({"relay": "12 V two-pole"}, supply={"kind": "battery", "part": "9 V alkaline"})
        assert finding(found, "relay coil").grade == "do not build"

    def test_a_hand_switch_does_not_do(self):
        assert finding(Plan(trigger={}).study(), "reversing").grade == "do not build"

    def test_a_supply_that_leaves_it_nothing(self):
        found = study({"relay": "3 V two-pole"}, supply={"voltage": "2.3 V"}, drive={"current": "1 mA"})
        assert "nothing would be left for it" in finding(found, "relay coil").reason


def test_the_train_on_a_timeline_agrees_with_the_findings():
    found = study({"relay": "12 V two-pole", "speed": "0.2 m/s"})
    passing = found.trigger.passing
    held = passing.si.red_until - passing.si.red_from
    assert held == pytest.approx(found.figures["hold_wanted"].nominal, abs=0.05)
    assert passing.si.needed == pytest.approx(found.figures["hold_needed"].nominal, abs=0.1)
    assert study({}).trigger.passing is None
    assert study({"relay": "12 V two-pole", "hold": "300 s"}).trigger.passing is None


def test_bench_and_plain_data():
    found = study({"relay": "12 V two-pole"})
    data = found.to_dict()
    json.dumps(data)
    assert [each["part"] for each in data["hands_off"]["positions"]][:2] == ["reed", "magnet"]
    assert len(data["hands_off"]["steps"]) == len(found.trigger.steps)
    assert any("swallowed" in each.caution for each in found.trigger.steps)
    assert any("rails" in each.caution for each in found.trigger.steps)
    (end,) = [each for each in found.parts if each.part == "resistor, end of the pot"]
    assert end.bands == ("yellow", "violet", "red", "gold")


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"magnet": USUAL_MAGNET, "diameter": "5 mm"}, "trigger.magnet: diameter is given as well"),
        ({"diameter": "5 mm"}, "trigger needs the name of a magnet, or both diameter and length"),
        ({"diameter": "0 mm", "length": "2 mm"}, "trigger: diameter of a magnet needs a length from 0.01 mm"),
        ({"speed": "0.2 m/s", "prototype_speed": "60 km/h"}, "trigger needs either speed or prototype_speed"),
        ({"speed": "0 m/s"}, "trigger.speed needs to be above zero; you gave 0 m/s"),
        ({"speed": "20 m/s"}, "trigger.speed needs to be from 0.001 m/s to 10 m/s on the model"),
        ({"gap": "-5 mm"}, "trigger.gap needs a length from 0 m"),
        ({"beyond": "-10 mm"}, "trigger.beyond needs "),
        ({"orientation": "sideways"}, "trigger.orientation needs to be 'upright', 'lengthwise' or 'crosswise'"),
        ({"magnet_from_front": "2 m"}, "trigger.magnet_from_front needs to be no more than train_length"),
        ({"reed": "12 mm"}, "trigger.reed: "),
        ({"timer": "two-shot"}, "trigger.timer: "),
        ({"grade": "N99"}, "trigger.grade: "),
        ({"pot": "0.1 ohm"}, "trigger.pot needs a resistance from 1 Ω"),
        ({"both_ways": "yes"}, "trigger.both_ways needs true or false"),
        ({"relay": "12 V two-pole"}, 'wiring.reversing: it is "hand switch"'),
        ("fast", "trigger needs a section of its own"),
    ],
)
def test_faults(given, said):
    with pytest.raises(PlanError) as refusal:
        Plan(trigger=given)
    assert any(each.startswith(said) for each in refusal.value.faults), refusal.value.faults


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"scale": "O", "trigger": {"prototype_speed": "60 km/h"}}, "scale: scale 'O' stands for"),
        ({"scale": "1:1000", "trigger": {"prototype_speed": "0.1 m/s"}}, "trigger.prototype_speed needs"),
        (
            {"wiring": BY_RELAY, "trigger": {"relay": "12 V two-pole"}, "evening": {"relay": "9 V two-pole"}},
            "trigger.relay: it is another one than that of the evening",
        ),
    ],
)
def test_sections_that_do_not_agree(given, said):
    with pytest.raises(PlanError) as refusal:
        Plan(**given)
    assert str(refusal.value).startswith(said)
    assert Q("1 m") == Plan(trigger={}).trigger.train_length


class TestFailures:
    """What fails to which side is `design.fail_safe`'s answer, asked for by the number of trains."""

    def test_without_a_number_of_trains_it_is_not_asked(self):
        found = study({"relay": "9 V two-pole sensitive"})
        assert "coil_charge" not in found.figures
        assert not [each for each in found.findings if each.topic == "failures"]

    @pytest.mark.parametrize(
        ("fed", "name", "grade"), [("for red", FED_FOR_RED, "look again"), ("for green", FED_FOR_GREEN, "fine")]
    )
    def test_the_coil_as_the_plan_feeds_it(self, fed, name, grade):
        given = {"relay": "9 V two-pole sensitive", "trains_per_hour": 12, "hold": "10 s"}
        found = study(given, evening={"coil_fed": fed})
        current = found.plan.drive.current
        scheme = next(
            each
            for each in fail_safe("9 V two-pole sensitive", Q(12, "V"), Q("10 s"), 12, current)
            if each.name == name
        )
        assert finding(found, "failures").grade == grade
        assert found.figures["coil_charge"].nominal == pytest.approx(scheme.si.coil_charge)
        # by hand: the coil's current at 12 V for 120 s of each hour, or for the rest of it
        share = 120 / 3600 if fed == "for red" else 1 - 120 / 3600
        ohms = relays["9 V two-pole sensitive"].si.coil_resistance
        assert found.figures["coil_charge"].nominal == pytest.approx(12 / ohms * share)

    def test_more_trains_than_an_hour_has_room_for(self):
        found = study({"relay": "9 V two-pole sensitive", "trains_per_hour": 600, "hold": "10 s"})
        assert finding(found, "failures").grade == "do not build"

    @pytest.mark.parametrize("given", [0, -1, "many", 1e9])
    def test_a_number_of_trains_that_is_none(self, given):
        with pytest.raises(PlanError, match=r"trigger\.trains_per_hour"):
            study({"relay": "9 V two-pole sensitive", "trains_per_hour": given})
