"""Power ratings of resistors against makers' figures, and the choice among them."""

import contextlib
import dataclasses

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.errors import RangeError, SigcalcError, UnitError, UnknownNameError
from sigcalc.parts.resistor import USUAL_MARGIN, ResistorRating, derated_power, rating_for, resistor_ratings
from sigcalc.units import Q

NAMES = ("1/8 W", "1/4 W", "1/2 W", "1 W", "2 W")


def test_the_ratings_rise():
    assert tuple(resistor_ratings) == NAMES
    powers = [rating.power for rating in resistor_ratings.values()]
    assert powers == sorted(powers)


# Yageo CFR carbon film, xonelec.com/mpn/yageo/cfr50jr5210r
# Chianchia MF1/4W metal film, xonelec.com/mpn/chianchia/mf1w621
def test_published_quarter_watt():
    rating = resistor_ratings["1/4 W"]
    assert rating.power == Q("0.25 W")
    assert rating.max_voltage == Q("250 V")
    assert rating.derate_from.to("degC").magnitude == pytest.approx(70)
    assert rating.zero_at.to("degC").magnitude == pytest.approx(155)


# Yageo CFR-12, the same sheet: 0.1667 W and 150 V; ours keeps to the printed 1/8 W, which is less
def test_published_eighth_watt():
    rating = resistor_ratings["1/8 W"]
    assert rating.power <= Q("0.1667 W")
    assert rating.max_voltage == Q("150 V")


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


# Kuphaldt, Lessons in Electric Circuits Vol. III, ch. 3: 24 V, LED of 1.6 V at 20 mA, 448 mW in the resistor
def test_published_448_mw_rejects_eighth_and_quarter_watt():
    rating = rating_for("448 mW", margin=1)
    assert rating.power > Q("250 mW")
    assert rating.name == "1/2 W"
    assert rating_for("448 mW").name == "1 W"


# PWR04: NASA EEE-INST-002, table 4, fixed film, as quoted in github.com/LieBtrau/electronics-design-data (a notebook):
# 0.6 of the power, 0.8 of the voltage, on a line from 70 degC down to none at 118 degC
NASA_POWER, NASA_VOLTAGE, NASA_FROM, NASA_TO = 0.6, 0.8, 70.0, 118.0


@pytest.mark.parametrize("name", NAMES)
def test_published_space_derating_as_a_record(name):
    plain = resistor_ratings[name]
    strict = dataclasses.replace(
        plain,
        power=NASA_POWER * plain.power,
        max_voltage=NASA_VOLTAGE * plain.max_voltage,
        derate_from=Q(NASA_FROM, "degC"),
        zero_at=Q(NASA_TO, "degC"),
    )
    for celsius, share in ((70, 0.6), (94, 0.3), (118, 0.0)):
        bears = derated_power(strict, Q(float(celsius), "degC"))
        assert bears.m_as("W") == pytest.approx(share * plain.power.m_as("W"), abs=1e-12)
    # extra-low voltage stays within 0.8 of what any size bears
    assert strict.max_voltage > Q("60 V")


def test_twice_the_power_is_stricter_than_that_as_long_as_it_is_not_hot():
    celsius = np.arange(25.0, 156.0)
    ours = derated_power("1/4 W", Q(celsius, "degC")).m_as("W") / USUAL_MARGIN
    strict = 0.25 * NASA_POWER * np.clip((NASA_TO - celsius) / (NASA_TO - NASA_FROM), 0.0, 1.0)
    assert (ours <= strict)[celsius <= 85].all()
    assert (ours > strict)[(celsius > 86) & (celsius < 155)].all()  # there the parts' own line is followed


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
    with pytest.raises(UnitError, match='write power="250 mW"'):
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
