"""A talk of a reader's own plan or layout: their parts on the wall, and a note wherever it is not their part."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc import Layout, Plan, PlanError, SigcalcError, Talk
from tests.plan.plans import FOLDER, LAYOUT

PLANS = {path.stem: path for path in sorted(FOLDER.glob("*.toml")) if path != LAYOUT}
OWN = {"kind": "adapter", "voltage": "30 V"}


def talk(minutes=15, **plan):
    return Talk.from_plan(Plan(**plan), minutes=minutes)


def scene(made, name):
    return next(each for each in made.scene if each.name == name)


def left_out(made):
    return {note.split("”")[0].strip("“") for note in made.notes if "is left out" in note}


@pytest.mark.parametrize("name", PLANS)
def test_every_example_plan_makes_a_talk(name, tmp_path):
    plan = Plan.load(PLANS[name])
    made = Talk.from_plan(plan, seats=12)
    assert made.minutes == 15
    assert made.seats == 12
    assert min(each.minutes for each in made.scene) >= 1.5
    assert {"Why a resistor", "Which resistor", "Which lamp lights", "Find the fault"} <= {
        each.name for each in made.scene
    }
    assert not left_out(made)
    assert not any(re.search(r"\d", f"{each.because}{each.say}{each.take_home}") for each in made.scene)
    assert sum(line.each for line in made.kit) == sum(line.count for line in plan.study().parts)
    made.save(tmp_path / "own.toml")
    assert Talk.load(tmp_path / "own.toml") == made


def test_the_panels_begin_with_the_plan_s_own_parts():
    plan = Plan.load(PLANS["quillhaven_yard"])
    made = Talk.from_plan(plan)
    shared = plan.study().figures["shared_resistance"].nominal
    why = scene(made, "Why a resistor").start
    assert (why["source"], why["resistor"], why["LED"]) == ("six AA cells", shared, "ordinary red 3 mm")
    assert scene(made, "Which resistor").start["own drawer (ohm)"] == "100; 220; 330; 470; 680; 1000; 2200"
    bright = scene(made, "Equally bright")
    assert bright.start["series diodes"]
    assert bright.start["extra in one branch"] == plan.study().figures["red_resistance"].nominal
    assert scene(made, "How long the battery lasts").start["battery"] == "6 x AA alkaline"
    assert "Turned round by a relay" in {each.name for each in made.scene}


def test_the_right_resistor_is_among_those_to_bet_on():
    made = Talk.from_plan(Plan.load(PLANS["quillhaven_east_home"]))
    assert scene(made, "Which resistor").choices[1] == "2.7 kΩ"  # as the plan's own study chooses


ODD = {
    "a supply beyond the panels": (
        {"supply": OWN},
        {"Why a resistor", "Which resistor", "Which lamp lights", "Equally bright", "What the adapter gives"},
        "“your own signal”: supply and resistor there are others than yours.",
    ),
    "a supply a little beyond": (
        {"supply": OWN | {"voltage": "24.5 V"}},
        {"Why a resistor", "What the adapter gives"},
        "“which resistor”: your supply of 24.5 V is shown as 24 V.",
    ),
    "an LED of one's own": (
        {"red": {"points": [["1.8 V", "2 mA"]], "max_current": "20 mA"}},
        set(),
        "stands in for your red LED (own red LED)",
    ),
    "an LED of another colour": (
        {"red": {"part": "ordinary yellow 3 mm"}},
        set(),
        "The ordinary red 3 mm stands in for your red LED (ordinary yellow 3 mm)",
    ),
    "a driver": (
        {"drive": {"kind": "constant current", "current": "5 mA"}},
        {"Which resistor"},
        "stands in for your constant current.",
    ),
    "more than an LED is rated for": (
        {"drive": {"kind": "constant current", "current": "8 mA"}},
        {"Why a resistor", "Which resistor", "Which lamp lights", "Equally bright", "What the adapter gives"},
        "current 8 mA is above the limit",
    ),
    "a resistor in each branch": (
        {"wiring": {"form": "one in each branch", "extra_red": "1 kohm", "extra_green": "470 ohm"}},
        set(),
        "it is that of your red branch, 1 kΩ",
    ),
    "a resistor beyond the sliders": (
        {"drive": {"resistance": "47 kohm"}},
        {"Why a resistor", "Which lamp lights", "Equally bright"},
        "your resistor is 47 kΩ, and the panel's slider ends at 10 kΩ",
    ),
    "another battery": (
        {"supply": {"kind": "battery", "part": "8.4 V NiMH"}},
        set(),
        "“why a resistor”: “9 V battery” stands in for your 8.4 V NiMH battery.",
    ),
    "a battery's coil and timer": (
        {
            "supply": {"kind": "battery"},
            "wiring": {"reversing": "relay"},
            "evening": {"standby": "7 mA", "red_share": "30 %"},
        },
        set(),
        "“battery run”: coil held is shown as “1/5”; yours is 30 %.",
    ),
    "an adapter that is not regulated": (
        {"supply": {"kind": "adapter", "voltage": "9 V", "no_load_voltage": "14 V", "max_current": "300 mA"}},
        {"Why a resistor"},
        "“adapter voltage”: “9 V unregulated” stands in for your 9 V unregulated adapter.",
    ),
    "a series that no panel has": (
        {"drive": {"series": "E192", "tolerance": "0.5 %"}},
        set(),
        "“which resistor”: its tolerance is shown as “± 1 %”; yours is 0.5 %.",
    ),
    "a drawer that is too full": (
        {"drive": {"drawer": [f"{ohms} ohm" for ohms in range(1000, 1900, 10)]}},
        {"Which resistor"},
        "your drawer holds more values",
    ),
    "a train with a long on-time": (
        {"trigger": {"hold": "25 s"}, "wiring": {"reversing": "relay"}},
        {"The train sets it"},
        "your on-time is 25 s, and the panel's slider ends at 20 s",
    ),
    "a magnet of one's own": (
        {"trigger": {"diameter": "6 mm", "length": "2 mm"}, "wiring": {"reversing": "relay"}},
        set(),
        "the magnet there is the 8 x 3 mm disc, N35; yours is one of your own",
    ),
}


@pytest.mark.parametrize("case", ODD)
def test_what_the_panels_do_not_have_is_told(case):
    plan, missing, said = ODD[case]
    made = talk(**plan)
    assert left_out(made) == missing
    assert any(said in note for note in made.notes)
    assert made.minutes == 15


@given(st.floats(1.5, 120))
def test_the_minutes_are_shared_out_without_rest(minutes):
    made = talk(minutes)
    assert made.minutes == pytest.approx(minutes, abs=1e-9)
    assert min(each.minutes for each in made.scene) >= min(1.5, minutes)


def test_a_short_talk_keeps_what_matters_most():
    names = [[each.name for each in talk(minutes).scene] for minutes in (1.5, 4, 8)]
    assert names[0] == ["Why a resistor"]
    assert names[1] == ["Why a resistor", "Which lamp lights"]
    assert names[2] == [
        "Why a resistor",
        "Which resistor",
        "Which lamp lights",
        "Turned round by a switch",
        "Find the fault",
    ]
    assert "no time for: Equally bright, What the adapter gives." in talk(8).notes[-1]


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"minutes": 1}, "minutes needs a number of minutes from 1.5 to 120"),
        ({"minutes": float("nan")}, "minutes needs a number"),
        ({"minutes": True}, "minutes needs a number"),
        ({"seats": 0}, "seats needs a whole number from 1 to 500"),
        ({"plan": "plan.toml"}, "plan needs a Plan"),
        ({"plan": Plan(supply={"kind": "adapter", "voltage": "1.2 V"})}, "supply"),
    ],
)
def test_what_makes_no_talk_is_refused(given, said):
    with pytest.raises(SigcalcError, match=said):
        Talk.from_plan(**{"plan": Plan()} | given)


class TestLayout:
    made = Talk.from_layout(Layout.load(LAYOUT))

    def test_the_example_layout_makes_a_talk_of_its_wires_and_one_signal(self):
        assert self.made.minutes == 15
        names = [each.name for each in self.made.scene]
        assert names[:2] == ["Why a resistor", "Which lamp lights"]
        assert {"One signal more", "How many signals", "Which wire", "Something bridges the wires"} <= set(names)
        assert not left_out(self.made)

    def test_its_own_wire_supply_and_fuse_are_on_the_wall(self):
        short = scene(self.made, "Something bridges the wires")
        assert short.start["source"] == "12 V regulated, 1 A"
        assert short.start["fuse at the source"] == "200 mA resettable"
        assert (short.start["wire"], short.start["wired as"]) == ("24 AWG", "mixed")
        assert short.start["layout length"] == 12  # 0.5 m, 8 m and 3.5 m to the west post
        assert scene(self.made, "One signal more").answer == {"signals connected": 8}
        assert scene(self.made, "Which wire").start["light wanted"] == 80

    def test_the_kit_has_one_signal_a_seat_and_the_wire_for_the_speaker(self):
        kit = {line.item: (line.each, line.once) for line in self.made.kit}
        assert kit["red LED: low-current red 3 mm"] == (1, 1)
        assert kit["fuse: 200 mA resettable"] == kit["twin wire on its reel: 24 AWG"] == (0, 1)

    @staticmethod
    def layout(**more):
        runs = [{"name": "run", "start": "supply", "end": "post", "wire": "27 AWG", "length": "80 m"}]
        return Layout(**{"feeders": runs, "signals": [{"name": "home", "at": "post"}]} | more)

    def test_what_the_panels_do_not_have_is_told(self):
        made = Talk.from_layout(self.layout())
        assert left_out(made) == {"One signal more", "How many signals", "Which wire", "Something bridges the wires"}
        runs = [{"name": "run", "start": "supply", "end": "post", "wire": "27 AWG", "length": "4 m"}]
        signals = [{"name": f"home {number}", "at": "post"} for number in range(9)]
        made = Talk.from_layout(self.layout(feeders=runs, signals=signals))
        assert left_out(made) == set()
        assert "26 AWG stands in for your thinnest wire, 27 AWG." in made.notes
        assert "“signals one by one” goes up to 8 signals; you have 9." in made.notes

    def test_on_a_supply_of_no_panel_the_signal_s_scenes_are_left(self):
        made = Talk.from_layout(self.layout(supply={"kind": "adapter", "part": "5 V regulated"}))
        assert [each.name for each in made.scene] == ["Which lamp lights", "Turned round by a switch", "Find the fault"]

    def test_what_was_not_loaded_is_refused(self):
        with pytest.raises(PlanError, match="was not loaded"):
            Talk.from_layout(Layout.parse(LAYOUT.read_text("utf-8")))
