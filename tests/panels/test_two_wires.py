"""The panels of "two wires, two colours" say what the library says, at every position, and refuse in a sentence."""

import html
import itertools
import re

import pytest

from sigcalc.design.pair.brightness import even_currents, even_out
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.panels.alternation import AlternationPanel
from sigcalc.panels.reversing import FourSwitchesPanel, ReversingPanel, SharedReturnPanel
from sigcalc.panels.two_wires import (
    BOTH,
    BRIGHTNESS,
    CIRCUIT,
    DIODES,
    DRIVER,
    EXTRA,
    INSIDE,
    SHARED,
    WAYS,
    BranchPanel,
    PairPanel,
)
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.units import say
from tests.panels.moving import grades, put
from tests.views.svg import SVG, group, groups

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
        bars.append([next(group(picture, f"bar {lamp}").iter(SVG + "rect")).get("width") for lamp in ("red", "green")])
    red, green = zip(*bars, strict=True)
    assert len(set(green)) == 1
    assert [float(each) for each in red] == sorted(map(float, red), reverse=True)


def test_a_dead_lamp_has_no_bar_of_light(branches):
    scene = branch(branches, supply=24, resistor=100, view=BRIGHTNESS)
    (circuit,) = scene.pictures
    assert group(circuit, "led red dark") is not None
    assert "A lamp that gives no light compares with nothing." in scene.sentence
    spared = branch(branches, supply=24, resistor=100, view=BRIGHTNESS, way=DRIVER)
    assert groups(spared.pictures[0], "bar red")


def test_the_trap_and_its_remedy(branches):
    assert "has 1.93 V across it in reverse; it stands 5 V" in branch(branches).sentence
    trap = branch(branches, INSIDE)
    assert "has 9 V across it in reverse; it stands 5 V" in trap.sentence
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
    assert "holds 10 mA whatever stands in the branch" in held.reason
    assert "leaves the driver too little voltage to hold its 10 mA" in dropped.reason
    assert "Take it out" in dropped.remedy


def test_a_series_diode_takes_the_reverse_voltage(branches):
    scene = branch(branches, INSIDE, diodes=True)
    assert "has 9 V across it in reverse; its plain diode blocks it" in scene.sentence
    assert "on its branch" in scene.pictures[0].svg


@pytest.mark.parametrize("way", [SHARED, INSIDE, DRIVER])
@pytest.mark.parametrize("supply", [0, 24])
@pytest.mark.parametrize("resistor", [100, 10_000])
@pytest.mark.parametrize("extra", [0, 5000])
def test_every_corner_of_the_branches_is_answered(branches, way, supply, resistor, extra):
    for diodes, direction in itertools.product((False, True), WAYS):
        assert branch(branches, way, extra, diodes, supply, CIRCUIT, direction, resistor) is not None


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
