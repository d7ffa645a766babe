"""Sentences of a page: each in a paragraph of its own, a finding with its grade, nothing taken for markup."""

import re

from sigcalc.design.findings import LOOK, Finding
from sigcalc.views.sentences import sentences
from sigcalc.views.style import LARGE


def paragraphs(page):
    return re.findall(r"<p[^>]*>(.*?)</p>", page)


def test_each_sentence_has_its_paragraph_in_the_order_given():
    page = sentences("one of them.", Finding(LOOK, "topic", "the lamp is dim.", "Use more."), "Two.")._repr_html_()
    assert paragraphs(page) == ["One of them.", "<b>? look again.</b> The lamp is dim. Use more.", "Two."]


def test_text_stays_text_and_large_type_is_large():
    page = sentences("<b>&", size=LARGE).html()
    assert paragraphs(page) == ["&lt;b&gt;&amp;"]
    assert "font-size:18pt" in page


def test_nothing_said_is_an_empty_page():
    assert paragraphs(sentences().html()) == []
