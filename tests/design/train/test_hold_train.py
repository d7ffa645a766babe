"""The hold a train needs."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.train.hold_train import findings, train_hold, train_pass
from sigcalc.errors import SigcalcError
from sigcalc.units import Q


def test_by_hand():
    """1.2 m of train and 0.3 m to clear at 0.3 m/s: 5 s; a magnet 0.15 m behind the front saves half a second."""
    assert train_hold("1.2 m", "0.3 m/s", "0.3 m") == Q("5 s")
    assert train_hold("1.2 m", "0.3 m/s", "0.3 m", "150 mm").to("s").magnitude == pytest.approx(4.5)
    assert train_hold("1200 mm", Q(0.3, "m/s"), "30 cm") == Q("5 s")


@pytest.mark.parametrize(("speed", "grade"), [("0.3 m/s", FINE), ("0.16 m/s", LOOK), ("0.1 m/s", STOP)])
def test_a_slower_train(speed, grade):
    result = train_pass("1.2 m", speed, "0.3 m", hold="10 s", hold_min="8 s")
    (found,) = findings(result)
    assert found.grade == grade
    assert result.slowest.to("m/s").magnitude == pytest.approx(0.15)
    assert result.slowest_sure.to("m/s").magnitude == pytest.approx(0.1875)


def test_what_is_left_when_the_signal_clears():
    result = train_pass("1.2 m", "0.1 m/s", "0.3 m", hold="10 s")
    assert result.left.to("m").magnitude == pytest.approx(0.5)
    assert "500 mm are still to go" in result.sentence
    assert train_pass("1.2 m", "0.3 m/s", "0.3 m", hold="10 s").left == Q("0 m")


@given(st.floats(0.1, 5), st.floats(0.01, 2), st.floats(0, 3), st.floats(0.1, 60))
def test_at_the_slowest_speed_the_hold_is_just_enough(length, speed, clearing, hold):
    result = train_pass(Q(length, "m"), Q(speed, "m/s"), Q(clearing, "m"), Q(hold, "s"))
    needed = train_hold(Q(length, "m"), Q(speed, "m/s"), Q(clearing, "m"))
    assert result.needed == needed
    assert result.clears == (result.si.left == 0)
    assert result.si.slowest * hold == pytest.approx(result.si.distance, rel=1e-12)


@pytest.mark.parametrize(
    ("given_", "sentence"),
    [
        ({"speed": "0.5 mm/s"}, "speed needs a model speed from 0.001 m/s to 10 m/s"),
        ({"speed": "-0.3 m/s"}, "speed needs a model speed"),
        ({"speed": 0.3}, "speed needs a model speed with its unit"),
        ({"length": "0 m"}, "length needs to be above 0 m"),
        ({"magnet_from_front": "2 m"}, "magnet_from_front no more than it"),
        ({"clearing_distance": "-1 m"}, "clearing_distance needs a length from 0 m"),
        ({"hold_min": "11 s"}, "hold_min needs a time above 0 s and no more than the hold of 10 s"),
        ({"hold": "0 s"}, "hold_min needs a time above 0 s"),
    ],
)
def test_refusals(given_, sentence):
    usual = {"length": "1.2 m", "speed": "0.3 m/s", "clearing_distance": "0.3 m", "hold": "10 s"}
    with pytest.raises(SigcalcError, match=sentence):
        train_pass(**usual | given_)


def wild(unit, low, high):
    """Mostly quantities of the range, besides any number at all and what is no quantity."""
    numbers = st.floats(low, high) | st.floats(low, high) | st.floats() | st.sampled_from([low, high, 0.0])
    return numbers.map(lambda value: (value, unit)) | st.text(max_size=5) | st.none()


def quantity(given):
    return Q(*given) if isinstance(given, tuple) else given


@given(wild("m", 0, 5), wild("m/s", 0, 1), wild("m", 0, 5), wild("s", 0, 60), wild("s", 0, 60), wild("m", 0, 1))
def test_an_answer_or_a_sigcalc_error(length, speed, clearing, hold, hold_min, magnet):
    try:
        result = train_pass(*map(quantity, (length, speed, clearing, hold, hold_min, magnet)))
    except SigcalcError:
        return
    assert np.isfinite([result.si.needed, result.si.slowest, result.si.slowest_sure, result.si.left]).all()
    assert findings(result)
