"""Turning the current round: every position of a wiring, the way between two, shared wires, and contacts' ratings."""

from dataclasses import replace
from itertools import pairwise, product

import hypothesis.strategies as st
import pytest
from hypothesis import given

from sigcalc.design.findings import FINE, LOOK, STOP, worst
from sigcalc.design.pair.wiring import change, contact_load, current_ways, reversing, wirings
from tests.refusals import refused

CROSSED = "crossed double-throw switch"
BRIDGE = "four-switch bridge"


POSITIONS = [
    # Kuphaldt, Lessons in Electric Circuits, vol. VI ch. 4: the throws joined in an X
    (CROSSED, ("up",), "red"),
    (CROSSED, ("down",), "green"),
    (f"{CROSSED}, centre off", ("centre",), "dark"),
    (f"{CROSSED}, centre off", ("down",), "green"),
    ("crossed two-pole relay", ("coil on",), "green"),
    ("one changeover contact on a split supply", ("down",), "green"),
    # Kuphaldt, vol. IV ch. 4: a double-pole single-throw switch can only disconnect
    ("double-pole single-throw switch", ("on",), "red"),
    ("double-pole single-throw switch", ("off",), "dark"),
    # the mistakes that people make
    ("straight instead of crossed", ("down",), "red"),
    (f"{CROSSED}, one jumper straight", ("up",), "short circuit"),
    (f"{CROSSED}, one jumper missing", ("down",), "dark"),
    (f"{CROSSED}, supply exchanged", ("up",), "green"),
    ("two signals, one supply, own wires", ("up", "down"), "red, green"),
    ("two signals, one supply, shared return", ("up", "down"), "short circuit"),
]


@pytest.mark.parametrize(("wiring", "position", "lamp"), POSITIONS)
def test_lamp_in_each_position(wiring, position, lamp):
    state = reversing(wiring).states[position]
    assert ("short circuit" if state.short else ", ".join(state.lamps)) == lamp


def test_the_bridge_shorts_exactly_where_a_lead_is_on_both_poles_and_lights_across_it():
    for state in reversing(BRIDGE).states.values():
        shut = {number for number in range(1, 5) if f"switch {number} closed" in state.position}
        assert state.short == ({1, 2} <= shut or {3, 4} <= shut)
        lamp = "red" if shut == {1, 4} else "green" if shut == {2, 3} else "dark"
        assert state.lamps == (("short circuit" if state.short else lamp),)


def test_lamp_leads_and_sentence():
    up = reversing(CROSSED).states["up",]
    assert up.lamps == ("red",)
    assert up.leads == (("+", "-"),)
    assert up.sentence == "With switch up: red lights (wire A on + and wire B on -)."
    short = reversing(BRIDGE).states["closed", "closed", "open", "open"]
    assert short.sentence.endswith("short circuit, the supply's poles are joined.")
    centre = reversing(f"{CROSSED}, centre off").states["centre",]
    assert centre.sentence == "With switch centre: dark (wire A on no pole and wire B on no pole)."


@pytest.mark.parametrize(("manner", "shorts"), [("break before make", 0), ("make before break", 5)])
@pytest.mark.parametrize("wiring", [CROSSED, "crossed two-pole relay"])
def test_on_the_way_between_two_positions(wiring, manner, shorts):
    # two contacts, each at its old place, in between or at its new place: 9 states. Touching both throws of one
    # pole joins + and - in the X: the 3 + 3 - 1 states with a contact in between are shorts, and no others.
    names = tuple(wirings[wiring].devices[0][1].positions)
    way = change(wiring, *names, manner)
    assert len(way.states) == 9
    assert sum(each.short for each in way.states) == shorts
    assert way.findings[0].grade == (STOP if shorts else FINE)
    assert "9 states" in way.findings[0].reason
    between = [each.lamps[0] for each in way.states[1:-1]]
    assert {"red", "green"}.isdisjoint(between)
    assert [each.lamps for each in change(wiring, names[0], names[0], manner).states] == [("red",)]


MANY = st.lists(st.sampled_from(wirings[CROSSED].points), min_size=2, max_size=2, unique=True).map(tuple)


@given(st.lists(MANY, max_size=8))
def test_wired_anyhow_a_switch_shows_one_of_four_things_and_turned_leads_turn_it(jumpers):
    right = wirings[CROSSED]
    there = reversing(replace(right, jumpers=tuple(jumpers)))
    back = reversing(replace(right, jumpers=tuple(jumpers), signals=(("signal", "B", "A"),)))
    turned = {"red": "green", "green": "red"}
    for one, other in zip(there.states.values(), back.states.values(), strict=True):
        assert other.lamps[0] == turned.get(one.lamps[0], one.lamps[0])
        # a lamp lights only where its leads are on different poles
        assert (one.lamps[0] in turned) == (not one.short and set(one.leads[0]) == {"+", "-"})


TWO_SIGNALS = [
    ("two signals, one supply, shared return", False, 2),
    ("two signals, one supply, own wires", True, 0),
    ("two signals, own supplies, shared return", True, 0),
    ("two signals, split supply, shared return", True, 0),
    ("two signals behind one switch", False, 0),
]


@pytest.mark.parametrize(("wiring", "independent", "shorts"), TWO_SIGNALS)
def test_which_wirings_set_two_signals_independently(wiring, independent, shorts):
    result = reversing(wiring)
    assert result.independent is independent
    assert len(result.shorts) == shorts
    assert result.sharing[0].grade == (FINE if independent else STOP)
    if independent:
        assert {each.lamps for each in result.states.values()} == set(product(("red", "green"), repeat=2))


LOADS = [
    # Omron G5V-2 data sheet, minimum load: 10 µA 10 mVDC; resistive load 2 A 30 VDC
    *(("signal relay", "5 mA", "9 V", FINE), ("signal relay", "9 µA", "9 V", LOOK)),
    *(("signal relay", "1 mA", "9 mV", LOOK), ("signal relay", "2.1 A", "9 V", STOP)),
    # common practice: 100 mA at 5 V for power contacts
    *(("power relay", "5 mA", "9 V", LOOK), ("power relay", "100 mA", "12 V", FINE)),
    *(("power relay", "100 mA", "-12 V", FINE), ("power relay", "100 mA", "4.9 V", LOOK)),
]


@pytest.mark.parametrize(("contact", "current", "voltage", "grade"), LOADS)
def test_load_against_rating(contact, current, voltage, grade):
    (found,) = contact_load(contact, current, voltage).findings
    assert (found.grade, contact in found.reason) == (grade, True)
    assert ("common practice" in found.reason) == (contact == "power relay")


REVERSING = [
    (CROSSED, True, FINE, ""),
    ("two signals behind one switch", True, FINE, ""),
    (BRIDGE, True, LOOK, "coupled switch"),
    ("double-pole single-throw switch", False, STOP, "crossed jumpers"),
    ("straight instead of crossed", False, STOP, "crossed jumpers"),
    (f"{CROSSED}, one jumper straight", False, STOP, "Cross both jumpers"),
    (f"{CROSSED}, one jumper missing", False, STOP, "crossed jumpers"),
    (f"{CROSSED}, supply exchanged", True, FINE, ""),
]


@pytest.mark.parametrize(("wiring", "reverses", "grade", "remedy"), REVERSING)
def test_findings_on_a_wiring(wiring, reverses, grade, remedy):
    assert wirings[wiring].says
    result = reversing(wiring)
    assert result.reverses is reverses
    assert worst(result.findings) == grade
    assert remedy in result.findings[0].remedy


SERIES = (("+", "A1"), ("B1", "A2"), ("B2", "-"))


test_what_is_refused_and_how = refused(
    (lambda: reversing("crossed double throw switch"), "crossed double-throw switch"),
    (lambda: change(CROSSED, "up", "sideways"), "use one of: 'up'"),
    (lambda: change(CROSSED, "up", "down", "break first"), "break before make"),
    (lambda: change(BRIDGE, "open", "closed"), "one device"),
    (lambda: replace(wirings[CROSSED], jumpers=(("+", "switch upp 1"),)), "switch up 1"),
    (lambda: replace(wirings[CROSSED], signals=()), "at least one device"),
    (lambda: reversing(replace(wirings["two signals, one supply, own wires"], jumpers=SERIES)), "in series"),
    (lambda: contact_load("signal relays", "5 mA", "9 V"), "signal relay"),
)


@pytest.mark.parametrize("wiring", [name for name, each in wirings.items() if len(each.signals) == 1])
def test_the_current_flows_from_plus_through_the_lit_lamp_to_minus(wiring):
    made = wirings[wiring]
    for positions, shown in reversing(wiring).states.items():
        closed = made.closed(positions)
        ways, joins = current_ways(made, closed, shown), {frozenset(each) for each in (*made.jumpers, *closed)}
        assert all(frozenset(pair) in joins for way in ways for pair in pairwise(way))
        ends = [(way[0], way[-1]) for way in ways]
        if shown.short:
            assert ends[0] in made.sources
        elif shown.lamps == ("dark",):
            assert not ends
        else:
            order = "AB" if shown.lamps == ("red",) else "BA"
            (plus, first), (last, minus) = ends
            assert (first, last, made.poles.index(plus) < made.poles.index(minus)) == (*order, True)
