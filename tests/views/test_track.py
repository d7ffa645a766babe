"""The track at a moment: the train at its place, to scale, the lit lamp named and filled, the reed open or closed."""

import pytest

from sigcalc.design.train.passing_train import passing_train
from sigcalc.views.track import track_picture
from tests.design.train.passing_runs import run
from tests.views.svg import by_words, corners, fills, group, groups, texts, words

USUAL = passing_train(run())


def boxes(picture):
    """Left and right end of each car."""
    found = [each for each in group(picture, "train") if each.tag.endswith("rect")]
    return [(float(each.get("x")), float(each.get("x")) + float(each.get("width"))) for each in found]


def magnet(picture):
    (found,) = (each for each in group(picture, "magnet") if each.tag.endswith("rect"))
    return float(found.get("x")) + float(found.get("width")) / 2


def reed(picture):
    (found,) = groups(picture, "reed")
    (glass,) = (each for each in found if each.tag.endswith("rect"))
    return float(glass.get("x")) + float(glass.get("width")) / 2


def per_metre(picture):
    """From the scale bar, which stands for 500 mm."""
    bar = next(each for each in group(picture, "scale") if each.tag.endswith("polyline"))
    points = [float(pair.split(",")[0]) for pair in bar.get("points").split()]
    assert any(each.startswith("500 mm") for each in words(picture))
    return (max(points) - min(points)) / 0.5


@pytest.mark.parametrize("moment", [0.0, 0.7, 3.0])
def test_the_train_is_where_it_is_to_scale(moment):
    picture = track_picture(USUAL, moment)
    place = (moment - USUAL.si.start) * 0.3
    assert (magnet(picture) - reed(picture)) / per_metre(picture) == pytest.approx(place, abs=2e-3)
    cars = boxes(picture)
    assert (max(right for _, right in cars) - min(left for left, _ in cars) + 2) / per_metre(picture) == pytest.approx(
        0.9, rel=0.01
    )


def test_a_train_the_other_way_runs_from_right_to_left():
    result = passing_train(run(backwards=True))
    early, late = (track_picture(result, moment) for moment in (0.1, 1.5))
    assert magnet(late) < magnet(early)
    assert "before the signal" in early.sentence


@pytest.mark.parametrize(
    ("moment", "lit", "fill"),
    [
        (0.0, "GREEN", "#009e73"),
        (USUAL.si.red_from + 0.01, "RED", "#d55e00"),
        (USUAL.si.red_until + 0.01, "GREEN", "#009e73"),
    ],
)
def test_the_lit_lamp_is_filled_and_named(moment, lit, fill):
    picture = track_picture(USUAL, moment)
    assert [each for each in words(picture) if each in ("RED", "GREEN")] == [lit]
    assert fill in fills(group(picture, "signal"))
    assert picture.sentence.endswith(f"the lamp shows {lit.lower()}.")


def test_the_reed_is_closed_while_its_contact_is():
    contact = USUAL.happenings.contact
    closed = track_picture(USUAL, float(contact.first[0]) + USUAL.si.start + 1e-3)
    assert "reed CLOSED" in words(closed)
    assert "the reed is closed" in closed.sentence
    assert "reed open" in words(track_picture(USUAL, 0.0))


def test_a_train_that_has_left_is_drawn_as_far_as_it_is_there():
    assert boxes(track_picture(USUAL, 30.0)) == []


@pytest.mark.parametrize(
    "changes",
    [
        {"length": "50 mm", "magnet_from_front": "10 mm", "clearing_distance": "5 m"},
        {"length": "3 m", "reed_beyond": "2 m", "clearing_distance": "0 m"},
        {"backwards": True, "clearing_distance": "3 m", "length": "100 mm"},
    ],
)
def test_odd_measures_keep_all_words_on_the_sheet(changes):
    result = passing_train(run(**changes))
    for moment in (0.0, result.si.end / 2):
        for text in texts(track_picture(result, moment)):
            assert text.left >= 0
            assert text.right <= 530


@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"reed_beyond": "50 mm", "clearing_distance": "200 mm", "length": "1 m"},
        {"reed_beyond": "50 mm", "clearing_distance": "200 mm", "length": "1 m", "backwards": True},
        {"reed_beyond": "400 mm", "clearing_distance": "0 m"},
        {"reed_beyond": "1 m", "clearing_distance": "1 m", "length": "100 mm", "backwards": True},
        {"reed_beyond": "0 m", "clearing_distance": "4 m", "length": "100 mm"},
    ],
)
def test_no_words_cross_the_mast(changes):
    result = passing_train(run(**changes))
    picture = track_picture(result, 0.0)
    mast = corners(group(picture, "signal"))[0][0][0]
    clear = by_words(picture, "clear from here")
    assert not clear.left <= mast <= clear.right
    assert clear.left >= 0
    assert clear.right <= 530
