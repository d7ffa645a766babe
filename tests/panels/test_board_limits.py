"""How many signals, and which wire: the panels say what the library finds."""

import html

import pytest

from sigcalc.design.board.feeder_gauge import gauge_for
from sigcalc.design.board.most_signals import most_signals
from sigcalc.design.findings import STOP
from sigcalc.lessons.quillhaven import DRIVER, HAND, MAKES, RELAY, SENSITIVE, SOURCES, load
from sigcalc.panels.board import GAUGE, LENGTH, LIMIT, MAKE, SOURCE, WIRING
from sigcalc.panels.board_limits import DERATING, RUN, SHARE, HowManySignals, WhichGauge
from tests.panels.moving import at_once

NINE, TWELVE = SOURCES["9 V regulated, 500 mA"], SOURCES["12 V regulated, 1 A"]


@pytest.fixture
def how_many():
    return HowManySignals()


@pytest.fixture
def gauge():
    return WhichGauge()


def put(panel, values):
    with at_once(panel):
        for name, value in values.items():
            panel[name].value = value
    return panel.picture


def test_the_count_is_that_of_the_library(how_many):
    scene = put(how_many, {SOURCE: NINE, MAKE: RELAY})
    result = most_signals(NINE, load(NINE, RELAY), 26, "1.5 m")
    assert result.count == 5  # common practice, no source: one 9 V adapter feeds about five signals
    assert scene.sentence.startswith(f"{result.count} signals, ")
    wire, rule = scene.findings
    assert (wire.topic, wire.grade) == ("wire current", "look again")
    assert rule.topic == "rule of thumb"
    assert "Here the rule fits." in rule.reason
    assert [each.topic for each in put(how_many, {GAUGE: 22}).findings] == ["rule of thumb"]


def test_relays_that_would_stay_off_are_told_with_the_count(how_many):
    """Half the light of a lamp leaves far less than a relay needs: 9 V of 12 V (75 % must-operate)."""
    scene = put(how_many, {SOURCE: TWELVE, MAKE: RELAY, GAUGE: 30, SHARE: 50})
    assert (scene.findings[0].topic, scene.findings[0].grade) == ("relays", STOP)
    assert all(each.topic != "relays" for each in put(how_many, {MAKE: HAND}).findings)


def test_lighter_signals_are_many_more_and_then_the_light_sets_the_end(how_many):
    counts = {}
    for make in MAKES:
        counts[make] = int(put(how_many, {SOURCE: NINE, MAKE: make}).sentence.split()[0])
    assert counts[RELAY] * 2 <= counts[SENSITIVE] < counts[HAND]
    put(how_many, {MAKE: HAND})
    assert "one more would leave the weakest lamp" in how_many.picture.sentence


def test_more_reserve_fewer_signals_and_a_star_more(how_many):
    put(how_many, {SOURCE: NINE, MAKE: RELAY, DERATING: 50})
    assert how_many.picture.sentence.startswith("3 signals")
    put(how_many, {DERATING: 80, MAKE: HAND, RUN: 5})
    chain = int(how_many.picture.sentence.split()[0])
    star = int(put(how_many, {WIRING: "star"}).sentence.split()[0])
    assert star > chain


def test_not_even_one_is_refused_with_what_to_do(how_many):
    put(how_many, {SOURCE: SOURCES["9 V unregulated, 500 mA"], MAKE: RELAY, SHARE: 99})
    assert how_many.picture is None
    assert "not even one signal keeps 99 % of its light" in html.unescape(how_many.view.value)
    put(how_many, {SHARE: 80})
    assert how_many.picture is not None


def test_the_gauge_is_that_of_the_library(gauge):
    chosen = gauge_for(gauge.board(wire=30), 0.9)
    assert f"{chosen.gauge} AWG: the weakest, {chosen.weakest}, keeps" in gauge.picture.sentence
    assert "Wired as chain, 11.3 m of twin wire" in gauge.picture.sentence
    assert gauge.picture.findings[0].reason.startswith(f"{chosen.gauge} AWG leaves")
    bars = gauge.picture.pictures[0].sentence
    assert f"{chosen.gauge} AWG is the thinnest that is enough" in bars
    for each in chosen.tried:
        assert f"{each.gauge} AWG {100 * each.share:.3g} %" in bars


def test_a_wire_that_leaves_the_relays_too_little_is_not_called_fine(gauge):
    scene = put(gauge, {SOURCE: TWELVE, MAKE: RELAY, LENGTH: 60, SHARE: 30, WIRING: "chain"})
    assert (scene.findings[0].topic, scene.findings[0].grade) == ("relays", STOP)
    assert put(gauge, {SHARE: 90}).findings[0].topic == "gauge"


def test_a_longer_layout_takes_thicker_wire_and_a_star_thinner(gauge):
    def chosen():
        return int(gauge.picture.sentence.split(" AWG")[0].rsplit(" ", 1)[1])

    usual = chosen()
    put(gauge, {LENGTH: 30})
    assert chosen() < usual
    put(gauge, {LENGTH: 12, WIRING: "star"})
    assert chosen() > usual
    put(gauge, {WIRING: "chain", LIMIT: DRIVER})
    assert chosen() == 30


def test_a_wish_that_no_wire_fulfils_is_refused_with_what_limits_it(gauge):
    put(gauge, {SHARE: 99})
    assert gauge.picture is None
    assert "no gauge of 30, 28" in gauge.view.value
    assert GAUGE not in gauge.controls
