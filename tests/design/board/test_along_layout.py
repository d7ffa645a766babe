"""Signals along a layout: the sections that each way of wiring needs, and what each costs."""

import numpy as np
import pytest

from sigcalc.design.board.along_layout import (
    CHAIN,
    MIXED,
    STAR,
    WIRINGS,
    board_along,
    compare_wirings,
    findings,
    most_lost,
    pair_length,
)
from sigcalc.design.board.board import Board, BoardSignal, FeederSection
from sigcalc.design.board.feeder import study_board
from sigcalc.design.power.load import Load
from sigcalc.errors import RangeError, UnitError
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.parts.source import adapters

ADAPTER = adapters["12 V regulated"]
LOAD = Load(ResistorDrive("1 kohm", 0.05), leds["red alingap 3 mm"], standby="40 mA")
PLACES = {"home": "1 m", "starter": "3 m", "yard": "4.5 m", "far": "9 m"}


def along(wiring, places=PLACES, **more):
    return board_along("layout", ADAPTER, LOAD, places, wiring, 30, **more)


def ways(board):
    return {each.name: (each.start, each.end, pytest.approx(each.si.length)) for each in board.sections}


def test_a_chain_goes_from_signal_to_signal_in_the_order_of_their_places():
    mixed_up = dict(reversed(PLACES.items()))
    assert ways(along(CHAIN, mixed_up)) == {
        "to home": ("supply", "home", 1),
        "to starter": ("home", "starter", 2),
        "to yard": ("starter", "yard", 1.5),
        "to far": ("yard", "far", 4.5),
    }


def test_a_star_has_a_pair_for_each_signal_from_a_board_beside_the_source():
    assert ways(along(STAR, lead="0.2 m")) == {
        "adapter lead": ("supply", "board", 0.2),
        "to home": ("board", "home", 1),
        "to starter": ("board", "starter", 3),
        "to yard": ("board", "yard", 4.5),
        "to far": ("board", "far", 9),
    }


def test_mixed_a_few_neighbours_share_a_pair():
    assert ways(along(MIXED)) == {
        "adapter lead": ("supply", "board", 0.5),
        "to home": ("board", "home", 1),
        "to starter": ("home", "starter", 2),
        "to yard": ("board", "yard", 4.5),
        "to far": ("yard", "far", 4.5),
    }
    three = along(MIXED, together=3)
    assert [each.start for each in three.sections] == ["supply", "board", "home", "starter", "board"]


def test_mixed_with_one_each_is_a_star_and_with_all_together_a_chain_behind_its_lead():
    assert ways(along(MIXED, together=1)) == ways(along(STAR))
    assert along(MIXED, together=9, lead="0 m").feeder.resistance[1:] == pytest.approx(along(CHAIN).feeder.resistance)


def test_wire_and_temperature_reach_every_section():
    warm = along(STAR, temperature="60 degC")
    # IEC 60028: 0.00393 a kelvin at 20 °C
    ratio = warm.feeder.resistance[1:] / along(STAR).feeder.resistance[1:]
    assert ratio == pytest.approx(1 + 0.00393 * 40)


def test_each_signal_may_have_a_load_of_its_own():
    heavy = Load(ResistorDrive("470 ohm"), leds["red alingap 3 mm"])
    board = board_along("layout", ADAPTER, dict.fromkeys(PLACES, LOAD) | {"far": heavy}, PLACES)
    assert [each.load for each in board.signals] == [LOAD, LOAD, LOAD, heavy]


def test_the_wire_that_each_way_takes():
    assert [pair_length(along(wiring)).m_as("m") for wiring in WIRINGS] == pytest.approx([9, 18, 12.5])


def test_what_one_break_darkens():
    assert [most_lost(along(wiring)) for wiring in WIRINGS] == [4, 1, 2]
    assert most_lost(Board("bench", ADAPTER, (), (BoardSignal("one", "supply", LOAD),))) == 0
    two = (BoardSignal("one", "post", LOAD), BoardSignal("two", "post", LOAD))
    assert most_lost(Board("bench", ADAPTER, (FeederSection("run", "supply", "post", 26, "1 m"),), two)) == 2


def test_star_keeps_most_light_and_chain_takes_least_wire():
    chain, star, mixed = compare_wirings(ADAPTER, LOAD, PLACES, 30)
    assert [each.wiring for each in (chain, star, mixed)] == list(WIRINGS)
    assert chain.share < mixed.share < star.share
    assert chain.length < mixed.length < star.length
    for trial in (chain, star, mixed):
        worst = study_board(trial.board).weakest
        assert (trial.weakest, trial.share) == (worst.name, pytest.approx(worst.share_min))


def test_the_findings_name_the_price_of_the_star_and_the_risk_of_the_chain():
    trials = compare_wirings(ADAPTER, LOAD, PLACES, 30)
    wiring, risk = findings(trials)
    assert wiring.grade == "fine"
    assert "Wired as star" in wiring.reason
    assert "18 m of twin wire, 2 times as much as chain" in wiring.reason
    assert risk.grade == "look again"
    assert "Wired as chain, one bad joint" in risk.reason
    assert "all 4 signals" in risk.reason
    one = compare_wirings(ADAPTER, LOAD, {"home": "1 m"}, 30)
    assert [each.topic for each in findings(one)] == ["wiring"]


def test_no_more_current_than_the_source_gives_whatever_the_wiring():
    for wiring in WIRINGS:
        state = study_board(along(wiring)).state()
        drawn = state.si.current.sum() + 4 * 0.04
        assert state.si.supply_current == pytest.approx(drawn, rel=1e-6)
        assert np.all(np.diff(state.si.voltage) <= 1e-12)


@pytest.mark.parametrize(
    ("kind", "said", "arguments"),
    [
        (UnitError, "places needs a distance", {"places": {}}),
        (UnitError, "places needs a distance", {"places": ["home"]}),
        (UnitError, "place of 'home'", {"places": {"home": 3}}),
        (RangeError, "cannot be called 'board'", {"places": {"board": "1 m"}}),
        (UnitError, "wiring needs to be one of", {"wiring": "ring"}),
        (RangeError, "together needs a whole number", {"wiring": MIXED, "together": 0}),
        (UnitError, "none came for 'far'", {"load": dict.fromkeys(["home", "starter", "yard"], LOAD)}),
    ],
)
def test_what_is_refused(kind, said, arguments):
    given = {"name": "layout", "source": ADAPTER, "load": LOAD, "places": PLACES} | arguments
    with pytest.raises(kind, match=said):
        board_along(**given)


def test_findings_refuse_anything_else():
    for wrong in ("chain", [], [1]):
        with pytest.raises(UnitError, match="compare_wirings"):
            findings(wrong)
