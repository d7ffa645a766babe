"""An adapter's line goes through its printed point, and the load's point lies on it."""

import numpy as np
import pytest

from sigcalc.design.power.adapter import adapter_voltage
from sigcalc.parts.source import adapters
from sigcalc.views.adapter_line import AdapterLine
from tests.views.svg import words


@pytest.fixture(scope="module")
def view():
    return AdapterLine()


@pytest.mark.parametrize("name", list(adapters))
@pytest.mark.parametrize("share", [0.0, 0.3, 1.0])
def test_line_point_and_band(view, name, share):
    adapter = adapters[name]
    at = adapter_voltage(adapter, share * adapter.max_current)
    view.picture(at)
    loads, volts = view.line.get_data()
    assert volts[-1] == pytest.approx(adapter.si.voltage, rel=0.025)
    ((load,), (given,)) = view.point.get_data()
    assert given == pytest.approx(np.interp(load, loads, volts))
    low, high = view.whisker.get_ydata()
    assert (low, high) == (at.si.voltage_min, at.si.voltage_max)
    assert low < given < high
    top = view.chart.axes.get_ylim()[1]
    assert max(view.ripple.get_xy()[:, 1]) <= top


def test_the_ripple_lies_outside_the_band(view):
    view.picture(adapter_voltage(adapters["9 V unregulated"], "250 mA"))
    band, ripple = view.band.get_xy(), view.ripple.get_xy()
    assert max(ripple[:, 1]) >= max(band[:, 1])
    # 10 % of 9 V from peak to valley at full load
    at_full = band[:, 0] == 500
    assert min(band[at_full, 1]) - min(ripple[at_full, 1]) == pytest.approx(0.45)


def test_words(view):
    picture = view.picture(adapter_voltage(adapters["9 V unregulated"], "10 mA"))
    assert picture.sentence == (
        "With 10 mA the 9 V unregulated adapter gives 13.2 V (10.6 V to 16.5 V), with ripple up to 16.5 V."
    )
    assert {"13.2 V at 10 mA", "printed: 9 V", "what it gives", "hatched: ripple"} <= set(words(picture))
    plain = view.picture(adapter_voltage(adapters["9 V regulated"], "10 mA"))
    assert plain.sentence == "With 10 mA the 9 V regulated adapter gives 9 V (8.55 V to 9.45 V)."
    assert "hatched: ripple" not in words(plain)
