"""The game: a button, verdicts, and what each control does."""

import dataclasses

import pytest

from sigcalc.design.bench.fault import AND, catalogue, faults_of
from sigcalc.design.bench.simulated import SimulatedSignal
from sigcalc.errors import SigcalcError
from sigcalc.lessons.find_the_fault import (
    ALIKE,
    FULL,
    LEVELS,
    METER,
    PARTLY,
    PER_EFFORT,
    RIGHT,
    WRONG,
    hidden_fault,
    judge,
    quillhaven_signal,
    quillhaven_train_signal,
)
from sigcalc.panels.base import AS_IT_IS_DRAWN, AS_IT_LOOKS, BOTH
from sigcalc.panels.find_the_fault import (
    FAULT,
    GAME,
    GAMES,
    LEVEL,
    MEASURE,
    METER_AT,
    NAME_IT,
    READINGS,
    SECOND,
    SET_FOR,
    SHOW,
    SIGNAL,
    FaultGamePanel,
    outcome,
)
from sigcalc.views.findings import Answer
from tests.panels.moving import fresh
from tests.views.svg import words

ALL, SIX, THREE, TWO_FAULTS, _ = LEVELS
HIDDEN = catalogue()["red LED open"]


@pytest.fixture(scope="module")
def judged():
    return judge(quillhaven_signal(), HIDDEN, [HIDDEN.name], {"red": "none", "green": "green"}, {})


@pytest.mark.parametrize(
    ("came", "verdict"),
    [
        (RIGHT, "Right: “red LED open”"),
        (ALIKE, "It is “red LED open”; what"),
        (PARTLY, "One of the two is right"),
        (WRONG, "No: it is"),
    ],
)
def test_the_first_words_are_the_verdict_s(judged, came, verdict):
    first, evidence = Answer((), "", outcome(dataclasses.replace(judged, outcome=came), HIDDEN)).findings
    assert first.reason.startswith(verdict)
    assert HIDDEN.cause in first.reason
    assert first.remedy == HIDDEN.remedy
    assert f"{round(100 * judged.pointed)} %" in evidence.reason


def test_luck_is_said_and_what_would_have_told_more(judged):
    lucky, skilled = (outcome(dataclasses.replace(judged, outcome=RIGHT, pointed=each), HIDDEN) for each in (0.2, 0.9))
    assert "lucky" in lucky[1].reason
    assert str(judged.diagnosis.next[0].point) in lucky[1].reason
    assert "lucky" not in skilled[1].reason


game = fresh(FaultGamePanel)


def place(game, secret):
    """Hide the fault of this name: the first game that has it."""
    names = (hidden_fault(game.circuit, game.level, number).name for number in range(1, GAMES + 1))
    game[GAME].value = 1 + next(at for at, name in enumerate(names) if name == secret)


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
    for number in (1, 17):
        game[GAME].value = number
        assert game.signal.fault == hidden_fault(game.circuit, ALL, number)


def test_a_reading_is_taken_when_the_button_is_pressed_and_not_before(game):
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
    name(game, "red LED open")
    assert game.judgement.outcome == RIGHT
    assert reasons(game).count("Right: “red LED open”") == 1
    assert game.signal.fault.remedy in reasons(game)
    assert f"Score: {game.judgement.points:g} in 1 game." in game.picture.sentence
    assert game.picture.pictures[0].sentence.endswith("What is wrong is ringed.")
    game[GAME].value = 9
    assert not game.readings
    assert game.judgement is None
    assert "in 1 game." in game.picture.sentence


def test_on_the_wall_a_reading_stands_beside_a_sound_signal_s_and_the_verdict_in_a_few_words(game):
    game.stage.value = True
    place(game, "red LED open")
    assert game.picture.brief == "Set for red: red dark, green dark. Where do you measure?"
    measure(game, "pair")
    shown = game.readings["pair, red"]
    assert game.picture.brief.startswith(f"Pair, red reads {shown}; a sound signal: 1.")
    name(game, "red LED open")
    assert game.picture.findings[0].topic == "the fault is found"
    assert "“red LED open”: 9.75 of 10 points" in game.picture.brief


def test_no_talk_presses_a_button_for_its_answer_would_be_seen_before_the_question(game):
    with pytest.raises(SigcalcError, match="a hand to press it"):
        game.put({MEASURE: True})


def test_a_wrong_verdict_leaves_one_more_guess_for_half_and_no_third(game):
    place(game, "red LED open")
    measure(game, "pair")
    name(game, "green LED open")
    assert "it is not “green LED open”" in reasons(game)
    assert "red LED open" not in game.view.value
    assert (game.found, game.scores) == (None, {})
    name(game, "red LED open")
    assert list(game.scores.values()) == [(FULL - PER_EFFORT) / 2]
    name(game, "red LED open")
    assert len(game.scores) == 1


def test_after_two_wrong_verdicts_it_is_told_and_counts_nothing(game):
    place(game, "red LED open")
    for named in ("green LED open", "wires swapped", "red LED open"):
        name(game, named)
    assert "No: it is “red LED open”." in reasons(game)
    assert list(game.scores.values()) == [0]


def test_two_faults_are_named_with_two_lists_and_the_second_is_forgotten_where_one_is_hidden(game):
    assert game[SECOND].widget.layout.display == "none"
    game[LEVEL].value = TWO_FAULTS
    assert game[SECOND].widget.layout.display == ""
    one, other = game.signal.fault.name.split(AND)
    measure(game, "pair", "shared resistor", "diode test A to B")
    name(game, one, other)
    assert game.judgement.outcome == RIGHT
    game[LEVEL].value = ALL
    assert (game[SECOND].widget.layout.display, game[SECOND].value) == ("none", "no second fault")


def test_before_the_verdict_no_picture_tells_two_faults_apart_that_look_the_same(game):
    """A dead lamp is dark until it is named; then it is dead, in the scene and in words."""
    pictures = {}
    for fault in ("resistor bridged", "break in the mast"):
        place(game, fault)
        game.signal.seen = {"red": "none", "green": "none"}
        for game[SHOW].value in (AS_IT_IS_DRAWN, READINGS, AS_IT_LOOKS):
            pictures.setdefault(game[SHOW].value, set()).add(game.picture.html())
    assert {show: len(different) for show, different in pictures.items()} == dict.fromkeys(pictures, 1)
    place(game, "resistor bridged")
    assert "DEAD" not in words(game.picture.pictures[0])
    for named in ("red LED open", "wires swapped"):
        name(game, named)
    game[SHOW].value = BOTH
    assert all("DEAD" in words(each) for each in game.picture.pictures)


def test_the_signal_is_shown_as_it_looks_as_it_is_drawn_both_or_only_by_its_readings(game):
    measure(game, "pair")
    counts = {}
    for game[SHOW].value in (AS_IT_LOOKS, AS_IT_IS_DRAWN, BOTH, READINGS):
        counts[game[SHOW].value] = len(game.picture.pictures)
    assert counts == {AS_IT_LOOKS: 2, AS_IT_IS_DRAWN: 2, BOTH: 3, READINGS: 1}
    assert game.picture.pictures[0].sentence.startswith("Noted: set for red")
    game[SHOW].value, game[SIGNAL].value = AS_IT_LOOKS, quillhaven_train_signal()
    assert game[SHOW].value == AS_IT_IS_DRAWN  # there is no relay among the things
    assert "timer" in words(game.picture.pictures[0])


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
        places = [base for _, base in game[METER_AT]._source.options]
        assert {"coil", "timer output", "reed under the train", "hold"} <= set(places)
        assert {"relay coil open", "reed never closes"} <= set(game[FAULT]._source.options)
        assert "single-throw switch" not in game[FAULT]._source.options

    def test_an_open_coil_is_found(self, game):
        rare = next(each for each in faults_of(game.circuit) if each.name == "relay coil open")
        game.signal = SimulatedSignal(game.circuit, rare, 1, METER)
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
        assert game[METER_AT].value == game[METER_AT]._source.options[0][1]
