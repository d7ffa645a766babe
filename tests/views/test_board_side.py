"""The circuit at the board: every part named, the diode across the coil, the contacts as they rest."""

import numpy as np
import pytest

from sigcalc import Plan, RangeError
from sigcalc.views.board_side import board_side
from tests.views.samples import BOARD_SIDES
from tests.views.svg import corners, fills, group, groups, words

EVERY = pytest.mark.parametrize("name", BOARD_SIDES)


@EVERY
def test_every_part_is_there_in_words_with_the_plans_values(name):
    plan = BOARD_SIDES[name]
    picture, wish = board_side(plan.study()), plan.trigger
    said = set(words(picture))
    assert {"reed switch", wish.timer, "coil", "capacitor", "flyback", "contact 1", "contact 2"} <= said
    assert {"plus +", "minus −", "100 µF", "pot 123 kΩ" if name == "long values" else "pot 220 kΩ"} <= said
    driven = "current" in plan.drive.kind
    assert ("shared resistor" in said) == (len(groups(picture, "resistor")) == 1) == (not driven)
    assert (len(groups(picture, "driver")) == 1) == driven
    # the reed pulls to minus, or fills the capacitor from plus
    reed = [y for line in corners(groups(picture, "reed")[-1]) for _, y in line]
    assert (min(reed) > 123) == ("to minus;" in picture.sentence) == (name != "mosfet")


@EVERY
def test_the_diode_lies_across_the_coil_with_its_bar_at_the_coils_plus_end(name):
    picture = board_side(BOARD_SIDES[name].study())
    assert "cathode to plus" in picture.sentence
    lines = corners(group(picture, "flyback diode"))
    (triangle,) = (line for line in lines if len(line) == 3)
    (bar,) = (line[0][1] for line in lines if len(line) == 2 and line[0][1] == line[1][1])
    tip, *base = sorted(y for _, y in triangle)
    assert tip == bar < min(base)
    coil = corners(group(picture, "coil"))
    diode, coil = (np.array([y for line in part for _, y in line]) for part in (lines, coil))
    assert (diode.min(), diode.max()) == pytest.approx((coil.min(), coil.max()), abs=0.1)
    ends = {each.text: float(each.get("y")) for each in group(picture, "coil") if each.text in ("+", "−")}
    assert ends["+"] < ends["−"]


@pytest.mark.parametrize(("name", "rest"), [("usual", "green"), ("rests at red", "red")])
def test_the_contacts_are_drawn_as_they_rest(name, rest):
    plan = BOARD_SIDES[name]
    picture = board_side(plan.study())
    said = set(words(picture))
    assert f"coil off: {rest.upper()}" in picture.sentence
    assert {f"coil off: {rest.upper()}", f"{rest.upper()} lit"} <= said
    assert fills(group(picture, "signal"))
    # minus is on the upper pole: levers up put it on wire A, which is plus for red
    lines = corners(group(picture, f"contacts {rest}"))
    levers = [sorted(line) for line in lines if len(line) == 2 and line[0][0] != line[1][0]]
    assert [line[0][1] > line[1][1] for line in levers] == [rest == "green"] * 2
    assert ("wire A −" in said) == ("wire B +" in said) == (rest == "green")
    dead = plan.with_changes(drive={"kind": "resistor", "resistance": "1 ohm"})
    assert f"{rest.upper()} dark" in words(board_side(dead.study()))


@pytest.mark.parametrize(
    ("plan", "said"), [({}, "a trigger"), ({"trigger": {}, "wiring": {"reversing": "relay"}}, "name of a relay")]
)
def test_without_trigger_or_relay_there_is_nothing_to_draw(plan, said):
    with pytest.raises(RangeError, match=said):
        board_side(Plan(**plan).study())
