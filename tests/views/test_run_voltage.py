"""The battery's voltage against what relay and timer need."""

import re

import pytest

from sigcalc.views.run_voltage import RunVoltage
from tests.views.power_samples import RELAY, run
from tests.views.svg import words


@pytest.fixture(scope="module")
def view():
    return RunVoltage()


def test_it_ends_on_what_the_relay_needs(view):
    result = run(relay=RELAY)
    picture = view.picture(result)
    # 75 % of 9 V: Omron G5V-2-H1 data sheet
    assert view.needs[0].get_ydata()[0] == pytest.approx(6.75)
    ((hour,), (volts,)) = view.end.get_data()
    assert (hour, volts) == (pytest.approx(result.hours.m_as("h")), pytest.approx(6.75, abs=0.01))
    assert {"fails at 6.75 V", "relay pulls in from 6.75 V", "battery"} <= set(words(picture))
    assert "the relay pulls in from 6.75 V." in picture.sentence
    assert len(view.needs[1].get_ydata()) == 0


def test_relay_and_timer_are_told_apart(view):
    picture = view.picture(run(relay=RELAY, standby="5 mA", timer_voltage="4.5 V"))
    assert {"relay pulls in from 6.75 V", "timer board needs 4.5 V"} <= set(words(picture))
    assert picture.sentence.endswith("the relay pulls in from 6.75 V and the timer board needs 4.5 V.")
    assert len(set(re.findall(r"stroke-dasharray: ([^;\"]+)", picture.svg))) == 2


def test_with_a_hand_switch_nothing_is_needed(view):
    result = run()
    picture = view.picture(result)
    assert not any("relay" in each or "timer" in each for each in words(picture))
    volts = result.curve.si.voltage
    assert f"from {volts[0]:.3g} V to {volts[-1]:.3g} V" in picture.sentence
    assert list(view.voltage.get_ydata()) == list(volts)
