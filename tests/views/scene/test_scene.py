"""Every thing that can lie on the table, in each of its states: in its place, plain SVG, and true to its facts."""

import cmath
import itertools
import math
import re
from pathlib import Path

import pytest

import sigcalc.views.scene
from sigcalc.parts.led import leds
from sigcalc.views.light import Light
from sigcalc.views.scene.table import Table
from sigcalc.views.scene.thing import thing
from tests.views.svg import HOSTILE, parse, texts

RED, GREEN = leds["bright red 3 mm"], leds["ordinary green 3 mm"]
DARK_RED, LIT_RED, DEAD_RED = (Light.of(RED, amps) for amps in (0.0, 5e-3, 1.0))
DARK_GREEN, LIT_GREEN = (Light.of(GREEN, amps) for amps in (0.0, 5e-3))
PAIRS = [{"lights": each} for each in ((LIT_RED, DARK_GREEN), (DARK_RED, LIT_GREEN), (DEAD_RED, DARK_GREEN))]
BANDS = {"bands": ("#FFE600", "#7F3F98", "#7B3F00", "#CFA93A"), "body": "#E4C48F"}
STATES = {
    "car": [
        {"long": long, "engine": engine, "ahead": ahead}
        for long, engine, ahead in (
            (40.0, True, 1),
            (40.0, True, -1),
            (12.0, True, 1),
            (40.0, False, 1),
            (12.0, False, 1),
        )
    ],
    "adapter": [{"words": "12 V", "plug": True}, {"words": "12 V", "plug": False}],
    "battery_9v": [{}, {"words": "8.4 V"}],
    "battery_box": [{"cells": number} for number in range(1, 9)],
    "breadboard": [{}],
    "coin_cell": [{"words": "3 V"}],
    "driver": [{"words": "10 mA"}],
    "fuse_holder": [{"blown": False}, {"blown": True}],
    "hand_switch": [
        *({"up": each} for each in (True, None, False)),
        *({"up": each, "labels": ("OFF", "ON")} for each in (True, False)),
    ],
    "joint": [*({"step": number} for number in range(1, 5)), {"step": 3, "colour": "#FF8C00"}],
    "led": [{"light": each} for each in (DARK_RED, LIT_RED, DEAD_RED, DARK_GREEN, LIT_GREEN)],
    "meter": [
        {"shows": shows, "setting": setting}
        for setting, shows in zip(
            ("off", "DC volts", "AC volts", "DC milliamperes", "ohms", "diode test"),
            ("", "1.90 V", "not read", "−12.34 mA", "OL", "no reading yet"),
            strict=True,
        )
    ],
    "pair": PAIRS,
    "probe": [
        {"colour": colour, "up": up, "left": left}
        for colour, up, left in itertools.product(("red", "black"), (True, False), (True, False))
    ],
    "push_button": [{"pressed": each} for each in (True, False)],
    "reed": [{"closed": each} for each in (True, False)],
    "reed_side": [{"closed": each} for each in (True, False)],
    "relay_board": [{"pulled": each, "light": Light.switched("amber", each)} for each in (True, False)],
    "relay": [{"up": each} for each in (True, False)],
    "resistor": [BANDS],
    "resistor_upright": [BANDS],
    "signal": PAIRS,
    "signal_post": PAIRS,
    "supply": [{"words": "9.00 V"}, {"words": "12.00 V"}],
    "switch_behind": [
        *({"up": each} for each in (True, None, False)),
        {"up": None, "bridged": True},
        *({"up": each, "single": True} for each in (True, False)),
    ],
    "terminal_strip": [{"ways": number} for number in (2, 7, 12)],
    "timer_board": [{"running": share > 0, "share": share} for share in (0.0, 0.3, 1.0)],
    "wagon": [
        {"magnet": magnet, "field": field} for magnet in ((16, 6), (26, 12)) for field in ("upright", "lengthwise", "")
    ],
    "wire_reel": [{"words": "30 AWG", "colour": "#C8501E"}, {"words": "22 AWG", "colour": "#2B5C8A"}],
}
"""The facts that each thing is drawn with; no two of them may look the same."""
ALL = [
    pytest.param(name, facts, id=f"{name} {number}")
    for name, all_facts in STATES.items()
    for number, facts in enumerate(all_facts)
]
_ROOM = 4  # how far a shadow may reach beyond a thing


def on_table(name, facts):
    """A picture of nothing but the thing."""
    made = thing(name, **facts)
    table = Table(made.width, made.height)
    table.put(name, (0, 0), **facts)
    return table.picture("Tried.")


def extent(shape):
    """The box (left, top, right, bottom) of a rectangle, circle or ellipse; no more than a point of any other."""
    at = {key: float(value) for key, value in shape.attrib.items() if re.fullmatch(r"-?[\d.]+", value)}
    if "cx" in at:
        across, down = (at.get(key, at.get("r")) for key in ("rx", "ry"))
        return at["cx"] - across, at["cy"] - down, at["cx"] + across, at["cy"] + down
    return at.get("x", 0), at.get("y", 0), at.get("x", 0) + at.get("width", 0), at.get("y", 0) + at.get("height", 0)


def test_every_drawing_is_tried():
    folder = Path(sigcalc.views.scene.__file__).parent
    assert {each.stem for each in folder.glob("*.svg")} == set(STATES)


@pytest.mark.parametrize(("name", "facts"), ALL)
def test_a_thing_is_plain_svg_of_its_size_that_can_be_on_a_page_twice(name, facts):
    made, picture = thing(name, **facts), on_table(name, facts)
    assert made.ends
    for x, y in (place for end, place in made.ends.items() if end != "lens"):
        assert 0 <= x <= made.width, name
        assert 0 <= y <= made.height, name
    for shape in (each for top in made.shapes for each in top.iter()):
        assert not {"id", "href", "style", "class", "filter"} & set(shape.attrib)
        assert shape.tag in {"g", "path", "rect", "circle", "ellipse", "text", "polyline", "polygon", "desc"}
        assert "url(" not in "".join(shape.attrib.values())
    for shape in made.shapes:
        left, top, right, bottom = extent(shape)
        assert -_ROOM <= left <= right <= made.width + _ROOM
        assert -_ROOM <= top <= bottom <= made.height + _ROOM
    for text in texts(picture):
        assert text.size >= 12
        assert 0 <= text.left <= text.right <= made.width
        assert 0 <= text.top <= text.bottom <= made.height
    for one, other in itertools.combinations(texts(picture), 2):
        assert not one.overlaps(other)


@pytest.mark.parametrize("name", STATES)
def test_each_state_looks_different(name):
    drawn = [on_table(name, facts).svg for facts in STATES[name]]
    assert len(set(drawn)) == len(drawn)


@pytest.mark.parametrize(("name", "facts"), [each for each in ALL if {"light", "lights"} & set(each.values[1])])
def test_a_lit_lamp_has_its_colour_and_a_dark_one_has_not(name, facts):
    picture = on_table(name, facts)
    for light in facts.get("lights", [facts["light"]] if "light" in facts else []):
        drawn = {each.get("fill") for each in parse(picture).iter() if each.get("fill")}
        assert light.lens in drawn
        assert (light.fill in drawn) == light.shines


def test_words_from_a_stranger_stay_words():
    for name, all_facts in STATES.items():
        for facts in all_facts:
            asked = {key: HOSTILE if key in ("words", "shows") else value for key, value in facts.items()}
            drawn = on_table(name, asked).svg
            assert not re.search("<b>|[\x00-\x08\u202e\ud800]", drawn)


def moved(shape, place):
    """Where a group's `transform` puts a place."""
    steps = re.findall(r"(\w+)\(([^)]*)\)", shape.get("transform"))
    for kind, given in reversed(steps):
        numbers, (x, y) = [float(each) for each in given.split()], place
        if kind == "rotate":
            turn = cmath.exp(1j * math.radians(numbers[0])) * complex(x, y)
            place = turn.real, turn.imag
        else:
            place = (x + numbers[0], y + numbers[1]) if kind == "translate" else (x * numbers[0], y * numbers[1])
    return place


def test_in_the_pair_each_long_leg_is_soldered_to_a_short_one():
    made, led = thing("pair", **PAIRS[0]), thing("led", light=LIT_RED)
    red, green = (each for each in made.shapes if each.get("transform"))
    for end, long, short in (("a", red, green), ("b", green, red)):
        (x, y), (other_x, other_y) = moved(long, led.ends["long"]), moved(short, led.ends["short"])
        assert y == pytest.approx(other_y)
        assert min(x, other_x) < made.ends[end][0] < max(x, other_x)
    for lamp, each in (("lamp1", red), ("lamp2", green)):
        assert moved(each, led.ends["lamp"]) == pytest.approx(made.ends[lamp])
