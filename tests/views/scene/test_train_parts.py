"""The parts beside one another: wired as the lamp that is lit needs it, every word in its place."""

import itertools

import pytest

from sigcalc.views.scene.train_parts import four_parts, timer_board
from tests.views.svg import parse, texts, view_box, words


@pytest.mark.parametrize("picture", [four_parts(), timer_board(0.0), timer_board(1.0)])
def test_no_words_overlap_or_leave_the_sheet(picture):
    found, (_, _, width, height) = texts(picture), view_box(parse(picture))
    assert not [pair for pair in itertools.combinations(found, 2) if pair[0].overlaps(pair[1])]
    assert all(each.left >= 0 and each.right <= width and each.bottom <= height for each in found)


def test_at_rest_each_common_is_on_the_pole_that_its_nc_has():
    """For green wire A, at the first common, is on minus and wire B on plus; for red it is the other way round."""
    found = sorted(texts(four_parts()), key=lambda each: each.top)
    assert [each.words for each in found if each.words in ("NC", "C", "NO")] == ["NC", "C", "NO"] * 2
    assert [each.words for each in found if each.words in "+−" and each.left > 600] == ["−", "+", "+", "−"]


def test_the_pot_turns_with_the_slider():
    assert timer_board(0.1).svg != timer_board(0.9).svg
    assert "pot: 10 %" in words(timer_board(0.1))
