"""The timeline: blocks where the spans are, at each view, with words, and lines that mark the train's places."""

import numpy as np
import pytest

from sigcalc.design.train.passing_train import passing_train
from sigcalc.errors import UnknownNameError
from sigcalc.views.timeline import FIRST_CLOSING, OVER_THE_REED, VIEWS, WHOLE, passing_timeline
from tests.design.train.passing_runs import circuit, run
from tests.views.svg import group, groups, words

USUAL = passing_train(run())
LEFT, RIGHT = 84.0, 462.0


def blocks(picture, name, fill):
    """Left and right ends of a row's filled blocks, in points."""
    found = [each for each in group(picture, f"row {name}") if each.tag.endswith("rect") and each.get("fill") == fill]
    return [(float(each.get("x")), float(each.get("x")) + float(each.get("width"))) for each in found]


def test_red_stands_where_red_is():
    ((start, end),) = blocks(passing_timeline(USUAL), "lamp", "#D55E00")
    scale = (RIGHT - LEFT) / USUAL.si.end
    assert start == pytest.approx(LEFT + USUAL.si.red_from * scale, abs=0.01)
    assert end == pytest.approx(LEFT + USUAL.si.red_until * scale, abs=0.01)


def test_over_the_reed_both_closings_are_seen():
    picture = passing_timeline(USUAL, OVER_THE_REED)
    assert len(blocks(picture, "reed", "#d9d9d9")) == 2
    said = words(picture)
    assert said.count("CLOSED") == 2
    assert "2×" in said
    assert "time in ms from the first closing" in said


def test_the_first_closing_shows_reed_and_relay_take_their_time():
    picture = passing_timeline(USUAL, FIRST_CLOSING)
    case = USUAL.happenings
    scale = (RIGHT - LEFT) / (1.65 * 7.3e-3)  # Coto RI-02: 0.3 ms; Omron G5V-2: 7 ms; a quarter before, 1.4 after
    reed, red = blocks(picture, "reed", "#d9d9d9")[0][0], blocks(picture, "lamp", "#D55E00")[0][0]
    assert (red - reed) / scale == pytest.approx(float(case.red.first[0] - case.contact.first[0]), rel=1e-3)


def test_green_is_low_with_dashed_rims_and_red_high_with_a_solid_one():
    lamp = group(passing_timeline(USUAL), "row lamp")
    heights = {each.get("fill"): float(each.get("height")) for each in lamp if each.tag.endswith("rect")}
    assert heights["#D55E00"] > heights["#009E73"]
    assert any(each.get("stroke-dasharray") for each in lamp)


def test_short_blocks_are_not_lost():
    quick = passing_train(run(turn=1.0), speed="1.5 m/s")
    for start, end in blocks(passing_timeline(quick), "reed", "#000000"):
        assert end - start >= 1.5


@pytest.mark.parametrize("view", VIEWS)
def test_the_moment_is_marked_where_it_is_seen(view):
    seen = USUAL.si.red_from + 1e-4
    said = words(passing_timeline(USUAL, view, seen))
    assert sum(each.startswith("now:") for each in said) == 1
    assert not any(each.startswith("now:") for each in words(passing_timeline(USUAL, view)))


def test_brief_leaves_out_field_and_coil():
    names = {each.get("class") for each in groups(passing_timeline(USUAL, brief=True), "")}
    assert {"row reed", "row timer", "row lamp"} <= names
    assert "field" not in names
    assert "row coil" not in names


def test_a_coil_fed_for_green_is_fed_outside_the_hold():
    usual, safe = (
        words(passing_timeline(passing_train(run(coil_fed_for=which)), OVER_THE_REED)) for which in ("red", "green")
    )
    assert "FED" in usual
    assert usual.index("not fed") < usual.index("FED")
    assert safe.index("FED") < safe.index("not fed")


def test_without_a_closing_the_lamp_is_green_throughout():
    never = passing_train(run(orientation="crosswise"))
    for view in VIEWS:
        picture = passing_timeline(never, view)
        assert blocks(picture, "lamp", "#D55E00") == []
        assert "GREEN" in words(picture)


def test_a_second_magnet_is_outside_the_close_view():
    two = passing_train(run(circuit=circuit("schmitt gate")), last_magnet="860 mm")
    assert len(blocks(passing_timeline(two, OVER_THE_REED), "reed", "#d9d9d9")) == 2
    assert np.isfinite(two.happenings.field.starts).sum() == 4
    assert "4×" in words(passing_timeline(two, OVER_THE_REED))


def test_another_view_is_refused():
    with pytest.raises(UnknownNameError, match="view needs"):
        passing_timeline(USUAL, "yesterday")


def test_the_sentence_is_the_results():
    assert passing_timeline(USUAL, WHOLE).sentence == USUAL.sentence
