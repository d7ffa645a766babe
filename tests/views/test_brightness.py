"""The bars of light."""

import pytest

from sigcalc.design.pair.brightness import compare_brightness
from sigcalc.errors import RangeError, UnitError
from sigcalc.views.brightness import brightness_bars, picture_of
from tests.views.samples import GREEN, RED
from tests.views.svg import SVG, corners, group, groups, words


def length(picture, lamp):
    bar = next(group(picture, f"bar {lamp}").iter(SVG + "rect"))
    return float(bar.get("x")), float(bar.get("width"))


def test_bars_are_as_long_as_the_light_and_start_at_nought():
    picture = brightness_bars("40 mcd", "10 mcd")
    (start, red), (other, green) = length(picture, "red"), length(picture, "green")
    assert start == other
    assert red == pytest.approx(4 * green, rel=1e-3)
    assert {"RED", "GREEN", "40 mcd, 100 %", "10 mcd, 25 %"} <= set(words(picture))
    assert picture.sentence == "Red has 4 times the light of green: red looks much brighter."


def test_whiskers_span_what_bought_parts_may_give():
    picture = brightness_bars("40 mcd", "20 mcd", "10 mcd", "80 mcd", green_least="5 mcd")
    start, red = length(picture, "red")
    (low, _), (high, _) = corners(group(picture, "spread red"))[0]
    assert low - start == pytest.approx(red / 4, abs=0.02)
    assert high - start == pytest.approx(2 * red, abs=0.02)
    assert {"bought: 10 mcd to 80 mcd", "bought: 5 mcd or more"} <= set(words(picture))
    assert picture.sentence.endswith("With bought parts one may have 16 times the light of the other.")


def test_without_a_known_spread_there_is_no_whisker():
    assert not groups(brightness_bars("40 mcd", "20 mcd"), "spread")


def test_only_green_is_hatched():
    picture = brightness_bars("40 mcd", "40 mcd")
    assert [len(list(group(picture, f"bar {lamp}").iter(SVG + "polyline"))) > 0 for lamp in ("red", "green")] == [
        False,
        True,
    ]
    _, width = length(picture, "green")
    start, _ = length(picture, "green")
    for line in corners(group(picture, "bar green").iter(SVG + "polyline")):
        assert all(start - 0.01 <= x <= start + width + 0.01 for x, _ in line)


@pytest.mark.parametrize(
    ("red", "green", "said"),
    [
        ("30 mcd", "30 mcd", "Red has about the light of green: they look alike."),
        ("30 mcd", "45 mcd", "Green has 1.5 times the light of red: green looks a little brighter."),
        ("0.001 mcd", "12.3 cd", "Green has 12000000 times the light of red: green outshines the other."),
        ("0 cd", "30 mcd", "Red gives no light: nothing to compare."),
        ("0 cd", "0 cd", "Red and green give no light: nothing to compare."),
    ],
)
def test_the_sentence(red, green, said):
    assert brightness_bars(red, green).sentence == said


def test_a_bought_part_that_may_be_dark_is_said():
    assert brightness_bars("30 mcd", "30 mcd", green_least="0 cd").sentence.endswith("A bought part may be dark.")


def test_a_comparison_is_drawn_with_its_own_figures():
    evenness = compare_brightness(RED, GREEN, "10 mA", "5 mA")
    picture = picture_of(evenness)
    assert evenness.brighter.capitalize() + " has " in picture.sentence
    assert f"{evenness.ratio:.2g} times" in picture.sentence
    (_, red), (_, green) = length(picture, "red"), length(picture, "green")
    assert max(red, green) / min(red, green) == pytest.approx(evenness.ratio, rel=2e-3)


@pytest.mark.parametrize("given", [{"red_least": "31 mcd"}, {"red_most": "29 mcd"}, {"green_least": "1 cd"}])
def test_least_typical_and_most_must_rise(given):
    with pytest.raises(RangeError, match="in rising order"):
        brightness_bars("30 mcd", "30 mcd", **given)


def test_units_are_needed():
    with pytest.raises(UnitError, match="red"):
        brightness_bars(30, "30 mcd")


def test_on_a_fixed_scale_a_bar_stays_while_the_other_lamp_is_dimmed():
    pictures = [brightness_bars(red, "4 mcd", full="40 mcd") for red in ("20 mcd", "4 mcd")]
    (_, bright), (_, dimmed) = (length(each, "red") for each in pictures)
    assert bright == pytest.approx(5 * dimmed)
    assert length(pictures[0], "green") == length(pictures[1], "green")
    assert "40 mcd" in words(pictures[0])


def test_what_is_longer_than_the_scale_ends_in_an_arrow_and_keeps_its_figure():
    picture = brightness_bars("80 mcd", "20 mcd", green_least="10 mcd", green_most="60 mcd", full="40 mcd")
    within = brightness_bars("40 mcd", "20 mcd", green_least="10 mcd", green_most="40 mcd", full="40 mcd")
    assert length(picture, "red") == length(within, "red")
    assert {"80 mcd, 100 %", "bought: 10 mcd to 60 mcd"} <= set(words(picture))
    for name in ("bar red", "spread green"):
        assert list(group(picture, name).iter(SVG + "polygon"))
        assert not list(group(within, name).iter(SVG + "polygon"))
