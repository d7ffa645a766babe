"""The track at a moment: the train at its place, to scale, the lit lamp named and filled, the reed open or closed."""

import pytest

from sigcalc.design.train.passing_train import passing_train
from sigcalc.views.track import track_picture
from tests.design.train.passing_runs import run
from tests.views.svg import corners, fills, group, texts, words

USUAL = passing_train(run())


def boxes(picture, name):
    """Left and right end of each rectangle of a group."""
    found = [each for each in group(picture, name) if each.tag.endswith("rect")]
    return [(float(each.get("x")), float(each.get("x")) + float(each.get("width"))) for each in found]


def place(picture, name):
    ((left, right),) = boxes(picture, name)
    return (left + right) / 2


@pytest.mark.parametrize("moment", [0.0, 0.7, 3.0])
def test_the_train_is_where_it_is_to_scale(moment):
    picture = track_picture(USUAL, moment)
    bar = [x for x, _ in corners(group(picture, "scale"))[0]]
    assert any(each.startswith("500 mm") for each in words(picture))
    per_metre = (max(bar) - min(bar)) / 0.5
    passed = (moment - USUAL.si.start) * 0.3
    assert (place(picture, "magnet") - place(picture, "reed")) / per_metre == pytest.approx(passed, abs=2e-3)
    ends = [end for car in boxes(picture, "train") for end in car]
    assert (max(ends) - min(ends) + 2) / per_metre == pytest.approx(0.9, rel=0.01)
    assert boxes(track_picture(USUAL, 30.0), "train") == []  # it has left


def test_a_train_the_other_way_runs_from_right_to_left():
    early, late = (track_picture(passing_train(run(backwards=True)), moment) for moment in (0.1, 1.5))
    assert place(late, "magnet") < place(early, "magnet")
    assert "before the signal" in early.sentence


def test_the_lit_lamp_is_filled_and_named():
    red, green = ("RED", "#d5001c"), ("GREEN", "#35cf6a")
    for moment, (lit, fill) in ((0, green), (USUAL.si.red_from + 0.01, red), (USUAL.si.red_until + 0.01, green)):
        picture = track_picture(USUAL, moment)
        assert [each for each in words(picture) if each in ("RED", "GREEN")] == [lit]
        assert fill in fills(group(picture, "signal"))
        assert picture.sentence.endswith(f"the lamp shows {lit.lower()}.")


def test_the_reed_is_closed_while_its_contact_is():
    closed = track_picture(USUAL, float(USUAL.happenings.contact.first[0]) + USUAL.si.start + 1e-3)
    assert "reed CLOSED" in words(closed)
    assert "the reed is closed" in closed.sentence
    assert "reed open" in words(track_picture(USUAL, 0.0))


PLACES = ("2 m", "0 m", "3 m"), ("1 m", "1 m", "100 mm"), ("0 m", "4 m", "100 mm")


@pytest.mark.parametrize(("beyond", "clear", "length"), PLACES)
def test_no_words_cross_the_mast_or_leave_the_sheet(beyond, clear, length):
    changes = {"reed_beyond": beyond, "clearing_distance": clear, "length": length, "backwards": beyond == "1 m"}
    picture = track_picture(passing_train(run(**changes)), 0.0)
    (clear,) = (each for each in texts(picture) if "clear from here" in each.words)
    assert clear.top > max(y for _, y in corners(group(picture, "track"))[0])  # the rail, at which the mast ends
    assert all(text.left >= 0 and text.right <= 530 for text in texts(picture))
