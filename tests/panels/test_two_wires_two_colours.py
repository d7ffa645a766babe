"""The panels of "two wires, two colours" say what the library says, at every position, and refuse in a sentence."""

import html
import re

import pytest

from sigcalc.design.pair.alternation import AC, REVERSED
from sigcalc.design.pair.brightness import even_currents, even_out
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.pair.wiring import wirings
from sigcalc.panels.two_wires_two_colours import (
    BOTH,
    BRIDGED,
    BRIGHTNESS,
    CIRCUIT,
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
    WAYS,
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
from tests.panels.moving import grades, put
from tests.views.svg import groups, spans

RED_WAY, GREEN_WAY = WAYS
PANELS = (PairPanel, BranchPanel, ReversingPanel, FourSwitchesPanel, SharedReturnPanel, AlternationPanel)


@pytest.fixture
def pair_panel():
    return PairPanel()


@pytest.fixture
def branches():
    return BranchPanel()


@pytest.mark.parametrize(("way", "lit", "dark"), [(RED_WAY, "Red", "green"), (GREEN_WAY, "Green", "red")])
def test_the_direction_chooses_the_lamp_and_the_dark_one_sees_its_drop(pair_panel, way, lit, dark):
    scene = put(pair_panel, supply=9, resistor=680, direction=way)
    point = TwoLeadPair(leds["red alingap 3 mm"], leds["green gap 3 mm"]).operate(
        "9 V", ResistorDrive("680 ohm"), WAYS[way]
    )
    assert scene.sentence.startswith(f"{lit} is lit with {say(point.si.current, 'A')}")
    assert f"the {dark} LED is dark with {say(point.si.reverse_voltage, 'V')} across it in reverse" in scene.sentence
    assert grades(scene) == {f"{lit.lower()} lamp": "fine", f"dark {dark} lamp": "fine"}


def test_too_much_current_and_too_little_voltage(pair_panel):
    assert grades(put(pair_panel, supply=24, resistor=470, direction=RED_WAY))["red lamp"] == "do not build"
    scene = put(pair_panel, supply=1, resistor=470)
    assert scene.sentence.startswith("Neither lamp is lit")


def branch(panel, way=SHARED, extra=0, diodes=False, supply=9, view=CIRCUIT, direction=RED_WAY, resistor=680):
    panel["view"].value, panel[EXTRA].value, panel[DIODES].value = CIRCUIT, extra, diodes
    panel["what limits the current"].value = way
    return put(panel, supply=supply, resistor=resistor, direction=direction, view=view)


def test_dimming_red_leaves_greens_bar_as_it_is(branches):
    branches["view"].value = BRIGHTNESS
    bars = []
    for extra in (0, 470, 1160):
        branches[EXTRA].value = extra
        (picture,) = branches.picture.pictures
        bars.append([end - start for (start, end), *_ in (spans(picture, lamp) for lamp in ("RED", "GREEN"))])
    red, green = zip(*bars, strict=True)
    assert green == pytest.approx([green[0]] * 3)
    assert red == tuple(sorted(red, reverse=True))


def test_a_dead_lamp_has_no_bar_of_light(branches):
    scene = branch(branches, supply=24, resistor=100, view=BRIGHTNESS)
    (circuit,) = scene.pictures
    assert groups(circuit, "led red dark")
    assert "A lamp that gives no light compares with nothing." in scene.sentence
    spared = branch(branches, supply=24, resistor=100, view=BRIGHTNESS, way=DRIVER)
    assert groups(spared.pictures[0], "RED")


def test_the_trap_and_its_remedy(branches):
    assert "has 1.93 V across it in reverse; its limit is 5 V" in branch(branches).sentence
    trap = branch(branches, INSIDE)
    assert "has 9 V across it in reverse; its limit is 5 V" in trap.sentence
    assert grades(trap)["dark green lamp"] == "do not build"
    assert "dark green lamp" not in grades(branch(branches, INSIDE, diodes=True))


def test_an_extra_resistor_evens_the_lamps_and_loads_the_dark_one(branches):
    pair = TwoLeadPair(leds["red gaasp 3 mm"], leds["green gap 3 mm"])
    wanted = even_out("9 V", ResistorDrive("680 ohm"), pair)
    before = branch(branches)
    assert f"Another {say(wanted.si.extra, 'ohm')} in the {wanted.lamp} branch" in before.sentence
    assert grades(before) == {"brightness": "look again"}
    after = branch(branches, extra=round(wanted.si.extra, -1))
    assert "Both lamps are typically about as bright as each other." in after.sentence
    (brightness,) = (each for each in after.findings if each.topic == "brightness")
    assert brightness.reason.startswith("They may differ: both give the same light, typically.")
    assert "resistor" not in brightness.remedy
    seen = [float(re.search(r"has ([\d.]+) V across", each.sentence)[1]) for each in (before, after)]
    assert seen[1] > seen[0]
    # the remedy names its own price, unless the diodes pay it already
    promised = re.search(
        r"But then the dark green LED has ([\d.]+) V across it in reverse: tick series diodes", before.sentence
    )
    assert float(promised[1]) == pytest.approx(seen[1], abs=0.01)
    assert "But then" not in branch(branches, diodes=True).sentence


def test_under_constant_current_the_extra_resistor_does_nothing_and_two_drivers_are_named(branches):
    without, extra = branch(branches, DRIVER), branch(branches, DRIVER, extra=300)
    red, green = even_currents(leds["red gaasp 3 mm"], leds["green gap 3 mm"], "10 mA")
    for scene in (without, extra):
        assert "Two drivers" in scene.sentence
        assert f"{red.m_as('mA'):.3g} mA for red and {green.m_as('mA'):.3g} mA for green" in scene.sentence
        assert grades(scene)["brightness"] == "look again"
    assert grades(extra)["extra resistor"] == "look again"
    assert branches["resistor"].slider.disabled
    branch(branches)
    assert not branches["resistor"].slider.disabled


def test_the_views_of_the_branches(branches):
    assert [len(branch(branches, view=view).pictures) for view in (CIRCUIT, BRIGHTNESS, BOTH)] == [1, 1, 2]
    for view in (CIRCUIT, BRIGHTNESS, BOTH):  # a dark lamp has no bar
        dark = branch(branches, supply=0.5, view=view)
        assert len(dark.pictures) == 1
        assert "Neither lamp is lit" in dark.pictures[0].sentence
        assert dark.sentence.startswith("Neither lamp is lit")
        assert "A lamp that gives no light compares with nothing" in dark.sentence
    assert grades(branch(branches, direction=GREEN_WAY, way=INSIDE))["dark red lamp"] == "do not build"


def test_under_one_driver_no_extra_resistor_is_advised(branches):
    scene = branch(branches, DRIVER)
    (brightness,) = (each for each in scene.findings if each.topic == "brightness")
    assert brightness.remedy == "Use two drivers, one for each colour, or choose another LED."
    held, dropped = (
        next(each for each in branch(branches, DRIVER, extra).findings if each.topic == "extra resistor")
        for extra in (200, 5000)
    )
    assert "holds 10 mA whatever is in the branch" in held.reason
    assert "leaves the driver too little voltage to hold its 10 mA" in dropped.reason
    assert "Remove it" in dropped.remedy


def test_a_series_diode_takes_the_reverse_voltage(branches):
    scene = branch(branches, INSIDE, diodes=True)
    assert "has 9 V across it in reverse; its plain diode blocks it" in scene.sentence
    assert "on its branch" in scene.pictures[0].svg


@pytest.mark.parametrize("panel", PANELS)
def test_large_type_and_the_plain_page(panel):
    shown = panel()
    page = html.unescape(shown._repr_mimebundle_()["text/html"])
    assert shown.picture.sentence in page
    shown["large type for the projector"].value = True
    assert "sigcalc-large" in shown._dom_classes
    natural = [float(width) for width in re.findall(r"max-width:([\d.]+)pt", shown.view.value)]
    assert natural == [1.5 * float(width) for width in re.findall(r"max-width:([\d.]+)pt", page)]


@pytest.mark.parametrize(
    ("panel", "name", "typed", "said"),
    [
        (PairPanel, "supply", "rubbish", "supply"),
        (PairPanel, "supply", "99", "0 to 24 V"),
        (BranchPanel, EXTRA, "-1", "0 to 5000 ohm"),
        (AlternationPanel, "frequency", "0", "1 to 3000 Hz"),
    ],
)
def test_rubbish_in_a_box_is_refused_and_the_picture_taken_away(panel, name, typed, said):
    shown = panel()
    shown[name].box.value = typed
    assert shown.picture is None
    assert 'role="alert"' in shown.view.value
    assert said in shown.view.value


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
PLACES = (FIRST, OPEN, BRIDGED, LAST)
BEFORE = "the resistor comes before the switch"
SHOWN_WHOLE = 20  # letters of a name that the closed list shows whole in large type


@pytest.fixture
def one_signal():
    return ReversingPanel()


@pytest.fixture
def four():
    return FourSwitchesPanel()


@pytest.fixture
def shared():
    return SharedReturnPanel()


def scene_of(panel, wiring, where, before=False):
    panel["wiring"].value, panel["contacts"].value, panel[BEFORE].value = ONE_SIGNAL[wiring], where, before
    return panel.picture


def grade_list(scene):
    return [each.grade for each in scene.findings]


def close(panel, *numbers):
    for number in range(1, 5):
        panel[f"switch {number} closed"].value = number in numbers
    return panel.picture


def test_every_wiring_is_in_a_list_and_every_list_is_tried_here():
    assert set(ENDS) == set(ONE_SIGNAL)
    offered = {each.name for each in (*ONE_SIGNAL.values(), *TWO_SIGNALS.values(), FourSwitchesPanel.wiring)}
    assert set(wirings) <= offered


@pytest.mark.parametrize("name", [*ONE_SIGNAL, *TWO_SIGNALS])
def test_the_list_shows_each_name_whole(name):
    assert 0 < len(name) <= SHOWN_WHOLE


@pytest.mark.parametrize("wiring", ENDS)
def test_what_a_wiring_shows_at_its_ends_and_on_the_way(one_signal, wiring):
    for where, seen in zip(PLACES, ENDS[wiring], strict=True):
        scene = scene_of(one_signal, wiring, where)
        shown = {each for each in (DARK, SHORT, RED, GREEN) if each in scene.sentence.split(". ")[0]}
        assert shown == {seen}, where
        assert ONE_SIGNAL[wiring].says in scene.sentence


@pytest.mark.parametrize("wiring", ENDS)
def test_only_what_shows_both_colours_is_fine(one_signal, wiring):
    seen = ENDS[wiring]
    at_the_end = grade_list(scene_of(one_signal, wiring, FIRST))
    if {RED, GREEN} == {seen[0], seen[-1]}:
        assert at_the_end == ["fine"]
        assert grade_list(scene_of(one_signal, wiring, OPEN)) == ["fine", "fine"]
        assert grade_list(scene_of(one_signal, wiring, BRIDGED)) == ["do not build"]
    else:
        assert "do not build" in at_the_end
        assert "fine" not in at_the_end


def test_a_resistor_before_the_switch_tames_a_short_circuit(one_signal):
    tamed = "only puts the supply across the resistor"
    assert tamed in scene_of(one_signal, "wrong: one straight", FIRST, before=True).sentence
    assert tamed not in scene_of(one_signal, "wrong: one straight", FIRST).sentence
    assert tamed not in scene_of(one_signal, "crossed switch", FIRST, before=True).sentence


@pytest.mark.parametrize(
    ("closed", "seen"),
    [((1, 4), RED), ((2, 3), GREEN), ((1, 3), DARK), ((2, 4), DARK), ((), DARK), ((1, 2), SHORT), ((3, 4), SHORT)],
)
def test_two_of_four_switches(four, closed, seen):
    scene = close(four, *closed)
    assert seen in scene.sentence
    assert grade_list(scene)[0] == ("do not build" if seen == SHORT else "look again")
    assert "7 of 16 positions" in scene.findings[-1].reason


def test_four_switches_behind_a_resistor_are_in_no_danger(four):
    four["the resistor comes before the switches"].value = True
    assert grade_list(close(four, 1, 2)) == ["look again"]


def test_a_shared_return_is_shorted_by_different_colours(shared):
    assert shared.picture.sentence.count(RED) == 2
    shared["switch 2"].value = "down"
    assert SHORT in shared.picture.sentence
    assert grade_list(shared.picture) == ["do not build"]


@pytest.mark.parametrize("name", ["own wires", "shared, own supplies", "shared, split supply"])
def test_what_lets_two_signals_differ(shared, name):
    shared["wiring"].value, shared["switch 2"].value = TWO_SIGNALS[name], "down"
    assert "signal 1 red lights" in shared.picture.sentence
    assert "signal 2 green lights" in shared.picture.sentence
    assert grade_list(shared.picture) == ["fine"]


def test_two_signals_behind_one_switch_change_together(shared):
    shared["wiring"].value = TWO_SIGNALS["behind one switch"]
    for switch_1, seen in (("up", RED), ("down", GREEN)):
        shared["switch 1"].value = switch_1
        for switch_2 in ("up", "down"):
            shared["switch 2"].value = switch_2
            assert shared.picture.sentence.count(seen) == 2
    assert grade_list(shared.picture) == ["look again"]
    buttons = shared["switch 2"].widget.children[1]
    assert buttons.disabled
    shared["wiring"].value = TWO_SIGNALS["own wires"]
    assert not buttons.disabled


def test_behind_the_resistor_a_bridge_on_the_way_is_no_short_circuit(one_signal):
    assert "do not build" in grade_list(scene_of(one_signal, "crossed switch", BRIDGED))
    scene = scene_of(one_signal, "crossed switch", BRIDGED, before=True)
    assert grade_list(scene) == ["look again"]
    assert "across the resistor" in scene.sentence
    (picture,) = scene.pictures
    assert "SHORT CIRCUIT" not in picture.svg
    assert "ALL ACROSS THE RESISTOR" in picture.svg


def test_no_resistor_tames_the_short_circuit_of_a_split_supply_nor_one_that_is_none(one_signal):
    scene = scene_of(one_signal, "split supply", BRIDGED, before=True)
    assert "do not build" in grade_list(scene)
    assert "across the resistor" not in " ".join((scene.sentence, *(each.remedy for each in scene.findings)))
    assert "SHORT CIRCUIT" in scene.pictures[0].svg
    assert one_signal["the resistor comes before the switch"].widget.disabled
    cutting = scene_of(one_signal, "cutting switch", BRIDGED, before=True)
    assert all("across the resistor" not in each.reason for each in cutting.findings)


SHARE = "share of the time for red"


@pytest.fixture
def alternating():
    return AlternationPanel()


def mean_currents(scene):
    """Through red and through green, in mA."""
    found = re.search(r"([\d.]+) mA through red and ([\d.]+) mA through green", scene.sentence)
    return float(found[1]), float(found[2])


def test_ac_lights_both_and_tells_nothing(alternating):
    assert alternating.picture.sentence.startswith("On 60 Hz AC both lamps seem to be on")
    assert grades(alternating.picture)["colour"] == "do not build"


def test_quick_reversal_may_be_wanted(alternating):
    scene = put(alternating, supply_turns_round=REVERSED, frequency=200)
    assert scene.sentence.startswith("On 200 Hz quick reversal both lamps seem to be on")
    assert grades(scene)["colour"] == "look again"


def test_the_share_of_the_time_counts_for_quick_reversal_alone(alternating):
    share = alternating[SHARE]
    assert share.slider.disabled
    assert share.box.disabled
    before = mean_currents(alternating.picture)
    assert mean_currents(put(alternating, **{SHARE: 80})) == before
    put(alternating, supply_turns_round=REVERSED)
    assert not share.slider.disabled
    assert not share.box.disabled
    assert mean_currents(alternating.picture)[0] > 3 * mean_currents(alternating.picture)[1]
    put(alternating, supply_turns_round=AC)
    assert share.slider.disabled


def test_a_lamps_mean_current_goes_with_its_share_of_the_time(alternating):
    half = mean_currents(put(alternating, supply_turns_round=REVERSED, **{SHARE: 50}))
    most = mean_currents(put(alternating, **{SHARE: 80}))
    assert most[0] == pytest.approx(1.6 * half[0], rel=0.01)
    assert most[1] == pytest.approx(0.4 * half[1], rel=0.01)


def test_rubbish_in_the_share_is_refused_where_it_counts(alternating):
    alternating[SHARE].box.value = "most of it"
    assert alternating.picture is not None
    put(alternating, supply_turns_round=REVERSED)
    assert alternating.picture is None
    assert "share of the time for red needs 5 to 95 %" in alternating.view.value


@pytest.mark.parametrize(("frequency", "seen"), [(2, "flash in turn"), (60, "seem to be on")])
def test_how_quick_reversal_looks(alternating, frequency, seen):
    assert seen in put(alternating, supply_turns_round=REVERSED, frequency=frequency).sentence


def test_no_voltage_and_too_much_current(alternating):
    scene = put(alternating, supply=0)
    assert "both lamps stay dark" in scene.sentence
    assert {grades(scene)[lamp] for lamp in ("red lamp", "green lamp")} == {"do not build"}
    scene = put(alternating, supply=24, resistor=100)
    assert {grades(scene)[lamp] for lamp in ("red lamp", "green lamp")} == {"do not build"}
