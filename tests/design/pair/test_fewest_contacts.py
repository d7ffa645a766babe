"""How few contacts can turn the current round: every wiring tried."""

import itertools
from math import factorial

import hypothesis.strategies as st
import numpy as np
import pytest
from hypothesis import given, settings

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.pair.fewest_contacts import CONTACTS, fewest_contacts, findings, search_wirings
from sigcalc.errors import DesignError, SigcalcError, UnitError
from sigcalc.parts.contacts import SUPPLIES
from sigcalc.physics.contacts import connected, lamp_voltages, set_partitions


@pytest.mark.parametrize("count", [0, 1, 2, 3])
def test_fewer_than_four_single_throw_contacts_never_reverse(count):
    search = search_wirings("two-terminal", "single-throw", count)
    assert search.wirings == {0: 15, 1: 203, 2: 4140, 3: 115975}[count]  # Bell numbers, OEIS A000110
    assert search.states == 2**count
    assert search.lighting
    assert search.reversing == 0
    assert bool(search.switching) is bool(count)  # they can switch off
    assert findings(search)[0].grade == STOP
    assert "none turns the current round" in search.sentence


def test_four_single_throw_contacts_reverse_as_a_bridge_and_in_no_other_way():
    search = search_wirings("two-terminal", "single-throw", 4)
    assert search.wirings == 4_213_597  # Bell number of 12 points
    # the bridge's four places taken by four contacts in any order, each either way round
    assert search.reversing == factorial(4) * 2**4
    assert search.kinds == 1
    assert search.safe == 0
    assert findings(search)[0].grade == LOOK
    places = {point: number for number, group in enumerate(search.example) for point in group}
    ends = {frozenset((places[f"{n} a"], places[f"{n} b"])) for n in range(1, 5)}
    assert ends == {frozenset((places[pole], places[lead])) for pole in "+-" for lead in "AB"}


def test_a_split_supply_reverses_with_one_changeover_contact():
    none, one = fewest_contacts("split", "changeover")
    assert none.reversing == 0
    # A and B, rest and worked: 2 x 2 namings, of which the contact's own leaves 2 kinds
    assert (one.count, one.reversing, one.safe, one.kinds) == (1, 4, 4, 2)
    assert findings(one)[0].grade == FINE
    groups = [set(group) for group in one.example]
    assert any("0" in group and group & {"A", "B"} for group in groups)


@pytest.mark.parametrize(
    ("supply", "contact", "ganged", "count"),
    [
        ("two-terminal", "changeover", True, 2),  # the double-pole double-throw switch
        ("two-terminal", "changeover", False, 2),
        ("split", "single-throw", False, 2),
    ],
)
def test_the_fewest_contacts_of_other_kinds(supply, contact, ganged, count):
    searches = fewest_contacts(supply, contact, ganged)
    assert [each.count for each in searches] == list(range(count + 1))
    assert [bool(each.reversing) for each in searches] == [False] * count + [True]


@pytest.mark.parametrize("ganged", ["no", None, 0, np.array([True, False])])
def test_ganged_is_true_or_false(ganged):
    with pytest.raises(UnitError, match="ganged needs True or False"):
        search_wirings("two-terminal", "single-throw", 2, ganged)


def test_single_throw_contacts_that_move_together_never_reverse():
    with pytest.raises(DesignError, match="from 0 to 4"):
        fewest_contacts("two-terminal", "single-throw", ganged=True)


@pytest.mark.parametrize(
    ("supply", "contact", "count"), [("two-terminal", "single-throw", 1), ("split", "changeover", 1)]
)
def test_the_search_agrees_with_kirchhoffs_laws_wiring_by_wiring(supply, contact, count):
    """The same question to the solver that takes one wiring and one state at a time."""
    poles, (terminals, states) = len(SUPPLIES[supply]), CONTACTS[contact]
    points = poles + 2 + count * len(terminals)
    found = 0
    for groups in set_partitions(points).T:
        wires = [(int(np.flatnonzero(groups == group)[0]), point) for point, group in enumerate(groups)]
        seen = set()
        for state in itertools.product(states, repeat=count):
            closed = [
                (poles + 2 + n * len(terminals) + a, poles + 2 + n * len(terminals) + b)
                for n, joins in enumerate(state)
                for a, b in joins
            ]
            sources = list(itertools.pairwise(range(poles)))
            (voltage,), short = lamp_voltages(connected(points, wires + closed), sources, [(poles, poles + 1)])
            seen.add("short" if short else np.sign(voltage))
        found += {1, -1} <= seen
    assert found == search_wirings(supply, contact, count).reversing


@settings(max_examples=30)
@given(
    st.sampled_from(["two-terminal", "split", "three-phase"]),
    st.sampled_from(["single-throw", "changeover", ""]),
    st.one_of(st.integers(-2, 2), st.sampled_from([True, 1.0, "2", None, 9])),
    st.booleans(),
)
def test_an_answer_or_a_sigcalc_error(supply, contact, count, ganged):
    try:
        search = search_wirings(supply, contact, count, ganged)
    except SigcalcError:
        return
    assert search.safe <= search.reversing <= search.lighting <= search.wirings
    assert bool(search.example) == bool(search.reversing)
    assert search.kinds <= search.reversing
