"""Pictures of every kind, usual ones and extremes, for the tests that hold for all."""

import importlib
from functools import cache
from pathlib import Path

from sigcalc import Plan
from sigcalc.design.lamp.drive import operate
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import ConstantDrop, Exponential, Led, diodes, leds
from sigcalc.views.board_side import board_side
from sigcalc.views.circuit import signal_circuit
from sigcalc.views.curves import Curves
from sigcalc.views.plan_your_signal import mast_front
from sigcalc.views.style import LARGE, NORMAL
from sigcalc.views.which_resistor import colour_band_picture, joined_resistors
from sigcalc.views.why_a_resistor import LoadLine, one_led_circuit
from tests.views.svg import HOSTILE

RED, GREEN = leds["red alingap 3 mm"], leds["green gap 3 mm"]
POINTS = [("1.75 V", "2 mA"), ("1.80 V", "5 mA"), ("1.88 V", "10 mA"), ("1.93 V", "20 mA"), ("2.0 V", "28 mA")]
OWN = Led(HOSTILE, "red", Exponential.fitted(POINTS, colour="red"), "30 mA")
CONSTANT = Led("a lamp from the bottom of the drawer, bought long ago", "blue", ConstantDrop("3 V"), "20 mA")
PLAIN = TwoLeadPair(RED, GREEN)
FULL = TwoLeadPair(OWN, GREEN, "100 ohm", "2.2 kohm", diodes["1n4001"])
RESISTOR, DRIVER = ResistorDrive("680 ohm", 0.05), ConstantCurrentDrive("10 mA", "1.5 V", 0.1)


def _by_train(relay="12 V two-pole", trigger=None, **sections):
    return Plan(trigger={"relay": relay, **(trigger or {})}, wiring={"reversing": "relay"}, **sections)


BOARD_SIDES = {
    "usual": _by_train(),
    "rests at red": _by_train(evening={"coil_fed": "for green"}, supply={"kind": "battery", "part": "6 x AA alkaline"}),
    "mosfet": _by_train("9 V two-pole sensitive", {"timer": "mosfet"}, drive={"kind": "constant current"}),
    "long values": _by_train(
        trigger={"timer": "schmitt gate", "pot": "123 kohm", "end_resistor": "12.3 kohm", "reed_resistor": "12.3 kohm"}
    ),
}


def _signals(size):
    for name, pair, supply, drive in (
        ("plain", PLAIN, "9.5 V", RESISTOR),
        ("branches", TwoLeadPair(OWN, CONSTANT, extra_green="220 ohm"), "12 V", ResistorDrive("0.47 ohm", 0.2)),
        ("full", FULL, "24 V", DRIVER),
        ("overloaded", PLAIN, "60 V", ResistorDrive("10 ohm")),
        ("dark", PLAIN, "0 V", ResistorDrive("999 kohm", 0.2)),
    ):
        for polarity in (+1, -1):
            for switch in (True, False):
                point = pair.operate(supply, drive, polarity)
                supply_name = HOSTILE if name == "branches" else "6 x AA alkaline"
                picture = signal_circuit(point, supply_name, name == "full", switch, size)
                yield f"signal {name} {polarity} {'switch' if switch else 'turned'}", picture


def _single(size):
    for name, supply, drive, string, bare in (
        ("resistor", "9.5 V", RESISTOR, RED, False),
        ("bare", "9.5 V", ResistorDrive("2.5 ohm"), OWN, True),
        ("reverse", "-12 V", ResistorDrive("0 ohm"), RED, False),
        ("dark", "1.2 V", RESISTOR, GREEN, False),
        ("string", "20 V", DRIVER, [RED, GREEN, CONSTANT, RED, RED], False),
    ):
        point = operate(supply, drive, string)
        yield f"one {name}", one_led_circuit(point, "9 V alkaline", name == "string", bare, size)


def _charts(size):
    line, curves = LoadLine(), Curves()
    for name, supply, drive, string in (
        ("usual", "9.5 V", RESISTOR, RED),
        ("driver", "12 V", DRIVER, [RED, GREEN]),
        ("short", "9.5 V", ResistorDrive("0 ohm"), OWN),
        ("tight", "3 V", ResistorDrive("33 ohm", 0.05), RED),
        ("dark", "1.2 V", RESISTOR, GREEN),
        ("constant drop", "5 V", ResistorDrive("100 ohm", 0.05), CONSTANT),
    ):
        for spread in (False, True):
            picture = line.picture(operate(supply, drive, string), spread, size)
            yield f"load line {name}{' spread' if spread else ''}", picture
    yield "curves two", curves.picture([RED, GREEN], size=size)
    yield "curves fitted", curves.picture(OWN, points=POINTS, size=size)
    yield "curves constant drop", curves.picture([CONSTANT, OWN], size=size)


LOW = Plan(mast={"height": "20 mm", "top_lamp": "17 mm", "bottom_lamp": "9 mm"})
HIGH = Plan(
    mast={"height": "2 m", "top_lamp": "1.2 m", "bottom_lamp": "1.196 m"}, lamps={"top": "red", "bottom": "green"}
)


def _others(size):
    yield "mast usual", mast_front(Plan(), "red", size)
    yield "mast low", mast_front(LOW, "both", size)
    yield "mast high", mast_front(HIGH, "none", size)
    yield "bands four", colour_band_picture(("green", "blue", "brown", "gold"), "560 Ω, 5 %", size)
    yield "bands six", colour_band_picture(("yellow", "violet", "black", "black", "brown", "orange"), HOSTILE, size)
    yield "joined in series", joined_resistors(470.0, 1000.0, False, size)
    yield "joined in parallel", joined_resistors(1.2e6, 33.2, True, size)


def _boards(size):
    for name, plan in BOARD_SIDES.items():
        yield f"board side {name}", board_side(plan.study(), size)


def _of_other_files(size):
    """What each file beside this one whose name ends in "_samples" gives by a function ending in "_pictures"."""
    for path in sorted(Path(__file__).parent.glob("*_samples.py")):
        module = importlib.import_module(f"{__package__}.{path.stem}")
        for name in (each for each in vars(module) if each.endswith("_pictures")):
            yield from getattr(module, name)(size)


@cache
def pictures(large=False):
    """All of them by name."""
    size = LARGE if large else NORMAL
    kinds = (_signals, _single, _charts, _others, _boards, _of_other_files)
    return {name: picture for source in kinds for name, picture in source(size)}
