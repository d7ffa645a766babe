"""The adapter's panel says what the library says, at every position."""

import itertools

import pytest

from sigcalc.design.findings import LOOK
from sigcalc.design.power.adapter import resistor_on_adapter
from sigcalc.panels.adapter_voltage import AdapterVoltagePanel
from sigcalc.parts.led import leds
from sigcalc.parts.source import adapters
from sigcalc.units import say
from tests.panels.moving import at_once


@pytest.fixture
def panel():
    return AdapterVoltagePanel()


def put(panel, adapter="9 V unregulated", other=0, current=10, led="red alingap 3 mm"):
    with at_once(panel):
        panel["adapter"].value, panel["LED"].value = adapters[adapter], leds[led]
        panel["other load"].value, panel["wanted current"].value = other, current
    return panel.picture


def test_it_says_voltage_and_resistor(panel):
    si = resistor_on_adapter(adapters["9 V unregulated"], leds["red alingap 3 mm"], "10 mA", other_load="100 mA").si
    sentence = put(panel, other=100).sentence
    assert sentence.startswith("With 110 mA the 9 V unregulated adapter gives")
    assert f"For 10 mA take {say(si.resistance, 'ohm')}: {say(si.current, 'A')} (" in sentence


def test_the_printed_voltage_would_mislead(panel):
    findings = put(panel).findings
    assert [each.grade for each in findings] == [LOOK]
    assert "chosen for the printed 9 V would be 820 Ω and pass 13.8 mA in place of 10 mA" in findings[0].reason


def test_a_regulated_one_has_nothing_to_be_looked_at(panel):
    assert put(panel, "9 V regulated").findings == ()


def test_more_load_than_it_gives_is_refused(panel):
    assert put(panel, "9 V regulated", other=400) is not None
    panel["other load"].box.value = "500"
    assert panel.picture is None
    assert "other load needs 0 to 400 mA" in panel.view.value


def test_little_room_is_looked_at(panel):
    # 80 % of what is printed at most: common practice, no source
    assert [each.topic for each in put(panel, "9 V regulated", other=400).findings] == ["headroom"]
    assert put(panel, "9 V regulated", other=380).findings == ()


@pytest.mark.parametrize("adapter", list(adapters))
def test_every_position_has_an_answer_or_a_sentence(panel, adapter):
    for (other, current), led in zip(itertools.cycle(itertools.product((0, 400), (1, 25))), leds, strict=False):
        assert put(panel, adapter, other, current, led) or 'role="alert"' in panel.view.value
        assert "nan" not in panel.view.value
