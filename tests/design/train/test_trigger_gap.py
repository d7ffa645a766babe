"""The largest gap for a reed's whole band, and its verdicts."""

import pytest

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.train.closures import closures
from sigcalc.design.train.trigger_gap import findings, largest_gap
from sigcalc.errors import DesignError, RangeError, UnitError, UnknownNameError
from sigcalc.parts.magnet import Magnet, magnets
from sigcalc.parts.reed import Reed, reeds
from sigcalc.units import Q, say

SOLD = "10 W reed, 7 to 21 AT"
DISC = "5 x 3 mm disc, N35"
WEAKEST = Magnet("5 mm", "3 mm", magnets[DISC].remanence_least)


def test_the_least_gap_is_that_of_the_weakest_magnet_and_the_least_sensitive_reed():
    for orientation in ("upright", "lengthwise"):
        found = largest_gap(magnet=DISC, reed=SOLD, orientation=orientation)
        reed = reeds[SOLD].least_sensitive
        assert len(closures(WEAKEST, reed, 0.999 * found.least, orientation)) > 0
        assert closures(WEAKEST, reed, 1.001 * found.least, orientation) == []
        middle = reeds[SOLD].middle
        assert len(closures(DISC, middle, 0.999 * found.nominal, orientation)) > 0
        assert closures(DISC, middle, 1.001 * found.nominal, orientation) == []
        assert found.least < found.nominal < found.most


def test_a_stronger_magnet_reaches_farther():
    gaps = [
        largest_gap(each, SOLD, "upright").si.nominal for each in ("3 x 1 mm disc, N35", DISC, "10 x 3 mm disc, N35")
    ]
    assert gaps == sorted(gaps)


def test_a_measured_pair_has_no_band():
    found = largest_gap(Magnet("5 mm", "3 mm", "1.2 T"), Reed("1 mT", "0.5 mT"), "lengthwise")
    assert found.least == found.nominal == found.most


def test_a_reed_known_by_its_ampere_turns_has_the_bridge_s():
    found = largest_gap(Magnet("5 mm", "3 mm", "1.2 T"), Reed.from_ampere_turns("15 AT", "8 AT", "25.4 mm"), "upright")
    assert found.least < found.nominal < found.most


def test_a_gap_within_the_least_is_fine_and_beyond_the_middle_pair_is_not_built():
    found = largest_gap(DISC, SOLD, "upright").si
    cases = (
        (0.99 * found.least, FINE),
        (1.01 * found.least, LOOK),
        (0.99 * found.nominal, LOOK),
        (1.01 * found.nominal, STOP),
    )
    for gap, grade in cases:
        (verdict,) = findings(largest_gap(DISC, SOLD, "upright", gap=Q(gap, "m")))
        assert verdict.grade == grade
        assert bool(verdict.remedy) == (grade != FINE)
    assert f"Bring the magnet to {say(found.least, 'm')}" in verdict.remedy
    assert findings(largest_gap(DISC, SOLD, "upright")) == ()


def test_where_the_least_sensitive_reed_does_not_close_even_touching():
    magnet = Magnet("2 mm", "0.5 mm", "1.2 T")
    reed = Reed.from_ampere_turns("25 AT", "10 AT", "25.4 mm")
    found = largest_gap(magnet, reed, "lengthwise", gap="0.01 mm")
    assert found.least.magnitude == 0
    assert found.most > Q("0.05 mm")
    assert findings(found)[0].grade == LOOK
    far = findings(largest_gap(magnet, reed, "lengthwise", gap="5 mm"))[0]
    assert far.grade == STOP
    assert f"Bring the magnet to {say(found.si.nominal, 'm')}" in far.remedy


@pytest.mark.parametrize(
    ("changed", "kind", "said"),
    [
        (
            {"orientation": "crosswise"},
            DesignError,
            "orientation crosswise, straight over the reed, gives no field along",
        ),
        ({"reed": Reed("2.9 T", "1 T")}, DesignError, "does not reach the reed's pull-in at any gap"),
        ({"gap": "-3 mm"}, RangeError, "gap needs a length from 0 m"),
        ({"gap": "0 mm"}, RangeError, "gap needs to be more than 0 mm"),
        ({"reed": "10 W"}, UnknownNameError, "reed '10 W' is not known"),
        ({"reed": 5}, UnitError, "reed needs a Reed, a ReedType or a name"),
        ({"magnet": "5 x 3"}, UnknownNameError, "magnet '5 x 3' is not known"),
    ],
)
def test_what_cannot_be_is_refused(changed, kind, said):
    with pytest.raises(kind, match=said):
        largest_gap(**({"magnet": DISC, "reed": SOLD, "orientation": "upright"} | changed))


def test_crosswise_beside_the_reed_works():
    assert largest_gap(DISC, SOLD, "crosswise", offset="6 mm").nominal > Q("4 mm")
