"""The board below a signal's circuit: coil, timer, reed and pot, and the probes on them."""

import dataclasses

import pytest

from sigcalc.design.bench.reading import measuring_points
from sigcalc.views import meter_board
from sigcalc.views.meter import meter_picture, probes
from tests.design.bench.circuits import circuits
from tests.views.svg import by_words, groups

TIMED = circuits()["one-shot"]
BY_HAND = dataclasses.replace(TIMED, timer=None)
POINTS = measuring_points(TIMED)
ON_BOARD = [name for name, point in POINTS.items() if point.place in meter_board.PROBES]


def test_every_point_of_coil_timer_and_reed_is_on_the_board():
    assert {POINTS[name].place for name in ON_BOARD} == set(meter_board.PROBES)
    assert [name for name in POINTS if not probes(POINTS[name])] == ["hold"]


@pytest.mark.parametrize("name", ON_BOARD)
def test_both_probes_stand_at_their_letters(name):
    drawn = meter_picture(TIMED, POINTS[name], "1 V", "red", "red")
    for probe, letter in zip(("red", "black"), probes(POINTS[name]).split(" to "), strict=True):
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
