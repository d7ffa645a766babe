"""The game for a room: what the board says, who may act, and that nothing tells a fault before its time."""

import html
import json
import re
import time

import pytest

from sigcalc.design.bench.fault import faults_of
from sigcalc.design.bench.simulated import SimulatedSignal
from sigcalc.lessons.fault_round import CLINIC, RULES, SIGNALS, hidden_signal
from sigcalc.lessons.find_the_fault import METER
from sigcalc.panels.fault_round import CLOCK, PASS, ROUND, TEAMS, FaultRoundPanel
from sigcalc.panels.find_the_fault import FAULT, METER_AT, SET_FOR
from tests.notebooks.move_controls import members
from tests.panels.moving import fresh, refused

game = fresh(FaultRoundPanel)
RED_OPEN, SWAPPED, *_ = CLINIC


def press(game):
    game[FAULT].below.widget.click()


def guess(game, name):
    game[FAULT].value = name
    press(game)


def board(game):
    """What the line above the picture says."""
    said = re.sub(r"<[^>]+>", " ", game.head.value.split("<button")[0])
    return " ".join(html.unescape(said).split())


def clock(game):
    """The second at which the clock will be at zero; None while it stands still."""
    found = re.search(r'data-until="([\d.]+)"', game.head.value)
    return float(found[1]) if found else None


def test_the_right_name_scores_what_the_readings_left_and_the_fault_is_ringed(game):
    assert board(game).startswith("Signal 1 of 5, 10 points")
    press(game)
    for base in ("pair", "pair", "supply"):
        game[METER_AT].value = base
        game[METER_AT].below.widget.click()
    assert "8 points" in board(game)
    assert 'class="fault"' not in game.picture.pictures[0].svg
    guess(game, RED_OPEN)
    assert "▲ Team 1 8 ● Team 2 0" in board(game)
    assert game.picture.findings[0].topic == "Team 1 gets 8 points"
    assert 'class="fault"' in game.picture.pictures[0].svg
    assert game.signal.fault.remedy in game.picture.findings[0].remedy


def test_whose_turn_it_is_has_an_arrow_and_passes_on_after_a_wrong_name_and_after_none(game):
    press(game)
    assert "▶ ▲ Team 1" in board(game)
    guess(game, SWAPPED)
    assert "▶ ● Team 2" in board(game)
    assert game.picture.findings[0].topic == "it is not “wires swapped”"
    assert game[FAULT].value == PASS
    press(game)
    assert game.picture.findings[0].topic == "nobody has found it"
    assert "▶" not in board(game)
    press(game)
    assert board(game).startswith("Signal 2 of 5, 10 points")
    assert "▶ ● Team 2" in board(game)


def test_a_round_is_played_to_its_end_and_again(game):
    press(game)
    for fault in CLINIC:
        guess(game, fault)
        last = game.picture
        press(game)
    assert last.brief == "It is “nothing wrong”. Team 1 wins, 30 to 20."
    assert game.standing.scores == (0, 0)
    assert game.signal.fault.name == RED_OPEN


def test_another_round_begins_anew_with_other_faults(game):
    press(game)
    guess(game, RED_OPEN)
    game[ROUND].value = 2
    assert (game.standing.scores, game.readings) == ((0, 0), {})
    assert game.signal.fault == hidden_signal(2, 1).fault


def test_the_clock_starts_with_the_guess_stands_in_the_page_and_is_not_set_back_by_moving_a_control(game):
    assert clock(game) is None
    before = time.time()
    press(game)
    until = clock(game)
    assert before + 90 <= until + 0.1 <= time.time() + 90.2
    game[SET_FOR].value = "green"
    assert clock(game) == until
    guess(game, SWAPPED)
    assert clock(game) - time.time() == pytest.approx(45, abs=2)  # half the time
    press(game)
    assert "sigcalc-countdown" not in game.head.value
    game[CLOCK].value = 120
    press(game)
    assert clock(game) - time.time() == pytest.approx(120, abs=2)


def test_teams_have_the_names_that_they_want_where_they_fit_and_stay_words(game):
    game[TEAMS[0]].value = "<b>East</b>"
    assert "&lt;b&gt;East&lt;/b&gt;" in game.head.value
    for wrong in ("", "a club with a very long name"):
        game[TEAMS[1]].value = wrong
        assert "second team needs a name of 1 to 14 letters" in refused(game)
    game[TEAMS[1]].value = "North"
    assert "● North 0" in board(game)


def test_the_rules_are_among_the_controls(game):
    assert RULES in html.unescape(game["rules"].widget.value)


def _state(game):
    """Everything of the panel that a page or a saved notebook holds, without what each widget is called."""
    states = [{key: repr(value) for key, value in each.get_state().items()} for each in members(game)]
    page = re.sub(r"IPY_MODEL_\w+", "", json.dumps(states))
    return re.sub(r'data-until=."[\d.]+', "", page)


def test_before_its_time_neither_page_nor_saved_notebook_tells_the_fault(game):
    """Two faults that look alike and read alike leave the same page, to the last letter."""
    press(game)
    seen = set()
    for name in ("red LED open", "break in the mast", "short at the mast hole"):
        fault = next(each for each in faults_of(game.circuit) if each.name == name)
        game.signal = SimulatedSignal(game.circuit, fault, 1, METER)
        game.signal.seen = {"red": "none", "green": "none"}
        game[SET_FOR].value = "green"
        game[SET_FOR].value = "red"
        seen.add(_state(game))
        mentioned = [each for each in members(game) if name in repr(each.get_state())]
        assert mentioned == [game[FAULT]._source]  # among all the others
    assert len(seen) == 1


def test_each_signal_of_the_round_comes_in_its_turn(game):
    press(game)
    for place in range(1, SIGNALS + 1):
        assert game.signal.fault == hidden_signal(1, place).fault
        press(game)
        press(game)
        press(game)
