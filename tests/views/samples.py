"""Pictures of every kind, usual ones and extremes, for the tests that hold for all."""

import dataclasses
import itertools
from functools import cache

import numpy as np

from sigcalc import Plan
from sigcalc.design.bench.circuit import BenchCircuit
from sigcalc.design.bench.diagnosis import diagnose
from sigcalc.design.bench.reading import measuring_points
from sigcalc.design.board.board import WIRINGS, Board, BoardSignal, FeederSection, board_along, chain_board
from sigcalc.design.board.feeder import gauge_for, study_board
from sigcalc.design.board.fuse import short_at
from sigcalc.design.board.limits import add_signals, most_signals
from sigcalc.design.lamp.direct import steepness
from sigcalc.design.lamp.drive import operate
from sigcalc.design.pair.alternation import on_ac, turned_round
from sigcalc.design.pair.brightness import compare_brightness
from sigcalc.design.pair.shared_limiter import share_limiter
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.pair.wiring import reversing, wirings
from sigcalc.design.power.adapter import adapter_voltage
from sigcalc.design.power.cost import break_even, yearly_energy
from sigcalc.design.power.drive_choice import compare_drives, current_with_bought_parts, same_current
from sigcalc.design.power.load import Load
from sigcalc.design.power.run_time import run_time
from sigcalc.design.train.hold import hold_at
from sigcalc.design.train.passing_odds import passing_odds
from sigcalc.design.train.passing_train import passing_train
from sigcalc.lessons.find_the_fault import quillhaven_signal
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.fuse import fuses
from sigcalc.parts.led import ConstantDrop, Exponential, Led, diodes, leds
from sigcalc.parts.magnet import Magnet
from sigcalc.parts.reed import Reed, reeds
from sigcalc.parts.relay import relays
from sigcalc.parts.source import adapters, batteries
from sigcalc.parts.wire import wires
from sigcalc.physics.magnetics import ORIENTATIONS
from sigcalc.units import Q
from sigcalc.views import battery_or_adapter as power
from sigcalc.views.board import board_picture
from sigcalc.views.board_scene import board_scene
from sigcalc.views.board_side import board_side
from sigcalc.views.curves import Curves
from sigcalc.views.led_circuit import one_led_circuit
from sigcalc.views.let_the_train_do_it import (
    VIEWS,
    FillCurve,
    HoldCurve,
    closures_picture,
    odds_picture,
    passing_timeline,
)
from sigcalc.views.many_signals_one_adapter import MostSignalsChart, gauge_bars
from sigcalc.views.meter_circuit import meter_picture, signal_with_points
from sigcalc.views.plan_your_signal import lamp_joints, mast_front, reversing_wired
from sigcalc.views.readings import ReadingRow, ranking, readings_table
from sigcalc.views.resistor_or_constant_current import SagCurve, limiter_shares, sag_figures, sagging, sharing
from sigcalc.views.scene.first_circuit import one_led_scene
from sigcalc.views.scene.joined import joined_scene
from sigcalc.views.scene.magnet_scene import magnet_over_reed
from sigcalc.views.scene.meter_scene import meter_scene
from sigcalc.views.scene.signal_scene import signal_scene
from sigcalc.views.scene.source import kind_of as looks_like
from sigcalc.views.scene.switch_scene import SWITCH_WIRINGS, switch_front_and_back
from sigcalc.views.scene.symbols import things_and_symbols
from sigcalc.views.scene.train_parts import four_parts
from sigcalc.views.scene.train_scene import train_scene
from sigcalc.views.shared_wires import signals_on_wires
from sigcalc.views.signal_circuit import IN_PLUS_LEAD, IN_WIRE_A, RESISTOR_IN, signal_circuit
from sigcalc.views.style import LARGE, NORMAL, STAGE
from sigcalc.views.two_wires_two_colours import brightness_bars, timeline
from sigcalc.views.which_resistor import colour_band_picture, colour_numbers, heat_bar, joined_resistors
from sigcalc.views.why_a_resistor import AgainstResistor, LoadLine
from sigcalc.views.wiring import reversing_circuit
from tests.design.bench.circuits import circuits
from tests.design.train import passing_runs
from tests.views.svg import HOSTILE

RED, GREEN = leds["bright red 3 mm"], leds["ordinary green 3 mm"]
POINTS = [("1.75 V", "2 mA"), ("1.80 V", "5 mA"), ("1.88 V", "10 mA"), ("1.93 V", "20 mA"), ("2.0 V", "28 mA")]
OWN = Led(HOSTILE, "red", Exponential.fitted(POINTS, colour="red"), "30 mA")
CONSTANT = Led("a lamp from the bottom of the drawer, bought long ago", "blue", ConstantDrop("3 V"), "20 mA")
PLAIN = TwoLeadPair(RED, GREEN)
FULL = TwoLeadPair(OWN, GREEN, "100 ohm", "2.2 kohm", diodes["1n4001"])
RESISTOR, DRIVER = ResistorDrive("680 ohm", 0.05), ConstantCurrentDrive("10 mA", "1.5 V", 0.1)


def _circuits(size):
    for supply_name, pair, supply, drive in (
        ("6 x AA alkaline", PLAIN, "9.5 V", RESISTOR),
        (HOSTILE, TwoLeadPair(OWN, CONSTANT, extra_green="220 ohm"), "12 V", ResistorDrive("0.47 ohm", 0.2)),
        ("full", FULL, "24 V", DRIVER),
        ("overloaded", PLAIN, "60 V", ResistorDrive("10 ohm")),
        ("dark", PLAIN, "0 V", ResistorDrive("999 kohm", 0.2)),
    ):
        for polarity, switch in itertools.product((+1, -1), (True, False)):
            point = pair.operate(supply, drive, polarity)
            picture = signal_circuit(point, supply_name, supply_name == "full", switch, size)
            yield f"signal {supply_name} {polarity} {switch}", picture
    for name, supply, drive, string in (
        ("resistor", "9.5 V", RESISTOR, RED),
        ("bare", "9.5 V", ResistorDrive("2.5 ohm"), OWN),
        ("reverse", "-12 V", ResistorDrive("0 ohm"), RED),
        ("string", "20 V", DRIVER, [RED, GREEN, CONSTANT, RED, RED]),
    ):
        point = operate(supply, drive, string)
        yield f"one {name}", one_led_circuit(point, "9 V alkaline", name == "string", name == "bare", size)


SCENES = {
    "resistor": (("9.5 V", RESISTOR, RED), "9 V alkaline", "9 V battery", False),
    "bare": (("9.5 V", ResistorDrive("2.5 ohm"), OWN), HOSTILE, "9 V battery", True),
    "reverse": (("-12 V", ResistorDrive("0 ohm"), RED), "5 V regulated", "adapter", False),
    "driver": (("12 V", DRIVER, [RED, GREEN]), "6 x AA alkaline", "8 AA cells", False),
    "string": (("20 V", ResistorDrive("999 kohm", 0.2), [RED, GREEN, CONSTANT, RED, RED]), "x", "bench supply", False),
    "dark": (("1.2 V", RESISTOR, GREEN), HOSTILE, "1 AA cells", False),
    "overloaded": (("3 V", ResistorDrive("33 ohm", 0.01), RED), "3 V coin cell", "coin cell", False),
}
"""What the first circuit's scene is drawn of: a point, the supply in words, its kind, and whether no resistor is in."""

SIGNAL_SCENES = {
    "usual": (PLAIN, "9.5 V", RESISTOR, "9 V battery"),
    "branches": (TwoLeadPair(OWN, CONSTANT, extra_green="220 ohm"), "12 V", ResistorDrive("0.47 ohm", 0.2), "adapter"),
    "full": (FULL, "24 V", DRIVER, "8 AA cells"),
    "overloaded": (PLAIN, "60 V", ResistorDrive("10 ohm"), "bench supply"),
    "dark": (PLAIN, "0 V", ResistorDrive("999 kohm", 0.2), "coin cell"),
}
"""What the signal's scene is drawn of: a pair, a supply, a drive, and the kind of source."""


MIDDLE_REED = reeds["10 W reed, 7 to 21 AT"].middle


def _scenes(size):
    for name, (given, supply, kind, bare) in SCENES.items():
        yield f"scene one {name}", one_led_scene(operate(*given), supply, kind, bare, size)
    for name, (pair, supply, drive, kind) in SIGNAL_SCENES.items():
        for polarity, switch in itertools.product((+1, -1), (True, False)):
            picture = signal_scene(pair.operate(supply, drive, polarity), HOSTILE, kind, switch, size)
            yield f"scene signal {name} {polarity} {switch}", picture
        for polarity, where in itertools.product((+1, -1), RESISTOR_IN):
            point = pair.operate(supply, drive, polarity)
            yield f"signal {name} {polarity} {where}", signal_circuit(point, "x", size=size, resistor_in=where)
            picture = signal_scene(point, HOSTILE, kind, False, size, where, bare=pair is PLAIN)
            yield f"scene pair {name} {polarity} {where}", picture
        for polarity, by in itertools.product((+1, -1), ("switch", "relay", "")):
            point, place = pair.operate(supply, drive, polarity), {"reversing": by, "resistor_in": IN_PLUS_LEAD}
            yield f"scene ahead {name} {polarity} {by}", signal_scene(point, HOSTILE, kind, bool(by), size, **place)
            circuit = signal_circuit(point, HOSTILE, kind == "adapter", bool(by), size, **place)
            yield f"circuit ahead {name} {polarity} {by}", circuit
    for wiring, up in itertools.product(SWITCH_WIRINGS, (True, False, None)):
        yield f"scene switch {wiring} {up}", switch_front_and_back(up, wiring, size)
        picture = switch_front_and_back(up, wiring, size, bridged=True, resistor_first=True)
        yield f"scene switch {wiring} {up} first", picture
    for orientation, place in itertools.product(ORIENTATIONS, ("-100 mm", "0 mm", "5 mm")):
        picture = magnet_over_reed("8 x 3 mm disc, N35", MIDDLE_REED, "123.4 mm", orientation, place, size)
        yield f"scene magnet {orientation} {place}", picture


def _curves(size):
    line, against, curves = LoadLine(), AgainstResistor(), Curves()
    for name, supply, drive, string in (
        ("usual", "9.5 V", RESISTOR, RED),
        ("driver", "12 V", DRIVER, [RED, GREEN]),
        ("short", "9.5 V", ResistorDrive("0 ohm"), OWN),
        ("tight", "3 V", ResistorDrive("33 ohm", 0.05), RED),
        ("dark", "1.2 V", RESISTOR, GREEN),
        ("constant drop", "5 V", ResistorDrive("100 ohm", 0.05), CONSTANT),
    ):
        for spread in (False, True):
            yield f"load line {name} {spread}", line.picture(operate(supply, drive, string), spread, size)
    for led, volts in itertools.product(
        (RED, leds["low-current red 3 mm"]), ("1 V", "1.75 V", "1.95 V", "2.1 V", "4 V")
    ):
        yield f"against {led.name} {volts}", against.picture(steepness(led, volts), size)
    yield "curves fitted", curves.picture(OWN, points=POINTS, size=size)
    yield "curves constant drop", curves.picture([CONSTANT, OWN], size=size)


def _others(size):
    low = {"height": "20 mm", "top_lamp": "17 mm", "bottom_lamp": "9 mm"}
    high = {"height": "2 m", "top_lamp": "1.2 m", "bottom_lamp": "1.196 m"}
    for name, mast, lit in (("usual", {}, "red"), ("low", low, "both"), ("high", high, "none")):
        yield f"mast {name}", mast_front(Plan(mast=mast), lit, size)
    yield "bands' colours", colour_numbers(size)
    yield "things and symbols", things_and_symbols(size)
    yield "mast alone", mast_front(Plan(), "red", size, enlarged=False)
    for name, pair, sections in (("plain", PLAIN, {}), ("full", FULL, {"wiring": {"reversing": "relay"}})):
        yield f"joints {name}", lamp_joints(pair, size)
        for limit in ("resistor", "driver", ""):
            yield f"reversing {name} {limit}", reversing_wired(Plan(**sections), limit, size)
    evening = {"relay": "9 V two-pole sensitive", "coil_fed": "for green"}
    fed_for_green = Plan(wiring={"reversing": "relay"}, evening=evening)
    yield "reversing fed for green", reversing_wired(fed_for_green, "", size)
    yield "bands four", colour_band_picture(("green", "blue", "brown", "gold"), "560 Ω, 5 %", size)
    yield "bands six", colour_band_picture(("yellow", "violet", "black", "black", "brown", "orange"), HOSTILE, size)
    yield "joined in series", joined_resistors(470.0, 1000.0, False, size)
    yield "joined in parallel", joined_resistors(1.2e6, 33.2, True, size)
    yield "joined things in series", joined_scene(470.0, 1000.0, 0.05, False, size)
    yield "joined things in parallel", joined_scene(1.2e6, 33.2, 0.01, True, size)
    yield "heat", heat_bar(0.1, size)
    yield "heat beyond", heat_bar(0.9, size)
    for name, plan in BOARD_SIDES.items():
        yield f"board side {name}", board_side(plan.study(), size)


def _by_train(relay="12 V two-pole", trigger=None, **sections):
    return Plan(trigger={"relay": relay, **(trigger or {})}, wiring={"reversing": "relay"}, **sections)


LONG_VALUES = {"timer": "schmitt gate", "pot": "123 kohm", "end_resistor": "12.3 kohm", "reed_resistor": "12.3 kohm"}
BOARD_SIDES = {
    "usual": _by_train(),
    "rests at red": _by_train(evening={"coil_fed": "for green"}, supply={"kind": "battery", "part": "6 x AA alkaline"}),
    "mosfet": _by_train("9 V two-pole sensitive", {"timer": "mosfet"}, drive={"kind": "constant current"}),
    "long values": _by_train(trigger=LONG_VALUES),
}


# ---- two wires

OLD_RED = leds["ordinary red 3 mm"]
LIGHTS = "0.001 mcd", "30 cd"
DULL, GLARING = (dataclasses.replace(CONSTANT, intensity=each, intensity_current="10 mA") for each in LIGHTS)
ALTERNATIONS = {
    name: turn(supply, ResistorDrive(ohms), TwoLeadPair(OLD_RED, GREEN), *cycle)
    for name, turn, supply, ohms, *cycle in (
        ("AC", on_ac, "12 V", "1 kohm", "60 Hz"),
        ("dark", on_ac, "0.5 V", "1 kohm", "60 Hz"),
        ("only red", on_ac, "1.2 V", "100 ohm", "60 Hz"),
        ("quick", turned_round, "12 V", "1 kohm", "200 Hz", 0.2),
        ("large currents, slow", on_ac, "30 V", "10 ohm", "0.013 Hz"),
    )
}


def _two_wires(size):
    for name, wiring in wirings.items():
        states = list(reversing(name).states.items())
        for positions, shown in states[:: max(1, len(states) // 4)]:  # of four single switches every fourth
            if len(wiring.signals) == 2:
                yield f"two signals {name} {shown.position}", signals_on_wires(wiring, shown, size)
                continue
            for first in (False, True):
                picture = reversing_circuit(wiring, wiring.closed(positions), shown, first, size)
                yield f"reversing {name} {shown.position} {first}", picture
    for red, green, full in ((OLD_RED, GREEN, None), (DULL, GLARING, None), (OLD_RED, GREEN, 0.006)):
        yield f"bars {red.name} {full}", brightness_bars(compare_brightness(red, green, "10 mA", "10 mA"), full, size)
    for name, result in ALTERNATIONS.items():
        yield f"alternation {name}", timeline(result, size)


# ---- power

STRANGE = Led(HOSTILE, "red", RED.model, "30 mA")
RELAY, LATCHING = relays["9 V two-pole sensitive"], relays["9 V two-pole latching"]


def compared(now, other, led=RED):
    """A resistor and another drive at 9 V and later, with the bands of their currents then."""
    drives = {name: each for name, each in same_current("9 V", led, "10 mA").items() if name in ("resistor", other)}
    bands = {name: current_with_bought_parts(now, each, led).m_as("A") for name, each in drives.items()}
    return compare_drives(Q([9, Q(now).m], "V"), drives, led), bands


def run(battery="9 V alkaline", drive="resistor", **load):
    """A battery's run with one of the drives."""
    source = batteries[battery]
    return run_time(source, Load(same_current(source.fresh_voltage, RED, "20 mA")[drive], RED, **load), 0.1)


def costs(battery_price, adapter_price, uses=1, evenings=(3.0, 5.0, 9.0)):
    """Break-even of an adapter, and what a battery costs each evening: least, nominal, most."""
    energy = yearly_energy(adapters["9 V regulated"], "20 mA", "3 h")
    result = break_even(energy, adapter_price, 0.3, battery_price, evenings, uses)
    return result, adapter_price, tuple(battery_price / (each * uses) for each in evenings[::-1])


def shared(red="0 ohm", together=True, supply="9 V", led=RED):
    """A red and a green LED behind one driver."""
    return share_limiter(supply, DRIVER, [(led, "4 mA", red), (GREEN, "10 mA", "0 ohm")], together)


def _drives(size):
    curve = SagCurve()
    for other, now, led in (("driver", 6, STRANGE), ("regulator", 4.5, [RED, RED]), ("current diode", 1, GREEN)):
        comparison, bands = compared(Q(now, "V"), other, led)
        yield f"sag {other} {now}", sag_figures(comparison, bands, size)
        kind = "9 V battery" if other == "driver" else "adapter"
        seen = sagging(comparison, "9 V adapter", kind, 9.0)
        yield f"sag looks {other} {now}", seen.looks("How it looks.", size)
        yield f"sag drawn {other} {now}", seen.drawn("How it is drawn.", size)
        drives = {name: over.drive for name, over in comparison.items()}
        down = compare_drives(Q(np.linspace(0.05, 9, 120), "V"), drives, led)
        yield f"sag curve {other} {now}", curve.picture(down, now, size)
    for together in (False, True):
        result = shared("1 kohm", together, led=STRANGE)
        yield f"limiter {together}", limiter_shares(result, size)
        seen = sharing(result, "9 V battery", "9 V battery", 9.0, ("red", "green") if together else ("green",), 1000.0)
        yield f"limiter looks {together}", seen.looks("How it looks.", size)
        yield f"limiter drawn {together}", seen.drawn("How it is drawn.", size)


def _runs(size):
    curve, volts = power.RunTimeCurve(), power.RunVoltage()
    for name, each, other in (
        ("hand switch", run(), run(drive="driver")),
        ("relay", run(relay=RELAY, standby="5 mA", timer_voltage="4.5 V"), None),
        ("coin cell", run("3 V coin cell"), run("3 V coin cell", "driver")),
        ("latching", run("9 V zinc-carbon", relay=LATCHING), run("9 V zinc-carbon", "driver", relay=LATCHING)),
    ):
        yield f"run {name}", curve.picture(each, "resistor", other, "driver", size)
        for now in (0.0, 0.5, 1.0):
            yield f"run {name} now {now}", curve.picture(each, "resistor", other, "driver", size, now)
        yield f"run voltage {name}", volts.picture(each, size, 0.5)
        for now in (0.0, 1.0):
            seen = power.signal_now(each, now, looks_like(each.battery))
            yield f"signal looks {name} {now}", seen.looks("How it looks.", size)
            yield f"signal drawn {name} {now}", seen.drawn("How it is drawn.", size)
        yield f"charge {name}", power.charge_shares(each, size)


def _supplies(size):
    line, chart = power.AdapterLine(), power.BreakEvenChart()
    for name, load in (("9 V unregulated", "10 mA"), ("12 V unregulated", "1 A"), ("5 V regulated", "0 mA")):
        yield f"adapter {name} {load}", line.picture(adapter_voltage(adapters[name], load), size)
    for *given, evenings in ((5.0, 15.0, 1, 5.0), (1.0, 15.0, 500, 5.0), (50.0, 0.0, 1, 5.0), (0.05, 100.0, 1, 0.1)):
        yield f"costs {given}", chart.picture(*costs(*given, (min(evenings, 3.0), 5.0, 6.0)), 5.0, size)


# ---- boards

ADAPTER = adapters["12 V regulated"]
LAMPS = Load(ResistorDrive("1 kohm", 0.05), PLAIN)
HEAVY = Load(ResistorDrive("1 kohm", 0.05), PLAIN, standby="50 mA")
WHITE = Load(ConstantCurrentDrive("10 mA", "1.5 V"), leds["white 3 mm"])
FAR = "the signal at the far end of the branch line behind the old brewery"
PLACES = {"east home": "1 m", "starter": "2.5 m", "yard": "4 m", FAR: "9 m"}

CHAINED = (("c", "two", "three"), ("d", "two", "four"), ("e", "four", "five"))

# two signals at one node, a joint in a branch, a deep branch, every kind of wire, names of every kind
MIXTURE = Board(
    HOSTILE,
    batteries["9 V alkaline"],
    (
        FeederSection("trunk", "supply", HOSTILE, wires["22 AWG stranded hook-up"], "12.345 m"),
        FeederSection("a", HOSTILE, "joint", "0.14 mm2", "1 m"),
        FeederSection("b", "joint", "one", wires["0.14 mm2 flexible"], "100 m"),
        FeederSection(HOSTILE, HOSTILE, "two", "28 AWG", "0.05 m"),
        *(FeederSection(name, *ends, 26, "1 m") for name, *ends in CHAINED),
    ),
    (
        BoardSignal(HOSTILE, "one", LAMPS),
        BoardSignal("neighbour", "one", WHITE),
        BoardSignal(FAR, "five", HEAVY),
        BoardSignal("bay", "three", LAMPS),
        BoardSignal("near", "supply", LAMPS),
    ),
    fuse=fuses["1.1 A resettable"],
)
BENCH = Board("bench", ADAPTER, (), (BoardSignal("one", "supply", WHITE), BoardSignal("two", "supply", LAMPS)))


def along(wiring, load=HEAVY, fuse=None):
    """A board of four signals on thin wire."""
    return board_along("layout", ADAPTER, load, PLACES, wiring, 30, fuse=fuse)


@cache
def _states():
    """The states of boards by name, each with the node of a short circuit if there is one; solved once."""
    fused = along("star", fuse=fuses["500 mA resettable"])
    dark = dataclasses.replace(along("chain", LAMPS), source=dataclasses.replace(ADAPTER, voltage="1 V"))
    many = chain_board("many", dataclasses.replace(ADAPTER, max_current="100 mA"), HEAVY, 12, 22, "1 m")
    long = chain_board("long", ADAPTER, LAMPS, 30, 30, "40 m")
    states = {wiring: (study_board(along(wiring)).state("green"), None) for wiring in WIRINGS}
    states |= {f"short at {node}": (short_at(fused, node).held, node) for node in ("terminal strip", FAR)}
    states |= {board.name: (study_board(board).state(), None) for board in (BENCH, dark, long, many)}
    return states | {"mixture": (study_board(MIXTURE).state(), "joint")}


@cache
def _limits():
    """Most signals with their curves, and what gauges leave; worked out once."""
    short = (adapters["9 V unregulated"], HEAVY, 30, "10 m")
    found = []
    for given in ((ADAPTER, LAMPS, 30, "0.2 m"), short, (batteries["9 V alkaline"], HEAVY, 30, "60 m")):
        result = most_signals(*given, share=0.7)
        found.append((result, add_signals(*given, [1, result.count, result.count + 1, 2 * result.count])))
    return found, gauge_for(along("chain"), 0.5).shares


def _boards(size):
    waiting = ["west home", HOSTILE]
    for name, (state, node) in _states().items():
        yield f"board {name}", board_picture(state, node, size, [] if node else waiting)
        if name != "long":
            yield f"board as it looks {name}", board_scene(state, node, size, [] if node else waiting)
    yield from _wires(size)


def _wires(size):
    chart, (found, shares) = MostSignalsChart(), _limits()
    for result, adding in found:
        yield f"most signals {result.count}", chart.picture(result, adding, 30.0, size)
    for wanted in (0.2, 0.9, 0.999):
        yield f"gauges {wanted}", gauge_bars(shares, wanted, size)


# ---- the passing train

PASSINGS = {
    "usual": {},
    "never": {"orientation": "crosswise"},
    "halt": {"stop_at": "10 mm", "stop_time": "100 s"},
    "two reds": {"last_magnet": "860 mm", "speed": "0.02 m/s", "coil_fed_for": "green"},
    "short and far": {"backwards": True, "length": "50 mm", "clearing_distance": "8 m", "speed": "5 m/s"},
    "long and near": {"length": "9 m", "clearing_distance": "0 m", "speed": "0.005 m/s", "reed_beyond": "0 m"},
}


MOMENTS = 0.0, 0.12, 0.5, 1.0


def _passings(size):
    for name, changes in PASSINGS.items():
        result = passing_train(passing_runs.run(**changes))
        for share in MOMENTS:
            yield f"track {name} {share}", train_scene(result, share * result.si.end, size=size)
        for view in VIEWS:
            yield f"timeline {name} {view}", passing_timeline(result, view, result.si.at_signal, size=size)
        yield f"timeline {name} brief", passing_timeline(result, VIEWS[0], result.si.clear, True, size)
    middle, strong = reeds["10 W reed, 7 to 21 AT"].middle, Magnet("50 mm", "50 mm", "1.4 T")
    yield "closures usual", closures_picture("8 x 3 mm disc, N35", middle, "5 mm", size=size)
    yield "closures none", closures_picture("3 x 1 mm disc, N35", middle, "80 mm", size=size)
    yield "closures far", closures_picture(strong, Reed("0.1 mT", "0.01 mT"), "1 mm", ["upright", "crosswise"], size)
    leaky = passing_runs.circuit("schmitt gate", "wide-tolerance electrolytic", "1 Mohm")
    little = passing_runs.circuit(pot="10 kohm")
    for made, wanted in ((passing_runs.circuit(), "10 s"), (leaky, "30 s"), (little, None)):
        yield f"hold {wanted}", HoldCurve().picture(hold_at(made, "9 V", 1.0), wanted, size)
        yield f"fill {wanted}", FillCurve().picture(hold_at(made, "9 V", 1.0), size)
    yield "four parts", four_parts(size)
    for name, changes in (("never", {"orientation": "crosswise"}), ("half", {"turn": 0.2})):
        yield f"odds {name}", odds_picture(passing_odds(passing_runs.run(**changes), samples=100), size)


# ---- the meter

SIGNAL = quillhaven_signal()
AT_LAMPS = TwoLeadPair(SIGNAL.pair.red, SIGNAL.pair.green, extra_red="680 ohm", extra_green="470 ohm")
BRANCHES = BenchCircuit(batteries["6 x AA alkaline"], ResistorDrive("0 ohm"), AT_LAMPS, reversing="relay", relay=RELAY)
DRIVEN = BenchCircuit(batteries["9 V alkaline"], DRIVER, SIGNAL.pair)


def _meters(size):
    looks = ("none", "red", "green", "dim red", "dim green", "both", "")
    for number, (name, point) in enumerate(measuring_points(SIGNAL).items()):
        reading, position = ("12.07 V", "", "OL", HOSTILE[:12])[number % 4], ("red", "green")[number % 2]
        yield f"meter {name}", meter_picture(SIGNAL, point, reading, position, looks[number % 7], size)
        yield f"scene meter {name}", meter_scene(SIGNAL, point, reading, position, looks[number % 7], size)
    for kind, circuit, name in (
        ("by hand", BRANCHES, "coil, green"),
        ("branches", BRANCHES, "pair, red"),
        ("driver", DRIVEN, "driver, red"),
        ("one-shot", circuits()["one-shot"], "reed alone"),
        ("mosfet", circuits()["mosfet"], "coil, red"),
    ):
        point = measuring_points(circuit)[name]
        yield f"meter {name} {kind}", meter_picture(circuit, point, "-1.234 V", "green", "both", size)
        yield f"measuring points {kind}", signal_with_points(circuit, "red", "Red is lit.", size)
    shown, range_ = ("40.00 MΩ", "-12.07 V"), "-2.956 V to -1.903 V"
    numbered = enumerate(measuring_points(SIGNAL))
    rows = [ReadingRow(name, shown[number % 2], range_, (True, False, None)[number % 3]) for number, name in numbered]
    yield "readings all", readings_table(rows, size=size, seen={"red": "dim green", "green": "both"})
    yield "readings last", readings_table(rows, 5, size)
    yield "readings none", readings_table([], size=size)
    clear = {"pair, red": "12 V", "shared resistor ohms": "680 ohm"}
    for seen, readings in (({}, {}), ({"red": "none", "green": "green"}, clear)):
        result = diagnose(SIGNAL, seen, readings, draws=100)
        yield f"ranking {len(seen)}", ranking(result, size=size)
        yield f"ranking {len(seen)} unfit", ranking(dataclasses.replace(result, fits=False), 2, size)


KINDS = _circuits, _scenes, _curves, _others, _two_wires, _drives, _runs, _supplies, _boards, _passings, _meters


@cache
def pictures(large=False):
    """All of them by name."""
    return {name: picture for kind in KINDS for name, picture in kind(LARGE if large else NORMAL)}


def _lamps_on_the_wall():
    for name, (pair, supply, drive, kind) in SIGNAL_SCENES.items():
        for polarity, where in itertools.product((+1, -1), RESISTOR_IN):
            point, driven = pair.operate(supply, drive, polarity), isinstance(drive, ConstantCurrentDrive)
            if not driven and pair is PLAIN:
                yield f"pair {name} {polarity} {where}", signal_scene(point, "x", kind, False, STAGE, where, bare=True)
        yield f"signal {name}", signal_scene(pair.operate(supply, drive, +1), "x", kind, False, STAGE)
        in_a = signal_scene(pair.operate(supply, drive, +1), "x", kind, False, STAGE, IN_WIRE_A)
        yield f"signal {name} in A", in_a
        yield f"signal {name} turned", signal_scene(pair.operate(supply, drive, -1), "x", kind, False, STAGE)
    for name, (pair, supply, drive, kind) in SIGNAL_SCENES.items():
        for polarity, where in itertools.product((+1, -1), RESISTOR_IN if pair is PLAIN else RESISTOR_IN[:1]):
            point, adapter = pair.operate(supply, drive, polarity), kind == "adapter"
            circuit = signal_circuit(point, "x", adapter, False, STAGE, resistor_in=where)
            yield f"circuit {name} {polarity} {where}", circuit
    for name, (given, supply, kind, bare) in SCENES.items():
        yield f"one {name}", one_led_circuit(operate(*given), supply, kind == "adapter", bare, STAGE)


def _trains_on_the_wall():
    for orientation, place in itertools.product(ORIENTATIONS, ("-40 mm", "0 mm", "5 mm")):
        picture = magnet_over_reed("8 x 3 mm disc, N35", MIDDLE_REED, "5 mm", orientation, place, STAGE)
        yield f"magnet {orientation} {place}", picture
    for turn, wanted in ((0.0, "10 s"), (1.0, "30 s")):
        hold = hold_at(passing_runs.circuit(pot="1 Mohm"), "9 V", turn)
        yield f"hold {wanted}", HoldCurve().picture(hold, wanted, STAGE)
        yield f"fill {wanted}", FillCurve().picture(hold, STAGE)
    yield "closures", closures_picture("8 x 3 mm disc, N35", MIDDLE_REED, "5 mm", size=STAGE, place="5 mm")
    for name, changes in PASSINGS.items():
        result = passing_train(passing_runs.run(**changes))
        for share in MOMENTS:
            yield f"track {name} {share}", train_scene(result, share * result.si.end, size=STAGE)
            for view in VIEWS:
                yield (
                    f"timeline {name} {view} {share}",
                    passing_timeline(result, view, share * result.si.end, size=STAGE),
                )


def _supplies_on_the_wall():
    things = "signal looks", "signal drawn"
    yield from (each for each in _runs(STAGE) if not each[0].startswith(things))
    yield from _supplies(STAGE)
    yield from _wires(STAGE)
    yield from (each for each in _drives(STAGE) if not each[0].startswith(("limiter looks", "limiter drawn")))


def _switches_on_the_wall():
    for wiring, up, first in itertools.product(SWITCH_WIRINGS, (True, False, None), (True, False)):
        picture = switch_front_and_back(up, wiring, STAGE, up is None, first)
        yield f"switch {wiring} {up} {first}", picture
    yield from _two_wires(STAGE)


def _meters_on_the_wall():
    yield from (each for each in _meters(STAGE) if each[0].startswith(("scene meter", "readings", "ranking")))
    for kind, circuit in {"plain": SIGNAL, "branches": BRANCHES, "driver": DRIVEN, **circuits()}.items():
        for name, point in measuring_points(circuit).items():
            yield f"meter {kind} {name}", meter_picture(circuit, point, "-1.234 V", "green", "both", STAGE)
    for name in ("pair, red", "current, red", "driver, green"):
        point = measuring_points(DRIVEN)[name]
        yield f"scene meter {name} driver", meter_scene(DRIVEN, point, "-1.234 V", "green", "both", STAGE)


def _boards_on_the_wall():
    for name, (state, node) in _states().items():
        waiting = [] if node or name == "long" else ["west home", HOSTILE]
        yield f"board {name}", board_scene(state, node, STAGE, waiting)


def _first_lessons_on_the_wall():
    for led, volts in itertools.product((RED, leds["low-current red 3 mm"]), ("1 V", "1.75 V", "1.95 V", "2.1 V")):
        yield f"against {led.name} {volts}", AgainstResistor().picture(steepness(led, volts), STAGE)
    yield "bands four", colour_band_picture(("green", "blue", "brown", "gold"), "560 Ω ± 5 %", STAGE)
    yield "bands five", colour_band_picture(("yellow", "violet", "black", "orange", "brown"), "470 kΩ ± 1 %", STAGE)
    for heat in (0.001, 0.1, 0.9):
        yield f"heat {heat}", heat_bar(heat, STAGE)
    for parallel in (True, False):
        yield f"joined {parallel}", joined_resistors(1.2e6, 33.2, parallel, STAGE)
        yield f"joined things {parallel}", joined_scene(1.2e6, 33.2, 0.01, parallel, STAGE)


ON_THE_WALL = (
    _first_lessons_on_the_wall,
    _boards_on_the_wall,
    _lamps_on_the_wall,
    _switches_on_the_wall,
    _trains_on_the_wall,
    _supplies_on_the_wall,
    _meters_on_the_wall,
)


@cache
def stage_pictures():
    """Those laid out for a wall, by name."""
    return {f"stage {name}": picture for kind in ON_THE_WALL for name, picture in kind()}
