"""The study of a plan: any valid plan has an answer or a refusal; each finding appears when it should."""

import csv
import dataclasses
import io
import json

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sigcalc import Plan, Q, SigcalcError
from sigcalc.design.bench.circuit import drawn, sound
from sigcalc.design.findings import FINE, GRADES, LOOK, STOP
from sigcalc.physics.diode import exponential_voltage
from sigcalc.plan.bench_readings import bench_signal
from sigcalc.plan.circuit import circuit_of
from sigcalc.plan.result import Figure, PartLine
from tests.plan.plans import LAMPS, QUILLHAVEN, plans

EACH, EXTRA = "one in each branch", "shared and extra"
DRIVER = {"kind": "constant current", "current": "5 mA"}


def study(**fields):
    """The study of two usual lamps, or those given."""
    return Plan(**LAMPS | fields).study()


def found(topic, **fields):
    """The findings of a topic."""
    return [each for each in study(**fields).findings if each.topic == topic]


UNITS = ("V", "A", "ohm", "W", "cd", "m", "s", "Ah", "T", "m/s", "", "evenings")


def check_plain(data):
    """Only what JSON has, no number that is none, and units that people write."""

    def check_figure(read):
        if set(read) == {"value", "unit"}:
            assert read["unit"] in UNITS
            assert read["value"] is None or isinstance(read["value"], float)  # beyond a meter's range it is null
        return read

    text = json.dumps(data, allow_nan=False)
    assert json.loads(text, object_hook=check_figure) == data


@settings(max_examples=60)
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
        check_plain(study.to_dict())
        assert study.parts_csv().count("\r\n") == len(study.parts) + 1
        order = [GRADES[::-1].index(each.grade) for each in study.findings]
        assert order == sorted(order)
        return
    assert 0 < len(said) < 600


def test_plain_data_hold_the_whole_study():
    made = study()
    data = made.to_dict()
    assert (data["name"], data["figures"]["red_current"]["nominal"]["unit"]) == (made.plan.name, "A")
    assert {"grade", "drills", "assumptions", "cautions"} <= set(data)
    assert data["findings"][0].keys() == {"grade", "topic", "reason", "remedy", "risk"}
    assert data["parts"][2]["bands"] == list(made.parts[2].bands)
    assert data["cuts"][0]["length"] == {"value": made.cuts[0].length, "unit": "m"}
    last, told = made.bench_test.readings[-1], data["bench_test"]["readings"][-1]
    assert told["expected"]["least"]["value"] == last.expected.least
    assert (told["lamp"], told["shown"]) == ("green", last.shown)
    assert data["steps"][0] == {"text": made.steps[0].text, "caution": made.steps[0].caution}


@pytest.mark.parametrize(
    "supply", [{"part": "12 V regulated"}, {"kind": "battery", "part": "9 V zinc-carbon"}, {"voltage": "9 V"}]
)
@pytest.mark.parametrize("drive", [{"current": "5 mA"}, {"kind": "constant current"}])
def test_drawing_and_figures_show_one_operating_point(supply, drive):
    made = study(supply=supply, drive=drive)
    for lamp in ("red", "green"):
        point = made.points[lamp].si
        assert made.points[lamp].lit == lamp
        for name, key in (("current", "current"), ("led_voltage", "led_voltage"), ("reverse_voltage", "pair_voltage")):
            assert getattr(point, name) == pytest.approx(made.figures[f"{lamp}_{key}"].nominal, rel=1e-9)
    assert "red_extra_voltage" not in made.figures  # figures that are nothing are left out


class TestAssumptions:
    def test_what_is_taken_for_granted_is_said(self):
        said = " ".join(study().assumptions)
        assert "red LED: too few points: assumed as usual for red LEDs: ideality" in said
        assert "air at 25 °C at most" in said
        fresh = "The battery is fresh; the light fades as it empties."
        assert fresh in study(supply={"kind": "battery"}).assumptions
        assert fresh not in said

    def test_what_one_line_of_a_data_sheet_leaves_open_is_in_every_band(self):
        own = {"points": [["1.9 V", "20 mA"]], "max_current": "30 mA"}
        sure, open_ = (Plan(red=own | drop).study() for drop in ({"drop_below": "0 V", "drop_above": "0 V"}, {}))
        for key in ("red_current", "red_led_voltage", "red_led_power", "red_shared_power", "red_pair_voltage"):
            narrow, wide = (each.figures[key] for each in (sure, open_))
            assert wide.least < narrow.least <= narrow.most < wide.most
        band = open_.figures["red_led_voltage"]
        assert 0.1 < band.nominal - band.least < 0.2
        widths, spreads = [], []
        for made in (sure, open_):
            (read,) = (each.expected for each in made.bench_test.readings if each.name == "pair, red")
            widths.append(read.most - read.least)
            bench = sound(bench_signal(circuit_of(made.plan)).circuit, drawn(400, seed=1))
            spreads.append(np.ptp(exponential_voltage(5e-3, *bench["red leds"][0])))  # behind the odds of a diagnosis
        assert widths[1] > widths[0] + 0.2
        assert spreads[0] < 1e-9
        assert spreads[1] > 0.15

    def test_own_readings_tell_how_well_they_fit(self):
        # github byn1002/byn1002.github.io RGB.pdf, table 1: a red LED of a student laboratory
        volts, amperes = [1.6799, 1.7385, 1.7928, 1.8269, 1.8497, 1.8814], [2.0, 6.5, 19.5, 31.6, 42.0, 58.0]
        points = [[f"{v} V", f"{i} mA"] for v, i in zip(volts, amperes, strict=True)]
        said = " ".join(Plan(red={"points": points, "max_current": "60 mA"}).study().assumptions)
        for words in ("the 6 readings lie within 1.7", "5 V taken as its limit", "no spread of its drop is given"):
            assert f"red LED: {words}" in said
        assert "poorly" not in said

    def test_poor_readings_are_called_poor(self):
        # the latter leave no residual, yet are no diode's
        for volts, residual in (((1.7, 1.9, 1.9, 2.2), True), ((1.2, 1.2, 1.2), False)):
            points = [[f"{each} V", amps] for each, amps in zip(volts, ("1 mA", "3 mA", "9 mA", "20 mA"), strict=False)]
            said = " ".join(Plan(red={"points": points, "max_current": "20 mA"}).study().assumptions)
            assert "red LED: the readings fit a diode's curve poorly; take them again." in said
            assert ("of the curve (rms)" in said) == residual


def test_every_study_has_cautions_of_its_supply_without_an_evening():
    coin = Plan(supply={"kind": "battery", "part": "3 V coin cell"}, drive={"current": "1 mA"}).study()
    assert "children" in {each["topic"] for each in coin.to_dict()["cautions"]}
    own = Plan(supply={"kind": "battery", "voltage": "9 V"}).study()
    assert {"short circuit", "charging", "soldering"} <= {each.topic for each in own.cautions}
    assert all(each.source for each in coin.cautions)


def test_the_gravest_consequence_comes_first():
    """A coil that overheats, then a lamp that may die, then a run too short, and only then what is to be looked at."""
    made = Plan(
        supply={"kind": "battery", "part": "9 V zinc-carbon"},
        wiring={"form": EACH, "reversing": "relay"},
        evening={"relay": "5 V two-pole", "hours": "9 h"},
    ).study()
    stopped = [(each.topic, each.risk) for each in made.findings if each.grade == STOP]
    assert stopped[:2] == [("relay coil", "overheating"), ("dark green lamp", "damage")]
    assert stopped[-1] == ("9 V zinc-carbon battery", "")
    assert made.findings[len(stopped)].grade == LOOK


class TestTheTrap:
    """A resistor inside a branch lets the dark lamp see more than the lit one's drop in reverse."""

    def test_a_resistor_in_each_branch_puts_the_whole_supply_on_the_dark_lamp(self):
        made = study(wiring={"form": EACH})
        for lit, dark in (("red", "green"), ("green", "red")):
            assert made.figures[f"{lit}_reverse"].nominal == pytest.approx(12, abs=1e-2)
            finding = next(each for each in made.findings if each.topic == f"dark {dark} lamp")
            assert finding.grade == made.grade == STOP
            assert "plain diode in series" in finding.remedy

    def test_so_does_much_of_it_in_one_branch(self):
        made = study(drive={"resistance": "680 ohm"}, wiring={"form": EXTRA, "extra_red": "1 kohm"})
        assert {each.topic for each in made.findings if each.grade == STOP} == {"dark green lamp"}
        assert made.figures["red_reverse"].nominal > 5
        assert made.figures["green_reverse"].nominal < 3

    def test_series_diodes_mend_it_and_one_shared_resistor_is_no_trap(self):
        for form in (EACH, EXTRA):
            made = study(wiring={"form": form, "series_diodes": True, "extra_red": "1 kohm", "extra_green": "1 kohm"})
            assert made.grade != STOP
            assert any(line.part == "plain diode" and line.count == 2 for line in made.parts)
        assert study().grade != STOP
        assert study().figures["red_reverse"].most < 3

    def test_the_worst_corner_counts_where_the_nominal_one_is_just_harmless(self):
        fields = {"supply": {"part": "5 V regulated"}, "wiring": {"form": EACH}}
        (finding,) = found("dark green lamp, worst case", **fields)
        assert finding.grade == STOP
        assert "while red is lit, is up to 5.25 V; its limit is 5 V" in finding.reason
        fields["supply"]["tolerance"] = 0
        assert not found("dark green lamp, worst case", **fields)


WEAK = {"red": {"part": "low-current red 3 mm"}}  # 7 mA at most
WHITE = {"red": {"part": "white 3 mm"}}  # RND 135-00123 p. 2: 85 mW at most
UNKNOWN = {"red": {"points": [["3 V", "20 mA"]], "max_current": "30 mA", "drop_above": "0.4 V"}}  # no power is known
HARD = {"red": {"part": "ordinary red 3 mm"}, "drive": {"resistance": "390 ohm"}}
MUCH, COOL = {"drive": {"current": "20 mA"}}, {"limits": {"ambient": "50 degC"}}
HUGE = {"points": [["0.7 V", "1 A"], ["0.75 V", "3 A"], ["0.8 V", "9 A"]], "max_current": "10 A"}
WORST = "red lamp, worst case"


def by(resistance, **more):
    return {"drive": {"resistance": resistance}} | more


def fed(volts, **more):
    return {"supply": {"voltage": volts}} | more


def within(**limits):
    return {"limits": limits}


@pytest.mark.parametrize(
    ("topic", "grade", "said", "fields", "harmless"),
    [
        ("red lamp", STOP, "", by("1 kohm", **WEAK), by("1.8 kohm")),
        # what is beyond the rating already nominally is told elsewhere
        (WORST, STOP, "Use the next larger resistor.", by("470 ohm", **WEAK) | fed("5 V"), by("220 ohm")),
        (WORST, STOP, "Choose a driver for less", WEAK | {"drive": DRIVER | {"current": "7 mA"}}, by("1 kohm")),
        (WORST, LOOK, "your own ceiling is 5 mA", within(max_current="5 mA"), within(max_current="6 mA")),
        ("green lamp, headroom", LOOK, "may be anywhere", fed("3.3 V"), fed("12 V")),
        ("red lamp, wish", LOOK, "more than the 5 mA you want", by("1 kohm"), {"drive": {}}),
        ("green lamp, driver", LOOK, "drops out", fed("3 V", drive=DRIVER), fed("12 V")),
        ("green lamp", STOP, "too low for", fed("1.5 V") | by("100 ohm"), fed("3 V")),
        ("red lamp, heat", STOP, "", by("390 ohm", **WHITE), by("430 ohm")),
        ("red lamp, heat", STOP, "", by("390 ohm", **WHITE), UNKNOWN),
        # Vishay TLHK4400L: junction up to 100 °C, 400 K/W to ambient: 1.9 V at 20 mA heats it by 15 K
        ("red lamp, temperature", STOP, "its limit is 100 °C", MUCH | within(ambient="95 degC"), COOL),
        # HLMP-1450 data sheet: a green lamp of 30 mA may carry 20 mA at 70 °C
        ("green lamp, warm air", STOP, "limit is 20 mA (30 mA in", HARD | within(ambient="70 degC"), COOL),
        ("green lamp, warm air", STOP, "limit is 0 A", HARD | within(ambient="120 degC"), within()),
        ("red lamp, colour", LOOK, "ordinary yellow 3 mm, is yellow", {"red": {"part": "ordinary yellow 3 mm"}}, LAMPS),
    ],
)
def test_a_finding_appears_where_it_should_and_only_there(topic, grade, said, fields, harmless):
    (finding,) = found(topic, **fields)
    assert finding.grade == grade
    assert said in f"{finding.reason} {finding.remedy}"
    assert all(each.grade == FINE for each in found(topic, **fields | harmless))
    assert finding.remedy


def test_the_light_of_both_lamps_and_the_contacts_are_always_judged():
    huge = {"red": HUGE, "green": HUGE, "drive": {"resistance": "0 ohm", "tolerance": 0}}
    for topic, fields, grade, words in (
        ("brightness", {}, LOOK, ""),
        ("brightness", {"limits": {"unevenness": 100}}, FINE, ""),
        ("brightness", WHITE, LOOK, "Not compared: "),
        ("contacts", {"wiring": {"reversing": "hand switch"}}, FINE, "small toggle switch"),
        ("contacts", {"wiring": {"reversing": "relay"}}, FINE, "signal relay"),
        ("contacts", huge, STOP, ""),
    ):
        (finding,) = found(topic, **fields)
        assert (finding.grade, words in finding.reason) == (grade, True)


def test_the_usual_plan_is_fine_but_for_the_light_of_bought_leds():
    assert [each.topic for each in STUDY.findings if each.grade != FINE] == ["brightness"]
    assert Plan(limits={"unevenness": 10}).study().grade == FINE
    assert STUDY.points["red"].current < Q("5 mA")


@pytest.mark.parametrize("path", QUILLHAVEN, ids=lambda path: path.stem)
def test_the_layout_s_plans_can_be_built(path):
    plan = Plan.load(path)
    assert plan.text() == path.read_text(encoding="utf-8")
    made = plan.study()
    check_plain(made.to_dict())
    assert made.grade != STOP


def test_a_band_in_words_and_as_plain_data():
    assert Figure(1.0e-3, 1.2e-3, 1.5e-3, "A", "x").text == "1.2 mA (1 mA to 1.5 mA)"
    assert Figure(2.0, 2.0, 2.0, "V", "x").text == "2 V"
    values = {name: {"value": value, "unit": "V"} for name, value in (("least", 1.0), ("nominal", 2.0), ("most", 3.0))}
    told = Figure(1.0, 2.0, 3.0, "V", "x", "the supply").to_dict()
    assert told == {"label": "x", "depends_on": "the supply"} | values


STUDY = Plan().study()


def rows(study):
    return list(csv.reader(io.StringIO(study.parts_csv(), newline="")))


def test_the_parts_list_as_csv():
    head, *lines = rows(STUDY)
    assert head == ["count", "part", "detail", "colour bands", "note"]
    assert next(line for line in lines if line[1] == "resistor, shared")[3] == "red red red gold"
    assert all(line[0].isdigit() for line in lines)


FORMULAS = [
    "=1+1",
    "+1",
    "-1",
    "@SUM(A1)",
    " =1",
    "\t=1",
    "\r=1",
    "\n=1",
    "\uff1d1+1",
    "\uff0b1",
    "\uff0d1",
    "\uff20A1",
]


def said(cell):
    (_, part, detail, _, note) = rows(dataclasses.replace(STUDY, parts=(PartLine(1, cell, cell, (), cell),)))[1]
    assert part == detail == note
    return part


def test_no_cell_is_a_formula():
    assert [said(each) for each in FORMULAS] == [f"'{each}" for each in FORMULAS]


@given(st.text(max_size=20))
def test_any_cell_comes_back_as_it_was_or_behind_an_apostrophe(cell):
    assert said(cell) in (cell, f"'{cell}")
    assert said(cell).lstrip()[:1] not in ("=", "+", "-", "@")
