"""Signals added to one source: the same figures as the boards they stand for."""

import numpy as np
import pytest

from sigcalc.design.board.adding_signals import add_signals
from sigcalc.design.board.board import chain_board
from sigcalc.design.board.feeder import study_board
from sigcalc.design.board.most_signals import most_signals
from sigcalc.design.power.load import Load
from sigcalc.errors import RangeError, UnitError
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.parts.source import adapters
from sigcalc.units import Q

ADAPTER = adapters["12 V regulated"]
LOAD = Load(ResistorDrive("1 kohm", 0.05), leds["red alingap 3 mm"], standby="40 mA")


def test_each_count_is_that_board():
    found = add_signals(ADAPTER, LOAD, 26, "1.5 m", [1, 4, 9], trunk="2 m")
    for count, share, current in zip(found.count, found.si.share, found.si.current, strict=True):
        study = study_board(chain_board("chain", ADAPTER, LOAD, int(count), 26, "1.5 m", "2 m"))
        assert share == pytest.approx(study.weakest.share_min)
        assert current == pytest.approx(study.supply_current.m_as("A"))


def test_it_agrees_with_the_most_signals():
    most = most_signals(ADAPTER, LOAD, 26, "1.5 m", "star")
    found = add_signals(ADAPTER, LOAD, 26, "1.5 m", [most.count, most.count + 1], "star")
    assert found.si.share == pytest.approx([most.share, most.next_share])
    assert found.si.current == pytest.approx([most.si.current, most.si.next_current])


def test_more_signals_never_mean_more_light_or_less_current():
    found = add_signals(ADAPTER, LOAD, 30, "1 m", range(1, 12))
    assert np.all(np.diff(found.si.share) < 0)
    assert np.all(np.diff(found.si.current) > 0)
    # each one more costs more than the one before
    assert np.all(np.diff(found.si.share, 2) < 0)


def test_none_asked_for_gives_none():
    assert add_signals(ADAPTER, LOAD, 30, "1 m", np.array([], int)).si.share.shape == (0,)


@pytest.mark.parametrize(
    ("kind", "said", "arguments"),
    [
        (RangeError, "counts needs whole numbers", {"counts": [0]}),
        (RangeError, "counts needs whole numbers", {"counts": [1.5]}),
        (RangeError, "counts needs whole numbers", {"counts": ["two"]}),
        (RangeError, "counts needs whole numbers", {"counts": [[1], [2, 3]]}),
        (RangeError, "counts needs whole numbers", {"counts": Q([1, 2], "V")}),
        (UnitError, "layout needs to be one of", {"layout": "mixed"}),
    ],
)
def test_what_is_refused(kind, said, arguments):
    with pytest.raises(kind, match=said):
        add_signals(**({"source": ADAPTER, "load": LOAD, "wire": 26, "run": "1 m", "counts": [1]} | arguments))
