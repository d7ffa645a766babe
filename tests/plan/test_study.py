"""The study of a plan: any valid plan has an answer or a refusal; each finding appears when it should."""

import json
import math

import numpy as np
import pytest
from hypothesis import given, settings

from sigcalc import Plan, Q, SigcalcError
from sigcalc.design.bench.circuit import drawn, sound
from sigcalc.design.findings import FINE, GRADES, LOOK, STOP
from sigcalc.physics.diode import exponential_voltage
from sigcalc.plan.bench_readings import bench_signal
from sigcalc.plan.circuit import circuit_of
from tests.plan.plans import QUILLHAVEN, plans

LAMPS = {"red": {"part": "red alingap 3 mm"}, "green": {"part": "green gap 3 mm"}}


def check_plain(data):
    """Only what JSON has, no number that is none, and units that people write."""
    if isinstance(data, dict):
        if set(data) == {"value", "unit"}:
            # a figure beyond a meter's range is null
            assert data["value"] is None or (isinstance(data["value"], float) and math.isfinite(data["value"]))
            assert data["unit"] in ("V", "A", "ohm", "W", "cd", "m", "s", "Ah", "T", "m/s", "", "evenings")
        for key, value in data.items():
            assert isinstance(key, str)
            check_plain(value)
    elif isinstance(data, list):
        for value in data:
            check_plain(value)
    else:
        assert data is None or isinstance(data, str | float | int | bool)


@settings(max_examples=150)
@given(plans())
def test_any_plan_has_an_answer_or_a_refusal(plan):
    try:
        study = plan.study()
    except SigcalcError as error:
        said = str(error)
    else:
        for band in study.figures.values():
            assert band.least <= band.nominal * (1 + 1e-12)
            assert band.nominal <= band.most * (1 + 1e-12)
            assert band.most > 0
        assert study.grade in GRADES
        data = study.to_dict()
        check_plain(data)
        assert json.loads(json.dumps(data, allow_nan=False)) == data
        assert study.parts_csv().count("\r\n") == len(study.parts) + 1
        return
    assert said
    assert len(said) < 600


@pytest.mark.parametrize("path", QUILLHAVEN, ids=lambda path: path.stem)
def test_the_layout_s_plans_as_plain_data(path):
    data = Plan.load(path).study().to_dict()
    check_plain(data)
    assert data["figures"]["red_current"]["nominal"]["unit"] == "A"


def test_plain_data_hold_the_whole_study():
    study = Plan(**LAMPS).study()
    data = study.to_dict()
    assert set(data) == {
        *("name", "grade", "figures", "findings", "parts", "cuts", "drills", "steps", "bench_test", "assumptions"),
        "cautions",
    }
    assert data["name"] == study.plan.name
    assert len(data["findings"]) == len(study.findings)
    assert data["findings"][0].keys() == {"grade", "topic", "reason", "remedy", "risk"}
    assert data["parts"][2]["bands"] == list(study.parts[2].bands)
    assert data["cuts"][0]["length"] == {"value": study.cuts[0].length, "unit": "m"}
    last, told = study.bench_test.readings[-1], data["bench_test"]["readings"][-1]
    assert told["expected"]["least"]["value"] == last.expected.least
    assert (told["lamp"], told["shown"]) == ("green", last.shown)
    assert data["steps"][0] == {"text": study.steps[0].text, "caution": study.steps[0].caution}


@pytest.mark.parametrize(
    "supply", [{"part": "12 V regulated"}, {"kind": "battery", "part": "9 V zinc-carbon"}, {"voltage": "9 V"}]
)
@pytest.mark.parametrize("drive", [{"current": "5 mA"}, {"kind": "constant current"}])
def test_drawing_and_figures_show_one_operating_point(supply, drive):
    study = Plan(**LAMPS, supply=supply, drive=drive).study()
    for lamp in ("red", "green"):
        point = study.points[lamp].si
        assert study.points[lamp].lit == lamp
        for name, key in (("current", "current"), ("led_voltage", "led_voltage"), ("reverse_voltage", "pair_voltage")):
            assert getattr(point, name) == pytest.approx(study.figures[f"{lamp}_{key}"].nominal, rel=1e-9)


def test_figures_that_are_nothing_are_left_out():
    study = Plan(**LAMPS).study()
    assert "red_extra_voltage" not in study.figures
    assert "red_shared_power" in study.figures


def test_assumptions_are_said():
    said = " ".join(Plan(**LAMPS).study().assumptions)
    assert "red LED: too few points: assumed as usual for red LEDs: ideality" in said
    assert "typical, not guaranteed" in said
    assert "Reverse breakdown of an LED is not modelled" in said
    assert "air at 25 °C at most" in said
    assert "battery" not in said


def test_a_battery_is_taken_as_fresh():
    said = Plan(**LAMPS, supply={"kind": "battery"}).study().assumptions
    assert "The battery is fresh; the light fades as it empties." in said


def test_what_one_line_of_a_data_sheet_leaves_open_is_in_every_band():
    own = {"points": [["1.9 V", "20 mA"]], "max_current": "30 mA"}
    sure, open_ = (Plan(red=own | drop).study() for drop in ({"drop_below": "0 V", "drop_above": "0 V"}, {}))
    for key in ("red_current", "red_led_voltage", "red_led_power", "red_shared_power", "red_pair_voltage"):
        narrow, wide = (each.figures[key] for each in (sure, open_))
        assert wide.least < narrow.least <= narrow.most < wide.most
    band = open_.figures["red_led_voltage"]
    assert 0.1 < band.nominal - band.least < 0.2
    readings = [
        {each.name: each.expected for each in study.bench_test.readings}["pair, red"] for study in (sure, open_)
    ]
    assert readings[1].least < readings[0].least - 0.1
    assert readings[1].most > readings[0].most + 0.1
    drops = []
    for study in (sure, open_):  # the samples behind the odds of a diagnosis
        bench = sound(bench_signal(circuit_of(study.plan)).circuit, drawn(400, seed=1))
        drops.append(exponential_voltage(5e-3, *bench["red leds"][0]))
    assert np.ptp(drops[0]) < 1e-9
    assert np.ptp(drops[1]) > 0.15


def test_own_readings_tell_how_well_they_fit():
    # github byn1002/byn1002.github.io RGB.pdf, table 1: a red LED of a student laboratory
    volts, amperes = [1.6799, 1.7385, 1.7928, 1.8269, 1.8497, 1.8814], [2.0, 6.5, 19.5, 31.6, 42.0, 58.0]
    points = [[f"{v} V", f"{i} mA"] for v, i in zip(volts, amperes, strict=True)]
    said = Plan(red={"points": points, "max_current": "60 mA"}).study().assumptions
    assert any(each.startswith("red LED: the 6 readings lie within 1.7") for each in said)
    assert "red LED: 5 V taken as its limit in reverse." in said
    assert any(each.startswith("red LED: no spread of its drop is given") for each in said)
    assert not any("poorly" in each for each in said)


@pytest.mark.parametrize(
    ("points", "residual"),
    [
        ([["1.7 V", "1 mA"], ["1.9 V", "3 mA"], ["1.9 V", "9 mA"], ["2.2 V", "20 mA"]], True),
        ([["1.2 V", "1 mA"], ["1.2 V", "3 mA"], ["1.2 V", "9 mA"]], False),  # no residual, yet no diode
    ],
)
def test_poor_readings_are_called_poor(points, residual):
    said = Plan(red={"points": points, "max_current": "20 mA"}).study().assumptions
    assert "red LED: the readings fit a diode's curve poorly; take them again." in said
    assert any("of the curve (rms)" in each for each in said) == residual


def test_where_nothing_would_light_there_is_nothing_to_study():
    with pytest.raises(SigcalcError, match=r"supply 1\.5 V is below"):
        Plan(supply={"voltage": "1.5 V"}).study()


def test_every_study_has_cautions_of_its_supply_without_an_evening():
    coin = Plan(supply={"kind": "battery", "part": "3 V coin cell"}, drive={"current": "1 mA"}).study()
    assert "children" in {each["topic"] for each in coin.to_dict()["cautions"]}
    own = Plan(supply={"kind": "battery", "voltage": "9 V"}).study()
    assert {"short circuit", "charging", "soldering"} <= {each.topic for each in own.cautions}
    assert all(each.source for each in coin.cautions)


RED, GREEN = {"part": "red alingap 3 mm"}, {"part": "green gap 3 mm"}


def found(topic, **fields):
    """The findings of a topic."""
    return [each for each in Plan(**fields).study().findings if each.topic == topic]


def one(topic, **fields):
    findings = found(topic, **fields)
    assert len(findings) == 1, findings
    return findings[0]


def test_the_gravest_consequence_comes_first():
    """A coil that overheats, then a lamp that may die, then a run too short, and only then what is to be looked at."""
    study = Plan(
        supply={"kind": "battery", "part": "9 V zinc-carbon"},
        wiring={"form": "one in each branch", "reversing": "relay"},
        evening={"relay": "5 V two-pole", "hours": "9 h"},
    ).study()
    stopped = [(each.topic, each.risk) for each in study.findings if each.grade == STOP]
    assert stopped[:2] == [("relay coil", "overheating"), ("dark green lamp", "damage")]
    assert stopped[-1] == ("9 V zinc-carbon battery", "")
    assert study.findings[len(stopped)].grade == LOOK


class TestTheTrap:
    """A resistor inside a branch lets the dark lamp see more than the lit one's drop in reverse."""

    def test_a_resistor_in_each_branch_puts_the_whole_supply_on_the_dark_lamp(self):
        study = Plan(red=RED, green=GREEN, wiring={"form": "one in each branch"}).study()
        assert study.grade == STOP
        for lit, dark in (("red", "green"), ("green", "red")):
            assert study.figures[f"{lit}_reverse"].nominal == pytest.approx(12, abs=1e-2)
            finding = next(each for each in study.findings if each.topic == f"dark {dark} lamp")
            assert finding.grade == STOP
            assert "plain diode in series" in finding.remedy

    def test_so_does_much_of_it_in_one_branch(self):
        wiring = {"form": "shared and extra", "extra_red": "1 kohm"}
        study = Plan(red=RED, green=GREEN, drive={"resistance": "680 ohm"}, wiring=wiring).study()
        stopped = {each.topic for each in study.findings if each.grade == STOP}
        assert stopped == {"dark green lamp"}
        assert study.figures["red_reverse"].nominal > 5
        assert study.figures["green_reverse"].nominal < 3

    @pytest.mark.parametrize("form", ["one in each branch", "shared and extra"])
    def test_series_diodes_mend_it(self, form):
        extras = {"extra_red": "1 kohm", "extra_green": "1 kohm"}
        study = Plan(red=RED, green=GREEN, wiring={"form": form, "series_diodes": True} | extras).study()
        assert study.grade != STOP
        assert any(line.part == "plain diode" and line.count == 2 for line in study.parts)

    def test_one_shared_resistor_is_no_trap(self):
        study = Plan(red=RED, green=GREEN).study()
        assert study.grade != STOP
        assert study.figures["red_reverse"].most < 3

    def test_the_worst_corner_counts_where_the_nominal_one_is_just_harmless(self):
        fields = {"supply": {"part": "5 V regulated"}, "wiring": {"form": "one in each branch"}}
        finding = one("dark green lamp, worst case", red=RED, green=GREEN, **fields)
        assert finding.grade == STOP
        assert "while red is lit, is up to 5.25 V; its limit is 5 V" in finding.reason
        fields["supply"]["tolerance"] = 0
        assert not found("dark green lamp, worst case", red=RED, green=GREEN, **fields)


class TestCurrent:
    def test_beyond_the_rating_in_the_worst_corner_only(self):
        fields = {"supply": {"part": "5 V regulated"}, "drive": {"resistance": "470 ohm"}}
        study = Plan(**fields).study()
        band = study.figures["red_current"]
        assert band.nominal < 7e-3 < band.most
        finding = one("red lamp, worst case", **fields)
        assert finding.grade == STOP
        assert finding.remedy == "Use the next larger resistor."

    def test_beyond_the_rating_already_nominally_is_said_once(self):
        fields = {"drive": {"resistance": "1 kohm"}}
        assert one("red lamp", **fields).grade == STOP
        assert not found("red lamp, worst case", **fields)

    def test_beyond_the_builder_s_own_ceiling(self):
        finding = one("red lamp, worst case", red=RED, green=GREEN, limits={"max_current": "5 mA"})
        assert finding.grade == LOOK
        assert "your own ceiling is 5 mA" in finding.reason
        assert not found("red lamp, worst case", red=RED, green=GREEN, limits={"max_current": "6 mA"})

    def test_a_driver_is_told_apart_from_a_resistor(self):
        drive = {"kind": "constant current", "current": "7 mA"}
        assert one("red lamp, worst case", drive=drive).remedy == "Choose a driver for less current."

    def test_little_headroom_makes_the_current_unsure(self):
        finding = one("green lamp, headroom", red=RED, green=GREEN, supply={"voltage": "3.3 V"})
        assert finding.grade == LOOK
        assert "may be anywhere" in finding.reason
        assert not found("green lamp, headroom", red=RED, green=GREEN)

    def test_more_than_wished(self):
        finding = one("red lamp, wish", red=RED, green=GREEN, drive={"current": "5 mA", "resistance": "1 kohm"})
        assert finding.grade == LOOK
        assert "more than the 5 mA you want" in finding.reason

    def test_a_driver_that_drops_out(self):
        fields = {"supply": {"voltage": "3 V"}, "drive": {"kind": "constant current", "current": "5 mA"}}
        assert one("green lamp, driver", red=RED, green=GREEN, **fields).grade == LOOK
        assert not found("green lamp, driver", red=RED, green=GREEN, drive=fields["drive"])

    def test_a_lamp_that_stays_dark(self):
        study = Plan(red=RED, green=GREEN, supply={"voltage": "1.5 V"}, drive={"resistance": "100 ohm"}).study()
        assert study.grade == STOP
        assert (
            "too low for"
            in one(
                "green lamp", red=RED, green=GREEN, supply={"voltage": "1.5 V"}, drive={"resistance": "100 ohm"}
            ).reason
        )


class TestHeat:
    def test_power_in_the_worst_corner(self):
        # RND 135-00123 p. 2: 85 mW at most
        fields = {"red": {"part": "white 3 mm"}, "green": GREEN, "drive": {"resistance": "390 ohm"}}
        assert one("red lamp, heat", **fields).grade == STOP
        assert not found("red lamp, heat", **fields | {"drive": {"resistance": "430 ohm"}})
        own = {"points": [["3 V", "20 mA"]], "max_current": "30 mA", "drop_above": "0.4 V"}
        assert not found("red lamp, heat", **fields | {"red": own})  # a power that is not known is not judged

    def test_junction_in_warm_air(self):
        # Vishay TLHK4400L: junction up to 100 °C, 400 K/W to ambient: 1.9 V at 20 mA heats it by 15 K
        warm = {"red": RED, "green": GREEN, "drive": {"current": "20 mA"}, "limits": {"ambient": "95 degC"}}
        finding = one("red lamp, temperature", **warm)
        assert finding.grade == STOP
        assert "its limit is 100 °C" in finding.reason
        assert not found("red lamp, temperature", **warm | {"limits": {"ambient": "50 degC"}})


HARD = {"red": {"part": "red gaasp 3 mm"}, "green": GREEN, "drive": {"resistance": "390 ohm"}}


class TestWarmAir:
    """HLMP-1450 data sheet: a green lamp of 30 mA may carry 20 mA at 70 °C."""

    def test_a_current_that_is_fine_in_a_room_is_too_much_in_a_hot_case(self):
        finding = one("green lamp, warm air", **HARD, limits={"ambient": "70 degC"})
        assert finding.grade == STOP
        assert "its limit is 20 mA (30 mA in cooler air)" in finding.reason

    def test_in_a_room_nothing_is_said(self):
        assert not found("green lamp, warm air", **HARD)
        assert not found("green lamp, warm air", **HARD, limits={"ambient": "50 degC"})

    def test_where_nothing_may_flow_the_study_still_answers(self):
        assert "its limit is 0 A" in one("green lamp, warm air", **HARD, limits={"ambient": "120 degC"}).reason


class TestLight:
    def test_uneven_lamps_are_looked_at_again(self):
        assert one("brightness", red=RED, green=GREEN).grade == LOOK
        assert one("brightness", red=RED, green=GREEN, limits={"unevenness": 100}).grade == FINE

    def test_what_cannot_be_compared_is_said(self):
        finding = one("brightness", red={"part": "white 3 mm"})
        assert finding.grade == LOOK
        assert finding.reason.startswith("Not compared: ")


def test_a_lamp_of_another_colour_is_noticed():
    finding = one("red lamp, colour", red={"part": "yellow gaasp 3 mm"})
    assert (finding.grade, finding.reason) == (LOOK, "The LED for the red lamp, yellow gaasp 3 mm, is yellow.")
    assert not found("red lamp, colour")


@pytest.mark.parametrize(("reversing", "word"), [("hand switch", "small toggle switch"), ("relay", "signal relay")])
def test_contacts(reversing, word):
    finding = one("contacts", wiring={"reversing": reversing})
    assert word in finding.reason
    assert finding.grade == FINE


def test_a_current_that_no_contact_bears_stops_the_plan():
    own = {"points": [["0.7 V", "1 A"], ["0.75 V", "3 A"], ["0.8 V", "9 A"]], "max_current": "10 A"}
    study = Plan(red=own, green=own, drive={"resistance": "0 ohm", "tolerance": 0}).study()
    assert study.grade == STOP
    assert next(each for each in study.findings if each.topic == "contacts").grade == STOP


def test_graver_findings_come_first():
    study = Plan(red=RED, green=GREEN, wiring={"form": "one in each branch"}).study()
    order = [GRADES[::-1].index(each.grade) for each in study.findings]
    assert order == sorted(order)
    assert set(order) >= {0, 2}


@pytest.mark.parametrize(
    "fields",
    [
        {},
        {"red": RED, "green": GREEN, "wiring": {"form": "one in each branch"}},
        {"drive": {"resistance": "0 ohm"}, "supply": {"voltage": "3 V"}},
        {"drive": {"kind": "constant current"}, "wiring": {"form": "shared and extra", "extra_red": "100 ohm"}},
    ],
)
def test_every_finding_gives_a_reason_and_every_grave_one_a_remedy(fields):
    for each in Plan(**fields).study().findings:
        assert each.reason.endswith(".")
        assert each.reason[0].isupper() or each.reason[0].isdigit()
        assert each.remedy or each.grade == FINE


def test_the_usual_plan_is_fine_but_for_the_light_of_bought_leds():
    study = Plan().study()
    assert [each.topic for each in study.findings if each.grade != FINE] == ["brightness"]
    assert Plan(limits={"unevenness": 10}).study().grade == FINE
    assert study.points["red"].current < Q("5 mA")
