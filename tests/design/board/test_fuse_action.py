"""What the fuse does about a short at a node, against the sum of the resistances in its way."""

import dataclasses

import pytest

from sigcalc.design.board.board import chain_board
from sigcalc.design.board.fuse_action import NEVER, QUICK, SLOW, findings, fuse_action
from sigcalc.design.power.load import Load
from sigcalc.errors import DesignError, UnitError, UnknownNameError
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.fuse import fuses
from sigcalc.parts.led import leds
from sigcalc.parts.source import adapters, batteries
from sigcalc.parts.wire import wire_resistance

LOAD = Load(ResistorDrive("1 kohm"), leds["red alingap 3 mm"])
ADAPTER = adapters["12 V regulated"]


def board(fuse, run="1 m", source=ADAPTER, gauge=30):
    made = chain_board("chain", source, LOAD, 3, gauge, run, run)
    return dataclasses.replace(made, fuse=fuses[fuse])


def test_the_current_is_voltage_over_everything_in_the_way():
    given = board("100 mA resettable", run="20 m")
    wire = 2 * wire_resistance(30, "60 m").m_as("ohm")
    own = fuses["100 mA resettable"].si.resistance_max
    low = 12 * 0.95  # volts, the adapter at its least
    assert fuse_action(given, "post 3").si.current == pytest.approx(low / (0.1 + own + wire + 0.05), rel=1e-9)


def test_an_adapter_is_not_sure_to_give_more_than_its_rating_and_a_battery_is():
    assert fuse_action(board("300 mA resettable"), "post 1").si.current == 1.0
    battery = batteries["6 x AA alkaline"]
    action = fuse_action(board("100 mA resettable", source=battery, gauge=22), "post 1")
    volts, inside = battery.corners[0]
    way = inside + fuses["100 mA resettable"].si.resistance_max + 2 * wire_resistance(22, "1 m").m_as("ohm") + 0.05
    assert action.si.current == pytest.approx(volts / way)


@pytest.mark.parametrize(
    ("fuse", "run", "outcome", "grade"),
    [
        ("100 mA resettable", "1 m", QUICK, "fine"),
        ("300 mA resettable", "1 m", SLOW, "look again"),
        ("650 mA resettable", "1 m", NEVER, "do not build"),
        ("100 mA resettable", "60 m", NEVER, "do not build"),
    ],
)
def test_outcomes(fuse, run, outcome, grade):
    action = fuse_action(board(fuse, run), "post 3")
    assert action.outcome == outcome
    assert (action.within is None) == (outcome != QUICK)
    (finding,) = findings(action)
    assert finding.grade == grade


def test_what_has_to_be_done_afterwards_depends_on_the_kind():
    (again,) = findings(fuse_action(board("100 mA resettable"), "post 1"))
    assert "has cooled" in again.reason + again.remedy
    (new,) = findings(fuse_action(board("400 mA fast glass"), "post 1"))
    assert "a new one of the same rating" in new.reason + new.remedy


def test_what_is_refused():
    with pytest.raises(DesignError, match="has no fuse"):
        fuse_action(dataclasses.replace(board("100 mA resettable"), fuse=None), "post 1")
    with pytest.raises(UnknownNameError, match="node"):
        fuse_action(board("100 mA resettable"), "post 9")
    with pytest.raises(UnitError, match="fuse_action"):
        findings("acts")
