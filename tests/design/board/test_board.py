"""Boards as records: their shape, what is refused, and the two usual layouts."""

import numpy as np
import pytest

from sigcalc.design.board.board import Board, BoardSignal, FeederSection, as_board, chain_board, star_board
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.power.load import Load
from sigcalc.errors import DesignError, RangeError, UnitError, UnknownNameError
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import ConstantDrop, Exponential, Led, diodes, leds
from sigcalc.parts.source import adapters
from sigcalc.parts.wire import wire_resistance, wires
from sigcalc.units import Q

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
    assert board.feeder.start.tolist() == [0, 1, 1]
    assert board.feeder.end.tolist() == [1, 2, 3]
    assert board.feeder.resistance == pytest.approx([each.loop_resistance.to("ohm").magnitude for each in SECTIONS])
    assert board.tree.parent.tolist() == [-1, 0, 1, 1]
    assert board.signal("home").node == "post"
    assert board.node_number("yard") == 3


def test_star_and_chain():
    star = star_board("star", ADAPTER, LOAD, 3, 26, "2 m", "1 m")
    assert star.tree.parent.tolist() == [-1, 0, 1, 1, 1]
    chain = chain_board("chain", ADAPTER, LOAD, 3, 26, "2 m", "1 m")
    assert chain.tree.parent.tolist() == [-1, 0, 1, 2]
    metre = 2 * wire_resistance(26, "1 m").to("ohm").magnitude
    assert chain.feeder.resistance == pytest.approx(metre * np.array([1, 2, 2]))
    assert star.feeder.resistance == pytest.approx(metre * np.array([1, 2, 2, 2]))
    assert [each.node for each in chain.signals] == ["post 1", "post 2", "post 3"]


def test_a_signal_may_hang_at_the_supply_itself():
    board = Board("bench", ADAPTER, (), (BoardSignal("one", "supply", LOAD),))
    assert board.nodes == ("supply",)
    assert board.feeder.resistance.size == 0


def test_a_loop_is_refused_unless_a_ring_is_meant():
    ring = (*SECTIONS, FeederSection("link", "post", "yard", 26, "4 m"))
    with pytest.raises(RangeError, match=r"'link' from 'post' to 'yard' closes a loop.*rings=True"):
        Board("club", ADAPTER, ring, SIGNALS)
    assert Board("club", ADAPTER, ring, SIGNALS, rings=True).tree.chords.size == 1


@pytest.mark.parametrize(
    ("kind", "said", "arguments"),
    [
        (RangeError, "'board' of board 'club' is not joined to 'supply'", {"sections": SECTIONS[1:]}),
        (UnknownNameError, "node of signal 'home'", {"sections": SECTIONS[:1]}),
        (RangeError, "'trunk' came twice", {"sections": (*SECTIONS, SECTIONS[0])}),
        (RangeError, "'home' came twice", {"signals": (*SIGNALS, SIGNALS[0])}),
        (RangeError, "signals of board", {"signals": ()}),
        (UnitError, "sections needs a list", {"sections": "trunk"}),
        (UnitError, "signals needs a list", {"signals": (LOAD,)}),
        (UnitError, "source needs", {"source": "12 V"}),
        (UnitError, "supply_node needs a text", {"supply_node": ["supply"]}),
        (UnitError, "supply_node of a board needs a text", {"supply_node": ""}),
        (UnitError, "name needs a text", {"name": None}),
        (UnitError, "rings needs True or False", {"rings": "yes"}),
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
        (RangeError, "wire needs an American wire gauge from -3 .* but 99 came", {"wire": 99}),
        (UnknownNameError, "use one of: '26 AWG solid hook-up'", {"wire": "26 AWG solid hookup"}),
        (UnitError, "length", {"length": "3"}),
        (RangeError, "length", {"length": Q(-1, "m")}),
        (RangeError, "temperature", {"temperature": "900 degC"}),
        (UnitError, "start needs a text", {"start": 3}),
        (UnitError, "start of a section needs a text, but ' ' came", {"start": " "}),
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
    with pytest.raises(UnitError, match="needs a Load"):
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
        (RangeError, "count needs a whole number .* to 10000", {"count": 10**400}),
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
