"""Pictures of the passing train: blocks, bars and curves where the library says, and words beside all colours."""

import numpy as np
import pytest

from sigcalc.design.train.hold import hold_at
from sigcalc.design.train.magnet_and_reed import closures
from sigcalc.design.train.passing_odds import passing_odds
from sigcalc.design.train.passing_train import passing_train
from sigcalc.errors import UnknownNameError
from sigcalc.parts.reed import Reed, reeds
from sigcalc.parts.timer import timers
from sigcalc.views.let_the_train_do_it import (
    FIRST_CLOSING,
    OVER_THE_REED,
    FillCurve,
    HoldCurve,
    closures_picture,
    odds_picture,
    passing_timeline,
)
from tests.design.train.passing_runs import circuit, run
from tests.views.svg import groups, spans, texts, words

MAGNET, REED = "8 x 3 mm disc, N35", reeds["10 W reed, 7 to 21 AT"].middle
USUAL = passing_train(run())
LEFT, RIGHT = 90.0, 462.0
RED, RAISED = "#d5001c", "#d9d9d9"


def blocks(picture, name, fill):
    """Left and right ends of a row's blocks of that fill, in points."""
    return spans(picture, name, f"fill: {fill}")


def test_red_is_where_red_is():
    ((start, end),) = blocks(passing_timeline(USUAL), "lamp", RED)
    ends = LEFT + np.array([USUAL.si.red_from, USUAL.si.red_until]) * (RIGHT - LEFT) / USUAL.si.end
    assert (start, end) == pytest.approx(tuple(ends), abs=0.01)
    over = passing_timeline(USUAL, OVER_THE_REED)
    assert len(blocks(over, "reed", RAISED)) == words(over).count("CLOSED") == 2
    assert {"2×", "time in ms from the first closing"} <= set(words(over))


def test_the_first_closing_shows_how_long_reed_and_relay_need():
    picture, case = passing_timeline(USUAL, FIRST_CLOSING), USUAL.happenings
    scale = (RIGHT - LEFT) / (1.65 * 7.3e-3)  # Coto RI-02: 0.3 ms; Omron G5V-2: 7 ms; a quarter before, 1.4 after
    reed, red = blocks(picture, "reed", RAISED)[0][0], blocks(picture, "lamp", RED)[0][0]
    assert (red - reed) / scale == pytest.approx(float(case.red.first[0] - case.contact.first[0]), rel=1e-3)


def test_brief_leaves_out_field_and_coil_and_the_moment_is_marked():
    picture = passing_timeline(USUAL, moment=USUAL.si.red_from, brief=True)
    assert sum(each.startswith("now:") for each in words(picture)) == 1
    names = {each.get("class") for each in groups(picture, "")}
    assert names & {"reed", "timer", "lamp", "field", "coil"} == {"reed", "timer", "lamp"}


def test_a_coil_fed_for_green_is_fed_outside_the_on_time():
    red, green = (
        blocks(passing_timeline(passing_train(run(coil_fed_for=which)), OVER_THE_REED), "coil", RAISED)
        for which in ("red", "green")
    )
    assert (green[0][0], red[0][0]) == pytest.approx((LEFT, green[0][1]), abs=0.01)


def test_a_second_magnet_is_outside_the_close_view():
    two = passing_train(run(circuit=circuit("schmitt gate")), last_magnet="860 mm")
    picture = passing_timeline(two, OVER_THE_REED)
    assert len(blocks(picture, "reed", RAISED)) == 2
    assert np.isfinite(two.happenings.field.starts).sum() == 4
    assert "4×" in words(picture)


def test_another_view_or_orientation_is_refused():
    with pytest.raises(UnknownNameError, match="view needs"):
        passing_timeline(USUAL, "yesterday")
    with pytest.raises(UnknownNameError, match="sideways"):
        closures_picture(MAGNET, REED, "5 mm", ["sideways"])


@pytest.mark.parametrize("gap", ["5 mm", "12 mm", "40 mm"])
def test_every_row_has_its_closures_at_their_places(gap):
    names = ("upright", "lengthwise", "crosswise")
    found = [end.m_as("mm") for name in names for pair in closures(MAGNET, REED, gap, name) for end in pair]
    reach = 1.2 * max([1e1, *map(abs, found)])
    ends = [(140 + (x / reach + 1) / 2 * 320) for x in found]
    found = blocks(closures_picture(MAGNET, REED, gap), "closed", RAISED)
    assert [x for pair in found for x in pair] == pytest.approx(ends, abs=0.05)


def test_words_and_numbers_say_what_the_bars_of_closures_show():
    picture = closures_picture(MAGNET, REED, "5 mm")
    said = words(picture)
    assert [each for each in said if each.endswith("×")] == ["2×", "3×", "0×"]
    assert {"no field", "along the reed"} <= set(said)
    assert said.count("pull-in") == said.count("release") == 3
    assert "upright twice, lengthwise 3 times and crosswise never" in picture.sentence
    assert closures_picture(MAGNET, REED, "5 mm", ["lengthwise"]).sentence.count("from") == 3


def test_the_curve_is_what_the_reed_takes_and_not_the_field_at_a_point():
    """At its peak the mean over the reed is told, by which its levels are judged."""
    at_a_point = Reed(*(f"{each} T" for each in REED.at_magnet))
    coil, point = (closures_picture(MAGNET, reed, "3 mm", ["lengthwise"]).sentence for reed in (REED, at_a_point))
    times = [float(each.split("the field is ")[1].split(" times the pull-in")[0]) for each in (coil, point)]
    assert times[0] < 0.8 * times[1]


def test_line_band_and_point_are_the_hold_circuit_s():
    made, curve = circuit(), HoldCurve()
    said = words(curve.picture(hold_at(made, "9 V", 0.4), "10 s"))
    assert "wanted: 10 s" in said
    assert any(each.endswith("at 40 %") for each in said)
    turns, holds = curve.lines["hold"].get_data()
    least, most = (curve.lines[name].get_ydata() for name in ("least", "most"))
    for index in (0, 20, 40):
        band = (least[index], holds[index], most[index])
        assert band == pytest.approx(tuple(made.seconds(9.0, turns[index] / 100)))
    assert curve.lines["point"].get_data() == ([40], [pytest.approx(made.seconds(9.0, 0.4).nominal)])
    assert np.unique(curve.lines["wanted"].get_ydata()) == [10]
    # on-times that never end go through the upper edge
    result = hold_at(circuit("schmitt gate", "wide-tolerance electrolytic", "1 Mohm"), "9 V", 1.0)
    assert result.hold_max is None
    assert "for ever" in curve.picture(result, "10 s").sentence
    most = curve.lines["most"].get_ydata()
    assert np.isfinite(most).all()
    assert most[-1] > curve.axes.get_ylim()[1]


@pytest.mark.parametrize("timer", timers)
def test_the_voltage_across_the_capacitor_comes_to_the_threshold_when_the_timer_turns_off(timer):
    curve = FillCurve()
    for supply in (7.0, 9.0, 12.0):
        hold = hold_at(circuit(timer), f"{supply} V", 0.4)
        picture, threshold = curve.picture(hold), timers[timer].trips(supply)[1]
        times, volts = curve.lines["across"].get_data()
        assert (times[-1], volts[-1]) == pytest.approx((hold.si.hold, threshold))
        assert volts[0] == (supply if timers[timer].discharges else 0.0)
        assert f"threshold: {threshold:.3g} V" in words(picture)
        assert (curve.axes.get_xlim(), curve.axes.get_ylim()) == ((0, 30), (0, 20))


def test_the_scale_of_on_times_stays_and_what_is_beyond_is_marked_at_its_edge():
    curve, ends = HoldCurve(), set()
    for turn, pot in ((0.0, "10 kohm"), (0.4, "220 kohm"), (1.0, "1 Mohm")):
        picture = curve.picture(hold_at(circuit(pot=pot), "9 V", turn), "30 s")
        ends.add((curve.axes.get_xlim(), curve.axes.get_ylim()))
        assert any(each.endswith("beyond the scale") for each in words(picture)) == (turn == 1.0)
        assert (curve.lines["point"].get_ydata()[0] == curve.axes.get_ylim()[1]) == (turn == 1.0)
    assert len(ends) == 1


@pytest.mark.parametrize("share", np.linspace(0.0, 1.0, 21))
def test_no_line_of_a_moment_goes_through_the_words_of_another(share):
    picture = passing_timeline(USUAL, moment=share * USUAL.si.end, brief=True)
    found = {each.words: each for each in texts(picture)}
    lines = {"front at the signal": USUAL.si.at_signal, "last wheel clear": USUAL.si.clear}
    lines |= {next(each for each in found if each.startswith("now: ")): share * USUAL.si.end}
    for words_of, time in lines.items():
        x = LEFT + time * (RIGHT - LEFT) / USUAL.si.end
        for other in found.values():
            above = other.bottom < found[words_of].top  # a line begins at its own words
            if other.words != words_of and not above and other.words not in ("ON", "RED", "GREEN", "2×"):
                assert not other.left < x < other.right or other.top > 110  # the figures of the axis are below


def test_a_bar_of_odds_is_as_long_as_its_share_with_its_count_beside_it():
    tight, few = passing_odds(run(turn=0.2), samples=200), passing_odds(run())
    picture = odds_picture(tight)
    for name, row in (("right", "gets its red"), ("short", "green too soon")):
        (left, right), (start, end) = spans(picture, row)
        assert (end - start) / (right - left) == pytest.approx(getattr(tight.si, name), abs=1e-3)
    assert len(spans(picture, "never red")) == 1  # the frame alone
    assert any(each.startswith(f"{round(tight.si.short * 200)}, ") for each in words(picture))
    assert 0 < few.si.short < 0.01  # one train among many is seen
    _, (start, end) = spans(odds_picture(few), "green too soon")
    assert end - start >= 1.49
    assert "100 %" not in " ".join(words(odds_picture(few)))
