"""A train on Quillhaven's main line for the tests of the passing."""

from functools import cache

from sigcalc.design.train.hold import HoldCircuit
from sigcalc.design.train.train_run import TrainRun
from sigcalc.parts.capacitor import Capacitor


@cache
def circuit(timer="one-shot", kind="electrolytic", pot="220 kohm"):
    return HoldCircuit(timer, Capacitor(kind, "100 µF", "16 V"), pot, "4.7 kohm")


def run(**changes):
    """The run of the lesson, with fields of its own where they are given."""
    usual = {
        "magnet": "8 x 3 mm disc, N35",
        "reed": "10 W reed, 7 to 21 AT",
        "gap": "5 mm",
        "orientation": "upright",
        "circuit": circuit(),
        "turn": 0.3,
        "supply": "9 V",
        "relay": "9 V two-pole sensitive",
        "length": "900 mm",
        "speed": "0.3 m/s",
        "magnet_from_front": "10 mm",
        "reed_beyond": "50 mm",
        "clearing_distance": "500 mm",
    }
    return TrainRun(**usual | changes)
