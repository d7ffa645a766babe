"""Colour bands and letter codes against published examples, both ways, and what happens to marks that nobody prints."""

import contextlib
from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.errors import RangeError, SigcalcError, UnitError, UnknownNameError
from sigcalc.parts.marking import colour_bands, colour_figures, read_colour_bands, read_rkm, rkm_code
from sigcalc.units import Q

tolerances = st.sampled_from(sorted(set(colour_figures("tolerance").values()) - {0.2}))

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
def test_published_bands_both_ways(bands, ohms, tolerance):
    assert read_colour_bands(bands) == (Q(ohms, "ohm"), tolerance)
    assert colour_bands(Q(ohms, "ohm"), tolerance) == tuple(bands.lower().split("-"))


# resistorcolorcodes.org/chart, table after IEC 60062; grey differs between editions: not tested
TOLERANCES = {"brown": 1, "red": 2, "green": 0.5, "blue": 0.25, "violet": 0.1, "orange": 0.05, "yellow": 0.02}
TOLERANCES |= {"gold": 5, "silver": 10, "": 20}  # no fourth band, 20 %: elektropage.com/default.asp?tid=36


@pytest.mark.parametrize(("colour", "percent"), TOLERANCES.items())
def test_published_tolerance_colours(colour, percent):
    bands = f"yellow violet red {colour}".strip()
    assert read_colour_bands(bands)[1] == percent / 100
    assert colour_bands("4.7 kohm", f"{percent} %")[-1] == bands.split()[-1]


def test_a_sixth_band_is_the_temperature_coefficient():
    # FROM MEMORY of IEC 60062: sixth band, ppm/K
    printed = {"black": 250, "brown": 100, "red": 50, "orange": 15, "yellow": 25, "green": 20, "blue": 10, "violet": 5}
    assert colour_figures("temperature_coefficient") == printed | {"grey": 1}
    for colour in printed:
        assert read_colour_bands(f"yellow violet black black brown {colour}") == (Q("470 ohm"), 0.01)


def test_how_many_digits_are_written():
    # IEC 60062, by instrumentationtools.com/iec-labelling-resistors-color-code:
    # two digits at 5 % and wider, three at 2 % and closer
    for bands, ohms, tolerance in (
        ("yellow violet brown gold", "470 ohm", 0.05),
        ("red red black brown brown", "2.2 kohm", 0.01),
        ("yellow violet black black red", "470 ohm", 0.02),
        ("yellow violet green black brown", "475 ohm", 0.01),
        ("yellow violet green black gold", "475 ohm", 0.05),
    ):
        assert colour_bands(ohms, tolerance) == tuple(bands.split())
        assert read_colour_bands(bands) == (Q(ohms), tolerance)


@given(st.integers(10, 999), st.integers(-2, 6), tolerances)
def test_reading_bands_is_the_inverse_of_writing(whole, power, tolerance):
    resistance = Q(float(f"{whole}e{power}"), "ohm")
    assert read_colour_bands(colour_bands(resistance, tolerance)) == (resistance, tolerance)


@given(st.lists(st.sampled_from([name for name in colour_figures("power") if name != "pink"]), min_size=4, max_size=5))
def test_writing_bands_is_the_inverse_of_reading(bands):
    try:
        resistance, tolerance = read_colour_bands(bands)
    except RangeError:
        return
    assert colour_bands(resistance, tolerance, digits=len(bands) - 2) == tuple(bands)


def test_each_figure_of_a_band_has_one_colour():
    for quantity in ("digit", "power", "tolerance", "temperature_coefficient"):
        assert max(Counter(colour_figures(quantity).values()).values()) == 1


def test_ways_to_type_bands():
    for bands in ("Grey, Red, Brown, Gold", ["GREY", "red ", "brown", "gold"], "gray/red/brown/gold"):
        assert read_colour_bands(bands) == (Q("820 ohm"), 0.05)
    assert read_colour_bands("yellow violet brown brown") == (Q("470 ohm"), 0.01)
    assert colour_bands("470 ohm", 0.01, digits=2) == ("yellow", "violet", "brown", "brown")


@pytest.mark.parametrize(
    ("bands", "kind", "said"),
    [
        ("gren red red gold", UnknownNameError, "band 1: colour 'gren' is not known; use one of: 'green'"),
        ("gold brown violet yellow", RangeError, "band 1 says a digit and needs one of brown, .*from the other end"),
        ("black red red gold", RangeError, "band 1 .* needs one of brown, red.* you gave black"),
        ("brown black red white", RangeError, "band 4 says the tolerance and needs one of .* you gave white"),
        ("red red red red brown white", RangeError, "band 6 says the temperature coefficient"),
        ("white white white", RangeError, "99 GΩ, above the 1 GΩ of any part sold; read them from the other end"),
        ("red red", RangeError, r"needs 3 to 6 colours; you gave 'red red' \(2\)"),
        (None, UnitError, "bands needs colours; you gave None; type for example"),
        (["red", 2, "red"], UnitError, "bands needs colours"),
    ],
)
def test_bands_that_cannot_be_read(bands, kind, said):
    with pytest.raises(kind, match=said):
        read_colour_bands(bands)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("4753 ohm", 0.01), "4.753 kΩ needs more than three digits.*are 4.75 kΩ and 4.76 kΩ"),
        (("470 ohm", 0.03), "tolerance .* you gave 3 %; use one of: 0.01 %, .*, 5 %, 10 %, 20 %"),
        (("475 ohm", 0.2), "three digits needs a tolerance band, and 20 % has none"),
        (("475 ohm", 0.05, 2), "digits needs to be 3 for 475 Ω; you gave 2"),
        (("470 ohm", 0.05, 4), "digits needs to be 2 or 3; you gave 4"),
        (("0 ohm", 0.05), "wire link"),
        (("1 mohm", 0.05), "they begin at 0.01 Ω"),
    ],
)
def test_values_that_cannot_be_written(arguments, said):
    with pytest.raises(SigcalcError, match=said):
        colour_bands(*arguments)


colours = st.sampled_from([*colour_figures("power"), "none", "mauve", ""])


@given(st.text(max_size=40) | st.lists(colours, max_size=7) | st.lists(colours | st.integers()) | st.none())
def test_any_bands_give_an_answer_or_a_refusal(bands):
    with contextlib.suppress(SigcalcError):
        resistance, tolerance = read_colour_bands(bands)
        assert Q("0.01 ohm") <= resistance <= Q("1000 Mohm")
        assert 0 < tolerance <= 0.2


@given(st.floats(0, 1e9), st.floats() | tolerances, st.none() | st.floats() | st.integers())
def test_any_value_gives_bands_and_a_code_or_a_refusal(ohms, tolerance, digits):
    with contextlib.suppress(SigcalcError):
        read = read_colour_bands(colour_bands(Q(ohms, "ohm"), tolerance, digits))
        assert read[0].magnitude == pytest.approx(ohms, rel=1e-8)
    with contextlib.suppress(SigcalcError):
        assert read_rkm(rkm_code(Q(ohms, "ohm"), tolerance))[0].magnitude == pytest.approx(ohms, rel=1e-8)


# FROM MEMORY of IEC 60062: the code's own forms, with no more digits than needed and two at least
FORMS = {"47L": "47 mohm", "R10": "0.1 ohm", "R47": "0.47 ohm", "1R0": "1 ohm", "4R7": "4.7 ohm", "47R": "47 ohm"}
FORMS |= {"470R": "470 ohm", "1K0": "1 kohm", "10K": "10 kohm", "47K5": "47.5 kohm", "475K": "475 kohm"}
FORMS |= {"1M0": "1 Mohm", "4M75": "4.75 Mohm", "1G0": "1000 Mohm", "47K": "47 kohm"}


def test_forms_and_tolerance_letters_of_the_code_both_ways():
    for code, resistance in FORMS.items():
        assert rkm_code(resistance) == code
        assert read_rkm(code) == (Q(resistance).to("ohm"), None)
    # FROM MEMORY of IEC 60062; the letters K and M mean two things, told by their place
    for letter, tolerance in {"F": 0.01, "G": 0.02, "J": 0.05, "K": 0.1, "M": 0.2}.items():
        for code, resistance in (("47K", "47 kohm"), ("1M0", "1 Mohm")):
            assert rkm_code(resistance, tolerance) == code + letter
            assert read_rkm(f" {code.replace('K', 'k')}{letter}") == (Q(resistance).to("ohm"), tolerance)


@given(st.integers(1, 999), st.integers(-3, 6), st.sampled_from([None, 0.01, 0.02, 0.05, 0.1, 0.2]))
def test_reading_a_code_is_the_inverse_of_writing_also_at_the_door_of_units(whole, power, tolerance):
    resistance = Q(float(f"{whole}e{power}"), "ohm")
    code = rkm_code(resistance, tolerance)
    assert read_rkm(code) == (resistance, tolerance)
    assert 3 <= len(code) <= 5
    if tolerance is None and resistance >= Q("0.1 ohm"):
        assert Q(code) == resistance


@pytest.mark.parametrize(
    ("text", "said"),
    [
        *((each, 'text needs a code such as "4K7"') for each in ("470", "R", "4m7", "4K7X", "4.7K", "12345R", None)),
        *((each, "wire link") for each in ("0R", "R000")),
        ("999G", "needs a resistance from 0 Ω to 1 GΩ"),
    ],
)
def test_what_is_no_code_of_a_resistor(text, said):
    with pytest.raises(SigcalcError, match=said):
        read_rkm(text)
