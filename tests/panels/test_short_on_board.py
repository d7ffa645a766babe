"""A short circuit on the board: what flows, who goes dark, what the fuse does."""

import itertools

import pytest

from sigcalc.design.board.feeder_short import short_at
from sigcalc.lessons.quillhaven import PLACES, RELAY, SOURCES
from sigcalc.panels.board import GAUGE, LENGTH, MAKE, SOURCE, WIRING
from sigcalc.panels.short_on_board import FUSE, NO_FUSE, NOWHERE, SHORT, ShortPanel
from sigcalc.parts.fuse import fuses
from sigcalc.views.board_words import words_of
from tests.panels.moving import at_once
from tests.views.svg import words


@pytest.fixture
def panel():
    return ShortPanel()


def put(panel, values):
    with at_once(panel):
        for name, value in values.items():
            panel[name].value = value
    return panel.picture


def topics(scene):
    return {each.topic: each.grade for each in scene.findings}


@pytest.mark.parametrize("wiring", ["chain", "star", "mixed"])
@pytest.mark.parametrize("where", ["east home", "west home"])
def test_on_good_wire_every_signal_goes_all_but_dark_wherever_it_is_and_however_wired(panel, wiring, where):
    scene = put(panel, {WIRING: wiring, SHORT: where})
    short = short_at(panel.board(), where)
    assert set(words_of(short.held)) <= {"faint", "dark"}
    assert short.held.share.max() < 0.05
    assert "Held at the 1 A it is rated for, that leaves" in scene.sentence
    assert "SHORT HERE" in words(scene.pictures[0])


def test_on_long_thin_wire_the_adapter_does_not_notice(panel):
    scene = put(panel, {WIRING: "chain", GAUGE: 30, LENGTH: 24, SHORT: "west home"})
    short = short_at(panel.board(), "west home")
    assert not short.held.limited
    assert f"the board draws {1e3 * short.free.si.supply_current:.3g} mA" in scene.sentence
    assert "1 signal in full light" in scene.sentence
    assert scene.sentence.endswith("2 dark.")
    assert topics(scene) == {"source": "look again", "wires": "do not build"}


def test_nothing_holds_an_unregulated_adapter(panel):
    """It gives more than it is rated for, and gets hot: source and wires alone limit the current."""
    scene = put(panel, {SOURCE: SOURCES["9 V unregulated, 500 mA"], SHORT: "east home"})
    short = short_at(panel.board(), "east home")
    assert short.held is short.held_current is None
    assert short.free.si.supply_current > 0.5
    assert "Held at" not in scene.sentence
    assert topics(scene)["source"] == "do not build"
    assert topics(scene)["wires"] in ("look again", "do not build")


@pytest.mark.parametrize(
    ("fuse", "grade"),
    [("200 mA resettable", "fine"), ("300 mA resettable", "look again"), ("650 mA resettable", "do not build")],
)
def test_the_fuse_acts_at_once_slowly_or_perhaps_never(panel, fuse, grade):
    scene = put(panel, {FUSE: fuse})
    assert topics(scene)["fuse"] == grade
    assert "before the fuse acts" in scene.sentence
    assert f"fuse: {fuse}" in words(scene.pictures[0])


def test_a_fuse_that_is_too_small_or_too_large_for_the_board_is_said_as_well(panel):
    assert topics(put(panel, {FUSE: "100 mA resettable"}))["load"] == "do not build"
    assert topics(put(panel, {FUSE: "900 mA resettable"}))["thinnest wire"] == "do not build"
    assert set(topics(put(panel, {FUSE: "300 mA resettable"}))) == {"fuse"}


def test_without_a_short_the_board_is_as_it_should_be(panel):
    scene = put(panel, {SHORT: NOWHERE})
    assert scene.sentence == "Without a short circuit: 8 signals in full light."
    assert "SHORT HERE" not in words(scene.pictures[0])
    assert topics(put(panel, {FUSE: "100 mA resettable"}))["load"] == "do not build"


def test_without_a_short_a_relay_that_stays_off_is_told(panel):
    scene = put(panel, {SHORT: NOWHERE, MAKE: RELAY, GAUGE: 30, LENGTH: 60})
    assert topics(scene)["relays"] == "do not build"


def test_a_battery_gives_what_it_can(panel):
    scene = put(panel, {SOURCE: SOURCES["9 V alkaline block battery"]})
    assert "the board draws" in scene.sentence
    assert any("gets hot" in each.reason for each in scene.findings)
    assert [each.grade for each in scene.findings] == ["do not build", "look again"]


def test_every_place_and_every_fuse_is_answered(panel):
    for where, fuse in itertools.product([NOWHERE, *PLACES][::3], [NO_FUSE, *fuses][::4]):
        assert put(panel, {SHORT: where, FUSE: fuse}) is not None
