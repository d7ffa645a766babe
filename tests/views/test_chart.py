"""What the charts share: round axes, labels in free places, no trace of the reader's own settings."""

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
from sigcalc.views.chart import Places, along, current_axis, nice
from sigcalc.views.load_line import LoadLine
from tests.views.samples import RED, RESISTOR

ROOT = Path(__file__).parents[2]
BOX = (0.0, 0.0, 400.0, 200.0)


@given(st.floats(1e-9, 1e9))
def test_a_nice_number_is_round_and_not_far_above(value):
    found = nice(value)
    assert value <= found * (1 + 1e-9)
    assert found <= 1.43 * value * (1 + 1e-9)
    assert float(f"{found:.1e}") == pytest.approx(found, rel=1e-12)


@pytest.mark.parametrize(("most", "unit"), [(1e-5, "µA"), (0.04, "mA"), (0.999, "mA"), (1.0, "A"), (10.0, "A")])
def test_the_current_axis_has_a_unit_that_reads_easily(most, unit):
    assert current_axis(most)[1] == unit


def test_a_label_keeps_off_lines_edges_and_labels():
    level = np.column_stack([np.linspace(0, 400, 200), np.full(200, 100.0)])
    places = Places(BOX, {"level": level})
    for _ in range(6):
        places.find("a label", along(level, BOX), "level")
    for left, bottom, right, top in places.taken:
        assert left >= 0 and right <= 400 and bottom >= 0 and top <= 200  # noqa: PT018
        assert not bottom < 100 < top
    boxes = np.array(places.taken)
    for number, (left, bottom, right, top) in enumerate(boxes):
        for other in boxes[number + 1 :]:
            assert right <= other[0] or other[2] <= left or top <= other[1] or other[3] <= bottom


def test_a_label_prefers_the_far_side_of_a_line_that_it_does_not_name():
    steep = np.column_stack([np.full(100, 200.0), np.linspace(0, 200, 100)])
    near = np.column_stack([np.full(100, 225.0), np.linspace(0, 200, 100)])
    x, _ = Places(BOX, {"steep": steep, "near": near}).find("steep", along(steep, BOX), "steep")
    assert x < 200


def test_the_readers_own_style_changes_nothing():
    expected = LoadLine().picture(operate("9 V", RESISTOR, RED), spread=True)
    wild = {"text.usetex": True, "font.size": 30, "svg.fonttype": "path", "axes.grid": False, "lines.linewidth": 9}
    with matplotlib.style.context("dark_background"), matplotlib.rc_context(wild):
        assert LoadLine().picture(operate("9 V", RESISTOR, RED), spread=True) == expected


def test_settings_are_given_back():
    before = dict(matplotlib.rcParams)
    LoadLine().picture(operate("9 V", RESISTOR, RED))
    assert dict(matplotlib.rcParams) == before


def test_charts_never_load_pyplot():
    code = (
        "import sys\n"
        "from sigcalc.views.load_line import LoadLine\n"
        "from sigcalc.design.lamp.drive import operate\n"
        "from sigcalc.parts.drive import ResistorDrive\n"
        "from sigcalc.parts.led_table import leds\n"
        "LoadLine().picture(operate('9 V', ResistorDrive('680 ohm'), leds['red alingap 3 mm']))\n"
        "assert 'matplotlib.pyplot' not in sys.modules\n"
    )
    subprocess.run([sys.executable, "-W", "error", "-c", code], cwd=ROOT, check=True)


def test_importing_a_chart_does_not_load_matplotlib():
    code = "import sys, sigcalc.views.chart, sigcalc.views.mast; assert 'matplotlib' not in sys.modules"
    subprocess.run([sys.executable, "-W", "error", "-c", code], cwd=ROOT, check=True)


def test_two_charts_on_a_page_share_no_id():
    one, other = (LoadLine().picture(operate(supply, RESISTOR, RED)).svg for supply in ("9 V", "12 V"))
    ids = [set(re.findall(r'\bid="([^"]+)"', svg)) for svg in (one, other)]
    assert all(ids)
    assert not ids[0] & ids[1]
    for svg, own in zip((one, other), ids, strict=True):
        assert set(re.findall(r'(?:url\(#|href="#)([^")]+)', svg)) <= own
