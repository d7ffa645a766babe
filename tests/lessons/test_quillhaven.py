"""The invented layout: eight places in order, and loads that fit each source."""

import pytest

from sigcalc.lessons.quillhaven import CURRENT, DRIVER, HAND, MAKES, PLACES, RELAY, SOURCES, load, places
from sigcalc.parts.drive import ConstantCurrentDrive
from sigcalc.units import Q


def test_eight_signals_stand_in_order_along_the_layout():
    assert len(PLACES) == 8
    distances = [each.m_as("m") for each in places("10 m").values()]
    assert distances == sorted(distances)
    assert 0 < distances[0] < distances[-1] < 10
    assert list(places("10 m", 3)) == list(PLACES)[:3]


@pytest.mark.parametrize("source", SOURCES.values(), ids=SOURCES)
def test_a_lamp_gets_no_more_than_the_usual_current_at_the_printed_voltage(source):
    signal = load(source)
    current = signal.lamp.operate(source.nominal_voltage, signal.drive, +1).si.current
    assert 0.9 * Q(CURRENT).m_as("A") < current <= Q(CURRENT).m_as("A")
    assert isinstance(load(source, HAND, DRIVER).drive, ConstantCurrentDrive)


@pytest.mark.parametrize("source", SOURCES.values(), ids=SOURCES)
def test_the_relay_fits_the_source_and_the_usual_one_takes_the_most(source):
    coils = [load(source, make).relay for make in MAKES]
    assert coils[0] is None
    for relay in coils[1:]:
        assert relay.si.rated_voltage == source.nominal_voltage.m_as("V")
    assert coils[2].si.coil_resistance < coils[1].si.coil_resistance
    assert load(source, HAND).si.standby == 0 < load(source, RELAY).si.standby < 0.01
