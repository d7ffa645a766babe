"""Contact maps as data, and what is said about names that are not in them."""

from dataclasses import FrozenInstanceError, replace

import pytest

from sigcalc.design.pair.wiring import all_positions, read_position
from sigcalc.errors import DesignError, SigcalcError, UnknownNameError
from sigcalc.parts.contacts import Position, SwitchingDevice, switching_devices, wirings


@pytest.mark.parametrize(
    ("device", "poles", "throws"),
    [
        # Kuphaldt, Lessons in Electric Circuits, vol. IV ch. 4: poles are moving contacts, throws fixed ones
        ("single-throw switch", 1, 1),
        ("double-throw switch", 1, 2),
        ("double-pole single-throw switch", 2, 1),
        ("double-pole double-throw switch", 2, 2),
        ("double-pole double-throw switch, centre off", 2, 2),
        ("two-pole relay", 2, 2),
    ],
)
def test_poles_and_throws_follow_from_the_map(device, poles, throws):
    map_ = switching_devices[device]
    assert len(map_.poles) == poles
    assert {len(pole) - 1 for pole in map_.poles} == {throws}


@pytest.mark.parametrize("name", list(wirings))
def test_every_wiring_reads_and_says_what_it_is(name):
    assert wirings[name].says
    assert set(wirings[name].terminals) <= set(wirings[name].points)


def test_unknown_names_bring_the_nearest():
    with pytest.raises(UnknownNameError, match="crossed two-pole relay"):
        wirings["crossed two pole relay"]
    with pytest.raises(UnknownNameError, match="use one of: 'up'"):
        switching_devices["double-throw switch"].position("upp")
    right = wirings["crossed double-throw switch"]
    with pytest.raises(UnknownNameError, match="switch up 1"):
        replace(right, jumpers=(("+", "switch upp 1"),))
    with pytest.raises(UnknownNameError, match="terminal of the odd one"):
        SwitchingDevice("odd one", ("a",), (Position("on", (("a", "b"),)),))
    with pytest.raises(DesignError, match="at least one device"):
        replace(right, signals=())


def test_records_are_frozen():
    with pytest.raises(FrozenInstanceError):
        wirings["crossed double-throw switch"].says = "other"


def test_positions_are_read_in_words_or_as_a_mapping():
    one, two = wirings["crossed double-throw switch"], wirings["two signals, one supply, own wires"]
    assert (
        read_position(one, "up") == read_position(one, "switch up") == read_position(one, {"switch": "up"}) == ("up",)
    )
    assert read_position(two, "switch 1 up, switch 2 down") == ("up", "down")
    assert len(all_positions(two)) == 4


@pytest.mark.parametrize(
    "position", ["sideways", "", None, 1, [], {"switch": "no"}, {}, {"lever": "up", "switch": "up"}, {"switch": []}]
)
def test_odd_positions_are_refused(position):
    with pytest.raises(SigcalcError):
        read_position(wirings["crossed double-throw switch"], position)


def test_too_many_positions_are_refused():
    bridge = wirings["four-switch bridge"]
    switch = switching_devices["single-throw switch"]
    many = replace(bridge, devices=(*bridge.devices, *((f"more {number}", switch) for number in range(9))))
    with pytest.raises(DesignError, match="8192 combinations"):
        all_positions(many)
