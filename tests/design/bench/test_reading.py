"""What the meter shows at each point: sound and faulty circuits by hand, alternating supply, the meter's own load."""

import dataclasses

import numpy as np
import pytest

from sigcalc.design.bench import draws as bench_draws
from sigcalc.design.bench.fault import catalogue
from sigcalc.design.bench.fault_change import faulty
from sigcalc.design.bench.measuring_point import measuring_points
from sigcalc.design.bench.reading import BenchReadings
from sigcalc.design.bench.state import sound
from sigcalc.design.pair.two_lead_pair import with_series_diodes
from sigcalc.parts.led import leds
from sigcalc.parts.meter import Meter, meters
from sigcalc.physics.diode import loop_current, string_voltage
from tests.design.bench.circuits import circuits

HAND = meters["hand meter"]


def reading(name, point, fault="nothing wrong", meter=HAND, draws=None):
    circuit = circuits()[name]
    bench = faulty(circuit, catalogue()[fault], bench_draws.nominal() if draws is None else draws)
    values = BenchReadings(bench, meter).at(measuring_points(circuit)[point])
    return values if draws is not None else float(values[0])


class TestSound:
    def test_a_red_led_by_hand(self):
        """12 V, 0.1 ohm inside, 1 kohm, wires and contacts of 0.7 ohm in all, and the LED's own curve."""
        led = leds["red alingap 3 mm"].model.triple()
        rest = 1000.0 + 0.1 + 2 * (0.2 + 0.1 + 0.05)
        current = float(loop_current(12.0, rest, *led))
        assert reading("resistor", "shared resistor, red") == pytest.approx(1000 * current, rel=1e-3)
        assert reading("resistor", "current, red") == pytest.approx(
            float(loop_current(12.0, rest + HAND.si.shunt_resistance, *led)), rel=1e-9
        )

    def test_signs_follow_the_probes(self):
        assert reading("resistor", "pair, red") > 1.5
        assert reading("resistor", "pair, green") < -1.5
        assert (
            reading("resistor", "shared resistor, green") > 5
        )  # the limit is ahead of the switch: one sign in both positions
        assert reading("resistor", "lead B, green") > 1.5
        assert reading("resistor", "lead A to plus") == pytest.approx(12.0, abs=0.01)

    def test_the_diode_test_by_hand(self):
        """A source of 3 V behind 2 kohm (Ideal ND-3511) into the red LED, and open the other way from 2 V on."""
        led = leds["red alingap 3 mm"].model.triple()
        current = float(loop_current(3.0, 2000.0 + 0.2 + 0.2, *led))
        assert reading("resistor", "diode test A to B") == pytest.approx(3.0 - 2000.2 * current, rel=1e-6)
        assert reading("mixed", "diode test B to A") == np.inf  # an InGaN LED has more than 2 V

    def test_the_diode_test_through_a_diode_in_series(self):
        """LED and plain diode together pass what the meter's 3 V and 2 kohm leave; 2 V and more are open."""
        circuit = circuits()["resistor"]
        guarded = dataclasses.replace(circuit, pair=with_series_diodes(circuit.pair))
        bench = sound(guarded, bench_draws.nominal())
        point = measuring_points(guarded)["diode test A to B"]
        assert BenchReadings(bench, HAND).at(point)[0] == np.inf
        wide = Meter.of(name="wide", note="", **(vars(HAND.si) | {"diode_most": 3.0}))
        shown = float(BenchReadings(bench, wide).at(point)[0])
        current = (3.0 - shown) / 2000.0
        assert float(string_voltage(current, bench.red.members)[0]) == pytest.approx(shown, abs=1e-3)

    def test_resistances(self):
        assert reading("resistor", "shared resistor ohms") == pytest.approx(1000.2)
        assert reading("mixed", "red resistor ohms") == pytest.approx(330.2)
        assert reading("resistor", "pair ohms") == np.inf
        assert reading("one-shot", "coil ohms") == pytest.approx(960.2)
        assert reading("one-shot", "reed alone") == np.inf
        assert reading("one-shot", "reed under the train") == pytest.approx(0.3)
        assert reading("one-shot", "pot ohms") == pytest.approx(235e3, rel=1e-3)

    def test_the_hold_of_a_one_shot(self):
        """R C ln 3 with the pot half way (TI LM555 SNAS548B): 239.7 kohm and 22 uF."""
        assert reading("one-shot", "hold") == pytest.approx((235e3 + 4.7e3) * 22e-6 * np.log(3), rel=1e-6)

    def test_the_coil_s_feed(self):
        at_rest, fed = reading("one-shot", "coil, green"), reading("one-shot", "coil, red")
        assert at_rest < 0.15
        assert fed == reading("one-shot", "timer output, red") == pytest.approx(12.0 - 1.7, abs=0.01)

    def test_a_coil_that_hangs_from_plus_is_fed_while_the_output_is_low(self):
        """Of 9.6 V (six fresh cells of 1.6 V) the transistor keeps 0.1 V; the coil is fed for green."""
        supply = reading("mosfet", "supply, green")
        assert reading("mosfet", "timer output, green") == pytest.approx(0.1, abs=1e-3)
        assert reading("mosfet", "coil, green") == pytest.approx(supply - 0.1, abs=1e-3)
        assert reading("mosfet", "coil, red") == pytest.approx(0.0, abs=1e-3)
        assert reading("mosfet", "timer output, red") == pytest.approx(reading("mosfet", "supply, red"), abs=1e-3)


class TestFaulty:
    @pytest.mark.parametrize(
        ("fault", "point", "expected", "near"),
        [
            ("red LED open", "pair, red", 12.0, 0.01),
            ("red LED open", "shared resistor, red", 0.0, 0.01),
            ("short at the mast hole", "pair, red", 0.0, 0.01),
            ("short at the mast hole", "shared resistor, red", 12.0, 0.02),
            ("short at the mast hole", "pair ohms", 0.4, 0.01),
            ("resistor bridged", "shared resistor ohms", 0.4, 0.01),
            ("resistor ten times too large", "shared resistor ohms", 10_000.2, 0.1),
            ("break in the mast", "pair, red", 12.0, 0.01),
            ("break in the mast", "lamps, red", 0.0, 0.01),
            ("break in the mast", "diode test A to B", np.inf, 0),
            ("supply reversed", "supply open", -12.0, 0.01),
            ("no supply", "supply open", 0.0, 1e-9),
            ("minus jumper missing", "lead B, green", 12.0, 0.01),
            ("plus jumper missing", "lead B, green", 0.0, 0.01),
            ("single-throw switch", "lead A to plus", 0.0, 0.01),
            ("wires swapped", "lead A, red", 2.26, 0.02),
        ],
    )
    def test_by_hand(self, fault, point, expected, near):
        assert reading("resistor", point, fault) == pytest.approx(expected, abs=near)

    @pytest.mark.parametrize(
        ("fault", "point", "expected"),
        [
            ("relay coil open", "coil ohms", np.inf),
            ("reed stuck closed", "hold", np.inf),
            ("reed never closes", "reed with a magnet", np.inf),
            ("magnet wrong way or too far", "reed under the train", np.inf),
            ("timer dead", "hold", 0.0),
            ("pot at its low end", "pot ohms", 1.2),
        ],
    )
    def test_relay_and_timer(self, fault, point, expected):
        assert reading("one-shot", point, fault) == pytest.approx(expected)

    def test_the_pot_s_ends_are_the_hold_s_ends(self):
        faults = ("pot at its low end", "nothing wrong", "pot at its high end")
        low, half, high = (reading("one-shot", "hold", fault) for fault in faults)
        assert low == pytest.approx(4.701e3 * 22e-6 * np.log(3), rel=1e-3)
        assert low < half < high == pytest.approx(474.7e3 * 22e-6 * np.log(3), rel=1e-3)

    def test_a_leak_lengthens_a_charge_and_shortens_a_discharge(self):
        draws = bench_draws.nominal() | {"severity": np.array([0.0])}
        for name, longer in (("one-shot", True), ("mosfet", False)):
            leaky = reading(name, "hold", "capacitor leaky", draws=draws)[0]
            sound_hold = reading(name, "hold", draws=draws)[0]
            assert (leaky > sound_hold) == longer


class TestAlternating:
    def test_the_mean_is_nought_and_the_ac_range_shows_it(self):
        assert reading("resistor", "supply open", "adapter gives AC") == 0.0
        assert 12.0 <= reading("resistor", "supply AC", "adapter gives AC") <= 1.3 * 12.0
        assert reading("resistor", "supply AC") == 0.0

    def test_each_lamp_lights_half_the_time(self):
        """About half of what flows at a steady supply of the peak's mean, in both positions alike."""
        circuit = circuits()["resistor"]
        bench = faulty(circuit, catalogue()["adapter gives AC"], bench_draws.nominal())
        by_position = [BenchReadings(bench, HAND).light(lamp) for lamp in ("red", "green")]
        assert by_position[0][0] == pytest.approx(by_position[1][0], rel=1e-9)
        red = float(by_position[0][0][0])
        peak = np.sqrt(2) * float(bench.supply[0])
        angle = np.arcsin(1.83 / peak)  # conducts from here to pi less it; a drop of 1.83 V, and 1 kohm
        mean = (peak * np.cos(angle) - 1.83 * (np.pi / 2 - angle)) / np.pi / 1001
        assert red == pytest.approx(mean, rel=0.03)

    def test_a_driver_passes_one_half_wave(self):
        """The driver is ahead of the switch: red alone while set for red, green alone while set for green."""
        bench = faulty(circuits()["driver"], catalogue()["adapter gives AC"], bench_draws.nominal())
        readings = BenchReadings(bench, HAND)
        assert readings.light("red")[1] == pytest.approx(0.0, abs=1e-9)
        assert readings.light("green")[0] == pytest.approx(0.0, abs=1e-9)
        assert 2e-3 < readings.light("red")[0] < 6e-3

    def test_an_adapter_may_have_some_ripple_and_a_battery_none(self):
        draws = bench_draws.nominal() | {"ripple": np.array([1.0])}
        assert reading("resistor", "supply AC", draws=draws) == pytest.approx(0.02 * 12.0)
        assert reading("resistor", "supply AC", "no supply", draws=draws) == 0.0
        assert reading("resistor", "supply open", draws=draws) == reading("resistor", "supply open")
        assert "supply AC" not in measuring_points(circuits()["mixed"])


class TestMeter:
    def test_a_pocket_meter_loads_more(self):
        assert reading("resistor", "shared resistor, red", "resistor open", meters["pocket meter"]) < reading(
            "resistor", "shared resistor, red", "resistor open"
        )

    def test_a_low_battery_reads_high_but_not_in_ohms(self):
        draws = bench_draws.nominal() | {"reads high": np.array([1.0])}
        low = meters["hand meter, battery low"]
        assert reading("resistor", "supply open", meter=low, draws=draws) == pytest.approx(1.3 * 12.0, rel=1e-6)
        assert reading("resistor", "shared resistor ohms", meter=low, draws=draws) == pytest.approx(1000.2)

    def test_an_ammeter_with_a_shunt_lowers_the_current(self):
        """Kuphaldt, Lessons in Electric Circuits vol. I ch. 8: the ammeter's resistance adds to the branch."""
        measured = reading("resistor", "current, red")
        alone = float(BenchReadings(sound(circuits()["resistor"], bench_draws.nominal()), HAND).light("red")[0][0])
        assert measured == pytest.approx(alone * 1000.8 / 1001.8, rel=1e-3)
        assert measured < alone


def test_the_timer_s_input_current_counts_in_the_hold():
    """The capacitor heads for supply - R I, with the one-shot's 350 nA (TI NE555 SLFS022) for I."""
    circuit, ohms = circuits()["one-shot"], 235e3 + 4.7e3
    draws = bench_draws.nominal() | {"input": np.array([0.0, 1.0])}
    ends = 12.0 - ohms * np.array([0.0, 350e-9])
    by_hand = ohms * 22e-6 * np.log(ends / (ends - 8.0))
    assert sound(circuit, draws).trigger.timing.seconds(12.0) == pytest.approx(by_hand, rel=1e-6)
    assert by_hand[1] > 1.01 * by_hand[0]
