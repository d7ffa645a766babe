"""The bench circuit under power: loop against point by point, the pair's own solver, Kirchhoff, the meter's load."""

import dataclasses
import itertools

import numpy as np
import pytest

from sigcalc.design.bench import draws as bench_draws
from sigcalc.design.bench.circuit import LAMPS
from sigcalc.design.bench.fault import catalogue, faults_of
from sigcalc.design.bench.fault_change import faulty
from sigcalc.design.bench.lamps import parallel
from sigcalc.design.bench.position import position
from sigcalc.design.bench.power import PLACES, solve
from sigcalc.design.bench.powered import power, what_matters
from sigcalc.design.bench.state import OPEN, sound
from sigcalc.design.pair.two_lead_pair import solder_fault, with_series_diodes
from sigcalc.physics.diode import string_voltage
from sigcalc.units import Q
from tests.design.bench.circuits import NAMES, circuits

METER = 10e6


def powered(name, fault="nothing wrong", lamp="red", draws=None):
    bench = faulty(circuits()[name], catalogue()[fault], bench_draws.nominal() if draws is None else draws)
    return power(bench, position(bench, lamp))


@pytest.mark.parametrize("name", NAMES)
def test_loop_and_point_by_point_agree_for_every_fault(name):
    """All faults, the meter at three places in turn, wherever both leads reach a rail.

    An open contact's teraohm is all that differs.
    """
    draws, compared, turn = bench_draws.drawn(20, 6), 0, itertools.cycle((None, *PLACES))
    for fault in faults_of(circuits()[name], pairs=False):
        bench = faulty(circuits()[name], fault, draws)
        for lamp in LAMPS:
            circuit = power(bench, position(bench, lamp))
            if not circuit.looped.all():
                continue
            for place in (next(turn), next(turn), next(turn)):
                load = 1.0 if place == "current" else METER
                first, second = (solve(circuit, place, load, way) for way in ("loop", "points"))
                if place is not None:
                    assert np.asarray(first.value) == pytest.approx(np.asarray(second.value), rel=1e-6, abs=3e-4)
                assert first.red == pytest.approx(second.red, rel=1e-6, abs=1e-9)
                assert first.green == pytest.approx(second.green, rel=1e-6, abs=1e-9)
                compared += 1
    assert compared > 100


@pytest.mark.parametrize("name", ["resistor", "mixed", "driver"])
def test_the_two_lead_pair_s_own_solver_agrees(name):
    circuit = circuits()[name]
    for lamp, polarity in (("red", +1), ("green", -1)):
        ours = powered(name, lamp=lamp)
        feed = float(ours.supply[0])
        rest = float(ours.source_resistance[0]) + 2 * float(ours.wire_a) + 2 * 0.05 + float(ours.mast)
        drive = circuit.drive
        if not circuit.driver:
            drive = type(drive)(Q(circuit.shared + rest, "ohm"))
        point = circuit.pair.operate(Q(feed, "V"), drive, polarity)
        found = solve(ours)
        assert getattr(found, lamp)[0] == pytest.approx(point.si.current, rel=1e-4)


@pytest.mark.parametrize(
    ("ours", "theirs"),
    [
        ("red LED open", "red open"),
        ("green LED open", "green open"),
        ("red LED shorted", "red shorted"),
        ("green LED shorted", "green shorted"),
        ("red LED reversed", "both the same way round"),
        ("green LED reversed", "both the same way round"),
    ],
)
def test_the_soldering_mistakes_agree(ours, theirs):
    """`design.pair.solder_fault` knows the same mistakes; both point red's way there."""
    circuit = circuits()["resistor"]
    turned = -1 if ours == "red LED reversed" else 1
    for lamp, polarity in (("red", +1), ("green", -1)):
        found = solve(powered("resistor", ours, lamp), "lamps")
        bench = powered("resistor", ours, lamp)
        rest = float(bench.source_resistance[0]) + 2 * float(bench.wire_a) + 0.1 + float(bench.mast)
        drive = type(circuit.drive)(Q(circuit.shared + rest, "ohm"))
        points = {each.polarity: each for each in solder_fault(Q("12 V"), drive, circuit.pair, theirs)}
        point = points[polarity * turned].si
        assert found.red[0] == pytest.approx(point.red_current, rel=1e-4, abs=1e-8)
        assert found.green[0] == pytest.approx(point.green_current, rel=1e-4, abs=1e-8)
        assert turned * found.value[0] == pytest.approx(point.pair_voltage, rel=1e-3, abs=3e-3)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("lamp", LAMPS)
def test_the_voltages_of_a_loop_sum_to_the_supply(name, lamp):
    """An ideal meter at each place in turn; contacts and wires make up what is left, in millivolts."""
    draws = bench_draws.drawn(50, 7)
    circuit = powered(name, lamp=lamp, draws=draws)
    supply, limit, pair = (np.asarray(solve(circuit, place, 1e12).value) for place in ("supply", "limit", "pair"))
    assert limit + np.abs(pair) == pytest.approx(supply, abs=0.02)
    current = np.abs(np.asarray(solve(circuit, "current", 1e-6).value))
    if not circuits()[name].driver:
        assert limit == pytest.approx(current * circuit.limit_resistance, rel=1e-6)


def test_a_meter_lowers_what_it_measures_across_an_open_joint():
    """A lead broken, and a pocket meter of 1 megohm beside one of 10: both complete the circuit through themselves."""
    broken = powered("resistor", "resistor open")
    hand, pocket = (float(solve(broken, "limit", ohms).value[0]) for ohms in (10e6, 1e6))
    assert 10.0 < pocket < hand < 12.0
    assert solve(broken, "limit", 1e12).value[0] > hand


@pytest.mark.parametrize("name", NAMES)
def test_what_cannot_show_does_not(name):
    """The LED that is dark may be anything at all."""
    draws = bench_draws.drawn(30, 8)
    sound_one = sound(circuits()[name], draws)
    spoilt = sound_one._replace(green=sound_one.green._replace(joint=np.asarray(1e5)))
    first, second = (power(each, position(each, "red")) for each in (sound_one, spoilt))
    assert what_matters(first).green is None
    for place in PLACES:
        load = 1.0 if place == "current" else METER
        assert np.array_equal(solve(first, place, load).value, solve(second, place, load).value)


class TestSeriesDiodes:
    """A plain diode in series with each LED: two unequal parts in one loop."""

    PAIR = with_series_diodes(circuits()["resistor"].pair)

    def test_the_pair_s_own_solver_agrees(self):
        circuit = dataclasses.replace(circuits()["resistor"], pair=self.PAIR)
        bench = sound(circuit, bench_draws.nominal())
        for lamp, polarity in (("red", +1), ("green", -1)):
            ours = power(bench, position(bench, lamp))
            rest = float(ours.source_resistance[0]) + 2 * float(ours.wire_a) + 0.1 + float(ours.mast)
            drive = type(circuit.drive)(Q(circuit.shared + rest, "ohm"))
            point = self.PAIR.operate(Q("12 V"), drive, polarity)
            assert getattr(solve(ours), lamp)[0] == pytest.approx(point.si.current, rel=1e-6)
            for place in PLACES:
                first, second = (solve(ours, place, METER, way).value for way in ("loop", "points"))
                assert np.asarray(first) == pytest.approx(np.asarray(second), rel=1e-6, abs=1e-4)

    def test_side_by_side_with_diodes(self):
        """Both branches the same way round share a current as their general solver has it."""
        circuit = dataclasses.replace(circuits()["resistor"], pair=self.PAIR)
        bench = sound(circuit, bench_draws.drawn(5, 1))
        node, currents = parallel([bench.red, bench.green._replace(sign=1)], np.full(5, 12.0), 1000.0)
        assert sum(currents) == pytest.approx((12.0 - node) / 1000.0, rel=1e-9)
        across = string_voltage(currents[0], bench.red.members)
        assert across == pytest.approx(node, rel=1e-9)


def test_more_resistance_never_means_more_current():
    draws = bench_draws.drawn(100, 9)
    circuit = powered("resistor", draws=draws)
    currents = [solve(circuit._replace(limit_resistance=ohms)).red for ohms in (10.0, 1e3, 1e5)]
    assert np.all(currents[0] > currents[1])
    assert np.all(currents[1] > currents[2])


class TestTextbook:
    """A divider of two 250 megohm resistors on 24 V, one in the limit's place and one in the red LED's.

    Kuphaldt, Lessons in Electric Circuits vol. I ch. 8 (voltmeter impact): 12 V without a meter, 0.8889 V with one of
    10 megohm. Everything is a thousandth of the book's here, beside which open contacts leak nothing. The same book,
    ch. 5 (component failure): an open part is one of very much resistance, a shorted one of very little.
    """

    OHMS = 250e3

    def divider(self, limit=OHMS, lamp=OHMS):
        whole = powered("resistor")
        none = np.zeros(1)
        resistor = whole.red._replace(joint=none, resistor=np.full(1, lamp), bridged=True)
        return whole._replace(
            supply=np.full(1, 24.0),
            limit_resistance=np.full(1, limit),
            red=resistor,
            green=resistor._replace(joint=np.full(1, OPEN)),
        )

    @pytest.mark.parametrize("way", ["loop", "points"])
    @pytest.mark.parametrize(
        ("meter", "printed", "digit"), [(1e15, 12.0, 0.05), (10e3, 0.8889, 5e-5)], ids=["none", "loaded"]
    )
    def test_a_meter_loads_a_divider(self, way, meter, printed, digit):
        for place in ("limit", "pair"):
            assert solve(self.divider(), place, meter, way).value[0] == pytest.approx(printed, abs=digit)

    @pytest.mark.parametrize("way", ["loop", "points"])
    def test_open_and_shorted_parts(self, way):
        broken, bridged = self.divider(lamp=OPEN), self.divider(limit=1e-3)
        assert solve(broken, "pair", 1e15, way).value[0] == pytest.approx(24.0, abs=0.01)
        assert solve(broken, "limit", 1e15, way).value[0] == pytest.approx(0.0, abs=0.02)
        assert solve(bridged, "limit", 1e15, way).value[0] == pytest.approx(0.0, abs=5e-4)
        assert solve(bridged, "pair", 1e15, way).value[0] == pytest.approx(24.0, abs=5e-4)
