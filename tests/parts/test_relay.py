"""Relays against their printed data sheets."""

import pytest

from sigcalc.errors import SigcalcError
from sigcalc.parts.contacts import ContactRating, contact_ratings
from sigcalc.parts.relay import Relay, as_relay, relays
from sigcalc.units import Q

# Omron G5V-2 data sheet, dtsheet.com/doc/1167300: rated voltage, rated current in mA, coil resistance, inductances
STANDARD = [
    (3, 166.7, 18, 0.04, 0.05),
    (5, 100, 50, 0.09, 0.11),
    (6, 83.3, 72, 0.16, 0.19),
    (9, 55.6, 162, 0.31, 0.49),
    (12, 41.7, 288, 0.47, 0.74),
    (24, 20.8, 1152, 1.98, 2.63),
    (48, 12, 4000, 7.23, 10.0),
]
# Omron G5V-2-H1, the same sheet
SENSITIVE = [(3, 50, 60), (5, 30, 166.7), (6, 25, 240), (9, 16.7, 540), (12, 12.5, 960), (24, 8.33, 2880)]
# Omron G5V-1, manualshelf.com and studylib.net/doc/18910800
ONE_POLE = [(5, 30, 167), (9, 16.7, 540), (12, 12.5, 960), (24, 6.25, 3840)]


def half_digit(printed):
    """Half of the last of three or four printed digits of a current in mA."""
    return {166.7: 0.05, 8.33: 0.005, 6.25: 0.005}.get(printed, 0.5 if printed == int(printed) else 0.05)


class TestPublished:
    @pytest.mark.parametrize(
        ("name", "rows"),
        [("two-pole", STANDARD), ("two-pole sensitive", SENSITIVE), ("one-pole", ONE_POLE)],
    )
    def test_coils(self, name, rows):
        for volts, milliamperes, ohms, *_ in rows:
            relay = relays[f"{volts} V {name}"]
            assert relay.rated_voltage == Q(volts, "V")
            assert relay.coil_resistance == Q(ohms, "ohm")
            assert relay.coil_tolerance == 0.1
            current = 1e3 * relay.si.rated_voltage / relay.si.coil_resistance
            assert current == pytest.approx(milliamperes, abs=half_digit(milliamperes))

    def test_inductances(self):
        """The same sheet, reference values: armature off and on."""
        for volts, _, _, off, on in STANDARD:
            relay = relays[f"{volts} V two-pole"]
            assert (relay.si.inductance_released, relay.si.inductance_operated) == (off, on)
            assert relay.inductance == on

    @pytest.mark.parametrize(
        ("name", "operate", "release", "most", "power", "operate_ms", "release_ms", "poles"),
        [
            # G5V-2: 75 % most, 5 % least, 120 %, about 500 mW; 7 ms and 3 ms most (scribd.com/document/376911004)
            ("12 V two-pole", 0.75, 0.05, 1.2, 0.5, 7, 3, 2),
            # G5V-2-H1: 180 %, about 150 mW (studylib.net/doc/18910776)
            ("12 V two-pole sensitive", 0.75, 0.05, 1.8, 0.15, 7, 3, 2),
            # G5V-1: 80 % most, 10 % least, 200 %, about 150 mW, 5 ms most
            ("12 V one-pole", 0.80, 0.10, 2.0, 0.15, 5, 5, 1),
        ],
    )
    def test_series(self, name, operate, release, most, power, operate_ms, release_ms, poles):
        si = relays[name].si
        assert (si.must_operate, si.must_release, si.most_share) == pytest.approx((operate, release, most))
        assert si.coil_power == power
        assert (si.operate_time, si.release_time) == pytest.approx((operate_ms / 1e3, release_ms / 1e3))
        assert si.poles == poles
        assert si.rated_voltage**2 / si.coil_resistance == pytest.approx(power, rel=0.05)  # "about"

    @pytest.mark.parametrize("name", list(relays))
    def test_power_is_voltage_squared_over_resistance(self, name):
        si = relays[name].si
        assert si.rated_voltage**2 / si.coil_resistance == pytest.approx(si.coil_power, rel=0.05)

    @pytest.mark.parametrize(("volts", "ohms", "milliamperes"), [(5, 50, 100), (9, 162, 55.56), (12, 288, 41.67)])
    def test_ohms_law_for_standard_coils(self, volts, ohms, milliamperes):
        """Arithmetic on the tables, 0.5 %."""
        relay = relays[f"{volts} V two-pole"].si
        assert relay.coil_resistance == ohms
        assert 1e3 * relay.rated_voltage / relay.coil_resistance == pytest.approx(milliamperes, rel=5e-3)

    def test_contacts(self):
        """G5V-2: 2 A 30 VDC, H1: 1 A 24 VDC; least 10 µA 10 mVDC. G5V-1: 1 A 24 VDC, 1 mA at 5 VDC."""
        for name, most, least, volts in [
            ("9 V two-pole", "2 A", "10 µA", "10 mV"),
            ("9 V two-pole sensitive", "1 A", "10 µA", "10 mV"),
            ("9 V one-pole", "1 A", "1 mA", "5 V"),
        ]:
            contacts = relays[name].contacts
            assert contacts.most_current == Q(most)
            assert contacts.least_current.to("A").magnitude == pytest.approx(Q(least).to("A").magnitude)
            assert contacts.least_voltage.to("V").magnitude == pytest.approx(Q(volts).to("V").magnitude)
            assert not contacts.from_memory
        # the table of contacts, filled in from the same sheet, agrees
        ours, table = relays["9 V two-pole"].contacts, contact_ratings["signal relay"]
        assert (ours.si.least_current, ours.si.most_current) == (table.si.least_current, table.si.most_current)

    def test_latching(self):
        """Two-pole latching relay, P series (xonelec.com): 5 V, 250 ohm, 0.10 W, set and reset within 75 %."""
        relay = relays["5 V two-pole latching"]
        assert relay.latching
        assert relay.coil_resistance == Q("250 ohm")
        assert relay.must_release is None
        assert relay.must_operate == 0.75
        assert relays.figures("12 V two-pole latching")["coil_resistance"].from_memory


class TestWarmth:
    def test_copper(self):
        """IEC 60028: 0.393 % for each kelvin above 20 °C."""
        relay = relays["12 V two-pole"]
        assert relay.warmth(296.15) == 1
        assert relay.warmth(333.15) == pytest.approx((1 + 0.00393 * 40) / (1 + 0.00393 * 3), rel=1e-12)
        assert relay.operate_voltage(296.15) == pytest.approx(9.0)
        assert relay.operate_voltage(333.15) == pytest.approx(9.0 * relay.warmth(333.15))

    def test_the_current_at_which_it_pulls_in_does_not_change(self):
        relay = relays["12 V two-pole"]
        currents = [relay.operate_voltage(kelvin) / relay.resistances(kelvin)[1] for kelvin in (253.15, 293.15, 358.15)]
        assert currents == pytest.approx([currents[0]] * 3, rel=1e-12)

    def test_tolerance(self):
        least, nominal, most = relays["12 V two-pole"].resistances(296.15)
        assert (least / nominal, most / nominal) == pytest.approx((0.9, 1.1))


USUAL = {
    "name": "own", "rated_voltage": "9 V", "coil_resistance": "540 ohm", "must_operate": 0.75, "must_release": 0.05,
    "most_share": 1.2, "coil_power": "150 mW", "operate_time": "5 ms", "release_time": "5 ms", "poles": 2,
    "contacts": ContactRating("own", "10 µA", "10 mV", "1 A"),
}  # fmt: skip


class TestRefusals:
    def test_ones_own_relay(self):
        relay = Relay(**USUAL)
        assert as_relay(relay) is relay
        assert relay.inductance is None

    @pytest.mark.parametrize(
        ("given", "sentence"),
        [
            ({"coil_resistance": "0 ohm"}, "coil_resistance of own needs to be above nought"),
            ({"rated_voltage": "-9 V"}, "rated_voltage of own needs to be above nought"),
            ({"must_operate": 0.04}, "need to rise"),
            ({"must_operate": 1.3}, "need to rise"),
            ({"latching": True}, "must_release of own belongs to a relay that does not latch"),
            ({"must_release": None}, "must_release of own belongs to a relay that does not latch"),
            ({"coil_tolerance": 1.0}, "coil_tolerance of own"),
            ({"poles": 0}, "poles of own"),
            ({"poles": 1.5}, "poles of own needs a whole number, but 1.5 came"),
            ({"latching": [True, False]}, "latching needs True or False"),
            ({"contacts": "2 A"}, "contacts needs ContactRating, but '2 A' came"),
        ],
    )
    def test_a_record_without_sense(self, given, sentence):
        with pytest.raises(SigcalcError, match=sentence):
            Relay(**USUAL | given)

    @pytest.mark.parametrize(
        ("relay", "sentence"),
        [("9 V two pole", "use one of: '9 V two-pole'"), (None, "relay needs a Relay or its name, but NoneType came")],
    )
    def test_what_is_no_relay(self, relay, sentence):
        with pytest.raises(SigcalcError, match=sentence):
            as_relay(relay)
