"""Reed switches: single reeds, the bridge from ampere-turns, and types with their bands."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.errors import RangeError, UnitError, UnknownNameError
from sigcalc.parts.reed import Reed, ReedType, as_reed, band_of, reeds
from sigcalc.units import Q

SOLD = reeds["10 W reed, 7 to 21 AT"]


class TestAmpereTurns:
    def test_published(self):
        # dextermag.com: mu0 * N * I / L; 20 AT over 25.4 mm is 0.9895 mT
        reed = Reed.from_ampere_turns(pull_in="20 AT", release="10 AT", coil_length="25.4 mm")
        assert reed.pull_in.to("mT").magnitude == pytest.approx(0.9895, abs=5e-5)
        assert reed.si.pull_in / reed.si.release == pytest.approx(2)
        same = Reed.from_ampere_turns("20 ampere-turns", Q(10, "AT"), "1 in")
        assert same.si.release == pytest.approx(reed.si.release, rel=1e-12)

    @given(st.floats(2, 200), st.floats(0.3, 1), st.floats(5, 100))
    def test_it_is_proportional(self, pull_in, ratio, length):
        if pull_in * ratio < 1:
            return
        reed = Reed.from_ampere_turns(Q(pull_in, "AT"), Q(pull_in * ratio, "AT"), Q(length, "mm"))
        assert reed.si.pull_in == pytest.approx(4e-7 * 3.14159265 * pull_in / (length * 1e-3), rel=1e-6)
        assert reed.si.pull_in / reed.si.release == pytest.approx(1 / ratio, rel=1e-9)


class TestTypes:
    @pytest.mark.parametrize("name", reeds)
    def test_the_band_runs_from_least_to_most_sensitive(self, name):
        least, middle, most = band_of(name)
        assert least.pull_in > middle.pull_in > most.pull_in
        assert least.release > middle.release > most.release
        assert name in least.name
        assert band_of(reeds[name]) == (least, middle, most)
        assert least.operate_time == reeds[name].operate_time

    def test_a_single_reed_is_one_already(self):
        reed = Reed("2 mT", "1 mT")
        assert as_reed(reed) is reed


@pytest.mark.parametrize(
    ("call", "kind", "said"),
    [
        (
            lambda: Reed("1 mT", "2 mT"),
            RangeError,
            "pull_in of a reed needs no less than its release of 2 mT; you gave 1 mT",
        ),
        (lambda: Reed("1 mT", "0 mT"), RangeError, "release of a reed needs 10 nT or more"),
        (lambda: Reed(1, "1 mT"), UnitError, "pull_in needs a flux density with its unit, .*; you gave 1"),
        (lambda: Reed("2 mT", "1 mT", bridge="some"), UnknownNameError, "bridge 'some' is not known; use one of"),
        (lambda: Reed("20 AT", "1 mT"), UnitError, "pull_in needs a flux density, .*; you gave '20 AT'"),
        (lambda: Reed.from_ampere_turns("10 AT", "20 AT", "25 mm"), RangeError, "the wrong way round"),
        (
            lambda: Reed.from_ampere_turns("20 mA", "10 AT", "25 mm"),
            RangeError,
            "from 1 AT to 500 AT, .*; you gave 20 mAT",
        ),
        (
            lambda: Reed.from_ampere_turns(20, "10 AT", "25 mm"),
            UnitError,
            r'for example "15 AT"',
        ),
        (lambda: Reed.from_ampere_turns("20 AT", "10 AT", "0 mm"), RangeError, "coil_length needs .* from 1 mm to 1 m"),
        (lambda: as_reed(SOLD), UnitError, "reed needs a single Reed; you gave a type with a band"),
        (lambda: as_reed("10 W reed, 7 to 21 AT"), UnitError, "use its .least_sensitive"),
        (lambda: as_reed(3), UnitError, "reed needs a Reed, a ReedType or a name in reeds; you gave 3"),
        (lambda: band_of(3), UnitError, "reed needs a Reed, a ReedType or a name in reeds; you gave 3"),
        (lambda: band_of("10 W reed"), UnknownNameError, "use one of: '10 W reed, 7 to 21 AT'"),
    ],
)
def test_what_cannot_be_is_refused(call, kind, said):
    with pytest.raises(kind, match=said):
        call()


@pytest.mark.parametrize(("name", "value"), [("pull_in", "6 AT"), ("release", "2 AT")])
def test_a_band_the_wrong_way_round(name, value):
    figures = {each: getattr(SOLD, each) for each in SOLD.__kinds__} | {f"{name}_most": value}
    with pytest.raises(RangeError, match=f"{name}_least of X needs no more than {name}_most"):
        ReedType(name="X", **figures)
