"""What the meter shows: the measuring points, what the switch joins, sound and faulty circuits by hand, AC, loads."""

import dataclasses

import numpy as np
import pytest

from sigcalc.design.bench.circuit import LAMPS, drawn, hold_seconds, nominal, sound
from sigcalc.design.bench.fault import catalogue, faulty
from sigcalc.design.bench.reading import MINUS, PLUS, BenchReadings, measuring_points, position, power
from sigcalc.design.caution import cautions_about
from sigcalc.design.pair.two_lead_pair import solder_fault, with_series_diodes
from sigcalc.design.pair.wiring import Wiring, show, wirings
from sigcalc.parts.led import leds
from sigcalc.parts.meter import AMPERES, DIODE, OHMS, SETTINGS, VOLTS, Meter, meters
from sigcalc.physics.diode import loop_current, string_voltage
from sigcalc.units import Q
from tests.design.bench.circuits import HAND, NAMES, circuits, reading, state

NOTHING = 0


@pytest.mark.parametrize("name", NAMES)
def test_every_useful_point_is_there(name):
    points, has = measuring_points(circuits()[name]), circuits()[name].features
    places = ("supply", "pair", "wire A", "wire B", "lamps", "current")
    both = {f"{each}, {lamp}" for each in places for lamp in ("red", "green")}
    assert ("supply AC" in points) == ("adapter" in has)
    assert both | {"supply open", "pair ohms", "diode test A to B", "diode test B to A"} <= set(points)
    assert ("shared resistor, red" in points) == ("shared resistor" in has)
    assert ("driver, red" in points) == ("driver" in has)
    assert ("shared resistor ohms" in points) == ("shared resistor" in has)
    assert ("coil, green" in points) == ("relay" in has)
    assert {"hold", "reed alone", "timer output, green"}.issubset(points) == ("timer" in has)
    for lamp in ("red", "green"):
        assert (f"{lamp} resistor" in points) == (f"{lamp} resistor" in has)


@pytest.mark.parametrize("name", NAMES)
def test_the_order_is_the_one_to_measure_in(name):
    points = list(measuring_points(circuits()[name]).values())
    alone = ["nothing connected" in each.where for each in points]
    assert alone == sorted(alone, reverse=True)  # before the supply feeds anything: an adapter may give AC
    assert points[0].name == ("supply AC" if "adapter" in circuits()[name].features else "supply open")
    assert [each.setting == AMPERES for each in points] == sorted(each.setting == AMPERES for each in points)
    volts = [each.effort for each in points if each.setting == VOLTS]
    assert volts == sorted(volts)
    assert {each.setting for each in points} <= set(SETTINGS)


def said(point):
    return {each.about for each in point.cautions}


@pytest.mark.parametrize("name", NAMES)
def test_cautions_go_with_what_they_are_about(name):
    for point in measuring_points(circuits()[name]).values():
        assert ("current in series" in said(point)) == ("probe back" in said(point)) == (point.setting == AMPERES)
        assert ("power off" in said(point)) == ("lift a lead" in said(point)) == (point.setting in (OHMS, DIODE))


def test_what_holds_for_the_whole_bench():
    text = " ".join(each.text for each in cautions_about("bench", "probe back"))
    for word in ("hot enough to burn", "may burst", "eye protection", "shorts the supply at the next voltage reading"):
        assert word in text


def test_where_names_the_parts_of_the_circuit():
    assert "across the driver" in measuring_points(circuits()["driver"])["driver, red"].where
    assert "leaves the relay" in measuring_points(circuits()["one-shot"])["wire A, red"].where
    assert str(measuring_points(circuits()["resistor"])["pair, red"]).endswith("at the mast's foot, signal set for red")


def test_a_caution_names_the_range_that_the_measurement_needs():
    for circuit in circuits().values():
        for point in measuring_points(circuit).values():
            told = " ".join(each.text for each in point.cautions)
            if point.setting in ("DC volts", "AC volts"):
                assert f"Set the meter to {point.setting}" in told
            else:
                assert "Set the meter to" not in told


RAIL = {"+": PLUS, "-": MINUS, "": NOTHING}
BY_SWITCH = {"red": ("up",), "green": ("down",)}
COIL = {"red": ("coil off",), "green": ("coil on",)}


def rails_of(wiring, closed):
    (leads,) = show(wiring, closed, "here").leads
    return tuple(RAIL[each] for each in leads)


def without(wiring, *jumper):
    jumpers = tuple(each for each in wiring.jumpers if set(each) != set(jumper))
    assert len(jumpers) == len(wiring.jumpers) - 1
    return Wiring(wiring.name, wiring.devices, wiring.sources, wiring.signals, jumpers)


def rails(circuit, fault, lamp):
    found = position(circuit, faulty(circuit, catalogue()[fault], nominal()), lamp)
    return int(np.ravel(found.rail_a)[0]), int(np.ravel(found.rail_b)[0])


ONE_SHOT = circuits()["one-shot"]
FOR_GREEN = dataclasses.replace(ONE_SHOT, fed_lamp="green")  # as the map of contacts rests: the coil off shows red
CROSSED, RELAY = wirings["crossed double-throw switch"], wirings["crossed two-pole relay"]
BY_HAND = {
    "nothing wrong": CROSSED,
    "plus jumper missing": without(CROSSED, "switch up 1", "switch down 2"),
    "minus jumper missing": without(CROSSED, "switch up 2", "switch down 1"),
    "jumpers straight": wirings["straight instead of crossed"],
}
BY_RELAY = {
    "nothing wrong": RELAY,
    "plus jumper missing": without(RELAY, "relay normally closed 1", "relay normally open 2"),
    "minus jumper missing": without(RELAY, "relay normally closed 2", "relay normally open 1"),
}


@pytest.mark.parametrize("lamp", ["red", "green"])
@pytest.mark.parametrize("fault", BY_HAND)
def test_a_hand_switch(fault, lamp):
    wiring = BY_HAND[fault]
    assert rails(circuits()["resistor"], fault, lamp) == rails_of(wiring, wiring.closed(BY_SWITCH[lamp]))


def test_a_single_throw():
    wiring = wirings["double-pole single-throw switch"]
    circuit = circuits()["resistor"]
    assert rails(circuit, "single-throw switch", "red") == rails_of(wiring, wiring.closed(["on"]))
    assert rails(circuit, "single-throw switch", "green") == rails_of(wiring, wiring.closed(["off"]))


@pytest.mark.parametrize("lamp", ["red", "green"])
@pytest.mark.parametrize("fault", BY_RELAY)
def test_a_relay(fault, lamp):
    wiring = BY_RELAY[fault]
    assert rails(FOR_GREEN, fault, lamp) == rails_of(wiring, wiring.closed(COIL[lamp]))


@pytest.mark.parametrize(("fault", "stuck"), [("contact A stuck", "common 1"), ("contact B stuck", "common 2")])
def test_a_contact_that_does_not_follow(fault, stuck):
    off, on = (RELAY.closed(COIL[lamp]) for lamp in ("red", "green"))
    mixed = [join for join in on if f"relay {stuck}" not in join] + [join for join in off if f"relay {stuck}" in join]
    assert rails(FOR_GREEN, fault, "green") == rails_of(RELAY, mixed)


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
        found = [lit[rails(circuit, fault, lamp)] for lamp in ("red", "green")]
        assert found == (["red", "green"] if shown == "as set" else [shown, shown])


@pytest.mark.parametrize("circuit", [ONE_SHOT, FOR_GREEN], ids=["for red", "for green"])
def test_a_leak_that_ends_no_hold_keeps_the_relay(circuit):
    bench = faulty(circuit, catalogue()["capacitor leaky"], drawn(400, 3))
    stays_red = position(circuit, bench, "green").moved == (circuit.fed_lamp == "red")
    assert np.array_equal(stays_red, np.isinf(hold_seconds(circuit, bench)))
    assert 0.1 < stays_red.mean() < 0.9


@pytest.mark.parametrize("circuit", [ONE_SHOT, FOR_GREEN], ids=["for red", "for green"])
def test_a_relay_pulls_in_only_above_its_voltage(circuit):
    draws = drawn(500, 4)
    bench = sound(circuit, draws)
    bench |= {"supply": bench["pull in"] + bench["keeps"] + 0.5 * draws["supply"]}
    where = position(circuit, bench, circuit.fed_lamp)
    across = (bench["supply"] - bench["keeps"]) / (1 + bench["source"] / bench["coil"])
    assert np.array_equal(where.moved, across >= bench["pull in"])
    assert 0.2 < where.moved.mean() < 0.8


@pytest.mark.parametrize("name", NAMES)
def test_sound_signals_turn_the_current_round(name):
    bench = sound(circuits()[name], drawn(200, 5))
    for lamp, meant in (("red", (PLUS, MINUS)), ("green", (MINUS, PLUS))):
        where = position(circuits()[name], bench, lamp)
        assert np.all(where.rail_a == meant[0])
        assert np.all(where.rail_b == meant[1])


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
        assert reading("resistor", "wire B, green") > 1.5
        assert reading("resistor", "wire A to plus") == pytest.approx(12.0, abs=0.01)

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
        bench = sound(guarded, nominal())
        point = measuring_points(guarded)["diode test A to B"]
        assert BenchReadings(guarded, bench, HAND).at([point])[0][point.name] == np.inf
        wide = Meter.of(name="wide", note="", **(vars(HAND.si) | {"diode_most": 3.0}))
        shown = float(BenchReadings(guarded, bench, wide).at([point])[0][point.name][0])
        current = (3.0 - shown) / 2000.0
        assert float(string_voltage(current, bench["red leds"])[0]) == pytest.approx(shown, abs=1e-3)

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
            ("minus jumper missing", "wire B, green", 12.0, 0.01),
            ("plus jumper missing", "wire B, green", 0.0, 0.01),
            ("single-throw switch", "wire A to plus", 0.0, 0.01),
            ("wires swapped", "wire A, red", 2.26, 0.02),
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
        for name, longer in (("one-shot", True), ("mosfet", False)):
            assert (reading(name, "hold", "capacitor leaky", severity=0.0) > reading(name, "hold")) == longer


class TestAlternating:
    def test_the_mean_is_nought_and_the_ac_range_shows_it(self):
        assert reading("resistor", "supply open", "adapter gives AC") == 0.0
        assert 12.0 <= reading("resistor", "supply AC", "adapter gives AC") <= 1.3 * 12.0
        assert reading("resistor", "supply AC") == 0.0

    def test_each_lamp_lights_half_the_time(self):
        """About half of what flows at a steady supply of the peak's mean, in both positions alike."""
        circuit = circuits()["resistor"]
        bench = faulty(circuit, catalogue()["adapter gives AC"], nominal())
        by_position = [BenchReadings(circuit, bench, HAND).light(lamp) for lamp in ("red", "green")]
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

    def test_an_adapter_may_have_some_ripple_and_a_battery_none(self):
        assert reading("resistor", "supply AC", ripple=1.0) == pytest.approx(0.02 * 12.0)
        assert reading("resistor", "supply AC", "no supply", ripple=1.0) == 0.0
        assert reading("resistor", "supply open", ripple=1.0) == reading("resistor", "supply open")
        assert "supply AC" not in measuring_points(circuits()["mixed"])


class TestMeter:
    def test_a_pocket_meter_loads_more(self):
        assert reading("resistor", "shared resistor, red", "resistor open", meters["pocket meter"]) < reading(
            "resistor", "shared resistor, red", "resistor open"
        )

    def test_a_low_battery_reads_high_but_not_in_ohms(self):
        most = {"meter": meters["hand meter, battery low"], "reads high": 1.0}
        assert reading("resistor", "supply open", **most) == pytest.approx(1.3 * 12.0, rel=1e-6)
        assert reading("resistor", "shared resistor ohms", **most) == pytest.approx(1000.2)

    def test_an_ammeter_with_a_shunt_lowers_the_current(self):
        """Kuphaldt, Lessons in Electric Circuits vol. I ch. 8: the ammeter's resistance adds to the branch."""
        measured = reading("resistor", "current, red")
        alone = float(power(circuits()["resistor"], state("resistor"), "red", ()).light[0][0])
        assert measured == pytest.approx(alone * 1000.8 / 1001.8, rel=1e-3)
        assert measured < alone


def test_the_timer_s_input_current_counts_in_the_hold():
    """The capacitor heads for supply - R I, with the one-shot's 350 nA (TI NE555 SLFS022) for I."""
    circuit, ohms = circuits()["one-shot"], 235e3 + 4.7e3
    bench = sound(circuit, nominal() | {"input": np.array([0.0, 1.0])}) | {"supply": 12.0}
    ends = 12.0 - ohms * np.array([0.0, 350e-9])
    by_hand = ohms * 22e-6 * np.log(ends / (ends - 8.0))
    assert hold_seconds(circuit, bench) == pytest.approx(by_hand, rel=1e-6)
    assert by_hand[1] > 1.01 * by_hand[0]


def rest_of(circuit, bench):
    """What lies in series with the pair beside the drive, in ohm."""
    rest = bench["source"] + 2 * bench["wire"] + 2 * bench["second contact"] + bench["mast"]
    drive = circuit.drive
    return drive if circuit.driver else type(drive)(Q(circuit.shared + float(rest[0]), "ohm"))


class TestPower:
    """A whole circuit against the pair's own solver, Kirchhoff's laws and simple limits."""

    @pytest.mark.parametrize("name", ["resistor", "mixed", "driver", "diodes"])
    def test_the_two_lead_pair_s_own_solver_agrees(self, name):
        circuit = circuits()["resistor" if name == "diodes" else name]
        if name == "diodes":
            circuit = dataclasses.replace(circuit, pair=with_series_diodes(circuit.pair))
        bench = sound(circuit, nominal())
        for place, polarity in ((0, +1), (1, -1)):
            found = power(circuit, bench, LAMPS[place], ()).light[place]
            point = circuit.pair.operate(Q(float(bench["supply"][0]), "V"), rest_of(circuit, bench), polarity)
            assert found[0] == pytest.approx(point.si.current, rel=1e-4)

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
    def test_the_soldering_mistakes_agree(self, ours, theirs):
        """`design.pair.solder_fault` knows the same mistakes; both point red's way there."""
        circuit, bench = circuits()["resistor"], state("resistor", ours)
        turned = -1 if ours == "red LED reversed" else 1
        for lamp, polarity in (("red", +1), ("green", -1)):
            found = power(circuit, bench, lamp, ["lamps"])
            drive = rest_of(circuit, bench)
            points = {each.polarity: each for each in solder_fault(Q("12 V"), drive, circuit.pair, theirs)}
            point = points[polarity * turned].si
            assert found.light[0][0] == pytest.approx(point.red_current, rel=1e-4, abs=1e-8)
            assert found.light[1][0] == pytest.approx(point.green_current, rel=1e-4, abs=1e-8)
            assert turned * found.values["lamps"][0] == pytest.approx(point.pair_voltage, rel=1e-3, abs=3e-3)

    @pytest.mark.parametrize("name", NAMES)
    @pytest.mark.parametrize("lamp", LAMPS)
    def test_the_voltages_of_a_loop_sum_to_the_supply(self, name, lamp):
        """An ideal meter at each place in turn; contacts and wires make up what is left, in millivolts."""
        circuit = circuits()[name]
        bench = sound(circuit, drawn(50, 7))
        found = power(circuit, bench, lamp, ["supply", "limit", "pair", "current"]).values
        assert found["limit"] + np.abs(found["pair"]) == pytest.approx(found["supply"], abs=0.02)
        if not circuit.driver:
            assert found["limit"] == pytest.approx(np.abs(found["current"]) * bench["limit"], rel=1e-6)

    def test_more_resistance_never_means_more_current(self):
        circuit, bench = circuits()["resistor"], sound(circuits()["resistor"], drawn(100, 9))
        currents = [power(circuit, bench | {"limit": ohms}, "red", ()).light[0] for ohms in (10.0, 1e3, 1e5)]
        assert np.all(currents[0] > currents[1])
        assert np.all(currents[1] > currents[2])

    def test_side_by_side_leds_share_the_current(self):
        """Both the same way round: what the resistor passes is the sum, and both have one voltage."""
        circuit, bench = circuits()["resistor"], state("resistor", "green LED reversed")
        found = power(circuit, bench, "red", ["lamps", "limit"])
        red, green = found.light
        assert red + green == pytest.approx(found.values["limit"] / bench["limit"], rel=1e-6)
        for lamp, current in zip(LAMPS, (red, green), strict=True):
            assert string_voltage(current, bench[f"{lamp} leds"]) == pytest.approx(found.values["lamps"], rel=1e-6)
