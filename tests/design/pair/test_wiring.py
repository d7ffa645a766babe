"""Turning the current round: every position of a wiring, the way between two, shared wires, and contacts' ratings."""

from dataclasses import replace

import hypothesis.strategies as st
import pytest
from hypothesis import given

from sigcalc.design.findings import FINE, LOOK, STOP, worst
from sigcalc.design.pair.wiring import change, contact_load, reversing, wirings
from sigcalc.errors import DesignError, UnitError, UnknownNameError
from sigcalc.parts.contacts import contact_ratings
from sigcalc.units import Q

CROSSED = "crossed double-throw switch"
BRIDGE = "four-switch bridge"


def bridge(*closed):
    """The bridge with these of its switches closed, in words."""
    return ", ".join(f"switch {number} {'closed' if number in closed else 'open'}" for number in range(1, 5))


@pytest.mark.parametrize(
    ("wiring", "position", "lamp"),
    [
        # Kuphaldt, Lessons in Electric Circuits, vol. VI ch. 4: the throws joined in an X
        (CROSSED, "up", "red"),
        (CROSSED, "down", "green"),
        (f"{CROSSED}, centre off", "up", "red"),
        (f"{CROSSED}, centre off", "centre", "dark"),
        (f"{CROSSED}, centre off", "down", "green"),
        ("crossed two-pole relay", "coil off", "red"),
        ("crossed two-pole relay", "coil on", "green"),
        ("one changeover contact on a split supply", "up", "red"),
        ("one changeover contact on a split supply", "down", "green"),
        # Kuphaldt, vol. IV ch. 4: a double-pole single-throw switch can only disconnect
        ("double-pole single-throw switch", "on", "red"),
        ("double-pole single-throw switch", "off", "dark"),
        ("straight instead of crossed", "up", "red"),
        ("straight instead of crossed", "down", "red"),
        ("two signals, one supply, own wires", "switch 1 up, switch 2 down", "red, green"),
        ("two signals, one supply, shared return", "switch 1 up, switch 2 down", "short circuit"),
    ],
)
def test_lamp_in_each_position(wiring, position, lamp):
    assert reversing(wiring).lamp_in(position) == lamp


@pytest.mark.parametrize(
    ("position", "lamp"),
    [
        (bridge(1, 4), "red"),
        (bridge(2, 3), "green"),
        (bridge(), "dark"),
        (bridge(1), "dark"),
        (bridge(1, 3), "dark"),
        (bridge(2, 4), "dark"),
        (bridge(1, 2), "short circuit"),
        (bridge(3, 4), "short circuit"),
        (bridge(1, 2, 3, 4), "short circuit"),
    ],
)
def test_lamp_in_each_position_of_the_bridge(position, lamp):
    assert reversing(BRIDGE).lamp_in(position) == lamp


def test_the_bridge_shorts_exactly_where_a_lead_is_on_both_poles():
    for state in reversing(BRIDGE).states.values():
        shut = {number for number in range(1, 5) if f"switch {number} closed" in state.position}
        assert state.short == ({1, 2} <= shut or {3, 4} <= shut)


def test_lamp_leads_and_sentence():
    up = reversing(CROSSED).shown("up")
    assert up.lamps == ("red",)
    assert up.leads == (("+", "-"),)
    assert up.sentence == "With switch up: red lights (wire A on + and wire B on -)."
    short = reversing(BRIDGE).shown(bridge(1, 2))
    assert short.lamps == ("short circuit",)
    assert short.sentence.endswith("short circuit, the supply's poles are joined.")
    centre = reversing(f"{CROSSED}, centre off").shown("centre")
    assert centre.sentence == "With switch centre: dark (wire A on no pole and wire B on no pole)."


def test_signals_in_series_are_not_followed_and_said_so():
    right = wirings["two signals, one supply, own wires"]
    series = replace(right, jumpers=(("+", "A1"), ("B1", "A2"), ("B2", "-")))
    with pytest.raises(DesignError, match="two signals in series"):
        reversing(series)


@pytest.mark.parametrize(
    ("wiring", "reverses", "grade"),
    [
        (CROSSED, True, FINE),
        (BRIDGE, True, LOOK),
        ("double-pole single-throw switch", False, STOP),
        ("straight instead of crossed", False, STOP),
        ("two signals behind one switch", True, FINE),
    ],
)
def test_findings_on_a_wiring(wiring, reverses, grade):
    result = reversing(wiring)
    assert result.reverses is reverses
    assert worst(result.findings) == grade
    assert all(each.remedy for each in result.findings if each.grade != FINE)


@pytest.mark.parametrize(
    ("manner", "states", "shorts"),
    [
        # two contacts, each at its old place, in between or at its new place: 9 states. Touching both throws of one
        # pole joins + and - in the X: the 3 + 3 - 1 states with a contact in between are shorts, and no others.
        ("break before make", 9, 0),
        ("make before break", 9, 5),
    ],
)
@pytest.mark.parametrize("wiring", [CROSSED, "crossed two-pole relay"])
def test_on_the_way_between_two_positions(wiring, manner, states, shorts):
    names = wirings[wiring].devices[0][1].positions
    way = change(wiring, *names, manner)
    assert len(way.states) == states
    assert sum(each.short for each in way.states) == shorts
    assert way.short is bool(shorts)
    assert way.findings[0].grade == (STOP if shorts else FINE)
    assert str(states) in way.findings[0].reason
    between = [each.lamps[0] for each in way.states[1:-1]]
    assert {"red", "green"}.isdisjoint(between)


def test_a_change_to_the_same_position_is_that_position():
    way = change(CROSSED, "up", "up")
    assert [each.lamps for each in way.states] == [("red",)]


@pytest.mark.parametrize(
    ("call", "kind", "said"),
    [
        (lambda: reversing("crossed double throw switch"), UnknownNameError, "crossed double-throw switch"),
        (lambda: reversing(None), UnknownNameError, "wiring"),
        (lambda: reversing(CROSSED).shown("sideways"), UnknownNameError, "position"),
        (lambda: reversing(CROSSED).shown([]), UnknownNameError, "position"),
        (lambda: change(CROSSED, "up", "sideways"), UnknownNameError, "use one of: 'up'"),
        (lambda: change(CROSSED, "up", "down", "break first"), UnknownNameError, "break before make"),
        (lambda: change(BRIDGE, "open", "closed"), DesignError, "one device"),
        (lambda: replace(wirings[CROSSED], jumpers=(("+", "switch upp 1"),)), UnknownNameError, "switch up 1"),
        (lambda: replace(wirings[CROSSED], signals=()), DesignError, "at least one device"),
        (lambda: contact_load("signal relay", 0.005, "9 V"), UnitError, "current needs a current with its unit"),
        (lambda: contact_load("signal relays", "5 mA", "9 V"), UnknownNameError, "signal relay"),
    ],
)
def test_what_is_refused_and_how(call, kind, said):
    with pytest.raises(kind, match=said):
        call()


@pytest.mark.parametrize("name", list(wirings))
def test_every_wiring_reads_and_says_what_it_is(name):
    assert wirings[name].says
    assert reversing(name).states


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


@pytest.mark.parametrize(
    ("mistake", "up", "down", "grade"),
    [
        ("straight instead of crossed", "red", "red", STOP),
        (f"{CROSSED}, one jumper straight", "short circuit", "short circuit", STOP),
        (f"{CROSSED}, one jumper missing", "red", "dark", STOP),
        (f"{CROSSED}, supply exchanged", "green", "red", FINE),
    ],
)
def test_the_mistakes_that_people_make(mistake, up, down, grade):
    wrong = reversing(mistake)
    assert (wrong.lamp_in("up"), wrong.lamp_in("down")) == (up, down)
    assert worst(wrong.findings) == grade


def test_one_switch_is_told_to_cross_its_jumpers_and_several_to_be_coupled():
    (short, _) = reversing(f"{CROSSED}, one jumper straight").findings
    assert "Cross both jumpers" in short.remedy
    assert "coupled switch" in reversing(BRIDGE).findings[0].remedy


@pytest.mark.parametrize(
    ("wiring", "independent", "shorts"),
    [
        ("two signals, one supply, shared return", False, 2),
        ("two signals, one supply, own wires", True, 0),
        ("two signals, own supplies, shared return", True, 0),
        ("two signals, split supply, shared return", True, 0),
        ("two signals behind one switch", False, 0),
    ],
)
def test_which_wirings_set_two_signals_independently(wiring, independent, shorts):
    result = reversing(wiring)
    assert result.independent is independent
    assert len(result.shorts) == shorts
    assert result.sharing[0].grade == (FINE if independent else STOP)
    if independent:
        lamps = {each.lamps for each in result.states.values()}
        assert lamps == {(a, b) for a in ("red", "green") for b in ("red", "green")}


def test_the_shared_return_is_shorted_exactly_where_the_switches_differ():
    result = reversing("two signals, one supply, shared return")
    assert result.shorts == ("switch 1 up, switch 2 down", "switch 1 down, switch 2 up")
    assert "switch 1 up, switch 2 down" in result.sharing[0].reason


def test_behind_one_switch_both_are_forced_the_same():
    states = reversing("two signals behind one switch").states.values()
    assert all(len(set(each.lamps)) == 1 for each in states)


@pytest.mark.parametrize(
    ("contact", "current", "voltage", "grade"),
    [
        # Omron G5V-2 data sheet, minimum load: 10 µA 10 mVDC; resistive load 2 A 30 VDC
        ("signal relay", "5 mA", "9 V", FINE),
        ("signal relay", "10 mA", "9 V", FINE),
        ("signal relay", "9 µA", "9 V", LOOK),
        ("signal relay", "1 mA", "9 mV", LOOK),
        ("signal relay", "2.1 A", "9 V", STOP),
        # common practice: 100 mA at 5 V for power contacts
        ("power relay", "5 mA", "9 V", LOOK),
        ("power relay", "10 mA", "12 V", LOOK),
        ("power relay", "100 mA", "12 V", FINE),
        ("power relay", "100 mA", "-12 V", FINE),
        ("power relay", "100 mA", "4.9 V", LOOK),
    ],
)
def test_load_against_rating(contact, current, voltage, grade):
    load = contact_load(contact, current, voltage)
    (found,) = load.findings
    assert found.grade == grade
    assert load.current == Q(current)
    assert contact in found.reason
    assert ("common practice" in found.reason) == (contact == "power relay")


def test_a_rating_of_ones_own():
    assert contact_load(contact_ratings["power relay"], Q(0.2, "A"), "12 V").enough
