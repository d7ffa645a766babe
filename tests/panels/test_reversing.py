"""The panels that turn the current round: each wiring at each position shows what the contacts join, and is judged."""

import re

import pytest

from sigcalc.panels.reversing import (
    BRIDGED,
    FIRST,
    LAST,
    ONE_SIGNAL,
    OPEN,
    TWO_SIGNALS,
    FourSwitchesPanel,
    ReversingPanel,
    SharedReturnPanel,
)
from sigcalc.parts.contacts import wirings

# what each wiring shows at one end, between (touching nothing, touching both), and at the other end
DARK, SHORT, RED, GREEN = "dark", "short circuit", "red lights", "green lights"
ENDS = {
    "crossed switch": (RED, DARK, SHORT, GREEN),
    "crossed, centre off": (RED, DARK, SHORT, GREEN),
    "crossed relay": (RED, DARK, SHORT, GREEN),
    "cutting switch": (DARK, DARK, RED, RED),
    "straight jumpers": (RED, DARK, RED, RED),
    "one jumper straight": (SHORT, SHORT, SHORT, SHORT),
    "split supply": (RED, DARK, SHORT, GREEN),
}
PLACES = (FIRST, OPEN, BRIDGED, LAST)
BEFORE = "the resistor comes before the switch"
SHOWN_WHOLE = 20  # letters of a name that the closed list shows whole in large type


@pytest.fixture
def one_signal():
    return ReversingPanel()


@pytest.fixture
def four():
    return FourSwitchesPanel()


@pytest.fixture
def shared():
    return SharedReturnPanel()


def scene_of(panel, wiring, where, before=False):
    panel["wiring"].value, panel["contacts"].value, panel[BEFORE].value = ONE_SIGNAL[wiring], where, before
    return panel.picture


def grades(scene):
    return [each.grade for each in scene.findings]


def close(panel, *numbers):
    for number in range(1, 5):
        panel[f"switch {number} closed"].value = number in numbers
    return panel.picture


def test_every_wiring_is_in_a_list_and_every_list_is_tried_here():
    assert set(ENDS) == set(ONE_SIGNAL)
    offered = {each.name for each in (*ONE_SIGNAL.values(), *TWO_SIGNALS.values(), FourSwitchesPanel.wiring)}
    assert set(wirings) <= offered


@pytest.mark.parametrize("name", [*ONE_SIGNAL, *TWO_SIGNALS])
def test_the_list_shows_each_name_whole(name):
    assert 0 < len(name) <= SHOWN_WHOLE


@pytest.mark.parametrize("wiring", ENDS)
def test_what_a_wiring_shows_at_its_ends_and_on_the_way(one_signal, wiring):
    for where, seen in zip(PLACES, ENDS[wiring], strict=True):
        scene = scene_of(one_signal, wiring, where)
        shown = {each for each in (DARK, SHORT, RED, GREEN) if each in scene.sentence.split(". ")[0]}
        assert shown == {seen}, where
        assert ONE_SIGNAL[wiring].says in scene.sentence


@pytest.mark.parametrize("wiring", ENDS)
def test_only_what_shows_both_colours_is_fine(one_signal, wiring):
    seen = ENDS[wiring]
    at_the_end = grades(scene_of(one_signal, wiring, FIRST))
    if (seen[0], seen[-1]) == (RED, GREEN):
        assert at_the_end == ["fine"]
        assert grades(scene_of(one_signal, wiring, OPEN)) == ["fine", "fine"]
        assert grades(scene_of(one_signal, wiring, BRIDGED)) == ["do not build"]
    else:
        assert "do not build" in at_the_end
        assert "fine" not in at_the_end


def test_a_resistor_before_the_switch_tames_a_short_circuit(one_signal):
    tamed = "only puts the supply across the resistor"
    assert tamed in scene_of(one_signal, "one jumper straight", FIRST, before=True).sentence
    assert tamed not in scene_of(one_signal, "one jumper straight", FIRST).sentence
    assert tamed not in scene_of(one_signal, "crossed switch", FIRST, before=True).sentence


@pytest.mark.parametrize(
    ("closed", "seen"),
    [((1, 4), RED), ((2, 3), GREEN), ((1, 3), DARK), ((2, 4), DARK), ((), DARK), ((1, 2), SHORT), ((3, 4), SHORT)],
)
def test_two_of_four_switches(four, closed, seen):
    scene = close(four, *closed)
    assert seen in scene.sentence
    assert grades(scene)[0] == ("do not build" if seen == SHORT else "look again")
    assert "7 of 16 positions" in scene.findings[-1].reason


def test_four_switches_behind_a_resistor_are_in_no_danger(four):
    four["the resistor comes before the switches"].value = True
    assert grades(close(four, 1, 2)) == ["look again"]


def test_a_shared_return_is_shorted_by_different_colours(shared):
    assert shared.picture.sentence.count(RED) == 2
    shared["switch 2"].value = "down"
    assert SHORT in shared.picture.sentence
    assert grades(shared.picture) == ["do not build"]


@pytest.mark.parametrize("name", ["own wires", "shared, own supplies", "shared, split supply"])
def test_what_lets_two_signals_differ(shared, name):
    shared["wiring"].value, shared["switch 2"].value = TWO_SIGNALS[name], "down"
    assert "signal 1 red lights" in shared.picture.sentence
    assert "signal 2 green lights" in shared.picture.sentence
    assert grades(shared.picture) == ["fine"]


def test_two_signals_behind_one_switch_change_together(shared):
    shared["wiring"].value = TWO_SIGNALS["behind one switch"]
    for switch_1, seen in (("up", RED), ("down", GREEN)):
        shared["switch 1"].value = switch_1
        for switch_2 in ("up", "down"):
            shared["switch 2"].value = switch_2
            assert shared.picture.sentence.count(seen) == 2
    assert grades(shared.picture) == ["look again"]
    buttons = shared["switch 2"].widget.children[1]
    assert buttons.disabled
    shared["wiring"].value = TWO_SIGNALS["own wires"]
    assert not buttons.disabled


def test_behind_the_resistor_a_bridge_on_the_way_is_no_short_circuit(one_signal):
    assert "do not build" in grades(scene_of(one_signal, "crossed switch", BRIDGED))
    scene = scene_of(one_signal, "crossed switch", BRIDGED, before=True)
    assert grades(scene) == ["look again"]
    assert "across the resistor" in scene.sentence
    (picture,) = scene.pictures
    assert "SHORT CIRCUIT" not in picture.svg
    assert "ALL ACROSS THE RESISTOR" in picture.svg


def test_no_resistor_tames_the_short_circuit_of_a_split_supply_nor_one_that_is_none(one_signal):
    scene = scene_of(one_signal, "split supply", BRIDGED, before=True)
    assert "do not build" in grades(scene)
    assert "across the resistor" not in " ".join((scene.sentence, *(each.remedy for each in scene.findings)))
    assert "SHORT CIRCUIT" in scene.pictures[0].svg
    assert one_signal["the resistor comes before the switch"].widget.disabled
    cutting = scene_of(one_signal, "cutting switch", BRIDGED, before=True)
    assert all("across the resistor" not in each.reason for each in cutting.findings)


def test_a_finding_starts_like_a_sentence(shared):
    assert re.search(r"</b> Two signals, one supply", shared.view.value)
