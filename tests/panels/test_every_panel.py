"""What holds for every panel of the lessons: an answer or a sentence at every corner, large type, a page for paper."""

import html
import pkgutil
import re
from importlib import import_module
from random import Random

import pytest

from sigcalc import panels
from sigcalc.panels.base import Panel
from sigcalc.panels.control import NumberControl
from sigcalc.views.chart import Chart
from sigcalc.views.rows import Rows
from sigcalc.views.style import STAGE_BOX
from tests.panels.moving import at_once, refused
from tests.views.svg import parse, texts, view_box

for module in pkgutil.iter_modules(panels.__path__):
    import_module(f"sigcalc.panels.{module.name}")


def _kinds(base):
    for kind in base.__subclasses__():
        if "draw" in vars(kind) and kind.__module__.startswith("sigcalc."):
            yield pytest.param(kind, id=kind.__name__)
        yield from _kinds(kind)


PANELS = list(_kinds(Panel))
QUICK = [each for each in PANELS if each.values[0].takes_long is Panel.takes_long]
ALWAYS_ANSWER = {
    *("FirstLight", "ALittleMore", "WhyAResistor", "PairPanel", "BranchPanel", "ReversingPanel", "FourSwitchesPanel"),
    *("SharedReturnPanel", "AlternationPanel", "SharedDriver", "OrientationPanel", "ShortPanel"),
}
CORNERS = 5
MOST_WORDS = 12


def _corner(control, random):
    """Set a control to one of its ends, or to one of its options."""
    if isinstance(control, NumberControl):
        control.value = random.choice((control.least, control.most))
    elif isinstance(control.value, bool):
        control.value = random.random() < 0.5
    elif hasattr(control._source, "_options_values"):
        control.value = random.choice(control._source._options_values)


@pytest.mark.parametrize("kind", QUICK)
def test_every_corner_is_answered_or_refused_in_a_sentence(kind):
    panel, random = kind(), Random(kind.__name__)
    for _ in range(CORNERS):
        with at_once(panel):
            for control in panel.controls.values():
                _corner(control, random)
        assert not re.search(r"\bnan\b|\binf\b", panel.view.value)
        if panel.picture is None:
            assert kind.__name__ not in ALWAYS_ANSWER, panel.view.value
            assert refused(panel)


@pytest.mark.parametrize("kind", PANELS)
def test_paper_has_the_sentence_and_large_type_is_half_as_large_again(kind):
    panel = kind()
    page = panel._repr_mimebundle_()["text/html"]
    assert panel.picture.sentence in html.unescape(page)
    panel.large.value = True
    assert "sigcalc-large" in panel._dom_classes
    for picture in getattr(panel.picture, "pictures", [panel.picture]):
        assert picture.size.name == "large"


@pytest.mark.parametrize("kind", PANELS)
def test_on_the_stage_are_few_controls_one_legible_picture_and_twelve_words(kind):
    panel, random = kind(), Random(kind.__name__)
    assert 1 <= len(panel.wall) <= 3 + all(isinstance(panel[name].value, bool) for name in panel.wall)
    panel.stage.value = True
    for _ in range(CORNERS):
        with at_once(panel):
            for name in panel.wall:
                _corner(panel[name], random)
        if panel.picture is None:
            continue
        shown = panel.picture.pictures[0]
        assert 1 <= len(panel.picture.brief.split()) <= MOST_WORDS, panel.picture.brief
        _, _, width, height = view_box(parse(shown))
        enlarged = min(STAGE_BOX[0] / width, STAGE_BOX[1] / height)
        too_small = [each for each in texts(shown) if each.size * enlarged < 12 - 0.01]
        assert not too_small, f"{width:g} x {height:g}: {too_small[:3]}"
        assert panel.view.value == panel.picture.stage_html()


@pytest.mark.parametrize("kind", QUICK)
def test_while_axes_are_held_no_axis_gets_shorter(kind, monkeypatch):
    panel, random, longest = kind(), Random(kind.__name__), {}
    chart_printed, rows_drawn = Chart.printed, Rows.picture

    def long_as_before(ends, *name):
        long = abs(ends[1] - ends[0])
        assert long >= longest.get(name, 0.0) * (1 - 1e-9), name
        longest[name] = long

    def printed(chart, *given, **more):
        for axis, ends in ((chart.axes.xaxis, chart.axes.get_xlim()), (chart.axes.yaxis, chart.axes.get_ylim())):
            if axis.get_label_text():  # the sheet of rows has no axes of its own
                long_as_before(ends, type(chart), chart.axes.get_xlabel(), axis.get_label_text())
        return chart_printed(chart, *given, **more)

    def picture(rows, sentence):
        view = panel["view"].value if "view" in panel.controls else ""
        long_as_before((rows.low, rows.high), view, rows._label)
        return rows_drawn(rows, sentence)

    monkeypatch.setattr(Chart, "printed", printed)
    monkeypatch.setattr(Rows, "picture", picture)
    panel.hold_axes(True)
    panel.stage.value = True
    for _ in range(CORNERS // 2):
        with at_once(panel):
            for control in panel.controls.values():
                _corner(control, random)
