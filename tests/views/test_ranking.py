"""Bars of faults: as long as their probabilities, never sure, and none where nothing fits."""

import dataclasses

import pytest

from sigcalc.design.bench.diagnosis import diagnose
from sigcalc.lessons.hidden_fault import quillhaven_signal
from sigcalc.views.ranking import chance_number, chance_words, ranking
from tests.views.svg import SVG, group, groups, words

SIGNAL = quillhaven_signal()


@pytest.fixture(scope="module")
def result():
    return diagnose(SIGNAL, {"red": "none", "green": "green"}, {"pair, red": "12 V"}, draws=300)


def bar(picture, number):
    whole, part = (float(each.get("width")) for each in group(picture, f"suspect {number}").iter(SVG + "rect"))
    return part / whole


def test_bars_are_as_long_as_the_probabilities(result):
    picture = ranking(result, most=3)
    for number, suspect in enumerate(result.suspects[:3], 1):
        assert bar(picture, number) == pytest.approx(max(suspect.probability, 1.5 / 110), abs=1e-3)
    rest = sum(each.probability for each in result.suspects[3:])
    assert bar(picture, 4) == pytest.approx(max(rest, 1.5 / 110), abs=1e-3)


def test_each_bar_has_its_number_and_its_word(result):
    for suspect in result.suspects[:3]:
        expected = f"{chance_number(suspect.probability)}, {chance_words(suspect.probability)}"
        assert expected in words(ranking(result))
    assert result.suspects[0].name in ranking(result).sentence


def test_all_others_are_counted(result):
    count = sum(len(each.faults) for each in result.suspects[2:])
    assert f"all {count} others together" in words(ranking(result, most=2))


def test_where_all_are_shown_there_are_no_others():
    alike = diagnose(SIGNAL, draws=300)
    assert len(groups(ranking(alike, most=len(alike.suspects)), "suspect")) == len(alike.suspects)


def test_where_nothing_fits_the_nearest_is_named_and_no_bar_says_that_it_is_likely(result):
    assert result.suspects[0].probability > 0.9
    picture = ranking(dataclasses.replace(result, fits=False))
    assert "Nothing fits well. Nearest comes:" in words(picture)
    assert "does not fit" in words(picture)
    assert picture.sentence.startswith("Nothing in the catalogue fits well.")
    assert "likely" not in picture.sentence  # no number is a likelihood where nothing fits
    assert "%" not in " ".join([*words(picture), picture.sentence])
    (only,) = groups(picture, "suspect")
    assert list(only.iter(SVG + "rect")) == []


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
def test_a_probability_is_never_nought_or_certain(probability, number, said):
    assert chance_number(probability) == number
    assert chance_words(probability) == said
