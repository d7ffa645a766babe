"""Two drives on a sagging supply: the figures are in the picture, the lamps say in words and rays what they are."""

import re

import numpy as np
import pytest

from sigcalc.design.power.drive_choice import compare_drives
from sigcalc.units import Q, say
from sigcalc.views.resistor_or_constant_current import (
    SagCurve,
    light_word,
    limiter_shares,
    sag_figures,
    sagging,
    what_to_buy,
)
from sigcalc.views.side_by_side import SideBySide
from tests.views.samples import RED, compared, shared
from tests.views.svg import spans, words


def figures(now, other="driver"):
    comparison, bands = compared(now, other)
    return comparison, sag_figures(comparison, bands)


def test_every_figure_of_both_drives_is_there():
    comparison, picture = figures("6 V")
    resistor, driver = comparison["resistor"], comparison["driver"]
    wanted = {f"above {say(driver.si.drops_out_at, 'V')}", "at no voltage", "next to nothing"}
    wanted |= {say(float(resistor.sensitivity[1]), "A")}
    for over in comparison.values():
        si = over.si
        wanted |= {say(si.drive_power[1], "W"), say(si.led_power[1], "W"), say(float(over.light[1]), "")}
        wanted |= {f"{say(float(over.efficiency[1]), '')} of the power", f"below {say(si.stops_at, 'V')}"}
    assert wanted <= set(words(picture))
    for said in (
        f"down from 9 V, the resistor keeps {say(float(resistor.light[1]), '')} of the light (5.14 mA)",
        "the driver keeps 100 % of the light (10 mA).",
        "gone below 5.36 V with the resistor, and below 2.53 V with the driver.",
    ):
        assert said in picture.sentence
    assert "at 9 V, the resistor gives 8.76 mA and the driver gives 10 mA." in figures("9 V")[1].sentence


def test_lamps_are_told_apart_by_word_and_glow_and_the_bars_share_the_volts():
    seen = {now: sagging(compared(now, "driver")[0], "9 V battery", "9 V battery", 9.0) for now in ("6 V", "1 V")}
    for draw in (SideBySide.looks, SideBySide.drawn):
        picture, out = (draw(each, "How it is.") for each in seen.values())
        assert words(out).count("RED DARK") + words(out).count("DARK") == 2
        assert {"HARDLY NOTICED", "LIKE FRESH"} <= set(words(picture)) or words(picture).count("RED ON") == 2
        assert ("sigcalc-flow" in picture.svg, "sigcalc-flow" in out.svg) == (True, False)
    for way in seen["6 V"].ways:
        assert sum(share.volts for share in way.shares(6.0, False)) == pytest.approx(6.0, rel=1e-6)
    first, second = (way.lights[0].glow for way in seen["6 V"].ways)
    assert first < second


def test_what_no_meter_shows_has_no_figures():
    """A millionth of a watt or less, a thousandth of the light: such digits only hide that the lamp is dark."""
    said = words(figures("1 V")[1])
    assert (said.count("next to nothing"), said.count("under 0.1 %")) == (2 * 5, 2)
    assert not re.search("nA|pW|e-", " ".join(said))
    assert "(up to " in " ".join(words(figures("1.4 V")[1]))


def test_half_the_light_is_what_the_eye_notices():
    # common practice, no source: half the light is about what people notice
    said = {0.89: "HARDLY NOTICED", 0.5: "HARDLY NOTICED", 0.49: "CLEARLY DIMMER", 0.09: "A GLIMMER"}
    assert {light: light_word(light) for light in said} == said
    assert light_word(1.0, lit=False) == "DARK"


def test_what_to_buy_says_the_value():
    comparison, _ = compared("6 V", "regulator")
    assert what_to_buy(comparison["resistor"].drive) == "820 Ω ± 5 %"
    assert what_to_buy(comparison["regulator"].drive) == "adjustable regulator lm317l with 130 Ω: 9.67 mA"


@pytest.mark.parametrize("other", ["driver", "regulator", "current diode"])
def test_points_and_crosses_lie_on_the_lines(other):
    curve, (comparison, _) = SagCurve(), compared("6 V", other)
    drives = {name: over.drive for name, over in comparison.items()}
    over = compare_drives(Q(np.linspace(0.05, 9, 400), "V"), drives, RED)
    picture = curve.picture(over, 6.0)
    assert {"now 6 V", "resistor", other, "half the light"} <= set(words(picture))
    volts, currents = curve.lines["points"].get_data()
    assert list(volts) == [6.0, 6.0]
    crosses = np.column_stack(curve.lines["half"].get_data())
    for name, each, cross, current in zip(("first", "second"), over.values(), crosses, currents, strict=True):
        across, amps = curve.lines[name].get_data()
        assert np.interp(6.0, across, amps) == pytest.approx(current)
        assert cross[0] == each.si.stops_at
        assert np.interp(*cross[:1], across, amps) == pytest.approx(cross[1], rel=0.02)
        assert cross[1] == pytest.approx(amps.max() / 2, rel=0.01)
    assert curve.lines["first"].get_linestyle() != curve.lines["second"].get_linestyle()
    curve.picture(over, 3.0)
    assert curve.picture(over, 6.0) == picture


@pytest.mark.parametrize(("red", "together"), [("0 ohm", True), ("60 ohm", True), ("1 kohm", True), ("0 ohm", False)])
def test_bars_are_as_long_as_the_currents(red, together):
    result = shared(red, together)
    picture = limiter_shares(result)
    rows = [spans(picture, name)[:1] for name in ("red wants", "green wants", "RED GETS", "GREEN GETS")]
    lengths = [sum(end - start for start, end in row) for row in rows]  # no bar where next to nothing flows
    currents = np.array([*result.si.wanted, *result.si.current])
    assert lengths == pytest.approx(currents * lengths[1] / 10e-3, abs=0.05)
    assert lengths[1] == pytest.approx(220 * 10 / 25, abs=0.1)  # one scale, to 25 mA, that no slider moves


@pytest.mark.parametrize(
    ("changes", "start", "end"),
    [
        ({}, "Lit at once, red wants 4 mA and gets 9.99 mA, 2.5 times what it wants;", "0.1 % of what it wants."),
        ({"supply": "1 V"}, "Lit at once, red wants 4 mA and gets", "and stays dark."),
        ({"together": False}, "Lit one at a time, red wants 4 mA and gets 10 mA,", "gets 10 mA, about right."),
    ],
)
def test_what_each_lamp_gets_is_said(changes, start, end):
    sentence = limiter_shares(shared(**changes)).sentence
    assert sentence.startswith(start)
    assert sentence.endswith(end)
