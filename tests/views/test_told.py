"""Sentences and findings on a lesson's page: each grade in a sign, in words and in a line; all text escaped."""

import html
import re

import pytest

from sigcalc.errors import UnitError
from sigcalc.parts.finding import FINE, GRADES, LOOK, MARKS, STOP, Finding
from sigcalc.views.style import LARGE
from sigcalc.views.told import told

FOUND = [
    Finding(FINE, "hold", "It is long enough."),
    Finding(LOOK, "gap", "It is tight.", "Try it."),
    Finding(STOP, "lamp", "It burns out.", "Use a larger resistance."),
]


def text(page):
    return html.unescape(re.sub(r"<[^>]+>", "", page))


def test_every_sentence_and_finding_is_a_paragraph_in_the_order_given():
    page = told("By the scale:", *FOUND, "With a watch:").html()
    paragraphs = [text(each) for each in re.findall(r"<p.*?</p>", page)]
    assert paragraphs == [
        "By the scale:",
        "✔ fine. Hold: It is long enough.",
        "? look again. Gap: It is tight. Try it.",
        "✘ do not build. Lamp: It burns out. Use a larger resistance.",
        "With a watch:",
    ]


def test_the_grades_differ_in_sign_words_and_the_kind_of_line():
    pages = [told(each).html() for each in FOUND]
    assert len(set(MARKS.values())) == len(GRADES) == 3
    assert len({re.search(r"border-left:0.4em (\w+)", page)[1] for page in pages}) == 3


def test_large_type_is_set_in_18_points():
    assert "font-size:12pt" in told("one").html()
    assert "font-size:18pt" in told("one", size=LARGE).html()


def test_text_without_a_page():
    assert str(told("By the scale:", FOUND[1])) == "By the scale:\nlook again: gap: It is tight. Try it."


def test_hostile_text_is_escaped():
    page = told("<script>", Finding(LOOK, "<b>", "<i>", "<u>")).html()
    assert not re.search(r"<(script|i|u)>", page)
    assert text(page).count("<") == 4


@pytest.mark.parametrize("each", [3, None, FOUND])
def test_anything_else_is_refused(each):
    with pytest.raises(UnitError, match="said needs sentences and findings"):
        told(each)
