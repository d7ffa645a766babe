"""The catalogue: worded, weighted; pairs; what each word does to a circuit; and what may be put on the bench."""

import dataclasses
import tomllib
from importlib.resources import files

import numpy as np
import pytest

from sigcalc.design.bench.circuit import BRIDGE, OPEN, nominal, sound
from sigcalc.design.bench.fault import AND, NOTHING_WRONG, burnt, catalogue, changed, faults_of, faulty, weights
from sigcalc.design.pair.two_lead_pair import TwoLeadPair, with_series_diodes
from sigcalc.errors import DesignError, RangeError, UnitError, UnknownNameError
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import ConstantDrop, Led
from sigcalc.parts.source import batteries
from tests.design.bench.circuits import NAMES, circuits, state

FAULTS = catalogue()
SIMPLE, TIMED = circuits()["resistor"], circuits()["one-shot"]
GUARDED = dataclasses.replace(SIMPLE, pair=with_series_diodes(SIMPLE.pair))
PAIRS = {each.name: each for each in faults_of(SIMPLE)}


class TestCatalogue:
    def test_every_fault_has_a_cause_a_remedy_and_a_weight_without_a_source(self):
        assert next(iter(FAULTS)) == NOTHING_WRONG
        for fault in FAULTS.values():
            assert fault.cause.endswith(".")
            assert fault.remedy.endswith(".")
            assert fault.weight > 0
            assert bool(fault.changes) == (fault.name != NOTHING_WRONG)
        text = files("sigcalc.parts").joinpath("data", "faults.toml").read_text(encoding="utf-8")
        assert tomllib.loads(text)["source"] == "common practice"

    def test_every_fault_fits_some_circuit_and_changes_it(self):
        fits = {fault.name for name in NAMES for fault in faults_of(circuits()[name], pairs=False)}
        assert fits >= set(FAULTS) - {each for each in FAULTS if each.startswith("green resistor")}
        for circuit in circuits().values():
            whole = sound(circuit, nominal())
            assert all(each.needs in circuit.features | {""} for each in faults_of(circuit))
            for fault in faults_of(circuit)[1:]:
                done = changed(whole, circuit, fault, nominal())
                assert set(done) <= set(whole)
                assert any(np.any(each != whole[key]) for key, each in done.items()), fault.name

    def test_pairs_are_two_of_the_commonest_that_touch_different_parts(self):
        two = [each for each in faults_of(TIMED) if AND in each.name]
        assert len(two) > 25
        for fault in two:
            one, other = (FAULTS[name] for name in fault.name.split(AND))
            assert one.pairs
            assert other.pairs
            assert not one.parts & other.parts
            assert fault.changes == one.changes + other.changes
            assert fault.weight < min(one.weight, other.weight)
        assert not any(AND in each.name for each in faults_of(TIMED, pairs=False))

    def test_two_faults_that_are_one_of_the_single_ones_are_no_pair(self):
        """Both LEDs turned round are "both LEDs reversed"; behind diodes of their own nothing passes either way."""
        pair = "red LED reversed" + AND + "green LED reversed"
        assert pair not in PAIRS
        assert pair in {each.name for each in faults_of(GUARDED)}

    def test_weights_are_shares_of_all_and_can_be_changed(self):
        faults = faults_of(SIMPLE)
        shares, without = weights(faults), weights(faults, {NOTHING_WRONG: 0})
        assert sum(shares) == pytest.approx(1.0)
        ratio = FAULTS[NOTHING_WRONG].weight / FAULTS["red LED reversed"].weight
        assert shares[0] / shares[1] == pytest.approx(ratio)
        assert without[0] == 0.0
        assert sum(without) == pytest.approx(1.0)


class TestChanges:
    def test_joints_from_slight_to_grave_and_the_second_fault_with_a_gravity_of_its_own(self):
        for severity, ohms in ((0.0, 5.0), (0.5, 50.0), (1.0, 500.0)):
            bench = state("resistor", "cold joint, red branch", severity=severity)
            assert bench["red joint"][0] == pytest.approx(ohms)
        both = PAIRS["cold joint, red branch + cold joint, green branch"]
        draws = nominal() | {"severity": np.array([0.0]), "second severity": np.array([1.0])}
        bench = faulty(SIMPLE, both, draws)
        assert (bench["red joint"][0], bench["green joint"][0]) == (pytest.approx(5.0), pytest.approx(500.0))
        bench = faulty(SIMPLE, PAIRS["cold joint, red branch + wires swapped"], nominal())
        assert (bench["swapped"], bench["red joint"][0]) == (-1, pytest.approx(50.0))

    @pytest.mark.parametrize(
        ("name", "fault", "number", "expected"),
        [
            ("resistor", "resistor ten times too large", "limit", 10_000.0),
            ("resistor", "resistor ten times too small", "limit", 100.0),
            ("mixed", "red resistor ten times too large", "red resistor", 3300.0),
            ("resistor", "resistor open", "limit", OPEN),
            ("resistor", "resistor bridged", "limit", BRIDGE),
            ("mixed", "red resistor bridged", "red resistor", BRIDGE),
            ("mixed", "red resistor open", "red resistor", OPEN),
            ("driver", "driver bridged", "held", np.inf),
            ("resistor", "resistor bridged", "red joint", OPEN),
            ("resistor", "resistor bridged", "green joint", OPEN),
            ("resistor", "resistor ten times too large", "red joint", 0.0),
            ("mixed", "red resistor bridged", "green joint", 0.0),
        ],
    )
    def test_resistors(self, name, fault, number, expected):
        assert np.ravel(state(name, fault)[number])[0] == pytest.approx(expected, rel=1e-3)

    def test_what_leaves_an_led_alive_burns_none(self):
        """A coin cell gives too little, and a resistor beside the bridged one holds the current down."""
        weak = dataclasses.replace(SIMPLE, source=batteries["3 V coin cell"], drive=ResistorDrive("47 ohm"))
        assert burnt(SIMPLE, FAULTS["resistor bridged"]) == ("red", "green")
        assert burnt(weak, FAULTS["resistor bridged"]) == ()
        assert burnt(circuits()["mixed"], FAULTS["red resistor bridged"]) == ()
        assert burnt(circuits()["mosfet"], FAULTS["red resistor bridged"]) == ("red",)

    def test_a_flat_battery_and_a_supply_that_rises(self):
        """Nearly dead is 5.0 V of 9 V (liquisearch.com/nine-volt_battery); 1.4 and 1.56 times without load."""
        fresh = state("mixed")["supply"][0]
        used, nearly, dead = (state("mixed", "flat battery", severity=each)["supply"][0] for each in (0.0, 0.5, 1.0))
        assert nearly / fresh == pytest.approx(5.0 / 9.0, abs=0.01)
        assert 0.9 * fresh < used < fresh
        assert dead < 0.4 * fresh
        flat = state("mixed", "flat battery", severity=1.0)
        assert flat["source"][0] == pytest.approx(20 * state("mixed")["source"][0])
        for severity, ratio in ((0.0, 1.4), (1.0, 1.56)):
            rising = state("resistor", "adapter unregulated", severity=severity)
            assert rising["supply"][0] == pytest.approx(12 * ratio)

    def test_an_led_against_its_own_diode_passes_nothing(self):
        assert faulty(GUARDED, FAULTS["red LED reversed"], nominal())["red joint"] == OPEN
        turned = faulty(GUARDED, FAULTS["both LEDs reversed"], nominal())
        assert (turned["red sign"], turned["green sign"]) == (-1, 1)


PLAIN = Led("plain", "red", ConstantDrop("2 V"), max_current="20 mA")
RELAY = {"reversing": "relay", "relay": "12 V two-pole sensitive"}


@pytest.mark.parametrize(
    ("changes", "error", "said"),
    [
        ({"source": "12 V"}, UnitError, "source needs Battery or Adapter; you gave"),
        ({"pair": "pair"}, UnitError, "pair needs a TwoLeadPair"),
        ({"pair": TwoLeadPair(PLAIN, PLAIN)}, DesignError, "the red LED needs an Exponential model"),
        ({"drive": ResistorDrive("0 ohm")}, DesignError, "every lamp needs something that limits its current"),
        ({"drive": ResistorDrive(["1 kohm", "2 kohm"])}, RangeError, "drive needs one value"),
        ({"reversing": "by hand"}, UnknownNameError, "reversing 'by hand' is not known"),
        ({"fed_lamp": "yellow"}, UnknownNameError, "fed_lamp 'yellow' is not known"),
        ({"reversing": "relay"}, DesignError, "needs a relay beside it"),
        ({"relay": "12 V two-pole sensitive"}, DesignError, "needs a relay beside it"),
        (RELAY | {"relay": "5 V two-pole latching"}, DesignError, "no position of rest"),
        ({"timer": TIMED.timer}, DesignError, "a timer needs a relay that it feeds"),
        (RELAY | {"timer": "one-shot"}, UnitError, "timer needs HoldCircuit"),
    ],
)
def test_circuits_that_are_refused(changes, error, said):
    with pytest.raises(error, match=said):
        dataclasses.replace(SIMPLE, **changes)
