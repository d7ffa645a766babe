"""The glossary: every trade word of the lessons is in it, each is used where it says, in words a friend would say."""

import re

import nbformat
import pytest

from sigcalc.lessons.glossary import terms
from tests.project.checkout import ROOT

TRADE_WORDS = """
AC, ampere-turns, anode, AT, AWG, back to back, break before make, capacitor, cathode, chain, changeover, coil, colour
band, common, comparator, data sheet, DC, diode, diode test, driver, drop, drop-out, E12, E24, extra-low voltage, field,
flyback diode, forward voltage, fuse, gauge, internal resistance, inverse parallel, jumper, latching relay, lead, LED,
listed, load line, mAh, mains, N35, OL, on-time, one-shot timer, one-time fuse, parallel, polarity, pole, pot, power
rating, probe, pull in, reed, regulator, relay, release, resettable fuse, resistance inside, reverse voltage, run, sag,
series, short circuit, sleeving, star, terminal strip, threshold, throw, tolerance, trigger, volt, amp, ohm, milliamp
"""
WORDS = [" ".join(each.split()) for each in TRADE_WORDS.split(",")]
OTHER_FORMS = {
    "break before make": "break before they make",
    "wire A, wire B": "wire A",
    "extra-low voltage": "extra-low-voltage",
    "AT": "ampere-turns",
}
BESIDE = {"plan_your_signal": ["board_side"]}  # what a lesson shows besides the files of its own name


def used(word, text):
    """Whether a text has the word: capitals count where the word is all capitals, hyphens are as good as blanks."""
    forms = [each.replace("-", " ") for each in (word, OTHER_FORMS.get(word, word))]
    found = "|".join(rf"(?<!\w){re.escape(form)}s?(?!\w)" for form in forms)
    return re.search(found, text.replace("-", " "), 0 if word.isupper() else re.IGNORECASE)


def shown(lesson):
    """All that a lesson says: its notebook, and the files that make its panels, pictures and exercises."""
    (path,) = (ROOT / "notebooks").glob(f"?_{lesson}.ipynb")
    cells = " ".join(cell.source for cell in nbformat.read(path, as_version=4).cells)
    folders = ("panels", "views", "lessons")
    files = [
        ROOT / "sigcalc" / folder / f"{name}.py" for folder in folders for name in (lesson, *BESIDE.get(lesson, ()))
    ]
    texts = [cells, *(each.read_text("utf-8") for each in files if each.exists())]
    return " ".join(re.sub(r"<[^>]+>|[*_]", "", " ".join(texts)).split())


@pytest.fixture(scope="module")
def lessons():
    return {lesson: shown(lesson) for lesson in {term.lesson for term in terms()}}


def test_every_trade_word_of_the_lessons_is_explained(lessons):
    known = {name.lower() for term in terms() for name in (term.word, *term.also)}
    text = " ".join(lessons.values())
    missing = {word for word in WORDS if used(word, text) and word.lower() not in known}
    assert missing == set()
    assert sum(bool(used(word, text)) for word in WORDS) > 50


def test_every_term_is_used_in_the_lesson_that_it_names(lessons):
    unused = [
        (term.word, term.lesson)
        for term in terms()
        if not any(used(name, lessons[term.lesson]) for name in (term.word, *term.also))
    ]
    assert unused == []


def test_each_is_said_in_one_to_three_short_sentences_without_a_number():
    names = [name.lower() for term in terms() for name in (term.word, *term.also)]
    assert len(names) == len(set(names))
    assert [term.word for term in terms()] == sorted((term.word for term in terms()), key=str.lower)
    for term in terms():
        sentences = re.findall(r"[^.]+\.", term.meaning)
        assert "".join(sentences) == term.meaning, term.word
        assert 1 <= len(sentences) <= 3, term.word
        assert all(len(each.split()) <= 24 for each in sentences), term.word
        assert not re.search(r"\d", term.meaning), term.word  # a number belongs to a lesson, where it is worked out
