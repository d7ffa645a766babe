"""How many signals one source feeds, counted against smaller and larger boards; ways of wiring compared."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sigcalc.design.board.board import chain_board
from sigcalc.design.board.feeder import study_board
from sigcalc.design.board.limits import LAYOUTS, RULE_OF_THUMB, add_signals, most_signals
from sigcalc.design.findings import FINE, LOOK
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.power.load import Load
from sigcalc.errors import DesignError, RangeError, UnitError
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.parts.source import Adapter, adapters, batteries
from sigcalc.units import Q

# ---- most

PAIR = TwoLeadPair(leds["red alingap 3 mm"], leds["green ingan 3 mm"])
RESISTOR = Load(ResistorDrive("470 ohm", 0.05), PAIR)
DRIVER = Load(ConstantCurrentDrive("20 mA", "1.5 V"), PAIR)


@pytest.mark.parametrize("layout", list(LAYOUTS))
@pytest.mark.parametrize(("name", "share"), [("9 V regulated", 0.8), ("9 V alkaline", 0.75), ("9 V regulated", 0.97)])
def test_the_count_is_the_last_that_fits(layout, name, share):
    source = {**adapters, **batteries}[name]
    result = most_signals(source, RESISTOR, 28, "2 m", layout, share=share)

    def fits(count):
        study = study_board(LAYOUTS[layout]("again", source, RESISTOR, count, 28, "2 m"))
        enough = name == "9 V alkaline" or study.supply_current.to("A").magnitude <= 0.8 * source.si.max_current
        return enough and study.weakest.share_min >= share

    tried = [*range(1, result.count, 3), result.count, result.count + 1]
    assert [fits(count) for count in tried] == [True] * (len(tried) - 1) + [False]
    assert result.limited_by == ("light" if result.next_share < share else "adapter")


def test_drivers_on_a_stiff_adapter_are_counted_by_hand():
    # no wire to speak of: 20 mA each into 80 % of 500 mA
    result = most_signals(adapters["9 V regulated"], DRIVER, 20, "0 m", "star")
    assert result.count == 20
    assert result.limited_by == "adapter"
    assert result.si.current == pytest.approx(0.4, rel=1e-9)
    assert result.si.allowed == pytest.approx(0.4, rel=1e-9)
    assert result.share == 1.0


def test_the_rule_of_five_supposes_a_small_adapter():
    # common practice, no source: one 9 V adapter feeds up to about five signals. 20 mA drivers fill four fifths of an
    # adapter of 125 mA with five signals.
    small = Adapter("small 9 V", "9 V", 0.05, "0.1 ohm", "125 mA")
    result = most_signals(small, DRIVER, 24, "2 m", "star")
    assert result.count == RULE_OF_THUMB
    said = next(each for each in result.findings if each.topic == "rule of thumb")
    assert "supposes an adapter of about 125 mA" in said.reason
    assert said.reason.endswith("Here the rule fits.")
    larger = most_signals(adapters["9 V regulated"], DRIVER, 24, "2 m", "star").findings
    said = next(each for each in larger if each.topic == "rule of thumb")
    assert "rated 500 mA" in said.reason
    assert not said.reason.endswith("Here the rule fits.")


def test_thicker_wire_takes_more_until_the_adapter_is_full():
    thin, thick = (most_signals(adapters["9 V regulated"], RESISTOR, gauge, "3 m") for gauge in (30, 20))
    assert thin.count < thick.count
    assert thin.limited_by == "light"
    assert thick.limited_by == "adapter"


def test_a_battery_has_no_rating_and_the_findings_say_so():
    result = most_signals(batteries["9 V alkaline"], RESISTOR, 26, "1 m", "star", share=0.7)
    assert result.allowed is None
    assert result.limited_by == "light"
    assert next(each for each in result.findings if each.topic == "battery").grade == LOOK


def test_no_end_is_said_to_be_none(monkeypatch):
    monkeypatch.setattr("sigcalc.design.board.limits.MOST_SIGNALS", 100)
    huge = Adapter("huge", "9 V", 0.0, "0 ohm", "10 A")
    tiny = Load(ResistorDrive("1 Mohm"), PAIR)
    result = most_signals(huge, tiny, 16, "0 m", "star")
    assert (result.count, result.limited_by) == (100, "count")
    assert "No end was found" in result.findings[0].reason


def test_few_signals_are_looked_at_again():
    result = most_signals(adapters["9 V regulated"], RESISTOR, 30, "30 m", share=0.7)
    assert 1 <= result.count < RULE_OF_THUMB
    found = result.findings
    assert found[0].grade == LOOK
    assert found[1].grade == FINE


@pytest.mark.parametrize(
    ("kind", "said", "arguments"),
    [
        (DesignError, "not even one signal has 99 %", {"wire": 30, "run": "100 m", "layout": "star", "share": 0.99}),
        (DesignError, "not even one signal fits: it draws", {"derating": 0.001}),
        (UnitError, "layout", {"layout": "tree"}),
        (UnitError, "layout", {"layout": ["star"]}),
        (UnitError, "wire needs an area with its unit; you gave 'thin'", {"wire": "thin"}),
        (UnitError, "source", {"source": "9 V"}),
        (UnitError, "Load", {"load": PAIR}),
        (UnitError, "run", {"run": 2.0}),
        (RangeError, "share needs more than 0", {"share": 0.0}),
        (RangeError, "share", {"share": 1.5}),
    ],
)
def test_what_cannot_be_counted_is_refused(kind, said, arguments):
    whole = {"source": adapters["9 V regulated"], "load": RESISTOR, "wire": 26, "run": "2 m"} | arguments
    with pytest.raises(kind, match=said):
        most_signals(**whole)


@settings(max_examples=4)
@given(st.floats(0.5, 6.0), st.floats(0.5, 0.95), st.sampled_from(list(LAYOUTS)))
def test_asking_for_more_light_never_takes_more_signals(run, share, layout):
    source = adapters["9 V regulated"]
    some = most_signals(source, RESISTOR, 28, Q(run, "m"), layout, share=share)
    more = most_signals(source, RESISTOR, 28, Q(run, "m"), layout, share=share - 0.2)
    assert some.count <= more.count
    assert some.share >= share


# ---- adding

ADAPTER = adapters["12 V regulated"]
LOAD = Load(ResistorDrive("1 kohm", 0.05), leds["red alingap 3 mm"], standby="40 mA")


def test_each_count_is_that_board():
    found = add_signals(ADAPTER, LOAD, 26, "1.5 m", [1, 4, 9])
    for count, share, current in zip(found.count, found.si.share, found.si.current, strict=True):
        study = study_board(chain_board("chain", ADAPTER, LOAD, int(count), 26, "1.5 m"))
        assert share == pytest.approx(study.weakest.share_min)
        assert current == pytest.approx(study.supply_current.m_as("A"))


def test_it_agrees_with_the_most_signals():
    most = most_signals(ADAPTER, LOAD, 26, "1.5 m", "star")
    found = add_signals(ADAPTER, LOAD, 26, "1.5 m", [most.count, most.count + 1], "star")
    assert found.si.share == pytest.approx([most.share, most.next_share])
    assert found.si.current == pytest.approx([most.si.current, most.si.next_current])


def test_more_signals_never_mean_more_light_or_less_current():
    found = add_signals(ADAPTER, LOAD, 30, "1 m", range(1, 12))
    assert np.all(np.diff(found.si.share) < 0)
    assert np.all(np.diff(found.si.current) > 0)
    # each one more costs more than the one before
    assert np.all(np.diff(found.si.share, 2) < 0)


@pytest.mark.parametrize(
    ("kind", "said", "arguments"),
    [
        *((RangeError, "count needs a whole number", {"counts": [each]}) for each in (0, 1.5, "two", [1], 1001)),
        *((RangeError, "counts needs a list of whole numbers", {"counts": each}) for each in ("12", [], Q([1], "V"))),
        (UnitError, "layout needs one of", {"layout": "mixed"}),
    ],
)
def test_what_is_refused(kind, said, arguments):
    with pytest.raises(kind, match=said):
        add_signals(**({"source": ADAPTER, "load": LOAD, "wire": 26, "run": "1 m", "counts": [1]} | arguments))
