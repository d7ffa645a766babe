"""Ladders: textbook dividers, the same circuit point by point, and the way down and back up again."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sigcalc.physics.ladder import Rung, climb, descend
from sigcalc.physics.small_circuit import GROUND, SmallCircuit


def test_a_meter_across_a_divider():
    """Kuphaldt, Lessons in Electric Circuits vol. I ch. 8: 24 V, two 250 megohm, a meter of 10 megohm: 0.8889 V."""
    volts, ohms = descend(24.0, 0.0, [Rung(250e6, 1 / 250e6)])
    assert (volts, ohms) == (pytest.approx(12.0), pytest.approx(125e6))
    assert volts * 10e6 / (10e6 + ohms) == pytest.approx(0.8889, abs=5e-5)


ohm = st.floats(1.0, 1e6)


@given(
    st.lists(st.tuples(ohm, ohm, st.floats(-5, 5), st.floats(-5, 5)), min_size=1, max_size=5),
    st.floats(-20, 20),
    ohm,
    ohm,
)
def test_point_by_point_agrees(steps, supply, source, end):
    rungs = [Rung(series, 1 / across) for series, across, _, _ in steps]
    rungs[0] = rungs[0]._replace(opposing=steps[0][2], aiding=steps[0][3])
    volts, ohms = descend(supply, source, rungs)
    current = volts / (ohms + end)
    climbed = climb(current * end, current, rungs)
    resistors, currents = [(0, GROUND, source)], {0: supply / source}
    for place, rung in enumerate(rungs):
        resistors += [(place, place + 1, rung.series), (place + 1, GROUND, 1 / rung.conductance)]
        currents[place] = currents.get(place, 0.0) - rung.aiding / rung.series
        currents[place + 1] = rung.aiding / rung.series + rung.opposing * rung.conductance
    resistors.append((len(rungs), GROUND, end))
    reference = SmallCircuit(len(rungs) + 1, resistors).voltages(currents)
    # as currents, the sources in series take digits from the reference
    assert climbed.volts == pytest.approx(reference[1:], rel=1e-7, abs=1e-6)


@given(st.floats(-20, 20), ohm, ohm, ohm)
def test_the_climb_ends_at_the_source(supply, source, series, across):
    rungs = [Rung(series, 1 / across)]
    volts, ohms = descend(supply, source, rungs)
    current = volts / (2 * ohms)
    climbed = climb(volts - current * ohms, current, rungs)
    first = climbed.volts[0] + climbed.amperes[0] * series
    assert first == pytest.approx(supply - climbed.amperes[0] * source, rel=1e-9, abs=1e-9)


def test_many_samples_at_once():
    volts, _ = descend(np.array([9.0, 12.0]), 1.0, [Rung(np.array([[100.0], [200.0]]), 0.01)])
    assert volts.shape == (2, 2)
    assert volts[1, 0] == pytest.approx(9.0 / (1 + 2.01))
