"""The circuit diagram: plus and minus, the lit lamp, the way of the current."""

import math
from itertools import pairwise

import pytest

from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.errors import RangeError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.views.circuit import LAMP, elm, symbol
from sigcalc.views.signal_circuit import signal_brief, signal_circuit, signal_sentence
from sigcalc.views.style import LINE, PAPER, THIN, lamp_fill
from tests.views.samples import FULL, GREEN, PLAIN, RED, RESISTOR
from tests.views.svg import SVG, corners, fills, group, groups, middle, parse, words

BOTH = pytest.mark.parametrize(("polarity", "lit", "dark"), [(+1, "red", "green"), (-1, "green", "red")])
SWITCHED = pytest.mark.parametrize("switch", [True, False])


def circuit(polarity=+1, switch=True, pair=PLAIN, drive=RESISTOR, supply="9.5 V", **more):
    return signal_circuit(pair.operate(supply, drive, polarity), "9 V alkaline", switch=switch, **more)


def upright(picture):
    """Whether the supply's plus is on top, by its signs and by the battery's plates, of which plus has the long one."""
    plates = [line for line in corners(group(picture, "supply")) if len(line) == 2 and line[0][0] != line[1][0]]
    widths = [abs(one[0] - other[0]) for one, other in sorted(plates, key=lambda line: line[0][1])]
    assert (widths[0] > widths[-1]) == (middle(picture, "+") < middle(picture, "−"))
    return widths[0] > 1.5 * widths[-1]


def anode_and_cathode(picture, lamp):
    """The two ends of a lamp's branch: current passes from the triangle's base to its tip."""
    triangle, *lines = corners(group(picture, f"led {lamp}"))
    heights = [y for _, y in triangle]
    tip = next(point for point in triangle if heights.count(point[1]) == 1)
    base = next(y for y in heights if y != tip[1])
    ends = sorted({y for line in lines if {x for x, _ in line} == {tip[0]} for _, y in line})
    return tuple((tip[0], y) for y in ((ends[0], ends[-1]) if base < tip[1] else (ends[-1], ends[0])))


def net(picture):
    """A function that says whether wires alone join two points: lines touch where one ends, rings join their lines."""
    lines, rings = [], []
    for element in parse(picture).iter(SVG + "g"):
        if element.get("class").split()[0] in ("leads", "cross", "wire", "switch"):  # but not the levers' link
            lines += corners(each for each in element if "dasharray" not in each.get("style", ""))
        if element.get("class").startswith("switch"):
            rings = [tuple(float(each.get(at)) for at in ("cx", "cy", "r")) for each in element.iter(SVG + "circle")]

    def on(point, line):
        pieces = [(math.dist(point, one), math.dist(point, two), math.dist(one, two)) for one, two in pairwise(line)]
        return any(to_one + to_two < whole + 0.01 for to_one, to_two, whole in pieces)

    def rings_of(line):
        """The rings at which a line ends."""
        ends = line[:: len(line) - 1]
        return {ring for ring in rings if min(math.dist(end, ring[:2]) for end in ends) < ring[2] + 1}

    def touch(one, other):
        return any(on(one[at], other) or on(other[at], one) for at in (0, -1)) or rings_of(one) & rings_of(other)

    def joined(start, end):
        todo, seen = [(start, start)], []
        while todo:
            seen.append(todo.pop())
            todo += [each for each in lines if each not in seen + todo and touch(seen[-1], each)]
        return any(on(end, line) for line in seen[1:])

    return joined


@BOTH
@SWITCHED
def test_the_lit_lamp_plus_and_minus_and_the_way_of_the_current(polarity, lit, dark, switch):
    picture, said = circuit(polarity, switch), words(circuit(polarity, switch))
    assert lamp_fill(lit).lower() in fills(group(picture, f"led {lit} lit"))
    assert not {lamp_fill(each).lower() for each in (lit, dark)} & set(fills(group(picture, f"led {dark} dark")))
    assert {f"{lit.upper()} ON", f"{dark.upper()} DARK"} <= set(said)
    assert upright(picture) == (switch or polarity > 0)  # without a switch the supply turns round
    assert {f"wire A {'+−'[polarity < 0]}", f"wire B {'−+'[polarity < 0]}"} <= set(said)
    head = next(line for line in corners(group(picture, "current")) if len(line) == 3)
    assert (head[0][0] > head[1][0]) == (polarity > 0)
    if switch:
        assert f"set to {lit.upper()}" in said
        levers = [line for line in corners(group(picture, "switch")) if len(line) == 2 and line[0][0] != line[1][0]]
        assert [line[1][1] < line[0][1] for line in levers] == [polarity > 0] * 2


@BOTH
@SWITCHED
def test_plus_leads_to_the_anode_of_the_lit_lamp_and_minus_to_its_cathode(polarity, lit, dark, switch):
    # no resistor in the shared wires, so that they join without a part between
    picture = circuit(polarity, switch, drive=ResistorDrive("0 ohm"), supply="2 V")
    wires = [each for each in group(picture, "leads") if not each.get("class")]  # without the dots in them
    ends = sorted(line[0] for line in corners(wires))
    plus, minus = ends if upright(picture) else ends[::-1]
    joined, (anode, cathode) = net(picture), anode_and_cathode(picture, lit)
    assert joined(plus, anode)
    assert joined(minus, cathode)
    assert not joined(plus, minus)
    assert all(map(joined, (minus, plus), anode_and_cathode(picture, dark)))


@BOTH
def test_the_figures_are_those_of_the_point(polarity, lit, dark):
    point = PLAIN.operate("9.5 V", RESISTOR, polarity)
    current, volts = f"{point.si.current * 1e3:.1f} mA", f"{point.si.reverse_voltage:.2f} V"
    picture, reverse = circuit(polarity), f"the {dark} LED is dark with {volts} across it in reverse."
    assert picture.sentence == f"{lit.capitalize()} is lit with {current}; {reverse}"
    assert {current, f"{volts} reverse", "680 Ω ± 5 %", "9 V alkaline", "9.5 V"} <= set(words(picture))


@SWITCHED
def test_a_driver_is_at_plus_and_replaces_the_resistor(switch):
    picture = circuit(switch=switch, drive=ConstantCurrentDrive("10 mA", "1.5 V"))
    assert not groups(picture, "resistor")
    assert {"driver", "10 mA"} <= set(words(picture))
    assert max(y for line in corners(group(picture, "driver")) for _, y in line) < middle(picture, "+")


def test_parts_in_the_branches_are_drawn_and_named():
    full = circuit(-1, pair=FULL)
    assert {"100 Ω", "2.2 kΩ", "1N4001"} <= set(words(full))
    assert words(full).count("1N4001") == 2
    assert "across it in reverse, which its plain diode blocks" in full.sentence
    one = circuit(+1, pair=TwoLeadPair(leds["ordinary yellow 3 mm"], GREEN, extra_green="150 ohm"))
    boxes = [[line for line in corners(group(one, f"extra {lamp}")) if len(line) > 4] for lamp in ("red", "green")]
    assert [len(each) for each in boxes] == [0, 1]
    assert "150 Ω" in words(one)
    assert lamp_fill("yellow").lower() in fills(group(one, "led red"))


@pytest.mark.parametrize(
    ("supply", "ohms", "polarity", "said", "sentence"),
    [
        ("12 V", "2.2 kohm", +1, {"bright"}, "Red is lit with"),
        ("12 V", "2.2 kohm", -1, {"normal light"}, "Green is lit with"),
        ("12 V", "300 kohm", -1, {"GREEN DARK", "too little to see"}, "Green gives too little light to see with 0.03"),
        ("24 V", "100 ohm", +1, {"RED DEAD"}, "more than its limit of 30 mA, and will not last"),
        ("24 V", "0 ohm", +1, set(), "24 V across it in reverse, more than its limit of 5 V"),
        ("0 V", "680 ohm", +1, {"RED DARK", "GREEN DARK"}, "Neither lamp is lit: no current flows."),
    ],
)
def test_each_lamp_is_said_by_its_own_light_and_its_limits(supply, ohms, polarity, said, sentence):
    pair = TwoLeadPair(RED, GREEN, "100 ohm", "100 ohm") if ohms == "0 ohm" else PLAIN
    picture = circuit(polarity, pair=pair, supply=supply, drive=ResistorDrive(ohms))
    assert said <= set(words(picture))
    assert sentence in picture.sentence


@pytest.mark.parametrize("several", [{"supply": ["9 V", "12 V"]}, {"polarity": [1, -1]}])
def test_arrays_are_refused(several):
    with pytest.raises(RangeError, match="one supply voltage and one polarity"):
        circuit(**several)


def test_the_picture_keeps_its_size_while_values_change():
    one, other = (circuit(sign, drive=ResistorDrive(ohms)) for sign, ohms in ((1, "330 ohm"), (-1, "1.25 Mohm")))
    assert parse(one).get("viewBox") == parse(other).get("viewBox")


def test_a_dark_lamp_is_told_from_a_lit_one_without_its_colour():
    def styles(fill):
        found = symbol(elm.LED, (100.0, 20.0), (100.0, 120.0), fill, LAMP)
        return [dict(part.split(":") for part in shape.get("style").split(";") if part) for shape in found]

    (lens, _, *arrows), (hollow, _, *thin) = styles(lamp_fill("red")), styles(PAPER)
    assert (lens["fill"], hollow["fill"]) == (lamp_fill("red").lower(), PAPER)
    assert [each["fill"] for each in arrows if each["fill"] != "none"] == ["#000000"] * 2
    assert {(each["fill"], float(each["stroke-width"])) for each in thin} == {(PAPER, THIN)}
    assert {float(each["stroke-width"]) for each in arrows} == {LINE}


@BOTH
def test_the_dots_go_through_the_lit_branch_from_anode_to_cathode_and_not_through_the_dark_one(polarity, lit, dark):
    picture = circuit(polarity, pair=FULL)
    assert not [each for part in groups(picture, f"flow {dark}") for each in part]
    (x, anode), (_, cathode) = anode_and_cathode(picture, lit)
    ways = [way for part in groups(picture, f"flow {lit}") for way in corners(part)]
    assert [place[0] for way in ways for place in way] == pytest.approx([x] * 2 * len(ways))
    assert all((end - start) * (cathode - anode) > 0 for (_, start), (_, end) in ways)


@pytest.mark.parametrize(
    ("supply", "ohms", "says"),
    [
        ("9 V", "680 ohm", "red lights. The green LED blocks"),
        ("24 V", "100 ohm", "times too much. The red LED is dead."),
        ("9 V", "180 ohm", "times its limit. The red LED will not last."),
        ("0 V", "680 ohm", "No current: neither lamp lights."),
    ],
)
def test_a_wall_is_told_in_a_few_words_what_the_sentence_says(supply, ohms, says):
    point = PLAIN.operate(supply, ResistorDrive(ohms), +1)
    assert says in signal_brief(point)
    assert signal_brief(point).split(":")[0].lower() in signal_sentence(point).lower()


def test_a_wall_is_told_of_too_much_voltage_in_reverse():
    point = TwoLeadPair(RED, GREEN, "1 kohm", "1 kohm").operate("9 V", ResistorDrive("0 ohm"), +1)
    assert signal_brief(point) == "The dark green LED has 9 V in reverse; limit 5 V."
