"""The signal as things: it says and shows what the circuit in symbols does."""

import pytest

from sigcalc.errors import RangeError
from sigcalc.views.scene.signal_scene import signal_scene
from sigcalc.views.scene.source import COLUMN
from sigcalc.views.signal_circuit import signal_circuit
from sigcalc.views.style import MINUS, NORMAL, PLUS, STAGE
from tests.views.samples import DRIVER, FULL, PLAIN, RESISTOR, SIGNAL_SCENES
from tests.views.svg import fills, flows, groups, words


@pytest.mark.parametrize("switch", [True, False])
@pytest.mark.parametrize("name", SIGNAL_SCENES)
def test_it_says_what_the_circuit_says_and_the_lamps_say_the_same(name, switch):
    pair, supply, drive, kind = SIGNAL_SCENES[name]
    for polarity in (+1, -1):
        point = pair.operate(supply, drive, polarity)
        scene, circuit = signal_scene(point, "supply", kind, switch), signal_circuit(point, "supply", switch=switch)
        assert scene.sentence == circuit.sentence
        said = {each for each in words(circuit) if each.startswith(("RED ", "GREEN ")) or each.endswith("reverse")}
        assert said <= set(words(scene))


@pytest.mark.parametrize("switch", [True, False])
@pytest.mark.parametrize(("polarity", "lit", "dark", "signs"), [(+1, "RED", "GREEN", "+−"), (-1, "GREEN", "RED", "−+")])
def test_the_direction_of_the_current_chooses_the_colour(switch, polarity, lit, dark, signs):
    point = PLAIN.operate("9.5 V", RESISTOR, polarity)
    picture = signal_scene(point, "9 V alkaline", switch=switch)
    current = f"{point.si.current * 1e3:.1f} mA flows"
    assert {f"{lit} ON", f"{dark} DARK", f"wire A {signs[0]}", f"wire B {signs[1]}", current} <= set(words(picture))
    moving = {name: flows(picture, f"wire {name}") for name in "AB"}
    colours = {"+": PLUS, "−": MINUS}
    for (name, found), sign in zip(moving.items(), signs, strict=True):
        assert set(found) == {colours[sign]}, name
        for line in found[colours[sign]]:
            assert (line[0][0] < line[-1][0]) == (sign == "+")  # towards the signal on the right in the wire on plus
    assert len(groups(picture, "thing hand_switch")) == 2 * switch


def test_the_switch_and_the_lamps_look_as_the_polarity_has_them():
    seen = {sign: signal_scene(PLAIN.operate("9.5 V", RESISTOR, sign), "9 V", "adapter") for sign in (+1, -1)}
    for name in ("thing hand_switch", "thing signal"):
        assert fills(groups(seen[1], name)[1]) != fills(groups(seen[-1], name)[1])
    # the wires from the source to the switch stay as they are
    fed = [[each[1].attrib for each in groups(picture, "wire")[:2]] for picture in seen.values()]
    assert fed[0] == fed[1]


def test_a_driver_and_what_is_in_the_branches_is_shown():
    picture = signal_scene(FULL.operate("24 V", DRIVER, 1), "24 V", "bench supply")
    assert {"100 Ω", "2.2 kΩ", "with 1N4001"} <= set(words(picture))
    assert groups(picture, "thing driver")
    assert len(groups(picture, "own resistor")) == 2


@pytest.mark.parametrize("size", [NORMAL, STAGE], ids=["page", "wall"])
@pytest.mark.parametrize(("polarity", "plus"), [(+1, "A"), (-1, "B")])
def test_a_driver_feeds_the_wire_that_is_plus_for_it_passes_current_one_way_only(polarity, plus, size):
    picture = signal_scene(PLAIN.operate("12 V", DRIVER, polarity), "12 V", "adapter", switch=False, size=size)
    (out,) = (each for each in flows(picture, "wire")[PLUS] if each[0][0] == COLUMN + 112)  # from the driver's right
    (home,) = (each for each in flows(picture, "wire")[MINUS] if each[-1][0] == COLUMN + 112)
    assert out[0][1] < home[-1][1]  # plus comes out above
    (way,) = flows(picture, f"wire {plus}")[PLUS]
    assert out[-1] == way[0]
    assert f"wire {plus} +" in words(picture)


@pytest.mark.parametrize("bare", [True, False])
def test_on_a_wall_it_says_the_same_without_the_names_of_parts(bare):
    point = PLAIN.operate("9.5 V", RESISTOR, +1)
    page, wall = (signal_scene(point, "9 V", "adapter", False, size, bare=bare) for size in (NORMAL, STAGE))
    assert wall.sentence == page.sentence
    volts = {f"{point.si.led_voltage:.2f} V", f"{point.si.reverse_voltage:.2f} V reverse"}
    assert {"RED ON", "GREEN DARK", "680 Ω", "wire A +", "wire B −", *volts} <= set(words(wall))
    assert not any("3 mm" in each or "±" in each for each in words(wall))


def test_nothing_moves_where_no_lamp_lives():
    for name in ("overloaded", "dark"):
        pair, supply, drive, kind = SIGNAL_SCENES[name]
        assert not flows(signal_scene(pair.operate(supply, drive, 1), "x", kind), "wire")


def test_arrays_are_refused():
    with pytest.raises(RangeError, match="one supply voltage"):
        signal_scene(PLAIN.operate(["9 V", "12 V"], RESISTOR, 1), "9 V")
