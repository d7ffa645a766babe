"""What the charts share: round axes, labels in free places, no trace of the reader's own settings."""

import itertools
import re
import subprocess
import sys
from pathlib import Path

import matplotlib
import matplotlib.style
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.lamp.drive import operate
from sigcalc.views.chart import Chart, holding, kept, nice
from sigcalc.views.places import Places, along
from sigcalc.views.style import NORMAL, STAGE, STAGE_BOX
from sigcalc.views.why_a_resistor import LoadLine
from tests.views.samples import RED, RESISTOR
from tests.views.svg import parse, texts, view_box, words

ROOT = Path(__file__).parents[2]
BOX = (0.0, 0.0, 400.0, 200.0)


@given(st.floats(1e-9, 1e9))
def test_a_nice_number_is_round_and_not_far_above(value):
    found = nice(value)
    assert value <= found * (1 + 1e-9)
    assert found <= 1.43 * value * (1 + 1e-9)
    assert float(f"{found:.1e}") == pytest.approx(found, rel=1e-12)


def test_a_label_keeps_off_lines_edges_and_labels():
    level = np.column_stack([np.linspace(0, 400, 200), np.full(200, 100.0)])
    places = Places(BOX, {"level": level})
    for _ in range(6):
        places.find("a label", along(level, BOX), "level")
    boxes = np.array(places.taken)
    assert ((boxes >= 0) & (boxes <= (400, 200, 400, 200))).all()
    assert not ((boxes[:, 1] < 100) & (boxes[:, 3] > 100)).any()
    for one, other in itertools.combinations(boxes, 2):
        assert (one[2:] <= other[:2]).any() or (other[2:] <= one[:2]).any()
    # and prefers the far side of a line that it does not name
    steep = np.column_stack([np.full(100, 200.0), np.linspace(0, 200, 100)])
    near = np.column_stack([np.full(100, 225.0), np.linspace(0, 200, 100)])
    x, _ = Places(BOX, {"steep": steep, "near": near}).find("steep", along(steep, BOX), "steep")
    assert x < 200


def test_the_readers_own_style_changes_nothing():
    expected = LoadLine().picture(operate("9 V", RESISTOR, RED), spread=True)
    wild = {"text.usetex": True, "font.size": 30, "svg.fonttype": "path", "axes.grid": False, "lines.linewidth": 9}
    with matplotlib.style.context("dark_background"), matplotlib.rc_context(wild):
        before = dict(matplotlib.rcParams)
        assert LoadLine().picture(operate("9 V", RESISTOR, RED), spread=True) == expected
        assert dict(matplotlib.rcParams) == before


def test_matplotlib_is_loaded_by_the_first_chart_and_pyplot_never():
    code = (
        "import sys\n"
        "from sigcalc.views import chart, style\n"
        "assert 'matplotlib' not in sys.modules\n"
        "chart.Chart().printed('An empty sheet.', style.NORMAL)\n"
        "assert 'matplotlib.pyplot' not in sys.modules\n"
    )
    subprocess.run([sys.executable, "-W", "error", "-c", code], cwd=ROOT, check=True)


def test_axes_that_are_held_only_grow_and_keep_apart_what_has_another_unit():
    chart, held = Chart(), {}
    with holding(held):
        assert chart.scale(8, 20, "V", "mA", NORMAL) == (8, 20)
        assert chart.scale(5, 30, "V", "mA", NORMAL) == (8, 30)
        assert chart.scale(5, 10, "V", "\u00b5A", NORMAL) == (5, 10)
        assert [kept(*ends, "own") for ends in ((-2, 3), (-1, 5), (0, 1))] == [(-2, 3), (-2, 5), (-2, 5)]
    with holding(held):  # in the next picture
        assert Chart().scale(1, 1, "V", "mA", NORMAL) == (8, 30)
    assert chart.scale(5, 10, "V", "mA", NORMAL) == (5, 10)


def test_on_the_stage_a_chart_fills_the_wall_with_less_and_goes_back_to_the_page_as_it_was():
    line, point = LoadLine(), operate("9 V", RESISTOR, RED)
    page, wall = line.picture(point), line.picture(point, size=STAGE)
    assert tuple(view_box(parse(wall))[2:]) == STAGE_BOX
    assert len(words(wall)) < len(words(page))
    assert max(each.size for each in texts(wall)) > 1.2 * max(each.size for each in texts(page))
    assert line.picture(point).svg == page.svg


def test_two_charts_on_a_page_share_no_id():
    one, other = (LoadLine().picture(operate(supply, RESISTOR, RED)).svg for supply in ("9 V", "12 V"))
    ids = [set(re.findall(r'\bid="([^"]+)"', svg)) for svg in (one, other)]
    assert all(ids)
    assert ids[0].isdisjoint(ids[1])
    assert set(re.findall(r'(?:url\(#|href="#)([^")]+)', one)) <= ids[0]
