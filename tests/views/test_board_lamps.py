"""The lamps without their wires, in two columns."""

import pytest

from sigcalc.design.board.board import chain_board
from sigcalc.design.board.feeder import study_board
from sigcalc.errors import UnitError
from sigcalc.views.board import board_picture
from sigcalc.views.board_lamps import board_lamps
from tests.views.board_samples import ADAPTER, LAMPS, along
from tests.views.svg import by_words, groups, words

STATE = study_board(along("chain")).state()


def test_the_same_lamps_as_with_wires_and_the_same_sentence():
    lamps, board = board_lamps(STATE), board_picture(STATE)
    assert [each.get("class") for each in groups(lamps, "lamp")] == [
        each.get("class") for each in groups(board, "lamp")
    ]
    assert lamps.sentence == board.sentence
    assert "red 98 %: full light" in words(lamps)


def test_down_the_first_column_and_then_down_the_second():
    picture = board_lamps(STATE, waiting=["bay", "dock"])
    places = [by_words(picture, each) for each in ("east home", "starter", "yard", "bay, not yet", "dock, not yet")]
    home, starter, yard, bay, dock = ((each.left, each.top) for each in places)
    assert home[0] == starter[0] == yard[0] < bay[0] == dock[0]
    assert home[1] < starter[1] < yard[1]
    assert bay[1] < dock[1]


def test_the_weakest_is_named_where_it_is_seen():
    thin = study_board(chain_board("thin", ADAPTER, LAMPS, 5, 30, "60 m")).state()
    assert "signal 5: weakest" in words(board_lamps(thin))
    assert not any("weakest" in each for each in words(board_lamps(STATE)))


def test_what_is_refused():
    with pytest.raises(UnitError, match="BoardState"):
        board_lamps("board")
