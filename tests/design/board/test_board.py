"""Boards as records: their shape, the usual ways to wire them, what one break costs, and what is refused."""

import numpy as np
import pytest

from sigcalc.design.board.board import (
    CHAIN,
    MIXED,
    STAR,
    WIRINGS,
    Board,
    BoardSignal,
    FeederSection,
    as_board,
    board_along,
    chain_board,
    star_board,
)
from sigcalc.design.board.feeder import study_board
from sigcalc.design.board.limits import compare_wirings, most_lost
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.power.load import Load
from sigcalc.errors import DesignError, RangeError, UnitError, UnknownNameError
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import ConstantDrop, Exponential, Led, diodes, leds
from sigcalc.parts.source import adapters
from sigcalc.parts.wire import wire_resistance, wires
from sigcalc.units import Q

# ---- records

ADAPTER = adapters["12 V regulated"]
LOAD = Load(ResistorDrive("470 ohm"), leds["red alingap 3 mm"])
SECTIONS = (
    FeederSection("trunk", "supply", "board", 22, "3 m"),
    FeederSection("north", "board", "post", 26, "2 m"),
    FeederSection("south", "board", "yard", "0.14 mm2 flexible", "1 m", "40 degC"),
)
SIGNALS = (BoardSignal("home", "post", LOAD), BoardSignal("starter", "yard", LOAD))


def test_loop_resistance_is_there_and_back():
    expected = 2 * wire_resistance(26, "2 m").to("ohm").magnitude
    assert SECTIONS[1].loop_resistance.to("ohm").magnitude == pytest.approx(expected, rel=1e-12)
    # HwB AWG table: 134 ohm per km, within 0.5 %
    assert FeederSection("a", "b", "c", 26, "500 m").loop_resistance.to("ohm").magnitude == pytest.approx(134, rel=5e-3)
    warm = wires["0.14 mm2 flexible"].resistance("2 m", "40 degC")
    assert SECTIONS[2].loop_resistance.to("ohm").magnitude == pytest.approx(warm.to("ohm").magnitude, rel=1e-12)


def test_nodes_are_numbered_from_the_supply():
    board = Board("club", ADAPTER, SECTIONS, SIGNALS)
    assert board.nodes == ("supply", "board", "post", "yard")
    assert board.ohms[1:] == pytest.approx([each.loop_resistance.to("ohm").magnitude for each in SECTIONS])
    assert board.above.tolist() == [-1, 0, 1, 1]
    assert board.signal("home").node == "post"
    assert board.node_number("yard") == 3


def test_star_and_chain():
    star = star_board("star", ADAPTER, LOAD, 3, 26, "2 m", "1 m")
    assert star.above.tolist() == [-1, 0, 1, 1, 1]
    chain = chain_board("chain", ADAPTER, LOAD, 3, 26, "2 m", "1 m")
    assert chain.above.tolist() == [-1, 0, 1, 2]
    metre = 2 * wire_resistance(26, "1 m").to("ohm").magnitude
    assert chain.ohms[1:] == pytest.approx(metre * np.array([1, 2, 2]))
    assert star.ohms[1:] == pytest.approx(metre * np.array([1, 2, 2, 2]))
    assert [each.node for each in chain.signals] == ["post 1", "post 2", "post 3"]


def test_a_signal_may_hang_at_the_supply_itself():
    board = Board("bench", ADAPTER, (), (BoardSignal("one", "supply", LOAD),))
    assert board.nodes == ("supply",)
    assert board.ohms.tolist() == [0.0]


def test_a_ring_is_refused():
    ring = (*SECTIONS, FeederSection("link", "post", "yard", 26, "4 m"))
    with pytest.raises(RangeError, match=r"'link' from 'post' to 'yard' closes a ring; open the ring at one place"):
        Board("club", ADAPTER, ring, SIGNALS)


def test_a_thousand_signals_and_no_more():
    signals = [BoardSignal(f"signal {k}", "supply", LOAD) for k in range(1001)]
    assert len(Board("club", ADAPTER, (), signals[1:]).signals) == 1000
    with pytest.raises(RangeError, match="signals needs 1 to 1000 signals; you gave 1001"):
        Board("club", ADAPTER, (), signals)


def test_sections_may_be_given_in_any_order_and_direction():
    turned = (FeederSection("north", "post", "board", 26, "2 m"), SECTIONS[2], SECTIONS[0])
    one, other = (study_board(Board("club", ADAPTER, each, SIGNALS)).state() for each in (SECTIONS, turned))
    assert other.si.current == pytest.approx(one.si.current, rel=1e-13)
    assert other.si.section_current == pytest.approx(one.si.section_current[[1, 2, 0]] * [-1, 1, 1], rel=1e-13)


@pytest.mark.parametrize(
    ("kind", "said", "arguments"),
    [
        (RangeError, "'board' of board 'club' is not joined to 'supply'", {"sections": SECTIONS[1:]}),
        (UnknownNameError, "node of signal 'home'", {"sections": SECTIONS[:1]}),
        (RangeError, "two are called 'trunk'", {"sections": (*SECTIONS, SECTIONS[0])}),
        (RangeError, "two are called 'home'", {"signals": (*SIGNALS, SIGNALS[0])}),
        (RangeError, "signals needs 1 to 1000", {"signals": ()}),
        (UnitError, "sections needs a list", {"sections": "trunk"}),
        (UnitError, "signals needs a list", {"signals": (LOAD,)}),
        (UnitError, "source needs", {"source": "12 V"}),
        (UnitError, "supply_node needs a text", {"supply_node": ["supply"]}),
        (UnitError, "supply_node of a board needs a text", {"supply_node": ""}),
        (UnitError, "name needs a text", {"name": None}),
        (UnknownNameError, "fuse", {"fuse": "100 A"}),
    ],
)
def test_a_faulty_board_is_refused(kind, said, arguments):
    with pytest.raises(kind, match=said):
        Board(**{"name": "club", "source": ADAPTER, "sections": SECTIONS, "signals": SIGNALS} | arguments)


@pytest.mark.parametrize(
    ("kind", "said", "arguments"),
    [
        (RangeError, "two different nodes", {"end": "supply"}),
        (UnitError, "wire needs an area with its unit; you gave 'thick'", {"wire": "thick"}),
        (UnitError, "wire needs a whole American wire gauge", {"wire": 2.5}),
        (RangeError, "wire needs an American wire gauge from -3 .* you gave 99", {"wire": 99}),
        (UnknownNameError, "use one of: '26 AWG solid hook-up'", {"wire": "26 AWG solid hookup"}),
        (UnitError, "length", {"length": "3"}),
        (RangeError, "length", {"length": Q(-1, "m")}),
        (RangeError, "temperature", {"temperature": "900 degC"}),
        (UnitError, "start needs a text", {"start": 3}),
        (UnitError, "start of a section needs a text; you gave ' '", {"start": " "}),
    ],
)
def test_a_faulty_section_is_refused(kind, said, arguments):
    whole = {"name": "trunk", "start": "supply", "end": "board", "wire": 22, "length": "3 m"}
    with pytest.raises(kind, match=said):
        FeederSection(**whole | arguments)


def test_a_pair_that_leaks_is_refused():
    leaky = Led("leaky", "green", Exponential("2 uA", 2.0, "5 ohm"), max_current="30 mA")
    with pytest.raises(DesignError, match=r"dark green lamp of signal 'home' leaks up to 2 µA"):
        BoardSignal("home", "post", Load(ResistorDrive("470 ohm"), TwoLeadPair(leds["red alingap 3 mm"], leaky)))
    plain = Led("plain", "green", ConstantDrop("2 V"), max_current="30 mA")  # leaks nothing
    assert BoardSignal("home", "post", Load(ResistorDrive("470 ohm"), TwoLeadPair(plain, plain))).name == "home"
    blocked = TwoLeadPair(leds["red alingap 3 mm"], leaky, series_diode=diodes["1n4148"])
    assert BoardSignal("home", "post", Load(ResistorDrive("470 ohm"), blocked)).node == "post"


def test_other_faults_are_refused():
    with pytest.raises(UnitError, match="load of signal 'home' needs a Load"):
        BoardSignal("home", "post", ResistorDrive("470 ohm"))
    with pytest.raises(UnitError, match="board needs a Board"):
        as_board("club")
    board = Board("club", ADAPTER, SECTIONS, SIGNALS)
    with pytest.raises(UnknownNameError, match="yard"):
        board.node_number("yrad")
    with pytest.raises(UnknownNameError, match="starter"):
        board.signal("strater")


@pytest.mark.parametrize("make", [star_board, chain_board])
@pytest.mark.parametrize(
    ("kind", "said", "changed"),
    [
        *((RangeError, "count needs a whole number", {"count": count}) for count in (0, -1, 2.0, "8", None, True)),
        (RangeError, "count needs a whole number .* to 1000", {"count": 10**400}),
        (UnitError, "run needs a length with its unit", {"run": 2}),
        (UnitError, "trunk needs a length with its unit; you gave '4,7 m'", {"trunk": "4,7 m"}),
        (UnitError, "run needs one length", {"run": ["1 m", "2 m"]}),
        (UnitError, "temperature needs a temperature", {"temperature": "20 V"}),
        (UnitError, "wire needs", {"wire": None}),
    ],
)
def test_what_is_no_star_and_no_chain(make, kind, said, changed):
    whole = {"name": "b", "source": ADAPTER, "load": LOAD, "count": 3, "wire": 26, "run": "1 m"}
    with pytest.raises(kind, match=said):
        make(**whole | changed)


# ---- along

ADAPTER_ALONG = adapters["12 V regulated"]
LOAD_ALONG = Load(ResistorDrive("1 kohm", 0.05), leds["red alingap 3 mm"], standby="40 mA")
PLACES = {"home": "1 m", "starter": "3 m", "yard": "4.5 m", "far": "9 m"}


def along(wiring, places=PLACES, **more):
    return board_along("layout", ADAPTER_ALONG, LOAD_ALONG, places, wiring, 30, **more)


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
    assert ways(along(STAR)) == {
        "adapter lead": ("supply", "terminal strip", 0.5),
        "to home": ("terminal strip", "home", 1),
        "to starter": ("terminal strip", "starter", 3),
        "to yard": ("terminal strip", "yard", 4.5),
        "to far": ("terminal strip", "far", 9),
    }


def test_mixed_a_few_neighbours_share_a_pair():
    assert ways(along(MIXED)) == {
        "adapter lead": ("supply", "terminal strip", 0.5),
        "to home": ("terminal strip", "home", 1),
        "to starter": ("home", "starter", 2),
        "to yard": ("terminal strip", "yard", 4.5),
        "to far": ("yard", "far", 4.5),
    }


def test_the_wire_that_each_way_takes():
    assert [along(wiring).pair_length.m_as("m") for wiring in WIRINGS] == pytest.approx([9, 18, 12.5])


def test_what_one_break_darkens():
    assert [most_lost(along(wiring)) for wiring in WIRINGS] == [4, 1, 2]
    assert most_lost(Board("bench", ADAPTER_ALONG, (), (BoardSignal("one", "supply", LOAD_ALONG),))) == 0
    two = (BoardSignal("one", "post", LOAD_ALONG), BoardSignal("two", "post", LOAD_ALONG))
    assert most_lost(Board("bench", ADAPTER_ALONG, (FeederSection("run", "supply", "post", 26, "1 m"),), two)) == 2


def test_star_keeps_most_light_and_chain_takes_least_wire():
    chain, star, mixed = compare_wirings(ADAPTER_ALONG, LOAD_ALONG, PLACES, 30)
    assert [each.wiring for each in (chain, star, mixed)] == list(WIRINGS)
    assert chain.share < mixed.share < star.share
    assert chain.length < mixed.length < star.length
    for trial in (chain, star, mixed):
        worst = study_board(trial.board).weakest
        assert (trial.weakest, trial.share) == (worst.name, pytest.approx(worst.share_min))


@pytest.mark.parametrize(
    ("kind", "said", "arguments"),
    [
        (UnitError, "places needs a distance", {"places": {}}),
        (UnitError, "places needs a distance", {"places": ["home"]}),
        (UnitError, "place of 'home'", {"places": {"home": 3}}),
        (RangeError, "cannot be called 'terminal strip'", {"places": {"terminal strip": "1 m"}}),
        (UnitError, "wiring needs one of", {"wiring": "ring"}),
    ],
)
def test_what_is_refused(kind, said, arguments):
    given = {"name": "layout", "source": ADAPTER_ALONG, "load": LOAD_ALONG, "places": PLACES} | arguments
    with pytest.raises(kind, match=said):
        board_along(**given)
