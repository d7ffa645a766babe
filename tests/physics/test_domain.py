"""Ranges and shapes of arguments: what is let in, and what is said when it is not."""

import numpy as np
import pytest

from sigcalc.errors import RangeError
from sigcalc.physics.domain import together, within


class Quantity:
    """Looks like a quantity of a units library."""

    dimensionality = "[length]"

    def __array__(self, dtype=None, copy=None):
        raise AssertionError("the unit would be lost")


def test_values_inside_come_back_as_floats_with_the_ends_included():
    found = within("length", [0, 1, 2], 0, 2, "m", "give metres")
    assert (found.tolist(), found.dtype) == ([0.0, 1.0, 2.0], float)


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (3, "^length needs to be 0 to 2 m; you gave 3; give metres$"),
        ([[1, 2], [-4, 9]], "you gave -4"),  # the first stray element of an array
        (np.nan, "you gave nan"),
        ([1, np.inf], "you gave inf"),
        *((each, "number") for each in ("1", None, True, 1j, 10**400, object(), ["1"], [1, None], [[1], [1, 2]])),
        (Quantity(), "you gave Quantity"),  # before numpy drops its unit
    ],
)
def test_what_is_outside_is_said_with_argument_need_what_came_and_the_remedy(value, said):
    with pytest.raises(RangeError, match=said):
        within("length", value, 0.0, 2.0, "m", "give metres")


def test_shapes_that_fit_and_shapes_that_do_not():
    rows, columns = together(rows=np.ones((2, 1)), columns=np.ones(3))
    assert rows.shape == columns.shape == (2, 3)
    with pytest.raises(RangeError, match=r"a \(2,\), b \(3,\)"):
        together(a=np.ones(2), b=np.ones(3))
