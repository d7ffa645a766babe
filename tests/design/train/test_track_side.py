"""The reach to the neighbouring track, and its verdicts."""

import numpy as np
import pytest

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.train.closures import closures
from sigcalc.design.train.track_side import findings, side_reach
from sigcalc.errors import RangeError, UnitError, UnknownNameError
from sigcalc.parts.magnet import Magnet, magnets
from sigcalc.parts.reed import Reed, reeds
from sigcalc.units import Q

SOLD = "10 W reed, 7 to 21 AT"
DISC = "10 x 3 mm disc, N35"
STRONGEST = Magnet("10 mm", "3 mm", magnets[DISC].remanence_most)


@pytest.mark.parametrize("orientation", ["upright", "lengthwise", "crosswise"])
def test_the_most_is_that_of_the_strongest_magnet_and_the_most_sensitive_reed(orientation):
    found = side_reach(magnet=DISC, reed=SOLD, gap="4 mm", orientation=orientation)
    reed = reeds[SOLD].most_sensitive
    assert len(closures(STRONGEST, reed, "4 mm", orientation, offset=0.999 * found.most)) > 0
    beyond = Q(found.most.magnitude * np.linspace(1.001, 6, 30), "m")
    assert not any(closures(STRONGEST, reed, Q(np.full(30, 4.0), "mm"), orientation, offset=beyond))
    assert found.least < found.nominal < found.most


def test_verdicts():
    found = side_reach(DISC, SOLD, "8 mm", "lengthwise").si
    cases = (
        (1.01 * found.most, FINE),
        (0.99 * found.most, LOOK),
        (1.01 * found.nominal, LOOK),
        (0.99 * found.nominal, STOP),
    )
    for spacing, grade in cases:
        (verdict,) = findings(side_reach(DISC, SOLD, "8 mm", "lengthwise", spacing=Q(spacing, "m")))
        assert verdict.grade == grade
        assert bool(verdict.remedy) == (grade != FINE)
        assert "Lengthwise at a gap of 8 mm" in verdict.reason
    assert findings(side_reach(DISC, SOLD, "8 mm", "lengthwise")) == ()


def test_a_magnet_that_works_nowhere_reaches_nowhere():
    found = side_reach(DISC, Reed("2 T", "1 T"), "8 mm", "upright", spacing="1 mm")
    assert found.most.magnitude == 0
    assert findings(found)[0].grade == FINE


@pytest.mark.parametrize(
    ("changed", "kind", "said"),
    [
        ({"gap": "0 mm"}, RangeError, "gap needs to be more than 0 mm"),
        ({"gap": "-1 mm"}, RangeError, "gap needs a length from 0 m"),
        ({"spacing": 50}, UnitError, "spacing needs a length with its unit"),
        ({"orientation": "flat"}, UnknownNameError, "orientation 'flat' is not known"),
    ],
)
def test_what_cannot_be_is_refused(changed, kind, said):
    with pytest.raises(kind, match=said):
        side_reach(**({"magnet": DISC, "reed": SOLD, "gap": "8 mm", "orientation": "upright"} | changed))
