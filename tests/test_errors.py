"""An error carries its facts, and each place words them with its own name for the argument."""

from sigcalc.errors import RangeError, SigcalcError, UnitError


def test_the_facts_make_the_sentence():
    error = UnitError(argument="supply", need="a voltage with its unit", given="'12'", example="12 V")
    assert str(error) == "supply needs a voltage with its unit, for example \"12 V\"; you gave '12'"
    assert error.worded("Supply voltage").startswith("Supply voltage needs a voltage")


def test_advice_comes_last():
    error = RangeError(argument="gap", need="more than 0 mm", given="0 mm", advice="measure from the nearest surface")
    assert str(error) == "gap needs more than 0 mm; you gave 0 mm; measure from the nearest surface"


def test_a_sentence_stays_as_it_is():
    assert SigcalcError("no fuse suits").worded("anything") == "no fuse suits"
