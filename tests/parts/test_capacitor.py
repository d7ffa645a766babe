"""Capacitors: data sheet figures, and what is refused."""

import pytest

from sigcalc.errors import SigcalcError
from sigcalc.parts.capacitor import Capacitor, CapacitorKind


def test_published_leakage():
    # Nichicon MA data sheet (dtsheet.com/model/3711743): max(0.01 C[µF] V, 3) µA after 2 minutes, ±20 %
    for microfarads, volts, leaks in ((100, 16, 16), (470, 25, 117.5), (10, 16, 3), (22, 16, 3.52)):
        capacitor = Capacitor("electrolytic", f"{microfarads} µF", f"{volts} V")
        assert capacitor.most_leakage * 1e6 == pytest.approx(leaks, rel=1e-12)
        assert capacitor.leakage_resistance * leaks * 1e-6 == pytest.approx(volts, rel=1e-12)
        least, nominal, most = capacitor.corners
        assert (least / nominal, most / nominal) == pytest.approx((0.8, 1.2), rel=1e-12)


def test_the_wide_kind_reaches_eighty_per_cent_more_and_so_may_a_tolerance_of_ones_own():
    wide = Capacitor("wide-tolerance electrolytic", "100 µF", "16 V")
    assert wide.corners == pytest.approx((80e-6, 100e-6, 180e-6), rel=1e-12)
    own = Capacitor("polyester film", "1 µF", "63 V", tolerance_below="20 %", tolerance_above="80 %")
    assert own.corners == pytest.approx((0.8e-6, 1e-6, 1.8e-6), rel=1e-12)
    assert own.name == "1 µF 63 V polyester film capacitor"


def test_film_leaks_far_less_and_has_no_polarity():
    film, wet = (Capacitor(kind, "10 µF", "50 V") for kind in ("polyester film", "electrolytic"))
    assert film.most_leakage < wet.most_leakage / 5
    assert not film.kind.polarised
    assert wet.kind.polarised


USUAL = {"kind": "electrolytic", "capacitance": "100 µF", "rated_voltage": "16 V"}
KIND = {"name": "odd", "tolerance_below": 0.2, "tolerance_above": 0.2, "leakage_time": "100 s", "least_leakage": "0 A"}


@pytest.mark.parametrize(
    ("make", "given", "sentence"),
    [
        (Capacitor, USUAL | {"kind": "electrolytics"}, "'electrolytics' is not known; use one of: 'electrolytic'"),
        (CapacitorKind, KIND | {"polarised": False, "leakage_time": "0 s"}, "leakage_time needs"),
    ],
)
def test_refusals(make, given, sentence):
    with pytest.raises(SigcalcError, match=sentence):
        make(**given)
