"""Five made-up signals for the bench: shared resistor, mixed, driver, and two with relay and hold timer.

The coil of the one-shot's is fed for red and lies from its output to minus, that of the other is fed for green and
hangs from plus.
"""

from functools import cache

import numpy as np

from sigcalc.design.bench.circuit import BenchCircuit, nominal
from sigcalc.design.bench.fault import catalogue, faulty
from sigcalc.design.bench.reading import BenchReadings, measuring_points
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.design.train.hold import HoldCircuit
from sigcalc.parts.capacitor import Capacitor
from sigcalc.parts.drive import ConstantCurrentDrive, ResistorDrive
from sigcalc.parts.led import leds
from sigcalc.parts.meter import meters
from sigcalc.parts.source import adapters, batteries


def relay_signal(source, drive, pair, relay, timer, fed_lamp):
    return BenchCircuit(source, drive, pair, reversing="relay", relay=relay, timer=timer, fed_lamp=fed_lamp)


@cache
def circuits():
    red, green, bluish = leds["bright red 3 mm"], leds["ordinary green 3 mm"], leds["very bright green 3 mm"]
    one_shot = HoldCircuit("one-shot", Capacitor("electrolytic", "22 µF", "25 V"), "470 kohm", "4.7 kohm")
    mosfet = HoldCircuit("mosfet", Capacitor("electrolytic", "47 µF", "25 V"), "220 kohm", "4.7 kohm")
    twelve, nine = adapters["12 V regulated"], batteries["9 V alkaline"]
    return {
        "resistor": BenchCircuit(twelve, ResistorDrive("1 kohm", "5 %"), TwoLeadPair(red, green)),
        "mixed": BenchCircuit(nine, ResistorDrive("680 ohm", "5 %"), TwoLeadPair(red, bluish, extra_red="330 ohm")),
        "driver": BenchCircuit(twelve, ConstantCurrentDrive("10 mA", "1.5 V", "10 %"), TwoLeadPair(red, green)),
        "one-shot": relay_signal(
            twelve,
            ResistorDrive("820 ohm", "5 %"),
            TwoLeadPair(leds["ordinary red 3 mm"], green),
            "12 V two-pole sensitive",
            one_shot,
            "red",
        ),
        "mosfet": relay_signal(
            batteries["6 x AA alkaline"],
            ResistorDrive("0 ohm"),
            TwoLeadPair(red, green, "680 ohm", "560 ohm"),
            "9 V two-pole sensitive",
            mosfet,
            "green",
        ),
    }


NAMES = ("resistor", "mixed", "driver", "one-shot", "mosfet")

HAND = meters["hand meter"]


def state(name, fault="nothing wrong", draws=None, **given):
    """The numbers of a signal with a fault, its parts as printed but for `given` draws."""
    draws = nominal() if draws is None else draws
    return faulty(circuits()[name], catalogue()[fault], draws | {key: np.array([each]) for key, each in given.items()})


def reading(name, point, fault="nothing wrong", meter=HAND, **given):
    """What a meter shows at one point of a signal with a fault."""
    circuit = circuits()[name]
    found, _ = BenchReadings(circuit, state(name, fault, **given), meter).at([measuring_points(circuit)[point]])
    return float(found[point][0])
