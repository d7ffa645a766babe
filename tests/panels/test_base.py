"""What every panel shares: it redraws on each change, shows a refusal as an alert, and hides no defect."""

import pytest

from sigcalc.design.findings import STOP, Finding
from sigcalc.errors import DesignError
from sigcalc.panels.base import BUSY, Panel
from sigcalc.panels.control import NumberControl
from sigcalc.views.canvas import Canvas
from sigcalc.views.findings import Answer
from sigcalc.views.style import LARGE, NORMAL
from tests.panels.moving import fresh, refused


class Doubled(Panel):
    """Says twice the supply; refuses 13 V, and breaks at 20 V."""

    def __init__(self):
        super().__init__([NumberControl("supply", "V", 1, 24, 9)], "Twice <as> much")

    def draw(self):
        volts = self["supply"].checked()
        if volts == 13:
            raise DesignError("supply 13 V <brings> bad luck; take 12 V")
        if volts == 20:
            raise ZeroDivisionError("twenty")
        return Canvas(100, 50).picture(f"Twice as much is {2 * volts:g} V.", self.size)


panel = fresh(Doubled)


def test_it_draws_at_once_and_on_every_change(panel):
    assert panel.picture.sentence == "Twice as much is 18 V."
    panel["supply"].value = 5
    assert panel.picture.sentence == "Twice as much is 10 V."
    assert "Twice as much is 10 V." in panel.view.value
    assert "Twice &lt;as&gt; much" in panel.children[1].value
    assert ".sigcalc-panel" in panel.children[0].value


def test_a_refusal_greys_the_last_picture_is_an_alert_and_leaves_no_plain_html_that_would_lie(panel):
    bundle = panel._repr_mimebundle_()
    assert "application/vnd.jupyter.widget-view+json" in bundle
    assert bundle["text/html"] == panel.picture.html()
    for volts, said in ((13, "supply 13 V <brings> bad luck"), (240, "supply needs 1 to 24 V in this panel")):
        panel["supply"].value = volts
        assert said in refused(panel)
        assert "<brings>" not in panel.view.value
        alert, _, before = panel.view.value.partition('<div class="sigcalc-greyed" aria-hidden="true">')
        assert "<svg" not in alert
        assert "Twice as much is 18 V." in before
        assert "text/html" not in panel._repr_mimebundle_()
    panel["supply"].value = 12
    assert panel.view.value == panel.picture.html()


def test_a_redraw_that_may_take_a_moment_is_announced(panel):
    seen, draw = [], panel.draw
    panel.draw = lambda: seen.append(BUSY in panel._dom_classes) or draw()
    panel._took = 0.2
    panel["supply"].value = 5
    panel["supply"].value = 13  # quick meanwhile, and refused
    assert seen == [True, False]
    assert BUSY not in panel._dom_classes
    panel._took = 0.2
    with pytest.raises(ZeroDivisionError):
        panel["supply"].value = 20
    assert BUSY not in panel._dom_classes


def test_a_defect_is_shown_and_raised(panel):
    with pytest.raises(ZeroDivisionError):
        panel["supply"].value = 20
    assert panel.view.value.index("This panel failed (ZeroDivisionError: twenty)") < panel.view.value.index("greyed")


def test_large_type_draws_larger_and_sets_the_controls_larger(panel):
    assert panel.size is NORMAL
    panel.large.value = True
    assert panel.size is LARGE
    assert panel.picture.size is LARGE
    assert "sigcalc-large" in panel._dom_classes
    panel.large.value = False
    assert "sigcalc-large" not in panel._dom_classes


def test_a_scene_shows_its_drawings_its_sentence_and_each_finding_in_words():
    drawings = Canvas(100, 50).picture("one"), Canvas(100, 50).picture("two")
    scene = Answer(drawings, "A & B", (Finding(STOP, "limits", "1 < 2.", "Wait."),))
    page = scene.html()
    assert page.count("<svg") == 2
    assert "A &amp; B" in page
    assert "<b>✘ do not build: limits.</b> 1 &lt; 2. <b>Remedy:</b> Wait." in page
