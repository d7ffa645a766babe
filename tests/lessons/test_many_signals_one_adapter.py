"""The exercises of "many signals, one adapter" against sums of their own."""

import dataclasses

import pytest

from sigcalc.design.board.board import chain_board
from sigcalc.design.board.fuse import fuse_action
from sigcalc.design.power.load import Load
from sigcalc.lessons.many_signals_one_adapter import farthest_short, lost_on_the_way, questions, signals_on_the_adapter
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.fuse import fuses
from sigcalc.parts.led import leds
from sigcalc.parts.source import adapters
from sigcalc.units import Q
from tests.lessons.sound import assert_sound


@pytest.mark.parametrize("question", questions(), ids=["lost", "count", "short"])
def test_it_is_sound(question):
    assert_sound(question)


def test_four_and_three_and_two_and_one_currents():
    # 28 AWG, 213 ohm a kilometre (AWG table of the check values), there and back, 3 m a section
    assert lost_on_the_way().answer == pytest.approx(0.050 * 3 * 2 * 0.213 * (4 + 3 + 2 + 1), rel=3e-3)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("255 mV", "You counted one signal's current everywhere"),
        ("1.02 V", "to the very end"),
        ("64 mV", "last section alone"),
        ("0.32 V", "halved it"),
        ("11.4 V", "how much is lost?"),
        ("639 mV", "Right"),
    ],
)
def test_each_slip_along_the_chain_has_its_reason(typed, said):
    assert said in lost_on_the_way().check(typed).reason


def test_a_count_with_margin():
    # Omron G5V-2 data sheet, 12 V coil: 288 ohm
    question = signals_on_the_adapter()
    assert question.answer == 0.8 // (0.010 + 0.008 + 12 / 288)
    assert question.check("13").right
    for typed, said in (
        ("16", "no margin"),
        ("14", "rounded up"),
        ("80", "lamps alone"),
        ("44", "coil"),
        ("15", "timer"),
        ("13.4", "no part of a signal"),
    ):
        assert said in question.check(typed).reason


def test_just_before_the_farthest_short_the_fuse_acts_and_just_beyond_it_may_not():
    question = farthest_short()
    load = Load(ResistorDrive("1 kohm"), leds["red alingap 3 mm"])
    outcomes = []
    for length in (0.999 * question.answer, 1.001 * question.answer):
        board = chain_board("pair", adapters["12 V regulated"], load, 1, 28, "1 m", Q(length, "m"))
        fused = dataclasses.replace(board, fuse=fuses["300 mA resettable"])
        outcomes.append(fuse_action(fused, "post 1").outcome)
    assert outcomes == ["acts slowly", "may never act"]
    assert "both wires already" in question.check("79 m").reason
    assert "At that current it does not act" in question.check("84 m").reason
    assert "have their part" in question.check("44.6 m").reason
    assert "You rounded up" in question.check("40 m").reason
    assert question.check("39").right
