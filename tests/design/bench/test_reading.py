"""What the meter shows: the measuring points, what the switch joins, sound and faulty circuits by hand, AC, loads."""

import dataclasses

import numpy as np
import pytest

from sigcalc.design.bench.circuit import LAMPS, drawn, hold_seconds, nominal, sound
from sigcalc.design.bench.fault import catalogue, faulty
from sigcalc.design.bench.reading import MINUS, PLUS, BenchReadings, measuring_points, position, power
from sigcalc.design.caution import cautions_about
from sigcalc.design.pair.two_lead_pair import with_series_diodes
from sigcalc.parts.led import leds
from sigcalc.parts.meter import AC_VOLTS, AMPERES, DIODE, OHMS, VOLTS, Meter, meters
from sigcalc.physics.diode import exponential_voltage, loop_current
from sigcalc.units import Q
from tests.design.bench.circuits import HAND, NAMES, circuits, reading, state

SIMPLE, ONE_SHOT = circuits()["resistor"], circuits()["one-shot"]
FOR_GREEN = dataclasses.replace(ONE_SHOT, fed_lamp="green")  # as the map of contacts rests: the coil off shows red
GUARDED = dataclasses.replace(SIMPLE, pair=with_series_diodes(SIMPLE.pair))


def string_voltage(current, leds):
    return sum(exponential_voltage(current, *led) for led in leds)


@pytest.mark.parametrize("name", NAMES)
def test_a_circuit_has_the_points_of_its_parts_in_the_order_to_measure_in(name):
    points, has = measuring_points(circuits()[name]), circuits()[name].features
    both = {f"{each}, {lamp}" for each in ("supply", "pair", "wire A", "lamps", "current") for lamp in LAMPS}
    assert both | {"supply open", "pair ohms", "diode test A to B", "diode test B to A"} <= set(points)
    of_parts = {
        "supply AC": "adapter",
        "shared resistor, red": "shared resistor",
        "driver, red": "driver",
        "coil, green": "relay",
        "hold": "timer",
        "reed alone": "timer",
        "red resistor": "red resistor",
        "green resistor": "green resistor",
    }
    assert {each for each in of_parts if each in points} == {each for each, part in of_parts.items() if part in has}

    listed = list(points.values())
    alone = ["nothing connected" in each.where for each in listed]
    assert alone == sorted(alone, reverse=True)  # before the supply feeds anything: an adapter may give AC
    assert listed[0].name == ("supply AC" if "adapter" in has else "supply open")
    assert [each.setting == AMPERES for each in listed] == sorted(each.setting == AMPERES for each in listed)
    volts = [each.effort for each in listed if each.setting == VOLTS]
    assert volts == sorted(volts)


@pytest.mark.parametrize("name", NAMES)
def test_cautions_go_with_what_they_are_about_and_name_the_range(name):
    for point in measuring_points(circuits()[name]).values():
        about, told = {each.about for each in point.cautions}, " ".join(each.text for each in point.cautions)
        assert ("current in series" in about) == ("probe back" in about) == (point.setting == AMPERES)
        assert ("power off" in about) == ("lift a lead" in about) == (point.setting in (OHMS, DIODE))
        assert (f"Set the meter to {point.setting}" in told) == (point.setting in (VOLTS, AC_VOLTS))
    text = " ".join(each.text for each in cautions_about("bench", "probe back"))
    for word in ("hot enough to burn", "may burst", "eye protection", "shorts the supply at the next voltage reading"):
        assert word in text


def rails(circuit, fault, lamp):
    found = position(circuit, faulty(circuit, catalogue()[fault], nominal()), lamp)
    return int(np.ravel(found.rail_a)[0]), int(np.ravel(found.rail_b)[0])


@pytest.mark.parametrize(
    ("fault", "fed_for_red", "fed_for_green"),
    [
        ("nothing wrong", "as set", "as set"),
        ("armature stuck", "green", "red"),
        ("armature stuck pulled in", "red", "green"),
        ("relay coil open", "green", "red"),
        ("reed never closes", "green", "green"),
        ("magnet wrong way or too far", "green", "green"),
        ("reed stuck closed", "red", "red"),
        ("timer dead", "green", "red"),
        ("supply reversed", "green", "red"),
        ("no supply", "green", "red"),
        ("adapter gives AC", "green", "red"),
    ],
)
def test_the_chain_from_magnet_to_contact(fault, fed_for_red, fed_for_green):
    """A train sets red, whichever aspect the coil is fed for; a coil that gets nothing shows the other one."""
    lit = {(PLUS, MINUS): "red", (MINUS, PLUS): "green"}
    for circuit, shown in ((ONE_SHOT, fed_for_red), (FOR_GREEN, fed_for_green)):
        found = [lit[rails(circuit, fault, lamp)] for lamp in LAMPS]
        assert found == (["red", "green"] if shown == "as set" else [shown, shown])


@pytest.mark.parametrize("circuit", [ONE_SHOT, FOR_GREEN], ids=["for red", "for green"])
def test_a_leak_that_ends_no_hold_keeps_the_relay_which_pulls_in_only_above_its_voltage(circuit):
    leaky = faulty(circuit, catalogue()["capacitor leaky"], drawn(400, 3))
    stays_red = position(circuit, leaky, "green").moved == (circuit.fed_lamp == "red")
    assert np.array_equal(stays_red, np.isinf(hold_seconds(circuit, leaky)))
    assert 0.1 < stays_red.mean() < 0.9

    draws = drawn(500, 4)
    bench = sound(circuit, draws)
    bench |= {"supply": bench["pull in"] + bench["keeps"] + 0.5 * draws["supply"]}
    moved = position(circuit, bench, circuit.fed_lamp).moved
    across = (bench["supply"] - bench["keeps"]) / (1 + bench["source"] / bench["coil"])
    assert np.array_equal(moved, across >= bench["pull in"])
    assert 0.2 < moved.mean() < 0.8


@pytest.mark.parametrize(
    ("name", "point", "fault", "expected", "near"),
    [
        ("resistor", "shared resistor ohms", "nothing wrong", 1000.2, 1e-6),
        ("mixed", "red resistor ohms", "nothing wrong", 330.2, 1e-6),
        ("one-shot", "coil ohms", "nothing wrong", 960.2, 1e-6),
        ("one-shot", "reed alone", "nothing wrong", np.inf, 0),
        ("one-shot", "reed under the train", "nothing wrong", 0.3, 1e-6),
        ("one-shot", "pot ohms", "nothing wrong", 235e3, 200),
        # R C ln 3 with the pot half way (TI LM555 SNAS548B)
        ("one-shot", "hold", "nothing wrong", (235e3 + 4.7e3) * 22e-6 * np.log(3), 1e-5),
        ("one-shot", "coil, green", "nothing wrong", 0.075, 0.075),
        ("one-shot", "coil, red", "nothing wrong", 12.0 - 1.7, 0.01),
        ("one-shot", "timer output, red", "nothing wrong", 12.0 - 1.7, 0.01),
        # the coil hangs from plus and is fed for green: of 9.6 V (six fresh cells of 1.6 V) the transistor keeps 0.1 V
        ("mosfet", "timer output, green", "nothing wrong", 0.1, 1e-3),
        ("mosfet", "coil, green", "nothing wrong", reading("mosfet", "supply, green") - 0.1, 1e-3),
        ("mosfet", "coil, red", "nothing wrong", 0.0, 1e-3),
        ("mosfet", "timer output, red", "nothing wrong", reading("mosfet", "supply, red"), 1e-3),
        ("resistor", "pair, red", "short at the mast hole", 0.0, 0.01),
        ("resistor", "shared resistor, red", "short at the mast hole", 12.0, 0.02),
        ("resistor", "pair ohms", "short at the mast hole", 0.4, 0.01),
        ("resistor", "shared resistor ohms", "resistor bridged", 0.4, 0.01),
        ("resistor", "shared resistor ohms", "resistor ten times too large", 10_000.2, 0.1),
        ("resistor", "pair, red", "break in the mast", 12.0, 0.01),
        ("resistor", "diode test A to B", "break in the mast", np.inf, 0),
        ("resistor", "supply open", "supply reversed", -12.0, 0.01),
        ("resistor", "supply open", "no supply", 0.0, 1e-9),
        ("resistor", "wire B, green", "minus jumper missing", 12.0, 0.01),
        ("resistor", "wire A, red", "wires swapped", 2.26, 0.02),
        ("resistor", "supply open", "adapter gives AC", 0.0, 0),
        ("resistor", "supply AC", "adapter gives AC", 1.15 * 12.0, 0.15 * 12.0),
        ("resistor", "supply AC", "nothing wrong", 0.0, 0),
        ("one-shot", "coil ohms", "relay coil open", np.inf, 0),
        ("one-shot", "hold", "reed stuck closed", np.inf, 0),
        ("one-shot", "reed with a magnet", "reed never closes", np.inf, 0),
        ("one-shot", "reed under the train", "magnet wrong way or too far", np.inf, 0),
        ("one-shot", "hold", "timer dead", 0.0, 0),
        ("one-shot", "hold", "pot at its low end", 4.701e3 * 22e-6 * np.log(3), 1e-4),
        ("one-shot", "hold", "pot at its high end", 474.7e3 * 22e-6 * np.log(3), 1e-2),
    ],
)
def test_readings_by_hand(name, point, fault, expected, near):
    assert reading(name, point, fault) == pytest.approx(expected, abs=near)


def test_a_lit_led_by_hand():
    """12 V, 0.1 ohm inside, 1 kohm, wires and contacts of 0.7 ohm in all, and the LED's own curve."""
    led = leds["bright red 3 mm"].model.triple()
    rest = 1000.0 + 0.1 + 2 * (0.2 + 0.1 + 0.05)
    current = float(loop_current(12.0, rest, *led))
    assert reading("resistor", "shared resistor, red") == pytest.approx(1000 * current, rel=1e-3)
    # Kuphaldt, Lessons in Electric Circuits vol. I ch. 8: the ammeter's resistance adds to the branch
    behind_shunt = float(loop_current(12.0, rest + HAND.si.shunt_resistance, *led))
    assert reading("resistor", "current, red") == pytest.approx(behind_shunt, rel=1e-9)
    # signs follow the probes; the limit is ahead of the switch: one sign in both positions
    for point, sign in (("pair, red", 1), ("pair, green", -1), ("shared resistor, green", 1), ("wire B, green", 1)):
        assert sign * reading("resistor", point) > 1.5


def test_the_diode_test_by_hand():
    """A source of 3 V behind 2 kohm (Ideal ND-3511): into the red LED, and with a diode in series, from 2 V on open."""
    current = float(loop_current(3.0, 2000.0 + 0.2 + 0.2, *leds["bright red 3 mm"].model.triple()))
    assert reading("resistor", "diode test A to B") == pytest.approx(3.0 - 2000.2 * current, rel=1e-6)
    bench, point = sound(GUARDED, nominal()), measuring_points(GUARDED)["diode test A to B"]
    assert BenchReadings(GUARDED, bench, HAND).at([point])[0][point.name] == np.inf
    wide = Meter.of(name="wide", note="", **(vars(HAND.si) | {"diode_most": 3.0}))
    shown = float(BenchReadings(GUARDED, bench, wide).at([point])[0][point.name][0])
    assert float(string_voltage((3.0 - shown) / 2000.0, bench["red leds"])[0]) == pytest.approx(shown, abs=1e-3)


def test_leak_and_input_current_count_in_the_hold():
    """The capacitor heads for supply - R I, with the one-shot's 350 nA (TI NE555 SLFS022) for I."""
    for name, longer in (("one-shot", True), ("mosfet", False)):  # a leak lengthens a charge and shortens a discharge
        assert (reading(name, "hold", "capacitor leaky", severity=0.0) > reading(name, "hold")) == longer
    ohms = 235e3 + 4.7e3
    bench = sound(ONE_SHOT, nominal() | {"input": np.array([0.0, 1.0])}) | {"supply": 12.0}
    ends = 12.0 - ohms * np.array([0.0, 350e-9])
    by_hand = ohms * 22e-6 * np.log(ends / (ends - 8.0))
    assert hold_seconds(ONE_SHOT, bench) == pytest.approx(by_hand, rel=1e-6)
    assert by_hand[1] > 1.01 * by_hand[0]


class TestAlternating:
    def test_each_lamp_lights_half_the_time(self):
        """About half of what flows at a steady supply of the peak's mean, in both positions alike."""
        bench = faulty(SIMPLE, catalogue()["adapter gives AC"], nominal())
        by_position = [BenchReadings(SIMPLE, bench, HAND).light(lamp) for lamp in LAMPS]
        assert by_position[0][0] == pytest.approx(by_position[1][0], rel=1e-9)
        red = float(by_position[0][0][0])
        peak = np.sqrt(2) * float(bench["supply"][0])
        angle = np.arcsin(1.83 / peak)  # conducts from here to pi less it; a drop of 1.83 V, and 1 kohm
        mean = (peak * np.cos(angle) - 1.83 * (np.pi / 2 - angle)) / np.pi / 1001
        assert red == pytest.approx(mean, rel=0.03)

    def test_a_driver_passes_one_half_wave(self):
        """The driver is ahead of the switch: red alone while set for red, green alone while set for green."""
        bench = faulty(circuits()["driver"], catalogue()["adapter gives AC"], nominal())
        readings = BenchReadings(circuits()["driver"], bench, HAND)
        assert readings.light("red")[1] == pytest.approx(0.0, abs=1e-9)
        assert readings.light("green")[0] == pytest.approx(0.0, abs=1e-9)
        assert 2e-3 < readings.light("red")[0] < 6e-3

    def test_an_adapter_may_have_some_ripple(self):
        assert reading("resistor", "supply AC", ripple=1.0) == pytest.approx(0.02 * 12.0)
        assert reading("resistor", "supply AC", "no supply", ripple=1.0) == 0.0
        assert reading("resistor", "supply open", ripple=1.0) == reading("resistor", "supply open")


def test_a_pocket_meter_loads_more_and_a_low_battery_reads_high_but_not_in_ohms():
    across = "shared resistor, red", "resistor open"
    assert reading("resistor", *across, meters["pocket meter"]) < reading("resistor", *across)
    most = {"meter": meters["hand meter, battery low"], "reads high": 1.0}
    assert reading("resistor", "supply open", **most) == pytest.approx(1.3 * 12.0, rel=1e-6)
    assert reading("resistor", "shared resistor ohms", **most) == pytest.approx(1000.2)


def rest_of(circuit, bench):
    """What lies in series with the pair beside the drive, in ohm."""
    rest = bench["source"] + 2 * bench["wire"] + 2 * bench["second contact"] + bench["mast"]
    drive = circuit.drive
    return drive if circuit.driver else type(drive)(Q(circuit.shared + float(rest[0]), "ohm"))


class TestPower:
    """A whole circuit against the pair's own solver, Kirchhoff's laws and simple limits."""

    @pytest.mark.parametrize("circuit", [SIMPLE, circuits()["mixed"], circuits()["driver"], GUARDED])
    def test_the_two_lead_pair_s_own_solver_agrees(self, circuit):
        bench = sound(circuit, nominal())
        for place, polarity in ((0, +1), (1, -1)):
            found = power(circuit, bench, LAMPS[place], ()).light[place]
            point = circuit.pair.operate(Q(float(bench["supply"][0]), "V"), rest_of(circuit, bench), polarity)
            assert found[0] == pytest.approx(point.si.current, rel=1e-4)

    @pytest.mark.parametrize("name", NAMES)
    def test_the_switch_turns_the_current_round_and_the_voltages_of_the_loop_sum_to_the_supply(self, name):
        """An ideal meter at each place in turn; contacts and wires make up what is left, in millivolts."""
        circuit = circuits()[name]
        bench = sound(circuit, drawn(50, 7))
        for lamp, sign in (("red", PLUS), ("green", MINUS)):
            found = power(circuit, bench, lamp, ["supply", "limit", "pair", "current"]).values
            assert found["limit"] + sign * found["pair"] == pytest.approx(found["supply"], abs=0.02)
            if not circuit.driver:
                assert found["limit"] == pytest.approx(sign * found["current"] * bench["limit"], rel=1e-6)

    def test_more_resistance_never_means_more_current(self):
        bench = sound(SIMPLE, drawn(100, 9))
        currents = [power(SIMPLE, bench | {"limit": ohms}, "red", ()).light[0] for ohms in (10.0, 1e3, 1e5)]
        assert np.all(np.diff(currents, axis=0) < 0)

    def test_side_by_side_leds_share_the_current(self):
        """Both the same way round: what the resistor passes is the sum, and both have one voltage."""
        bench = state("resistor", "green LED reversed")
        found = power(SIMPLE, bench, "red", ["lamps", "limit"])
        assert sum(found.light) == pytest.approx(found.values["limit"] / bench["limit"], rel=1e-6)
        for lamp, current in zip(LAMPS, found.light, strict=True):
            assert string_voltage(current, bench[f"{lamp} leds"]) == pytest.approx(found.values["lamps"], rel=1e-6)
