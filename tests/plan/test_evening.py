"""The evening of a plan: the battery's run, the adapter's load, the coil, and what is left out without the section."""

import pytest

from sigcalc import Load, Plan, Q, batteries, evenings, relays, run_time
from sigcalc.plan.circuit import circuit_of
from sigcalc.plan.evening import load_of

BATTERY = {"kind": "battery", "part": "9 V alkaline"}
RELAY = {"relay": "9 V two-pole sensitive", "standby": "6 mA", "red_share": "25 %"}
BY_RELAY = {"reversing": "relay"}


def study(evening, **given):
    return Plan(evening=evening, **given).study()


def run_of(evening=None, **battery):
    return study(evening or {}, supply=BATTERY | battery).figures["run_time"]


class TestSection:
    def test_the_new_file_notes_the_section_and_the_note_can_be_made_to_count(self):
        head, _, block = Plan().text().partition("# [evening]")
        plan = Plan.parse(head + "[evening]" + "\n".join(line.removeprefix("# ") for line in block.split("\n")))
        assert plan.evening == Plan(evening={}).evening

    def test_taken_out_it_stays_as_a_note_and_only_once(self):
        plan = Plan.parse('version = 1\n[evening]\nhours = "2 h"  # the club closes at ten\n')
        for _ in range(2):
            plan = Plan.parse(plan.with_changes(evening=None).text())
            assert plan.evening is None
            assert plan.text().count("# the club closes at ten") == 1
            plan = Plan.parse(plan.with_changes(evening={"hours": "2 h"}).text())
            assert plan.evening.hours == Q("2 h")


class TestBattery:
    def test_run_and_evenings_are_those_of_the_library(self):
        found = study({"hours": "4 h", "every": "14 days"}, supply=BATTERY)
        circuit = circuit_of(found.plan)
        run = run_time(batteries["9 V alkaline"], Load(circuit.drive, circuit.pair, red_share=0.5), 0.5)
        assert tuple(found.figures["run_time"]) == (run.si.hours_min, run.si.hours, run.si.hours_max)
        assert found.figures["evenings"].nominal == evenings(run, "4 h", "14 days").count
        assert found.figures["evenings"].text.endswith("evenings)")
        assert found.evening.run.ended_by == run.ended_by

    def test_coil_and_standby_shorten_it_and_are_said(self):
        found = study(RELAY, supply=BATTERY, wiring=BY_RELAY)
        assert found.figures["run_time"].most < run_of().nominal
        assert "what uses the charge" in [each.topic for each in found.findings]
        assert found.figures["coil_charge"].nominal > found.figures["lamp_charge"].nominal
        assert any(each.detail == "turns the current round" and "9 V two-pole" in each.part for each in found.parts)

    def test_the_coil_is_fed_for_its_colour(self):
        for fed, share in (("for red", 0.25), ("for green", 0.75)):
            load = load_of(circuit_of(Plan(evening=RELAY | {"coil_fed": fed}, wiring=BY_RELAY, supply=BATTERY)))
            assert (load.energised, load.relay) == (pytest.approx(share), relays["9 V two-pole sensitive"])

    def test_a_voltage_may_end_it_and_a_printed_capacity_counts(self):
        assert run_of({"until": "8 V"}).nominal < run_of({"until": "7 V"}).nominal
        assert run_of(capacity="500 mAh").nominal == pytest.approx(2 * run_of(capacity="250 mAh").nominal, rel=0.1)

    def test_a_timer_that_feeds_the_coil_ends_the_run_earlier(self):
        """A one-shot's output keeps 1.7 V of the battery's, a transistor 0.1 V; the relay pulls in at 6.75 V."""
        for timer, lost in (("one-shot", 1.7), ("schmitt gate", 0.1)):
            given = {"trigger": {"timer": timer}, "wiring": BY_RELAY, "supply": BATTERY}
            found = study({"relay": "9 V two-pole sensitive"}, **given)
            assert float(found.evening.run.curve.si.voltage[-1]) == pytest.approx(6.75 + lost)
            reasons = " ".join(each.reason for each in found.findings)
            assert "pulls in at, with what is lost in its timer, while" in reasons


class TestAdapter:
    def test_its_load_is_lamp_standby_and_coil_and_its_tolerance_the_coil_s(self):
        found = study({"standby": "8 mA", "relay": "12 V two-pole"}, wiring=BY_RELAY)
        lamp = max(found.figures[f"{each}_current"].most for each in ("red", "green"))
        assert found.figures["adapter_load"].most == pytest.approx(lamp + found.figures["coil_current"].most + 8e-3)
        found = study({"relay": "12 V two-pole latching"}, wiring=BY_RELAY)
        assert found.figures["adapter_load"].most == pytest.approx(lamp)
        found = study({"relay": "9 V two-pole"}, wiring=BY_RELAY, supply={"voltage": "9 V", "tolerance": "2 %"})
        assert found.figures["coil_voltage"].least == pytest.approx(9 * 0.98)


@pytest.mark.parametrize(
    ("topic", "grade", "evening", "supply"),
    [
        ("run time", "do not build", {"until": "20 V"}, BATTERY),  # it is there already at the start
        ("run time", "look again", {}, {"kind": "battery", "voltage": "9 V"}),  # no run time is guessed
        ("adapter, headroom", "fine", {}, {}),
        ("adapter, energy", "fine", {}, {}),
        ("adapter, voltage", "look again", {}, {"part": "12 V unregulated"}),
        ("adapter, load", "do not build", {"relay": "12 V two-pole"}, {"voltage": "12 V", "max_current": "50 mA"}),
        ("adapter, load", "look again", {"relay": "9 V two-pole"}, {"voltage": "9 V"}),  # no rating is guessed
        ("relay coil", "do not build", {"relay": "24 V two-pole"}, {}),
        ("relay coil", "look again", {}, {}),  # a relay without a name is asked for
    ],
)
def test_what_is_said(topic, grade, evening, supply):
    found = study(evening, supply=supply, wiring=BY_RELAY)
    assert grade in [each.grade for each in found.findings if each.topic == topic]
    assert ("run_time" in found.figures) == (supply == BATTERY and not evening)
