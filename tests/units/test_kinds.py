"""Kinds and the door: the right dimension, the plausible range, and a sentence that says what to give."""

import contextlib
import math
from decimal import Decimal
from fractions import Fraction
from typing import Annotated

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
    ContactVoltage,
    Count,
    Current,
    FluxDensity,
    Hours,
    Length,
    Power,
    Q,
    QuantityKind,
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
from sigcalc.units.kinds import may_be_none
from sigcalc.units.plain import is_number, is_plain, is_whole, need_mapping, need_plain, need_whole

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


@pytest.mark.parametrize(
    ("kind", "text", "si"),
    [
        (Voltage, "9 V", 9.0),
        (Voltage, "1900 mV", 1.9),
        (Current, "20 mA", 0.02),
        (Current, "100 pA", 1e-10),
        (Resistance, "4k7", 4700.0),
        (Resistance, "1 Mohm", 1e6),
        (Power, "250 mW", 0.25),
        (Length, "1/8 in", 0.003175),
        (Length, '1/8"', 0.003175),
        (Length, "150 mm", 0.15),
        (Length, "10 ft", 3.048),
        (Area, "0.129 mm2", 0.129e-6),
        (Time, "3 h", 10800.0),
        (Temperature, "27 degC", 300.15),
        (Temperature, "-55 degC", 218.15),
        (Temperature, "155 degC", 428.15),
        (Temperature, "80.6 °F", 300.15),
        (Temperature, "300 K", 300.0),
        (TemperatureCoefficient, "-1.7 mV/K", -1.7e-3),
        (Wavelength, "625 nm", 625e-9),
        (Charge, "550 mAh", 0.55),
        (Ratio, "5 %", 0.05),
        (Ratio, "0.05", 0.05),
        (Ratio, 0.05, 0.05),
        (Count, 2, 2.0),
        (Speed, "100 km/h", 100 / 3.6),
        (Speed, "60 mph", 26.8224),
        (FluxDensity, "2 mT", 2e-3),
        (AmpereTurns, "15 AT", 15.0),
        (AmpereTurns, "15 At", 15.0),
        (AmpereTurns, "15 ampere-turns", 15.0),
        (RemanenceCoefficient, "-0.12 %/K", -0.12),
        (ContactVoltage, "200 V", 200.0),
    ],
)
def test_text_to_si(kind, text, si):
    assert kind_of(kind).read(text, "argument") == pytest.approx(si, rel=1e-12)


def test_lists_and_arrays():
    assert voltage(["9 V", Q(12, "V")]).tolist() == [9.0, 12.0]
    assert voltage(Q([[1, 2], [3, 4]], "V")).shape == (2, 2)
    assert tolerance([0.05, 0.1]).tolist() == [0.05, 0.1]
    assert tolerance(["5 %", 0.1]).tolist() == tolerance([0.05, Q("10 %")]).tolist() == [0.05, 0.1]
    assert tolerance(np.array([0.05])).tolist() == [0.05]


@pytest.mark.parametrize(
    "bare",
    [
        9,
        9.0,
        True,
        None,
        math.nan,
        math.inf,
        np.float64(9),
        9j,
        Decimal(9),
        Fraction(9),
        b"9 V",
        np.array([9, 12]),
        "9",
        {},
        [],
    ],
)
def test_a_bare_number_is_refused_with_the_line_that_mends_it(bare):
    with pytest.raises(
        UnitError, match=r'^supply needs a voltage with its unit, for example "9 V"; you gave .+$'
    ) as error:
        voltage(bare)
    facts = error.value
    assert (facts.argument, facts.need, facts.example) == ("supply", "a voltage with its unit", "9 V")


@pytest.mark.parametrize(
    "wrong",
    ["9 A", "9 ohm", "5 %", Q("9 A"), Q(9, ""), Q([1, 2], "mA"), foreign.Quantity(9, "ohm"), "27 degC", "1/8 in"],
)
def test_another_dimension_is_refused(wrong):
    with pytest.raises(UnitError, match=r'^supply needs a voltage, for example "9 V"; you gave .+$'):
        voltage(wrong)


@pytest.mark.parametrize(
    "magnitude", [math.nan, math.inf, -math.inf, 1j, Decimal(9), np.array(["a"]), np.array([1, None]), np.array([])]
)
def test_a_quantity_without_finite_numbers_is_refused(magnitude):
    with pytest.raises(UnitError, match=r"supply needs (finite|at least one)?.?number"):
        voltage(registry.Quantity(magnitude, "V"))


def test_one_value_where_one_is_needed():
    for several in (["9 V", "12 V"], Q([9, 12], "V")):
        with pytest.raises(UnitError, match=r"supply needs one voltage; you gave .*; give a single value"):
            voltage(several, scalar=True)
    assert voltage("9 V", scalar=True) == 9.0


def test_a_text_that_cannot_be_read_names_the_argument():
    with pytest.raises(UnitError, match=r"""^supply needs a voltage with .*; you gave '9,5 V'; .* type "9\.5 V"$"""):
        voltage("9,5 V")


def test_what_is_proposed_is_of_the_kind_that_is_needed():
    with pytest.raises(UnitError, match=r'"ma" is no unit known here; type for example "9 V"$'):
        voltage("9 ma")
    with pytest.raises(UnitError, match=r'type "9 mA" \(milliampere\)$'):
        kind_of(Current).read("9 ma", "current")


def test_the_range_is_said_as_people_say_it():
    with pytest.raises(RangeError, match=r"supply needs a voltage from -60 V to 60 V, .*; you gave 230 V"):
        voltage("230 V")
    with pytest.raises(RangeError, match=r"ambient needs a temperature from -55 °C to 155 °C, .*; you gave 200 °C"):
        temperature("200 degC")
    with pytest.raises(RangeError, match=r"tolerance needs a fraction from 0 % to 100 %, .*; you gave 500 %"):
        tolerance(5)


@pytest.mark.parametrize(
    "wrong", [True, None, math.nan, math.inf, 1j, Decimal("0.05"), Fraction(1, 20), np.bool_(True), b"5"]
)
def test_what_is_no_fraction(wrong):
    with pytest.raises(UnitError, match=r'tolerance needs a fraction, for example "5 %"; you gave .+$'):
        tolerance(wrong)


def test_ten_big_k_with_a_gap_is_kelvin():
    with pytest.raises(UnitError, match=r"you gave '10 K'; K alone means kelvin; for kilohms type \"10 kohm\"$"):
        kind_of(Resistance).read("10 K", "resistance")


@pytest.mark.parametrize("registered", [foreign, registry, pint.UnitRegistry(autoconvert_offset_to_baseunit=True)])
def test_quantities_of_any_registry(registered):
    assert voltage(registered.Quantity(9000, "mV")) == pytest.approx(9.0)
    assert voltage(registered.Quantity([1.0, 2.0], "W/A")).tolist() == pytest.approx([1.0, 2.0])
    assert kind_of(Charge).read(registered.Quantity(1980, "coulomb"), "charge") == pytest.approx(0.55)
    assert kind_of(Area).read(registered.Quantity(1, "mm**2"), "area") == pytest.approx(1e-6)
    assert temperature(registered.Quantity(27, "degC")) == pytest.approx(300.15)
    assert temperature(registered.Quantity(80.6, "degF")) == pytest.approx(300.15)
    assert tolerance(registered.Quantity(5, "percent")) == pytest.approx(0.05)


@pytest.mark.parametrize("registered", [foreign, registry])
def test_a_difference_of_temperatures_is_no_temperature(registered):
    with pytest.raises(UnitError, match="ambient needs a temperature, for example"):
        temperature(registered.Quantity(5, "delta_degC"))


def test_a_unit_of_another_registry_counts_by_its_dimension():
    own = pint.UnitRegistry()
    own.define("armlength = 0.7 * meter")
    assert kind_of(Length).read(own.Quantity(2, "armlength"), "length") == pytest.approx(1.4)


anything = st.one_of(
    st.text(max_size=12),
    st.floats(),
    st.integers(),
    st.none(),
    st.booleans(),
    st.binary(max_size=3),
    st.complex_numbers(),
    st.decimals(),
    st.lists(st.one_of(st.text(max_size=5), st.floats()), max_size=3),
    st.builds(
        lambda number, unit: registry.Quantity(number, unit),
        st.floats(),
        st.sampled_from(["V", "degC", "", "m", "dBm"]),
    ),
    st.builds(
        lambda number, unit: foreign.Quantity(number, unit), st.floats(), st.sampled_from(["V", "degF", "percent"])
    ),
)


@given(anything, st.sampled_from(sorted(KINDS)), st.booleans())
def test_anything_gives_a_value_in_range_or_a_refusal(value, name, scalar):
    kind = KINDS[name]
    with contextlib.suppress(SigcalcError):
        si = kind.read(value, "argument", scalar)
        assert np.all(np.isfinite(si))
        kind.check(si, "argument")


def test_a_level_beyond_all_numbers_is_refused():
    with pytest.raises(UnitError, match="power needs finite numbers"):
        kind_of(Power).read(registry.Quantity(1e6, "dBm"), "power")


def test_kinds_are_found_inside_annotations():
    assert kind_of(Voltage | None) is kind_of(Voltage)
    assert kind_of(int) is None
    assert kind_of(Annotated[float, "no kind"]) is None
    assert may_be_none(Voltage | None)
    assert not may_be_none(Voltage)


def test_kinds_compare_and_hash_as_values():
    same = QuantityKind("voltage", "V", -60.0, 60.0, "9 V")
    assert same == kind_of(Voltage)
    assert hash(same) == hash(kind_of(Voltage))


def test_a_time_that_people_say_in_hours_is_given_in_hours():
    hours = kind_of(Hours)
    assert hours.read("90 min", "time") == 5400
    assert str(hours.quantity(5400.0)) == "1.5 h"
    assert hours.quantity(5400.0) == kind_of(Time).quantity(5400.0)


class Wish(pydantic.BaseModel):
    supply: Voltage
    tolerance: Ratio = 0.05


def test_pydantic_reads_the_same_vocabulary():
    wish = Wish(supply="9 V", tolerance="10 %")
    assert wish.supply == Q("9 V")
    assert wish.tolerance == 0.1


def test_pydantic_reports_all_faults_with_our_sentences():
    with pytest.raises(pydantic.ValidationError) as error:
        Wish(supply="9,5 V", tolerance=5)
    faults = {each["loc"]: each["msg"] for each in error.value.errors()}
    assert [each["ctx"]["error"].need for each in error.value.errors()][1] == "a fraction from 0 % to 100 %"
    assert faults[("supply",)].endswith('type "9.5 V"')
    assert faults[("tolerance",)].endswith("you gave 500 %")


def test_braces_in_a_strangers_text_stay_as_they_are():
    with pytest.raises(pydantic.ValidationError) as error:
        Wish(supply="{0} {sentence} V")
    assert "you gave '{0} {sentence} V'" in error.value.errors()[0]["msg"]


@pytest.mark.parametrize("text", ["", "furlongs", "9 furlongs", "9**9 ohm", "9 ohm + 1 ohm", "x" * 200])
def test_the_example_is_one_of_the_kind_that_is_needed(text):
    with pytest.raises(UnitError, match=r'resistance needs .* (type|as) .*"470 ohm"'):
        kind_of(Resistance).read(text, "resistance")


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


def test_arrays_broadcast():
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


def test_the_argument_is_named():
    with pytest.raises(UnitError, match=r"current needs a current with its unit, for example .*; you gave 0.02"):
        power("9 V", 0.02)
    with pytest.raises(RangeError, match=r"current needs a current from 0 A to 10 A, .*; you gave 20 A"):
        power("9 V", current="20 A")


def test_scalar_doors_take_one_value():
    with pytest.raises(UnitError, match="resistance needs one resistance"):
        drop(["1 ohm", "2 ohm"])


def test_the_function_keeps_its_face():
    assert power.__name__ == "power"
    assert power.__doc__ == "Power in a part."


def test_wrong_calls_are_pythons_own_errors():
    with pytest.raises(TypeError):
        power("9 V")
    with pytest.raises(TypeError):
        power("9 V", "1 mA", volume="3")
    with pytest.raises(TypeError):
        drop("1 ohm", "1 mA", None, "4")


def test_methods_have_doors_too():
    class Lamp:
        @with_units
        def voltage(self, current: Current) -> Voltage:
            return 100 * current

    assert Lamp().voltage("10 mA") == Q("1 V")
    assert Lamp().voltage(current="10 mA") == Q("1 V")


@with_units
def sign(voltage: Voltage, reversed_: bool = False) -> Voltage:
    return -voltage if reversed_ else voltage


def test_a_yes_or_no_is_one():
    assert sign("9 V") == sign("9 V", False) == -sign("9 V", reversed_=np.bool_(True))
    for wrong in ("no", 1, None, np.array([True])):
        for call in (lambda wrong=wrong: sign("9 V", wrong), lambda wrong=wrong: sign("9 V", reversed_=wrong)):
            with pytest.raises(UnitError, match="reversed_ needs True or False"):
                call()


def test_what_is_checked():
    assert is_plain(str)
    assert is_plain(bool)
    assert not is_plain(int)
    assert not is_plain(str | None)


@pytest.mark.parametrize(("hint", "value"), [(str, ""), (str, "red"), (bool, False), (bool, np.bool_(True))])
def test_what_is_right_passes(hint, value):
    need_plain(hint, value, "x")


@pytest.mark.parametrize("value", [None, 0, 1.0, "True", [], [True], np.array([True, False])])
def test_what_is_no_yes_or_no(value):
    with pytest.raises(UnitError, match=r"again needs True or False; you gave "):
        need_plain(bool, value, "again")


@pytest.mark.parametrize("value", [None, 5, b"red", ["red"]])
def test_what_is_no_text(value):
    with pytest.raises(UnitError, match=r'colour needs a text, for example "red"; you gave '):
        need_plain(str, value, "colour")


@pytest.mark.parametrize("value", [3, np.int64(3), np.uint8(3)])
def test_whole_numbers(value):
    assert is_whole(value)
    assert need_whole(value, "count", 1, 9, 5) == 3
    assert type(need_whole(value, "count", 1, 9, 5)) is int


@pytest.mark.parametrize("value", [True, np.timedelta64(3, "s"), 3.0, "3", None, [3], np.array(3), 0, 10, 10**400])
def test_what_is_no_whole_number_of_the_range(value):
    with pytest.raises(RangeError, match=r"count needs a whole number from 1 to 9, such as 5; you gave "):
        need_whole(value, "count", 1, 9, 5)


@pytest.mark.parametrize(("value", "right"), [(0.5, True), (np.float32(2), True), (3, True), (1j, False)])
def test_bare_numbers(value, right):
    assert is_number(value) is right


def test_mappings():
    assert need_mapping({"a": 1}, "seen", "{}") == {"a": 1}
    assert need_mapping(None, "seen", "{}") == {}
    with pytest.raises(UnitError, match=r"seen needs a mapping such as {}; you gave \['red'\]"):
        need_mapping(["red"], "seen", "{}")
