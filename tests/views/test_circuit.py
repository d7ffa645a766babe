"""The circuit diagram: plus and minus, the lit lamp, the way of the current."""

import re

import numpy as np
import pytest

from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.errors import RangeError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import diodes, leds
from sigcalc.views.circuit import LAMP, elm, signal_circuit, symbol
from sigcalc.views.style import LINE, PAPER, THIN, lamp_fill
from tests.views.samples import FULL, GREEN, PLAIN, RED, RESISTOR
from tests.views.svg import SVG, by_words, corners, fills, group, groups, parse, words
from tests.views.wiring import joined

BOTH = pytest.mark.parametrize(("polarity", "lit", "dark"), [(+1, "red", "green"), (-1, "green", "red")])
POLARITY = pytest.mark.parametrize("polarity", [+1, -1])
SWITCHED = pytest.mark.parametrize("switch", [True, False])


def circuit(polarity, switch=True, pair=PLAIN, drive=RESISTOR, supply="9.5 V", **more):
    return signal_circuit(pair.operate(supply, drive, polarity), "9 V alkaline", switch=switch, **more)


def end_of(picture, sign):
    """Height of the supply's end that bears the sign."""
    shape = by_words(picture, sign)
    return (shape.top + shape.bottom) / 2


def wires(picture):
    """The lines that join without a part between, and the rings of the switch, which join what ends at them."""
    lines, rings = [], []
    for element in parse(picture).iter(SVG + "g"):
        kind = element.get("class").split()[0]
        if kind in ("leads", "cross", "wire", "switch"):
            lines += corners(
                each for each in element if "dasharray" not in each.get("style", "")
            )  # not the levers' link
        if kind == "switch":
            rings = [[float(each.get(name)) for name in ("cx", "cy", "r")] for each in element.iter(SVG + "circle")]
    return lines, rings


def anode_and_cathode(picture, lamp):
    """The two ends of a lamp's branch: current passes from the triangle's base to its tip."""
    triangle, *lines = corners(group(picture, f"led {lamp}"))
    heights = [y for _, y in triangle]
    tip = next(point for point in triangle if heights.count(point[1]) == 1)
    base = next(y for y in heights if y != tip[1])
    ends = [y for line in lines if {x for x, _ in line} == {tip[0]} for _, y in line]
    far = {True: (min(ends), max(ends)), False: (max(ends), min(ends))}[base < tip[1]]
    return tuple((tip[0], y) for y in far)


def plates(picture):
    """Height and width of the battery's plates, from the top."""
    lines = corners(group(picture, "supply"))
    return sorted((one[1], abs(one[0] - other[0])) for one, other in lines if abs(one[0] - other[0]) > 1)


@BOTH
@SWITCHED
def test_the_lit_lamp_is_filled_and_said_in_words(polarity, lit, dark, switch):
    picture = circuit(polarity, switch)
    assert fills(group(picture, f"led {lit}"))[0] == {"red": "#d55e00", "green": "#009e73"}[lit]
    assert group(picture, f"led {lit}").get("class") == f"led {lit} lit"
    assert group(picture, f"led {dark}").get("class") == f"led {dark} dark"
    assert not {"#d55e00", "#009e73"} & set(fills(group(picture, f"led {dark}")))
    assert {f"{lit.upper()} ON", f"{dark.upper()} DARK"} <= set(words(picture))
    assert picture.sentence.startswith(f"{lit.capitalize()} is lit with ")


@BOTH
def test_the_sentence_holds_the_figures(polarity, lit, dark):
    point = PLAIN.operate("9.5 V", RESISTOR, polarity)
    current, volts = f"{point.si.current * 1e3:.1f} mA", f"{point.si.reverse_voltage:.2f} V"
    picture = signal_circuit(point, "9 V alkaline")
    assert picture.sentence == (
        f"{lit.capitalize()} is lit with {current}; the {dark} LED is dark with {volts} across it in reverse."
    )
    assert {current, f"{volts} reverse", "680 Ω ± 5 %", "9 V alkaline", "9.5 V"} <= set(words(picture))


@POLARITY
@SWITCHED
def test_the_long_plate_of_the_battery_is_plus(polarity, switch):
    picture = circuit(polarity, switch)
    upright = end_of(picture, "+") < end_of(picture, "−")
    widths = [width for _, width in plates(picture)]
    assert (widths[0] > 1.5 * widths[-1]) == upright
    assert (widths[-1] > 1.5 * widths[0]) == (not upright)


@POLARITY
def test_without_a_switch_the_supply_turns_round(polarity):
    picture = circuit(polarity, switch=False)
    assert (end_of(picture, "+") < end_of(picture, "−")) == (polarity > 0)


@POLARITY
def test_with_a_switch_plus_stays_on_top_and_the_levers_move(polarity):
    picture = circuit(polarity, switch=True)
    assert end_of(picture, "+") < end_of(picture, "−")
    assert f"set to {'RED' if polarity > 0 else 'GREEN'}" in words(picture)
    levers = [line for line in corners(group(picture, "switch")) if len(line) == 2 and line[0][0] != line[1][0]]
    assert len(levers) == 2
    assert all((line[1][1] < line[0][1]) == (polarity > 0) for line in levers)


@BOTH
@SWITCHED
def test_plus_leads_to_the_anode_of_the_lit_lamp_and_minus_to_its_cathode(polarity, lit, dark, switch):
    # no resistor in the shared wires, so that they join without a part between
    picture = circuit(polarity, switch, drive=ResistorDrive("0 ohm"), supply="2 V")
    lines, rings = wires(picture)
    (column, top), (_, bottom) = sorted(line[0] for line in corners(group(picture, "leads")))
    upright = end_of(picture, "+") < end_of(picture, "−")
    plus, minus = ((column, top), (column, bottom)) if upright else ((column, bottom), (column, top))
    anode, cathode = anode_and_cathode(picture, lit)
    assert joined(lines, rings, plus, anode)
    assert joined(lines, rings, minus, cathode)
    assert not joined(lines, rings, plus, minus)
    dark_anode, dark_cathode = anode_and_cathode(picture, dark)
    assert joined(lines, rings, plus, dark_cathode)
    assert joined(lines, rings, minus, dark_anode)


@POLARITY
@SWITCHED
def test_the_current_flows_out_of_plus(polarity, switch):
    picture = circuit(polarity, switch)
    head = next(line for line in corners(group(picture, "current")) if len(line) == 3)
    assert (head[0][0] > head[1][0]) == (polarity > 0)
    assert f"wire A {'+' if polarity > 0 else '−'}" in words(picture)
    assert f"wire B {'−' if polarity > 0 else '+'}" in words(picture)


@SWITCHED
def test_a_driver_stands_at_plus_and_replaces_the_resistor(switch):
    picture = circuit(+1, switch, drive=ConstantCurrentDrive("10 mA", "1.5 V"))
    assert not groups(picture, "resistor")
    assert {"driver", "10 mA"} <= set(words(picture))
    heights = [y for line in corners(group(picture, "driver")) for _, y in line]
    assert max(heights) < end_of(picture, "+") < end_of(picture, "−")


def test_parts_in_the_branches_are_drawn_and_named():
    picture = circuit(-1, pair=FULL)
    assert {"100 Ω", "2.2 kΩ", "1N4001"} <= set(words(picture))
    assert words(picture).count("1N4001") == 2
    assert "across it in reverse, which its plain diode blocks" in picture.sentence


def test_only_the_branch_with_an_extra_resistor_shows_one():
    picture = circuit(+1, pair=TwoLeadPair(RED, GREEN, extra_green="150 ohm"))
    assert "150 Ω" in words(picture)
    boxes = {
        lamp: [line for line in corners(group(picture, f"extra {lamp}")) if len(line) > 4] for lamp in ("red", "green")
    }
    assert [len(boxes[lamp]) for lamp in ("red", "green")] == [0, 1]


def test_of_two_lamps_each_is_drawn_by_its_own_light():
    lamps = TwoLeadPair(leds["red alingap 3 mm"], leds["green gap 3 mm"])
    red, green = (signal_circuit(lamps.operate("12 V", ResistorDrive("2.2 kohm"), way), "12 V") for way in (1, -1))
    assert "bright" in words(red)
    assert "normal light" in words(green)
    faint = signal_circuit(lamps.operate("12 V", ResistorDrive("300 kohm"), -1), "12 V")
    assert {"GREEN DARK", "too little to see"} <= set(words(faint))
    assert faint.sentence.startswith("Green gives too little light to see with 3")


def test_overload_and_too_much_reverse_voltage_are_said():
    trap = TwoLeadPair(RED, GREEN, "100 ohm", "100 ohm").operate("24 V", ResistorDrive("0 ohm"), +1)
    picture = signal_circuit(trap, "24 V adapter", adapter=True)
    assert "RED DEAD" in words(picture)
    assert "more than its limit of 30 mA" in picture.sentence
    assert "24 V across it in reverse, more than its limit of 5 V" in picture.sentence


def test_nothing_lit_is_said():
    picture = circuit(+1, supply="0 V")
    assert picture.sentence == "Neither lamp is lit: under 1 nA flows."
    assert {"RED DARK", "GREEN DARK"} <= set(words(picture))
    assert fills(group(picture, "led red")) == []


def test_a_supply_named_by_its_voltage_is_not_named_twice():
    point = PLAIN.operate("12 V", RESISTOR, +1)
    assert words(signal_circuit(point, "12 V regulated", adapter=True)).count("12 V") == 1


def test_arrays_are_refused():
    with pytest.raises(RangeError, match="one supply voltage"):
        signal_circuit(PLAIN.operate(["9 V", "12 V"], RESISTOR, +1), "9 V")
    with pytest.raises(RangeError, match="one polarity"):
        signal_circuit(PLAIN.operate("9 V", RESISTOR, np.array([1, -1])), "9 V")


def test_a_lamp_of_another_colour_takes_its_own_fill():
    picture = circuit(+1, pair=TwoLeadPair(leds["yellow gaasp 3 mm"], GREEN, series_diode=diodes["1n4001"]))
    assert "#f0e442" in fills(group(picture, "led red"))


def test_the_picture_keeps_its_size_while_values_change():
    boxes = {
        re.search('viewBox="[^"]*"', circuit(sign, drive=ResistorDrive(ohms)).svg)[0]
        for sign in (1, -1)
        for ohms in ("330 ohm", "1.25 Mohm")
    }
    assert len(boxes) == 1


ENDS = (100.0, 20.0), (100.0, 120.0)


def style(shape, name):
    return dict(part.split(":") for part in shape.get("style").split(";") if part)[name]


@pytest.mark.parametrize("colour", ["red", "green", "white"])
def test_a_lit_lamp_is_filled_and_its_arrows_are_strong(colour):
    triangle, _, *arrows = symbol(elm.LED, *ENDS, lamp_fill(colour), LAMP)
    assert style(triangle, "fill").lower() == lamp_fill(colour).lower()
    heads = [each for each in arrows if style(each, "fill") != "none"]
    assert [style(each, "fill") for each in heads] == ["#000000"] * 2


def test_a_dark_lamp_keeps_its_arrows_but_thin_and_hollow():
    triangle, leads, *arrows = symbol(elm.LED, *ENDS, PAPER, LAMP)
    assert len(arrows) == 4  # a shaft and a head, twice
    assert {style(each, "fill") for each in (triangle, *arrows)} == {PAPER}
    assert {float(style(each, "stroke-width")) for each in arrows} == {THIN}
    assert {float(style(each, "stroke-width")) for each in (triangle, leads)} == {LINE}
