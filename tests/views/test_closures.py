"""Three orientations as a picture: as many bars as closures, at their places, and words that say so."""

import pytest

from sigcalc.design.train.magnet_and_reed import closures
from sigcalc.errors import RangeError, UnknownNameError
from sigcalc.parts.reed import Reed, reeds
from sigcalc.views.closures import closures_picture
from tests.views.svg import fills, groups, words

MAGNET, REED = "8 x 3 mm disc, N35", reeds["10 W reed, 7 to 21 AT"].middle
BAR = "#595959"


def bars(picture):
    """Left end and width of each closed stretch, a list for each lane, and the lane's frame."""
    found = []
    for strip in groups(picture, "closed"):
        frame, *rest = (each for each in strip if each.tag.endswith("rect"))
        left, width = float(frame.get("x")), float(frame.get("width"))
        found.append([((float(each.get("x")) - left) / width, float(each.get("width")) / width) for each in rest])
    return found


@pytest.mark.parametrize("gap", ["5 mm", "12 mm"])
def test_every_lane_has_its_closures_at_their_places(gap):
    picture = closures_picture(MAGNET, REED, gap)
    lanes = bars(picture)
    wanted = [
        [(start.m_as("mm"), end.m_as("mm")) for start, end in closures(MAGNET, REED, gap, name)]
        for name in ("upright", "lengthwise", "crosswise")
    ]
    assert [len(each) for each in lanes] == [len(each) for each in wanted]
    reach = 1.2 * max(abs(x) for each in wanted for pair in each for x in pair)
    for lane, pairs in zip(lanes, wanted, strict=True):
        for (left, width), (start, end) in zip(lane, pairs, strict=True):
            assert left == pytest.approx((start / reach + 1) / 2, abs=1e-3)
            assert width == pytest.approx((end - start) / reach / 2, abs=1e-3)


def test_words_and_numbers_say_what_the_bars_show():
    picture = closures_picture(MAGNET, REED, "5 mm")
    said = words(picture)
    assert [each for each in said if each.startswith("closed")] == ["closed 2×", "closed 3×", "closed 0×"]
    assert "no field along the reed" in said
    assert said.count("pull-in") == said.count("release") == 3
    assert "upright twice, lengthwise 3 times and crosswise never" in picture.sentence


def test_a_strong_magnet_close_by_is_not_said_as_a_power_of_ten():
    assert "e+" not in closures_picture(MAGNET, REED, "1 mm").sentence


def test_one_orientation_names_its_places():
    picture = closures_picture(MAGNET, REED, "5 mm", ["lengthwise"])
    assert "lengthwise 3 times" in picture.sentence
    assert picture.sentence.count("from") == 3
    assert "−8.83 mm" in picture.sentence
    assert fills(groups(picture, "closed")[0]) == [BAR] * 3


def test_too_far_off_has_no_bars():
    assert bars(closures_picture(MAGNET, REED, "40 mm")) == [[], [], []]


def test_bad_input_is_refused():
    with pytest.raises(UnknownNameError, match="sideways"):
        closures_picture(MAGNET, REED, "5 mm", ["sideways"])
    with pytest.raises(RangeError, match="gap needs"):
        closures_picture(MAGNET, Reed("2 mT", "1 mT"), "0 mm")
