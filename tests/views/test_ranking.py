"""Bars of faults: as long as their probabilities, never sure, and none where nothing fits."""

import dataclasses

import pytest

from sigcalc.design.bench.diagnosis import diagnose
from sigcalc.lessons.hidden_fault import quillhaven_signal
from sigcalc.views.ranking import chance_number, chance_words, ranking
from tests.views.svg import words

SIGNAL = quillhaven_signal()


@pytest.fixture(scope="module")
def result():
    return diagnose(SIGNAL, {"red": "none", "green": "green"}, {"pair, red": "12 V"}, draws=300)


def test_each_bar_has_its_number_and_its_word_and_all_others_are_counted(result):
    picture = ranking(result, most=2)
    for suspect in result.suspects[:2]:
        expected = f"{chance_number(suspect.probability)}, {chance_words(suspect.probability)}"
        assert expected in words(picture)
    assert f"all {sum(len(each.faults) for each in result.suspects[2:])} others together" in words(picture)
    assert result.suspects[0].name in picture.sentence
    alike = diagnose(SIGNAL, draws=300)
    assert not any("others together" in each for each in words(ranking(alike, most=len(alike.suspects))))


def test_where_nothing_fits_the_nearest_is_named_and_no_bar_says_that_it_is_likely(result):
    assert result.suspects[0].probability > 0.9
    picture = ranking(dataclasses.replace(result, fits=False))
    assert {"Nothing fits well. The nearest is:", "does not fit"} <= set(words(picture))
    assert picture.sentence.startswith("Nothing in the catalogue fits well.")
    assert "likely" not in picture.sentence  # no number is a likelihood where nothing fits
    assert "%" not in " ".join([*words(picture), picture.sentence])


@pytest.mark.parametrize(
    ("probability", "number", "said"),
    [
        (0.999, "over 99 %", "very likely"),
        (1.0, "over 99 %", "very likely"),
        (0.7, "70 %", "likely"),
        (0.3, "30 %", "quite possible"),
        (0.06, "6 %", "possible"),
        (0.012, "1 %", "unlikely"),
        (0.0, "under 1 %", "hardly"),
    ],
)
def test_a_probability_is_never_zero_or_certain(probability, number, said):
    assert chance_number(probability) == number
    assert chance_words(probability) == said
