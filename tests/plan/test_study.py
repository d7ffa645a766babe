"""The study of a plan as a whole: any valid plan has an answer or a refusal, and the answer is plain data."""

import json
import math

import numpy as np
import pytest
from hypothesis import given, settings

from sigcalc import Plan, SigcalcError
from sigcalc.design.bench.circuit import drawn, sound
from sigcalc.design.findings import GRADES
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
