"""The layout's sheet: whole, escaped, nothing told by colour alone, nothing loaded from elsewhere."""

import html
import re

import pytest

from sigcalc import Layout
from sigcalc.plan.layout_study import LampOnBoard
from sigcalc.views.layout_sheet import lamp_words, layout_sheet
from tests.plan.plans import LAYOUT


@pytest.fixture(scope="module")
def study():
    return Layout.load(LAYOUT).study()


@pytest.fixture(scope="module")
def page(study):
    return layout_sheet(study)


def text(page):
    return html.unescape(re.sub(r"<[^>]+>", " ", page)).replace("\xa0", " ")


def test_signals_sections_findings_parts_and_cuts_stand_on_it(study, page):
    said = re.sub(r"\s+", " ", text(page))
    for signal in study.signals:
        for lamp in signal.lamps.values():
            assert lamp_words(lamp) in said
    for feeder in study.layout.feeders:
        assert f"{feeder.name} {feeder.start} {feeder.end} {feeder.wire}" in said
    for finding in study.findings:
        assert finding.reason in said
    for line in study.parts:
        assert f"{line.count} × {line.part}" in said
    assert said.count("every signal") >= 2
    for heading in ("The board", "The signals on it", "The feeder", "Parts for all signals", "Pieces to cut"):
        assert heading in said


def test_the_board_has_its_sentence_as_a_text(page):
    (picture,) = re.findall(r"<figure.*?</figure>", page, re.S)
    assert 'role="img"' in picture
    assert "12 V regulated gives" in picture


@pytest.mark.parametrize(
    ("share", "current", "word"), [(0.97, 5e-3, "full light"), (0.5, 2e-3, "clearly dim"), (0.5, 1e-6, "dark")]
)
def test_brightness_in_words(share, current, word):
    assert lamp_words(LampOnBoard(current, share, share - 0.02)).startswith(f"{word}: ")


def test_a_stranger_s_names_are_escaped_and_nothing_is_loaded():
    hostile = "<script>alert(1)</script>"
    given = {
        "name": hostile,
        "feeders": [{"name": hostile, "start": "supply", "end": hostile, "length": "2 m"}],
        "signals": [{"name": hostile, "at": hostile}],
    }
    page = layout_sheet(Layout(**given).study())
    assert "<script" not in page
    assert "&lt;script&gt;" in page
    assert not re.search(r"(src|href)=", page)


def test_without_fuse_and_sections_it_is_whole():
    page = layout_sheet(Layout(signals=[{"name": "a", "at": "supply"}]).study())
    assert "no fuse" in page
    assert "at no signal" in text(page)


def test_a_board_too_large_to_draw_leaves_the_drawing_out():
    signals = [{"name": f"s{number}", "at": "supply"} for number in range(121)]
    study = Layout(signals=signals, supply={"voltage": "12 V", "max_current": "5 A"}).study()
    page = layout_sheet(study)
    assert "<figure" not in page
    assert "s120" in page
