"""Fuses side by side: the verdicts of the checks."""

import pytest

from sigcalc.design.board.feeder_fuse import check_fuse
from sigcalc.errors import UnitError, UnknownNameError
from sigcalc.views.fuse_table import fuse_table
from tests.views.board_samples import LAMPS, along

BOARD = along("chain", LAMPS)
NAMES = ["50 mA resettable", "100 mA resettable", "1 A fast glass"]


def test_each_fuse_has_its_verdict_and_its_reason():
    table = fuse_table(BOARD, NAMES)
    assert [step.what for step in table.steps] == NAMES
    for name, step in zip(NAMES, table.steps, strict=True):
        check = check_fuse(BOARD, name)
        assert step.answer == ("suits" if check.suits else "does not suit")
        assert "700 circular mils" not in step.how
    assert [step.answer for step in table.steps] == ["suits", "suits", "does not suit"]
    assert "may never do so" in table.steps[2].how
    assert "Which wire bears what: 700 circular mils an ampere" in table.html()


def test_a_fuse_that_opens_by_itself_does_not_suit():
    (step,) = fuse_table(along("chain"), ["170 mA resettable"]).steps
    assert "opens in the middle of an evening" in step.how


def test_what_is_refused():
    with pytest.raises(UnitError, match="names needs a list"):
        fuse_table(BOARD, "100 mA resettable")
    with pytest.raises(UnknownNameError, match="fuse"):
        fuse_table(BOARD, ["a nail"])
