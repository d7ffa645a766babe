"""What the switch joins, fault by fault, against the contact maps: the same wiring as a graph of points and wires."""

import dataclasses

import numpy as np
import pytest

from sigcalc.design.bench import draws as bench_draws
from sigcalc.design.bench.fault import catalogue
from sigcalc.design.bench.fault_change import faulty
from sigcalc.design.bench.position import MINUS, NOTHING, PLUS, position
from sigcalc.design.bench.state import sound
from sigcalc.design.pair.wiring import Wiring, show, wirings
from tests.design.bench.circuits import NAMES, circuits

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


ONE_SHOT = circuits()["one-shot"]
FOR_GREEN = dataclasses.replace(ONE_SHOT, fed_lamp="green")  # as the map of contacts rests: the coil off shows red
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
    assert rails(FOR_GREEN, fault, lamp) == rails_of(wiring, wiring.closed(COIL[lamp]))


@pytest.mark.parametrize(("fault", "stuck"), [("contact A stuck", "common 1"), ("contact B stuck", "common 2")])
def test_a_contact_that_does_not_follow(fault, stuck):
    off, on = (RELAY.closed(COIL[lamp]) for lamp in ("red", "green"))
    mixed = [join for join in on if f"relay {stuck}" not in join] + [join for join in off if f"relay {stuck}" in join]
    assert rails(FOR_GREEN, fault, "green") == rails_of(RELAY, mixed)


@pytest.mark.parametrize(
    ("fault", "fed_for_red", "fed_for_green"),
    [
        ("nothing wrong", "as set", "as set"),
        ("armature stuck", "green", "red"),
        ("armature stuck pulled in", "red", "green"),
        ("relay coil open", "green", "red"),
        ("reed never closes", "green", "green"),
        ("magnet wrong way or too far", "green", "green"),
        ("reed stuck closed", "red", "red"),
        ("timer dead", "green", "red"),
        ("supply reversed", "green", "red"),
        ("no supply", "green", "red"),
        ("adapter gives AC", "green", "red"),
    ],
)
def test_the_chain_from_magnet_to_contact(fault, fed_for_red, fed_for_green):
    """A train sets red, whichever aspect the coil is fed for; a coil that gets nothing shows the other one."""
    lit = {(PLUS, MINUS): "red", (MINUS, PLUS): "green"}
    for circuit, shown in ((ONE_SHOT, fed_for_red), (FOR_GREEN, fed_for_green)):
        found = [lit[rails(circuit, fault, lamp)] for lamp in ("red", "green")]
        assert found == (["red", "green"] if shown == "as set" else [shown, shown])


@pytest.mark.parametrize("circuit", [ONE_SHOT, FOR_GREEN], ids=["for red", "for green"])
def test_a_leak_that_ends_no_hold_keeps_the_relay(circuit):
    bench = faulty(circuit, catalogue()["capacitor leaky"], bench_draws.drawn(400, 3))
    stays_red = position(bench, "green").moved == (circuit.fed_lamp == "red")
    assert np.array_equal(stays_red, np.isinf(bench.trigger.timing.seconds(bench.supply)))
    assert 0.1 < stays_red.mean() < 0.9


@pytest.mark.parametrize("circuit", [ONE_SHOT, FOR_GREEN], ids=["for red", "for green"])
def test_a_relay_pulls_in_only_above_its_voltage(circuit):
    draws = bench_draws.drawn(500, 4)
    bench = sound(circuit, draws)
    weak = bench._replace(supply=bench.coil.pull_in + bench.trigger.keeps + 0.5 * draws["supply"])
    where = position(weak, circuit.fed_lamp)
    across = (weak.supply - weak.trigger.keeps) / (1 + weak.source_resistance / weak.coil.resistance)
    assert np.array_equal(where.moved, across >= weak.coil.pull_in)
    assert 0.2 < where.moved.mean() < 0.8


@pytest.mark.parametrize("name", NAMES)
def test_sound_signals_turn_the_current_round(name):
    bench = sound(circuits()[name], bench_draws.drawn(200, 5))
    red, green = (position(bench, lamp) for lamp in ("red", "green"))
    for one, meant in ((red, (PLUS, MINUS)), (green, (MINUS, PLUS))):
        assert np.all(one.rail_a == meant[0])
        assert np.all(one.rail_b == meant[1])
