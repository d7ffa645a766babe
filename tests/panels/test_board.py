"""Signals added one at a time: the panel says and draws what the library finds."""

import html
import itertools
import re

import pytest

from sigcalc.design.board.feeder import study_board
from sigcalc.design.findings import LOOK
from sigcalc.lessons.quillhaven import DRIVER, DRIVES, HAND, PLACES, RELAY, SENSITIVE, SOURCES
from sigcalc.panels.board import GAUGE, GAUGES, LAMPS, LENGTH, LIMIT, MAKE, SHOW, SIGNALS, VIEW, WIRING, SignalsOneByOne
from tests.panels.moving import at_once
from tests.views.svg import by_words, groups, words


@pytest.fixture
def panel():
    return SignalsOneByOne()


def put(panel, **values):
    with at_once(panel):
        for name, value in values.items():
            panel[
                {"signals": SIGNALS, "length": LENGTH, "make": MAKE, "limit": LIMIT, "wire": GAUGE}.get(name, name)
            ].value = value
    return panel.picture


def weakest(panel):
    """The share of the weakest as the sentence says it, in per cent."""
    return float(re.search(r"has (\d+) % of its light", panel.picture.sentence)[1])


def test_each_new_signal_costs_more_than_the_one_before(panel):
    shares = []
    for count in range(1, len(PLACES) + 1):
        put(panel, signals=count)
        study = study_board(panel.board(count))
        shares.append(min(each.share for each in study.signals("red")))
        if count > 1:
            assert f"With one signal less the weakest had {100 * shares[-2]:.0f} %" in panel.picture.sentence
    losses = [before - after for before, after in itertools.pairwise(shares)]
    assert losses == sorted(losses)
    assert f"The weakest, west home, has {100 * shares[-1]:.0f} % of its light: a little dim" in panel.picture.sentence


def test_the_places_of_all_signals_are_kept(panel):
    one, eight = put(panel, signals=1).pictures[0], put(panel, signals=8).pictures[0]
    size = re.compile(r'viewBox="([^"]+)"')
    assert size.search(one.svg)[1] == size.search(eight.svg)[1]
    assert "west home, not connected" in words(one)
    assert len(groups(eight, "lamp")) == 16


def test_a_longer_layout_dims_the_last_and_its_relay_gives_up_first(panel):
    put(panel, signals=8)
    before = weakest(panel)
    scene = put(panel, length=21)
    assert weakest(panel) < before
    assert "a little dim" in scene.sentence
    assert scene.findings[0].topic == "relays"
    assert scene.findings[0].grade == "do not build"
    put(panel, length=60)
    assert "clearly dim" in panel.picture.sentence


@pytest.mark.parametrize(
    "change",
    [
        {"wire": 24},
        {WIRING: "star"},
        {WIRING: "mixed"},
        {"make": SENSITIVE},
        {"make": HAND},
        {"length": 4},
        {"limit": DRIVER},
    ],
)
def test_every_remedy_helps(panel, change):
    put(panel, signals=8)
    before = weakest(panel)
    put(panel, **change)
    assert "Every lamp has all of its light" in panel.picture.sentence or weakest(panel) > before


def test_an_unregulated_adapter_dims_them_all(panel):
    put(panel, source=SOURCES["9 V unregulated, 500 mA"], signals=8)
    state = study_board(panel.board(8)).state()
    assert state.share.max() < 0.9
    assert by_words(panel.picture.pictures[0], "weakest")


def test_a_battery_s_good_light_is_not_all_that_is_said(panel):
    put(panel, source=SOURCES["9 V alkaline block battery"], signals=1)
    (told,) = [each for each in panel.picture.findings if each.topic == "battery"]
    assert (told.grade, "fresh battery" in told.reason) == (LOOK, True)
    assert by_words(panel.picture.pictures[0], "9.32 V at its terminals")


def test_colour_and_view(panel):
    put(panel, signals=3)
    assert {
        each.get("class").split()[-2]
        for each in groups(panel.picture.pictures[0], "lamp")
        if "lit" in each.get("class")
    } == {"red"}
    green = put(panel, **{SHOW: "green", VIEW: LAMPS}).pictures[0]
    assert "joint board" not in green.svg
    assert {each.get("class").split()[-2] for each in groups(green, "lamp") if "lit" in each.get("class")} == {"green"}


@pytest.mark.parametrize("source", list(SOURCES))
def test_every_corner_is_answered_or_refused_with_a_sentence(panel, source):
    put(panel, source=SOURCES[source], signals=8)
    for make, drive, length in itertools.product((HAND, RELAY), DRIVES, (2, 60)):
        put(panel, make=make, limit=drive, length=length)
        assert panel.picture is not None or "no voltage satisfies" in panel.view.value


@pytest.mark.parametrize(
    ("name", "typed", "said"),
    [
        (SIGNALS, "2.5", "signals connected needs a whole number, but 2.5 came"),
        (SIGNALS, "9", "signals connected needs 1 to 8"),
        (SIGNALS, "eight", "signals connected needs 1 to 8"),
        (LENGTH, "1", "2 to 60 m"),
        (LENGTH, "", "nothing came"),
    ],
)
def test_rubbish_is_refused_and_the_picture_taken_away(panel, name, typed, said):
    panel[name].box.value = typed
    assert panel.picture is None
    assert 'role="alert"' in panel.view.value
    assert said in html.unescape(panel.view.value)


def test_large_type_and_the_plain_page(panel):
    page = panel._repr_mimebundle_()["text/html"]
    assert panel.picture.sentence in html.unescape(page)
    panel["large type for the projector"].value = True
    natural = re.findall(r"max-width:([\d.]+)pt", panel.view.value)
    panel["large type for the projector"].value = False
    assert natural == [f"{1.5 * float(each):g}" for each in re.findall(r"max-width:([\d.]+)pt", page)]


def test_the_gauges_on_offer_go_from_thin_to_thick():
    assert list(GAUGES.values()) == sorted(GAUGES.values(), reverse=True)
