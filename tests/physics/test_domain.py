"""Ranges and shapes of arguments: what is let in, and what is said when it is not."""

import numpy as np
import pytest

from sigcalc.errors import RangeError
from sigcalc.physics.domain import together, whole, within


class Quantity:
    """Looks like a quantity of a units library."""

    dimensionality = "[length]"

    def __array__(self, dtype=None, copy=None):
        raise AssertionError("the unit would be lost")


def say(value, low=0.0, high=2.0):
    with pytest.raises(RangeError) as refusal:
        within("length", value, low, high, "m", "give metres")
    return str(refusal.value)


def test_values_inside_come_back_as_floats_with_the_ends_included():
    assert within("length", [0, 1, 2], 0, 2, "m", "give metres").tolist() == [0.0, 1.0, 2.0]
    assert within("length", 1, 0, 2, "m", "give metres").dtype == float


def test_the_sentence_names_argument_need_what_came_and_the_remedy():
    assert say(3) == "length needs to be 0 to 2 m; you gave 3; give metres"


def test_the_first_stray_element_of_an_array_is_named():
    assert "you gave -4" in say([[1, 2], [-4, 9]])


@pytest.mark.parametrize("value", [np.nan, [1, np.inf]])
def test_nan_and_infinity_are_outside(value):
    assert say(value)


@pytest.mark.parametrize("value", ["1", None, True, 1j, 10**400, object(), ["1"], [1, None]])
def test_only_real_numbers_are_let_in(value):
    assert "number" in say(value)


def test_rows_of_different_lengths():
    assert "number" in say([[1], [1, 2]])


def test_a_quantity_is_refused_before_numpy_drops_its_unit():
    assert "you gave Quantity" in say(Quantity())


def test_whole_numbers():
    assert whole("count", [1.0, 3], 1, 9, "wires", "count them").tolist() == [1, 3]
    with pytest.raises(RangeError, match=r"count needs to be a whole number of wires; you gave 2\.5; count them"):
        whole("count", [1, 2.5], 1, 9, "wires", "count them")


def test_shapes_that_fit_and_shapes_that_do_not():
    rows, columns = together(rows=np.ones((2, 1)), columns=np.ones(3))
    assert rows.shape == columns.shape == (2, 3)
    with pytest.raises(RangeError, match=r"a \(2,\), b \(3,\)"):
        together(a=np.ones(2), b=np.ones(3))
