"""The flux index of a magnet against the rule's limit."""

import numpy as np
import pytest

from sigcalc.design.train.magnet_hazard import LIMIT, findings, magnet_hazard
from sigcalc.errors import UnknownNameError
from sigcalc.parts.magnet import BarMagnet, Magnet


def test_the_limit_is_the_rules():
    assert LIMIT == 50  # 16 CFR 1262.2: flux index less than 50 kG2 mm2


def test_a_disc_by_hand():
    # on the axis at the face: Br/2 * L / sqrt(L^2 + r^2); 1 T = 10 kG
    magnet = Magnet("5 mm", "3 mm", "1.2 T")
    kilogauss = 10 * 0.6 * 3 / np.hypot(3, 2.5)
    assert magnet_hazard(magnet).flux_index == pytest.approx(kilogauss**2 * np.pi * 2.5**2)


def test_a_bar_counts_the_area_of_its_pole():
    thin = magnet_hazard(BarMagnet("10 mm", "5 mm", "2 mm", "1.2 T"))
    wide = magnet_hazard(BarMagnet("20 mm", "10 mm", "4 mm", "1.2 T"))
    assert wide.flux_index == pytest.approx(4 * thin.flux_index)  # the same shape, twice as large


def test_usual_magnets_are_beyond_the_limit_and_a_weak_one_is_not():
    (found,) = findings(magnet_hazard("5 x 3 mm disc, N35"))
    assert found.grade == "look again"
    assert "medical help at once" in found.remedy
    assert findings(magnet_hazard(Magnet("5 mm", "1 mm", "0.2 T")))[0].grade == "fine"
    with pytest.raises(UnknownNameError):
        magnet_hazard("nothing")
