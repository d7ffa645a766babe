"""The train that sets a plan's signal: gap, closures, place of the reed, hold, coil, and what it means at the bench."""

import pytest

from sigcalc import Magnet, Plan, Q, closures, reeds, relays, scale_speed
from sigcalc.design.pair.fail_safe import FED_FOR_GREEN, FED_FOR_RED, fail_safe
from sigcalc.design.train.hold import pot_turn
from sigcalc.design.train.magnet_and_reed import largest_gap
from sigcalc.design.train.passing_train import train_hold
from sigcalc.plan.signal_fields import USUAL_MAGNET
from sigcalc.plan.trigger import SPARE

BY_RELAY = {"reversing": "relay"}
ON_BATTERY = {"supply": {"kind": "battery", "part": "9 V alkaline"}}
FINE, LOOK, STOP = "fine", "look again", "do not build"
TRAIN = ("1.5 m", "0.2 m/s", "300 mm", "100 mm")
GIVEN = dict(zip(("train_length", "speed", "clearing_distance", "magnet_from_front"), TRAIN, strict=True))
SLOW_TIMER = {"speed": "0.3 m/s", "timer": "schmitt gate", "reed_resistor": "1 kohm"}
AT_THE_SIGNAL = {"beyond": "0 mm", "magnet_from_front": "0 mm"}
TRIP = {"timer": "comparator", "pot": "470 kohm"}
FLAT = ON_BATTERY | {"evening": {"until": "6.5 V"}}


def study(trigger, **given):
    return Plan(trigger=trigger, **{"wiring": BY_RELAY} | given).study()


def topics(found):
    return {each.topic: each for each in found.trigger.findings}


def test_a_plan_without_its_sections_has_no_word_of_train_or_evening():
    found = Plan().study()
    assert found.trigger is found.evening is None
    assert "hands_off" not in found.to_dict()
    assert not {"run_time", "adapter_load", "coil_current"} & set(found.figures)


@pytest.mark.parametrize(
    ("topic", "grade", "trigger", "more"),
    [
        ("gap", FINE, {"gap": "5 mm"}, {}),
        ("gap", LOOK, {"gap": "9 mm"}, {}),
        ("gap", STOP, {"gap": "30 mm"}, {}),
        ("closing", STOP, {"orientation": "crosswise"}, {}),
        # a reed that has to empty 100 µF through 1 kohm takes 0.3 s; a one-shot's pulse is there at once
        ("speed", STOP, SLOW_TIMER, {}),
        ("speed", FINE, SLOW_TIMER | {"reed_resistor": "47 ohm"}, {}),
        ("speed", FINE, SLOW_TIMER | {"timer": "one-shot"}, {}),
        ("neighbouring track", STOP, {"neighbour": "8 mm"}, {}),
        ("neighbouring track", FINE, {"neighbour": "90 mm"}, {}),
        ("reed's contacts", STOP, {"reed_resistor": "10 ohm"}, {}),
        # the train would see its own red
        ("place of the reed", STOP, AT_THE_SIGNAL, {}),
        ("place of the reed", FINE, AT_THE_SIGNAL | {"magnet_from_front": "80 mm"}, {}),
        ("on-time for the train", FINE, GIVEN, {}),
        ("on-time for the train", STOP, GIVEN | {"hold": "5 s"}, {}),
        ("on-time", STOP, {"hold": "300 s"}, {}),  # the timer cannot give it
        ("capacitor voltage", STOP, {"capacitor_voltage": "10 V"}, {}),
        ("timer supply", STOP, {}, {"supply": {"part": "12 V unregulated"}}),
        ("on-time on a flat battery", LOOK, TRIP, FLAT),
        ("on-time on a flat battery", FINE, {}, FLAT),
        ("on-time on a flat battery", None, {}, {}),
        ("relay coil", STOP, {"relay": "12 V two-pole"}, ON_BATTERY),
        ("relay coil", STOP, {"relay": "3 V two-pole"}, {"supply": {"voltage": "2.3 V"}, "drive": {"current": "1 mA"}}),
        ("reversing", STOP, {}, {"wiring": {}}),  # a hand switch does not do
        ("failures", None, {"relay": "9 V two-pole sensitive"}, {}),
        ("failures", STOP, {"relay": "9 V two-pole sensitive", "trains_per_hour": 600, "hold": "10 s"}, {}),
    ],
)
def test_what_is_said_of_each_thing(topic, grade, trigger, more):
    finding = topics(study(trigger, **more)).get(topic)
    assert (finding and finding.grade) == grade


class TestMagnetAndReed:
    def test_gap_and_closure_are_the_library_s(self):
        found = study({"gap": "6 mm", "speed": "0.25 m/s", "orientation": "lengthwise"})
        limits = largest_gap(USUAL_MAGNET, "10 mm reed, 10 to 25 AT", "lengthwise").si
        assert tuple(found.figures["reed_gap"]) == (limits.least, limits.nominal, limits.most)
        middle = reeds["10 mm reed, 10 to 25 AT"].middle
        stretches = closures(found.plan.trigger.make_magnet(), middle, "6 mm", "lengthwise")
        longest = max(end - start for start, end in stretches).m_as("m")
        assert found.figures["reed_closed"].nominal == pytest.approx(longest / 0.25)
        assert "reed_closed" not in study({"orientation": "crosswise"}).figures

    def test_an_own_magnet_is_of_its_grade_and_a_prototype_s_speed_goes_by_the_plan_s_scale(self):
        plan = Plan(trigger={"diameter": "6 mm", "length": "2 mm", "grade": "N52"})
        assert plan.trigger.make_magnet() == Magnet.of_grade("N52", diameter="6 mm", length="2 mm")
        slow, quick = (study({"prototype_speed": "60 km/h"}, scale=scale) for scale in ("1:87", "1:32"))
        ratio = slow.figures["reed_closed"].nominal / quick.figures["reed_closed"].nominal
        assert ratio == pytest.approx(87 / 32)
        assert slow.plan.trigger.model_speed("1:87") == scale_speed("60 km/h", 87)

    def test_too_near_the_signal_the_least_distance_is_said_and_is_enough(self):
        found = study(AT_THE_SIGNAL)
        least = found.figures["reed_beyond_least"].nominal
        assert 0 < least < 0.05
        moved = study(AT_THE_SIGNAL | {"beyond": f"{least + 1e-4} m"})
        assert topics(moved)["place of the reed"].grade == FINE
        assert f"{least * 1e3:.3g} mm at the least" in dict(moved.trigger.positions)["reed"]
        assert "reed_beyond_least" not in study(AT_THE_SIGNAL | {"magnet_from_front": "80 mm"}).figures


class TestHold:
    def test_left_out_it_is_what_the_train_needs_with_some_to_spare(self):
        found = study(GIVEN)
        needed = train_hold(*TRAIN).m_as("s")
        assert found.figures["hold_needed"].nominal == pytest.approx(needed)
        assert found.figures["hold_wanted"].nominal == pytest.approx(SPARE * needed)

    def test_the_pot_s_turn_is_the_library_s(self):
        found = study(GIVEN | {"hold": "12 s"})
        setting = pot_turn(found.plan.trigger.circuit(), "12 V", "12 s").si
        band = found.figures["pot_turn"]
        assert tuple(band) == (setting.turn_min, setting.turn, setting.turn_max)
        assert band.text in dict(found.trigger.positions)["pot"]
        assert "12 s" in found.trigger.steps[-2].text
        assert "pot" not in dict(study({"hold": "300 s"}).trigger.positions)


class TestRelay:
    def test_a_gate_s_output_does_not_bear_a_coil(self):
        for timer, bought in (("one-shot", 0), ("schmitt gate", 1), ("comparator", 1), ("mosfet", 0)):
            found = study({"timer": timer, "relay": "12 V two-pole"})
            assert [each.part for each in found.parts].count("transistor for the coil") == bought

    def test_the_timer_keeps_some_of_the_coil_s_voltage(self):
        given = {"relay": "12 V two-pole"}
        alone = Plan(evening=given, wiring=BY_RELAY).study().figures["coil_voltage"]
        timed = study(given).figures["coil_voltage"]
        lost = [left - least for left, least in zip(alone, timed, strict=True)]
        assert lost == pytest.approx([2.25, 1.7, 1.2], abs=2e-3)
        low = study(given, evening={"coil_fed": "for green"}).figures["coil_voltage"]
        assert alone.least - low.least == pytest.approx(0.75, abs=2e-3)

    def test_named_once_it_counts_for_the_evening_too(self):
        found = study({"relay": "9 V two-pole sensitive"}, evening={}, **ON_BATTERY)
        assert found.figures["coil_charge"].nominal > 0
        assert [each.topic for each in found.findings].count("relay coil") == 1
        assert any("1N4148" in each.detail for each in found.parts)

    @pytest.mark.parametrize(("fed", "name", "grade"), [("red", FED_FOR_RED, LOOK), ("green", FED_FOR_GREEN, FINE)])
    def test_what_shows_when_something_fails_as_the_plan_feeds_the_coil(self, fed, name, grade):
        given = {"relay": "9 V two-pole sensitive", "trains_per_hour": 12, "hold": "10 s"}
        found = study(given, evening={"coil_fed": f"for {fed}"})
        schemes = fail_safe(given["relay"], Q(12, "V"), Q("10 s"), 12, found.plan.drive.current)
        (scheme,) = (each for each in schemes if each.name == name)
        charge = found.figures["coil_charge"].nominal
        assert topics(found)["failures"].grade == grade
        assert charge == pytest.approx(scheme.si.coil_charge)
        # by hand: the coil's current at 12 V for 120 s of each hour, or for the rest of it
        share = 120 / 3600 if fed == "red" else 1 - 120 / 3600
        assert charge == pytest.approx(12 / relays[given["relay"]].si.coil_resistance * share)


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
    told = found.to_dict()["hands_off"]
    assert [each["part"] for each in told["positions"]][:2] == ["reed", "magnet"]
    assert len(told["steps"]) == len(found.trigger.steps)
    for word in ("swallowed", "rails"):
        assert any(word in each.caution for each in found.trigger.steps)
    (end,) = [each for each in found.parts if each.part == "resistor, end of the pot"]
    assert end.bands == ("yellow", "violet", "red", "gold")
