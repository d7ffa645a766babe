"""Bars, strips and marks: each where its data say, with words where they fit."""

import numpy as np
import pytest

from sigcalc.views.rows import Rows
from sigcalc.views.style import STAGE, STAGE_BOX, lamp_fill, lamp_hatch
from tests.views.svg import by_words, groups, parse, spans, view_box, words


@pytest.mark.parametrize("count", [2, 6])
def test_rows_fill_the_height_of_a_wall_however_many_they_are(count):
    rows = Rows(0.0, 1.0, size=STAGE)
    for number in range(count):
        rows.row(f"row {number}")
        rows.strip([(0.0, 1.0)], "in the middle")
    rows.mark(0.5, "half")
    rows.axis("share")
    picture = rows.picture("Rows.")
    assert tuple(view_box(parse(picture))[2:]) == STAGE_BOX
    assert by_words(picture, "share").bottom > 0.9 * STAGE_BOX[1]
    assert by_words(picture, "half").bottom < by_words(picture, "row 0").top
    assert 110 < by_words(picture, f"row {count - 1}").bottom < by_words(picture, "0.5").top


def test_a_bar_is_as_long_as_its_value_with_its_words_behind_it():
    chart = Rows(0, 20, left=80, right=100)
    for value in (5, 20):
        chart.row(f"value {value}")
        chart.bar(value, f"{value} mA")
    picture = chart.picture("Two bars.")
    for value, end in ((5, 155.0), (20, 380.0)):
        assert spans(picture, f"value {value}") == [pytest.approx((80.0, end), abs=0.01)]
        assert end < by_words(picture, f"{value} mA").left < end + 12


def test_a_strip_is_cut_at_the_ends_of_the_axis_and_a_moment_is_still_seen():
    chart = Rows(0, 10, left=80, right=100)
    chart.row("reed")
    chart.strip([(-5, 2), (4, 4), (9, 99), (20, 30)], "CLOSED")
    for moment, said in ((11, "too late"), (5, "in time")):
        chart.mark(moment, said)
    picture = chart.picture("Closed.")
    assert np.array(spans(picture, "reed")) == pytest.approx(np.array([(80, 140), (200, 201.5), (350, 380)]), abs=0.01)
    assert {"in time", "too late"} & set(words(picture)) == {"in time"}


def test_words_are_left_out_where_they_do_not_fit_and_moved_in_where_they_would_leave_the_sheet():
    chart = Rows(0, 10, left=80, right=20)
    chart.row("lamp")
    chart.strip([(0, 1), (2, 9)], "RED AND LIT")
    chart.words("a long remark behind the row")
    picture = chart.picture("A strip.")
    assert words(picture).count("RED AND LIT") == 1
    assert by_words(picture, "a long remark behind the row").right <= view_box(parse(picture))[2]


def test_red_and_green_bars_differ_by_more_than_their_colour():
    chart = Rows(0, 1)
    for lamp in ("red", "green"):
        chart.row(lamp)
        chart.bar(1, fill=lamp_fill(lamp), hatch=lamp_hatch(lamp))
    picture = chart.picture("Both.")
    found = [str([each.attrib for row in groups(picture, lamp) for each in row]) for lamp in ("red", "green")]
    assert ["url(#" in each for each in found] == [False, True]
