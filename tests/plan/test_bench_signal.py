"""A plan's signal on the bench: the same supply, resistors and wires as the plan has, and what has to be left out."""

import pytest

from sigcalc import Plan
from sigcalc.plan.bench_readings import bench_signal
from sigcalc.plan.circuit import circuit_of
from tests.plan.plans import QUILLHAVEN

RELAY = {"wiring": {"reversing": "relay"}}


def made(pot_turn=None, **fields):
    return bench_signal(circuit_of(Plan(**fields)), pot_turn)


@pytest.mark.parametrize("path", QUILLHAVEN, ids=lambda path: path.stem)
def test_supply_drive_and_pair_are_the_plan_s(path):
    plan = Plan.load(path)
    circuit = circuit_of(plan)
    signal = bench_signal(circuit).circuit
    assert [volts for volts, _ in signal.source.corners] == pytest.approx(list(plan.supply.corners()))
    assert (signal.drive, signal.pair, signal.name) == (circuit.drive, circuit.pair, plan.name)


def test_wires_have_the_resistance_of_their_length():
    # HyperPhysics' wire gauge table: 40.81 ohm for 1000 ft of 26 AWG, 0.1339 ohm/m
    # 0.65 m to the mast's foot, 0.13 m up the mast
    signal = made(wire={"part": "26 AWG solid hook-up", "distance": "600 mm", "slack": "50 mm"}).circuit
    assert signal.si.wire_resistance == pytest.approx(0.65 * 0.1339, rel=5e-3)
    assert signal.si.mast_resistance == pytest.approx(0.13 * 0.1339, rel=5e-3)


class TestSupply:
    def test_a_voltage_alone_holds_whatever_it_feeds_and_that_is_said(self):
        signal = made(supply={"voltage": "9.1 V", "tolerance": "2 %"})
        assert signal.circuit.source.corners[0] == (pytest.approx(9.1 * 0.98), 0)
        assert "only its 9.1 V are known" in signal.notes[0]
        assert "adapter" in signal.circuit.features

    def test_a_battery_of_one_s_own_stays_a_battery(self):
        signal = made(supply={"kind": "battery", "voltage": "9 V"})
        assert "battery" in signal.circuit.features
        assert signal.circuit.source.corners[1] == (pytest.approx(9), pytest.approx(1e-3))

    def test_a_tolerance_of_one_s_own_counts(self):
        signal = made(supply={"part": "12 V regulated", "tolerance": "1 %"})
        assert [volts for volts, _ in signal.circuit.source.corners] == pytest.approx([11.88, 12, 12.12])
        assert signal.notes == ()


class TestRelay:
    def test_without_a_name_it_counts_as_a_switch(self):
        signal = made(**RELAY)
        assert "hand switch" in signal.circuit.features
        assert "no name yet" in signal.notes[0]

    def test_a_latching_relay_s_coil_is_not_read(self):
        signal = made(**RELAY, evening={"relay": "9 V two-pole latching"})
        assert signal.circuit.relay is None
        assert "latching" in signal.notes[0]

    def test_the_lamp_that_the_coil_shows_is_the_evening_s(self):
        assert made(**RELAY, evening={"relay": "12 V two-pole", "coil_fed": "for green"}).circuit.fed_lamp == "green"
        assert made(**RELAY, trigger={"relay": "12 V two-pole"}).circuit.fed_lamp == "red"

    def test_the_timer_comes_with_a_relay_and_a_turn_of_its_pot(self):
        plan = {**RELAY, "trigger": {"relay": "12 V two-pole"}}
        timed = made(0.25, **plan)
        assert timed.circuit.timer == Plan(**plan).trigger.circuit()
        assert timed.circuit.si.pot_turn == 0.25
        assert "set by its scale" in timed.notes[0]
        assert "left out" in made(**plan).notes[0]
        assert made(**plan).circuit.timer is None
        assert len(made(0.25, **RELAY, trigger={}).notes) == 2
