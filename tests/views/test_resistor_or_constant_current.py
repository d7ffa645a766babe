"""Two drives on a sagging supply: the figures stand in the picture, the lamps say in words and rays what they are."""

import numpy as np
import pytest

from sigcalc.design.pair.shared_limiter import share_limiter
from sigcalc.design.power.drive_choice import compare_drives
from sigcalc.parts.drive import ConstantCurrentDrive
from sigcalc.units import Q, say
from sigcalc.views.resistor_or_constant_current import SagCurve, light_word, limiter_shares, sag_figures, what_to_buy
from tests.views.power_samples import GREEN, RED, compared
from tests.views.svg import SVG, corners, fills, group, spans, words


def figures(now, other="driver", **more):
    comparison, bands = compared("9 V", now, other, **more)
    return comparison, sag_figures(comparison, bands)


def rays(lamp):
    """The corners of the rays around a lamp."""
    return corners(lamp.iter(SVG + "polyline"))


def test_every_figure_of_both_drives_stands_there():
    comparison, picture = figures("6 V")
    said = words(picture)
    for over in comparison.values():
        si = over.si
        for figure in (
            say(si.drive_power[1], "W"),
            say(si.led_power[1], "W"),
            say(float(over.light[1]), ""),
            f"{say(float(over.efficiency[1]), '')} of the power",
            f"below {say(si.stops_at, 'V')}",
        ):
            assert figure in said
    assert f"above {say(comparison['driver'].si.drops_out_at, 'V')}" in said
    assert "at no voltage" in said
    assert say(float(comparison["resistor"].sensitivity[1]), "A") in said
    assert "next to nothing" in said


def test_the_sentence_fresh_and_sagged():
    comparison, picture = figures("9 V")
    assert picture.sentence.startswith("Fresh, at 9 V, the resistor gives 8.76 mA and the driver gives 10 mA.")
    comparison, picture = figures("6 V")
    light = say(float(comparison["resistor"].light[1]), "")
    assert f"At 6 V, down from 9 V, the resistor keeps {light} of the light (5.14 mA)" in picture.sentence
    assert "the driver keeps 100 % of the light (10 mA)" in picture.sentence
    assert picture.sentence.endswith(
        "Half the light is gone below 5.36 V with the resistor, and below 2.53 V with the driver."
    )


def test_the_lamps_are_told_apart_without_their_colour():
    _, picture = figures("6 V")
    dim, bright = group(picture, "lamp resistor lit"), group(picture, "lamp driver lit")
    assert fills(dim) != fills(bright)
    assert {"HARDLY NOTICED", "LIKE FRESH"} <= set(words(picture))
    reach = [min(y for ray in rays(each) for _, y in ray) for each in (dim, bright)]
    assert reach[1] < reach[0]  # y points down: the brighter lamp's rays reach farther up


def test_a_dark_lamp_has_neither_fill_nor_rays():
    _, picture = figures("1 V")
    dark = group(picture, "lamp resistor dark")
    assert fills(dark) == []
    assert rays(dark) == []
    assert rays(group(figures("6 V")[1], "lamp driver lit"))
    assert words(picture).count("DARK") == 2
    assert any("(up to " in each for each in words(figures("1.4 V")[1]))


def test_what_no_meter_shows_has_no_figures():
    """A millionth of a watt or less, a thousandth of the light: such digits only hide that the lamp is dark."""
    comparison, picture = figures("1 V")
    assert comparison["driver"].si.led_power[-1] < 1e-9
    said = words(picture)
    assert said.count("next to nothing") == 2 * 5
    assert said.count("under 0.1 %") == 2
    assert not any("nA" in each or "pW" in each or "e-" in each for each in said)


@pytest.mark.parametrize(
    ("light", "word"),
    [
        (1.0, "LIKE FRESH"),
        (0.89, "HARDLY NOTICED"),
        (0.5, "HARDLY NOTICED"),
        (0.49, "CLEARLY DIMMER"),
        (0.09, "A GLIMMER"),
    ],
)
def test_half_the_light_is_what_the_eye_notices(light, word):
    # common practice, no source: half the light is about what people notice
    assert light_word(light) == word
    assert light_word(light, lit=False) == "DARK"


def test_what_to_buy_says_the_value():
    comparison, _ = compared("9 V", "6 V", "regulator")
    assert what_to_buy(comparison["resistor"].drive) == "820 Ω ± 5 %"
    assert what_to_buy(comparison["regulator"].drive) == "adjustable regulator lm317l with 130 Ω: 9.67 mA"


@pytest.fixture(scope="module")
def curve():
    return SagCurve()


def down(other):
    comparison, _ = compared("9 V", "6 V", other)
    drives = {name: over.drive for name, over in comparison.items()}
    return compare_drives(Q(np.linspace(0.05, 9, 400), "V"), drives, RED)


def test_the_points_lie_on_the_lines(curve):
    over = down("driver")
    picture = curve.picture(over, 6.0)
    volts, currents = curve.lines["points"].get_data()
    assert list(volts) == [6.0, 6.0]
    assert currents == pytest.approx([5.142, 10.0], abs=0.01)
    across, amps = curve.lines["first"].get_data()
    assert np.interp(6.0, across, amps) == pytest.approx(currents[0])
    assert {"now 6 V", "resistor", "driver", "half the light"} <= set(words(picture))


@pytest.mark.parametrize("other", ["driver", "regulator", "current diode"])
def test_the_crosses_mark_half_of_the_fresh_current(curve, other):
    over = down(other)
    curve.picture(over, 6.0)
    crosses = np.column_stack(curve.lines["half"].get_data())
    for (volts, current), name, each in zip(crosses, ("first", "second"), over.values(), strict=True):
        assert volts == pytest.approx(each.si.stops_at)
        across, amps = curve.lines[name].get_data()
        assert current == pytest.approx(max(amps) / 2)
        assert np.interp(volts, across, amps) == pytest.approx(current, rel=0.01)


def test_its_sentence_says_where_the_current_is_held(curve):
    sentence = curve.picture(down("regulator"), 4.0).sentence
    assert "Half the light is gone below 5.36 V (resistor) and 3.65 V (regulator)." in sentence
    assert "The regulator holds its current above 5.58 V." in sentence


def test_the_same_question_gives_the_same_picture_after_another(curve):
    first = curve.picture(down("driver"), 6.0)
    curve.picture(down("regulator"), 2.0)
    assert curve.picture(down("driver"), 6.0) == first


def shared(red="0 ohm", together=True, supply="9 V", wanted="4 mA", limit="10 mA"):
    driver = ConstantCurrentDrive(limit, "1.5 V", 0.1)
    return share_limiter(supply, driver, [(RED, wanted, red), (GREEN, "10 mA", "0 ohm")], together)


def bars(picture, colour):
    rows = (spans(picture, name) for name in (f"{colour} wants", f"{colour.upper()} GETS"))
    return [row[0][1] - row[0][0] if row else 0.0 for row in rows]


@pytest.mark.parametrize(("red", "together"), [("0 ohm", True), ("60 ohm", True), ("1 kohm", True), ("0 ohm", False)])
def test_bars_are_as_long_as_the_currents(red, together):
    result = shared(red, together)
    picture = limiter_shares(result)
    per_ampere = bars(picture, "green")[0] / 10e-3
    for number, colour in enumerate(("red", "green")):
        wants, gets = bars(picture, colour)
        assert wants == pytest.approx(result.si.wanted[number] * per_ampere, abs=0.05)
        assert gets == pytest.approx(result.si.current[number] * per_ampere, abs=0.05)


def test_the_lower_drop_takes_it_all():
    sentence = limiter_shares(shared()).sentence
    assert sentence.startswith("Lit at once, red wants 4 mA and gets 9.99 mA, 2.5 times what it wants; green wants 10")
    assert sentence.endswith("0.1 % of what it wants.")


def test_a_lamp_that_stays_dark_is_called_so():
    # 10 µA is what counts as lit; of less a share says nothing
    sentence = limiter_shares(shared(limit="1 mA")).sentence
    assert sentence.endswith("and stays dark.")
    assert "%" not in sentence.partition("green")[2]


def test_in_turn_each_gets_the_whole_current():
    picture = limiter_shares(shared(together=False))
    assert "Lit one at a time, red wants 4 mA and gets 10 mA" in picture.sentence
    assert "green wants 10 mA and gets 10 mA, about right" in picture.sentence
    assert "one driver of 10 mA, lit one at a time" in words(picture)
