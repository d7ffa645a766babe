"""What every position of a reversing switch shows, and what happens on the way between two."""

from dataclasses import replace

import hypothesis.strategies as st
import pytest
from hypothesis import given

from sigcalc.design.findings import FINE, LOOK, STOP, worst
from sigcalc.design.pair.reversing import MANNERS, change, findings, reversing
from sigcalc.errors import DesignError, SigcalcError, UnknownNameError
from sigcalc.parts.contacts import switching_devices, wirings

CROSSED = "crossed double-throw switch"
BRIDGE = "four-switch bridge"


def closed(*numbers):
    """The bridge with these of its switches closed."""
    return {f"switch {number}": "closed" if number in numbers else "open" for number in range(1, 5)}


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
        (closed(1, 4), "red"),
        (closed(2, 3), "green"),
        (closed(), "dark"),
        (closed(1), "dark"),
        (closed(1, 3), "dark"),
        (closed(2, 4), "dark"),
        (closed(1, 2), "short circuit"),
        (closed(3, 4), "short circuit"),
        (closed(1, 2, 3, 4), "short circuit"),
    ],
)
def test_lamp_in_each_position_of_the_bridge(position, lamp):
    assert reversing(BRIDGE).lamp_in(position) == lamp


def test_the_bridge_shorts_exactly_where_a_lead_is_on_both_poles():
    for state in reversing(BRIDGE).states:
        shut = {number for number in range(1, 5) if f"switch {number} closed" in state.position}
        assert state.short == ({1, 2} <= shut or {3, 4} <= shut)


def test_polarity_leads_and_sentence():
    up = reversing(CROSSED).shown("up")
    assert up.polarities == (1,)
    assert up.voltages == (1.0,)
    assert up.leads == (("+", "-"),)
    assert up.sentence == "With switch up: red lights (wire A on + and wire B on -)."
    short = reversing(BRIDGE).shown(closed(1, 2))
    assert short.polarities == ("short",)
    assert short.sentence.endswith("short circuit, the supply's poles are joined.")
    centre = reversing(f"{CROSSED}, centre off").shown("centre")
    assert centre.sentence == "With switch centre: dark (wire A on no pole and wire B on no pole)."


def test_signals_in_series_are_said_to_share_the_voltage():
    """The first signal's far lead joined to the second's near one, the ends on + and -."""
    right = wirings["two signals, one supply, own wires"]
    series = replace(right, jumpers=(("+", "A1"), ("B1", "A2"), ("B2", "-")))
    shown = reversing(series).states[0]
    assert shown.voltages == (0.5, 0.5)
    assert "signal 1 red lights on 0.5 times the source's voltage (wire A on + and wire B on no pole)" in shown.sentence


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
    assert worst(findings(result)) == grade
    assert all(each.remedy for each in findings(result) if each.grade != FINE)


@pytest.mark.parametrize(
    ("manner", "states", "shorts"),
    [
        # two contacts, each at its old place, in between or at its new place: 9 states. Touching both throws of one
        # pole joins + and - in the X: the 3 + 3 - 1 states with a contact in between are shorts, and no others.
        ("break before make", 9, 0),
        ("make before break", 9, 5),
        ("all open first", 7, 0),
    ],
)
@pytest.mark.parametrize("wiring", [CROSSED, "crossed two-pole relay"])
def test_on_the_way_between_two_positions(wiring, manner, states, shorts):
    names = [each.name for each in wirings[wiring].devices[0][1].positions]
    way = change(wiring, *names, manner)
    assert len(way.states) == states
    assert sum(each.short for each in way.states) == shorts
    assert way.short is bool(shorts)
    assert findings(way)[0].grade == (STOP if shorts else FINE)
    assert str(states) in way.sentence
    between = [each.lamps[0] for each in way.states[1:-1]]
    assert {"red", "green"}.isdisjoint(between)


@pytest.mark.parametrize("manner", MANNERS)
def test_single_switches_of_the_bridge_have_to_be_opened_first(manner):
    way = change(BRIDGE, closed(1, 4), closed(2, 3), manner)
    assert way.short is (manner != "all open first")


def test_a_change_to_the_same_position_is_that_position():
    way = change(CROSSED, "up", "up")
    assert [each.lamps for each in way.states] == [("red",)]


def test_unknown_names_and_too_many_contacts_are_refused():
    with pytest.raises(UnknownNameError, match="crossed double-throw switch"):
        reversing("crossed double throw switch")
    with pytest.raises(UnknownNameError, match="break before make"):
        change(CROSSED, "up", "down", "break first")
    with pytest.raises(DesignError, match="reversing"):
        findings("nothing")
    many = replace(
        wirings[BRIDGE], devices=tuple((f"switch {n}", switching_devices["single-throw switch"]) for n in range(1, 9))
    )
    with pytest.raises(DesignError, match="8 contacts move at once"):
        change(many, {f"switch {n}": "open" for n in range(1, 9)}, {f"switch {n}": "closed" for n in range(1, 9)})


ANYTHING = st.one_of(st.sampled_from(list(wirings)), st.text(max_size=8), st.none(), st.integers(), st.lists(st.text()))
POSITIONS = st.one_of(
    st.sampled_from(["up", "down", "centre", "coil on", "on", "off"]),
    st.text(max_size=8),
    st.dictionaries(st.sampled_from(["switch", "switch 1", "relay"]), st.sampled_from(["up", "down", "coil on"])),
)


@given(ANYTHING, POSITIONS, POSITIONS, st.one_of(st.sampled_from(MANNERS), st.text(max_size=5)))
def test_an_answer_or_a_sigcalc_error(wiring, start, end, manner):
    try:
        lamp = reversing(wiring).lamp_in(start)
        way = change(wiring, start, end, manner)
    except SigcalcError:
        return
    assert set(lamp.split(", ")) <= {"red", "green", "dark", "short circuit"}
    assert way.states[0].lamps == reversing(wiring).shown(start).lamps


MANY = st.lists(st.sampled_from(wirings[CROSSED].points), min_size=2, max_size=2, unique=True).map(tuple)


@given(st.lists(MANY, max_size=8))
def test_wired_anyhow_a_switch_shows_one_of_four_things_and_turned_leads_turn_it(jumpers):
    right = wirings[CROSSED]
    there = reversing(replace(right, jumpers=tuple(jumpers)))
    back = reversing(replace(right, jumpers=tuple(jumpers), signals=(("signal", "B", "A"),)))
    turned = {1: -1, -1: 1, 0: 0, "short": "short"}
    for one, other in zip(there.states, back.states, strict=True):
        assert other.polarities[0] == turned[one.polarities[0]]
        # a lamp lights only where its leads are on different poles
        assert (one.polarities[0] in (1, -1)) == (not one.short and set(one.leads[0]) == {"+", "-"})


def test_one_switch_with_one_straight_jumper_is_told_to_cross_it_and_two_switches_to_be_coupled():
    right = wirings[CROSSED]
    straight = {("switch up 1", "switch down 2"): ("switch up 1", "switch down 1")}
    one = reversing(replace(right, jumpers=tuple(straight.get(each, each) for each in right.jumpers)))
    assert any(each.short for each in one.states)
    assert any("Cross both jumpers" in each.remedy for each in findings(one))
    made = [reversing(wiring) for wiring in wirings.values() if len(wiring.devices) > 1]
    several = next(each for each in made if any(state.short for state in each.states))
    assert any("coupled switch" in each.remedy for each in findings(several))
