"""The timeline of a supply that keeps turning round: both lanes, the mixture, and legible text."""

import colorsys
import itertools

import pytest

from sigcalc.design.pair.alternation import on_ac, turned_round
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import ConstantDrop, Led, leds
from sigcalc.views.alternation import timeline
from tests.views.svg import group, parse, texts, view_box, words

PAIR = TwoLeadPair(leds["red gaasp 3 mm"], leds["green gap 3 mm"])
PLAIN = Led("plain", "red", ConstantDrop("2 V"), "30 mA")
RESISTOR = ResistorDrive("1 kohm")
SVG = "{http://www.w3.org/2000/svg}"

CASES = {
    "AC": on_ac("12 V", RESISTOR, PAIR, "60 Hz"),
    "dark": on_ac("0.5 V", RESISTOR, PAIR, "60 Hz"),
    "only red": on_ac("1.2 V", ResistorDrive("100 ohm"), PAIR, "60 Hz"),
    "quick": turned_round("12 V", RESISTOR, PAIR, "200 Hz", 0.2),
    "slow": turned_round("12 V", RESISTOR, PAIR, "2 Hz"),
    "hue unknown": on_ac("12 V", RESISTOR, TwoLeadPair(PLAIN, PLAIN), "50 Hz"),
    "large currents, slow": on_ac("30 V", ResistorDrive("10 ohm"), PAIR, "0.013 Hz"),
}


@pytest.fixture(params=CASES)
def case(request):
    return CASES[request.param], timeline(CASES[request.param])


def test_text_is_legible_on_the_sheet_and_over_nothing(case):
    _, picture = case
    left, top, width, height = view_box(parse(picture))
    for one in texts(picture):
        assert one.size >= 12
        assert left <= one.left < one.right <= left + width, one
        assert top <= one.top < one.bottom <= top + height, one
    for one, other in itertools.combinations(texts(picture), 2):
        assert not one.overlaps(other), f"{one} / {other}"


def test_the_sentence_is_the_results(case):
    result, picture = case
    assert picture.sentence == result.sentence == parse(picture).get("aria-label")


def lane(picture, lamp):
    """Heights of a lane's line, from its foot, over two cycles; none for a dark lamp."""
    lines = list(group(picture, f"lane {lamp}").iter(SVG + "polyline"))
    points = [tuple(map(float, each.split(","))) for each in lines[0].get("points").split()]
    foot = max(y for _, y in points)
    return [foot - y for _, y in points], lines[0].get("stroke-dasharray")


def test_the_lanes_follow_the_currents_and_differ_in_their_line():
    result, picture = CASES["AC"], timeline(CASES["AC"])
    for lamp, wave, dash in (("red", result.red_wave, None), ("green", result.green_wave, "7 3")):
        heights, dashes = lane(picture, lamp)
        assert dashes == dash
        scale = max(heights) / wave.max()
        assert heights == pytest.approx([scale * each for each in [*wave, *wave]], abs=0.02)


def test_the_mixture_is_named_and_only_where_there_is_one():
    assert "ORANGE" in words(timeline(CASES["AC"]))
    assert "no mixture" in words(timeline(CASES["slow"]))
    assert "no light" in words(timeline(CASES["dark"]))
    assert "hue not" in words(timeline(CASES["hue unknown"]))
    assert words(timeline(CASES["dark"])).count("dark") == 2


def test_the_disc_has_the_hue_that_its_word_names():
    (disc,) = group(timeline(CASES["AC"]), "mixture").iter(SVG + "circle")
    red, green, blue = (int(disc.get("fill")[at : at + 2], 16) / 255 for at in (1, 3, 5))
    assert 15 < 360 * colorsys.rgb_to_hsv(red, green, blue)[0] < 48  # between red and yellow: ORANGE


def test_the_cycle_has_its_length():
    assert "one cycle, 16.7 ms" in words(timeline(CASES["AC"]))
    assert "one cycle, 5 ms" in words(timeline(CASES["quick"]))
