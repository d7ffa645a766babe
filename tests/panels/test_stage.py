"""The stage: what a panel shows while it fills the screen, what is covered there, and controls set as a file says."""

import html

import pytest

from sigcalc.design.findings import FINE, STOP, Finding
from sigcalc.errors import SigcalcError
from sigcalc.panels.on_the_wall import PANELS, kind_of
from sigcalc.panels.why_a_resistor import WhyAResistor
from sigcalc.views.canvas import Canvas
from sigcalc.views.chart import Chart
from sigcalc.views.findings import COVERS, PICTURE, SENTENCE, VERDICT, Answer
from sigcalc.views.style import LARGE, STAGE
from tests.panels.moving import fresh

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
    page = ANSWER.stage_html((name,))
    assert kept_back not in page
    assert page.count("sigcalc-cover") == 1
    assert ANSWER.stage_html(COVERS).count("sigcalc-cover") == 3


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


def test_every_name_for_the_wall_is_a_panel():
    assert all(issubclass(kind_of(name), object) and kind_of(name).draw for name in PANELS)
    with pytest.raises(SigcalcError, match="which resistor"):
        kind_of("which resistors")


def test_axes_that_are_held_only_grow():
    chart = Chart()
    chart.hold(True)
    assert chart.scale(8, 20, "V", "mA") == (8, 20)
    assert chart.scale(5, 30, "V", "mA") == (8, 30)
    assert chart.scale(5, 10, "V", "\u00b5A") == (5, 10)
    chart.hold(False)
    assert chart.scale(5, 10, "V", "mA") == (5, 10)


def test_the_page_names_the_keys(panel):
    assert "<dt><kbd>Page down</kbd></dt>" in html.unescape(panel.head.value)
