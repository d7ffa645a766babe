"""The promise every public function makes: a finite answer or a SigcalcError, whatever comes in."""

import numpy as np
from hypothesis import strategies as st

from sigcalc.errors import SigcalcError

_junk = st.sampled_from(
    [None, "12", "9 V", b"1", True, 1j, object(), [], [[1.0], [1.0, 2.0]], {}, 10**400, np.nan, np.inf]
)


def anything(low: float, high: float) -> st.SearchStrategy:
    """Mostly numbers and arrays of the range `low` to `high` and its ends, besides any number at all and junk."""
    inside = st.floats(low, high)
    numbers = inside | inside | st.sampled_from([low, high, 0, -1.0]) | st.floats()
    rows = st.lists(inside, min_size=1, max_size=3)
    return numbers | inside | rows | rows.map(np.array) | st.lists(rows, max_size=2) | _junk


def keeps_promise(function, *arguments) -> bool:
    """Calls the function; NaN, infinity and any exception but SigcalcError break the promise."""
    try:
        answer = function(*arguments)
    except SigcalcError as refusal:
        return bool(str(refusal)) and "\n" not in str(refusal)
    return all(_sound(part) for part in (answer if isinstance(answer, tuple) else (answer,)))


def _sound(part) -> bool:
    array = np.asarray(part)
    return array.dtype.kind == "U" or bool(np.isfinite(array).all())
