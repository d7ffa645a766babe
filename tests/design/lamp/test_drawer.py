"""Choosing from the builder's own drawer, against a plain search through all combinations."""

import contextlib
import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.lamp.drawer import choose_from_drawer
from sigcalc.errors import DesignError, RangeError
from sigcalc.parts.led import ConstantDrop, Led, leds
from sigcalc.units import Q
from tests.refusals import wishes_refused

lamp = Led("lamp", "red", ConstantDrop("2 V"), "50 mA")
strong = Led("lamp", "red", ConstantDrop("2 V"), "1 A")


def ohms(quantity):
    return quantity.to("ohm").magnitude


def test_a_single_one_that_fits_comes_first():
    best = choose_from_drawer("9 V", lamp, "10 mA", ["330 ohm", "350 ohm", "700 ohm", "1 kohm", "1400 ohm"])
    assert [each.arrangement for each in best[:3]] == ["single", "in series", "in parallel"]
    assert [ohms(each.resistance) for each in best[:3]] == pytest.approx([700, 700, 700])
    assert best[0].second is best[0].second_rating is None


def test_two_in_series_or_in_parallel_share_the_heat():
    (best,) = choose_from_drawer("9 V", lamp, "10 mA", ["470 ohm", "270 ohm", "10 kohm"], count=1)
    assert best.arrangement == "in series"
    assert (ohms(best.first), ohms(best.second)) == (470, 270)
    assert best.current.to("mA").magnitude == pytest.approx(7000 / 740)
    assert best.first_power / best.power == pytest.approx(470 / 740)
    assert "740 Ω together: 9.46 mA and 66.2 mW of heat, 63.5 % of it in the 470 Ω" in str(best)
    (best,) = choose_from_drawer("9 V", lamp, "10 mA", ["1 kohm", "2.7 kohm"], count=1)
    assert best.arrangement == "in parallel"
    assert (ohms(best.first), ohms(best.second)) == (1000, 2700)  # the smaller one gets hotter
    assert best.first_power.to("mW").magnitude == pytest.approx(49)
    assert best.power.to("mW").magnitude == pytest.approx(49 + 49 / 2.7)


def test_the_band_and_the_ratings_span_both_tolerances():
    (best,) = choose_from_drawer("9 V", lamp, "10 mA", ["470 ohm", "270 ohm"], tolerance="10 %", count=1)
    assert best.current_min.to("mA").magnitude == pytest.approx(7000 / 814)
    assert best.current_max.to("mA").magnitude == pytest.approx(7000 / 666)
    assert [best.si.worst_min, best.si.worst_max] == pytest.approx([best.si.current_min, best.si.current_max])
    (wide,) = choose_from_drawer("9 V", lamp, "10 mA", ["470 ohm", "270 ohm"], "10 %", "5 %", count=1)
    assert wide.worst_max.to("mA").magnitude == pytest.approx(7450 / 666)

    (warm,) = choose_from_drawer("9 V", lamp, "20 mA", ["470 ohm"], tolerance="10 %", count=1)
    assert warm.power.to("mW").magnitude == pytest.approx(49e3 / 470)  # twice that is borne by 1/4 W
    assert 2 * 49e3 / 423 < 250
    assert warm.first_rating == Q("250 mW")
    (hot,) = choose_from_drawer("9 V", lamp, "20 mA", ["400 ohm"], tolerance="10 %", count=1)
    assert 2 * 49e3 / 400 < 250 < 2 * 49e3 / 360  # nominally 1/4 W would do
    assert hot.first_rating == Q("500 mW")


values = st.lists(st.sampled_from([10, 47, 100, 220, 330, 470, 680, 1000, 2200, 4700, 10000]), min_size=1, max_size=6)


@given(values, st.floats(4, 24), st.floats(1, 20))
def test_the_best_of_a_plain_search(drawer, supply, current):
    exact = (supply - 2) / (current * 1e-3)
    pairs = list(itertools.combinations_with_replacement(drawer, 2))
    totals = [*drawer, *(a + b for a, b in pairs), *(a * b / (a + b) for a, b in pairs)]
    enough = [total for total in totals if total >= exact * (1 - 1e-9)]
    asked = (Q(supply, "V"), lamp, Q(current, "mA"), Q(np.array(drawer, float), "ohm"))
    if not enough:
        with pytest.raises(DesignError, match=r"drawer reaches .* or more is needed; add"):
            choose_from_drawer(*asked)
        return
    found = choose_from_drawer(*asked)
    assert ohms(found[0].resistance) == pytest.approx(min(enough))
    flows = [each.current.to("mA").magnitude for each in found]
    assert flows[0] <= current * (1 + 1e-9)
    assert np.all(np.diff(flows) <= 1e-9)


@given(values, st.floats(4, 24), st.sampled_from(["bright red 3 mm", "ordinary green 3 mm", "white 3 mm"]))
def test_voltages_and_powers_balance(drawer, supply, name):
    with contextlib.suppress(DesignError):
        for each in choose_from_drawer(Q(supply, "V"), leds[name], "10 mA", Q(np.array(drawer, float), "ohm")):
            taken = each.current * each.resistance + leds[name].voltage(each.current)
            assert taken.to("V").magnitude == pytest.approx(supply, rel=1e-9)
            assert each.si.power == pytest.approx(each.si.current**2 * each.si.resistance)
            assert each.si.power / 2 * (1 - 1e-12) <= each.si.first_power <= each.si.power
            assert each.si.first_rating >= 2 * each.si.first_power * (1 - 1e-9)


def test_a_single_one_too_hot_gives_way_to_two_that_share():
    # 4.4 W in 110 ohm: no usual resistor bears twice that, nor two of 55 ohm
    with pytest.raises(RangeError, match="largest usual resistor has 2 W"):
        choose_from_drawer("24 V", strong, "200 mA", ["110 ohm", "55 ohm"])
    best = choose_from_drawer("14 V", strong, "100 mA", ["120 ohm", "60 ohm"])  # 1.2 W alone, 0.6 W each of two
    assert {each.arrangement for each in best} == {"in series"}
    assert (ohms(best[0].first), ohms(best[0].second)) == (60, 60)


test_what_is_refused = wishes_refused(
    choose_from_drawer,
    {"supply": "9 V", "led": lamp, "current": "10 mA", "drawer": ["470 ohm"]},
    ({"drawer": []}, "drawer needs a resistance"),
    ({"drawer": ["470 ohm", "0 ohm"]}, "drawer needs a resistance from 0.001 Ω"),
    ({"drawer": Q(np.arange(1.0, 1100), "ohm")}, "drawer needs 1000 values at most; you gave 1099"),
    ({"drawer": ["220 ohm", "100 ohm"]}, "reaches 440 Ω with two .*, and 700 Ω or more is needed; add 820 Ω"),
    ({"supply": "1.5 V"}, "nothing would light; use at least 2.5 V"),
    ({"current": "60 mA"}, "at most 50 mA"),
    ({"count": 0}, "count needs a whole number from 1"),
)
