"""Preferred values and power ratings: published tables, another program, their own definitions."""

import contextlib

import eseries
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.errors import RangeError, SigcalcError, UnknownNameError
from sigcalc.parts.resistor import (
    ResistorRating,
    at_least,
    at_most,
    nearest,
    preferred_values,
    rating_for,
    rating_name,
    resistor_ratings,
    series_tolerance,
)
from sigcalc.units import Q

SERIES = ("E3", "E6", "E12", "E24", "E48", "E96", "E192")
resistances = st.floats(0.01, 1e8)
series = st.sampled_from(SERIES)

# technick.net/guides/electronics/standard_resistors_table, two digits, exact
PUBLISHED = {
    "E6": (1.0, 1.5, 2.2, 3.3, 4.7, 6.8),
    "E12": (1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2),
    "E24": (
        *(1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0),
        *(3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1),
    ),
}


@pytest.mark.parametrize("name", PUBLISHED)
def test_published_decades(name):
    assert preferred_values(name) == PUBLISHED[name]


def test_published_rules_of_the_close_series():
    for name, count in (
        ("E48", 48),
        ("E96", 96),
    ):  # technick.net (the same page): 100*10**(i/n) rounded gives every value
        assert preferred_values(name) == tuple(round(100 * 10 ** (i / count)) / 100 for i in range(count))
    # eseries 1.2.1, its own table; values in a range where other packages have slips; 9.2 FROM MEMORY of IEC 60063: the
    # one value of E192 that the rule does not give
    assert {2.91, 2.94, 2.98, 3.01, 9.2} <= set(preferred_values("E192"))
    assert 9.19 not in preferred_values("E192")


@pytest.mark.parametrize("name", SERIES)
def test_decades_and_tolerances_equal_another_program(name):
    theirs = eseries.series(eseries.ESeries[name])
    assert [value * 10 if theirs[0] == 10 else value * 100 for value in preferred_values(name)] == pytest.approx(theirs)
    assert series_tolerance(name) == eseries.tolerance(eseries.ESeries[name])


def test_published_neighbours():
    # eseries 1.2.1, find_nearest and find_greater_than_or_equal, exact
    found = nearest(318, "E24"), at_least(331, "E24"), nearest(18800, "E96")
    assert str(found) == "(330.0, 360.0, 18700.0)"  # plain floats, which read the same in a text


@given(resistances, series)
def test_neighbours_equal_another_program(value, name):
    key = eseries.ESeries[name]
    assert at_least(value, name) == pytest.approx(
        eseries.find_greater_than_or_equal(key, value * (1 - 1e-9)), rel=1e-12
    )
    assert at_most(value, name) == pytest.approx(eseries.find_less_than_or_equal(key, value * (1 + 1e-9)), rel=1e-12)


@given(resistances, series)
def test_neighbours_enclose_the_value(value, name):
    low, near, high = at_most(value, name), nearest(value, name), at_least(value, name)
    assert low * (1 - 1e-9) <= value <= high * (1 + 1e-9)
    assert near in (low, high)
    assert max(near / value, value / near) == pytest.approx(min(value / low, high / value), rel=1e-8)


@given(series, st.integers(-2, 7), st.data())
def test_a_preferred_value_is_its_own_neighbour_and_a_sum_that_is_a_hair_over_keeps_it(name, power, data):
    digits = data.draw(st.sampled_from(preferred_values(name)))
    value = float(f"{digits}e{power}")
    for noise in (1.0, 1 + 3e-16, 1 - 3e-16):
        assert at_least(value * noise, name) == at_most(value * noise, name) == nearest(value * noise, name) == value
    assert at_least((11 - 1.7) / 0.015, "E24") == 620.0  # in floats 620.0000000000001


@given(st.lists(resistances, min_size=1, max_size=20), series)
def test_an_array_is_its_elements(values, name):
    assert nearest(np.array(values), name).tolist() == [nearest(value, name) for value in values]


# ---- power ratings

NAMES = ("1/8 W", "1/4 W", "1/2 W", "1 W", "2 W")


def test_the_ratings_rise_and_are_named():
    assert tuple(resistor_ratings) == NAMES
    assert [rating.si.power for rating in resistor_ratings.values()] == [0.125, 0.25, 0.5, 1, 2]
    assert (rating_name(0.25), rating_name(3.0)) == ("1/4 W", "3 W")


@pytest.mark.parametrize("name", NAMES)
def test_published_derating(name):
    # Yageo CFR: full to 70 degC, half at 112.5 degC, none at 155 degC; a straight line between
    rating, ambient = resistor_ratings[name], 273.15 + np.array([-40, 25, 70, 112.5, 155])
    assert rating.power_at(ambient) == pytest.approx(rating.si.power * np.array([1, 1, 1, 0.5, 0]), abs=1e-12)


def test_twice_the_worst_case_in_warm_air_and_at_high_voltage():
    # twice the worst case at least: common practice, no source
    wanted = {"62.5 mW": "1/8 W", "62.6 mW": "1/4 W", "109 mW": "1/4 W", "1 W": "2 W", "0 W": "1/8 W"}
    assert {power: rating_for(power).name for power in wanted} == wanted
    assert rating_for("100 mW", ambient="112.5 degC").name == "1/2 W"
    assert [rating_for("10 mW", voltage=each).name for each in ("150 V", "151 V")] == ["1/8 W", "1/4 W"]


def test_the_advice_on_sharing_works_and_a_rating_may_be_the_builders_own():
    with pytest.raises(RangeError, match="between 3 equal"):
        rating_for("2.4 W")
    assert rating_for(Q("2.4 W") / 3).name == "2 W"
    own = ResistorRating("5 W ceramic", "5 W", "25 degC", "150 degC", "350 V")
    assert own.power_at(273.15 + np.array([87.5, 200])) == pytest.approx([2.5, 0])


@pytest.mark.parametrize(
    ("call", "kind", "said"),
    [
        (lambda: preferred_values("E25"), UnknownNameError, "not known; use one of: E3, E6, E12, E24, E48, E96, E192"),
        (lambda: preferred_values(["E12"]), UnknownNameError, "is not known; use one of"),
        (lambda: at_least([470.0, 0.0], "E12"), RangeError, "give a resistance above zero"),
        (lambda: at_least(1e13, "E12"), RangeError, "give a resistance above zero"),
        (lambda: rating_for("1.1 W"), RangeError, "rating of 2.2 W at 25 °C .* 2 W there; share it between 2 equal"),
        (lambda: rating_for("5 W"), RangeError, "between 5 equal resistors in series, or use a lower current"),
        (lambda: rating_for("1 mW", "155 degC"), RangeError, "ambient 155 °C leaves a resistor no power at all"),
        (lambda: rating_for("1 mW", voltage="600 V"), RangeError, "600 V is above the 500 V .* put two in series"),
        (
            lambda: ResistorRating("odd", "1 W", "70 degC", "60 degC", "250 V"),
            RangeError,
            "zero_at needs to be above derate_from, 70 °C; you gave 60 °C",
        ),
    ],
)
def test_what_is_refused(call, kind, said):
    with pytest.raises(kind, match=said):
        call()


@given(st.floats(0, 1e3), st.floats(-80, 200))
def test_the_smallest_rating_that_is_enough_or_a_refusal(power, ambient):
    with contextlib.suppress(SigcalcError):
        rating = rating_for(Q(power, "W"), Q(ambient, "degC"))
        assert rating.power_at(ambient + 273.15) >= 2 * power * (1 - 1e-9)
        smaller = [each for each in resistor_ratings.values() if each.power < rating.power]
        assert all(each.power_at(ambient + 273.15) < 2 * power for each in smaller)
