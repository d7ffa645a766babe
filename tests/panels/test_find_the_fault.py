"""The game: a button, verdicts, and what each control does."""

import dataclasses

import pytest

from sigcalc.design.bench.fault import AND, catalogue
from sigcalc.lessons.find_the_fault import (
    ALIKE,
    LEVELS,
    PARTLY,
    RIGHT,
    WRONG,
    hidden_fault,
    judge,
    quillhaven_signal,
    quillhaven_train_signal,
    secret_list,
)
from sigcalc.panels.find_the_fault import (
    DRAWN,
    FAULT,
    GAME,
    LEVEL,
    MEASURE,
    METER_AT,
    NAME_IT,
    SECOND,
    SECRET,
    SET_FOR,
    SIGNAL,
    FaultGamePanel,
    Press,
    outcome,
)
from tests.panels.moving import fresh

ALL, SIX, THREE, TWO_FAULTS, _ = LEVELS
HIDDEN = catalogue()["red LED open"]


def test_a_press_is_taken_once_and_is_named_for_those_who_do_not_see_it():
    button, heard = Press("measure", "measure here"), []
    assert (button.widget.description, button.widget.tooltip) == ("measure here",) * 2
    assert not button.taken()
    button.on_change(lambda: heard.append((button.value, button.taken(), button.taken())))
    button.widget.click()
    button.widget.click()
    assert heard == [(True, True, False)] * 2


@pytest.fixture(scope="module")
def judged():
    return judge(quillhaven_signal(), HIDDEN, [HIDDEN.name], {"red": "none", "green": "green"}, {})


@pytest.mark.parametrize(
    ("came", "words"),
    [
        (RIGHT, "Right: red LED open"),
        (ALIKE, "It is red LED open; what"),
        (PARTLY, "One of the two is right"),
        (WRONG, "No: it is"),
    ],
)
def test_the_first_words_are_the_verdict_s(judged, came, words):
    first, what, evidence = outcome(dataclasses.replace(judged, outcome=came), HIDDEN)
    assert first.reason.startswith(words)
    assert (what.reason, what.remedy) == (HIDDEN.cause, HIDDEN.remedy)
    assert f"{round(100 * judged.pointed)} %" in evidence.reason


def test_luck_is_said_and_what_would_have_told_more(judged):
    lucky, skilled = (outcome(dataclasses.replace(judged, outcome=RIGHT, pointed=each), HIDDEN) for each in (0.2, 0.9))
    assert "lucky" in lucky[2].reason
    assert str(judged.diagnosis.next[0].point) in lucky[2].remedy
    assert "lucky" not in skilled[2].reason


game = fresh(FaultGamePanel)


def place(game, secret):
    """Hide the fault of this name."""
    names = [line.split(": ")[1] for line in secret_list(game.circuit)]
    game[SECRET].value = names.index(secret) + 1


def measure(game, *bases):
    for base in bases:
        game[METER_AT].value = base
        game[MEASURE].widget.click()


def name(game, fault, second=None):
    game[FAULT].value = fault
    if second:
        game[SECOND].value = second
    game[NAME_IT].widget.click()


def reasons(game):
    return " ".join(str(each) for each in game.picture.findings)


def test_the_number_hides_what_the_rules_say(game):
    assert game[SECRET].widget.label == DRAWN
    for number in (1, 17):
        game[GAME].value = number
        assert game.signal.fault == hidden_fault(game.circuit, ALL, number)


def test_a_reading_is_taken_when_the_button_is_pressed_and_not_before(game):
    game[METER_AT].value = "pair"
    assert not game.readings
    assert "Pair, red is not read yet; 0 readings taken." in game.picture.sentence
    measure(game, "pair")
    shown = game.readings["pair, red"]
    assert f"Pair, red reads {shown}; 1 reading taken." in game.picture.sentence
    measure(game, "pair")
    assert game.readings == {"pair, red": shown}


def test_the_cautions_of_a_measurement_stand_beside_it(game):
    for point, caution in (("current", "put the red lead back"), ("shared resistor ohms", "Never measure resistance")):
        game[METER_AT].value = point
        assert caution in game.picture.sentence


def test_a_level_allows_no_more_readings_than_it_says(game):
    game[LEVEL].value = THREE
    measure(game, "pair", "shared resistor", "supply", "lamps")
    assert len(game.readings) == 3
    assert "allows no more readings" in reasons(game)
    measure(game, "shared resistor")
    assert "allows no more" not in reasons(game)


def test_the_right_name_scores_and_is_explained_and_another_game_starts_afresh(game):
    place(game, "red LED open")
    measure(game, "pair", "diode test A to B")
    assert len(game.picture.pictures) == 2
    name(game, "red LED open")
    assert game.judgement.outcome == RIGHT
    assert reasons(game).count("Right: red LED open") == 1
    assert game.signal.fault.remedy in reasons(game)
    assert f"Score: {game.judgement.points:g} in 1 game." in game.picture.sentence
    (table,) = game.picture.pictures  # in the place of the circuit, so that the explanation is seen
    assert table.sentence.startswith("Noted: set for red")
    game[GAME].value = 9
    assert not game.readings
    assert game.judgement is None
    assert "in 1 game." in game.picture.sentence


def test_a_verdict_counts_once(game):
    place(game, "red LED open")
    for named in ("green LED open", "red LED open"):
        name(game, named)
        assert "No: it is red LED open." in reasons(game)
    assert list(game.scores.values()) == [0]


def test_two_faults_are_named_with_two_lists_and_the_second_is_forgotten_where_one_is_hidden(game):
    assert game[SECOND].widget.disabled
    game[LEVEL].value = TWO_FAULTS
    assert not game[SECOND].widget.disabled
    one, other = game.signal.fault.name.split(AND)
    measure(game, "pair", "shared resistor", "diode test A to B")
    name(game, one, other)
    assert game.judgement.outcome == RIGHT
    game[LEVEL].value = ALL
    assert (game[SECOND].widget.disabled, game[SECOND].value) == (True, "no second fault")


def test_a_point_of_one_position_sets_the_signal_and_then_the_buttons_decide(game):
    game[METER_AT].value = "wire A to plus"
    assert game[SET_FOR].value == "green"  # over the X of jumpers
    game[MEASURE].widget.click()
    taken = dict(game.readings)
    assert list(taken) == ["wire A to plus"]
    game[SET_FOR].value = "red"
    picture = game.picture.pictures[0]
    assert picture.sentence.startswith("Set for red")
    assert "not been read" in picture.sentence
    game[MEASURE].widget.click()
    assert game.readings == taken
    assert "Wire A to plus is measured with the signal set for green" in reasons(game)


class TestTrain:
    @pytest.fixture
    def game(self):
        game = FaultGamePanel()
        game[SIGNAL].value = quillhaven_train_signal()
        return game

    def test_points_and_verdicts_are_those_of_relay_and_timer(self, game):
        places = [base for _, base in game[METER_AT].widget.options]
        assert {"coil", "timer output", "reed under the train", "hold"} <= set(places)
        assert {"relay coil open", "reed never closes"} <= set(game[FAULT].widget.options)
        assert "single-throw switch" not in game[FAULT].widget.options
        assert len(game[SECRET].widget.options) == len(secret_list(game.circuit)) + 1

    def test_an_open_coil_is_found(self, game):
        place(game, "relay coil open")
        game[SET_FOR].value = "red"
        measure(game, "coil", "coil ohms")
        assert game.readings["coil ohms"] == "OL"
        name(game, "relay coil open")
        assert game.judgement.outcome == RIGHT

    def test_back_to_the_switch_the_game_begins_anew_and_the_score_stays(self, game):
        place(game, "timer dead")
        measure(game, "hold", "coil")
        name(game, "timer dead")
        scores = dict(game.scores)
        game[FAULT].value = "reed never closes"
        game[SIGNAL].value = game[SIGNAL].widget.options[0][1]
        assert (game.readings, game.judgement, game.scores) == ({}, None, scores)
        assert game[FAULT].value == "nothing wrong"
        assert game[METER_AT].value == game[METER_AT].widget.options[0][1]
