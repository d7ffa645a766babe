"""Power ratings of resistors against makers' figures, and the choice among them."""

import contextlib

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.errors import RangeError, SigcalcError, UnitError, UnknownNameError
from sigcalc.parts.resistor import ResistorRating, derated_power, rating_for, resistor_ratings
from sigcalc.units import Q

NAMES = ("1/8 W", "1/4 W", "1/2 W", "1 W", "2 W")


def test_the_ratings_rise():
    assert tuple(resistor_ratings) == NAMES
    powers = [rating.power for rating in resistor_ratings.values()]
    assert powers == sorted(powers)


# Yageo CFR: full to 70 degC, half at 112.5 degC, none at 155 degC; a straight line between
@pytest.mark.parametrize(
    ("ambient", "share"), [("25 degC", 1), ("70 degC", 1), ("112.5 degC", 0.5), ("155 degC", 0), ("-40 degC", 1)]
)
@pytest.mark.parametrize("name", NAMES)
def test_published_derating(name, ambient, share):
    expected = share * resistor_ratings[name].power.magnitude
    assert derated_power(name, ambient).to("W").magnitude == pytest.approx(expected, abs=1e-12)


def test_derating_of_many_temperatures():
    powers = derated_power(resistor_ratings["1 W"], Q([20.0, 87.0, 104.0], "degC"))
    assert powers.to("W").magnitude == pytest.approx([1.0, 0.8, 0.6])


@pytest.mark.parametrize(  # common practice, no source: twice the worst case at least
    ("power", "name"),
    [("62.5 mW", "1/8 W"), ("62.6 mW", "1/4 W"), ("109 mW", "1/4 W"), ("1 W", "2 W"), ("0 W", "1/8 W")],
)
def test_twice_the_worst_case(power, name):
    assert rating_for(power).name == name


def test_warmth_asks_for_more():
    assert rating_for("100 mW", "25 degC").name == "1/4 W"
    assert rating_for("100 mW", "112.5 degC").name == "1/2 W"


def test_voltage_asks_for_more():
    assert rating_for("10 mW", voltage="150 V").name == "1/8 W"
    assert rating_for("10 mW", voltage="151 V").name == "1/4 W"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (
            {"power": "1.1 W"},
            "needs a rating of 2.2 W at 25 °C .* bears 2 W there; share it between 2 equal resistors in ser",
        ),
        ({"power": "5 W"}, "between 5 equal resistors in series, or take a lower current"),
        ({"power": "1 mW", "ambient": "155 degC"}, "ambient 155 °C leaves a resistor no power at all"),
        ({"power": "1 mW", "voltage": "600 V"}, "voltage 600 V is above the 500 V .* put two in series"),
        ({"power": "1 W", "margin": 0.5}, "margin needs a margin from"),
    ],
)
def test_beyond_the_table(arguments, said):
    with pytest.raises(RangeError, match=said):
        rating_for(**arguments)


def test_the_advice_on_sharing_works():
    assert rating_for("1 W").power >= 2 * Q("1 W")
    with pytest.raises(RangeError, match="between 3 equal"):
        rating_for("2.4 W")
    assert rating_for(Q("2.4 W") / 3).name == "2 W"


def test_unknown_rating():
    with pytest.raises(UnknownNameError, match=r"rating '1/3 W' is not known; use one of: .*'1/8 W'"):
        derated_power("1/3 W", "25 degC")
    with pytest.raises(UnitError, match='for example "250 mW"'):
        rating_for(0.1)


def test_a_rating_of_the_builders_own():
    own = ResistorRating("5 W ceramic", "5 W", "25 degC", "150 degC", "350 V")
    assert derated_power(own, "87.5 degC").to("W").magnitude == pytest.approx(2.5)
    with pytest.raises(RangeError, match="zero_at of odd needs to be above derate_from, 70 °C, but 60 °C came"):
        ResistorRating("odd", "1 W", "70 degC", "60 degC", "250 V")


@given(st.floats(0, 1e3), st.floats(-80, 200), st.floats())
def test_a_rating_that_bears_it_or_a_refusal(power, ambient, margin):
    with contextlib.suppress(SigcalcError):
        rating = rating_for(Q(power, "W"), Q(ambient, "degC"), margin)
        assert derated_power(rating, Q(ambient, "degC")).magnitude >= margin * power * (1 - 1e-9)
        smaller = [each for each in resistor_ratings.values() if each.power < rating.power]
        assert all(each.power_at(ambient + 273.15) < margin * power for each in smaller)


@given(st.lists(st.floats(-55, 155), min_size=2, max_size=20))
def test_warmer_never_bears_more(ambients):
    powers = derated_power("1/2 W", Q(sorted(ambients), "degC")).magnitude
    assert np.all(np.diff(powers) <= 0)
    assert np.all(powers >= 0)
