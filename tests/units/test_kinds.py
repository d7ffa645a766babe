"""Kinds and the door: the right dimension, the plausible range, and a sentence that says what to give."""

import contextlib
import math
from decimal import Decimal
from fractions import Fraction
from functools import partial

import numpy as np
import pint
import pydantic
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc import units
from sigcalc.errors import RangeError, SigcalcError, UnitError
from sigcalc.units import (
    AmpereTurns,
    Area,
    Charge,
    Count,
    Current,
    FluxDensity,
    Hours,
    Length,
    Power,
    Q,
    Ratio,
    RemanenceCoefficient,
    Resistance,
    Speed,
    SupplyVoltage,
    Temperature,
    TemperatureCoefficient,
    Time,
    Voltage,
    Wavelength,
    kind_of,
    registry,
    with_units,
)
from sigcalc.units.plain import is_number, need_mapping, need_plain, need_whole
from tests.refusals import refused

foreign = pint.UnitRegistry()
KINDS = {name: kind for name, held in vars(units).items() if (kind := kind_of(held))}


def voltage(value, **options):
    return kind_of(Voltage).read(value, "supply", **options)


def temperature(value):
    return kind_of(Temperature).read(value, "ambient")


def tolerance(value):
    return kind_of(Ratio).read(value, "tolerance")


@pytest.mark.parametrize("name", KINDS)
def test_each_kind_reads_its_own_example(name):
    kind = KINDS[name]
    si = kind.read(kind.example, "argument")
    assert kind.low <= si <= kind.high
    assert kind.read(kind.quantity(si), "argument") == pytest.approx(si)


@pytest.mark.parametrize("name", KINDS)
def test_each_kind_holds_the_ends_of_its_range_and_nothing_beyond(name):
    kind = KINDS[name]
    for end in (kind.low, kind.high):
        kind.check(end, "argument")
    beyond = 1e-3 * (kind.high - kind.low)
    for outside in (kind.low - beyond, kind.high + beyond, np.array([kind.low, kind.high + beyond])):
        with pytest.raises(RangeError, match=r"^argument needs an? .* from .* to .*; you gave"):
            kind.check(outside, "argument")


TEXT_TO_SI = [
    *((Voltage, "9 V", 9.0), (Current, "20 mA", 0.02), (Resistance, "4k7", 4700.0), (Length, "1/8 in", 0.003175)),
    *((Area, "0.129 mm2", 0.129e-6), (Time, "3 h", 10800.0), (Temperature, "27 degC", 300.15)),
    *((Temperature, "80.6 °F", 300.15), (TemperatureCoefficient, "-1.7 mV/K", -1.7e-3), (Wavelength, "625 nm", 625e-9)),
    *((Charge, "550 mAh", 0.55), (Ratio, "5 %", 0.05), (Ratio, 0.05, 0.05), (Count, 2, 2.0)),
    *((Speed, "60 mph", 26.8224), (FluxDensity, "2 mT", 2e-3), (AmpereTurns, "15 AT", 15.0)),
    (RemanenceCoefficient, "-0.12 %/K", -0.12),
]


@pytest.mark.parametrize(("kind", "text", "si"), TEXT_TO_SI)
def test_text_to_si(kind, text, si):
    assert kind_of(kind).read(text, "argument") == pytest.approx(si, rel=1e-12)


def test_lists_and_arrays():
    assert voltage(["9 V", Q(12, "V")]).tolist() == [9.0, 12.0]
    assert voltage(Q([[1, 2], [3, 4]], "V")).shape == (2, 2)
    assert tolerance([0.05, 0.1]).tolist() == [0.05, 0.1]
    assert tolerance(["5 %", 0.1]).tolist() == tolerance([0.05, Q("10 %")]).tolist() == [0.05, 0.1]
    assert tolerance(np.array([0.05])).tolist() == [0.05]


def refusals(kind, said, *values, scalar=False):
    """Rows for values that a kind refuses with a sentence about the argument."""
    return [(partial(kind_of(kind).read, value, "argument", scalar), f"^argument needs {said}") for value in values]


NAN, NO_NUMBERS = math.nan, (1j, Decimal(9), np.array(["a"]), np.array([1, None]), np.array([]))
test_a_refusal_names_the_argument_what_it_needs_and_what_to_type = refused(
    *refusals(
        *(Voltage, 'a voltage with its unit, for example "9 V"; you gave .+$'),
        *(9, 9.0, True, None, NAN, 9j, Decimal(9), b"9 V", np.ones(2), "9", {}, []),
    ),
    *refusals(
        *(Voltage, 'a voltage, for example "9 V"; you gave .+$', "9 A", "5 %", "27 degC", "1/8 in"),
        *(Q("9 A"), Q(9, ""), Q([1, 2], "mA"), foreign.Quantity(9, "ohm")),
    ),
    *refusals(Voltage, "(finite|at least one)? ?number", *(registry.Quantity(each, "V") for each in NO_NUMBERS)),
    *refusals(Voltage, "finite numbers", *(registry.Quantity(each, "V") for each in (NAN, math.inf, -math.inf))),
    *refusals(Voltage, "one voltage; you gave .*; give a single value", ["9 V", "12 V"], Q([9, 12], "V"), scalar=True),
    *refusals(Voltage, r"""a voltage with .*; you gave '9,5 V'; .* type "9\.5 V"$""", "9,5 V"),
    *refusals(Voltage, '.*"ma" is no unit known here; type for example "9 V"$', "9 ma"),
    *refusals(Current, r'.* type "9 mA" \(milliampere\)$', "9 ma"),
    *refusals(Voltage, "a voltage from -60 V to 60 V, .*; you gave 230 V", "230 V"),
    *refusals(Temperature, "a temperature from -55 °C to 155 °C, .*; you gave 200 °C", "200 degC"),
    *refusals(Temperature, "a temperature, for", *(each.Quantity(5, "delta_degC") for each in (foreign, registry))),
    *refusals(Ratio, "a fraction from 0 % to 100 %, .*; you gave 500 %", 5),
    *refusals(
        *(Ratio, 'a fraction, for example "5 %"; you gave .+$'),
        *(True, None, NAN, 1j, Decimal("0.05"), Fraction(1, 20), np.bool_(True), b"5"),
    ),
    *refusals(Resistance, ".* you gave '10 K'; K alone means kelvin; for kilohms type \"10 kohm\"$", "10 K"),
    *refusals(Power, "finite numbers", registry.Quantity(1e6, "dBm")),
    *refusals(Resistance, '.* (type|as) .*"470 ohm"', "", "9 furlongs", "9**9 ohm", "x" * 200),
)


@pytest.mark.parametrize("registered", [foreign, registry, pint.UnitRegistry(autoconvert_offset_to_baseunit=True)])
def test_quantities_of_any_registry(registered):
    assert voltage(registered.Quantity(9000, "mV")) == pytest.approx(9.0)
    assert voltage(registered.Quantity([1.0, 2.0], "W/A")).tolist() == pytest.approx([1.0, 2.0])
    assert kind_of(Charge).read(registered.Quantity(1980, "coulomb"), "charge") == pytest.approx(0.55)
    assert kind_of(Area).read(registered.Quantity(1, "mm**2"), "area") == pytest.approx(1e-6)
    assert temperature(registered.Quantity(27, "degC")) == pytest.approx(300.15)
    assert temperature(registered.Quantity(80.6, "degF")) == pytest.approx(300.15)
    assert tolerance(registered.Quantity(5, "percent")) == pytest.approx(0.05)
    if registered is not registry:  # a unit that ours does not know counts by its dimension
        registered.define("armlength = 0.7 * meter")
        assert kind_of(Length).read(registered.Quantity(2, "armlength"), "length") == pytest.approx(1.4)


anything = st.one_of(
    *(st.text(max_size=12), st.floats(), st.integers(), st.none(), st.booleans()),
    *(st.binary(max_size=3), st.complex_numbers(), st.decimals()),
    st.lists(st.one_of(st.text(max_size=5), st.floats()), max_size=3),
    st.builds(
        lambda registered, number, unit: registered.Quantity(number, unit),
        *(st.sampled_from([registry, foreign]), st.floats()),
        st.sampled_from(["V", "degC", "degF", "", "m", "dBm", "percent"]),
    ),
)


@given(anything, st.sampled_from(sorted(KINDS)), st.booleans())
def test_anything_gives_a_value_in_range_or_a_refusal(value, name, scalar):
    kind = KINDS[name]
    with contextlib.suppress(SigcalcError):
        si = kind.read(value, "argument", scalar)
        assert np.all(np.isfinite(si))
        kind.check(si, "argument")


def test_a_time_that_people_say_in_hours_is_given_in_hours():
    hours = kind_of(Hours)
    assert hours.read("90 min", "time") == 5400
    assert str(hours.quantity(5400.0)) == "1.5 h"
    assert hours.quantity(5400.0) == kind_of(Time).quantity(5400.0)


class Wish(pydantic.BaseModel):
    supply: Voltage
    tolerance: Ratio = 0.05


def test_pydantic_reads_the_same_vocabulary_and_reports_all_faults_with_our_sentences():
    wish = Wish(supply="9 V", tolerance="10 %")
    assert (wish.supply, wish.tolerance) == (Q("9 V"), 0.1)
    with pytest.raises(pydantic.ValidationError) as error:
        Wish(supply="9,5 V", tolerance=5)
    faults = {each["loc"]: each["msg"] for each in error.value.errors()}
    assert [each["ctx"]["error"].need for each in error.value.errors()][1] == "a fraction from 0 % to 100 %"
    assert faults[("supply",)].endswith('type "9.5 V"')
    assert faults[("tolerance",)].endswith("you gave 500 %")
    with pytest.raises(pydantic.ValidationError, match=r"you gave '\{0\} \{sentence\} V'"):  # braces stay as they are
        Wish(supply="{0} {sentence} V")


def test_published_limit_of_extra_low_voltage():
    # UL 1310, scope (standardscatalog.ul.com/standards/en/standard_1310): a Class 2 supply gives at most 60 V of
    # continuous DC. IEC 61140's extra-low voltage reaches to 120 V DC: the stricter one holds here
    for kind in map(kind_of, (Voltage, SupplyVoltage)):
        assert kind.read("60 V", "supply") == 60
        with pytest.raises(RangeError, match=r"supply needs .* to 60 V, .*; you gave 60\.1 V"):
            kind.read("60.1 V", "supply")


seen = {}


@with_units
def power(voltage: Voltage, current: Current, share: Ratio = 1.0, *, note: str = "") -> Power:
    """Power in a part."""
    seen.update(voltage=voltage, current=current, share=share, note=note)
    return voltage * current * share


@with_units(scalar=True)
def drop(resistance: Resistance, current: Current = "10 mA", ambient: Temperature | None = None) -> Voltage:
    seen.update(ambient=ambient)
    return resistance * current


def test_si_floats_inside_quantities_outside():
    answer = power("9 V", Q(20, "mA"), note="as given")
    assert answer == Q("180 mW")
    assert seen == seen | {"voltage": 9.0, "current": 0.02, "share": 1.0, "note": "as given"}
    assert type(seen["voltage"]) is float
    answer = power(Q([[1.0], [2.0]], "V"), ["10 mA", "20 mA", "30 mA"])
    assert answer.to("mW").magnitude == pytest.approx(np.array([[10, 20, 30], [20, 40, 60]]))


def test_defaults_written_as_text_are_read():
    assert drop("470 ohm") == Q("4.7 V")
    assert drop("470 ohm", "1 mA") == drop("470 ohm", current="1 mA")
    assert drop("470 ohm", "1 mA").magnitude == pytest.approx(0.47)


def test_none_stands_only_where_it_may():
    drop("1 ohm", ambient=None)
    assert seen["ambient"] is None
    drop("1 ohm", "1 mA", "27 degC")
    assert seen["ambient"] == pytest.approx(300.15)
    for call in (lambda: drop(None), lambda: drop("1 ohm", None), lambda: drop("1 ohm", current=None)):
        with pytest.raises(UnitError, match=r"needs a .* with its unit, for example .*; you gave None"):
            call()


@with_units
def sign(voltage: Voltage, reversed_: bool = False) -> Voltage:
    return -voltage if reversed_ else voltage


def test_what_has_no_unit_passes_where_it_is_right():
    assert sign("9 V") == sign("9 V", False) == -sign("9 V", reversed_=np.bool_(True))
    for value in (3, np.int64(3), np.uint8(3)):
        assert need_whole(value, "count", 1, 9, 5) == 3
        assert type(need_whole(value, "count", 1, 9, 5)) is int
    assert [is_number(value) for value in (0.5, np.float32(2), 3, 1j)] == [True, True, True, False]
    assert need_mapping({"a": 1}, "seen", "{}") == {"a": 1}
    assert need_mapping(None, "seen", "{}") == {}


def wrongs(said, call, *values):
    return [(partial(call, value), said) for value in values]


test_what_has_no_unit_is_refused_where_it_is_another_thing = refused(
    *wrongs("reversed_ needs True or False", partial(sign, "9 V"), "no", 1, None, np.array([True])),
    (lambda: sign("9 V", reversed_="no"), "reversed_ needs True or False"),
    *wrongs('colour needs a text, .* "red"', lambda each: need_plain(str, each, "colour"), None, 5, b"red", ["red"]),
    *wrongs(
        "count needs a whole number from 1 to 9, such as 5; you gave ",
        lambda each: need_whole(each, "count", 1, 9, 5),
        *(True, np.timedelta64(3, "s"), 3.0, "3", None, [3], np.array(3), 0, 10, 10**400),
    ),
    *wrongs("seen needs a mapping such as {}; you gave", lambda each: need_mapping(each, "seen", "{}"), ["red"], 5),
)


def test_wrong_calls_are_pythons_own_errors():
    for args, given_ in ((("9 V",), {}), (("9 V", "1 mA", 1, 2), {}), (("9 V", "1 mA"), {"voltage": "3 V"})):
        with pytest.raises(TypeError):
            power(*args, **given_)
