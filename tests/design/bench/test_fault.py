"""The catalogue: complete, worded, weighted; pairs; and what each word does to a circuit."""

import dataclasses
import tomllib
from importlib.resources import files

import numpy as np
import pytest

from sigcalc.design.bench.circuit import BRIDGE, OPEN, nominal, sound
from sigcalc.design.bench.fault import AND, NOTHING_WRONG, catalogue, changed, faults_of, faulty, weights
from sigcalc.design.pair.two_lead_pair import TwoLeadPair, with_series_diodes
from sigcalc.errors import RangeError, UnitError, UnknownNameError
from sigcalc.parts.led import diodes
from tests.design.bench.circuits import NAMES, circuits, state

FAULTS = catalogue()


class TestCatalogue:
    def test_two_faults_that_are_one_of_the_single_ones_are_no_pair(self):
        """Both LEDs turned round are "both LEDs reversed"; behind diodes of their own nothing passes either way."""
        plain, pair = circuits()["resistor"], "red LED reversed" + AND + "green LED reversed"
        guarded = dataclasses.replace(plain, pair=with_series_diodes(plain.pair))
        assert pair not in {each.name for each in faults_of(plain)}
        assert pair in {each.name for each in faults_of(guarded)}

    @pytest.mark.parametrize(
        "words",
        # what the catalogue must know, one line each
        [
            "LED reversed",
            "both LEDs reversed",
            "LED open",
            "LED shorted",
            "cold joint",
            "resistor open",
            "ten times too large",
            "ten times too small",
            "resistor bridged",
            "no resistor, red LED burnt out",
            "wires swapped",
            "plus jumper missing",
            "minus jumper missing",
            "single-throw switch",
            "break in the mast",
            "short at the mast hole",
            "relay coil open",
            "contact A stuck",
            "armature stuck pulled in",
            "red resistor ten times too small",
            "green resistor ten times too small",
            "flat battery",
            "adapter gives AC",
            "supply reversed",
            "adapter unregulated",
            "pot at its low end",
            "pot at its high end",
            "capacitor leaky",
            "reed stuck",
            "reed never closes",
            "magnet wrong way",
        ],
    )
    def test_it_knows(self, words):
        assert any(words in name for name in FAULTS)

    def test_every_fault_has_a_cause_a_remedy_and_a_weight(self):
        assert next(iter(FAULTS)) == NOTHING_WRONG
        for fault in FAULTS.values():
            assert fault.cause.endswith(".")
            assert fault.remedy.endswith(".")
            assert fault.weight > 0
            assert bool(fault.changes) == (fault.name != NOTHING_WRONG)

    def test_its_weights_say_that_they_have_no_source(self):
        text = files("sigcalc.parts").joinpath("data", "faults.toml").read_text(encoding="utf-8")
        assert tomllib.loads(text)["source"] == "common practice"

    def test_every_fault_fits_some_circuit(self):
        fits = {fault.name for name in NAMES for fault in faults_of(circuits()[name], pairs=False)}
        assert fits >= set(FAULTS) - {each for each in FAULTS if each.startswith("green resistor")}
        for name in NAMES:
            has = circuits()[name].features | {""}
            assert all(each.needs in has for each in faults_of(circuits()[name]))


class TestPairs:
    def test_two_of_the_commonest_that_touch_different_parts(self):
        two = [each for each in faults_of(circuits()["one-shot"]) if AND in each.name]
        assert len(two) > 25
        for fault in two:
            one, other = (FAULTS[name] for name in fault.name.split(AND))
            assert one.pairs
            assert other.pairs
            assert not one.parts & other.parts
            assert fault.changes == one.changes + other.changes
            assert fault.weight < min(one.weight, other.weight)

    def test_they_can_be_left_out(self):
        assert not any(AND in each.name for each in faults_of(circuits()["one-shot"], pairs=False))

    def test_both_are_in_the_circuit(self):
        pairs = {each.name: each for each in faults_of(circuits()["resistor"])}
        fault = pairs["cold joint, red branch + wires swapped"]
        bench = faulty(circuits()["resistor"], fault, nominal())
        assert bench["swapped"] == -1
        assert bench["red joint"][0] == pytest.approx(50.0)  # the geometric middle of 5 and 500 ohm


class TestWeights:
    def test_shares_of_all(self):
        faults = faults_of(circuits()["resistor"])
        shares = weights(faults)
        assert sum(shares) == pytest.approx(1.0)
        ratio = shares[0] / shares[1]
        assert ratio == pytest.approx(FAULTS[NOTHING_WRONG].weight / FAULTS["red LED reversed"].weight)

    def test_they_can_be_changed(self):
        faults = faults_of(circuits()["resistor"])
        changed = weights(faults, {NOTHING_WRONG: 0})
        assert changed[0] == 0.0
        assert sum(changed) == pytest.approx(1.0)

    @pytest.mark.parametrize(
        ("changed", "error", "said"),
        [
            ({"red led reversd": 1}, UnknownNameError, "'red LED reversed'"),
            ({"wires swapped": "often"}, UnitError, "needs a number; you gave"),
            ({"wires swapped": -1}, RangeError, "needs a number from 0 to 1e.12; you gave -1; 0 leaves it out"),
            ({"wires swapped": float("nan")}, RangeError, "needs a number from 0 to 1e.12"),
            ({"wires swapped": 1e300}, RangeError, "needs a number from 0 to 1e.12"),
        ],
    )
    def test_refusals(self, changed, error, said):
        with pytest.raises(error, match=said):
            weights(faults_of(circuits()["resistor"]), changed)

    def test_nothing_left_is_refused(self):
        faults = faults_of(circuits()["resistor"], pairs=False)
        with pytest.raises(RangeError, match="at least one fault"):
            weights(faults, {each.name: 0 for each in faults})


class TestChanges:
    def test_every_fault_changes_something(self):
        for name in NAMES:
            whole = sound(circuits()[name], nominal())
            for fault in faults_of(circuits()[name])[1:]:
                done = changed(whole, circuits()[name], fault, nominal())
                assert set(done) <= set(whole)
                assert any(np.any(each != whole[key]) for key, each in done.items()), fault.name

    def test_a_slight_and_a_grave_joint(self):
        for severity, ohms in ((0.0, 5.0), (1.0, 500.0)):
            bench = state("resistor", "cold joint, red branch", severity=severity)
            assert bench["red joint"][0] == pytest.approx(ohms)

    def test_the_second_fault_has_a_gravity_of_its_own(self):
        pairs = {each.name: each for each in faults_of(circuits()["resistor"])}
        both = pairs["cold joint, red branch + cold joint, green branch"]
        draws = nominal() | {"severity": np.array([0.0]), "second severity": np.array([1.0])}
        bench = faulty(circuits()["resistor"], both, draws)
        assert (bench["red joint"][0], bench["green joint"][0]) == (pytest.approx(5.0), pytest.approx(500.0))

    def test_decades(self):
        assert state("resistor", "resistor ten times too large")["limit"][0] == pytest.approx(10_000.0)
        assert state("resistor", "resistor ten times too small")["limit"][0] == pytest.approx(100.0)
        assert state("mixed", "red resistor ten times too large")["red resistor"][0] == pytest.approx(3300.0)

    def test_opens_and_bridges(self):
        assert state("resistor", "resistor open")["limit"] == OPEN
        assert state("resistor", "resistor bridged")["limit"][0] == pytest.approx(BRIDGE, rel=1e-3)
        assert state("mixed", "red resistor bridged")["red resistor"][0] == pytest.approx(BRIDGE, rel=1e-3)
        assert state("mixed", "red resistor open")["red resistor"] == OPEN
        assert state("driver", "driver bridged")["held"] == np.inf
        burnt = state("resistor", "no resistor, red LED burnt out")
        assert burnt["red joint"] == OPEN
        assert burnt["limit"][0] < 1

    def test_a_flat_battery_and_a_supply_that_rises(self):
        """Nearly dead is 5.0 V of 9 V (liquisearch.com/nine-volt_battery); 1.4 and 1.56 times without load."""
        fresh = state("mixed")
        used, nearly, dead = (state("mixed", "flat battery", severity=each)["supply"][0] for each in (0.0, 0.5, 1.0))
        assert nearly / fresh["supply"][0] == pytest.approx(5.0 / 9.0, abs=0.01)
        assert 0.9 * fresh["supply"][0] < used < fresh["supply"][0]
        assert dead < 0.4 * fresh["supply"][0]
        flat = state("mixed", "flat battery", severity=1.0)
        assert flat["source"][0] == pytest.approx(20 * fresh["source"][0])
        for severity, ratio in ((0.0, 1.4), (1.0, 1.56)):
            rising = state("resistor", "adapter unregulated", severity=severity)
            assert rising["supply"][0] == pytest.approx(12 * ratio)

    def test_an_led_against_its_own_diode_passes_nothing(self):
        circuit = circuits()["resistor"]
        pair = TwoLeadPair(circuit.pair.red, circuit.pair.green, series_diode=diodes["1n4148"])
        guarded = type(circuit)(circuit.source, circuit.drive, pair)
        bench = faulty(guarded, FAULTS["red LED reversed"], nominal())
        assert bench["red joint"] == OPEN
        turned = faulty(guarded, FAULTS["both LEDs reversed"], nominal())
        assert (turned["red sign"], turned["green sign"]) == (-1, 1)
