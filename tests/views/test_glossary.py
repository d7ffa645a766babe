"""The glossary as a table: a row for each term, and a symbol with its text alternative for each part that has one."""

import re
from xml.etree import ElementTree

import pytest

from sigcalc.errors import UnknownNameError
from sigcalc.lessons.glossary import terms
from sigcalc.views.glossary import glossary, sign
from sigcalc.views.picture import Picture
from tests.views.svg import SVG, groups


def test_every_term_has_a_row_and_what_is_drawn_says_what_it_is():
    rows = [list(row) for row in ElementTree.fromstring(glossary().html()).iter("tr")][1:]
    assert [row[0].text.partition(" (")[0] for row in rows] == [term.word for term in terms()]
    assert "back to back (inverse parallel)" in [row[0].text for row in rows]
    for term, row in zip(terms(), rows, strict=True):
        drawing = row[1].find(f"div/{SVG}svg")
        assert (
            row[1].text == (term.sign or None)
            if drawing is None
            else f"Symbol: {term.word}." == drawing.get("aria-label")
        )
        assert row[2].text == term.meaning


def test_signs_are_symbols_or_a_letter_or_two():
    drawn = {term.sign for term in terms() if isinstance(sign(term), Picture)}
    assert {"resistor", "LED", "battery", "reed", "pair", "changeover"} <= drawn
    assert all(len(term.sign) <= 3 for term in terms() if term.sign not in drawn)


def test_only_back_to_back_do_the_two_parts_start_at_opposite_ends():
    for name, starts in (("pair", {"16.0", "68.0"}), ("in parallel", {"16.0"})):
        picture = sign(next(term for term in terms() if term.sign == name))
        wires = [shape.get("d", "") for shape in groups(picture, name)[0]]
        assert {start[1] for wire in wires if (start := re.match(r"M (16\.0|68\.0),", wire))} == starts


def test_a_lesson_shows_its_own_words_folded_up():
    table = glossary("which_resistor")
    words = [row[0].partition(" (")[0] for row in table.rows]
    assert {"band", "E12", "tolerance"} <= set(words) == {t.word for t in terms() if t.lesson == "which_resistor"}
    assert table.folded
    assert len(table.heads) == len(table.rows[0]) == 3
    with pytest.raises(UnknownNameError, match="use one of: 'which_resistor'"):
        glossary("which_resister")
