"""The orientation panel says what the library says, at every position, and refuses in a sentence."""

import itertools

import pytest

from sigcalc.design.train.magnet_and_reed import largest_gap
from sigcalc.panels.orientation import ALL, WHICH, OrientationPanel
from sigcalc.parts.magnet import magnets
from sigcalc.parts.reed import reeds
from sigcalc.physics.magnetics import ORIENTATIONS
from tests.panels.moving import put


@pytest.fixture
def panel():
    return OrientationPanel()


def test_upright_twice_lengthwise_three_times_crosswise_never(panel):
    scene = put(panel, gap=5, the_magnet_lies=ALL)
    assert "upright twice, lengthwise 3 times and crosswise never" in scene.sentence
    assert scene.findings == ()
    assert "lengthwise once" in put(panel, gap=10).sentence
    assert "upright never, lengthwise never" in put(panel, gap=30).sentence


@pytest.mark.parametrize("lies", ["upright", "lengthwise"])
def test_one_orientation_tells_how_far_off_it_works(panel, lies):
    gap, neighbour = put(panel, gap=4, the_magnet_lies=lies).findings
    limit = largest_gap("8 x 3 mm disc, N35", "10 W reed, 7 to 21 AT", lies, "4 mm")
    assert limit.sentence in gap.reason
    assert gap.grade == "fine"
    assert "beside it" in neighbour.reason
    assert put(panel, gap=8).findings[0].grade == "look again"
    assert put(panel, gap=20).findings[0].grade == "do not build"


def test_crosswise_no_gap_helps(panel):
    (found,) = put(panel, the_magnet_lies="crosswise").findings
    assert found.grade == "do not build"
    assert "at any gap" in found.reason


def test_a_sensitive_reed_is_closed_longer(panel):
    put(panel, the_magnet_lies="upright")
    said = [put(panel, the_one_you_bought_is=which).sentence for which in WHICH]
    ends = [float(each.rsplit(" to ", 1)[1].split()[0]) for each in said]
    assert ends == sorted(ends)


def test_every_corner_is_answered(panel):
    for magnet, gap in itertools.product(magnets, (1, 30)):
        assert put(panel, magnet=magnet, gap=gap) is not None
    for reed, lies in itertools.product(reeds, ORIENTATIONS):
        assert put(panel, reed=reed, the_magnet_lies=lies) is not None


@pytest.mark.parametrize("typed", ["0", "-3", "31", "five", ""])
def test_rubbish_is_refused_and_the_picture_taken_away(typed):
    shown = OrientationPanel()
    shown["gap"].box.value = typed
    assert shown.picture is None
    assert 'role="alert"' in shown.view.value
    assert "1 to 30 mm" in shown.view.value
