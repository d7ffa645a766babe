"""A finished signal on the bench: everything the current passes through, as it was meant to be."""

from __future__ import annotations

from ...errors import DesignError, UnitError, UnknownNameError
from ...parts.drive import ConstantCurrentDrive, Drive, ResistorDrive, as_one_drive
from ...parts.led import Exponential
from ...parts.relay import Relay, as_relay
from ...parts.source import Adapter, Battery, Source
from ...parts.table import unknown
from ...parts.timer import timer_output
from ...units import Ratio, Resistance, record
from ..pair.two_lead_pair import TwoLeadPair, as_pair
from ..train.hold import HoldCircuit

LAMPS = ("red", "green")
"""The lamps, and the two positions of the signal: set for red, set for green."""
REVERSING = ("hand switch", "relay")
HELD = "red"
"""The lamp that a timer holds once a train has passed."""


@record
class BenchCircuit:
    """A two-lead signal with its supply, in order along the current.

    The supply feeds `drive` (a shared resistor or a driver, in the plus lead ahead of the switch; 0 ohm where each
    branch has a resistor of its own), then a switch or relay with crossed contacts, two wires of `wire_resistance`
    each to the mast's foot, two of `mast_resistance` each up the mast, and the pair. Current from lead A to lead B
    lights red; the leads are marked. `branch_tolerance` is that of the resistors inside the pair.

    With a `relay` (a record or a name) its coil, while it is fed, shows `fed_lamp`. Where there is a `timer`, a reed
    switch under a passing magnet sets it off, it holds red, and its pot stands at `pot_turn`: it feeds a coil for red
    during the hold, and a coil for green at all other times. Without one the coil is fed by hand.
    """

    source: Source
    drive: Drive
    pair: TwoLeadPair
    reversing: str = "hand switch"
    wire_resistance: Resistance = "0.2 ohm"
    mast_resistance: Resistance = "0.1 ohm"
    branch_tolerance: Ratio = 0.05
    relay: Relay | None = None
    timer: HoldCircuit | None = None
    pot_turn: Ratio = 0.5
    fed_lamp: str = "red"
    name: str = "signal"

    def __post_init__(self) -> None:
        if not isinstance(self.source, Battery | Adapter):
            came = type(self.source).__name__
            raise UnitError(f'source needs a Battery or an Adapter, but {came} came; try adapters["12 V regulated"]')
        as_one_drive(self.drive)
        self._check_pair()
        for name, value, known in (("reversing", self.reversing, REVERSING), ("fed_lamp", self.fed_lamp, LAMPS)):
            if value not in known:
                raise UnknownNameError(unknown(name, value, known))
        self._check_relay()

    def _check_pair(self) -> None:
        for lamp in LAMPS:
            if not all(isinstance(each.model, Exponential) for each in as_pair(self.pair).branch(lamp)[0]):
                raise DesignError(
                    f"the {lamp} LED needs an Exponential model: a constant drop says nothing about what a meter reads "
                    'beside a fault; take one of the table, such as leds["red alingap 3 mm"]'
                )
        if not self.driver and not self.shared and not all(self.extra(lamp) for lamp in LAMPS):
            raise DesignError(
                "every lamp needs something that limits its current; give the drive a resistance, or each branch of "
                "the pair a resistor: an LED without one may burst"
            )

    def _check_relay(self) -> None:
        if (self.relay is None) != (self.reversing == "hand switch"):
            raise DesignError('reversing="relay" needs a relay beside it, and reversing="hand switch" none')
        if self.relay is not None:
            object.__setattr__(self, "relay", as_relay(self.relay))
            if self.relay.latching:
                raise DesignError("a latching relay has no position of rest; give one that does not latch")
        if self.timer is not None:
            if not isinstance(self.timer, HoldCircuit):
                raise UnitError(f"timer needs a HoldCircuit, but {type(self.timer).__name__} came; or leave it out")
            if self.relay is None:
                raise DesignError('a timer needs a relay that it feeds; write reversing="relay" and name the relay')

    @property
    def driver(self) -> bool:
        """Whether a constant-current driver, and not a resistor, is shared by both lamps."""
        return isinstance(self.drive, ConstantCurrentDrive)

    @property
    def shared(self) -> float:
        """The shared resistor in ohm; 0 where there is none."""
        return float(self.drive.si.resistance) if isinstance(self.drive, ResistorDrive) else 0.0

    def extra(self, lamp: str) -> float:
        """The resistor inside the branch of "red" or "green", in ohm; 0 where there is none."""
        return float(self.pair.branch(lamp)[1])

    @property
    def crossed_lamp(self) -> str:
        """The lamp that is lit over the X of jumpers; the other one is on the direct throw."""
        return LAMPS[1] if self.relay is None else self.fed_lamp

    @property
    def coil_from_plus(self) -> bool:
        """Whether the coil lies from plus to the timer's output, and not from what feeds it to minus."""
        return self.timer is not None and timer_output(self.timer.timer, self.fed_lamp).from_plus

    @property
    def features(self) -> frozenset[str]:
        """What the circuit has, in the words by which faults and measuring points ask for it."""
        adapter = isinstance(self.source, Adapter)
        known = {
            "shared resistor": bool(self.shared),
            "driver": self.driver,
            "shared limit": self.driver or bool(self.shared),
            "red resistor": bool(self.extra("red")),
            "green resistor": bool(self.extra("green")),
            "hand switch": self.relay is None,
            "relay": self.relay is not None,
            "timer": self.timer is not None,
            "battery": not adapter,
            "adapter": adapter,
            "regulated adapter": adapter and self.source.regulated,
        }
        return frozenset(name for name, has in known.items() if has)


def as_bench_circuit(circuit: object) -> BenchCircuit:
    """The circuit itself, or UnitError where it is none."""
    if not isinstance(circuit, BenchCircuit):
        raise UnitError(
            f"circuit needs a BenchCircuit, but {type(circuit).__name__} came; write for example "
            'BenchCircuit(adapters["12 V regulated"], ResistorDrive("680 ohm", "5 %"), pair)'
        )
    return circuit
