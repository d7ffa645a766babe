"""The panels of "why a resistor" say what the library says, at every position."""

import pytest

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.lamp.direct import connect_directly, connect_to_source
from sigcalc.panels.base import AS_IT_IS_DRAWN, AS_IT_LOOKS, BOTH
from sigcalc.panels.why_a_resistor import BARE, LOAD_LINE, RED, SOURCES, ALittleMore, WhyAResistor
from sigcalc.parts.led import leds
from sigcalc.units import say
from tests.panels.moving import fresh, put, refused

panel = fresh(WhyAResistor)


def test_with_a_resistor_all_is_well(panel):
    scene = panel.picture
    result = connect_to_source(SOURCES["9 V battery"], leds[RED], "470 ohm")
    assert f"With 470 Ω the current through the red LED is {say(result.si.current, 'A')}" in scene.sentence
    assert [each.grade for each in scene.findings] == [FINE]
    most = say(result.si.current_max, "A")
    assert f"is up to {most}" in scene.findings[0].reason, "the verdict counts the same parts as the sentence"
    assert f"and {most}." in scene.sentence


def test_the_point_a_newcomer_takes_home(panel):
    # 0.1 V more: over 470 ohm a fifth of a milliampere, over the 2.5 ohm of the battery and the LED's own more than ten
    scene = panel.picture
    assert "stronger by 0.1 V would add 0.21 mA to that; without the resistor, 15 mA" in scene.sentence
    scene = put(panel, {BARE: True})
    assert "stronger by 0.1 V would add 15 mA to that; with 470 Ω, 0.21 mA" in scene.sentence


@pytest.mark.parametrize("source", [each for each in SOURCES if "coin" not in each])
def test_without_a_resistor_every_larger_source_destroys_the_red_led(panel, source):
    scene = put(panel, {BARE: True}, source=SOURCES[source])
    assert connect_directly(SOURCES[source], leds[RED]).verdict == "destroyed"
    assert [each.grade for each in scene.findings] == [STOP]
    assert "times its limit of 30 mA" in scene.sentence


def test_hundreds_of_times_the_limit_are_said_without_a_power_of_ten(panel):
    scene = put(panel, {BARE: True}, source=SOURCES["six AA cells"], LED=leds["low-current red 3 mm"])
    assert "220 times its limit of 7 mA" in scene.sentence


def test_the_coin_cell_is_told_honestly(panel):
    scene = put(panel, {BARE: True}, source=SOURCES["3 V coin cell"])
    assert "may survive with this source and die with the next" in scene.findings[0].reason
    assert "25 Ω" in scene.findings[0].reason
    assert "will not last" not in scene.sentence
    assert "the current through the red LED is 43 mA" in scene.sentence, "the picture shows it lit"


def test_too_small_a_resistor_is_a_finding(panel):
    assert STOP in {each.grade for each in put(panel, resistor=100).findings}
    assert [each.topic for each in panel.picture.findings] == ["LED current"], "the heat comes of it"
    assert [each.grade for each in put(panel, resistor=260).findings] == [LOOK]


def test_the_views(panel):
    for show, number in ((AS_IT_LOOKS, 1), (AS_IT_IS_DRAWN, 1), (BOTH, 2)):
        assert len(put(panel, show=show).pictures) == number
    things, circuit, line = put(panel, {LOAD_LINE: True}).pictures
    assert things.sentence == circuit.sentence
    assert "470 Ω" in things.svg
    assert "470 Ω" in circuit.svg
    assert "through 472 Ω" in line.sentence  # the load line counts the inside of the battery as well
    things, circuit, _ = put(panel, {BARE: True}).pictures
    assert "no resistor" in things.svg
    assert "no resistor" in circuit.svg
    assert "sigcalc-flow" not in things.svg + circuit.svg  # the lamp has burst, and nothing flows


def test_a_cliff_stays_a_cliff(panel):
    """The axes belong to the LED and the source; no slider moves them."""
    little, scales = ALittleMore(), set()
    for ohms in (47, 470, 9000):
        put(panel, {LOAD_LINE: True}, resistor=ohms)
        scales.add((panel.load_line.axes.get_xlim(), panel.load_line.axes.get_ylim()))
    assert len(scales) == 1
    scales = set()
    for volts in (little["voltage"].least, little["voltage"].most):
        little["voltage"].value = volts
        scales.add((little.chart.axes.get_xlim(), little.chart.axes.get_ylim()))
    assert len(scales) == 1
    assert "off the chart" in little.picture.pictures[1].svg


def test_a_box_that_cannot_be_read_is_refused_even_while_the_resistor_is_out(panel):
    put(panel, {BARE: True})
    panel["resistor"].box.value = "4,700"
    assert "resistor" in refused(panel)


def test_a_little_more():
    panel = ALittleMore()
    assert "it stays dark" in panel.picture.sentence, "how much a tenth of a volt does is the reader's guess"
    panel["voltage"].value = 1.75
    assert "4.29 times as much" in panel.picture.sentence
    panel["LED"].value = leds["white 3 mm"]
    panel["voltage"].value = panel["voltage"].least
    assert "next to nothing flows through the white LED" in panel.picture.sentence
    assert "its light can just be seen at 2.2" in panel.picture.sentence
    panel["voltage"].value = 3.2
    assert "At 3.2 V the current through the white LED is" in panel.picture.sentence
