"""A built signal with a hidden fault: readings within the meter's limit of the truth, looks as the light makes them."""

import numpy as np
import pytest

from sigcalc.design.bench import draws as bench_draws
from sigcalc.design.bench.fault import NOTHING_WRONG, catalogue
from sigcalc.design.bench.fault_change import faulty
from sigcalc.design.bench.measured import read_measured
from sigcalc.design.bench.reading import BenchReadings
from sigcalc.design.bench.simulated import SimulatedSignal
from sigcalc.errors import UnknownNameError
from sigcalc.parts.meter import meters
from tests.design.bench.circuits import NAMES, circuits

HAND = meters["hand meter"]


@pytest.mark.parametrize("name", NAMES)
def test_readings_lie_within_the_meter_s_limit(name):
    circuit, fault = circuits()[name], catalogue()["cold joint, green branch"]
    signal = SimulatedSignal(circuit, fault, seed=21)
    truth = BenchReadings(faulty(circuit, fault, bench_draws.drawn(1, 21)), HAND)
    for point in signal.points.values():
        shown = signal.read(point.name)
        found = read_measured(circuit, HAND, {point.name: shown})
        assert found.questions == ()
        true = float(truth.at(point)[0])
        if np.isinf(true):
            assert shown == "OL"
        else:
            room = float(HAND.limit(point.setting, true) + HAND.last_place(point.setting, true))
            assert found.values[point.name] == pytest.approx(true, abs=room)


def test_a_seed_decides_everything():
    fault = catalogue()["wires swapped"]
    first, again, other = (SimulatedSignal(circuits()["resistor"], fault, seed) for seed in (1, 1, 2))
    assert first.read("pair, red") == again.read("pair, red") != other.read("pair, red")
    assert first.seen == again.seen


def test_what_is_seen():
    looks = [SimulatedSignal(circuits()["resistor"], catalogue()["wires swapped"], seed).seen for seed in range(20)]
    assert sum(each == {"red": "green", "green": "red"} for each in looks) >= 18  # a look in a hundred is noted wrongly
    whole = SimulatedSignal(circuits()["resistor"], catalogue()[NOTHING_WRONG], 3)
    assert whole.seen is whole.seen  # looked at once


def test_a_point_that_is_none():
    with pytest.raises(UnknownNameError, match="measuring point 'pair'"):
        SimulatedSignal(circuits()["resistor"], catalogue()[NOTHING_WRONG], 1).read("pair")
