"""The evening of a plan: the battery's run, the adapter's load, the coil, and what is left out without the section."""

import pytest

from sigcalc import Load, Plan, PlanError, Q, adapters, batteries, evenings, relays, run_time
from sigcalc.plan.circuit import circuit_of
from sigcalc.plan.evening import load_of

BATTERY = {"kind": "battery", "part": "9 V alkaline"}
RELAY = {"relay": "9 V two-pole sensitive", "standby": "6 mA", "red_share": "25 %"}
BY_RELAY = {"reversing": "relay"}


def study(evening, **given):
    return Plan(evening=evening, **given).study()


def topics(found, grade=None):
    return [each.topic for each in found.findings if grade in (None, each.grade)]


class TestWithout:
    def test_a_plan_without_the_section_has_no_word_of_it(self):
        found = Plan().study()
        assert found.evening is None
        assert not {"run_time", "adapter_load", "coil_current"} & set(found.figures)

    def test_the_new_file_notes_the_section_and_the_note_can_be_made_to_count(self):
        text = Plan().text()
        head, _, block = text.partition("# [evening]")
        plan = Plan.parse(head + "[evening]" + "\n".join(line.removeprefix("# ") for line in block.split("\n")))
        assert plan.evening == Plan(evening={}).evening

    def test_taken_out_it_stays_as_a_note_and_only_once(self):
        text = 'version = 1\n[evening]\nhours = "2 h"  # the club closes at ten\n'
        plan = Plan.parse(text)
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
        load = Load(circuit.drive, circuit.pair, red_share=0.5)
        run = run_time(batteries["9 V alkaline"], load, 0.5)
        band = found.figures["run_time"]
        assert (band.least, band.nominal, band.most) == (run.si.hours_min, run.si.hours, run.si.hours_max)
        assert band.least < band.nominal < band.most
        count = evenings(run, "4 h", "14 days")
        assert found.figures["evenings"].nominal == count.count
        assert found.figures["evenings"].text.endswith("evenings)")
        assert found.evening.run.ended_by == run.ended_by

    def test_coil_and_standby_shorten_it_and_are_said(self):
        alone = study({}, supply=BATTERY).figures["run_time"]
        found = study(RELAY, supply=BATTERY, wiring=BY_RELAY)
        assert found.figures["run_time"].most < alone.nominal
        assert "what uses the charge" in topics(found)
        assert found.figures["coil_charge"].nominal > found.figures["lamp_charge"].nominal
        assert any(each.detail == "turns the current round" and "9 V two-pole" in each.part for each in found.parts)

    @pytest.mark.parametrize(("fed", "share"), [("for red", 0.25), ("for green", 0.75)])
    def test_the_coil_is_fed_for_its_colour(self, fed, share):
        plan = Plan(evening=RELAY | {"coil_fed": fed}, wiring=BY_RELAY, supply=BATTERY)
        load = load_of(circuit_of(plan))
        assert load.energised == pytest.approx(share)
        assert load.relay == relays["9 V two-pole sensitive"]

    def test_a_voltage_may_end_it(self):
        early, late = (study({"until": until}, supply=BATTERY).figures["run_time"] for until in ("8 V", "7 V"))
        assert early.nominal < late.nominal
        assert early.label == "run until the battery shows 8 V"

    def test_its_printed_capacity_counts(self):
        small, large = (
            study({}, supply=BATTERY | {"capacity": each}).figures["run_time"].nominal
            for each in ("250 mAh", "500 mAh")
        )
        assert large == pytest.approx(2 * small, rel=0.1)

    def test_an_end_that_is_there_at_the_start_stops_the_plan(self):
        found = study({"until": "20 V"}, supply=BATTERY)
        (finding,) = [each for each in found.findings if each.topic == "run time"]
        assert (finding.grade, found.grade) == ("do not build", "do not build")
        assert "already at the start" in finding.reason
        assert "9.49 V" in finding.reason

    def test_of_a_bare_voltage_no_run_time_is_guessed(self):
        found = study({}, supply={"kind": "battery", "voltage": "9 V"})
        assert "run time" in topics(found, "look again")
        assert "run_time" not in found.figures


class TestAdapter:
    def test_its_load_is_lamp_standby_and_coil(self):
        found = study({"standby": "8 mA", "relay": "12 V two-pole"}, wiring=BY_RELAY)
        lamp = max(found.figures[f"{each}_current"].most for each in ("red", "green"))
        coil = found.figures["coil_current"].most
        assert found.figures["adapter_load"].most == pytest.approx(lamp + coil + 8e-3)
        assert "adapter, headroom" in topics(found, "fine")
        assert "adapter, energy" in topics(found, "fine")

    def test_an_unregulated_one_is_marked(self):
        assert "adapter, voltage" in topics(study({}, supply={"part": "12 V unregulated"}), "look again")

    def test_more_than_it_is_rated_for_stops_the_plan(self):
        own = {"voltage": "12 V", "max_current": "50 mA"}
        found = study({"relay": "12 V two-pole"}, wiring=BY_RELAY, supply=own)
        assert "adapter, load" in topics(found, "do not build")

    def test_of_a_bare_voltage_no_rating_is_guessed(self):
        found = study({"relay": "9 V two-pole"}, wiring=BY_RELAY, supply={"voltage": "9 V", "tolerance": "2 %"})
        assert "adapter, load" in topics(found, "look again")
        assert found.figures["coil_voltage"].least == pytest.approx(9 * 0.98)

    def test_a_coil_for_another_voltage_stops_the_plan(self):
        assert "relay coil" in topics(study({"relay": "24 V two-pole"}, wiring=BY_RELAY), "do not build")

    def test_a_timer_that_feeds_the_coil_ends_the_run_earlier(self):
        """A one-shot's output keeps 1.7 V of the battery's, a transistor 0.1 V; the relay pulls in at 6.75 V."""
        given = {"wiring": BY_RELAY, "supply": {"kind": "battery", "part": "9 V alkaline"}}
        runs = {
            timer: study({"relay": "9 V two-pole sensitive"}, trigger={"timer": timer}, **given)
            for timer in ("one-shot", "schmitt gate")
        }
        last = {name: float(each.evening.run.curve.si.voltage[-1]) for name, each in runs.items()}
        assert last == {"one-shot": pytest.approx(6.75 + 1.7), "schmitt gate": pytest.approx(6.75 + 0.1)}
        reasons = " ".join(each.reason for each in runs["one-shot"].findings)
        assert "pulls in at, with what is lost in its timer, while" in reasons

    def test_a_relay_without_a_name_is_asked_for(self):
        assert "relay coil" in topics(study({}, wiring=BY_RELAY), "look again")

    def test_a_latching_coil_is_no_load(self):
        found = study({"relay": "12 V two-pole latching"}, wiring=BY_RELAY)
        lamp = max(found.figures[f"{each}_current"].most for each in ("red", "green"))
        assert found.figures["adapter_load"].most == pytest.approx(lamp)
        assert adapters["12 V regulated"].si.max_current > lamp


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"hours": "8 d"}, "evening.hours needs to be no longer than every (7 d); you gave 8 d"),
        ({"hours": "0 h"}, "evening.hours needs to be above zero"),
        ({"red_share": "120 %"}, "evening.red_share needs "),
        ({"until": "3 mA"}, "evening.until needs a voltage or a share of the light"),
        ({"until": "150 %"}, "evening.until needs a voltage above zero or a share below 100 %"),
        ({"until": "half"}, "evening.until: "),
        ({"relay": "9 V"}, "evening.relay: "),
        ({"relay": "9 V two-pole"}, 'wiring.reversing: it is "hand switch", but a relay is named'),
        ({"hors": "3 h"}, "evening.hors: no field of a plan; did you mean 'hours'?"),
        ("3 h", "evening needs a section of its own"),
    ],
)
def test_faults(given, said):
    with pytest.raises(PlanError) as refusal:
        Plan(evening=given)
    assert any(each.startswith(said) for each in refusal.value.faults), refusal.value.faults
