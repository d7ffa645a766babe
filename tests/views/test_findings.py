"""Findings and sentences of a page: each in a paragraph of its own, with its grade, nothing taken for markup."""

import re

from sigcalc.design.findings import GRADES, LOOK, MARKS, Finding
from sigcalc.views.findings import findings_html, sentences
from sigcalc.views.style import LARGE


def paragraphs(page):
    return re.findall(r"<p[^>]*>(.*?)</p>", page)


def test_each_sentence_has_its_paragraph_in_the_order_given():
    page = sentences("one of them.", Finding(LOOK, "red lamp", "the lamp is dim.", "Use more."), "Two.")._repr_html_()
    finding = "<b>? look again: red lamp.</b> The lamp is dim. <b>Remedy:</b> Use more."
    assert paragraphs(page) == ["One of them.", finding, "Two."]


def test_text_stays_text_and_large_type_is_large():
    page = sentences("<b>&", Finding(LOOK, "<i>", "1 < 2", "<u>"), size=LARGE).html()
    assert paragraphs(page)[0] == "&lt;b&gt;&amp;"
    assert not re.search("<[iu]>", page)
    assert "font-size:18pt" in page


def test_a_grade_is_seen_in_a_sign_a_word_and_a_line_of_its_own():
    page = {each: findings_html([Finding(each, "topic", "Reason.")]) for each in GRADES}
    assert all(f"{MARKS[grade]} {grade}: topic." in page[grade] for grade in GRADES)
    lines = {each: re.search(r"border-left:(\S+ \S+)", page[each])[1] for each in GRADES}
    assert len(set(lines.values())) == len(GRADES)
