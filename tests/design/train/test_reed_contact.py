"""A load set against a reed's contacts: all limits at once, the rush at closing, bounce."""

import pytest

from sigcalc.design.findings import FINE, STOP
from sigcalc.design.train.reed_contact import findings, reed_contact
from sigcalc.errors import RangeError, UnitError, UnknownNameError
from sigcalc.parts.reed import Reed, reeds

# Littelfuse MDSR-10: "capable of switching 200Vdc or 0.5A at up to 10W", all limits at once; Coto RI-02 the same
SOLD = "10 mm reed, 10 to 25 AT"


@pytest.mark.parametrize(
    ("load", "crossed"),
    [
        (("12 V", "20 mA"), []),
        (("20 V", "0.5 A"), []),  # 10 W exactly
        (("21 V", "0.5 A"), ["voltage times current of 10.5 W is above 10 W"]),
        (("200 V", "50 mA"), []),
        (("201 V", "10 mA"), ["the voltage of 201 V is above 200 V"]),
        (("5 V", "0.6 A"), ["the current at closing of 600 mA is above 500 mA"]),
        (("12 V", "10 mA", "3 A"), ["the current at closing of 3 A is above 500 mA", "voltage times current of 36 W"]),
        (("5 V", "1.2 A"), ["the current at closing of 1.2 A", "the current once closed of 1.2 A is above 1 A"]),
    ],
)
def test_limits(load, crossed):
    found = reed_contact(SOLD, *load)
    assert len(found.crossed) == len(crossed)
    for said, expected in zip(found.crossed, crossed, strict=True):
        assert said.startswith(expected)
    verdict = findings(found)[0]
    assert verdict.grade == (STOP if crossed else FINE)
    assert all(each in verdict.reason for each in crossed)


@pytest.mark.parametrize(("voltage", "ohms"), [("12 V", 24), ("5 V", 10), ("40 V", 160), ("100 V", 1000)])
def test_least_series_resistance(voltage, ohms):
    # a dead short behind it: V / 0.5 A below 20 V, V^2 / 10 W above
    found = reed_contact(SOLD, voltage, "1 mA")
    assert found.least_resistance.to("ohm").magnitude == pytest.approx(ohms)
    amperes = found.voltage.magnitude / ohms
    assert reed_contact(SOLD, voltage, "0 A", inrush=f"{amperes} A").crossed == ()


def test_bounce_is_mentioned_where_the_current_is_small():
    # Coto, technical notes: "above approximately 100 mA the bounce time is almost zero"
    small, large = (findings(reed_contact(SOLD, "5 V", current)) for current in ("100 mA", "101 mA"))
    assert [each.topic for each in small] == ["reed's contacts", "bounce"]
    assert [each.topic for each in large] == ["reed's contacts"]


def test_results_are_quantities():
    found = reed_contact(reeds[SOLD], "12 V", "20 mA")
    assert found.power.to("mW").magnitude == pytest.approx(240)
    assert found.inrush == found.current


@pytest.mark.parametrize(
    ("call", "kind", "said"),
    [
        (lambda: reed_contact("10 mm reed", "12 V", "20 mA"), UnknownNameError, "reed '10 mm reed' is not known"),
        (lambda: reed_contact(Reed("2 mT", "1 mT"), "12 V", "20 mA"), UnitError, "a single Reed has no limits"),
        (lambda: reed_contact(SOLD, "-12 V", "20 mA"), RangeError, "voltage needs a contact voltage from 0 V to 1 kV"),
        (lambda: reed_contact(SOLD, "12 V", 0.02), UnitError, "current needs a current with its unit"),
    ],
)
def test_what_cannot_be_is_refused(call, kind, said):
    with pytest.raises(kind, match=said):
        call()
