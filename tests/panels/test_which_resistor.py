"""The panel of "which resistor": what to buy, what to take from the drawer, and what cannot be read."""

import re

import pytest

from sigcalc.design.findings import LOOK
from sigcalc.design.lamp.resistor import choose_resistor
from sigcalc.errors import UnitError
from sigcalc.panels.which_resistor import DRAWER, LOAD_LINE, ResistorHeat, WhichResistor, read_drawer
from sigcalc.parts.led import leds
from tests.panels.moving import fresh, put, refused
from tests.views.svg import SVG, corners, group, groups

panel = fresh(WhichResistor)


def test_it_says_what_the_library_chooses(panel):
    choice = choose_resistor("12 V", leds["bright red 3 mm"], "10 mA", supply_tolerance=0.05)
    assert choice.resistance.m_as("ohm") == 1200
    assert choice.rating.m_as("W") == 0.25
    sentence = panel.picture.sentence
    assert sentence.startswith("Buy 1.2 kΩ ± 5 %, 1/4 W: brown, red, red, gold. It gives 8.49 mA.")
    assert "with supply and LED as well, 7.06 mA to 9.63 mA" in sentence
    assert sentence.endswith("Exactly 10 mA would need 1.02 kΩ.")


def test_too_much_current_too_low_a_supply_and_too_small_a_drawer_are_refused_with_what_to_do(panel):
    put(panel, LED=leds["low-current red 3 mm"])
    assert "ask for at most 7 mA" in refused(panel)
    put(panel, LED=leds["white 3 mm"], supply=2)
    assert "nothing would light; use at least" in refused(panel)
    put(panel, {DRAWER: "10, 22"}, LED=leds["bright red 3 mm"], supply=12)
    assert "add 1.2 kΩ" in refused(panel)


def test_a_current_at_the_ceiling_is_looked_at_again(panel):
    panel["wanted current"].value = 25
    assert LOOK in {each.grade for each in panel.picture.findings}
    assert "ceiling" in panel.picture.html()


def test_the_drawer_gives_two_in_series(panel):
    panel[DRAWER].value = "470, 1k"
    assert panel.picture.sentence.startswith("From your drawer use 1 kΩ and 470 Ω in series, 1.47 kΩ together: 6.94 mA")
    things, symbols, *bands = panel.picture.pictures
    assert things.sentence == symbols.sentence == "1 kΩ and 470 Ω are joined in series."
    laid = groups(things, "thing resistor")[1::2]  # each after the light around it
    assert len(laid) == len(groups(symbols, "resistor")) == len(bands) == 2


def test_two_in_parallel_are_drawn_side_by_side_and_two_in_series_one_behind_the_other(panel):
    places = {}
    for drawer, way in (("470, 1k", "in series"), ("2k2, 2k2, 2k7", "in parallel")):
        panel[DRAWER].value = drawer
        things, joined = panel.picture.pictures[:2]
        assert way in panel.picture.sentence
        assert joined.sentence.endswith(f"{way}.")
        one, other = (
            re.findall(r"[\d.]+", each.get("transform"))[:2] for each in groups(things, "thing resistor")[1::2]
        )
        assert (one[0] == other[0], one[1] == other[1]) == (way == "in parallel", way == "in series")
        boxes = [corners(each) for each in groups(joined, "resistor")]
        xs, ys = ([{round(place[at]) for line in box for place in line} for box in boxes] for at in (0, 1))
        places[way] = (xs[0] == xs[1], ys[0] == ys[1])
    assert places == {"in series": (False, True), "in parallel": (True, False)}


def test_the_views(panel):
    for wanted, count in ((False, 1), (True, 2)):
        panel[LOAD_LINE].value = wanted
        assert len(panel.picture.pictures) == count
    assert "With bought parts the current is between" in panel.picture.pictures[1].sentence


def test_the_axes_stay_while_a_slider_moves(panel):
    scales = set()
    for supply, current in ((5, 1), (12, 10), (24, 30)):
        put(panel, {LOAD_LINE: True, "wanted current": current}, supply=supply)
        scales.add((panel.load_line.axes.get_xlim(), panel.load_line.axes.get_ylim()))
    assert len(scales) == 1


def test_a_bigger_resistor_burns_less_and_the_rating_is_marked():
    panel, warm = ResistorHeat(), []
    for ohms, rating in ((270, "1 W"), (470, "1/2 W"), (1200, "1/4 W"), (10_000, "1/8 W")):
        shown = put(panel, resistor=ohms)
        bar = shown.pictures[0]
        warm.append(float(list(group(bar, "heat").iter(SVG + "rect"))[1].get("width")))
        (bold,) = (each.text for each in group(bar, "ratings").iter(SVG + "text") if each.get("font-weight"))
        assert bold == rating
        assert shown.sentence.endswith(f"of heat. Ask for a rating of {rating}.")
    assert warm == sorted(warm, reverse=True)
    beyond = put(panel, resistor=220, supply=15).pictures[0]
    assert "beyond the end of the bar" in beyond.sentence


@pytest.mark.parametrize(
    ("typed", "values"),
    [
        ("", []),
        ("470, 1k, 4k7", ["470 ohm", "1k", "4k7"]),
        ("470 1k0;2k2 ", ["470 ohm", "1k0", "2k2"]),
        ("470 ohm; 1 kohm, 47R", ["470 ohm", "1 kohm", "47R"]),
        ("1.5k 1.5 M", ["1.5k", "1.5 M"]),
    ],
)
def test_a_drawer_is_read_as_it_is_written(typed, values):
    assert read_drawer(typed) == values


@pytest.mark.parametrize("typed", ["4,7", "100,220", "470, 4,7k"])
def test_a_comma_between_digits_is_not_guessed_at(typed):
    with pytest.raises(UnitError, match="put a space after a comma that parts two values"):
        read_drawer(typed)


@pytest.mark.parametrize("typed", ["<b>", "9**9**9", "470 ma", "-5", "0", "470 V"])
def test_rubbish_in_the_drawer_is_refused(panel, typed):
    panel[DRAWER].value = typed
    assert refused(panel)
