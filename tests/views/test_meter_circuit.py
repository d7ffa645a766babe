"""The meter on the circuit and its board, on a page and on a wall: probes, lamps, faults, display and sentence."""

import dataclasses

import pytest

from sigcalc.design.bench.circuit import LAMPS
from sigcalc.design.bench.fault import burnt, faults_of
from sigcalc.design.bench.reading import measuring_points
from sigcalc.design.bench.visual_check import SEEN
from sigcalc.views.find_the_fault import probes, seen_words
from sigcalc.views.meter_circuit import meter_picture
from sigcalc.views.style import INK, SHADE, STAGE, STROKES, lamp_fill
from tests.design.bench.circuits import circuits
from tests.views.samples import SIGNAL
from tests.views.svg import by_words, fills, group, groups, words

CIRCUITS = {"plain": SIGNAL, "one-shot": circuits()["one-shot"], "mosfet": circuits()["mosfet"]}
POINTS = {name: measuring_points(circuit) for name, circuit in CIRCUITS.items()}


def picture(point="pair, red", reading="1.87 V", position="red", seen="red", circuit="plain"):
    return meter_picture(CIRCUITS[circuit], POINTS[circuit][point], reading, position, seen)


@pytest.mark.parametrize(("circuit", "name"), [(circuit, name) for circuit in CIRCUITS for name in POINTS[circuit]])
def test_both_probes_are_at_the_letters_that_the_words_name(circuit, name):
    drawn, said = picture(name, circuit=circuit), probes(POINTS[circuit][name])
    if not said:  # timed, or a part in a branch
        assert not groups(drawn, "probes")
        return
    flags = [by_words(drawn, f"{probe} probe") for probe in ("red", "black")]
    for flag, letter in zip(flags, said.split(" to "), strict=True):
        if letter != "its wire":
            spot = by_words(drawn, letter)
            assert abs((flag.left + flag.right) / 2 - (spot.left + spot.right) / 2) < 50
            assert abs(flag.top - spot.top) < 60
    left, right = sorted(flags, key=lambda each: each.left)
    assert left.right < right.left or abs(left.top - right.top) > 10


LOOKS = {"none": ("dark", "dark"), "dim green": ("dark", "dim"), "both": ("on", "on"), "": ("?", "?")}


@pytest.mark.parametrize("seen", LOOKS)
def test_each_lamp_looks_as_the_eye_says(seen):
    drawn = picture(seen=seen)
    for lamp, look in zip(LAMPS, LOOKS[seen], strict=True):
        paint = {"on": {lamp_fill(lamp).lower()}, "dim": {SHADE}}.get(look, set())
        assert set(fills(group(drawn, f"led {lamp} {look}"))) - {INK} == paint  # the arrows of its light are ink
        assert look.upper() in words(drawn)
    assert len({seen_words(each) for each in (*SEEN, "")}) == len(SEEN) + 1


@pytest.mark.parametrize("position", LAMPS)
def test_switch_display_and_sentence_say_position_and_reading(position):
    drawn = picture(position=position)
    assert groups(drawn, f"switch {position}")
    assert {position.upper(), "1.87 V"} <= set(words(drawn))
    assert drawn.sentence.startswith(f"Set for {position}, ")
    assert drawn.sentence.endswith("reads 1.87 V.")
    assert picture(reading="").sentence.endswith("has not been read.")


def test_without_power_the_supply_is_unplugged_and_a_current_is_read_in_a_gap():
    drawn = picture("shared resistor ohms", "OL", seen="red")
    assert "UNPLUGGED" in words(drawn)
    assert groups(drawn, "led red off")
    wires = [[line.get("points") for line in group(picture(f"{each}, red"), "wires")] for each in ("pair", "current")]
    assert wires[0] != wires[1]


@pytest.mark.parametrize(("name", "rail", "ends"), [("one-shot", "minus −", "+−"), ("mosfet", "plus +", "−+")])
def test_the_coil_s_ends_are_at_output_and_rail(name, rail, ends):
    """From the output to minus, or from plus to the output: the end at the output is drawn first."""
    drawn = picture("coil ohms", circuit=name)
    first, last = (by_words(drawn, f"C{sign}") for sign in ends)
    assert by_words(drawn, "O").right < first.left < last.left < by_words(drawn, rail).left


@pytest.mark.parametrize("name", circuits())
def test_each_fault_that_was_found_is_ringed_and_a_lamp_that_it_killed_is_dead(name):
    circuit = circuits()[name]
    for fault in faults_of(circuit):
        point = measuring_points(circuit)["pair, red"]
        drawn = meter_picture(circuit, point, "OL", "red", "none", found=fault)
        assert bool(groups(drawn, "fault")) == bool(fault.parts)
        assert drawn.sentence.endswith("is ringed.") == bool(fault.parts)
        killed = list(burnt(circuit, fault))
        assert killed == [lamp for lamp in LAMPS if groups(drawn, f"led {lamp} dead")]
        assert killed == [lamp for lamp in LAMPS if f"The {lamp} LED has burnt out." in drawn.sentence]


def test_without_a_timer_a_hand_feeds_the_coil_and_a_hand_switch_has_none():
    by_hand = dataclasses.replace(CIRCUITS["one-shot"], timer=None)
    drawn = meter_picture(by_hand, measuring_points(by_hand)["coil ohms"], "290 Ω", "red", "none")
    assert "plus +, switched by hand" in words(drawn)
    assert [bool(groups(drawn, name)) for name in ("coil", "timer", "reed")] == [True, False, False]
    assert not groups(picture(), "coil")


@pytest.mark.parametrize("name", circuits())
def test_a_wall_says_and_rings_what_the_page_does(name):
    circuit = circuits()[name]
    point = measuring_points(circuit)["pair, red"]
    for fault in faults_of(circuit):
        seen_at = circuit, point, "OL", "red", "none"
        drawn, page = meter_picture(*seen_at, STAGE, fault), meter_picture(*seen_at, found=fault)
        assert drawn.sentence == page.sentence
        assert len(groups(drawn, "fault")) == len(groups(page, "fault"))
        assert list(burnt(circuit, fault)) == [lamp for lamp in LAMPS if groups(drawn, f"led {lamp} dead")]


@pytest.mark.parametrize("name", circuits())
def test_on_a_wall_the_red_probe_is_at_the_first_letter_that_the_meter_names(name):
    circuit = circuits()[name]
    for point in measuring_points(circuit).values():
        drawn, (first, *_) = meter_picture(circuit, point, "1.9 V", "red", "red", STAGE), probes(point).split(" to ")
        assert "1.9 V" in words(drawn)
        if not first:
            continue
        flag = next(each for each in groups(drawn, "probes")[0] if each.get("fill") == STROKES["red"])
        x, y = map(float, flag.get("points").split()[0].split(","))
        letter = by_words(drawn, first)
        assert abs((letter.left + letter.right) / 2 - x) < 20
        assert abs((letter.top + letter.bottom) / 2 - y) < 24
