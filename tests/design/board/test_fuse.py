"""Fuses and short circuits on a board: each condition by hand, the choice against all smaller fuses, verdicts."""

import dataclasses

import numpy as np
import pytest

from sigcalc.design.board.board import SUPPLY, Board, BoardSignal, FeederSection, chain_board, star_board
from sigcalc.design.board.feeder import study_board
from sigcalc.design.board.fuse import NEVER, QUICK, SLOW, check_fuse, choose_fuse, fuse_action, short_at
from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.power.load import Load
from sigcalc.errors import DesignError, RangeError, UnitError, UnknownNameError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.fuse import fuses
from sigcalc.parts.led import leds
from sigcalc.parts.source import Adapter, adapters, batteries
from sigcalc.parts.wire import wire_resistance

# ---- fuses

PAIR = TwoLeadPair(leds["red alingap 3 mm"], leds["green ingan 3 mm"])
LOAD = Load(ResistorDrive("470 ohm", 0.05), PAIR)
TEN = Load(ConstantCurrentDrive("10 mA", "1.5 V"), PAIR)
ADAPTER = adapters["9 V regulated"]
STAR = star_board("star", ADAPTER, TEN, 8, 26, "3 m", "2 m")


def grades(check):
    return {each.topic: each.grade for each in check.findings}


def test_every_figure_by_hand():
    check = check_fuse(STAR, "100 mA resettable")
    loop = STAR.ohms[1:]  # the trunk, then eight equal runs
    assert check.si.load_current == pytest.approx(0.08, rel=1e-12)
    assert check.si.held_current == pytest.approx(0.095)  # at 25 °C
    # the source at its least, the fuse after a trip (7.5 ohm), and a contact of 50 mohm
    assert check.si.short_current == pytest.approx(9 * 0.95 / (0.1 + 7.5 + loop[0] + loop[1] + 0.05), rel=1e-12)
    assert check.si.fault_current == pytest.approx(9 * 1.05 / (0.1 + 2.5 + 0.05), rel=1e-12)
    assert check.si.sure_current == pytest.approx(0.5, rel=1e-12)  # the adapter's rating
    assert check.farthest.startswith("end")
    # 26 AWG: 254.1 circular mils (T. R. Kuphaldt, Lessons In Electric Circuits I, ch. 12), 700 an ampere
    assert check.si.bearable == pytest.approx(254.1 / 700, rel=1e-3)
    assert check.suits
    # the adapter gives the 0.5 A of the data sheet's time
    assert check.findings[2].reason.endswith("the fuse has acted after 4 s.")


def test_the_choice_is_the_smallest_that_suits():
    for kind in ("resettable", "one-time"):
        board = STAR if kind == "resettable" else star_board("star", batteries["6 x AA alkaline"], TEN, 8, 20, "3 m")
        choice = choose_fuse(board, kind=kind)
        smaller = [
            each for each in fuses.values() if each.kind == kind and each.hold_current < choice.fuse.hold_current
        ]
        assert choice.suits
        assert not any(check_fuse(board, each).suits for each in smaller)
    assert choose_fuse(STAR).fuse.name == "100 mA resettable"


def test_a_branch_has_its_own_load_wire_and_short():
    wires = (
        FeederSection("trunk", SUPPLY, "board", 20, "2 m"),
        FeederSection("thin", "board", "post", 30, "10 m"),
        FeederSection("thinner", "post", "yard", 30, "20 m"),
        FeederSection("thick", "board", "hall", 22, "30 m"),
    )
    nodes = ("post", "yard", "hall", "hall")
    signals = tuple(BoardSignal(f"signal {k}", node, TEN) for k, node in enumerate(nodes))
    board = Board("mixed", ADAPTER, wires, signals)
    check = check_fuse(board, "50 mA resettable", at="thin")
    assert check.si.load_current == pytest.approx(0.02, rel=1e-12)
    assert (check.at, check.thinnest, check.farthest) == ("thin", "thin", "yard")
    whole = check_fuse(board, "50 mA resettable")
    assert whole.si.load_current == pytest.approx(0.04, rel=1e-12)
    assert whole.at == "source"
    thick = check_fuse(board, "50 mA resettable", at="thick")
    assert thick.farthest == "hall"
    assert thick.si.bearable > 5 * check.si.bearable


def test_a_fuse_for_thin_wire_has_to_be_small():
    thin = star_board("star", ADAPTER, Load(ConstantCurrentDrive("15 mA", "1.5 V"), PAIR), 8, 30, "3 m")
    with pytest.raises(DesignError, match=r"'170 mA resettable', but the thinnest wire, 'trunk', is rated for 144 mA"):
        choose_fuse(thin)
    assert grades(check_fuse(thin, "170 mA resettable"))["thinnest wire"] == STOP
    assert choose_fuse(thin, at="run 1").fuse.name == "50 mA resettable"


def test_one_remedy_is_given_for_all_that_is_wrong_and_never_a_larger_and_a_smaller_fuse():
    def remedies(board, fuse):
        return {each.remedy for each in check_fuse(board, fuse).findings if each.grade == STOP}

    # too small for the load: the one that suits is named
    thick = star_board("star", ADAPTER, Load(ResistorDrive("470 ohm", 0.05), PAIR), 12, 20, "1 m")
    assert remedies(thick, "50 mA resettable") == {f"Use the fuse {choose_fuse(thick).fuse.name!r} in its place."}
    # too large for the wire, and may not act on a far short: likewise
    thin = chain_board("chain", ADAPTER, TEN, 3, 30, "5 m")
    assert len([each for each in check_fuse(thin, "500 mA resettable").findings if each.grade == STOP]) > 1
    assert remedies(thin, "500 mA resettable") == {f"Use the fuse {choose_fuse(thin).fuse.name!r} in its place."}
    # too small for the load, and any larger too large for the wire: no fuse at all, said in one sentence
    both = star_board("star", ADAPTER, Load(ConstantCurrentDrive("15 mA", "1.5 V"), PAIR), 8, 30, "3 m")
    for fuse in ("100 mA resettable", "250 mA resettable"):
        (remedy,) = remedies(both, fuse)
        assert remedy.startswith("No fuse suits: ")
        assert "use thicker wire or a stronger source, or give each branch a fuse of its own" in remedy


def test_a_short_far_down_thin_wire_may_never_trip():
    far = Board(
        "far",
        ADAPTER,
        (FeederSection("trunk", SUPPLY, "board", 22, "1 m"), FeederSection("long", "board", "yard", 24, "140 m")),
        (*(BoardSignal(f"near {k}", "board", TEN) for k in range(15)), BoardSignal("far", "yard", TEN)),
    )
    check = check_fuse(far, "170 mA resettable")
    assert grades(check)["far short"] == STOP
    with pytest.raises(DesignError, match=r"a short at 'yard' draws .* at the least; the fuse needs"):
        choose_fuse(far)


def test_an_adapter_too_weak_for_its_fuse():
    weak = Adapter("weak", "9 V", 0.05, "0.1 ohm", "150 mA")
    check = check_fuse(star_board("star", weak, TEN, 8, 24, "3 m"), "100 mA resettable")
    assert grades(check)["far short"] == STOP
    assert check.si.short_current > 0.2
    assert "the adapter is sure to give 150 mA" in check.findings[2].reason


def test_slowly_is_said():
    check = check_fuse(star_board("star", ADAPTER, TEN, 8, 22, "3 m"), "250 mA resettable")
    assert grades(check)["far short"] == LOOK  # the adapter just gives 0.5 A; the data sheet's time is for 1.25 A


def test_the_fuses_own_resistance_dims():
    bright = Load(ResistorDrive("470 ohm", 0.05), PAIR)
    check = check_fuse(star_board("star", ADAPTER, bright, 5, 22, "1 m"), "100 mA resettable")
    assert check.share < check.share_without
    assert grades(check)["fuse's resistance"] == LOOK
    driven = check_fuse(star_board("star", ADAPTER, TEN, 8, 22, "1 m"), "100 mA resettable")
    assert driven.share == driven.share_without == 1.0
    assert "fuse's resistance" not in grades(driven)


def test_load_beyond_the_fuse_and_faults_beyond_it():
    many = star_board("star", ADAPTER, LOAD, 20, 20, "1 m")
    assert grades(check_fuse(many, "100 mA resettable"))["load"] == STOP
    stiff = Adapter("stiff", "12 V", 0.0, "0 ohm", "10 A")
    weak = dataclasses.replace(fuses["1 A fast glass"], max_fault_current="9 A")
    check = check_fuse(star_board("star", stiff, TEN, 8, 16, "1 m"), weak)
    assert not check.suits
    assert grades(check)["fault current"] == STOP
    assert grades(check)["load"] == FINE


def test_a_strong_battery_gives_more_than_a_glass_fuse_stands(monkeypatch):
    strong = dataclasses.replace(batteries["6 x AA NiMH"], internal_resistance_min="20 mohm")
    board = star_board("star", strong, TEN, 8, 16, "1 m")
    check = check_fuse(board, "1 A fast glass")
    assert check.si.fault_current > 35
    assert grades(check)["fault current"] == STOP
    monkeypatch.setattr("sigcalc.design.board.fuse.fuses", {"1 A fast glass": fuses["1 A fast glass"]})
    with pytest.raises(DesignError, match=r"the fuse is rated for 35 A; use one rated for more"):
        choose_fuse(board, kind="one-time")


def test_a_short_that_an_adapter_gives_for_an_instant_only_is_looked_at_and_no_more():
    """82 A is what 12 V would drive through 146 mohm; an adapter rated 10 A holds that for no time worth the name."""
    adapter = Adapter("stiff", "12 V", 0.0, "0 ohm", "10 A")
    check = check_fuse(star_board("star", adapter, TEN, 8, 16, "1 m"), "1 A fast glass")
    assert check.si.fault_current > check.fuse.si.max_fault_current
    (found,) = (each for each in check.findings if each.topic == "fault current")
    assert found.grade == LOOK
    assert "Rated 10 A" in found.reason


def test_a_supply_above_the_fuse_s_voltage_is_said_as_such():
    low = dataclasses.replace(fuses["100 mA resettable"], max_voltage="9 V")
    check = check_fuse(STAR, low)  # 9 V and 5 % more
    assert not check.suits
    (found,) = (each for each in check.findings if each.topic in ("voltage", "fault current"))
    assert found.reason == "The source's voltage at the fuse is up to 9.45 V; its limit is 9 V."


@pytest.mark.parametrize(
    ("kind", "said", "call"),
    [
        (UnknownNameError, "section", lambda: check_fuse(STAR, "100 mA resettable", at="run 9")),
        (UnknownNameError, "fuse", lambda: check_fuse(STAR, "100 A")),
        (UnitError, "fuse needs", lambda: check_fuse(STAR, 0.1)),
        (UnknownNameError, "kind of fuse", lambda: choose_fuse(STAR, kind="slow")),
        (UnknownNameError, "kind of fuse", lambda: choose_fuse(STAR, kind=np.array(["resettable", "slow"]))),
        (UnknownNameError, "section", lambda: check_fuse(STAR, "100 mA resettable", at=np.array(["run 1", "run 2"]))),
        (UnitError, "Board", lambda: choose_fuse("star")),
        (DesignError, "no resettable fuse of the table carries", lambda: choose_fuse(_heavy())),
        (RangeError, "at least one section", lambda: choose_fuse(_bare())),
    ],
)
def test_what_cannot_be_checked_is_refused(kind, said, call):
    with pytest.raises(kind, match=said):
        call()


def _heavy():
    return star_board("heavy", Adapter("big", "12 V", 0.0, "0 ohm", "5 A"), LOAD, 90, 16, "0.1 m")


def _bare():
    return Board("bench", ADAPTER, (), (BoardSignal("one", SUPPLY, TEN),))


# ---- action

LOAD_ACTION = Load(ResistorDrive("1 kohm"), leds["red alingap 3 mm"])
ADAPTER_ACTION = adapters["12 V regulated"]


def board(fuse, run="1 m", source=ADAPTER_ACTION, gauge=30):
    made = chain_board("chain", source, LOAD_ACTION, 3, gauge, run, run)
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
    (finding,) = action.findings
    assert finding.grade == grade


def test_what_has_to_be_done_afterwards_depends_on_the_kind():
    (again,) = fuse_action(board("100 mA resettable"), "post 1").findings
    assert "has cooled" in again.reason + again.remedy
    (new,) = fuse_action(board("400 mA fast glass"), "post 1").findings
    assert "a new one of the same rating" in new.reason + new.remedy


def test_what_is_refused():
    with pytest.raises(DesignError, match="has no fuse"):
        fuse_action(dataclasses.replace(board("100 mA resettable"), fuse=None), "post 1")
    with pytest.raises(UnknownNameError, match="node"):
        fuse_action(board("100 mA resettable"), "post 9")


# ---- short

PAIR_SHORT = TwoLeadPair(leds["red alingap 3 mm"], leds["green ingan 3 mm"])
LOAD_SHORT = Load(ResistorDrive("470 ohm", 0.05), PAIR_SHORT, standby="3 mA")
ADAPTER_SHORT = adapters["9 V regulated"]


def grades_short(short):
    return {each.topic: each.grade for each in short.findings}


def test_a_short_alone_is_limited_by_source_and_wire():
    tiny = Load(ResistorDrive("1 Mohm"), PAIR_SHORT)
    wire = FeederSection("run", SUPPLY, "post", 26, "10 m")
    board = Board("one", ADAPTER_SHORT, (wire,), (BoardSignal("one", "post", tiny),))
    short = short_at(board, "post")
    expected = 9.0 / (0.1 + wire.loop_resistance.to("ohm").magnitude + 0.05)
    assert short.si.current == pytest.approx(expected, rel=1e-4)  # the lamp still takes a few microamperes


def test_an_adapter_that_holds_its_rating_starves_the_whole_board():
    board = star_board("star", ADAPTER_SHORT, LOAD_SHORT, 5, 22, "2 m", "3 m")
    short = short_at(board, "end 3")
    assert short.held.limited
    assert short.held.si.supply_current == pytest.approx(0.5, rel=1e-9)
    assert short.dark == tuple(f"signal {k}" for k in range(1, 6))
    assert "dark" in short.findings[2].reason


def test_behind_thin_wire_the_near_signals_stay_lit():
    short = short_at(chain_board("chain", adapters["12 V regulated"], LOAD_SHORT, 8, 30, "4 m", "0 m"), "post 8")
    assert short.dark[-1] == "signal 8"
    assert "signal 1" not in short.dark
    assert short.dimmed
    assert "signal 1" not in short.dimmed  # it hangs at the adapter itself, which is not overloaded
    assert short.share[0] > 0.98
    shares = short.share
    assert (np.diff(shares) < 0).all()
    assert grades_short(short)["wires"] == STOP


def test_without_any_other_cause_nobody_dims():
    # far more wire to the short than to the signals, and a stiff source
    near = FeederSection("near", SUPPLY, "post", 16, "0 m")
    far = FeederSection("far", SUPPLY, "yard", 30, "100 m")
    board = Board("two", adapters["9 V regulated"], (near, far), (BoardSignal("one", "post", LOAD_SHORT),))
    short = short_at(board, "yard")
    assert short.dark == ()
    assert short.share[0] > 0.99
    assert "No signal goes dark" in short.findings[2].reason
    # 9 V over some 68 ohm: no more than the adapter gives, so that it will not switch off
    assert grades_short(short)["source"] == LOOK
    assert short.si.current < 0.5


def test_a_battery_holds_nothing_back():
    short = short_at(star_board("star", batteries["6 x AA alkaline"], LOAD_SHORT, 3, 22, "2 m"), "terminal strip")
    assert short.held is None
    volts, inside = batteries["6 x AA alkaline"].corners[1]
    # what little voltage is left still feeds the timer boards a little
    assert short.si.current == pytest.approx(volts / (inside + 0.05), rel=0.01)
    assert short.findings[0].grade == LOOK
    assert "hot" in short.findings[0].reason


def test_the_currents_add_up():
    board = chain_board("chain", ADAPTER_SHORT, Load(ResistorDrive("470 ohm"), PAIR_SHORT), 4, 28, "5 m", "1 m")
    short = short_at(board, "post 2")
    state = short.free
    through = state.si.node_voltage[board.node_number("post 2")] / 0.05
    assert through == pytest.approx(short.si.current, rel=1e-12)
    assert state.si.supply_current == pytest.approx(state.si.current.sum() + through, rel=1e-12)
    assert (state.si.current < study_board(board).state().si.current).all()


def test_what_cannot_be_shorted_is_refused():
    board = star_board("star", ADAPTER_SHORT, LOAD_SHORT, 2, 22, "2 m")
    with pytest.raises(UnknownNameError, match="end 1"):
        short_at(board, "end 9")
    with pytest.raises(UnitError, match="Board"):
        short_at("star", "terminal strip")


def test_under_a_hundredth_of_its_light_a_lamp_is_out_and_not_dim():
    """At the shorted post 0.6 % of the light is left: more than the 10 uA at which a lamp counts as lit."""
    short = short_at(chain_board("chain", ADAPTER_SHORT, LOAD_SHORT, 4, 20, "1 m"), "post 4")
    little = [each for each, share in zip(short.board.signals, short.share, strict=True) if share < 0.01]
    assert little
    assert {each.name for each in little} <= set(short.dark)
    assert not {each.name for each in little} & set(short.dimmed)
