"""Pictures of the lesson on two wires: bars are as long as light, and rows follow the currents."""

import re

import numpy as np
import pytest

from sigcalc.design.pair.brightness import compare_brightness, even_out
from sigcalc.design.pair.two_lead_pair import TwoLeadPair, study_pair
from sigcalc.parts.drive import ResistorDrive
from sigcalc.views.style import NORMAL, STAGE
from sigcalc.views.two_wires_two_colours import alternation_brief, brightness_bars, even_brief, timeline
from tests.views.samples import ALTERNATIONS, GREEN
from tests.views.samples import OLD_RED as RED
from tests.views.svg import SVG, groups, spans, words


def length(picture, lamp):
    ((start, end),) = spans(picture, lamp)
    return end - start


def test_bars_are_as_long_as_the_light_and_whiskers_span_what_bought_parts_give():
    evenness = compare_brightness(RED, GREEN, "10 mA", "5 mA")
    picture = brightness_bars(evenness)
    assert length(picture, "RED") / length(picture, "GREEN") == pytest.approx(evenness.ratio, rel=2e-3)
    # Vishay 83006: 13 mcd and 4 mcd at 10 mA
    assert {"13 mcd, 100 %", "2 mcd, 15 %"} <= set(words(picture))
    assert picture.sentence.startswith("Red has 6.5 times the light of green: red outshines the other. With bought")
    assert f"bought: {1e3 * evenness.si.red_light_min:.3g} to" in " ".join(words(picture))


def test_on_a_fixed_scale_a_bar_stays_while_the_other_lamp_is_dimmed():
    evenness = (compare_brightness(RED, GREEN, each, "10 mA") for each in ("20 mA", "5 mA"))
    bright, dimmed = (brightness_bars(each, 0.05) for each in evenness)
    assert length(bright, "RED") == pytest.approx(4 * length(dimmed, "RED"), rel=1e-3)
    assert length(bright, "GREEN") == pytest.approx(length(dimmed, "GREEN"))
    assert "light straight ahead in mcd" in words(bright)
    assert words(bright)[-3:] == words(dimmed)[-3:]
    picture = brightness_bars(compare_brightness(RED, GREEN, "20 mA", "20 mA"), full=0.013)
    assert "off the scale: 26 mcd, 100 %" in words(picture)


def test_the_rows_follow_the_currents_and_differ_in_their_line():
    result, picture = ALTERNATIONS["quick"], timeline(ALTERNATIONS["quick"])
    most = max(result.red.si.peak_current, result.green.si.peak_current)
    for lamp, dashed in (("red", False), ("green", True)):
        paths = [path for row in groups(picture, lamp.upper()) for path in row.iter(SVG + "path")]
        lines = [each for each in paths if "fill: none" in each.get("style", "")]
        curve = max(lines, key=lambda each: len(each.get("d")))
        assert ("stroke-dasharray" in curve.get("style")) == dashed
        heights = [float(each.split()[1]) for each in curve.get("d").replace("M", "L").split("L")[1:]]
        share = result.share(lamp).si.peak_current / most
        assert np.ptp(heights) == pytest.approx(84.0 * share, abs=0.1)


def test_the_cycle_has_its_length_and_a_dark_lamp_is_called_so():
    assert "one cycle, 16.7 ms" in words(timeline(ALTERNATIONS["AC"]))
    assert "one cycle, 5 ms" in words(timeline(ALTERNATIONS["quick"]))
    assert words(timeline(ALTERNATIONS["dark"])).count("dark") == 2


def test_a_wall_is_told_what_alternation_looks_like():
    result = ALTERNATIONS["AC"]
    red, green = (f"{1e3 * each.si.mean_current:.2g} mA" for each in (result.red, result.green))
    assert alternation_brief(result) == f"Both lamps seem to be on: {red}, {green} on average."
    assert "stay dark" in alternation_brief(ALTERNATIONS["dark"])
    assert alternation_brief(ALTERNATIONS["large currents, slow"]).startswith("Both lamps flash in turn")


def test_a_wall_is_told_what_evens_the_lamps_out_and_with_that_they_are_even():
    supply, drive, pair = "9 V", ResistorDrive("680 ohm"), TwoLeadPair(RED, GREEN)
    said = []
    for extra in ("0 ohm", even_out(supply, drive, pair).extra):
        study = study_pair(supply, drive, TwoLeadPair(RED, GREEN, extra_red=extra))
        said.append(even_brief(study, compare_brightness(RED, GREEN, study.red.current, study.green.current), supply))
    assert said[0] == "Red has 3.4 times green's light; 1.67 kΩ more evens it out."
    assert re.fullmatch(r"About alike, typically; of 100 bought pairs [1-9]\d? differ visibly\.", said[1])


def test_on_a_wall_the_bars_have_no_whiskers():
    page, wall = (
        brightness_bars(compare_brightness(RED, GREEN, "10 mA", "5 mA"), size=each) for each in (NORMAL, STAGE)
    )
    assert "bought" in " ".join(words(page))
    assert "bought" not in " ".join(words(wall))
    assert {"13 mcd, 100 %", "2 mcd, 15 %"} <= set(words(wall))
