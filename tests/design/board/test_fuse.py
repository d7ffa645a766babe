"""Fuses and short circuits on a board: each condition by hand, the choice against all smaller fuses, verdicts."""

import dataclasses

import numpy as np
import pytest

from sigcalc.design.board.board import SUPPLY, Board, BoardSignal, FeederSection, chain_board, star_board
from sigcalc.design.board.feeder import study_board
from sigcalc.design.board.fuse import NEVER, QUICK, SLOW, check_fuse, choose_fuse, fuse_action, short_at
from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.power.load import Load
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.fuse import fuses
from sigcalc.parts.source import Adapter, batteries
from sigcalc.parts.wire import wire_resistance
from sigcalc.units import Q
from tests.design.board.samples import NINE, PAIR, PAIRS, RED, TEN, TWELVE, bench, chain, loop_ohms, star, wired
from tests.refusals import refused

CELLS = batteries["6 x AA alkaline"]
FIFTEEN = Load(ConstantCurrentDrive("15 mA", "1.5 V"), PAIR)
STRONG = Adapter("stiff", "12 V", 0.0, "0 ohm", "10 A")


def grades(result):
    return {each.topic: each.grade for each in result.findings}


# ---- fuses

STAR = star_board("star", NINE, TEN, 8, 26, "3 m", "2 m")
THIN = star(FIFTEEN, gauge=30)  # no fuse that carries the load protects the trunk


def test_every_figure_by_hand():
    check = check_fuse(STAR, "100 mA resettable")
    loop = STAR.ohms[1:]  # the trunk, then eight equal runs
    # what the fuse holds at 25 °C, and the adapter's rating
    ratings = check.si.load_current, check.si.held_current, check.si.sure_current
    assert ratings == pytest.approx((0.08, 0.095, 0.5), rel=1e-12)
    # the source at its least, the fuse after a trip (7.5 ohm), and a contact of 50 mohm
    assert check.si.short_current == pytest.approx(9 * 0.95 / (0.1 + 7.5 + loop[0] + loop[1] + 0.05), rel=1e-12)
    assert check.si.fault_current == pytest.approx(9 * 1.05 / (0.1 + 2.5 + 0.05), rel=1e-12)

    assert check.farthest.startswith("end")
    # 26 AWG: 254.1 circular mils (T. R. Kuphaldt, Lessons In Electric Circuits I, ch. 12), 700 an ampere
    assert check.si.bearable == pytest.approx(254.1 / 700, rel=1e-3)
    assert check.suits
    # the adapter gives the 0.5 A of the data sheet's time
    assert check.findings[2].reason.endswith("the fuse has acted after 4 s.")


@pytest.mark.parametrize(("kind", "board"), [("resettable", STAR), ("one-time", star(gauge=20, source=CELLS))])
def test_the_choice_is_the_smallest_that_suits(kind, board):
    choice = choose_fuse(board, kind=kind)
    smaller = [each for each in fuses.values() if each.kind == kind and each.hold_current < choice.fuse.hold_current]
    assert choice.suits
    assert not any(check_fuse(board, each).suits for each in smaller)


def test_a_branch_has_its_own_load_wire_and_short():
    ways = ("trunk", SUPPLY, "board", 20, "2 m"), ("thin", "board", "post", 30, "10 m")
    ways += ("thinner", "post", "yard", 30, "20 m"), ("thick", "board", "hall", 22, "30 m")
    wires = tuple(FeederSection(*way) for way in ways)
    signals = tuple(BoardSignal(f"signal {k}", node, TEN) for k, node in enumerate(("post", "yard", "hall", "hall")))
    board = Board("mixed", NINE, wires, signals)
    whole, thin, thick = (check_fuse(board, "50 mA resettable", at) for at in (None, "thin", "thick"))
    assert [whole.si.load_current, thin.si.load_current] == pytest.approx([0.04, 0.02], rel=1e-12)
    assert (whole.at, thin.at, thin.thinnest) == ("source", "thin", "thin")
    assert (thin.farthest, thick.farthest) == ("yard", "hall")
    assert thick.si.bearable > 5 * thin.si.bearable


def test_one_remedy_is_given_for_all_that_is_wrong_and_never_a_larger_and_a_smaller_fuse():
    remedies = lambda *fused: [each.remedy for each in check_fuse(*fused).findings if each.grade == STOP]  # noqa: E731

    # too small for the load; and too large for the wire, and may not act on a far short: the one that suits is named
    for board, fuse in (
        (star(PAIRS, 12, 20, "1 m"), "50 mA resettable"),
        (chain_board("chain", NINE, TEN, 3, 30, "5 m"), "500 mA resettable"),
    ):
        assert set(remedies(board, fuse)) == {f"Use the fuse {choose_fuse(board).fuse.name!r} in its place."}
    assert len(remedies(board, fuse)) > 1
    # too small for the load, and any larger too large for the wire: no fuse at all, said in one sentence
    for fuse in ("100 mA resettable", "250 mA resettable"):
        (remedy,) = set(remedies(THIN, fuse))
        assert remedy.startswith("No fuse suits: ")
        assert "a fuse of its own" in remedy
    assert choose_fuse(THIN, at="run 1").fuse.name == "50 mA resettable"


WAYS = FeederSection("trunk", SUPPLY, "board", 22, "1 m"), FeederSection("long", "board", "yard", 24, "140 m")
NEAR = (BoardSignal(f"near {k}", "board", TEN) for k in range(15))
FAR = Board("far", NINE, WAYS, (*NEAR, BoardSignal("far", "yard", TEN)))
WEAK = Adapter("weak", "9 V", 0.05, "0.1 ohm", "150 mA")
HOLDS_9_A = dataclasses.replace(fuses["1 A fast glass"], max_fault_current="9 A")
HOLDS_9_V = dataclasses.replace(fuses["100 mA resettable"], max_voltage="9 V")
FRESH = dataclasses.replace(batteries["6 x AA NiMH"], internal_resistance_min="20 mohm")


@pytest.mark.parametrize(
    ("board", "fuse", "topic", "grade", "said"),
    [
        (THIN, "170 mA resettable", "thinnest wire", STOP, ""),
        (star(PAIRS, 20, 20, "1 m"), "100 mA resettable", "load", STOP, ""),
        (FAR, "170 mA resettable", "far short", STOP, ""),
        (star(source=WEAK), "100 mA resettable", "far short", STOP, "the adapter is sure to give 150 mA"),
        # the adapter just gives 0.5 A; the data sheet's time is for 1.25 A
        (star(), "250 mA resettable", "far short", LOOK, ""),
        (star(gauge=16, run="1 m", source=STRONG), HOLDS_9_A, "fault current", STOP, ""),
        (star(gauge=16, run="1 m", source=FRESH), "1 A fast glass", "fault current", STOP, ""),
        # 82 A through 146 mohm; an adapter rated 10 A holds that for no time worth the name
        (star(gauge=16, run="1 m", source=STRONG), "1 A fast glass", "fault current", LOOK, "Rated 10 A"),
        (star(PAIRS, 5, 22, "1 m"), "100 mA resettable", "fuse's resistance", LOOK, ""),
        # 9 V and 5 % more
        (STAR, HOLDS_9_V, "voltage", STOP, "is up to 9.45 V; its limit is 9 V."),
    ],
)
def test_what_is_wrong_with_a_fuse(board, fuse, topic, grade, said):
    check = check_fuse(board, fuse)
    (found,) = (each for each in check.findings if each.topic == topic)
    assert found.grade == grade
    assert said in found.reason + found.remedy
    assert check.suits is (grade != STOP)


# ---- what a fuse does

LAMPS = Load(ResistorDrive("1 kohm"), RED)


def fused(fuse, run="1 m", source=TWELVE, gauge=30):
    return dataclasses.replace(chain(LAMPS, 3, gauge, run, source), fuse=fuses[fuse])


def test_the_current_is_voltage_over_everything_in_the_way():
    # an adapter is not sure to give more than its rating, and a battery is
    assert fuse_action(fused("300 mA resettable"), "post 1").si.current == 1.0
    own = fuses["100 mA resettable"].si.resistance_max
    for source, run, gauge in ((TWELVE, 20, 30), (CELLS, 1, 22)):
        volts, inside = source.corners[0]
        way = inside + own + 2 * wire_resistance(gauge, Q(3 * run, "m")).m_as("ohm") + 0.05
        action = fuse_action(fused("100 mA resettable", Q(run, "m"), source, gauge), "post 3")
        assert action.si.current == pytest.approx(volts / way, rel=1e-9)


@pytest.mark.parametrize(
    ("fuse", "run", "outcome", "grade", "said"),
    [
        ("100 mA resettable", "1 m", QUICK, FINE, "has cooled"),
        ("400 mA fast glass", "0.1 m", SLOW, LOOK, "a new one of the same rating"),
        ("300 mA resettable", "1 m", SLOW, LOOK, "slowly"),
        ("650 mA resettable", "1 m", NEVER, STOP, "never"),
        ("100 mA resettable", "60 m", NEVER, STOP, "never"),
    ],
)
def test_what_a_fuse_does(fuse, run, outcome, grade, said):
    action = fuse_action(fused(fuse, run), "post 3")
    (found,) = action.findings
    assert (action.outcome, found.grade) == (outcome, grade)
    assert said in found.reason + found.remedy


# ---- shorts

BUSY = dataclasses.replace(PAIRS, standby="3 mA")


def test_an_adapter_that_holds_its_rating_starves_the_whole_board():
    short = short_at(star_board("star", NINE, BUSY, 5, 22, "2 m", "3 m"), "end 3")
    assert short.held.limited
    assert short.held.si.supply_current == pytest.approx(0.5, rel=1e-9)
    assert short.dark == tuple(f"signal {k}" for k in range(1, 6))


def test_behind_thin_wire_the_near_signals_stay_lit():
    short = short_at(chain_board("chain", TWELVE, BUSY, 8, 30, "4 m", "0 m"), "post 8")
    assert short.dark[-1] == "signal 8"
    assert "lose light" in short.findings[2].reason
    assert short.share[0] > 0.98  # it is at the adapter itself, which is not overloaded
    assert (np.diff(short.share) < 0).all()
    assert grades(short)["wires"] == STOP


def test_without_any_other_cause_nobody_dims():
    # far more wire to the short than to the signals, and a stiff source
    sections = (FeederSection("near", SUPPLY, "post", 16, "0 m"), FeederSection("far", SUPPLY, "yard", 30, "100 m"))
    short = short_at(Board("two", NINE, sections, (BoardSignal("one", "post", BUSY),)), "yard")
    assert (short.dark, grades(short)["source"]) == ((), LOOK)
    assert short.share[0] > 0.99
    assert short.si.current < 0.5  # 9 V over some 68 ohm: no more than the adapter gives, so that it stays on


def test_what_limits_a_short():
    board = wired(Load(ResistorDrive("1 Mohm"), PAIR), 26, "10 m", NINE)
    # the lamp still takes a few microamperes
    assert short_at(board, "post").si.current == pytest.approx(9.0 / (0.1 + loop_ohms(board) + 0.05), rel=1e-4)
    short = short_at(star(BUSY, 3, 22, "2 m", CELLS), "terminal strip")
    assert short.held is None  # a battery holds nothing back
    volts, inside = CELLS.corners[1]
    # what little voltage is left still feeds the timer boards a little
    assert short.si.current == pytest.approx(volts / (inside + 0.05), rel=0.01)
    assert (short.findings[0].grade, "hot" in short.findings[0].reason) == (LOOK, True)


def test_the_currents_add_up():
    board = chain_board("chain", NINE, PAIRS, 4, 28, "5 m", "1 m")
    short = short_at(board, "post 2")
    state, through = short.free.si, float(short.free.si.node_voltage[board.node_number("post 2")]) / 0.05
    assert through == pytest.approx(short.si.current, rel=1e-12)
    assert state.supply_current == pytest.approx(state.current.sum() + through, rel=1e-12)
    assert (state.current < study_board(board).state().si.current).all()


def test_under_a_hundredth_of_its_light_a_lamp_is_out_and_not_dim():
    """At the shorted post 0.6 % of the light is left: more than the 10 uA at which a lamp counts as lit."""
    short = short_at(chain(BUSY, 4, 20, "1 m"), "post 4")
    little = {each.name for each, share in zip(short.board.signals, short.share, strict=True) if share < 0.01}
    assert little == set(short.dark) != set()
    assert "light" not in short.findings[2].reason


test_what_is_refused = refused(
    (lambda: choose_fuse(STAR, kind=np.array(["resettable", "slow"])), "kind of fuse"),
    (lambda: choose_fuse(bench(TEN)), "at least one section"),
    (lambda: choose_fuse(THIN), "'170 mA resettable', but the thinnest wire, '.*', is rated for 144 mA"),
    (lambda: choose_fuse(FAR), "a short at 'yard' draws .* at the least; the fuse needs"),
    (lambda: choose_fuse(star(PAIRS, 90, 16, "0.1 m", STRONG)), "no resettable fuse of the table carries"),
    (lambda: choose_fuse(star(TEN, 70, 16, "1 m", FRESH), kind="one-time"), "up to 45.7 A, .* rated for 35 A; use one"),
    (lambda: fuse_action(STAR, "end 1"), "has no fuse"),
    (lambda: short_at(STAR, "end 9"), "end 8"),
)
