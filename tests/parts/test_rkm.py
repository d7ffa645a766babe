"""The letter code of resistances, both ways."""

import contextlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.errors import RangeError, SigcalcError, UnitError
from sigcalc.parts.marking import Digits, tolerance_letters
from sigcalc.parts.rkm import read_rkm, rkm_code
from sigcalc.units import Q

# FROM MEMORY of IEC 60062: the code's own forms, with no more digits than needed and two at least
FORMS = [
    *(
        ("47 mohm", "47L"),
        ("0.1 ohm", "R10"),
        ("0.47 ohm", "R47"),
        ("1 ohm", "1R0"),
        ("4.7 ohm", "4R7"),
        ("47 ohm", "47R"),
    ),
    *(("470 ohm", "470R"), ("1 kohm", "1K0"), ("4.7 kohm", "4K7"), ("10 kohm", "10K"), ("47.5 kohm", "47K5")),
    *(("100 kohm", "100K"), ("475 kohm", "475K"), ("1 Mohm", "1M0"), ("4.75 Mohm", "4M75"), ("1000 Mohm", "1G0")),
]


@pytest.mark.parametrize(("resistance", "code"), FORMS)
def test_forms_both_ways(resistance, code):
    assert rkm_code(resistance) == code
    read, tolerance = read_rkm(code)
    assert read == Q(resistance).to("ohm")
    assert tolerance is None


# FROM MEMORY of IEC 60062
@pytest.mark.parametrize(("letter", "tolerance"), [("F", 0.01), ("G", 0.02), ("J", 0.05), ("K", 0.1), ("M", 0.2)])
def test_tolerance_letters(letter, tolerance):
    assert rkm_code("4.7 kohm", tolerance) == "4K7" + letter
    assert read_rkm("4K7" + letter) == (Q("4700 ohm"), tolerance)


def test_a_letter_that_means_two_things_is_read_by_its_place():
    assert read_rkm("47K") == (Q("47000 ohm"), None)
    assert read_rkm("47KK") == (Q("47000 ohm"), 0.1)
    assert read_rkm("1M0M") == (Q("1000000 ohm"), 0.2)


def test_a_small_k_is_read():
    assert read_rkm(" 4k7 ") == read_rkm("4K7")


@given(
    st.integers(1, 999), st.integers(-3, 6), st.one_of(st.none(), st.sampled_from(sorted(tolerance_letters().values())))
)
def test_reading_is_the_inverse_of_writing(whole, power, tolerance):
    resistance = Q(Digits(whole, power).value, "ohm")
    code = rkm_code(resistance, tolerance)
    assert read_rkm(code) == (resistance, tolerance)
    assert 3 <= len(code) <= 5


@given(st.integers(10, 999), st.integers(-1, 6))
def test_a_code_is_also_read_at_the_door_of_units(whole, power):
    value = Digits(whole, power).value
    assert Q(rkm_code(Q(value, "ohm"))).magnitude == value


@pytest.mark.parametrize(
    "text", ["470", "R", "4m7", "4K7 5 %", "4K7X", "-4K7", "4.7K", "4K7J5", "12345R", "", None, 4700]
)
def test_what_is_no_code(text):
    with pytest.raises(UnitError, match='text needs a code such as "4K7"'):
        read_rkm(text)


@pytest.mark.parametrize(
    ("text", "said"), [("0R", "wire link"), ("R000", "wire link"), ("999G", "needs a resistance from 0 Ω to 1 GΩ")]
)
def test_codes_of_what_is_no_resistor(text, said):
    with pytest.raises(RangeError, match=said):
        read_rkm(text)


def test_what_cannot_be_written():
    with pytest.raises(RangeError, match=r"are 4\.75 kΩ and 4\.76 kΩ"):
        rkm_code("4753 ohm")
    with pytest.raises(RangeError, match="but 3 % came; use one of"):
        rkm_code("470 ohm", 0.03)
    with pytest.raises(RangeError, match="they begin at 100 µΩ"):
        rkm_code("0.047 mohm")
    with pytest.raises(UnitError, match='for example "470 ohm"'):
        rkm_code(470)


@given(st.text("0123456789RKMGLJF. ", max_size=7))
def test_any_text_gives_an_answer_or_a_refusal(text):
    with contextlib.suppress(SigcalcError):
        resistance, _ = read_rkm(text)
        assert Q("0 ohm") < resistance <= Q("1000 Mohm")


@given(st.floats(0, 1e9), st.one_of(st.none(), st.floats(0, 1)))
def test_any_value_gives_a_code_or_a_refusal(ohms, tolerance):
    with contextlib.suppress(SigcalcError):
        assert read_rkm(rkm_code(Q(ohms, "ohm"), tolerance))[0].magnitude == pytest.approx(ohms, rel=1e-8)
