"""Pictures of the lesson "find the fault": the meter on the circuit and its board, readings, and ranked faults."""

import dataclasses

import pytest

from sigcalc.design.bench.circuit import LAMPS
from sigcalc.design.bench.diagnosis import diagnose
from sigcalc.design.bench.reading import measuring_points
from sigcalc.design.bench.visual_check import SEEN
from sigcalc.lessons.find_the_fault import quillhaven_signal
from sigcalc.views.find_the_fault import (
    ReadingRow,
    chance_number,
    chance_words,
    meter_picture,
    probes,
    ranking,
    readings_table,
    seen_words,
)
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


TIMED = circuits()["one-shot"]
BY_HAND = dataclasses.replace(TIMED, timer=None)
TIMED_POINTS = measuring_points(TIMED)
ON_BOARD = [
    *("coil, red", "coil, green", "coil ohms", "timer output, red", "timer output, green", "pot ohms"),
    *("reed alone", "reed with a magnet", "reed under the train"),
]


def test_every_point_of_coil_timer_and_reed_is_on_the_board():
    assert all(probes(TIMED_POINTS[name]) for name in ON_BOARD)
    assert [name for name in TIMED_POINTS if not probes(TIMED_POINTS[name])] == ["hold"]


@pytest.mark.parametrize("name", ON_BOARD)
def test_both_probes_stand_at_their_letters(name):
    drawn = meter_picture(TIMED, TIMED_POINTS[name], "1 V", "red", "red")
    for probe, letter in zip(("red", "black"), probes(TIMED_POINTS[name]).split(" to "), strict=True):
        flag, spot = by_words(drawn, f"{probe} probe"), by_words(drawn, letter)
        assert abs((flag.left + flag.right) / 2 - (spot.left + spot.right) / 2) < 45
        assert abs(flag.top - spot.top) < 60


@pytest.mark.parametrize(("name", "rail", "ends"), [("one-shot", "minus −", "+−"), ("mosfet", "plus +", "−+")])
def test_the_coil_s_ends_are_at_output_and_rail(name, rail, ends):
    """From the output to minus, or from plus to the output: the end at the output is drawn first."""
    circuit = circuits()[name]
    drawn = meter_picture(circuit, measuring_points(circuit)["coil ohms"], "", "red", "red")
    first, last = (by_words(drawn, f"C{sign}") for sign in ends)
    assert by_words(drawn, "O").right < first.left < last.left < by_words(drawn, rail).left


@pytest.mark.parametrize("name", ["one-shot", "mosfet"])
def test_the_probes_names_stand_apart(name):
    points = measuring_points(circuits()[name])
    for point in points.values():
        if probes(point):
            drawn = meter_picture(circuits()[name], point, "", "red", "red")
            red, black = sorted(
                (by_words(drawn, f"{each} probe") for each in ("red", "black")), key=lambda each: each.left
            )
            assert red.right < black.left or abs(red.top - black.top) > 10


def test_without_a_timer_a_hand_feeds_the_coil():
    point = measuring_points(BY_HAND)["coil ohms"]
    drawn = meter_picture(BY_HAND, point, "290 Ω", "red", "none")
    assert by_words(drawn, "plus +, switched by hand")
    assert not groups(drawn, "timer")
    assert not groups(drawn, "reed")
    assert groups(drawn, "coil")


def test_a_hand_switch_has_no_board():
    plain = circuits()["resistor"]
    drawn = meter_picture(plain, measuring_points(plain)["pair, red"], "", "red", "red")
    assert not groups(drawn, "coil")


def rows(count):
    return [ReadingRow(f"point {n}", f"{n} V", "1 V to 2 V", (True, False, None)[n % 3]) for n in range(count)]


def test_the_table_marks_by_a_sign_what_does_not_fit():
    drawn = readings_table(rows(3), seen={"red": "none", "green": "green"})
    assert [each for each in words(drawn) if each[0] in "✔✘"] == [
        "✘ red is dark, green is dark",
        "✔ red is dark, green is on",
        "✔ 0 V",
        "✘ 1 V",
    ]
    assert "point 1 reads 1 V, not as it should" in drawn.sentence


def test_of_many_readings_the_last_ones_are_shown():
    drawn = readings_table(rows(9), most=4)
    assert len(groups(drawn, "row")) == 4
    assert "Readings (the last 4 of 9)" in words(drawn)
    assert "point 0 reads 0 V" in drawn.sentence


def test_an_empty_table_says_so():
    assert readings_table([]).sentence == "Nothing has been read yet."


@pytest.fixture(scope="module")
def result():
    return diagnose(SIGNAL, {"red": "none", "green": "green"}, {"pair, red": "12 V"}, draws=300)


def test_each_bar_has_its_number_and_its_word_and_all_others_are_counted(result):
    picture = ranking(result, most=2)
    for suspect in result.suspects[:2]:
        expected = f"{chance_number(suspect.probability)}, {chance_words(suspect.probability)}"
        assert expected in words(picture)
    assert f"all {sum(len(each.faults) for each in result.suspects[2:])} others together" in words(picture)
    assert result.suspects[0].name in picture.sentence
    alike = diagnose(SIGNAL, draws=300)
    assert not any("others together" in each for each in words(ranking(alike, most=len(alike.suspects))))


def test_where_nothing_fits_the_nearest_is_named_and_no_bar_says_that_it_is_likely(result):
    assert result.suspects[0].probability > 0.9
    picture = ranking(dataclasses.replace(result, fits=False))
    assert {"Nothing fits well. The nearest is:", "does not fit"} <= set(words(picture))
    assert picture.sentence.startswith("Nothing in the catalogue fits well.")
    assert "likely" not in picture.sentence  # no number is a likelihood where nothing fits
    assert "%" not in " ".join([*words(picture), picture.sentence])


@pytest.mark.parametrize(
    ("probability", "number", "said"),
    [
        (0.999, "over 99 %", "very likely"),
        (1.0, "over 99 %", "very likely"),
        (0.7, "70 %", "likely"),
        (0.3, "30 %", "quite possible"),
        (0.06, "6 %", "possible"),
        (0.012, "1 %", "unlikely"),
        (0.0, "under 1 %", "hardly"),
    ],
)
def test_a_probability_is_never_zero_or_certain(probability, number, said):
    assert chance_number(probability) == number
    assert chance_words(probability) == said
