"""How many signals one source feeds, counted against smaller and larger boards."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sigcalc.design.board.board import chain_board
from sigcalc.design.board.feeder import study_board
from sigcalc.design.board.limits import LAYOUTS, RULE_OF_THUMB, add_signals, most_signals
from sigcalc.design.findings import FINE, LOOK
from sigcalc.design.power.load import Load
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.source import Adapter, adapters, batteries
from sigcalc.units import Q
from tests.design.board.samples import NINE, PAIR, PAIRS, RED, TWELVE
from tests.refusals import refused

BLOCK = batteries["9 V alkaline"]
DRIVER = Load(ConstantCurrentDrive("20 mA", "1.5 V"), PAIR)


@pytest.mark.parametrize("layout", list(LAYOUTS))
@pytest.mark.parametrize(("name", "share"), [("9 V regulated", 0.8), ("9 V alkaline", 0.75), ("9 V regulated", 0.97)])
def test_the_count_is_the_last_that_fits(layout, name, share):
    source = {**adapters, **batteries}[name]
    result = most_signals(source, PAIRS, 28, "2 m", layout, share=share)

    def fits(count):
        study = study_board(LAYOUTS[layout]("again", source, PAIRS, count, 28, "2 m"))
        enough = name == "9 V alkaline" or study.supply_current.m_as("A") <= 0.8 * source.si.max_current
        return enough and study.weakest.share_min >= share

    tried = [*range(1, result.count, 3), result.count, result.count + 1]
    assert [fits(count) for count in tried] == [True] * (len(tried) - 1) + [False]
    assert result.limited_by == ("light" if result.next_share < share else "adapter")


def test_drivers_on_a_stiff_adapter_are_counted_by_hand():
    # no wire to speak of: 20 mA each into 80 % of 500 mA
    result = most_signals(NINE, DRIVER, 20, "0 m", "star")
    assert (result.count, result.limited_by, result.share) == (20, "adapter", 1.0)
    assert (result.si.current, result.si.allowed) == pytest.approx((0.4, 0.4), rel=1e-9)
    assert "Here the rule fits." not in result.findings[1].reason
    # common practice, no source: one 9 V adapter feeds up to about five signals, if it is one of 125 mA
    strong, five = Adapter("strong", "9 V", 0.0, "0 ohm", "10 A"), Load(ConstantCurrentDrive("5 mA", "1.5 V"), PAIR)
    endless = most_signals(strong, five, 20, "0 m", "star")
    assert (endless.count, endless.limited_by, "No end" in endless.findings[0].reason) == (1000, "count", True)
    small = most_signals(Adapter("small 9 V", "9 V", 0.05, "0.1 ohm", "125 mA"), DRIVER, 24, "2 m", "star")
    assert small.count == RULE_OF_THUMB
    assert all(each in small.findings[1].reason for each in ("adapter of about 125 mA", "Here the rule fits."))


def test_what_limits_the_count_depends_on_wire_and_source():
    thin, thick = (most_signals(NINE, PAIRS, gauge, "3 m") for gauge in (30, 20))
    assert thin.count < thick.count
    assert (thin.limited_by, thick.limited_by) == ("light", "adapter")
    battery = most_signals(BLOCK, PAIRS, 26, "1 m", "star", share=0.7)
    found = battery.findings[1]
    assert (battery.allowed, battery.limited_by, found.topic, found.grade) == (None, "light", "battery", LOOK)
    few = most_signals(NINE, PAIRS, 30, "30 m", share=0.7)
    assert 1 <= few.count < RULE_OF_THUMB
    assert [each.grade for each in few.findings] == [LOOK, FINE]


@settings(max_examples=4)
@given(st.floats(0.5, 6.0), st.floats(0.5, 0.95), st.sampled_from(list(LAYOUTS)))
def test_asking_for_more_light_never_takes_more_signals(run, share, layout):
    some, more = (most_signals(NINE, PAIRS, 28, Q(run, "m"), layout, share=each) for each in (share, share - 0.2))
    assert some.count <= more.count
    assert some.share >= share


# ---- adding

HEAVY = Load(ResistorDrive("1 kohm", 0.05), RED, standby="40 mA")


def test_each_count_is_that_board():
    found = add_signals(TWELVE, HEAVY, 26, "1.5 m", [1, 4, 9])
    studies = [study_board(chain_board("chain", TWELVE, HEAVY, count, 26, "1.5 m")) for count in (1, 4, 9)]
    assert found.si.share == pytest.approx([each.weakest.share_min for each in studies])
    assert found.si.current == pytest.approx([each.supply_current.m_as("A") for each in studies])
    most = most_signals(TWELVE, HEAVY, 26, "1.5 m", "star")
    found = add_signals(TWELVE, HEAVY, 26, "1.5 m", [most.count, most.count + 1], "star")
    assert found.si.share == pytest.approx([most.share, most.next_share])
    assert found.si.current == pytest.approx([most.si.current, most.si.next_current])


def test_more_signals_never_mean_more_light_or_less_current():
    found = add_signals(TWELVE, HEAVY, 30, "1 m", range(1, 12)).si
    # each one more costs more than the one before
    assert all((steps < 0).all() for steps in (np.diff(found.share), np.diff(-found.current), np.diff(found.share, 2)))


test_what_cannot_be_counted_is_refused = refused(
    (lambda: most_signals(NINE, PAIRS, 30, "100 m", "star", share=0.99), "not even one signal has 99 %"),
    (lambda: most_signals(NINE, PAIRS, 26, "2 m", derating=0.001), "not even one signal fits: it draws"),
    (lambda: most_signals(NINE, PAIRS, 26, "2 m", ["star"]), "layout needs one of"),
    (lambda: most_signals(NINE, PAIRS, 26, "2 m", share=0.0), "share needs a fraction from 0.1 %"),
    (lambda: add_signals(NINE, PAIRS, 26, "2 m", [1.5]), "count needs a whole number"),
    (lambda: add_signals(NINE, PAIRS, 26, "2 m", "12"), "counts needs a list of whole numbers"),
)
