"""The bar of what the charge goes into: its parts add up, and each is named with its share."""

import pytest

from sigcalc.views.charge_shares import charge_shares
from tests.views.power_samples import RELAY, run
from tests.views.svg import SVG, group, words


@pytest.mark.parametrize(
    "result",
    [run(), run(relay=RELAY), run(relay=RELAY, standby="5 mA", timer_voltage="4.5 V", energised=0.2)],
    ids=["hand switch", "relay", "all"],
)
def test_the_parts_fill_the_bar(result):
    picture, si = charge_shares(result), result.si
    charges = [si.lamp_charge, si.standby_charge, si.coil_charge]
    assert sum(charges) == pytest.approx(si.used, rel=2e-3)
    left = 12.0
    for name, charge in zip(("the lamp", "the timer board and the drive", "the relay's coil"), charges, strict=True):
        bars = list(group(picture, f"part {name}").iter(SVG + "rect"))
        assert len(bars) == (2 if charge > 0 else 1)  # the second one is the key's
        if charge > 0:
            assert float(bars[0].get("x")) == pytest.approx(left, abs=0.02)
            assert float(bars[0].get("width")) == pytest.approx(456 * charge / si.used, abs=0.02)
            left += 456 * charge / si.used


def test_what_empties_the_battery_is_said():
    result = run(drive="driver", relay=RELAY)
    picture = charge_shares(result)
    assert picture.sentence.startswith("Of ")
    assert any(each.startswith("the relay's coil: ") and each.endswith(" 42 %") for each in words(picture))
    assert "the relay's coil uses" in picture.sentence
