"""Predictions of the whole catalogue: each fault's look and readings, and the faults that nothing tells apart."""

import numpy as np
import pytest

from sigcalc.design.bench.circuit import drawn
from sigcalc.design.bench.fault import NOTHING_WRONG, faults_of, faulty
from sigcalc.design.bench.predictions import (
    classes,
    doubt,
    fault_views,
    first_signs,
    if_it_reads,
    look_alikes,
    nominal_predictions,
    predict,
    predictions_over,
    scaled,
    usual_currents,
    view_of,
)
from sigcalc.design.bench.reading import BenchReadings, measuring_points
from sigcalc.design.bench.visual_check import SEEN
from sigcalc.errors import UnitError, UnknownNameError
from sigcalc.parts.meter import OHMS, WATCH, meters
from tests.design.bench.circuits import HAND, NAMES, circuits

DRAWS = 400
POINTS = measuring_points(circuits()["one-shot"])


# Faults that neither eye nor meter can tell apart, whatever is measured. Solder across either LED and bare wires that
# touch all put some tenths of an ohm across the pair: a few millivolts, which is the meter's own doubt. A resistor in a
# branch tells its LED from the other's; with more current (one-shot) the millivolts of the mast's wires just show.
TIES = {
    "resistor": {frozenset({"red LED shorted", "green LED shorted", "short at the mast hole"})},
    "mixed": {frozenset({"green LED shorted", "short at the mast hole"})},
    "driver": {frozenset({"red LED shorted", "green LED shorted", "short at the mast hole"})},
    "one-shot": {frozenset({"red LED shorted", "green LED shorted"})},
    "mosfet": set(),
}


@pytest.mark.parametrize("name", NAMES)
def test_the_ties(name):
    assert {frozenset(each) for each in look_alikes(circuits()[name], draws=DRAWS)} == TIES[name]


LOOKS = [
    ("nothing wrong", "red", "green"),
    ("both LEDs reversed", "green", "red"),
    ("red LED open", "none", "green"),
    ("short at the mast hole", "none", "none"),
    ("resistor ten times too large", "dim red", "dim green"),
    ("wires swapped", "green", "red"),
    ("plus jumper missing", "red", "none"),
    ("jumpers straight", "red", "red"),
    ("no supply", "none", "none"),
    ("supply reversed", "green", "red"),
    ("adapter gives AC", "both", "both"),
]


@pytest.mark.parametrize(("fault", "red", "green"), LOOKS)
def test_what_the_eye_sees(fault, red, green):
    view = view_of(fault_views(circuits()["resistor"], draws=DRAWS), fault)
    assert view.seen == {"red": red, "green": green}
    assert red in view.may_be_seen["red"]
    assert f"set for red: {red}" in view.sentence


@pytest.mark.parametrize(
    ("fault", "lit", "dark"), [("red LED reversed", "green", "red"), ("green LED reversed", "red", "green")]
)
def test_one_led_reversed(fault, lit, dark):
    """Both light in one position, unless the one with the lower drop takes all the current; neither in the other."""
    view = view_of(fault_views(circuits()["resistor"], draws=DRAWS), fault)
    assert set(view.may_be_seen[lit]) == {"both", "red"}
    assert view.seen[dark] == "none"


@pytest.mark.parametrize("name", NAMES)
def test_every_fault_is_shown_with_a_band_at_every_point(name):
    views = fault_views(circuits()[name], draws=DRAWS)
    assert [each.fault.name for each in views] == [each.name for each in faults_of(circuits()[name], pairs=False)]
    for view in views:
        for reading in view.readings.values():
            assert reading.least <= reading.most
            assert reading.text


def test_where_a_fault_gives_itself_away():
    views = fault_views(circuits()["resistor"], draws=DRAWS)
    sound = view_of(views, NOTHING_WRONG)
    assert if_it_reads(sound, sound) == ()
    assert "shared resistor ohms" in if_it_reads(view_of(views, "resistor ten times too large"), sound)
    broken = if_it_reads(view_of(views, "break in the mast"), sound)
    assert {"pair, red", "pair, green", "lamps, red"} <= set(broken)
    assert "supply open" not in broken


def test_fewer_points_leave_more_alike():
    all_points, none = (look_alikes(circuits()["resistor"], points, draws=DRAWS) for points in (None, []))
    assert sum(map(len, none)) > 3 * sum(map(len, all_points))


def test_refusals():
    with pytest.raises(UnknownNameError, match="measuring point 'pair'"):
        look_alikes(circuits()["resistor"], ["pair"])
    with pytest.raises(UnknownNameError, match="fault"):
        view_of(fault_views(circuits()["resistor"], draws=DRAWS), "gremlins")
    with pytest.raises(UnitError, match="circuit needs a BenchCircuit"):
        fault_views(None)


class TestFirstSigns:
    @pytest.mark.parametrize("name", NAMES)
    def test_each_fault_stands_once_at_the_first_point_that_shows_it(self, name):
        views = fault_views(circuits()[name], draws=DRAWS)
        signs = first_signs(views)
        said = {fault: sign for sign in signs for fault in sign.faults}
        assert len(said) == sum(len(sign.faults) for sign in signs)
        for view in views[1:]:
            shown = if_it_reads(view, views[0])
            assert bool(shown) == (view.fault.name in said)
            if shown:
                assert said[view.fault.name].point.name == shown[0]

    def test_readings_apart_stand_apart_and_the_commonest_comes_first(self):
        signs = first_signs(fault_views(circuits()["resistor"], draws=DRAWS))
        across = {sign.text: sign.faults for sign in signs if sign.point.name == "shared resistor, red"}
        assert across["0 V"][0] == "red LED reversed"
        full = [faults for faults in across.values() if "short at the mast hole" in faults]
        assert [set(each) for each in full] == [{"short at the mast hole", "red LED shorted", "green LED shorted"}]

    def test_a_clean_contact_s_millivolts_are_no_sign(self):
        """Ten times the current through a contact is millivolts, less than clean contacts differ by."""
        signs = first_signs(fault_views(circuits()["resistor"], draws=DRAWS))
        (sign,) = [each for each in signs if "resistor ten times too small" in each.faults]
        assert sign.point.name not in ("wire A, green", "wire B, red")


@pytest.mark.parametrize("name", ["mixed", "driver", "one-shot"])
def test_faults_solved_together_are_what_each_gives_alone(name):
    draws, circuit = drawn(3, 11), circuits()[name]
    faults = faults_of(circuit, pairs=name == "one-shot")
    together = predictions_over(circuit, HAND, faults, draws)
    for place, fault in enumerate(faults):
        alone, _ = BenchReadings(circuit, faulty(circuit, fault, draws), HAND).at(together.points.values())
        for point, values in alone.items():
            assert together.values[point][place] == pytest.approx(values, rel=1e-9, abs=1e-12), (fault.name, point)


@pytest.mark.parametrize("name", NAMES)
def test_shapes_and_shares(name):
    found = predict(circuits()[name], HAND, pairs=False, draws=400)
    count = len(found.faults)
    assert found.faults[0].name == NOTHING_WRONG
    assert set(found.values) == set(found.points)
    assert all(values.shape == (count, 400) for values in found.values.values())
    assert found.seen.shape == (count, 2, len(SEEN), 400)
    assert found.seen.sum(axis=2) == pytest.approx(1.0)
    assert not any(np.isnan(values).any() for values in found.values.values())


@pytest.mark.parametrize("name", NAMES)
def test_a_sound_signal_looks_as_it_should(name):
    found = nominal_predictions(circuits()[name], HAND, draws=DRAWS)
    for place, lamp in enumerate(("red", "green")):
        assert SEEN[int(np.argmax(found.seen[0, place, :, 0]))] == lamp
    assert all(1e-3 < current < 20e-3 for current in usual_currents(circuits()[name], HAND))


def test_asking_again_costs_nothing_and_a_seed_decides():
    circuit = circuits()["resistor"]
    first = predict(circuit, HAND, False, 400)
    assert predict(circuit, HAND, False, 400) is first
    other = predict(circuit, HAND, False, 400, seed=2)
    assert not np.array_equal(first.values["pair, red"], other.values["pair, red"])


def test_a_meter_that_reads_high_spreads_volts_and_not_ohms():
    low = meters["hand meter, battery low"]
    good, high = (predict(circuits()["one-shot"], meter, False, 400) for meter in (HAND, low))
    for name, point in good.points.items():
        true, shown = good.values[name][0], high.values[name][0]
        finite = np.isfinite(true) & np.isfinite(shown)
        true, shown = true[finite], shown[finite]
        if point.setting in (OHMS, WATCH):
            assert np.array_equal(shown, true)
        else:
            assert np.all((np.abs(shown) >= np.abs(true)) & (np.abs(shown) <= 1.3 * np.abs(true) + 1e-12))


def groups(circuit, points, positions=(0, 1)):
    found = predict(circuits()[circuit], HAND, pairs=False, draws=400)
    numbered = classes(found, points, positions)
    return {
        frozenset(f.name for f, g in zip(found.faults, numbered, strict=True) if g == number) for number in numbered
    }


@pytest.mark.parametrize("name", ["shared resistor ohms", "hold", "pair, red", "current, red"])
def test_a_doubt_is_that_of_a_small_step(name):
    """The doubt on a point's own scale is what the meter's uncertainty makes of the reading there."""
    for value in (0.5, 8.0, 470.0, 20_000.0):
        unsure = HAND.uncertainty(POINTS[name].setting, value)
        step = scaled(POINTS[name], value + 1e-6 * unsure) - scaled(POINTS[name], value)
        assert doubt(HAND, POINTS[name], value) == pytest.approx(1e6 * step, rel=1e-3)


def test_ol_stays_infinite():
    assert scaled(POINTS["shared resistor ohms"], np.array([0.0, np.inf])).tolist() == [0.0, np.inf]


def test_with_nothing_read_and_nothing_seen_all_are_alike():
    assert len(groups("resistor", [], ())) == 1


def test_the_eye_alone_tells_colours_apart():
    found = groups("resistor", [])
    dark = next(each for each in found if "no supply" in each)
    assert {"break in the mast", "short at the mast hole", "resistor open", "no supply"} <= dark
    assert next(each for each in found if "wires swapped" in each) == {
        "wires swapped",
        "both LEDs reversed",
        "supply reversed",
    }


@pytest.mark.parametrize(
    ("points", "apart"),
    [
        (["supply open"], {"supply reversed"}),
        (["diode test A to B"], {"supply reversed"}),
        (["pair, red"], {"both LEDs reversed"}),
    ],
)
def test_each_reading_splits_what_it_can(points, apart):
    found = groups("resistor", points)
    assert any(each == apart for each in found)


def test_more_readings_never_join_what_fewer_had_told_apart():
    few = groups("mixed", ["pair, red"])
    more = groups("mixed", ["pair, red", "pair, green", "shared resistor ohms"])
    for each in more:
        assert any(each <= other for other in few)


def test_a_part_of_the_faults_alone():
    found = predict(circuits()["resistor"], HAND, pairs=False, draws=400)
    names = [each.name for each in found.faults]
    among = [names.index(each) for each in ("wires swapped", "both LEDs reversed", "no supply")]
    first, second, third = classes(found, [], (0, 1), among)
    assert first == second != third
