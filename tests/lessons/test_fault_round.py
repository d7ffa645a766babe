"""The game of two teams: who gets what, who begins, and rounds whose faults can be found."""

import pytest

from sigcalc.design.bench.diagnosis import diagnose
from sigcalc.design.bench.fault import NOTHING_WRONG
from sigcalc.design.bench.predictions import look_alikes
from sigcalc.lessons.fault_round import (
    CLINIC,
    COST,
    FIRST,
    LEAST,
    READY,
    SECOND,
    SHOWN,
    SIGNALS,
    START,
    Standing,
    hidden_signal,
    secrets,
)
from sigcalc.lessons.find_the_fault import METER, quillhaven_signal

BEGUN = Standing().started()


def after(standing, readings=0, *guesses):
    """Where a signal ends after so many readings and these guesses, right or wrong."""
    for _ in range(readings):
        standing = standing.measured()
    for right in guesses:
        standing = standing.named(right)
    return standing


def test_the_right_name_brings_what_the_readings_left():
    assert after(BEGUN, 0, True).scores == (START, 0)
    assert after(BEGUN, 3, True).scores == (START - 3 * COST, 0)
    assert after(BEGUN, 30, True).scores == (LEAST, 0)


def test_after_a_wrong_name_the_other_team_guesses_once_for_half():
    wrong = after(BEGUN, 3, False)
    assert (wrong.phase, wrong.turn, wrong.worth) == (SECOND, 1, (START - 3 * COST) // 2)
    assert wrong.measured() == wrong  # no more readings
    assert after(wrong, 0, True).scores == (0, wrong.worth)
    missed = after(wrong, 0, False)
    assert (missed.phase, missed.scores, missed.won) == (SHOWN, (0, 0), 0)
    assert missed.named(True) == missed  # once


def test_the_first_reading_starts_the_clock_and_nothing_is_named_before():
    assert Standing().named(True) == Standing()
    assert (Standing().measured().phase, Standing().measured().readings) == (FIRST, 1)
    assert Standing().phase == READY


@pytest.mark.parametrize(
    ("guesses", "begins"),
    [
        ((True,), 1),  # the first team leads, so the second begins
        ((False, True), 0),  # the second team leads
        ((False, False), 1),  # a draw: the one that did not begin last
    ],
)
def test_the_team_that_is_behind_begins_the_next_signal(guesses, begins):
    following = after(BEGUN, 0, *guesses).following()
    assert (following.began, following.turn, following.place, following.readings) == (begins, begins, 2, 0)
    assert following.phase == FIRST


def test_a_round_ends_after_its_last_signal():
    standing = BEGUN
    for _ in range(SIGNALS):
        standing = after(standing.following() if standing.phase == SHOWN else standing, 1, True)
    assert standing.over
    assert standing.following() == standing
    assert sum(standing.scores) == SIGNALS * (START - COST)
    assert standing.leader == 0  # one, other, one, other, one


@pytest.mark.parametrize("number", [1, 2, 3])
def test_each_fault_of_a_round_is_another_and_all_readings_together_give_it(number):
    signals = [hidden_signal(number, place) for place in range(1, SIGNALS + 1)]
    names = [each.fault.name for each in signals]
    assert len(set(names)) == SIGNALS
    assert not {each for alike in look_alikes(quillhaven_signal()) for each in alike} & set(names)
    for signal in signals:
        read = {name: signal.read(name) for name in signal.points}
        found = diagnose(signal.circuit, signal.seen, read, METER)
        assert found.suspects[0].faults == (signal.fault.name,)
        assert found.probability(signal.fault.name) > 0.8


def test_the_clinic_s_round_goes_from_a_dark_lamp_to_a_sound_signal():
    assert tuple(hidden_signal(1, place).fault.name for place in range(1, SIGNALS + 1)) == CLINIC
    assert hidden_signal(1, 1).seen == {"red": "none", "green": "green"}
    sound = hidden_signal(1, SIGNALS)
    assert (sound.fault.name, sound.seen) == (NOTHING_WRONG, {"red": "red", "green": "green"})


def test_the_presenter_s_paper_says_what_the_room_will_see_and_read():
    for place, secret in enumerate(secrets(1), 1):
        signal = hidden_signal(1, place)
        assert (secret.number, secret.fault, secret.seen) == (place, signal.fault.name, signal.seen)
        assert secret.remedy == signal.fault.remedy
        assert len(secret.readings) == 2
        before = diagnose(signal.circuit, secret.seen, {}, METER, pairs=False)
        after_both = diagnose(signal.circuit, secret.seen, secret.readings, METER, pairs=False)
        assert after_both.probability(secret.fault) > before.probability(secret.fault) or place == SIGNALS
