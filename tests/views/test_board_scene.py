"""The row of signals as one sees it: light, current and voltage fall along the wire, and a short is seen."""

import dataclasses
import itertools

import numpy as np
import pytest

from sigcalc.design.board.board import board_along
from sigcalc.design.board.feeder import relay_reach, study_board
from sigcalc.design.board.fuse import short_at
from sigcalc.lessons.quillhaven import HAND, PLACES, RELAY, SENSITIVE, load, places
from sigcalc.parts.fuse import bearable_current
from sigcalc.views.board_scene import board_scene
from sigcalc.views.style import MINUS, PLUS
from tests.views.samples import ADAPTER
from tests.views.svg import SVG, by_words, corners, group, groups, texts, words


def board(wiring="chain", length="24 m", wire=30, make=RELAY):
    return board_along("Quillhaven", ADAPTER, load(ADAPTER, make), places(length), wiring, wire)


STUDY = study_board(board())
STATE = STUDY.state("red")
PICTURE = board_scene(STATE, reach=relay_reach(STUDY))


def halos(picture):
    """How far the light around each signal reaches; 0 around a dark one."""
    return [max((float(each.get("r")) for each in lamp), default=0.0) for lamp in groups(picture, "thing signal light")]


def test_each_signal_is_as_bright_as_its_share_of_light_and_says_it():
    reach = halos(PICTURE)
    assert len(reach) == len(PLACES)
    assert all(near > far for near, far in itertools.pairwise(reach))
    assert np.corrcoef(reach, STATE.share)[0, 1] > 0.999
    for name, share in zip(PLACES, STATE.share, strict=True):
        said = [each.text for each in group(PICTURE, f"words {name}").iter(SVG + "text")]
        assert f"{100 * share:.0f} %" in said


@pytest.mark.parametrize("wiring", ["chain", "star", "mixed"])
def test_wires_grow_with_their_current_and_glow_where_it_is_more_than_they_are_rated_for(wiring):
    state = study_board(board(wiring)).state("red")
    picture, rated = board_scene(state), bearable_current(30).m_as("A")
    for node in range(1, len(state.board.nodes)):
        current = abs(state.si.section_current[state.board.section_above[node]])
        run = next(each for each in groups(picture, f"run {node}") if each.get("class").split()[1] == str(node))
        widths = [
            float(each.get("stroke-width")) for each in run.findall(SVG + "polyline") if each.get("stroke") == PLUS
        ]
        assert widths == pytest.approx([max(5 * current**0.5, 1.0)], abs=0.01)
        assert run.get("class").endswith("hot") == (current > rated)


def test_the_voltage_is_a_bar_on_a_scale_that_stays_and_a_relay_that_may_stay_off_is_named():
    for length in ("2 m", "24 m"):
        study = study_board(board(length=length))
        picture = board_scene(study.state("red"), reach=relay_reach(study))
        assert {"12 V", "0 V"} <= set(words(picture))
        bars = [group(picture, f"volts {name}").findall(SVG + "rect") for name in PLACES]
        shares = [float(level.get("height")) / float(whole.get("height")) for whole, level in bars]
        assert shares == pytest.approx(study.state("red").si.voltage / 12, abs=0.01)
    off = relay_reach(STUDY).short_of
    assert 0 < len(off) < len(PLACES)
    assert words(PICTURE).count("✘ relay") == len(off)


def test_plus_is_on_the_other_wire_of_the_mast_when_green_is_shown():
    def terminal(picture, colour):
        lines = group(picture, "drop east home").findall(SVG + "polyline")
        return corners([each for each in lines if each.get("stroke") == colour])[0][-1][1]

    green = board_scene(STUDY.state("green"))
    assert terminal(PICTURE, PLUS) == terminal(green, MINUS) < terminal(PICTURE, MINUS) == terminal(green, PLUS)


def test_a_short_is_a_flash_at_its_place_and_the_row_is_dark_or_dims():
    short = short_at(board("mixed", "12 m", 24, SENSITIVE), "north junction")
    picture = board_scene(short.lasting, short.node)
    assert set(halos(picture)) == {0.0}
    flash, name = by_words(picture, "SHORT"), by_words(picture, "junction")
    assert abs(flash.left - name.left) < 60
    assert not groups(PICTURE, "short circuit")
    far = short_at(board(make=SENSITIVE), "west home")
    dims = halos(board_scene(far.lasting, far.node))
    assert dims == sorted(dims, reverse=True)
    assert dims[0] > dims[3] > dims[-1] == 0.0


def test_a_fuse_is_named_and_what_is_not_connected_yet_has_no_wires():
    with_fuse = dataclasses.replace(board(make=HAND), fuse="300 mA resettable")
    said = words(board_scene(study_board(with_fuse).state("red")))
    assert any(each.endswith("behind its fuse, 300 mA resettable") for each in said)
    later = board_scene(STATE, waiting=["later"])
    assert words(later).count("not yet") == 1
    assert not groups(later, "drop later")


@pytest.mark.parametrize("wiring", ["chain", "star", "mixed"])
def test_labels_are_apart_at_the_ends_of_the_sliders_wherever_the_short_is(wiring):
    for length in ("2 m", "60 m"):
        study = study_board(board(wiring, length))
        drawn = [board_scene(study.state("green"), reach=relay_reach(study))]
        shorts = [short_at(board(wiring, length, make=SENSITIVE), name) for name in PLACES]
        drawn += [board_scene(short.lasting, short.node) for short in shorts]
        for picture in drawn:
            assert not [pair for pair in itertools.combinations(texts(picture), 2) if pair[0].overlaps(pair[1])]
