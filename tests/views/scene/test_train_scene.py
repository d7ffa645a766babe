"""The track at a moment, to scale, with the reed, the boards and the lit lamp as they are then."""

import itertools
import re

import pytest

from sigcalc.design.train.passing_train import passing_train
from sigcalc.design.train.train_run import GREEN, RED
from sigcalc.views.light import Light
from sigcalc.views.scene.thing import thing
from sigcalc.views.scene.train_scene import train_scene
from tests.design.train.passing_runs import run
from tests.views.svg import SVG, corners, fills, group, groups, texts, words

USUAL = passing_train(run())
CLOSES = float(USUAL.happenings.contact.first[0]) + USUAL.si.start


def left_of(each):
    return float(re.match(r"translate\((-?[\d.]+)", each.get("transform"))[1])


def place(picture, name):
    """The middle of a group's one rectangle."""
    (found,) = (each for each in group(picture, name) if each.tag.endswith("rect"))
    return float(found.get("x")) + float(found.get("width")) / 2


def cars(picture):
    return [each for each in groups(picture, "thing car") if each.get("transform")]


@pytest.mark.parametrize("moment", [0.0, 0.7, 3.0])
def test_the_train_is_where_it_is_to_scale(moment):
    picture = train_scene(USUAL, moment)
    bar = [x for x, _ in corners(group(picture, "scale"))[0]]
    assert any(each.startswith("500 mm") for each in words(picture))
    per_metre = (max(bar) - min(bar)) / 0.5
    passed = (moment - USUAL.si.start) * 0.3
    assert (place(picture, "magnet") - place(picture, "reed")) / per_metre == pytest.approx(passed, abs=2e-3)
    starts = sorted(left_of(each) for each in cars(picture))
    assert (starts[-1] - starts[0]) / per_metre == pytest.approx(0.75 * 0.9, rel=0.01)
    assert cars(train_scene(USUAL, 30.0)) == []  # it has left


def test_a_train_the_other_way_runs_from_right_to_left():
    early, late = (train_scene(passing_train(run(backwards=True)), moment) for moment in (0.1, 1.5))
    assert place(late, "magnet") < place(early, "magnet")
    assert "before the signal" in early.sentence


@pytest.mark.parametrize("boards", [True, False])
def test_the_lit_lamp_shines_and_is_named(boards):
    for moment, lit in ((0, GREEN), (USUAL.si.red_from + 0.01, RED), (USUAL.si.red_until + 0.01, GREEN)):
        picture = train_scene(USUAL, moment, boards)
        assert [each for each in words(picture) if each in ("RED", "GREEN")] == [lit.upper()]
        for drawn in [each for each in groups(picture, "thing signal") if each.get("transform")]:
            for lamp in (RED, GREEN):
                assert (Light.switched(lamp, lit=True).lens.lower() in fills(drawn)) == (lamp == lit)
        assert f"the lamp shows {lit}." in picture.sentence


def test_the_reed_is_closed_while_its_contact_is():
    closed = train_scene(USUAL, CLOSES + 1e-3)
    assert "reed CLOSED" in words(closed)
    assert "the reed is closed" in closed.sentence
    assert "reed open" in words(train_scene(USUAL, 0.0))


def drawn_as(picture, name, **facts):
    """Whether a thing is drawn with just these facts."""
    shapes = next(each for each in groups(picture, f"thing {name}") if each.get("transform"))
    wanted = thing(name, **facts).shapes
    return [each.attrib for each in shapes.iter()][1:] == [each.attrib for top in wanted for each in top.iter()]


@pytest.mark.parametrize("fed_for", [RED, GREEN])
def test_the_boards_are_as_timer_and_relay_are(fed_for):
    result = passing_train(run(coil_fed_for=fed_for))
    for moment, red in ((0.0, False), (result.si.red_from + 1.0, True), (result.si.red_until + 0.5, False)):
        picture = train_scene(result, moment)
        pulled = red == (fed_for == RED)
        assert drawn_as(picture, "relay_board", pulled=pulled, light=Light.switched("amber", pulled))
        assert any(each.startswith("timer ON") for each in words(picture)) == red
        assert ("relay pulled in" in " ".join(words(picture))) == pulled
    half = float(result.happenings.timer.first[0]) + result.si.start + result.run.hold / 2
    assert drawn_as(train_scene(result, half), "timer_board", running=True, share=0.5)


def test_the_reeds_wires_carry_a_current_only_while_it_is_closed():
    for moment, closed in ((0.0, False), (CLOSES + 1e-3, True)):
        wires = groups(train_scene(USUAL, moment), "wire to reed")
        moving = [each for wire in wires for each in wire.iter(SVG + "polyline") if each.get("class") == "sigcalc-flow"]
        assert len(wires) == 2
        assert bool(moving) == closed


PLACES = ("2 m", "0 m", "3 m"), ("1 m", "1 m", "100 mm"), ("0 m", "4 m", "100 mm"), ("50 mm", "500 mm", "900 mm")


@pytest.mark.parametrize(("beyond", "clear", "length"), PLACES)
@pytest.mark.parametrize("boards", [True, False])
def test_no_words_cross_the_mast_or_each_other_or_leave_the_sheet(beyond, clear, length, boards):
    changes = {"reed_beyond": beyond, "clearing_distance": clear, "length": length, "backwards": beyond == "1 m"}
    picture = train_scene(passing_train(run(**changes)), 0.0, boards)
    (clear,) = (each for each in texts(picture) if "clear from here" in each.words)
    assert clear.top > max(y for _, y in corners(group(picture, "track"))[0])  # the rail, at which the mast ends
    assert all(text.left >= 0 and text.right <= 632 for text in texts(picture))
    assert not [pair for pair in itertools.combinations(texts(picture), 2) if pair[0].overlaps(pair[1])]
