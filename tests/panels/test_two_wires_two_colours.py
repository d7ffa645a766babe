"""The panels of "two wires, two colours" say what the library says, and refuse in a sentence."""

import re

import numpy as np
import pytest

from sigcalc.design.findings import FINE, LOOK, STOP
from sigcalc.design.pair.alternation import AC, REVERSED
from sigcalc.design.pair.brightness import even_currents, even_out
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.pair.wiring import wirings
from sigcalc.lessons.two_wires_two_colours import across_the_dark_lamp, one_resistor_or_two
from sigcalc.panels.base import BOTH
from sigcalc.panels.two_wires_two_colours import (
    BRIDGED,
    BRIGHTNESS,
    DIODES,
    DRIVER,
    EXTRA,
    FIRST,
    INSIDE,
    LAST,
    ONE_SIGNAL,
    OPEN,
    SHARED,
    TWO_SIGNALS,
    AlternationPanel,
    BranchPanel,
    FourSwitchesPanel,
    PairPanel,
    ReversingPanel,
    SharedReturnPanel,
)
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.units import say
from sigcalc.views.signal_circuit import HALF_IN_EACH, RESISTOR_IN
from tests.panels.moving import fresh, grades, put, refused
from tests.views.svg import SVG, groups, spans, words

ORDINARY_RED, ORDINARY_GREEN = leds["ordinary red 3 mm"], leds["ordinary green 3 mm"]


@pytest.mark.parametrize(("lit", "dark", "polarity"), [("red", "green", +1), ("green", "red", -1)])
def test_the_direction_chooses_the_lamp_and_the_dark_one_sees_its_drop(lit, dark, polarity):
    panel = PairPanel()
    scene = put(panel, supply=9, resistor=680, direction=lit)
    point = TwoLeadPair(leds["bright red 3 mm"], ORDINARY_GREEN).operate("9 V", ResistorDrive("680 ohm"), polarity)
    assert scene.sentence.startswith(f"{lit.capitalize()} is lit with {say(point.si.current, 'A')}")
    assert f"the {dark} LED is dark with {say(point.si.reverse_voltage, 'V')} across it in reverse" in scene.sentence
    assert grades(scene) == {f"{lit} lamp": FINE, f"dark {dark} lamp": FINE}
    assert grades(put(panel, supply=24, resistor=470))[f"{lit} lamp"] == STOP
    assert put(panel, supply=1).sentence.startswith("Neither lamp is lit")


@pytest.mark.parametrize("direction", ["red", "green"])
def test_the_resistor_may_be_in_either_wire_or_half_in_each(direction):
    panel, seen = PairPanel(), []
    for where in RESISTOR_IN:
        scene = put(panel, direction=direction, the_resistor_is_in=where)
        looks, drawn = scene.pictures
        count = 2 if where == HALF_IN_EACH else 1
        assert (
            len(groups(looks, "thing resistor")) == 2 * len(groups(drawn, "resistor")) == 2 * count
        )  # each has its light
        label = "340 Ω ± 5 %" if count == 2 else "680 Ω ± 5 %"
        assert words(looks).count(label) == words(drawn).count(label) == count
        seen.append(scene.sentence)
    assert len(set(seen)) == 1


branches = fresh(BranchPanel)


def branch(panel, way=SHARED, extra=0, diodes=False, supply=9, bars=False, direction="red", resistor=680):
    named = {EXTRA: extra, DIODES: diodes, "what limits the current": way, BRIGHTNESS: bars}
    return put(panel, named, supply=supply, resistor=resistor, direction=direction)


def test_a_dead_lamp_has_no_bar_of_light(branches):
    scene = branch(branches, supply=24, resistor=100, bars=True)
    assert groups(scene.pictures[-1], "led red dark")
    assert "A lamp that gives no light compares with nothing." in scene.sentence


def test_the_trap_and_its_remedy(branches):
    assert "has 1.93 V across it in reverse; its limit is 5 V" in branch(branches).sentence
    trap = branch(branches, INSIDE)
    assert "has 9 V across it in reverse; its limit is 5 V" in trap.sentence
    assert grades(trap)["dark green lamp"] == STOP
    assert grades(branch(branches, INSIDE, direction="green"))["dark red lamp"] == STOP
    spared = branch(branches, INSIDE, diodes=True)
    assert "dark green lamp" not in grades(spared)
    assert "has 9 V across it in reverse; its plain diode blocks it" in spared.sentence
    assert "on its branch" in spared.pictures[1].svg


def test_the_panels_as_they_are_first_show_what_is_said_of_the_guesses(branches):
    for seen, scenes in (
        (across_the_dark_lamp().seen, (PairPanel().picture, put(PairPanel(), supply=24))),
        (one_resistor_or_two().seen, (branches.picture, put(branches, {"what limits the current": INSIDE}))),
    ):
        said = [re.search(r"([\d.]+ V) across (?:it|the)", each.sentence)[1] for each in scenes]
        assert all(each in seen for each in said)


def test_an_extra_resistor_evens_the_lamps_and_loads_the_dark_one(branches):
    wanted = even_out("9 V", ResistorDrive("680 ohm"), TwoLeadPair(ORDINARY_RED, ORDINARY_GREEN))
    before = branch(branches)
    assert f"Another {say(wanted.si.extra, 'ohm')} in the {wanted.lamp} branch" in before.sentence
    assert grades(before) == {"brightness": LOOK}
    after = branch(branches, extra=round(wanted.si.extra, -1))
    assert "Both lamps are typically about as bright as each other." in after.sentence
    (brightness,) = (each for each in after.findings if each.topic == "brightness")
    assert brightness.reason.startswith("They may differ: both give the same light, typically.")
    seen = [float(re.search(r"has ([\d.]+) V across", each.sentence)[1]) for each in (before, after)]
    assert seen[1] > seen[0]
    # the remedy names its own price, unless the diodes pay it already
    price = r"But then the dark green LED has ([\d.]+) V across it in reverse: tick series diodes"
    assert float(re.search(price, before.sentence)[1]) == pytest.approx(seen[1], abs=0.01)
    assert "But then" not in branch(branches, diodes=True).sentence


def test_under_constant_current_the_extra_resistor_does_nothing_and_two_drivers_are_named(branches):
    red, green = even_currents(ORDINARY_RED, ORDINARY_GREEN, "10 mA")
    said = {}
    for extra in (0, 200, 5000):
        scene = branch(branches, DRIVER, extra)
        said[extra] = {each.topic: each for each in scene.findings}
        assert f"Two drivers, {red.m_as('mA'):.3g} mA for red and {green.m_as('mA'):.3g} mA" in scene.sentence
        assert said[extra]["brightness"].grade == LOOK
    assert said[0]["brightness"].remedy == "Use two drivers, one for each colour, or choose another LED."
    assert "holds 10 mA whatever is in the branch" in said[200]["extra resistor"].reason
    assert "leaves the driver too little voltage to hold its 10 mA" in said[5000]["extra resistor"].reason
    assert branches["resistor"].slider.disabled
    branch(branches)
    assert not branches["resistor"].slider.disabled


def test_a_bar_stays_while_the_other_lamp_is_dimmed_and_a_dark_lamp_has_none(branches):
    green = []
    for extra in (0, 500, 5000):
        *_, bars = branch(branches, extra=extra, bars=True).pictures
        ((start, end),) = spans(bars, "GREEN")
        green.append(end - start)
    assert green == pytest.approx([green[0]] * 3)
    assert len(branch(branches, bars=True).pictures) == 3
    assert len(branch(branches, bars=True, supply=0.5).pictures) == 2


# what each wiring shows in its first position, between (touching nothing, touching both), and in its last
DARK, SHORT, RED, GREEN = "dark", "short circuit", "red lights", "green lights"
ENDS = {
    "crossed switch": (RED, DARK, SHORT, GREEN),
    "crossed, centre off": (RED, DARK, SHORT, GREEN),
    "crossed relay": (RED, DARK, SHORT, GREEN),
    "cutting switch": (DARK, DARK, RED, RED),
    "split supply": (RED, DARK, SHORT, GREEN),
    "wrong: both straight": (RED, DARK, RED, RED),
    "wrong: one straight": (SHORT, SHORT, SHORT, SHORT),
    "wrong: one missing": (RED, DARK, SHORT, DARK),
    "wrong: + − exchanged": (GREEN, DARK, SHORT, RED),
}
BEFORE = "the resistor comes before the switch"
SHOWN_WHOLE = 20  # letters of a name that the closed list shows whole in large type


one_signal = fresh(ReversingPanel)


def scene_of(panel, wiring, where, before=False):
    return put(panel, {BEFORE: before}, wiring=ONE_SIGNAL[wiring], contacts=where, show=BOTH)


def grade_list(scene):
    return [each.grade for each in scene.findings]


def test_every_wiring_is_in_a_list_that_shows_its_name_whole():
    offered = {each.name for each in (*ONE_SIGNAL.values(), *TWO_SIGNALS.values(), FourSwitchesPanel.wiring)}
    assert set(wirings) <= offered
    assert all(0 < len(name) <= SHOWN_WHOLE for name in (*ONE_SIGNAL, *TWO_SIGNALS))


@pytest.mark.parametrize("wiring", ONE_SIGNAL)
def test_what_a_wiring_shows_at_its_ends_and_on_the_way_and_only_both_colours_are_fine(one_signal, wiring):
    scenes = [scene_of(one_signal, wiring, where) for where in (FIRST, OPEN, BRIDGED, LAST)]
    for scene, seen in zip(scenes, ENDS[wiring], strict=True):
        shown = {each for each in (DARK, SHORT, RED, GREEN) if each in scene.sentence.split(". ")[0]}
        assert shown == {seen}
        assert ONE_SIGNAL[wiring].says in scene.sentence
    first, between, bridged, _ = map(grade_list, scenes)
    for scene in scenes:  # a short circuit is on no picture that is fine, and in both pictures where it is none
        marked = ["SHORT CIRCUIT" in each.svg for each in scene.pictures]
        assert marked == [SHORT in scene.sentence.split(". ")[0]] * len(marked)
        assert not (any(marked) and FINE in grade_list(scene))
        assert len(marked) == (1 if one_signal.show.widget.children[1].disabled else 2)
    assert one_signal.show.widget.children[1].disabled == (wiring in ("crossed relay", "split supply"))
    if {RED, GREEN} == {ENDS[wiring][0], ENDS[wiring][-1]}:
        assert (first, between, bridged) == ([FINE], [FINE, FINE], [STOP])
    else:
        assert STOP in first
        assert FINE not in first


def test_a_resistor_before_the_switch_tames_a_short_circuit(one_signal):
    tamed = "only puts the supply across the resistor"
    assert tamed in scene_of(one_signal, "wrong: one straight", FIRST, before=True).sentence
    assert tamed not in scene_of(one_signal, "wrong: one straight", FIRST).sentence
    assert tamed not in scene_of(one_signal, "crossed switch", FIRST, before=True).sentence
    bridged = scene_of(one_signal, "crossed switch", BRIDGED, before=True)
    assert grade_list(bridged) == [LOOK]
    assert "across the resistor" in bridged.sentence
    looks, drawn = (each.svg for each in bridged.pictures)
    assert "all across" in looks
    assert "ALL ACROSS THE RESISTOR" in drawn
    assert "SHORT CIRCUIT" not in looks + drawn


def test_no_resistor_tames_the_short_circuit_of_a_split_supply_nor_one_that_is_none(one_signal):
    scene = scene_of(one_signal, "split supply", BRIDGED, before=True)
    assert STOP in grade_list(scene)
    assert "across the resistor" not in " ".join((scene.sentence, *(each.remedy for each in scene.findings)))
    assert "SHORT CIRCUIT" in scene.pictures[0].svg
    assert one_signal[BEFORE].widget.disabled
    cutting = scene_of(one_signal, "cutting switch", BRIDGED, before=True)
    assert all("across the resistor" not in each.reason for each in cutting.findings)


@pytest.mark.parametrize(
    ("closed", "seen"),
    [((1, 4), RED), ((2, 3), GREEN), ((1, 3), DARK), ((2, 4), DARK), ((), DARK), ((1, 2), SHORT), ((3, 4), SHORT)],
)
def test_two_of_four_switches_and_no_danger_behind_a_resistor(closed, seen):
    panel, switches = FourSwitchesPanel(), {f"switch {number} closed": number in closed for number in range(1, 5)}
    scene = put(panel, switches)
    assert seen in scene.sentence
    assert grade_list(scene)[0] == (STOP if seen == SHORT else LOOK)
    assert "7 of 16 positions" in scene.findings[-1].reason
    assert grade_list(put(panel, the_resistor_comes_before_the_switches=True)) == [LOOK]


shared = fresh(SharedReturnPanel)


@pytest.mark.parametrize("name", list(TWO_SIGNALS)[:4])
def test_two_signals_may_differ_unless_they_share_a_return_wire_and_a_supply(shared, name):
    assert put(shared, wiring=TWO_SIGNALS[name]).sentence.count(RED) == 2
    scene = put(shared, switch_2="down")
    if name == "shared return wire":
        assert SHORT in scene.sentence
        assert grade_list(scene) == [STOP]
    else:
        assert f"signal 1 {RED}" in scene.sentence
        assert f"signal 2 {GREEN}" in scene.sentence
        assert grade_list(scene) == [FINE]


def test_two_signals_behind_one_switch_change_together(shared):
    for position, seen in (("up", RED), ("down", GREEN)):
        scene = put(shared, wiring=TWO_SIGNALS["behind one switch"], switch_1=position)
        assert (scene.sentence.count(seen), grade_list(scene)) == (2, [LOOK])
    assert shared["switch 2"].widget.children[1].disabled


SHARE = "share of the time for red"


alternating = fresh(AlternationPanel)


def mean_currents(scene):
    """Through red and through green, in mA."""
    found = re.search(r"([\d.]+) mA through red and ([\d.]+) mA through green", scene.sentence)
    return float(found[1]), float(found[2])


def test_ac_lights_both_and_tells_nothing_and_quick_reversal_may_be_wanted(alternating):
    assert alternating.picture.sentence.startswith("On 60 Hz AC both lamps seem to be on")
    assert grades(alternating.picture)["colour"] == STOP
    scene = put(alternating, supply_turns_round=REVERSED, frequency=200)
    assert scene.sentence.startswith("On 200 Hz quick reversal both lamps seem to be on")
    assert grades(scene)["colour"] == LOOK
    assert "flash in turn" in put(alternating, frequency=2).sentence


def test_the_share_of_the_time_counts_for_quick_reversal_alone(alternating):
    share = alternating[SHARE]
    assert (share.slider.disabled, share.box.disabled) == (True, True)
    before = mean_currents(alternating.picture)
    assert mean_currents(put(alternating, {SHARE: 80})) == before
    most = mean_currents(put(alternating, supply_turns_round=REVERSED))
    assert (share.slider.disabled, share.box.disabled) == (False, False)
    half = mean_currents(put(alternating, {SHARE: 50}))
    assert most == pytest.approx((1.6 * half[0], 0.4 * half[1]), rel=0.01)
    put(alternating, supply_turns_round=AC)
    share.box.value = "most of it"
    assert alternating.picture is not None
    put(alternating, supply_turns_round=REVERSED)
    assert "share of the time for red needs 5 to 95 %" in refused(alternating)


def test_a_peak_keeps_its_height_while_the_other_settings_move(alternating):
    def height(scene):
        """Of red's curve, whose line is the one with the most corners."""
        paths = [path for row in groups(scene.pictures[0], "RED") for path in row.iter(SVG + "path")]
        curve = max((each.get("d") for each in paths if "fill: none" in each.get("style", "")), key=len)
        return np.ptp([float(each.split()[1]) for each in curve.replace("M", "L").split("L")[1:]])

    peaks = {volts: height(put(alternating, supply=volts, resistor=1000)) for volts in (6, 12, 24)}
    assert peaks[6] < 0.6 * peaks[12] < 0.6 * peaks[24]
    assert height(put(alternating, supply=24, resistor=100)) == pytest.approx(84, abs=3)
    assert "off the scale" in words(alternating.picture.pictures[0])


def test_on_the_stage_the_bars_come_first_and_what_must_not_be_built_says_why():
    panel = BranchPanel()
    panel.stage.value = True
    panel.put({"supply": 9, "what limits the current": INSIDE})
    assert panel.picture.brief == "The dark green LED has 9 V in reverse; limit 5 V."
    panel.put({BRIGHTNESS: True})
    assert "times green's light" in panel.picture.brief
    assert {"RED", "GREEN"} <= set(words(panel.picture.pictures[0]))
    panel.put({"what limits the current": SHARED, BRIGHTNESS: False})
    assert "times green's light" in panel.picture.brief
