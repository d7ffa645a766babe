"""The switch from both sides: what it shows is what `show` finds, and a short circuit is never without its warning."""

import itertools

import pytest

from sigcalc import DesignError, UnknownNameError
from sigcalc.design.pair.wiring import GREEN, RED, show, wirings
from sigcalc.views.light import Light
from sigcalc.views.scene.switch_scene import SWITCH_WIRINGS, switch_front_and_back
from sigcalc.views.style import LOOSE, MINUS, PLUS, STAGE
from tests.views.svg import SVG, groups, texts, words

EVERY = pytest.mark.parametrize(("wiring", "up"), list(itertools.product(SWITCH_WIRINGS, (True, False, None))))


def found(wiring, up):
    """What the library says of it."""
    made = wirings[SWITCH_WIRINGS[wiring]]
    return show(made, closed(made, up), "so")


def closed(made, up):
    first, *_, last = made.devices[0][1].positions
    return () if up is None else made.closed([first if up else last])


def jumpers(picture):
    """The wires by the points that they join."""
    return {each.get("class").removeprefix("jumper "): each for each in groups(picture, "jumper ")}


def lines(wire, part="stroke"):
    return {each.get(part) for each in wire.iter(SVG + "polyline")}


@EVERY
def test_lamps_and_wires_are_as_the_wiring_shows(wiring, up):
    shown, picture = found(wiring, up), switch_front_and_back(up, wiring)
    fills = {each.get("fill") for each in groups(picture, "thing signal")[-1].iter()}
    for lamp in (RED, GREEN):
        assert (Light.switched(lamp, lit=True).lens in fills) == (lamp in shown.lamps)
    lit = bool({RED, GREEN} & set(shown.lamps))
    for number, name in enumerate("AB"):
        (wire,) = (each for joined, each in jumpers(picture).items() if joined.endswith(f" to {name}"))
        assert ("sigcalc-flow" in lines(wire, "class")) == lit
        if not shown.short:
            pole = shown.leads[0][number]
            assert {"+": PLUS, "-": MINUS, "": LOOSE}[pole] in lines(wire)
            on = {"+": "plus", "-": "minus", "": "on no pole"}[pole]
            assert f"wire {name} is {on}" in words(picture)


@EVERY
def test_each_terminal_on_a_pole_has_its_sign(wiring, up):
    """So that the poles can be told without their colours."""
    made, shown = wirings[SWITCH_WIRINGS[wiring]], found(wiring, up)
    if shown.short:
        return
    at = made.groups(closed(made, up))
    terminals = [each for contact in made.contacts for each in contact]
    picture = switch_front_and_back(up, wiring)
    for sign, pole in (("+", "+"), ("−", "-")):
        on_battery = 1
        assert words(picture).count(sign) == on_battery + sum(at[each] == at[pole] for each in terminals)


@EVERY
def test_a_short_circuit_is_marked_and_said_and_nothing_else_is(wiring, up):
    picture, short = switch_front_and_back(up, wiring), found(wiring, up).short
    assert len(groups(picture, "short circuit")) == (2 if short else 0)
    assert ("gets hot" in " ".join(words(picture))) == ("get hot" in picture.sentence) == short
    assert "fine" not in picture.sentence.lower()


def test_the_current_takes_the_jumpers_only_with_the_lever_down():
    for up in (True, False):
        moving = [
            name for name, wire in jumpers(switch_front_and_back(up)).items() if "sigcalc-flow" in lines(wire, "class")
        ]
        assert [name for name in moving if "up" in name and "down" in name] == (
            [] if up else ["switch up 1 to switch down 2", "switch up 2 to switch down 1"]
        )


def test_the_lever_up_joins_the_lower_terminals():
    for up in (True, False):
        contacts = [
            [float(pair.split(",")[1]) for pair in each.get("points").split()]
            for contact in groups(switch_front_and_back(up), "contact")
            for each in contact.iter(SVG + "polyline")
        ]
        assert contacts
        middle = sorted(height for line in contacts for height in line)
        common = middle[-1] if not up else middle[0]
        assert all(common in line for line in contacts)


@EVERY
def test_no_words_overlap_or_leave_the_sheet(wiring, up):
    found = texts(switch_front_and_back(up, wiring))
    assert not [pair for pair in itertools.combinations(found, 2) if pair[0].overlaps(pair[1])]
    assert all(each.left >= 0 and each.right <= 596 and each.bottom <= 412 for each in found)


def test_contacts_that_touch_both_ends_are_hot_unless_the_resistor_comes_first():
    hot, tamed = (switch_front_and_back(None, bridged=True, resistor_first=first) for first in (False, True))
    assert groups(hot, "short circuit")
    assert "get hot" in hot.sentence
    assert not groups(tamed, "short circuit")
    assert "only puts the supply across the resistor" in tamed.sentence
    assert {"all across", "the resistor"} <= set(words(tamed))


@EVERY
def test_with_the_resistor_first_no_words_overlap(wiring, up):
    picture = switch_front_and_back(up, wiring, resistor_first=True)
    assert not [pair for pair in itertools.combinations(texts(picture), 2) if pair[0].overlaps(pair[1])]
    assert groups(picture, "thing resistor")
    assert not groups(picture, "thing resistor_upright")


@EVERY
def test_on_a_wall_it_shows_the_same(wiring, up):
    shown, picture = found(wiring, up), switch_front_and_back(up, wiring, STAGE)
    assert picture.sentence == switch_front_and_back(up, wiring).sentence
    assert ("SHORT CIRCUIT" in words(picture)) == shown.short
    for name, pole in zip("AB", shown.leads[0], strict=True):
        assert shown.short or f"{name} {pole.replace('-', '−')}".strip() in words(picture)
    for lamp in (RED, GREEN):
        assert words(picture)[words(picture).index(lamp.upper()) + 1] == ("ON" if lamp in shown.lamps else "DARK")


def test_a_wiring_without_such_a_switch_is_refused():
    with pytest.raises(UnknownNameError, match="crooked"):
        switch_front_and_back(up=True, wiring="crooked")
    with pytest.raises(DesignError, match="no two-pole hand switch"):
        switch_front_and_back(up=True, wiring="crossed two-pole relay")
    assert "red lights" in switch_front_and_back(up=True, wiring="crossed double-throw switch, centre off").sentence
