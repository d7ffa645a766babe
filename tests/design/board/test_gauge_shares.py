"""What each gauge leaves: the same as the board wired in it."""

import pytest

from sigcalc.design.board.board import Board, BoardSignal, chain_board
from sigcalc.design.board.feeder import study_board
from sigcalc.design.board.feeder_gauge import gauge_for
from sigcalc.design.board.gauge_shares import gauge_shares
from sigcalc.design.power.load import Load
from sigcalc.errors import RangeError, UnitError
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.parts.source import adapters

ADAPTER = adapters["12 V regulated"]
LOAD = Load(ResistorDrive("1 kohm", 0.05), leds["red alingap 3 mm"], standby="40 mA")
CHAIN = chain_board("chain", ADAPTER, LOAD, 6, 22, "2 m", "1 m")


def test_each_gauge_is_that_board():
    shares = gauge_shares(CHAIN, [30, 26, 22])
    assert list(shares) == [30, 26, 22]
    for gauge, share in shares.items():
        wired = chain_board("chain", ADAPTER, LOAD, 6, gauge, "2 m", "1 m")
        assert share == pytest.approx(study_board(wired).weakest.share_min)
    assert shares[30] < shares[26] < shares[22] < 1


def test_it_agrees_with_the_gauge_that_is_enough():
    chosen = gauge_for(CHAIN, 0.9)
    tried = {each.gauge: pytest.approx(each.share) for each in chosen.tried}
    assert gauge_shares(CHAIN, list(tried)) == tried


def test_what_is_refused():
    bench = Board("bench", ADAPTER, (), (BoardSignal("one", "supply", LOAD),))
    with pytest.raises(RangeError, match="at least one section"):
        gauge_shares(bench, [26])
    with pytest.raises(UnitError, match="gauges needs a list"):
        gauge_shares(CHAIN, "26")
    with pytest.raises(UnitError, match="wire needs an area with its unit; you gave 'thick'"):
        gauge_shares(CHAIN, ["thick"])
    with pytest.raises(UnitError, match="board needs a Board"):
        gauge_shares("chain", [26])
