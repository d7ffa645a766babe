"""Predictions of the whole catalogue: each fault's look and readings, and the faults that nothing tells apart."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.design.bench.circuit import LAMPS, drawn
from sigcalc.design.bench.fault import NOTHING_WRONG, faults_of, faulty
from sigcalc.design.bench.predictions import (
    classes,
    doubt,
    fault_views,
    first_signs,
    if_it_reads,
    look_alikes,
    predict,
    predictions_over,
    scaled,
)
from sigcalc.design.bench.reading import BenchReadings, measuring_points
from sigcalc.design.bench.visual_check import DIM_BELOW, SEEN, seen_shares
from sigcalc.errors import UnitError, UnknownNameError
from sigcalc.parts.led import LIT_FROM
from tests.design.bench.circuits import HAND, NAMES, circuits

DRAWS = 400
SIMPLE = circuits()["resistor"]
POINTS = measuring_points(circuits()["one-shot"])
USUAL = (10e-3, 9e-3)


class TestTheEye:
    @given(st.floats(0, 1), st.floats(0, 1), st.sampled_from([USUAL, (0.0, 9e-3)]))
    def test_shares_sum_to_one_and_nothing_is_impossible(self, red, green, usual):
        shares = seen_shares(red, green, usual)
        assert shares.sum() == pytest.approx(1.0)
        assert np.all(shares > 1e-3)

    def test_the_edges_are_doubtful(self):
        """At the current from which a lamp counts as lit, and at the share below which it counts as dim, it is even."""
        lit, dim = (dict(zip(SEEN, seen_shares(at, 0.0, USUAL), strict=True)) for at in (LIT_FROM, DIM_BELOW * 10e-3))
        assert lit["none"] == pytest.approx(0.5, abs=0.01)
        assert dim["red"] == pytest.approx(dim["dim red"], rel=0.02)


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


def groups(circuit, points, positions=(0, 1)):
    found = predict(circuits()[circuit], HAND, pairs=False, draws=DRAWS)
    numbered = classes(found, points, positions)
    return {
        frozenset(f.name for f, g in zip(found.faults, numbered, strict=True) if g == number) for number in numbered
    }


def test_what_is_seen_and_read_splits_the_faults():
    assert len(groups("resistor", [], ())) == 1  # nothing read and nothing seen
    by_eye = groups("resistor", [])
    dark = next(each for each in by_eye if "no supply" in each)
    assert {"break in the mast", "short at the mast hole", "resistor open", "no supply"} <= dark
    swapped = next(each for each in by_eye if "wires swapped" in each)
    assert swapped == {"wires swapped", "both LEDs reversed", "supply reversed"}
    for point, apart in (
        ("supply open", "supply reversed"),
        ("diode test A to B", "supply reversed"),
        ("pair, red", "both LEDs reversed"),
    ):
        assert {apart} in groups("resistor", [point])
    # more readings never join what fewer had told apart
    few, more = groups("mixed", ["pair, red"]), groups("mixed", ["pair, red", "pair, green", "shared resistor ohms"])
    assert all(any(each <= other for other in few) for each in more)

    found = predict(SIMPLE, HAND, pairs=False, draws=DRAWS)
    names = [each.name for each in found.faults]
    among = [names.index(each) for each in ("wires swapped", "both LEDs reversed", "no supply")]
    first, second, third = classes(found, [], (0, 1), among)
    assert first == second != third


def view_of(fault):
    return next(each for each in fault_views(SIMPLE, draws=DRAWS) if each.fault.name == fault)


@pytest.mark.parametrize(
    ("fault", "red", "green"),
    [
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
    ],
)
def test_what_the_eye_sees_of_a_fault(fault, red, green):
    view = view_of(fault)
    assert view.seen == {"red": red, "green": green}
    assert view.looks[red, green] == max(view.looks.values())
    assert f"set for red: {red}" in view.sentence


@pytest.mark.parametrize(("fault", "lit", "dark"), [("red LED reversed", *LAMPS[::-1]), ("green LED reversed", *LAMPS)])
def test_one_led_reversed(fault, lit, dark):
    """Both light in one position, unless the one with the lower drop takes all the current; neither in the other."""
    view = view_of(fault)
    assert {look[LAMPS.index(lit)] for look in view.looks} == {"both", "red"}
    assert view.seen[dark] == "none"


class TestFirstSigns:
    @pytest.mark.parametrize("name", NAMES)
    def test_each_fault_is_listed_once_at_the_first_point_that_shows_it(self, name):
        views = fault_views(circuits()[name], draws=DRAWS)
        assert [each.fault.name for each in views] == [each.name for each in faults_of(circuits()[name], pairs=False)]
        signs = first_signs(views)
        said = {fault: sign for sign in signs for fault in sign.faults}
        assert len(said) == sum(len(sign.faults) for sign in signs)
        for view in views[1:]:
            shown = if_it_reads(view, views[0])
            assert bool(shown) == (view.fault.name in said)
            assert not shown or said[view.fault.name].point.name == shown[0]

    def test_where_a_fault_gives_itself_away(self):
        views = fault_views(SIMPLE, draws=DRAWS)
        assert if_it_reads(views[0], views[0]) == ()
        assert "shared resistor ohms" in if_it_reads(view_of("resistor ten times too large"), views[0])
        broken = if_it_reads(view_of("break in the mast"), views[0])
        assert {"pair, red", "pair, green", "lamps, red"} <= set(broken)
        assert "supply open" not in broken

        signs = first_signs(views)
        across = {sign.text: sign.faults for sign in signs if sign.point.name == "shared resistor, red"}
        assert across["0 V"][0] == "red LED reversed"  # the commonest
        full = [faults for faults in across.values() if "short at the mast hole" in faults]
        assert [set(each) for each in full] == [{"short at the mast hole", "red LED shorted", "green LED shorted"}]
        # ten times the current through a contact is millivolts, less than clean contacts differ by
        (sign,) = [each for each in signs if "resistor ten times too small" in each.faults]
        assert sign.point.name not in ("wire A, green", "wire B, red")


@pytest.mark.parametrize(
    ("call", "error", "said"),
    [
        (lambda: look_alikes(SIMPLE, ["pair"]), UnknownNameError, "measuring point 'pair'"),
        (lambda: fault_views(None), UnitError, "circuit needs a BenchCircuit"),
    ],
)
def test_refusals(call, error, said):
    with pytest.raises(error, match=said):
        call()


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
def test_shapes_shares_and_a_sound_signal_that_looks_as_it_should(name):
    found = predict(circuits()[name], HAND, pairs=False, draws=DRAWS)
    count = len(found.faults)
    assert found.faults[0].name == NOTHING_WRONG
    assert all(values.shape == (count, DRAWS) for values in found.values.values())
    assert found.seen.shape == (count, 2, len(SEEN), DRAWS)
    assert found.seen.sum(axis=2) == pytest.approx(1.0)
    assert not any(np.isnan(values).any() for values in found.values.values())
    printed = predict(circuits()[name], HAND, False, DRAWS, printed=True)
    assert [SEEN[int(np.argmax(printed.seen[0, place, :, 0]))] for place in (0, 1)] == list(LAMPS)


def test_asking_again_costs_nothing_and_a_seed_decides():
    first = predict(SIMPLE, HAND, False, DRAWS)
    assert predict(SIMPLE, HAND, False, DRAWS) is first
    assert not np.array_equal(
        first.values["pair, red"], predict(SIMPLE, HAND, False, DRAWS, seed=2).values["pair, red"]
    )


@pytest.mark.parametrize("name", ["shared resistor ohms", "hold", "pair, red", "current, red"])
def test_a_doubt_is_that_of_a_small_step(name):
    """The doubt on a point's own scale is what the meter's uncertainty makes of the reading there; OL stays so."""
    point = POINTS[name]
    for value in (0.5, 8.0, 470.0, 20_000.0):
        unsure = HAND.uncertainty(point.setting, value)
        step = scaled(point, value + 1e-6 * unsure) - scaled(point, value)
        assert doubt(HAND, point, value) == pytest.approx(1e6 * step, rel=1e-3)
    assert scaled(point, np.array([0.0, np.inf])).tolist() == [0.0, np.inf]
