"""The table of readings and the ranked faults."""

import dataclasses

from sigcalc.design.bench.diagnosis import diagnose
from sigcalc.views.readings import ReadingRow, chance_number, chance_words, ranking, readings_table
from sigcalc.views.style import STAGE
from tests.views.samples import SIGNAL
from tests.views.svg import words


def test_the_table_marks_by_a_sign_what_does_not_fit_and_shows_the_last_ones():
    rows = [ReadingRow(f"point {n}", f"{n} V", "1 V to 2 V", (True, False, None)[n % 3]) for n in range(9)]
    drawn = readings_table(rows, most=4, seen={"red": "none", "green": "green"})
    marked = [each for each in words(drawn) if each[0] in "✔✘"]
    assert marked == ["✘ red is dark, green is dark", "✔ red is dark, green is on", "✔ 6 V", "✘ 7 V"]
    assert "Readings (the last 4 of 9)" in words(drawn)
    assert "point 0 reads 0 V, as it should; point 1 reads 1 V, not as it should;" in drawn.sentence


def test_each_bar_has_its_number_and_its_word_and_where_nothing_fits_none_says_that_it_is_likely():
    result = diagnose(SIGNAL, {"red": "none", "green": "green"}, {"pair, red": "12 V"}, draws=300)
    picture, (first, second, *others) = ranking(result, most=2), result.suspects
    said = {f"{chance_number(each.probability)}, {chance_words(each.probability)}" for each in (first, second)}
    assert said | {f"all {sum(len(each.faults) for each in others)} others together"} <= set(words(picture))
    assert first.name in picture.sentence
    assert first.probability > 0.9
    picture = ranking(dataclasses.replace(result, fits=False))
    assert {"Nothing fits well. The nearest is:", "does not fit"} <= set(words(picture))
    assert picture.sentence.startswith("Nothing in the catalogue fits well.")
    assert "likely" not in picture.sentence  # no number is a likelihood where nothing fits
    assert "%" not in " ".join([*words(picture), picture.sentence])


def test_a_probability_is_never_zero_or_certain():
    said = {1.0: ("over 99 %", "very likely"), 0.7: ("70 %", "likely"), 0.0: ("under 1 %", "hardly")}
    assert {each: (chance_number(each), chance_words(each)) for each in said} == said


def test_on_a_wall_the_table_has_the_last_readings_that_fit_and_the_ranking_three_faults():
    rows = [ReadingRow(f"point {n}", f"{n} V", "1 V to 2 V", None) for n in range(20)]
    said = words(readings_table(rows, size=STAGE, seen={"red": "none", "green": "green"}))
    assert "Readings (the last 7 of 20)" in said
    assert ("12 V" in said, "13 V" in said) == (False, True)
    result = diagnose(SIGNAL, {"red": "none", "green": "green"}, {}, draws=300)
    said = words(ranking(result, size=STAGE))
    assert sum(each.endswith("%") for each in said) == 4
    assert result.suspects[3].name not in said
