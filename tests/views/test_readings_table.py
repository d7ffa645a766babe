"""The table of readings: a sign for what does not fit, and the last ones where there are many."""

from sigcalc.views.readings_table import ReadingRow, readings_table
from tests.views.svg import groups, words


def rows(count):
    return [ReadingRow(f"point {n}", f"{n} V", "1 V to 2 V", (True, False, None)[n % 3]) for n in range(count)]


def test_the_table_marks_by_a_sign_what_does_not_fit():
    drawn = readings_table(rows(3), seen={"red": "none", "green": "green"})
    assert [each for each in words(drawn) if each[0] in "✔✘"] == [
        "✘ red is dark, green is dark",
        "✔ red is dark, green is on",
        "✔ 0 V",
        "✘ 1 V",
    ]
    assert "point 1 reads 1 V, not as it should" in drawn.sentence


def test_of_many_readings_the_last_ones_are_shown():
    drawn = readings_table(rows(9), most=4)
    assert len(groups(drawn, "row")) == 4
    assert "Readings (the last 4 of 9)" in words(drawn)
    assert "point 0 reads 0 V" in drawn.sentence


def test_an_empty_table_says_so():
    assert readings_table([]).sentence == "Nothing has been read yet."
