"""What a feeder network refuses, each in a sentence that says what is wrong and what to do."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import csc_array

from sigcalc.errors import RangeError
from sigcalc.physics.network import (
    chain_voltages,
    constant_loads,
    lamp_loads,
    path_resistance,
    resistor_loads,
    solve_network,
)
from sigcalc.physics.network_nodal import Nodal
from sigcalc.physics.network_tree import checked_sections, checked_tree
from tests.physics.answers import anything, keeps_promise

RED = (5e-22, 0.042, 3.6)
LAMPS = lamp_loads([1, 2], 470.0, [RED])
TWO = ([0, 1], [1, 2], [1.0, 1.0])


@pytest.mark.parametrize(
    ("said", "arguments"),
    [
        ("closes a loop", {"sections": ([0, 1, 0], [1, 2, 2], [1.0, 1.0, 1.0])}),
        ("section 2 from node 1 to node 0", {"sections": ([0, 1, 1], [1, 2, 0], [1.0, 1.0, 2.0])}),
        ("section 2 from node 1 to node 1", {"sections": ([0, 1, 1], [1, 2, 1], [1.0, 1.0, 1.0])}),
        ("without any", {"sections": ([0, 1, 0], [1, 2, 2], [0.0, 0.0, 0.0]), "loops": True}),
        ("node 2 hangs on nothing", {"sections": ([0], [1], [1.0])}),
        ("node 3 hangs on nothing", {"sections": ([0, 1, 3], [1, 2, 4], [1.0, 1.0, 1.0])}),
        ("turn it round", {"supply": -9.0}),
        ("one number", {"supply": [9.0, 12.0]}),
        ("source_resistance", {"source_resistance": -1.0}),
        ("source_resistance", {"source_resistance": 1e5}),
        ("limit", {"limit": -0.1}),
        ("1e-09 ohm or more", {"sections": ([0, 1, 0], [1, 2, 2], [0.0, 1e-10, 0.0]), "loops": True}),
        ("whole number", {"sections": ([0, 1], [1, 2.5], [1.0, 1.0])}),
        ("resistance needs to be", {"sections": ([0, 1], [1, 2], [1.0, np.nan])}),
        ("three arrays", {"sections": 3}),
        ("shapes do not fit", {"sections": ([0, 1], [1, 2], [1.0, 1.0, 1.0])}),
        ("loads must be a list", {"loads": "lamps"}),
        ("loads must be a list", {"loads": []}),
    ],
)
def test_a_network_is_refused(said, arguments):
    whole = {"supply": 9.0, "sections": TWO, "loads": [LAMPS]} | arguments
    with pytest.raises(RangeError, match=said):
        solve_network(**whole)


def test_a_load_that_no_voltage_satisfies():
    with pytest.raises(RangeError, match=r"No voltage satisfies load 2: its 1 A would leave -91 V"):
        solve_network(9.0, ([0, 0], [1, 2], [100.0, 1.0]), [resistor_loads([2, 2], 100.0), constant_loads([1], 1.0)])
    with pytest.raises(RangeError, match="No voltage satisfies load 1"):
        chain_voltages(9.0, [1.0, 100.0], [0.01, 0.2])


def test_constant_loads_beyond_the_supply():
    with pytest.raises(RangeError, match=r"they draw 0.3 A together, and the supply gives 0.2 A"):
        solve_network(9.0, TWO, [constant_loads([1, 2, 2], 0.1)], limit=0.2)


def test_steps_without_end_and_a_singular_matrix_are_refused(monkeypatch):
    nodal = Nodal(checked_sections(TWO), checked_tree(checked_sections(TWO), 3, loops=False), 0.1)
    with pytest.raises(RangeError, match="powers of ten"):
        nodal._factor(csc_array((3, 3)))
    monkeypatch.setattr("sigcalc.physics.network_newton._MOST_STEPS", 1)
    with pytest.raises(RangeError, match="powers of ten"):
        solve_network(9.0, TWO, [lamp_loads([1, 2], 1.0, [RED])])


def test_nothing_but_a_bare_lamp_beyond_any_number():
    with pytest.raises(RangeError, match="beyond any number"):
        solve_network(60.0, ([], [], []), [lamp_loads([0], 0.0, [(1e-30, 0.02, 0.0)])])


def test_an_answer_that_lost_its_digits_is_refused():
    # a voltage of a ten-millionth of the supply, rounded with the supply, no longer tells the current
    with pytest.raises(RangeError, match="powers of ten"):
        solve_network(9.0, (np.arange(9), np.arange(1, 10), np.full(9, 1e4)), [resistor_loads([9], 1e-3)])


@pytest.mark.parametrize(
    ("said", "make"),
    [
        ("resistance", lambda: lamp_loads([1], -1.0, [RED])),
        ("resistance", lambda: lamp_loads([1], 0.0)),
        ("resistance", lambda: resistor_loads([1], 1e-6)),
        ("saturation_current", lambda: lamp_loads([1], 470.0, [(0.0, 0.05, 1.0)])),
        ("leds", lambda: lamp_loads([1], 470.0, [(1e-21, 0.05)])),
        ("limit", lambda: lamp_loads([1], 470.0, [RED], limit=-0.01)),
        ("drop", lambda: lamp_loads([1], 470.0, [RED], drop=-1.0)),
        ("shapes", lambda: lamp_loads([1, 2], [1.0, 2.0, 3.0], [RED])),
        ("every load", lambda: lamp_loads([1], [1.0, 2.0], [RED])),
        ("every load", lambda: constant_loads([1], [1.0, 2.0])),
        ("current", lambda: constant_loads([1], -0.1)),
        ("node", lambda: constant_loads([-1], 0.1)),
        ("node", lambda: lamp_loads([0.5], 470.0, [RED])),
        ("resistance needs to be", lambda: path_resistance(([0], [1], [-1.0]))),
    ],
)
def test_loads_are_refused(said, make):
    with pytest.raises(RangeError, match=said):
        make()


@settings(max_examples=150)
@given(anything(0.0, 60.0), anything(0.0, 1e3), anything(0.0, 1.0))
def test_a_chain_gives_an_answer_or_a_refusal(supply, ohms, amperes):
    assert keeps_promise(chain_voltages, supply, ohms, amperes)


@settings(max_examples=150)
@given(anything(0.0, 60.0), anything(0, 3), anything(0, 3), anything(0.0, 1e3), anything(0.0, 10.0), st.booleans())
def test_a_network_gives_an_answer_or_a_refusal(supply, start, end, ohms, inside, loops):
    assert keeps_promise(solve_network, supply, (start, end, ohms), [LAMPS], inside, 0.1, loops)


@settings(max_examples=150)
@given(anything(0, 5), anything(0.0, 1e4), anything(1e-30, 1e-9), anything(0.0, 3.0), anything(0.0, 1.0))
def test_loads_give_an_answer_or_a_refusal(node, ohms, saturation, drop, limit):
    def solve():
        return solve_network(
            9.0, ([0, 1], [1, 2], 1.0), [lamp_loads(node, ohms, [(saturation, 0.05, 1.0)], drop, limit)]
        )

    assert keeps_promise(solve)
