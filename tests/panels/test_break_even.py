"""The panel of costs says what the library says; it counts with no charging of what must not be charged."""

import itertools

import pytest

from sigcalc.panels.break_even import EVENING, EVERY, PLUGGED, SIGNALS, USES, BreakEvenPanel
from sigcalc.parts.source import adapters, batteries
from tests.panels.moving import at_once


@pytest.fixture
def panel():
    return BreakEvenPanel()


def put(panel, battery="9 V alkaline", signal="20 mA, hand switch", uses="once", prices=(5, 15, 0.3), **more):
    with at_once(panel):
        panel["battery used"].value, panel["battery"].value = USES[uses], batteries[battery]
        panel["adapter"].value = adapters[more.get("adapter", "9 V regulated")]
        for name, price in zip(("battery", "adapter"), prices, strict=False):
            panel[f"price of the {name}"].value = price
        panel["price of a kWh"].value = prices[2]
        panel["an evening is"].value, panel["one"].value = (
            EVENING[more.get("hours", "3 h")],
            EVERY[more.get("one", "a week")],
        )
        panel["plugged in"].value, panel["signal"].value = PLUGGED[more.get("plugged", "all the time")], SIGNALS[signal]
    return panel.picture


def test_the_price_of_a_kwh_it_starts_with_is_a_usual_one(panel):
    """FROM MEMORY: US homes paid 0.15 to 0.18 USD in 2023 to 2025; elsewhere up to twice that."""
    assert 0.15 <= panel["price of a kWh"].checked() <= 2 * 0.18


def test_it_says_evenings_costs_and_break_even(panel):
    sentence = put(panel).sentence
    assert sentence.startswith("One battery lasts 9.6 evenings (6.9 to 13) of 3 h. An evening costs 0.52 in batteries")
    assert sentence.endswith("From evening 30 (21 to 41) on the adapter is cheaper; that comes after 7 months.")


def test_the_relay_makes_the_adapter_pay_sooner(panel):
    by_hand = put(panel).pictures[0].sentence
    held = put(panel, signal="20 mA, sensitive relay held").pictures[0].sentence
    assert "evening 30 " in by_hand
    assert "evening 12 " in held


def test_an_adapter_in_the_socket_uses_more_for_itself(panel):
    assert any(each.topic == "plugged in" for each in put(panel).findings)
    assert put(panel, plugged="evenings only").findings == ()


def test_an_old_adapter_is_no_level_six_one(panel):
    assert any(each.topic == "age of the adapter" for each in put(panel, adapter="9 V unregulated").findings)


@pytest.mark.parametrize("battery", [name for name, each in batteries.items() if not each.discharge.rechargeable])
def test_charging_what_must_not_be_charged_is_refused(panel, battery):
    assert put(panel, battery, uses="200 times", signal="5 mA, hand switch") is None
    assert f"the {battery} is not made to be charged and may leak or burst" in panel.view.value


def test_an_adapter_too_low_for_the_relay_has_no_price(panel):
    """A 9 V relay pulls in from 6.75 V (75 %, its data sheet's must-operate voltage); 5 V less 5 % are 4.75 V."""
    assert put(panel, adapter="5 V regulated", signal="20 mA, relay held") is None
    assert "gives 4.75 V at the least, and the relay needs 6.75 V" in panel.view.value
    assert put(panel, adapter="5 V regulated", signal="20 mA, hand switch") is not None


def test_a_rechargeable_pack_is_hard_to_beat(panel):
    scene = put(panel, "8 x AA NiMH", uses="200 times")
    assert "the adapter never pays for itself" in scene.sentence


def test_a_battery_that_does_not_start_has_no_price(panel):
    weak = put(panel, "9 V zinc-carbon", "20 mA, sensitive relay held")
    assert "(under 0.1 to 2.6)" in weak.sentence
    assert put(panel, "9 V zinc-carbon", "20 mA, relay held") is None
    assert "the weakest 9 V zinc-carbon does not even start with this signal" in panel.view.value


@pytest.mark.parametrize("prices", list(itertools.product((0, 50), (0, 100), (0, 2))))
def test_every_price_has_an_answer(panel, prices):
    assert put(panel, prices=prices, hours="8 h", one="a day") is not None, panel.view.value
    assert "nan" not in panel.view.value
    assert "inf" not in panel.picture.sentence


@pytest.mark.parametrize("battery", batteries)
def test_every_battery_has_an_answer_or_a_sentence(panel, battery):
    for signal in SIGNALS:
        assert put(panel, battery, signal) is not None or 'role="alert"' in panel.view.value


@pytest.mark.parametrize("typed", ["5 V", "5,500", "", "-1", "$5", "<b>5", "51"])
def test_rubbish_in_a_price_is_refused_and_escaped(panel, typed):
    put(panel)
    panel["price of the battery"].box.value = typed
    assert panel.picture is None
    assert "price of the battery" in panel.view.value
    assert "<b>5" not in panel.view.value
    assert put(panel) is not None
