"""How far the current wanders: published currents, corners against hand sums, and the seeded random study."""

import contextlib

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.findings import FINE, LOOK
from sigcalc.design.lamp.resistor_spread import ASSUMED, current_spread, findings, random_study
from sigcalc.errors import RangeError, SigcalcError, UnitError
from sigcalc.parts.led import ConstantDrop, Led, leds
from sigcalc.units import Q


def led(drop, most="100 mA", **more):
    return Led("lamp", "red", ConstantDrop(drop), most, **more)


def milliamperes(quantity):
    return quantity.to("mA").magnitude


@pytest.mark.parametrize(
    ("supply", "drop", "resistance", "expected", "half_digit"),
    [
        # Kuphaldt, Lessons in Electric Circuits VI ch. 8: 18.5, 33 and 56 mA, printed rounded
        pytest.param("3 V", "2.5 V", "27 ohm", 18.5, 0.05, id="Kuphaldt VI ch. 8: 18.5 mA"),
        pytest.param("3 V", "2.1 V", "27 ohm", 33, 0.5, id="Kuphaldt VI ch. 8: 33 mA"),
        pytest.param("3 V", "1.5 V", "27 ohm", 56, 0.5, id="Kuphaldt VI ch. 8: 56 mA"),
        pytest.param("9 V", "2 V", "470 ohm", 14.9, 0.05, id="Malvino, Electronic Principles, Example 5-13: 14.9 mA"),
        pytest.param(
            "15 V", "2 V", "2.2 kohm", 5.91, 0.005, id="Mehta, Principles of Electronics, Example 7.2: 5.91 mA"
        ),
        pytest.param("24 V", "2 V", "2.2 kohm", 10, 0.5, id="Schultz, Grob's Basic Electronics, Example 27-8: 10 mA"),
    ],
)
def test_published_currents(supply, drop, resistance, expected, half_digit):
    assert milliamperes(current_spread(supply, led(drop), resistance).current) == pytest.approx(
        expected, abs=half_digit
    )


def test_corners_by_hand():
    spread = current_spread("9 V", led("2 V", drop_below="0.2 V", drop_above="0.4 V"), "700 ohm", "10 %", "5 %")
    assert milliamperes(spread.current) == pytest.approx(10)
    assert milliamperes(spread.current_min) == pytest.approx(1e3 * (8.55 - 2.4) / 770)
    assert milliamperes(spread.current_max) == pytest.approx(1e3 * (9.45 - 1.8) / 630)
    assert spread.power.to("W").magnitude == pytest.approx((9.45 - 1.8) ** 2 / 630)


def test_a_string_at_its_corners():
    lamp = led("2 V", drop_below="0.1 V", drop_above="0.3 V")
    spread = current_spread("9 V", [lamp, lamp], "500 ohm", 0.0)
    assert milliamperes(spread.current_min) == pytest.approx((9 - 4.6) / 0.5)
    assert milliamperes(spread.current_max) == pytest.approx((9 - 3.8) / 0.5)


def test_below_the_drop_next_to_nothing_flows():
    assert milliamperes(current_spread("1.5 V", led("2 V"), "470 ohm").current_max) == 0
    assert 0 < milliamperes(current_spread("1.2 V", leds["green gap 3 mm"], "470 ohm").current) < 0.01


def test_the_random_study_is_repeatable():
    one, again, other = (random_study("9 V", leds["red gaasp 3 mm"], "680 ohm", seed=seed) for seed in (7, 7, 8))
    assert one == again
    assert one.median != other.median
    assert one.assumed == ASSUMED
    assert random_study("9 V", leds["red gaasp 3 mm"], "680 ohm").seed == 1


def test_the_distributions_are_those_named():
    # one at a time; percentiles of the uniform and of the triangular distribution by hand
    supply = random_study("9 V", led("2 V"), "700 ohm", 0.0, 0.1, draws=100_000)
    assert milliamperes(supply.percentile_95) == pytest.approx((9 * (1 + 0.1 * 0.9) - 2) / 0.7, rel=2e-3)
    resistor = random_study("9 V", led("2 V"), "700 ohm", 0.1, draws=100_000)
    assert milliamperes(resistor.percentile_5) == pytest.approx(7 / (0.7 * (1 + 0.1 * 0.9)), rel=2e-3)
    lamp = random_study("9 V", led("2 V", drop_below="0.5 V", drop_above="1 V"), "700 ohm", 0.0, draws=100_000)
    # 5 of 100 lie above 1 - sqrt(2 * 0.05) of the way to the most drop
    assert milliamperes(lamp.percentile_5) == pytest.approx((7 - 1 * (1 - np.sqrt(0.1))) / 0.7, rel=2e-3)
    assert milliamperes(lamp.percentile_95) == pytest.approx((7 + 0.5 * (1 - np.sqrt(0.1))) / 0.7, rel=2e-3)


def test_the_share_over_a_limit():
    study = random_study("9 V", led("2 V"), "700 ohm", 0.1, limit="10 mA", draws=100_000)
    assert study.share_over == pytest.approx(0.5, abs=0.01)  # half of all resistors lie below their nominal value
    assert random_study("9 V", led("2 V", "10.5 mA"), "700 ohm", 0.1).limit == Q("10.5 mA")
    assert random_study("9 V", led("2 V"), "700 ohm", 0.1).share_over == 0


lamps = st.sampled_from(["red alingap 3 mm", "red gaasp 3 mm", "green gap 3 mm", "white 3 mm"])


@given(st.floats(4, 24), lamps, st.floats(100, 1e5), st.floats(0, 0.2), st.floats(0, 0.2))
def test_random_parts_stay_between_the_corners(supply, name, resistance, tolerance, supply_tolerance):
    parts = (Q(supply, "V"), leds[name], Q(resistance, "ohm"), tolerance, supply_tolerance)
    spread, study = current_spread(*parts), random_study(*parts, draws=200)
    edges = [spread.current_min, study.percentile_5, study.median, study.percentile_95, spread.current_max]
    values = [each.magnitude for each in edges]
    assert np.all(np.diff(values) >= -1e-12 * values[-1])


@given(st.floats(0, 24), lamps, st.floats(1, 1e6), st.floats(0, 0.2))
def test_a_wider_tolerance_never_narrows_the_band(supply, name, resistance, tolerance):
    narrow, wide = (
        current_spread(Q(supply, "V"), leds[name], Q(resistance, "ohm"), each).si for each in (tolerance / 2, tolerance)
    )
    assert wide.current_min <= narrow.current_min * (1 + 1e-12)
    assert wide.current_max >= narrow.current_max * (1 - 1e-12)


def test_findings():
    (often,) = findings(random_study("9 V", led("2 V"), "700 ohm", 0.1, limit="10 mA"))
    assert often.grade == LOOK
    assert "of 10000 sets pass 10 mA" in often.reason
    (never,) = findings(random_study("9 V", led("2 V"), "700 ohm", 0.1))
    assert never.grade == FINE


@pytest.mark.parametrize(
    ("arguments", "kind", "said"),
    [
        ({"resistance": "0 ohm"}, RangeError, "resistance needs to be above 0 ohm"),
        ({"tolerance": 0.6}, RangeError, "need to be 50 % at most, but 60 % came"),
        ({"seed": 1.5}, RangeError, r"seed needs to be a whole number from 0 up, but 1\.5 came"),
        ({"seed": -1}, RangeError, "seed needs to be"),
        ({"seed": "x" * 1000}, RangeError, "seed needs to be .* but 'x{30,60}…' came"),
        ({"seed": True}, RangeError, "seed needs to be"),
        ({"draws": 10}, RangeError, "draws needs a number of draws from"),
        ({"draws": 100.5}, RangeError, "draws needs to be a whole number"),
        ({"led": None}, UnitError, "led needs an Led"),
        ({"supply": None}, UnitError, "supply needs a supply voltage"),
    ],
)
def test_what_is_refused(arguments, kind, said):
    with pytest.raises(kind, match=said):
        random_study(**{"supply": "9 V", "led": led("2 V"), "resistance": "470 ohm"} | arguments)


@given(
    st.floats(-30, 70), st.floats(0, 1e10), st.floats(), st.floats(), st.one_of(st.none(), st.floats()), st.integers()
)
def test_anything_gives_a_study_or_a_refusal(supply, resistance, tolerance, supply_tolerance, limit, seed):
    with contextlib.suppress(SigcalcError):
        study = random_study(
            Q(supply, "V"),
            leds["green gap 3 mm"],
            Q(resistance, "ohm"),
            tolerance,
            supply_tolerance,
            None if limit is None else Q(limit, "A"),
            100,
            seed,
        )
        assert np.isfinite(study.si.median)
        assert 0 <= study.share_over <= 1
