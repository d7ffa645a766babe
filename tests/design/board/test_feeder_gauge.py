"""The thinnest wire that is enough: against a study with each gauge, and what is refused."""

import dataclasses

import pytest

from sigcalc.design.board.board import SUPPLY, Board, BoardSignal, chain_board, star_board
from sigcalc.design.board.feeder import study_board
from sigcalc.design.board.feeder_gauge import findings, gauge_for
from sigcalc.design.findings import FINE, LOOK
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.power.load import Load
from sigcalc.errors import DesignError, RangeError, UnitError, UnknownNameError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.fuse import bearable_current
from sigcalc.parts.led import leds
from sigcalc.parts.source import Adapter, adapters

PAIR = TwoLeadPair(leds["red alingap 3 mm"], leds["green ingan 3 mm"])
LOAD = Load(ResistorDrive("470 ohm", 0.05), PAIR)
BOARD = chain_board("chain", adapters["9 V regulated"], LOAD, 8, 30, "2 m", "3 m")


@pytest.mark.parametrize("share", [0.85, 0.9, 0.95, 0.97])
def test_the_choice_is_enough_and_the_next_thinner_is_not(share):
    choice = gauge_for(BOARD, share)
    shares = []
    for gauge in (30, 28, 26, 24, 22, 20):
        wired = dataclasses.replace(
            BOARD, sections=tuple(dataclasses.replace(each, wire=gauge) for each in BOARD.sections)
        )
        shares.append((gauge, study_board(wired).weakest.share_min))
    assert choice.gauge == next(gauge for gauge, left in shares if left >= share)
    assert [(each.gauge, each.share) for each in choice.tried] == [
        (gauge, pytest.approx(left, rel=1e-12)) for gauge, left in shares[: len(choice.tried)]
    ]
    assert study_board(choice.board).weakest.share_min == pytest.approx(choice.share, rel=1e-12)


def test_only_the_sections_asked_about_change():
    choice = gauge_for(BOARD, 0.88, sections=["section 1", "section 2"])
    assert [each.wire for each in choice.board.sections] == [choice.gauge] * 2 + [30] * 6
    assert gauge_for(BOARD, 0.88).gauge >= choice.gauge


def test_drivers_need_no_thick_wire():
    drivers = chain_board(
        "chain", adapters["9 V regulated"], Load(ConstantCurrentDrive("8 mA", "1.5 V"), PAIR), 8, 16, "2 m"
    )
    assert gauge_for(drivers, 1.0).gauge == 30


def test_findings_name_the_lamp_and_the_next_thinner_wire():
    found = findings(gauge_for(BOARD, 0.96))
    assert found[0].grade == FINE
    assert "24 AWG" in found[0].reason
    assert "26 AWG would leave" in found[0].reason
    thin = findings(gauge_for(star_board("star", adapters["12 V regulated"], LOAD, 20, 16, "0.5 m"), 0.5))
    assert {each.topic: each.grade for each in thin} == {"gauge": FINE, "wire current": LOOK, "strength": LOOK}


def test_the_wire_to_take_bears_the_current():
    choice = gauge_for(star_board("star", adapters["12 V regulated"], LOAD, 20, 16, "0.5 m"), 0.5)
    (found,) = (each for each in findings(choice) if each.topic == "wire current")
    gauge = int(found.remedy.split()[1])
    assert bearable_current(gauge).m_as("A") >= choice.si.current > bearable_current(gauge + 2).m_as("A")


@pytest.mark.parametrize(
    ("kind", "said", "arguments"),
    [
        (DesignError, "no gauge of 30, 28, 26, 24, 22, 20, 18, 16 keeps 99.99 %", {"share": 0.9999}),
        (RangeError, "share", {"share": 0.0}),
        (UnknownNameError, "section", {"sections": ["section 9"]}),
        (UnitError, "sections", {"sections": "section 1"}),
        (UnitError, "gauges", {"gauges": 26}),
        (UnitError, "gauges", {"gauges": ["26 AWG"]}),
        (UnitError, "gauge", {"gauges": [26.5]}),
        (RangeError, "gauge", {"gauges": [99]}),
        (UnitError, "board", {"board": "chain"}),
    ],
)
def test_what_cannot_be_chosen_is_refused(kind, said, arguments):
    with pytest.raises(kind, match=said):
        gauge_for(**{"board": BOARD} | arguments)


def test_a_board_without_a_section_has_no_wire_to_choose():
    stiff = Adapter("stiff", "9 V", 0.0, "0 ohm", "1 A")
    with pytest.raises(RangeError, match="at least one section"):
        gauge_for(Board("bench", stiff, (), (BoardSignal("one", SUPPLY, LOAD),)))
    with pytest.raises(UnitError, match="gauge_for"):
        findings(26)
