"""The stage: what a panel shows while it fills the screen, what is covered there, and controls set as a file says."""

import html

import pytest

from sigcalc.design.findings import FINE, STOP, Finding
from sigcalc.errors import SigcalcError
from sigcalc.lessons.scene import Scene
from sigcalc.lessons.talk import Talk
from sigcalc.panels.many_signals_one_adapter import LayoutPanel
from sigcalc.panels.on_the_wall import answer, asked, faults_of, kind_of
from sigcalc.panels.planner import Planner
from sigcalc.panels.why_a_resistor import WhyAResistor
from sigcalc.views.canvas import Canvas
from sigcalc.views.findings import COVERS, PICTURE, SENTENCE, VERDICT, Answer
from sigcalc.views.style import LARGE, STAGE, STAGE_BOX
from tests.panels.moving import fresh
from tests.plan.plans import FOLDER
from tests.views.svg import parse, view_box

panel = fresh(WhyAResistor)
DRAWING = Canvas(100, 50).picture("A drawing.")
ANSWER = Answer((DRAWING, DRAWING), "Long.", (Finding(FINE, "b", "."), Finding(STOP, "a < b", ".")), "Short & sweet.")


def test_the_stage_has_the_verdict_in_a_line_one_picture_and_the_brief_sentence():
    page = ANSWER.stage_html()
    assert "\u2718 do not build: a &lt; b</p>" in page
    assert page.count("<svg") == 1
    assert "Short &amp; sweet." in page
    assert "Long." not in page


@pytest.mark.parametrize(("name", "kept_back"), [(VERDICT, "do not build"), (PICTURE, "<svg"), (SENTENCE, "sweet")])
def test_what_is_covered_is_not_in_the_page(name, kept_back):
    page = ANSWER.stage_html({name: ""})
    assert kept_back not in page
    assert page.count("sigcalc-cover") == 1
    assert ANSWER.stage_html(dict.fromkeys(COVERS, "")).count("sigcalc-cover") == 3
    page = ANSWER.stage_html({name: "A: <one>"})
    assert kept_back not in page
    assert "<b>A: &lt;one&gt;</b>" in page


def test_while_it_fills_the_screen_a_panel_is_drawn_for_the_wall(panel):
    panel.large.value = True
    panel.stage.value = True
    assert panel.size is STAGE
    assert "sigcalc-large" not in panel._dom_classes
    assert len(panel.picture.pictures) == 1
    assert [each for each in panel.wall if "sigcalc-main" in panel[each].widget._dom_classes] == list(panel.wall)
    panel.stage.value = False
    assert panel.size is LARGE


def test_controls_are_set_as_a_file_says_them(panel):
    panel.put({"source": "3 V coin cell", "no resistor": True, "resistor": 220})
    assert panel["source"].value.name == "3 V coin cell"
    assert panel["resistor"].value == 220
    assert panel.picture.findings[0].grade == STOP


@pytest.mark.parametrize(
    ("values", "said"),
    [
        ({"lamp": 1}, "control needs a control of this panel (source, no resistor"),
        ({"source": "9 volts"}, "source needs one of 9 V battery, six AA cells"),
        ({"no resistor": 1}, "no resistor needs true or false; you gave 1"),
        ({"resistor": "470 ohm"}, "resistor needs a number, 47 to 10000 ohm; you gave '470 ohm'"),
        ({"resistor": True}, "resistor needs a number"),
        ({"resistor": 1e6}, "resistor needs 47 to 10000 ohm in this panel"),
    ],
)
def test_what_a_control_cannot_say_is_refused_and_changes_nothing(panel, values, said):
    before = panel.view.value
    with pytest.raises(SigcalcError) as refusal:
        panel.put(values)
    assert said in str(refusal.value)
    panel.redraw()
    assert panel.view.value == before


def test_a_name_that_is_no_panel_is_told_the_nearest():
    with pytest.raises(SigcalcError, match="which resistor"):
        kind_of("which resistors")


def test_the_page_names_the_keys(panel):
    assert "<dt><kbd>Page down</kbd></dt>" in html.unescape(panel.head.value)


def test_a_scene_is_asked_and_answered_and_its_axes_reach_as_far_as_both_need():
    scene = Scene(
        name="The slope",
        panel="why a resistor",
        minutes=2,
        start={"source": "9 V battery"},
        question="What happens without the resistor?",
        choices=("Nothing", "The LED dies"),
        cover=("verdict",),
        answer={"no resistor": True},
    )
    panel = asked(scene)
    assert "<b>A:\u00a0Nothing   B:\u00a0The\u00a0LED\u00a0dies</b>" in panel.view.value
    assert "sigcalc-verdict-line" not in panel.view.value
    assert panel["no resistor"].value is False
    answer(panel, scene)
    assert panel["no resistor"].value is True
    assert panel.picture.brief in html.unescape(panel.view.value)
    assert "do not build" in panel.view.value


def test_a_talk_is_told_each_panel_and_control_that_there_is_not():
    scene = {"name": "One", "minutes": 1, "question": "Why?", "panel": "why a resistor"}
    wrong = {"start": {"source": "a brick", "lamp": 1}, "answer": {"resistor": 1}}
    talk = Talk(
        name="A talk", scene=(scene | wrong, scene | {"name": "Two", "panel": "why a brick"}, scene | {"name": "Three"})
    )
    said = [str(each) for each in faults_of(talk)]
    assert len(said) == 4
    assert said[0].startswith("scene.0.start.source needs one of 9 V battery")
    assert said[2].startswith("scene.0.answer.resistor needs 47 to 10000 ohm")
    assert "scene.1.panel" in said[3]


@pytest.mark.parametrize("kind", [Planner, LayoutPanel])
def test_what_studies_a_file_fills_a_wall_with_one_picture_of_the_lamp_called_for(kind, monkeypatch):
    monkeypatch.chdir(FOLDER.parent)
    panel = kind()
    assert panel.wall.value == ""
    panel.stage.value = True
    for lamp in panel.lit.options:
        panel.lit.value = lamp
        shown = panel.on_wall(panel.study)
        assert panel.wall.value == shown.stage_html()
        assert tuple(view_box(parse(shown.pictures[0]))[2:]) == STAGE_BOX
        assert len(shown.brief.split()) <= 12
        assert f"{shown.findings[0].grade}: {shown.findings[0].topic}" in html.unescape(panel.wall.value)
    before = panel.headline.value
    panel.stage.value = False
    assert panel.headline.value == before
    assert panel.wall.value == ""


def test_faults_of_a_file_are_told_on_the_wall_too():
    panel = LayoutPanel("no_such_layout.toml")
    panel.stage.value = True
    assert "This layout cannot be studied yet" in panel.wall.value
