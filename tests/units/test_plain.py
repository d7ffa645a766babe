"""Texts, and yes or no, where no unit stands."""

import numpy as np
import pytest

from sigcalc.errors import UnitError
from sigcalc.units.plain import is_plain, need_plain


def test_what_is_checked():
    assert is_plain(str)
    assert is_plain(bool)
    assert not is_plain(int)
    assert not is_plain(str | None)


@pytest.mark.parametrize(("hint", "value"), [(str, ""), (str, "red"), (bool, False), (bool, np.bool_(True))])
def test_what_is_right_passes(hint, value):
    need_plain(hint, value, "x")


@pytest.mark.parametrize("value", [None, 0, 1.0, "True", [], [True], np.array([True, False])])
def test_what_is_no_yes_or_no(value):
    with pytest.raises(UnitError, match=r"again needs True or False, but .* came; write for example again=True"):
        need_plain(bool, value, "again")


@pytest.mark.parametrize("value", [None, 5, b"red", ["red"]])
def test_what_is_no_text(value):
    with pytest.raises(UnitError, match=r'colour needs a text, but .* came; write for example colour="red"'):
        need_plain(str, value, "colour")
