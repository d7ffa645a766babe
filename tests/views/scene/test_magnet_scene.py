"""The magnet over the reed: closed where `closures` says so, with its gap, and every place on the sheet."""

import itertools

import pytest

from sigcalc import Q, RangeError
from sigcalc.design.train.magnet_and_reed import closures
from sigcalc.parts.reed import reeds
from sigcalc.physics.magnetics import ORIENTATIONS
from sigcalc.views.scene.magnet_scene import magnet_over_reed
from tests.views.svg import groups, texts, words

MAGNET, REED = "8 x 3 mm disc, N35", reeds["10 W reed, 7 to 21 AT"].middle


@pytest.mark.parametrize("orientation", ORIENTATIONS)
def test_the_reed_is_closed_in_its_stretches_only(orientation):
    stretches = closures(MAGNET, REED, "5 mm", orientation)
    closed_at = [(start + end) / 2 for start, end in stretches]
    beyond = [(end + start) / 2 for (_, end), (start, _) in itertools.pairwise(stretches)] + [Q("40 mm")]
    for place, closed in [*((each, True) for each in closed_at), *((each, False) for each in beyond)]:
        picture = magnet_over_reed(MAGNET, REED, "5 mm", orientation, place)
        assert ("reed CLOSED" in words(picture)) == bool(groups(picture, "reed closed")) == closed
        assert f"the reed is {'closed' if closed else 'open'}." in picture.sentence
        assert "gap 5 mm" in words(picture)


def test_the_wagon_is_where_the_magnet_is():
    lefts = [
        float(each.get("transform")[10:].split()[0])
        for place in ("-5 mm", "0 mm", "5 mm")
        for each in groups(magnet_over_reed(MAGNET, REED, "5 mm", place=place), "thing wagon")
        if each.get("transform")
    ]
    assert lefts[1] - lefts[0] == pytest.approx(lefts[2] - lefts[1])
    assert lefts == sorted(lefts)


@pytest.mark.parametrize("place", ["-1 m", "0 mm", "1 m"])
def test_no_words_overlap_or_leave_the_sheet(place):
    found = texts(magnet_over_reed(MAGNET, REED, "123.4 mm", place=place))
    assert not [pair for pair in itertools.combinations(found, 2) if pair[0].overlaps(pair[1])]
    assert all(each.left >= 0 and each.right <= 440 and each.bottom <= 246 for each in found)


def test_a_place_beyond_the_track_is_refused():
    with pytest.raises(RangeError, match="place"):
        magnet_over_reed(MAGNET, REED, "5 mm", place="2 m")
