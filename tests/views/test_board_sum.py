"""The chain by hand: whoever works it out with the printed figures gets the printed answers."""

import dataclasses
import re

import pytest

from sigcalc.design.board.along_layout import board_along, compare_wirings
from sigcalc.design.board.feeder import study_board
from sigcalc.errors import RangeError, UnitError
from sigcalc.parts.drive import ConstantCurrentDrive
from sigcalc.units import Q
from sigcalc.views.board_sum import chain_by_hand, wiring_table
from tests.views.board_samples import ADAPTER, HEAVY, LAMPS, PLACES, along


def si(text):
    return Q(text.replace("%", "")).to_base_units().magnitude if "%" not in text else float(text.split()[0]) / 100


@pytest.mark.parametrize("board", [along("chain"), along("chain", LAMPS)], ids=["heavy", "lamps"])
def test_the_printed_figures_give_the_printed_answers(board):
    sum_ = chain_by_hand(board)
    each, metre, start = (si(step.answer) for step in sum_.steps[:3])
    lost = 0.0
    for number, step in enumerate(sum_.steps[3:-2]):
        times, current, length, ohms = re.fullmatch(
            r"(\d+) × ([\d.]+ mA) × ([\d.]+) m × ([\d.]+ mΩ)/m", step.how
        ).groups()
        assert int(times) == len(board.signals) - number
        assert si(current) == each
        assert si(ohms) == metre
        answer = int(times) * each * float(length) * metre
        assert si(step.answer) == pytest.approx(answer, rel=2e-3)
        lost += answer
    last = si(sum_.steps[-2].answer)
    assert last == pytest.approx(start - lost, rel=5e-4)
    reaches, drop, source, _ = re.findall(r"[\d.]+ V", sum_.steps[-1].how)
    assert si(reaches) == last
    assert si(sum_.steps[-1].answer) == pytest.approx((last - si(drop)) / (si(source) - si(drop)), abs=1e-3)


def test_the_hand_is_close_to_the_network_and_a_little_too_dark():
    board = along("chain")
    solved = study_board(board).state()
    sum_ = chain_by_hand(board)
    by_hand = si(sum_.steps[-1].answer)
    assert by_hand == pytest.approx(solved.share[-1], abs=0.01)
    assert by_hand < solved.share[-1]
    assert f"{solved.si.voltage[-1]:.4g} V there" in sum_.sentence


@pytest.mark.parametrize(
    ("board", "said"),
    [
        (along("star"), "needs to be a chain"),
        (board_along("own", ADAPTER, dict.fromkeys(PLACES, HEAVY) | {"yard": LAMPS}, PLACES), "equal signals"),
        (along("chain", dataclasses.replace(LAMPS, drive=ConstantCurrentDrive("10 mA", "1.5 V"))), "a resistor"),
        (board_along("near", ADAPTER, LAMPS, {"home": "0 m"}), "needs to be a chain"),
    ],
)
def test_what_no_hand_can_do(board, said):
    with pytest.raises(RangeError, match=said):
        chain_by_hand(board)


def test_ways_of_wiring_side_by_side():
    trials = compare_wirings(ADAPTER, HEAVY, PLACES, 30)
    table = wiring_table(trials)
    assert [step.what for step in table.steps] == ["chain", "star", "mixed"]
    assert table.steps[0].how == "9 m of wire; one break along the layout darkens up to 4 signals"
    assert table.steps[1].how == "17 m of wire; one break along the layout darkens one signal"
    for trial, step in zip(trials, table.steps, strict=True):
        assert step.answer == f"{trial.weakest}: {100 * trial.share:.3g} %"
    with pytest.raises(UnitError, match="compare_wirings"):
        wiring_table([])
