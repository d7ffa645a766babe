"""What the switch joins, fault by fault, against the contact maps: the same wiring as a graph of points and wires."""

import numpy as np
import pytest

from sigcalc.parts import bench_draws
from sigcalc.parts.bench_position import MINUS, NOTHING, PLUS, position
from sigcalc.parts.bench_state import sound
from sigcalc.parts.contacts import Wiring, wirings
from sigcalc.parts.fault import catalogue
from sigcalc.parts.fault_change import faulty
from sigcalc.parts.wiring import show
from tests.parts.bench_circuits import NAMES, circuits

RAIL = {"+": PLUS, "-": MINUS, "": NOTHING}
HAND = {"red": ("up",), "green": ("down",)}
COIL = {"red": ("coil off",), "green": ("coil on",)}


def rails_of(wiring, closed):
    (leads,) = show(wiring, closed, "here").leads
    return tuple(RAIL[each] for each in leads)


def without(wiring, *jumper):
    jumpers = tuple(each for each in wiring.jumpers if set(each) != set(jumper))
    assert len(jumpers) == len(wiring.jumpers) - 1
    return Wiring(wiring.name, wiring.devices, wiring.sources, wiring.signals, jumpers)


def rails(circuit, fault, lamp):
    found = position(faulty(circuit, catalogue()[fault], bench_draws.nominal()), lamp)
    return int(found.rail_a[0]), int(found.rail_b[0])


CROSSED, RELAY = wirings["crossed double-throw switch"], wirings["crossed two-pole relay"]
BY_HAND = {
    "nothing wrong": CROSSED,
    "plus jumper missing": without(CROSSED, "switch up 1", "switch down 2"),
    "minus jumper missing": without(CROSSED, "switch up 2", "switch down 1"),
    "jumpers straight": wirings["straight instead of crossed"],
}
BY_RELAY = {
    "nothing wrong": RELAY,
    "plus jumper missing": without(RELAY, "relay normally closed 1", "relay normally open 2"),
    "minus jumper missing": without(RELAY, "relay normally closed 2", "relay normally open 1"),
}


@pytest.mark.parametrize("lamp", ["red", "green"])
@pytest.mark.parametrize("fault", BY_HAND)
def test_a_hand_switch(fault, lamp):
    wiring = BY_HAND[fault]
    assert rails(circuits()["resistor"], fault, lamp) == rails_of(wiring, wiring.closed(HAND[lamp]))


def test_a_single_throw():
    wiring = wirings["double-pole single-throw switch"]
    circuit = circuits()["resistor"]
    assert rails(circuit, "single-throw switch", "red") == rails_of(wiring, wiring.closed(["on"]))
    assert rails(circuit, "single-throw switch", "green") == rails_of(wiring, wiring.closed(["off"]))


@pytest.mark.parametrize("lamp", ["red", "green"])
@pytest.mark.parametrize("fault", BY_RELAY)
def test_a_relay(fault, lamp):
    wiring = BY_RELAY[fault]
    assert rails(circuits()["one-shot"], fault, lamp) == rails_of(wiring, wiring.closed(COIL[lamp]))


@pytest.mark.parametrize(("fault", "stuck"), [("contact A stuck", "common 1"), ("contact B stuck", "common 2")])
def test_a_contact_that_does_not_follow(fault, stuck):
    off, on = (RELAY.closed(COIL[lamp]) for lamp in ("red", "green"))
    mixed = [join for join in on if f"relay {stuck}" not in join] + [join for join in off if f"relay {stuck}" in join]
    assert rails(circuits()["one-shot"], fault, "green") == rails_of(RELAY, mixed)


@pytest.mark.parametrize(
    ("fault", "rests", "works"),
    [
        ("nothing wrong", "red", "green"),
        ("armature stuck", "red", "red"),
        ("relay coil open", "red", "red"),
        ("reed never closes", "red", "red"),
        ("magnet wrong way or too far", "red", "red"),
        ("timer dead", "red", "red"),
        ("supply reversed", "red", "red"),
        ("no supply", "red", "red"),
        ("adapter gives AC", "red", "red"),
        ("reed stuck closed", "green", "green"),
    ],
)
def test_the_chain_from_magnet_to_contact(fault, rests, works):
    circuit = circuits()["one-shot"]
    lit = {(PLUS, MINUS): "red", (MINUS, PLUS): "green"}
    assert [lit[rails(circuit, fault, lamp)] for lamp in ("red", "green")] == [rests, works]


def test_a_leak_that_ends_no_hold_keeps_the_relay():
    circuit, draws = circuits()["one-shot"], bench_draws.drawn(400, 3)
    bench = faulty(circuit, catalogue()["capacitor leaky"], draws)
    stays = position(bench, "red").moved
    assert np.array_equal(stays, np.isinf(bench.trigger.timing.seconds(bench.supply)))
    assert 0.1 < stays.mean() < 0.9


def test_a_relay_pulls_in_only_above_its_voltage():
    draws = bench_draws.drawn(500, 4)
    bench = sound(circuits()["one-shot"], draws)
    weak = bench._replace(supply=bench.coil.pull_in + bench.trigger.drop + 0.5 * draws["supply"])
    where = position(weak, "green")
    across = (weak.supply - weak.trigger.drop) / (1 + weak.source_resistance / weak.coil.resistance)
    assert np.array_equal(where.moved, across >= weak.coil.pull_in)
    assert 0.2 < where.moved.mean() < 0.8


@pytest.mark.parametrize("name", NAMES)
def test_sound_signals_turn_the_current_round(name):
    bench = sound(circuits()[name], bench_draws.drawn(200, 5))
    red, green = (position(bench, lamp) for lamp in ("red", "green"))
    for one, meant in ((red, (PLUS, MINUS)), (green, (MINUS, PLUS))):
        assert np.all(one.rail_a == meant[0])
        assert np.all(one.rail_b == meant[1])
