"""Switches and relays as contact maps."""

import pytest

from sigcalc.errors import UnknownNameError
from sigcalc.parts.contacts import SwitchingDevice, switching_devices


def test_poles_and_throws_follow_from_the_map():
    # Kuphaldt, Lessons in Electric Circuits, vol. IV ch. 4: poles are moving contacts, throws fixed ones
    devices = {"single-throw switch": (1, 1), "double-throw switch": (1, 2), "double-pole single-throw switch": (2, 1)}
    two = ("double-pole double-throw switch", "double-pole double-throw switch, centre off", "two-pole relay")
    for device, (poles, throws) in (devices | dict.fromkeys(two, (2, 2))).items():
        map_ = switching_devices[device]
        assert len(map_.poles) == poles
        assert {len(pole) - 1 for pole in map_.poles} == {throws}
        assert all(pole[0].startswith(("common", "a")) for pole in map_.poles)


def test_unknown_names_bring_the_nearest():
    with pytest.raises(UnknownNameError, match="use one of: 'up'"):
        switching_devices["double-throw switch"].joins("upp")
    with pytest.raises(UnknownNameError, match="terminal of the odd one"):
        SwitchingDevice("odd one", ("a",), {"on": (("a", "b"),)})
