"""Relays against their printed data sheets."""

import pytest

from sigcalc.design.power.relay_coil import coil_on
from sigcalc.errors import SigcalcError
from sigcalc.parts.contacts import ContactRating
from sigcalc.parts.relay import Relay, as_relay, relays
from sigcalc.units import Q

# data sheets: rated voltage to printed current in mA, the power in mW, and up to which voltage it is that
SHEETS = {
    # Omron G5V-2, dtsheet.com/doc/1167300: "about 500 mW"
    "two-pole": ({3: 166.7, 5: 100, 6: 83.3, 9: 55.6, 12: 41.7, 24: 20.8, 48: 12}, 500, 24),
    # Omron G5V-2-H1, the same sheet: "about 150 mW"
    "two-pole sensitive": ({3: 50, 5: 30, 6: 25, 9: 16.7, 12: 12.5, 24: 8.33}, 150, 12),
    # Omron G5V-1, manualshelf.com and studylib.net/doc/18910800: "about 150 mW"
    "one-pole": ({5: 30, 9: 16.7, 12: 12.5, 24: 6.25}, 150, 12),
}
HALF_DIGIT = {8.33: 0.005, 6.25: 0.005}


class TestPublished:
    @pytest.mark.parametrize(("name", "sheet"), SHEETS.items())
    def test_currents_and_powers(self, name, sheet):
        for volts, milliamperes in sheet[0].items():
            coil = coil_on(f"{volts} V {name}", Q(volts, "V"))
            half = HALF_DIGIT.get(milliamperes, 0.5 if milliamperes == int(milliamperes) else 0.05)
            assert 1e3 * coil.current.nominal == pytest.approx(milliamperes, abs=half)
            if volts <= sheet[2]:
                assert 1e3 * coil.power.nominal == pytest.approx(sheet[1], rel=0.05)

    def test_power_is_voltage_squared_over_resistance(self):
        for relay in relays.values():
            si = relay.si
            assert si.rated_voltage**2 / si.coil_resistance == pytest.approx(si.coil_power, rel=0.05)
        # P series (xonelec.com): 0.10 W
        assert relays["5 V two-pole latching"].si.coil_power == pytest.approx(0.1, rel=0.05)

    def test_copper(self):
        """IEC 60028: 0.393 % for each kelvin above 20 °C; the current at which it pulls in does not change."""
        relay = relays["12 V two-pole"]
        assert relay.warmth(296.15) == 1
        assert relay.warmth(333.15) == pytest.approx((1 + 0.00393 * 40) / (1 + 0.00393 * 3), rel=1e-12)
        assert relay.operate_voltage(296.15) == pytest.approx(9.0)
        currents = [relay.operate_voltage(kelvin) / relay.resistances(kelvin)[1] for kelvin in (253.15, 293.15, 358.15)]
        assert currents == pytest.approx([currents[0]] * 3, rel=1e-12)
        least, nominal, most = relay.resistances(296.15)
        assert (least / nominal, most / nominal) == pytest.approx((0.9, 1.1))


USUAL = {
    "name": "own", "rated_voltage": "9 V", "coil_resistance": "540 ohm", "must_operate": 0.75, "must_release": 0.05,
    "most_share": 1.2, "coil_power": "150 mW", "operate_time": "5 ms", "release_time": "5 ms", "poles": 2,
    "contacts": ContactRating("own", "10 µA", "10 mV", "1 A"),
}  # fmt: skip


def test_ones_own_relay():
    relay = Relay(**USUAL)
    assert as_relay(relay) is relay
    assert relay.inductance is None


@pytest.mark.parametrize(
    ("call", "sentence"),
    [
        *(
            (lambda given=given: Relay(**USUAL | given), sentence)
            for given, sentence in (
                ({"coil_resistance": "0 ohm"}, "coil_resistance needs more than 0"),
                ({"rated_voltage": "-9 V"}, "rated_voltage needs more than 0"),
                ({"must_operate": 0.04}, "must_release to most_share needs"),
                ({"must_operate": 1.3}, "must_release to most_share needs"),
                ({"latching": True}, "must_release of own belongs to a relay that does not latch"),
                ({"must_release": None}, "must_release of own belongs to a relay that does not latch"),
                ({"poles": 0}, "poles needs"),
                ({"contacts": "2 A"}, "contacts needs ContactRating; you gave '2 A'"),
            )
        ),
        (lambda: as_relay("9 V two pole"), "use one of: '9 V two-pole'"),
        (lambda: as_relay(None), "relay needs a Relay or its name.*you gave None"),
    ],
)
def test_refusals(call, sentence):
    with pytest.raises(SigcalcError, match=sentence):
        call()
