"""Signals reversed independently and one return wire."""

import pytest

from sigcalc.design.findings import FINE, STOP
from sigcalc.design.pair.shared_return import findings, independence, return_ways
from sigcalc.errors import DesignError, UnknownNameError


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
    result = independence(wiring)
    assert result.independent is independent
    assert len(result.shorts) == shorts
    assert findings(result)[0].grade == (FINE if independent else STOP)
    if independent:
        assert result.masters == ("switch 1", "switch 2")
        assert {each.lamps for each in result.states} == {(a, b) for a in ("red", "green") for b in ("red", "green")}


def test_the_shared_return_is_shorted_exactly_where_the_switches_differ():
    result = independence("two signals, one supply, shared return")
    assert result.shorts == ("switch 1 up, switch 2 down", "switch 1 down, switch 2 up")
    assert "switch 1 up, switch 2 down" in result.sentence


def test_behind_one_switch_both_are_forced_the_same():
    states = independence("two signals behind one switch").states
    assert all(len(set(each.lamps)) == 1 for each in states)


def test_no_way_on_two_poles_with_the_return_on_one_of_them():
    search = return_ways("two-terminal")
    assert len(search.ways) == 3**3
    assert search.differing == ()
    # the exception has to be said: with the return cut the two lamps are in series
    assert [each.voltages for each in search.in_series] == [(0.5, -0.5), (-0.5, 0.5)]
    assert findings(search)[0].grade == STOP


def test_on_a_split_supply_the_middle_may_be_shared():
    search = return_ways("split")
    assert len(search.ways) == 4**3
    assert {(each.shared, each.lamps) for each in search.differing} == {
        ("0", ("red", "green")),
        ("0", ("green", "red")),
    }
    assert findings(search)[0].grade == FINE
    assert "return on 0" in search.sentence


def test_what_cannot_be_judged_is_refused():
    with pytest.raises(DesignError, match="two signals or more"):
        independence("crossed double-throw switch")
    with pytest.raises(UnknownNameError, match="split"):
        return_ways("splitt")
    with pytest.raises(UnknownNameError):
        return_ways(["split"])
