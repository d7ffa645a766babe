"""Texts, and yes or no: arguments without a unit."""

import numpy as np
import pytest

from sigcalc.errors import RangeError, UnitError
from sigcalc.units.plain import is_number, is_plain, is_whole, need_mapping, need_plain, need_whole


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
    with pytest.raises(UnitError, match=r"again needs True or False; you gave "):
        need_plain(bool, value, "again")


@pytest.mark.parametrize("value", [None, 5, b"red", ["red"]])
def test_what_is_no_text(value):
    with pytest.raises(UnitError, match=r'colour needs a text, for example "red"; you gave '):
        need_plain(str, value, "colour")


@pytest.mark.parametrize("value", [3, np.int64(3), np.uint8(3)])
def test_whole_numbers(value):
    assert is_whole(value)
    assert need_whole(value, "count", 1, 9, 5) == 3
    assert type(need_whole(value, "count", 1, 9, 5)) is int


@pytest.mark.parametrize("value", [True, np.timedelta64(3, "s"), 3.0, "3", None, [3], np.array(3), 0, 10, 10**400])
def test_what_is_no_whole_number_of_the_range(value):
    with pytest.raises(RangeError, match=r"count needs a whole number from 1 to 9, such as 5; you gave "):
        need_whole(value, "count", 1, 9, 5)


@pytest.mark.parametrize(("value", "right"), [(0.5, True), (np.float32(2), True), (3, True), (1j, False)])
def test_bare_numbers(value, right):
    assert is_number(value) is right


def test_mappings():
    assert need_mapping({"a": 1}, "seen", "{}") == {"a": 1}
    assert need_mapping(None, "seen", "{}") == {}
    with pytest.raises(UnitError, match=r"seen needs a mapping such as {}; you gave \['red'\]"):
        need_mapping(["red"], "seen", "{}")
