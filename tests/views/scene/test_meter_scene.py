"""The meter on the wired signal: probes on the points that are named, and lamps, display and sentence as told."""

import itertools
import re

import pytest

from sigcalc import DesignError
from sigcalc.design.bench.circuit import LAMPS
from sigcalc.design.bench.fault import burnt, faults_of
from sigcalc.design.bench.reading import measuring_points
from sigcalc.views.find_the_fault import probes
from sigcalc.views.light import Light
from sigcalc.views.meter_circuit import meter_picture
from sigcalc.views.scene.meter_scene import meter_scene
from sigcalc.views.scene.thing import thing
from sigcalc.views.style import STAGE
from tests.design.bench.circuits import circuits
from tests.views.samples import DRIVEN, SIGNAL
from tests.views.svg import HOSTILE, by_words, fills, groups, texts, words

CIRCUITS = {"resistor": SIGNAL, "driver": DRIVEN}
EVERY = pytest.mark.parametrize(
    ("circuit", "name"), [(key, name) for key, circuit in CIRCUITS.items() for name in measuring_points(circuit)]
)


def scene(name, circuit="resistor", reading="1.87 V", position="red", seen="red"):
    point = measuring_points(CIRCUITS[circuit])[name]
    return meter_scene(CIRCUITS[circuit], point, reading, position, seen)


def laid(picture, name):
    """How far each thing of that name is moved, and its fills."""
    found = [each for each in groups(picture, f"thing {name}") if each.get("transform")]
    return [(tuple(map(float, re.findall(r"-?[\d.]+", each.get("transform")))), fills(each)) for each in found]


@EVERY
def test_each_probe_is_on_the_point_that_the_words_name(circuit, name):
    picture, said = scene(name, circuit), probes(measuring_points(CIRCUITS[circuit])[name])
    tips = []
    for corner, _ in laid(picture, "probe"):
        near = [
            (corner[0] + x, corner[1] + y)
            for up, left in itertools.product((True, False), repeat=2)
            for x, y in [thing("probe", colour="red", up=up, left=left).ends["tip"]]
        ]
        tips.append(near)
    assert len(tips) == 2
    for letter, places in zip(said.split(" to "), tips, strict=True):
        if letter != "its wire":
            spot = by_words(picture, letter) if letter not in "+−AB" else None
            middles = [
                ((each.left + each.right) / 2, (each.top + each.bottom) / 2)
                for each in ([spot] if spot else [each for each in texts(picture) if each.words == letter])
            ]
            assert any(abs(x - u) < 20 and abs(y - v) < 24 for x, y in middles for u, v in places)


@EVERY
def test_no_words_overlap_or_leave_the_sheet_and_the_sentence_is_the_circuits(circuit, name):
    for position, reading in itertools.product(LAMPS, ("-1.234 V", "")):
        picture = scene(name, circuit, reading, position)
        found = texts(picture)
        assert not [pair for pair in itertools.combinations(found, 2) if pair[0].overlaps(pair[1])]
        assert all(each.left >= 0 and each.right <= 664 and each.top >= 0 and each.bottom <= 506 for each in found)
        point = measuring_points(CIRCUITS[circuit])[name]
        assert picture.sentence == meter_picture(CIRCUITS[circuit], point, reading, position, "red").sentence
        assert (reading or "not read") in words(picture)


@pytest.mark.parametrize(
    ("seen", "looks"), [("none", "DARK DARK"), ("dim green", "DARK DIM"), ("both", "ON ON"), ("", "? ?")]
)
def test_each_lamp_looks_as_the_eye_says(seen, looks):
    picture = scene("pair, red", seen=seen)
    ((_, drawn),) = laid(picture, "signal")
    for lamp, look in zip(LAMPS, looks.split(), strict=True):
        assert words_beside(picture, lamp) == look
        assert (Light.switched(lamp, lit=True).lens.lower() in drawn) == (look == "ON")


def words_beside(picture, lamp):
    """What is said below a lamp's name."""
    names = [each for each in texts(picture) if each.words == lamp.upper()]
    (below,) = (
        each
        for each in texts(picture)
        for name in names
        if each.left == name.left and 0 < each.top - name.top < 20 and name.size == each.size
    )
    return below.words


def test_without_power_the_supply_is_unplugged_and_a_current_is_read_in_a_gap():
    picture = scene("shared resistor ohms", reading="OL")
    assert "UNPLUGGED" in words(picture)
    assert [words_beside(picture, lamp) for lamp in LAMPS] == ["OFF", "OFF"]
    opened = {name: len(groups(scene(name), "wire A opened")) for name in ("pair, red", "current, red")}
    assert opened == {"pair, red": 0, "current, red": 1}


def on_a_wall(circuit, point, fault):
    return meter_scene(circuit, point, "OL", "red", "none", STAGE, fault)


@pytest.mark.parametrize("circuit", CIRCUITS.values(), ids=CIRCUITS)
def test_each_fault_that_was_found_is_ringed_and_a_lamp_that_it_killed_is_dead(circuit):
    point = measuring_points(circuit)["pair, red"]
    for fault in faults_of(circuit):
        picture = meter_scene(circuit, point, "OL", "red", "none", found=fault)
        assert bool(groups(picture, "fault")) == bool(fault.parts)
        assert bool(groups(on_a_wall(circuit, point, fault), "fault")) == bool(fault.parts)
        killed = list(burnt(circuit, fault))
        assert killed == [lamp for lamp in LAMPS if words_beside(picture, lamp) == "DEAD"]


def test_a_relay_is_refused_and_a_strangers_words_stay_words():
    timed = circuits()["one-shot"]
    with pytest.raises(DesignError, match="use meter_picture"):
        meter_scene(timed, next(iter(measuring_points(timed).values())), "", "red", "none")
    assert "<b>" not in scene("pair, red", reading=HOSTILE).svg
