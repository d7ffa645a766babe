"""The circuit with the meter: probes where the words say, lamps as they look, and the reading on the display."""

import pytest

from sigcalc.design.bench.circuit import LAMPS
from sigcalc.design.bench.reading import measuring_points
from sigcalc.design.bench.visual_check import SEEN
from sigcalc.lessons.hidden_fault import quillhaven_signal
from sigcalc.views.meter import meter_picture, probes, seen_words
from sigcalc.views.style import INK, SHADE, lamp_fill
from tests.design.bench.circuits import circuits
from tests.views.svg import by_words, fills, group, groups, words

SIGNAL = quillhaven_signal()
POINTS = measuring_points(SIGNAL)


def picture(point="pair, red", reading="1.87 V", position="red", seen="red"):
    return meter_picture(SIGNAL, POINTS[point], reading, position, seen)


@pytest.mark.parametrize("name", POINTS)
def test_both_probes_stand_at_the_letters_that_the_words_name(name):
    red, black = probes(POINTS[name]).split(" to ")
    drawn = picture(name)
    for probe, letter in (("red", red), ("black", black)):
        flag = by_words(drawn, f"{probe} probe")
        if letter != "its wire":
            spot = by_words(drawn, letter)
            assert abs((flag.left + flag.right) / 2 - spot.left) < 45
            assert (flag.bottom < spot.top) == (spot.top < 100)


def test_a_hold_is_timed_and_has_no_probes():
    timed = circuits()["one-shot"]
    point = measuring_points(timed)["hold"]
    assert probes(point) == ""
    drawn = meter_picture(timed, point, "", "red", "red")
    assert not groups(drawn, "probes")
    assert point.where in drawn.sentence


@pytest.mark.parametrize(
    ("seen", "red", "green"),
    [
        ("none", "dark", "dark"),
        ("red", "on", "dark"),
        ("dim green", "dark", "dim"),
        ("both", "on", "on"),
        ("", "?", "?"),
    ],
)
def test_each_lamp_looks_as_the_eye_says(seen, red, green):
    drawn = picture(seen=seen)
    for lamp, look in zip(LAMPS, (red, green), strict=True):
        paint = {"on": {lamp_fill(lamp).lower()}, "dim": {SHADE}}.get(look, set())
        assert set(fills(group(drawn, f"led {lamp} {look}"))) - {INK} == paint  # the arrows of its light are ink
        assert look.upper() in words(drawn)


def test_everything_that_may_be_seen_has_words():
    assert len({seen_words(each) for each in (*SEEN, "")}) == len(SEEN) + 1


@pytest.mark.parametrize("position", LAMPS)
def test_the_switch_stands_as_set(position):
    drawn = picture(position=position)
    assert group(drawn, f"switch {position}") is not None
    assert position.upper() in words(drawn)
    assert drawn.sentence.startswith(f"Set for {position}, ")


@pytest.mark.parametrize("name", ["shared resistor ohms", "diode test A to B"])
def test_without_power_the_supply_is_unplugged_and_no_lamp_lights(name):
    drawn = picture(name, "OL", seen="red")
    assert "UNPLUGGED" in words(drawn)
    assert group(drawn, "led red off") is not None


def test_a_current_is_read_in_a_gap():
    def places(name):
        return [shape.get("points") for shape in group(picture(name), "wires") if shape.get("points")]

    assert places("current, red") != places("pair, red")


def test_the_display_and_the_sentence_say_the_reading():
    assert "1.87 V" in words(picture())
    assert picture().sentence.endswith("reads 1.87 V.")
    assert "not read" in words(picture(reading=""))
    assert picture(reading="").sentence.endswith("has not been read.")
