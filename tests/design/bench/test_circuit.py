"""What may be put on the bench, and what is refused."""

import dataclasses

import pytest

from sigcalc.design.bench.circuit import BenchCircuit, as_bench_circuit
from sigcalc.design.pair.two_lead_pair import TwoLeadPair
from sigcalc.errors import DesignError, RangeError, UnitError, UnknownNameError
from sigcalc.parts.drive import ResistorDrive
from sigcalc.parts.led import ConstantDrop, Led
from sigcalc.parts.source import adapters
from tests.design.bench.circuits import circuits

SIMPLE, TIMED = circuits()["resistor"], circuits()["one-shot"]


def test_features():
    assert SIMPLE.features == {"shared resistor", "shared limit", "hand switch", "adapter", "regulated adapter"}
    assert circuits()["mixed"].features == {"shared resistor", "shared limit", "red resistor", "hand switch", "battery"}
    assert circuits()["driver"].features == {"driver", "shared limit", "hand switch", "adapter", "regulated adapter"}
    assert circuits()["mosfet"].features == {"red resistor", "green resistor", "relay", "timer", "battery"}


def test_the_position_over_the_x():
    assert SIMPLE.crossed_lamp == "green"
    assert TIMED.crossed_lamp == "red"
    assert dataclasses.replace(TIMED, fed_lamp="green").crossed_lamp == "green"


def test_equal_circuits_are_one():
    again = dataclasses.replace(SIMPLE)
    assert again == SIMPLE
    assert hash(again) == hash(SIMPLE)


PLAIN = Led("plain", "red", ConstantDrop("2 V"), max_current="20 mA")


@pytest.mark.parametrize(
    ("changes", "error", "said"),
    [
        ({"source": "12 V"}, UnitError, "source needs a Battery or an Adapter; you gave str"),
        ({"pair": "pair"}, UnitError, "pair needs a TwoLeadPair"),
        ({"pair": TwoLeadPair(PLAIN, PLAIN)}, DesignError, "the red LED needs an Exponential model"),
        ({"drive": ResistorDrive("0 ohm")}, DesignError, "every lamp needs something that limits its current"),
        ({"drive": ResistorDrive(["1 kohm", "2 kohm"])}, RangeError, "drive needs one value"),
        ({"reversing": "by hand"}, UnknownNameError, "reversing 'by hand' is not known"),
        ({"fed_lamp": "yellow"}, UnknownNameError, "fed_lamp 'yellow' is not known"),
        ({"reversing": "relay"}, DesignError, "needs a relay beside it"),
        ({"relay": "12 V two-pole sensitive"}, DesignError, "needs a relay beside it"),
        ({"reversing": "relay", "relay": "5 V two-pole latching"}, DesignError, "no position of rest"),
        ({"timer": TIMED.timer}, DesignError, "a timer needs a relay that it feeds"),
        (
            {"timer": "one-shot", "reversing": "relay", "relay": "12 V two-pole sensitive"},
            UnitError,
            "timer needs a HoldCircuit",
        ),
    ],
)
def test_refusals(changes, error, said):
    with pytest.raises(error, match=said):
        dataclasses.replace(SIMPLE, **changes)


def test_something_else_is_no_circuit():
    with pytest.raises(UnitError, match="circuit needs a BenchCircuit; you gave Adapter"):
        as_bench_circuit(adapters["12 V regulated"])
    assert as_bench_circuit(SIMPLE) is SIMPLE
    assert isinstance(SIMPLE, BenchCircuit)
