"""Predictions of the whole catalogue: kept answers are the right ones, samples are shared, looks sum to one."""

import numpy as np
import pytest

from sigcalc.design.bench import draws as bench_draws
from sigcalc.design.bench.fault import NOTHING_WRONG, faults_of
from sigcalc.design.bench.fault_change import faulty
from sigcalc.design.bench.predictions import nominal_predictions, predict, predictions_over, usual_currents
from sigcalc.design.bench.reading import BenchReadings
from sigcalc.design.bench.visual_check import SEEN
from sigcalc.parts.meter import OHMS, WATCH, meters
from tests.design.bench.circuits import NAMES, circuits

HAND = meters["hand meter"]


@pytest.mark.parametrize("name", ["mixed", "driver", "one-shot"])
def test_what_was_kept_is_what_each_fault_gives_alone(name):
    """Readings are shared between faults that leave alone what they depend on: none may be shared wrongly."""
    draws, circuit = bench_draws.drawn(3, 11), circuits()[name]
    faults = faults_of(circuit, pairs=name == "one-shot")
    together = predictions_over(circuit, HAND, faults, draws)
    for place, fault in enumerate(faults):
        alone = BenchReadings(faulty(circuit, fault, draws), HAND)
        for point in together.points.values():
            assert np.array_equal(together.values[point.name][place], alone.at(point)), (fault.name, point.name)


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
    found = nominal_predictions(circuits()[name], HAND)
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
