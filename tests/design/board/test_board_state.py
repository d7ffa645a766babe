"""Boards at their corners: what is kept or taken over is what would have been solved, and nobody can spoil it."""

import dataclasses
import itertools

import pytest

from sigcalc.design.board.board import Board, BoardSignal
from sigcalc.design.board.board_state import AS_SET, CORNERS, SHOWINGS, board_state, corner_states, corner_states_of
from sigcalc.design.board.feeder_section import FeederSection
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.power.load import GREEN, RED, Load
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.parts.source import adapters

PAIR = TwoLeadPair(leds["red alingap 3 mm"], leds["green gap 3 mm"])
DRIVE = ResistorDrive("470 ohm", "5 %")


def board(*polarities, plain=False):
    """A chain of 30 AWG with a pair for each polarity, and if asked for a plain white lamp at its end."""
    loads = [Load(DRIVE, PAIR, polarity=each) for each in polarities]
    loads += [Load(DRIVE, leds["white 3 mm"])] if plain else []
    places = ["supply", *(f"post {number}" for number in range(len(loads)))]
    sections = [FeederSection(end, start, end, 30, "4 m") for start, end in itertools.pairwise(places)]
    signals = [BoardSignal(f"s{number}", f"post {number}", load) for number, load in enumerate(loads)]
    return Board("club", adapters["9 V regulated"], tuple(sections), tuple(signals))


@pytest.mark.parametrize("polarities", [(1, 1, 1), (-1, -1), (1, -1, 1)])
@pytest.mark.parametrize("plain", [False, True])
def test_every_state_is_the_one_that_solving_it_gives(polarities, plain):
    """Where all pairs are set to one colour that colour's states are not solved again."""
    club = board(*polarities, plain=plain)
    found = corner_states(club)
    assert set(found) == {(showing, corner) for showing in SHOWINGS for corner in CORNERS}
    for (showing, corner), state in found.items():
        assert state == board_state(club, showing, corner)


def test_plain_lamps_have_their_own_states_alone():
    assert {showing for showing, _ in corner_states(board(plain=True))} == {AS_SET}


def test_red_and_green_differ_where_the_drops_do():
    found = corner_states(board(1, 1))
    assert (found[RED, 0].si.current > found[GREEN, 0].si.current).all()


def test_a_board_gives_what_it_kept_and_a_changed_one_its_own():
    club = board(1, 1)
    first, again = corner_states(club), corner_states(club)
    assert all(again[key] is state for key, state in first.items())
    warmer = dataclasses.replace(club, source=adapters["9 V unregulated"])
    assert (corner_states(warmer)[RED, 0].si.current != first[RED, 0].si.current).all()


def test_boards_that_are_solved_together_do_not_know_of_each_other():
    many = [board(1, -1), board(-1, plain=True), board(*[1] * 65), board(1, 1, 1)]
    for club, found in zip(many, corner_states_of(many), strict=True):
        for (showing, corner), state in found.items():
            assert state == board_state(club, showing, corner)


def test_what_is_kept_cannot_be_written_into():
    club = board(1, 1)
    kept = corner_states(club)
    for state in kept.values():
        with pytest.raises(ValueError, match="read-only"):
            state.si.current[0] = 1.0
    kept.clear()
    assert len(corner_states(club)) == len(SHOWINGS) * len(CORNERS)
