"""The sum of the pair by hand, and the table of soldering mistakes, against sums of their own."""

import pytest

from sigcalc.design.pair.pair import FAULTS
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.errors import RangeError, SigcalcError, UnitError
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.views.pair_sum import pair_by_hand
from sigcalc.views.solder_faults import fault_table

PAIR = TwoLeadPair(leds["red alingap 3 mm"], leds["green gap 3 mm"])


def answers(**more):
    given = {"supply": "9 V", "resistance": "680 ohm", "pair": PAIR, "red_drop": "1.9 V", "green_drop": "2.4 V"} | more
    return pair_by_hand(**given)


def test_the_textbook_pair():
    # Boylestad & Nashelsky, Example 2.11: 8 V, 2 V, 300 ohm: 20 mA; the dark lamp sees 2 V
    said = [each.answer for each in answers(supply="8 V", resistance="300 ohm", red_drop="2 V", green_drop="2 V").steps]
    assert said == ["8 V", "6 V", "20 mA", "6 V", "20 mA", "2 V", "8 V"]


def test_each_answer_follows_from_the_figures_before_it():
    result = answers()
    said = [each.answer for each in result.steps]
    assert said == ["9 V", "7.1 V", "10.4 mA", "6.6 V", "9.71 mA", "1.9 V", "9 V"]
    red, green = (PAIR.operate("9 V", ResistorDrive("680 ohm"), sign).si.current for sign in (+1, -1))
    assert f"{red * 1e3:.3g} mA for red" in result.sentence
    assert f"{green * 1e3:.3g} mA for green" in result.sentence
    assert "<caption" in result.html()


@pytest.mark.parametrize(
    ("wrong", "kind", "said"),
    [
        ({"resistance": "0 ohm"}, RangeError, "above 0 ohm"),
        ({"supply": "2 V"}, RangeError, "green_drop"),
        ({"red_drop": "0 V"}, RangeError, "red_drop"),
        ({"supply": 9}, UnitError, "supply"),
    ],
)
def test_what_is_refused_and_how(wrong, kind, said):
    with pytest.raises(kind, match=said):
        answers(**wrong)


def test_the_table_of_mistakes_has_them_all_and_the_sound_pair_first():
    table = fault_table("9 V", ResistorDrive("680 ohm"), PAIR)
    rows = {each.what.split(":")[0]: (each.how, each.answer) for each in table.steps}
    assert list(rows) == ["as it should be", *FAULTS]
    assert rows["as it should be"] == ("red; meter: 1.8 V", "green; meter: 2.3 V")
    assert rows["red open"] == ("dark; meter: 9 V", "green; meter: 2.3 V")
    assert rows["green shorted"] == ("dark; meter: next to nothing",) * 2
    assert rows["both the same way round"][0].startswith("red 11 mA, green ")
    assert ", green all but dark with " in rows["both the same way round"][0]
    assert rows["both the same way round"][1] == "dark; meter: 9 V"
    assert "Wire B is plus" in table.html()


def test_two_equal_leds_the_same_way_round_both_shine():
    twins = TwoLeadPair(leds["red alingap 3 mm"], leds["red alingap 3 mm"])
    (row,) = [
        each for each in fault_table("9 V", ResistorDrive("680 ohm"), twins).steps if each.what.startswith("both")
    ]
    assert "dark" not in row.how


def test_the_table_refuses_what_the_design_refuses():
    with pytest.raises(SigcalcError, match="resistance"):
        fault_table("9 V", ResistorDrive("0 ohm"), PAIR)
