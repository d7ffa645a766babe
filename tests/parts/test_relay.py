"""Relays: published coils, Ohm's law, and what is refused."""

import dataclasses

import pytest

from sigcalc.errors import RangeError, UnitError
from sigcalc.parts.relay import Relay, as_relay, relays


@pytest.mark.parametrize(
    ("name", "milliamperes", "volts"),
    [
        # relay-g5v2 and REL01: Omron G5V-2, 0.1 mA; must operate at 75 %
        ("DPDT 5 V", 100.0, 3.75),
        ("DPDT 6 V", 83.3, 4.5),
        ("DPDT 9 V", 55.6, 6.75),
        ("DPDT 12 V", 41.7, 9.0),
        # relay-g5v2-h1 and REL02 (960 ohm at 12 V)
        ("sensitive DPDT 5 V", 30.0, 3.75),
        ("sensitive DPDT 9 V", 16.7, 6.75),
        ("sensitive DPDT 12 V", 12.5, 9.0),
        # relay-g5v1: 80 %
        ("SPDT 9 V", 16.7, 7.2),
        ("SPDT 12 V", 12.5, 9.6),
    ],
)
def test_published_coils(name, milliamperes, volts):
    relay = relays[name]
    assert relay.coil_current.m_as("mA") == pytest.approx(milliamperes, abs=0.06)
    assert relay.operate_voltage.m_as("V") == pytest.approx(volts)
    assert relay.release_voltage.m_as("V") == pytest.approx(0.05 * relay.si.coil_voltage)
    assert relay.poles == (2 if "DPDT" in name else 1)


@pytest.mark.parametrize(
    ("call", "kind", "said"),
    [
        (lambda: Relay("x", "9 V", "0 ohm"), RangeError, "above zero"),
        (lambda: dataclasses.replace(relays["DPDT 9 V"], must_release=0.8), RangeError, "below must_operate"),
        (lambda: as_relay("DPDT 9 V"), UnitError, "relay needs"),
    ],
)
def test_what_is_refused_and_how(call, kind, said):
    with pytest.raises(kind, match=said):
        call()
