"""Your own signal: the plans at hand, readings noted, faults ranked, refusals in words."""

import re
import shutil
from pathlib import Path

import pytest

from sigcalc.design.bench.diagnosis import diagnose
from sigcalc.errors import PlanError
from sigcalc.lessons.find_the_fault import quillhaven_signal
from sigcalc.panels.base import AS_IT_IS_DRAWN, AS_IT_LOOKS, BUSY
from sigcalc.panels.find_the_fault import READINGS, SHOW
from sigcalc.panels.find_your_fault import (
    FORGET,
    METER,
    OWN,
    PAIRS,
    POINT,
    READS,
    RESISTOR,
    SIGNAL,
    DiagnosisPanel,
    bench_test_of,
    plan_files,
    seen_control,
)
from sigcalc.plan import Plan
from tests.panels.moving import fresh, refused
from tests.plan.plans import FOLDER, QUILLHAVEN


@pytest.fixture
def beside(tmp_path, monkeypatch):
    shutil.copytree(FOLDER, tmp_path / "plans")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def test_plans_by_their_names_then_own_ones_told_apart_by_their_files_and_no_layout(beside):
    text = (beside / "plans" / "quillhaven_layout.toml").read_text(encoding="utf-8")
    (beside / "plans" / "torn_layout.toml").write_text(text.replace("length", "lenght"), encoding="utf-8")
    examples = [Plan.load(path).name for path in QUILLHAVEN]
    assert [name for name, _ in plan_files()] == examples
    first, second, torn = (Path("my_plans") / f"{name}.toml" for name in ("first", "second", "torn"))
    (beside / "my_plans").mkdir()
    for path in (first, second):
        Plan(name="Loop").save(path)
    torn.write_text("version = 1\n[red\n", encoding="utf-8")
    own = [(f"Loop ({path})", path) for path in (first, second)]
    assert plan_files()[len(examples) :] == [*own, ("torn.toml (has faults)", torn)]
    with pytest.raises(PlanError):
        bench_test_of(torn)


def test_a_plan_that_cannot_be_tested_says_why(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert plan_files() == []
    Plan(drive={"resistance": "0 ohm"}).save("bare.toml")
    with pytest.raises(PlanError, match=r"bare\.toml: There are no test readings"):
        bench_test_of(Path("bare.toml"))


panel = fresh(DiagnosisPanel)


def see(panel, red, green):
    panel[seen_control("red")].value = red
    panel[seen_control("green")].value = green


def read(panel, **readings):
    for name, shown in readings.items():
        panel[POINT].value = name.replace("__", ", ").replace("_", " ")
        panel[READS].value = shown


def said(panel):
    return " ".join(str(each) for each in panel.picture.findings)


def pictured(panel):
    return panel.picture.pictures[0].sentence


def test_the_ranking_is_the_librarys(panel):
    assert panel.picture.sentence.startswith("Say first what you see")
    assert panel.picture.findings == ()
    see(panel, "none", "green")
    read(panel, pair__red="12 V", shared_resistor_ohms="680 ohm")
    result = diagnose(
        quillhaven_signal(),
        {"red": "none", "green": "green"},
        {"pair, red": "12 V", "shared resistor ohms": "680 ohm"},
        pairs=False,
    )
    assert result.suspects[0].faults == ("red LED open",)
    assert result.sentence in said(panel)
    assert pictured(panel).startswith("red LED open: very likely")
    panel[SHOW].value = READINGS
    assert "pair, red reads 12 V, not as it should" in pictured(panel)


def test_the_next_measurement_comes_with_its_cautions(panel):
    see(panel, "none", "none")
    result = diagnose(quillhaven_signal(), {"red": "none", "green": "none"}, pairs=False)
    assert str(result.next[0].point) in said(panel)
    assert all(each.text in said(panel) for each in result.next[0].point.cautions)


def test_each_point_keeps_its_own_reading_and_a_decimal_comma_is_shown_as_it_was_understood(panel):
    read(panel, pair__red="1,87 V", shared_resistor__red="10.1 V")
    assert "pair, red reads 1.87 V" in panel.picture.sentence
    panel[POINT].value = "pair, red"
    assert panel[READS].value == "1.87 V"
    panel[POINT].value = "current, red"
    assert panel[READS].value == ""
    assert panel.readings == {"pair, red": "1.87 V", "shared resistor, red": "10.1 V"}
    panel[POINT].value = "pair, red"
    panel[READS].value = ""
    assert panel.readings == {"shared resistor, red": "10.1 V"}


@pytest.mark.parametrize("typed", ["1,870 V", "12 mA", "rubbish", "900 V"])
def test_a_reading_that_cannot_be_is_questioned_and_not_used(panel, typed):
    see(panel, "red", "green")
    before = panel.picture.pictures[0].svg
    read(panel, pair__red=typed)
    assert "pair, red" in said(panel)
    assert "Check what you typed; if it is right, measure again." in said(panel)
    assert panel.picture.pictures[0].svg == before


def test_forgetting_takes_all_readings_and_no_looks(panel):
    see(panel, "none", "green")
    read(panel, pair__red="12 V")
    panel[SHOW].value = AS_IT_LOOKS
    assert pictured(panel).endswith("reads 12 V.")
    assert "red is dark, green is dark" in pictured(panel)
    panel[FORGET].widget.click()
    assert (panel.readings, panel[READS].value) == ({}, "")
    assert panel.picture.sentence.startswith("You say: set for red")


def test_two_faults_at_once_come_in_when_they_are_asked_for(panel):
    see(panel, "none", "red")
    single = panel.picture.pictures[0].svg
    panel[PAIRS].value = True
    assert panel.picture.pictures[0].svg != single


def test_working_is_said_before_a_circuit_is_tried_for_the_first_time(panel):
    shown, draw = [], panel.draw
    panel.draw = lambda: shown.append(BUSY in panel._dom_classes) or draw()
    panel[RESISTOR].value = "560 ohm"
    see(panel, "red", "green")
    assert shown == [True, False, False]


@pytest.mark.parametrize(
    ("typed", "why"), [("0", "may burst"), ("4,700 ohm", "4700"), ("<b>", "680 ohm"), ("9 V", "is not a resistance")]
)
def test_a_resistor_that_is_none_is_refused_in_a_sentence(panel, typed, why):
    panel[RESISTOR].value = typed
    assert "<b>&lt;" not in panel.view.value
    assert why in refused(panel)


def test_a_resistor_without_its_unit_is_in_ohm(panel):
    see(panel, "dim red", "dim green")
    panel[RESISTOR].value = "4700 ohm"
    expected = panel.picture
    for typed in ("4700", "4,7k", "4k7", "4,7 kΩ"):
        panel[RESISTOR].value = typed
        assert panel.picture == expected


@pytest.mark.usefixtures("beside")
class TestPlans:
    def choose(self, panel, name):
        panel[SIGNAL].value = dict(panel[SIGNAL].widget.options)[name]

    def test_a_plan_s_own_circuit_meter_and_figures_are_used(self, panel):
        assert panel[RESISTOR].widget.layout.display != "none"
        self.choose(panel, "Quillhaven tunnel mouth")
        assert panel[RESISTOR].widget.layout.display == "none"
        see(panel, "green", "green")
        read(panel, coil__red="10 V")
        test = Plan.load(FOLDER / "quillhaven_tunnel.toml").study().bench_test
        result = diagnose(test.circuit, {"red": "green", "green": "green"}, {"coil, red": "10 V"}, pairs=False)
        assert result.sentence in said(panel)
        assert panel[METER].value == test.meter
        panel[SHOW].value = AS_IT_IS_DRAWN
        panel[POINT].value = "timer output, red"
        assert "red probe" in panel.picture.pictures[0].svg
        assert "timer" in panel.picture.pictures[0].svg
        panel[SIGNAL].value = OWN
        assert panel[RESISTOR].widget.layout.display != "none"

    def test_each_signal_keeps_its_own_readings(self, panel):
        read(panel, pair__red="1.9 V")
        self.choose(panel, "Quillhaven tunnel mouth")
        assert (panel.readings, panel[READS].value) == ({}, "")
        read(panel, hold="7 s")
        panel[SIGNAL].value = OWN
        assert panel.readings == {"pair, red": "1.9 V"}
        assert "hold" not in panel.points
        self.choose(panel, "Quillhaven tunnel mouth")
        assert panel.readings == {"hold": "7 s"}

    def test_a_point_that_the_next_signal_has_too_stays_chosen(self, panel):
        panel[POINT].value = "current, red"
        self.choose(panel, "Quillhaven yard departure")
        assert panel[POINT].value == "current, red"
        panel[POINT].value = "red resistor ohms"
        self.choose(panel, "Quillhaven east home")
        assert panel[POINT].value == next(iter(panel.points))


def test_on_the_wall_is_said_what_is_likeliest_and_what_to_do_next(panel):
    panel.stage.value = True
    assert panel.picture.brief == "Set it for red, and look: that costs nothing."
    panel[seen_control("red")].value = "none"
    assert re.fullmatch(r"one of \d+ faults, \d\d %", panel.picture.findings[0].topic)
    assert panel.picture.brief == "Set it for green, and look: that costs nothing."
    panel[seen_control("green")].value = "green"
    assert re.fullmatch(r"red LED open, \d\d %", panel.picture.findings[0].topic)
    assert panel.picture.brief.startswith("Measure next: ")
