"""What results show by themselves in a notebook: a line, a picture where there is one, a table, findings."""

import html
import re

import numpy as np
import pytest

import sigcalc
from sigcalc import (
    Layout,
    Load,
    Plan,
    Q,
    ResistorDrive,
    TwoLeadPair,
    batteries,
    choose_resistor,
    leds,
    operate,
    run_time,
)
from sigcalc.errors import DesignError
from sigcalc.parts.table import PartsTable
from sigcalc.views.picture import Picture
from tests.project.checkout import ROOT

PLANS = ROOT / "notebooks" / "plans"
RED, GREEN = leds["bright red 3 mm"], leds["ordinary green 3 mm"]
ADAPTER = sigcalc.adapters["12 V regulated"]
DRIVE, PAIR = ResistorDrive("680 ohm"), TwoLeadPair(RED, GREEN)
PICTURED = {
    "choice": lambda: choose_resistor("9 V", RED, "5 mA"),
    "point": lambda: operate("9 V", DRIVE, RED),
    "pair": lambda: PAIR,
    "pair's point": lambda: PAIR.operate("9 V", DRIVE, +1),
    "LED": lambda: RED,
    "run": lambda: run_time(batteries["9 V alkaline"], Load(DRIVE, RED), 0.5),
    "board": lambda: sigcalc.star_board("yard", ADAPTER, Load(DRIVE, PAIR), 3, "24 AWG", "2 m"),
    "board's study": lambda: sigcalc.study_board(PICTURED["board"]()),
    "study": lambda: Plan().study(),
    "layout's study": lambda: Layout.load(PLANS / "quillhaven_layout.toml").study(),
}
BARE = {
    "battery": lambda: batteries["9 V alkaline"],
    "points": lambda: operate(Q(np.linspace(3, 12, 50), "V"), DRIVE, RED),
    "run of a bare current": lambda: run_time(batteries["9 V alkaline"], "5 mA", "7 V"),
}
TABLES = [name for name in sigcalc.__all__ if isinstance(getattr(sigcalc, name), PartsTable)]


@pytest.mark.parametrize("name", [*PICTURED, *BARE])
def test_its_line_can_be_read_and_its_picture_is_above_its_table(name):
    result = (PICTURED | BARE)[name]()
    page, line = result._repr_html_(), repr(result)
    assert len(line) < 400
    assert not re.search(r"\n|array\(|<\w+[ .]|object at|e-\d\d", line)
    if name in PICTURED:
        assert isinstance(result.picture(), Picture)
        assert re.match("(?s)<figure.*</figure>.*<table", page)
        return
    assert "<svg" not in page
    with pytest.raises(DesignError, match=f"no picture of an? {type(result).__name__}"):
        result.picture()


@pytest.mark.parametrize("kind", ["choice", "study", "layout's study", "board's study"])
def test_the_table_says_each_figure_with_its_unit_and_the_findings_follow(kind):
    result = PICTURED[kind]()
    page = html.unescape(result._repr_html_().replace("\u00a0", " "))
    assert page.count("sigcalc-finding") == len(getattr(result, "findings", ()))
    figures = {
        "choice": lambda: result.figures().values(),
        "board's study": lambda: [text for each in result.signals() for text in (each.name, each.figures()["current"])],
    }.get(kind, lambda: [each.text for each in result.figures.values()])
    assert [each for each in figures() if each not in page] == []


@pytest.mark.parametrize("name", TABLES)
def test_a_parts_table_shows_every_part(name):
    parts = getattr(sigcalc, name)
    page = parts._repr_html_().replace("\u00a0", " ")
    assert all(html.escape(str(each)) in page for each in parts)
    assert "\n" not in repr(parts)
    assert f"{len(parts)} parts" in repr(parts)
