"""The circuit at the board: every part named, the diode across the coil, the contacts as they rest."""

import pytest

from sigcalc import Plan, RangeError
from sigcalc.views.board_side import board_side
from sigcalc.views.sheet import board_pictures, build_sheet
from tests.views.samples import BOARD_SIDES
from tests.views.svg import by_words, corners, fills, group, groups, parse, words

WITHOUT_DRIVER = [name for name, plan in BOARD_SIDES.items() if "current" not in plan.drive.kind]


def drawn(name):
    return board_side(BOARD_SIDES[name].study())


@pytest.mark.parametrize("name", BOARD_SIDES)
def test_every_part_is_there_in_words(name):
    plan, picture = BOARD_SIDES[name], drawn(name)
    said = words(picture)
    for word in ("plus +", "minus −", "reed switch", "trigger input", "timer", plan.trigger.timer, "output", "coil"):
        assert word in said
    assert {"capacitor", "flyback", "diode,", "ring to +", "contact 1", "contact 2"} <= set(said)
    assert parse(picture).get("aria-label") == picture.sentence
    assert "cathode to plus" in picture.sentence


def test_the_values_are_those_of_the_plan():
    made = {"relay": "12 V two-pole", "capacitance": "47 µF", "pot": "1 Mohm", "reed_resistor": "2.2 kohm"}
    said = words(board_side(Plan(trigger=made, wiring={"reversing": "relay"}).study()))
    for word in ("47 µF", "pot 1 MΩ", "and 4.7 kΩ", "2.2 kΩ", "12 V two-pole"):
        assert word in said


@pytest.mark.parametrize("name", BOARD_SIDES)
def test_the_diode_lies_across_the_coil_with_its_bar_at_the_coils_plus_end(name):
    picture = drawn(name)
    lines = corners(group(picture, "flyback diode"))
    (triangle,) = (line for line in lines if len(line) == 3)
    (bar,) = (line[0][1] for line in lines if len(line) == 2 and line[0][1] == line[1][1])
    tip, *base = sorted(y for _, y in triangle)
    assert tip == bar < min(base)
    (wire,) = (line for line in corners(group(picture, "coil")) if len(line) == 2)
    coil = sorted(y for _, y in wire)
    ends = sorted(y for line in lines for _, y in line)
    assert ends[0] == pytest.approx(coil[0], abs=0.1)
    assert ends[-1] == pytest.approx(coil[1], abs=0.1)
    signs = [text for text in group(picture, "coil").itertext() if text in "+−"]
    assert signs == ["+", "−"]
    plus, minus = (each for each in group(picture, "coil") if each.text in ("+", "−"))
    assert float(plus.get("y")) < float(minus.get("y"))


@pytest.mark.parametrize(("fed", "rest"), [("for red", "green"), ("for green", "red")])
def test_the_contacts_are_drawn_as_they_rest(fed, rest):
    plan = Plan(trigger={"relay": "12 V two-pole"}, wiring={"reversing": "relay"}, evening={"coil_fed": fed})
    picture = board_side(plan.study())
    assert f"coil off: {rest.upper()}" in words(picture)
    assert f"coil off: {rest.upper()}" in picture.sentence
    assert f"{rest.upper()} lit" in words(picture)
    assert fills(group(picture, "signal"))
    # minus is on the upper pole: levers up put it on wire A, which is plus for red
    levers = [
        line for line in corners(group(picture, f"contacts {rest}")) if len(line) == 2 and line[0][0] != line[1][0]
    ]
    assert len(levers) == 2
    up = {line[0][1] > line[1][1] for line in (sorted(lever) for lever in levers)}
    assert up == {rest == "green"}
    assert ("wire A −" in words(picture)) == (rest == "green")
    assert ("wire B +" in words(picture)) == (rest == "green")


def test_the_reed_pulls_to_minus_or_fills_the_capacitor_from_plus():
    for name, below in (("usual", True), ("mosfet", False)):
        picture = drawn(name)
        reed = [y for line in corners(groups(picture, "reed")[-1]) for _, y in line]
        assert (min(reed) > 124 - 1) == below
        assert ("to minus;" in picture.sentence) == below


@pytest.mark.parametrize("name", BOARD_SIDES)
def test_the_resistor_is_shared_where_there_is_one(name):
    picture = drawn(name)
    assert ("shared resistor" in words(picture)) == (len(groups(picture, "resistor")) == 1) == (name in WITHOUT_DRIVER)
    assert (len(groups(picture, "driver")) == 1) == (name not in WITHOUT_DRIVER)


def test_it_stands_on_the_sheet_where_a_train_sets_a_named_relay():
    study = BOARD_SIDES["usual"].study()
    page = build_sheet(study)
    (picture,) = board_pictures(study)
    assert picture.svg in page[page.index("Hands off") :]
    assert by_words(picture, "reed switch")
    assert board_pictures(Plan().study()) == []


@pytest.mark.parametrize(
    ("plan", "said"), [({}, "a trigger"), ({"trigger": {}, "wiring": {"reversing": "relay"}}, "name of a relay")]
)
def test_without_trigger_or_relay_there_is_nothing_to_draw(plan, said):
    with pytest.raises(RangeError, match=said):
        board_side(Plan(**plan).study())


def test_a_lamp_that_does_not_survive_is_not_lit():
    plan = BOARD_SIDES[WITHOUT_DRIVER[0]]
    dead = plan.with_changes(drive={"kind": "resistor", "resistance": "1 ohm"})
    rest = next(lamp for lamp in ("RED", "GREEN") if f"{lamp} lit" in words(board_side(plan.study())))
    assert f"{rest} dark" in words(board_side(dead.study()))
