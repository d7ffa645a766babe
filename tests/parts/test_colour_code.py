"""Colour bands against published examples, both ways, and what happens to bands that nobody paints."""

import contextlib
from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.errors import RangeError, SigcalcError, UnitError, UnknownNameError
from sigcalc.parts.colour_code import colour_bands, read_colour_bands, read_temperature_coefficient
from sigcalc.parts.marking import Digits, colour_figures
from sigcalc.parts.table import read_figures
from sigcalc.units import Q

tolerances = st.sampled_from(sorted(set(colour_figures("tolerance").values()) - {0.2}))
coefficients = st.sampled_from(sorted(colour_figures("temperature_coefficient").values()))

# Kuphaldt, Lessons in Electric Circuits Vol. V, ch. 2 Color Codes (html/Ref/REF_2.html); resistance and tolerance exact
KUPHALDT = [
    ("Yellow-Violet-Orange-Gold", 47000, 0.05),
    ("Green-Red-Gold-Silver", 5.2, 0.10),
    ("White-Violet-Black", 97, 0.20),
    ("Orange-Orange-Black-Brown-Violet", 3300, 0.001),
    ("Brown-Green-Grey-Silver-Red", 1.58, 0.02),
    ("Blue-Brown-Green-Silver-Blue", 6.15, 0.0025),
]


@pytest.mark.parametrize(("bands", "ohms", "tolerance"), KUPHALDT)
def test_published_bands_are_read(bands, ohms, tolerance):
    resistance, read = read_colour_bands(bands)
    assert resistance == Q(ohms, "ohm")
    assert read == tolerance


@pytest.mark.parametrize(("bands", "ohms", "tolerance"), KUPHALDT)
def test_published_bands_are_written(bands, ohms, tolerance):
    assert colour_bands(Q(ohms, "ohm"), tolerance) == tuple(bands.lower().split("-"))


# resistorcolorcodes.org/chart, table after IEC 60062; grey differs between editions: not tested
@pytest.mark.parametrize(
    ("colour", "percent"),
    [
        *(("brown", 1), ("red", 2), ("green", 0.5), ("blue", 0.25), ("violet", 0.1), ("orange", 0.05)),
        *(("yellow", 0.02), ("gold", 5), ("silver", 10)),
    ],
)
def test_published_tolerance_colours(colour, percent):
    assert read_colour_bands(f"yellow violet red {colour}")[1] == percent / 100
    assert colour_bands("4.7 kohm", f"{percent} %")[-1] == colour


def test_no_band_is_twenty_per_cent():  # elektropage.com/default.asp?tid=36
    assert read_colour_bands("yellow violet red")[1] == 0.2
    assert colour_bands("4.7 kohm", "20 %") == ("yellow", "violet", "red")


# FROM MEMORY of IEC 60062: sixth band, ppm/K
@pytest.mark.parametrize(
    ("colour", "coefficient"),
    [
        *(("black", 250), ("brown", 100), ("red", 50), ("orange", 15), ("yellow", 25)),
        *(("green", 20), ("blue", 10), ("violet", 5), ("grey", 1)),
    ],
)
def test_temperature_coefficients(colour, coefficient):
    bands = f"yellow violet black black brown {colour}"
    assert read_temperature_coefficient(bands) == Q(coefficient, "ppm/K")
    assert read_colour_bands(bands) == (Q("470 ohm"), 0.01)
    assert colour_bands("470 ohm", 0.01, Q(coefficient, "ppm/K")) == tuple(bands.split())


# IEC 60062, by instrumentationtools.com/iec-labelling-resistors-color-code:
# two digits at 5 % and wider, three at 2 % and closer
@pytest.mark.parametrize(
    ("ohms", "tolerance", "bands"),
    [
        ("470 ohm", 0.05, "yellow violet brown gold"),
        ("2.2 kohm", 0.01, "red red black brown brown"),
        ("470 ohm", 0.02, "yellow violet black black red"),
        ("475 ohm", 0.01, "yellow violet green black brown"),
        ("475 ohm", 0.05, "yellow violet green black gold"),
    ],
)
def test_how_many_digits_are_written(ohms, tolerance, bands):
    assert colour_bands(ohms, tolerance) == tuple(bands.split())
    assert read_colour_bands(bands) == (Q(ohms), tolerance)


def test_a_close_part_in_four_bands_is_read_and_written_when_asked():
    assert colour_bands("470 ohm", 0.01, digits=2) == ("yellow", "violet", "brown", "brown")
    assert read_colour_bands("yellow violet brown brown") == (Q("470 ohm"), 0.01)


@given(st.integers(10, 999), st.integers(-2, 6), tolerances, st.one_of(st.none(), coefficients))
def test_reading_is_the_inverse_of_writing(whole, power, tolerance, coefficient):
    resistance = Q(Digits(whole, power).value, "ohm")
    bands = colour_bands(resistance, tolerance, None if coefficient is None else Q(coefficient, "ppm/K"))
    assert read_colour_bands(bands) == (resistance, tolerance)
    if coefficient is not None:
        assert read_temperature_coefficient(bands) == Q(coefficient, "ppm/K")


@given(st.lists(st.sampled_from([name for name in colour_figures("power") if name != "pink"]), min_size=4, max_size=5))
def test_writing_is_the_inverse_of_reading(bands):
    try:
        resistance, tolerance = read_colour_bands(bands)
    except RangeError:
        return
    assert colour_bands(resistance, tolerance, digits=len(bands) - 2) == tuple(bands)


def test_each_figure_of_a_band_has_one_colour():
    for quantity in ("digit", "power", "tolerance", "temperature_coefficient"):
        assert max(Counter(colour_figures(quantity).values()).values()) == 1


def test_each_row_of_the_table_has_a_source():
    assert all(figure.source for figures in read_figures("colour_bands.csv").values() for figure in figures.values())


@pytest.mark.parametrize(
    "bands",
    [
        "Yellow, Violet, Brown, Gold",
        ["YELLOW", "violet ", "brown", "gold"],
        ("yellow", "purple", "brown", "gold"),
        "yellow/violet/brown/gold",
    ],
)
def test_ways_to_type_bands(bands):
    assert read_colour_bands(bands) == (Q("470 ohm"), 0.05)


def test_both_spellings_of_grey():
    assert read_colour_bands("gray red brown gold") == read_colour_bands("grey red brown gold") == (Q("820 ohm"), 0.05)


@pytest.mark.parametrize(
    ("bands", "kind", "said"),
    [
        ("gren red red gold", UnknownNameError, "band 1: colour 'gren' is not known; use one of: 'green'"),
        ("none red red gold", UnknownNameError, "band 1: colour 'none' is not known"),
        ("gold brown violet yellow", RangeError, "band 1 says a digit and needs one of brown, .*from the other end"),
        ("black red red gold", RangeError, "band 1 .* needs one of brown, red.* but black came"),
        ("brown black red white", RangeError, "band 4 says the tolerance and needs one of .*, but white came"),
        ("red red silver gold black", RangeError, "band 3 says a digit"),
        ("red red red red brown white", RangeError, "band 6 says the temperature coefficient"),
        ("white white white", RangeError, "99 GΩ, above the 1 GΩ of any part sold; read them from the other end"),
        ("red red", RangeError, r"needs 3 to 6 colours, but 'red red' came \(2\)"),
        ("", RangeError, "needs 3 to 6 colours"),
        (["red"] * 7, RangeError, "needs 3 to 6 colours"),
        (None, UnitError, "bands needs colours, but None came; type for example"),
        (["red", 2, "red"], UnitError, "bands needs colours"),
        (b"red red red", UnitError, "bands needs colours"),
    ],
)
def test_bands_that_cannot_be_read(bands, kind, said):
    with pytest.raises(kind, match=said):
        read_colour_bands(bands)


@pytest.mark.parametrize(
    ("arguments", "kind", "said"),
    [
        (("4753 ohm", 0.01), RangeError, "4.753 kΩ needs more than three digits.*are 4.75 kΩ and 4.76 kΩ"),
        (("999.5 ohm", 0.01), RangeError, "999.5 Ω needs more than three digits.*are 999 Ω and 1 kΩ"),
        (("470 ohm", 0.03), RangeError, "tolerance .* but 3 % came; use one of: 0.01 %, .*, 5 %, 10 %, 20 %"),
        (("475 ohm", 0.2), RangeError, "three digits needs a tolerance band, and 20 % has none"),
        (
            ("470 ohm", 0.01, "30 ppm/K"),
            RangeError,
            "temperature_coefficient .* but 30 ppm/K came; use one of: 1 ppm/K",
        ),
        (("475 ohm", 0.05, None, 2), RangeError, "digits needs to be 3 for 475 Ω, but 2 came: it has three"),
        (("470 ohm", 0.01, "50 ppm/K", 2), RangeError, "a temperature coefficient stands beside three digits"),
        (("470 ohm", 0.05, None, 4), RangeError, "digits needs to be 2 or 3, but 4 came"),
        (("0 ohm", 0.05), RangeError, "wire link"),
        (("1 mohm", 0.05), RangeError, "they begin at 10 mΩ"),
        (("1000 Mohm", 0.05, None, 3), None, ()),
        ((470, 0.05), UnitError, 'for example "470 ohm"'),
        ((None, 0.05), UnitError, "resistance needs a resistance"),
        (("470 ohm", None), UnitError, "tolerance needs"),
        ((["470 ohm", "1 kohm"], 0.05), UnitError, "needs one resistance"),
    ],
)
def test_values_that_cannot_be_written(arguments, kind, said):
    if kind is None:
        assert colour_bands(*arguments)
        return
    with pytest.raises(kind, match=said):
        colour_bands(*arguments)


def test_no_sixth_band_no_temperature_coefficient():
    with pytest.raises(RangeError, match="needs six colours"):
        read_temperature_coefficient("yellow violet red gold")


colours = st.sampled_from([*colour_figures("power"), "none", "mauve", ""])


@given(
    st.one_of(
        st.text(max_size=40), st.lists(colours, max_size=7), st.lists(st.one_of(colours, st.integers())), st.none()
    )
)
def test_any_bands_give_an_answer_or_a_refusal(bands):
    with contextlib.suppress(SigcalcError):
        resistance, tolerance = read_colour_bands(bands)
        assert Q("0.01 ohm") <= resistance <= Q("1000 Mohm")
        assert 0 < tolerance <= 0.2


@given(
    st.floats(0, 1e9),
    st.one_of(st.floats(), tolerances),
    st.one_of(st.none(), st.floats()),
    st.one_of(st.none(), st.floats(), st.integers()),
)
def test_any_value_gives_bands_or_a_refusal(ohms, tolerance, coefficient, digits):
    with contextlib.suppress(SigcalcError):
        given_coefficient = None if coefficient is None else Q(coefficient, "ppm/K")
        bands = colour_bands(Q(ohms, "ohm"), tolerance, given_coefficient, digits)
        assert read_colour_bands(bands)[0].magnitude == pytest.approx(ohms, rel=1e-8)
