"""Switches and relays as contact maps."""

import pytest

from sigcalc.errors import UnknownNameError
from sigcalc.parts.contacts import SwitchingDevice, switching_devices


@pytest.mark.parametrize(
    ("device", "poles", "throws"),
    [
        # Kuphaldt, Lessons in Electric Circuits, vol. IV ch. 4: poles are moving contacts, throws fixed ones
        ("single-throw switch", 1, 1),
        ("double-throw switch", 1, 2),
        ("double-pole single-throw switch", 2, 1),
        ("double-pole double-throw switch", 2, 2),
        ("double-pole double-throw switch, centre off", 2, 2),
        ("two-pole relay", 2, 2),
    ],
)
def test_poles_and_throws_follow_from_the_map(device, poles, throws):
    map_ = switching_devices[device]
    assert len(map_.poles) == poles
    assert {len(pole) - 1 for pole in map_.poles} == {throws}
    assert all(pole[0].startswith(("common", "a")) for pole in map_.poles)


def test_unknown_names_bring_the_nearest():
    with pytest.raises(UnknownNameError, match="use one of: 'up'"):
        switching_devices["double-throw switch"].joins("upp")
    with pytest.raises(UnknownNameError, match="terminal of the odd one"):
        SwitchingDevice("odd one", ("a",), {"on": (("a", "b"),)})
