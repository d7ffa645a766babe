"""A finished signal on the bench: everything the current passes through, as it was meant to be and as it was built.

`sound` turns a signal into plain SI numbers over many draws of its parts, which a fault then changes (`fault`) and a
meter reads (`reading`). Nothing is ever quite open or quite shorted: an open joint counts as OPEN, a clean contact as
something within CLEAN.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from ...errors import DesignError
from ...parts.drive import ConstantCurrentDrive, Drive, ResistorDrive, as_one_drive
from ...parts.led import Exponential
from ...parts.relay import Relay, as_relay
from ...parts.source import Adapter, Source
from ...parts.table import need_name
from ...parts.timer import timer_output
from ...units import Ratio, Resistance, record
from ...units.plain import need_whole
from ..lamp.drive import triples
from ..pair.two_lead_pair import TwoLeadPair, as_pair
from ..tolerance import Band, over_corners, over_draws
from ..train.hold import HoldCircuit

Floats = NDArray[np.float64]
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
    each to the mast's foot, two of `mast_resistance` each up the mast, and the pair. Current from wire A to wire B
    lights red; the wires are marked. `branch_tolerance` is that of the resistors inside the pair.

    With a `relay` (a record or a name) its coil, while it is fed, shows `fed_lamp`. Where there is a `timer`, a reed
    switch under a passing magnet sets it off, it holds red, and its pot is set to `pot_turn`: it feeds a coil for red
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
        as_one_drive(self.drive)
        self._check_pair()
        need_name(self.reversing, "reversing", REVERSING)
        need_name(self.fed_lamp, "fed_lamp", LAMPS)
        self._check_relay()

    def _check_pair(self) -> None:
        for lamp in LAMPS:
            if not all(isinstance(each.model, Exponential) for each in as_pair(self.pair).branch(lamp)[0]):
                raise DesignError(
                    f"the {lamp} LED needs an Exponential model: a constant drop says nothing about what a meter reads "
                    'beside a fault; take one of the table, such as leds["bright red 3 mm"]'
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
        if self.timer is not None and self.relay is None:
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


Draws = dict[str, Floats]
"""How the parts of many samples differ, by name: from -1 (least) over 0 (as printed) to +1 (most), shape (samples,)."""
PARTS = (
    *("supply", "source", "limit", "red resistor", "green resistor", "red drop", "green drop", "contact", "coil"),
    *("pull in", "output", "pot", "end resistor", "capacitance", "trip", "input", "leakage", "timing", "ripple"),
    "reads high",
)
"""Equally likely from least to most, as a maker sorts to a tolerance and says no more; but the LEDs' drops are
likeliest at the typical value."""
SEVERITY = ("severity", "second severity")
"""How grave a fault is, from 0 to 1: for a single fault, and for the second of two."""
MOST_SEED = 2**63
_EITHER_WAY = Band(-1.0, 0.0, 1.0)


def nominal() -> Draws:
    """One sample with every part as printed, and faults of middling gravity."""
    return {name: np.zeros(1) for name in PARTS} | {name: np.full(1, 0.5) for name in SEVERITY}


def at_corners(names: tuple[str, ...], formula: Any) -> dict[str, Band]:
    """The bands of what a formula of Draws gives by name, the named parts at all combinations of their ends."""

    def of_draws(**ends: Floats) -> dict[str, Floats]:
        return formula({name: np.zeros(1) for name in (*PARTS, *SEVERITY)} | ends)

    return over_corners(of_draws, **dict.fromkeys(names, _EITHER_WAY))


def need_seed(seed: Any) -> int:
    """The seed of random numbers; RangeError where it is none."""
    return need_whole(seed, "seed", 0, MOST_SEED, 1)


def drawn(count: int, seed: int) -> Draws:
    """Random samples; the same for a seed, and in the order of rising "severity"."""
    draws = over_draws(dict, seed, count, peaked=("red drop", "green drop"), **dict.fromkeys(PARTS, _EITHER_WAY))
    random = np.random.default_rng([seed, len(PARTS)])
    even = (np.arange(count) + random.uniform(size=count)) / count
    return draws | {"severity": even, "second severity": random.permutation(even)}


OPEN = 1e12
"""In ohm, of an open joint: about what dry wood and plastics insulate. Common practice, no source."""
CLEAN = (0.02, 0.05, 0.1)
"""In ohm, of a clean closed contact: least, usual, most. Common practice, no source; data sheets allow the most."""
BRIDGE = 0.2
"""In ohm, of a blob of solder or an LED burnt through. Common practice, no source."""
STILL_GOOD = 0.93
"""Share of a fresh battery's least voltage down to which it counts as sound. Common practice, no source."""
RIPPLE = 0.02
"""The most that is left of the mains in an adapter's direct voltage, as a share. Common practice, no source."""
HELD_BY = 1e9
"""In ohm, beside a driver whose output resistance is not known: it then hardly follows the voltage."""
_REED = 0.1  # ohm, closed; common practice, no source; data sheets allow up to 0.2 ohm
_LEAST_PULL_IN = 0.5  # of what every relay of the kind pulls in at; common practice, no source
_SOUND_LEAKAGE = 0.1  # of what a sound capacitor's sheet allows; common practice, no source
_PRINTED = ("end resistor", "capacitance", "trip", "timing")  # within the bands of the hold circuit

State = dict[str, Any]
"""One signal's numbers by name, SI, each an array over the samples (or of more dimensions before them) or one number.

supply (signed; root mean square where `alternating`), source, ripple (V that an AC range shows of a steady supply)
limit (ohm of the resistor, or of a driver below its drop-out), held (A of a driver, else infinite), beside (ohm)
plus jumper, minus jumper: 1 where it is, 0 missing, -1 where it goes straight; stuck a, stuck b: 1 for a stuck contact
contact red, contact green (ohm of wire A's contact in each position), second contact
wire, short (between both wires at the mast's foot), mast (ohm), swapped (-1 for wires that change places there)
of each lamp: sign (+1 from wire A to wire B), joint, resistor (ohm), bridged (1 where the LED is bypassed), leds (the
LED, then its diode, as exponential triples)
with a relay: coil (ohm), pull in (V), armature (0 free, -1 stuck at rest, +1 stuck pulled in)
with a timer: reed (0 sound, -1 open, +1 closed), magnet reaches, timer works (1 or 0), keeps and leaves (V that feeding
the coil takes away, V left across a coil not fed), pot, end resistor, capacitance, trip, input, leakage, leak, timing
reads high: from -1 to 1, how far the meter does
"""


def sound(circuit: BenchCircuit, draws: Draws) -> State:
    """The circuit without a fault."""
    volts, ohms = zip(*circuit.source.corners, strict=True)
    adapter = isinstance(circuit.source, Adapter)
    if not adapter:  # a battery in use is not quite fresh
        volts = (STILL_GOOD * volts[0], *volts[1:])
    contact = between(CLEAN, draws["contact"])
    return {
        "supply": between(volts, draws["supply"]),
        "alternating": 0,
        "source": np.maximum(between(sorted(ohms), draws["source"]), 1e-3),
        "ripple": (RIPPLE * circuit.source.si.voltage if adapter else 0.0) * np.maximum(draws["ripple"], 0.0),
        **_limit(circuit, draws["limit"]),
        "plus jumper": 1,
        "minus jumper": 1,
        "stuck a": 0,
        "stuck b": 0,
        "contact red": contact,
        "contact green": contact,
        "second contact": contact,
        "wire": circuit.si.wire_resistance,
        "short": OPEN,
        "mast": 2 * circuit.si.mast_resistance,
        "swapped": 1,
        **_lamp(circuit, "red", draws),
        **_lamp(circuit, "green", draws),
        **({} if circuit.relay is None else _coil(circuit.relay, draws)),
        **({} if circuit.timer is None else _trigger(circuit, draws)),
        "reads high": draws["reads high"],
    }


def between(ends: Any, where: Floats) -> Floats:
    """The value from least over usual to most for numbers from -1 to 1, in two straight pieces."""
    return np.interp(where, (-1.0, 0.0, 1.0), ends)


def _limit(circuit: BenchCircuit, where: Floats) -> State:
    drive = circuit.drive.si
    if not circuit.driver:
        ohms = np.maximum(circuit.shared * (1 + drive.tolerance * where), 1e-3)
        return {"limit": ohms, "held": np.inf, "beside": HELD_BY}
    held = drive.current * (1 + drive.tolerance * where)
    known = drive.output_resistance
    return {"limit": drive.dropout / held, "held": held, "beside": HELD_BY if known is None else float(known)}


def _lamp(circuit: BenchCircuit, lamp: str, draws: Draws) -> State:
    string, extra = circuit.pair.branch(lamp)
    figures = {
        "sign": 1 if lamp == "red" else -1,
        "joint": 0.0,
        "resistor": extra * (1 + circuit.si.branch_tolerance * draws[f"{lamp} resistor"]),
        "bridged": 0,
        "leds": triples(string, spread=draws[f"{lamp} drop"]),
    }
    return {f"{lamp} {name}": figure for name, figure in figures.items()}


def _coil(relay: Relay, draws: Draws) -> State:
    sure = relay.si.must_operate * relay.si.rated_voltage
    pulls_in = (_LEAST_PULL_IN * sure, (1 + _LEAST_PULL_IN) / 2 * sure, sure)
    return {
        "coil": relay.si.coil_resistance * (1 + relay.si.coil_tolerance * draws["coil"]),
        "pull in": between(pulls_in, draws["pull in"]),
        "armature": 0,
    }


def _trigger(circuit: BenchCircuit, draws: Draws) -> State:
    hold, output = circuit.timer, timer_output(circuit.timer.timer, circuit.fed_lamp)
    bands = hold.bands(1.0)
    return {
        "reed": 0,
        "reed contact": _REED,
        "magnet reaches": 1,
        "timer works": 1,
        "keeps": between(output.keeps, draws["output"]),
        "leaves": between(output.leaves, draws["output"]),
        "pot": pot_at(circuit, circuit.si.pot_turn, draws),
        **{name: between(tuple(bands[name.replace(" ", "_")]), draws[name]) for name in _PRINTED},
        "input": hold.timer.si.input_current * np.maximum(draws["input"], 0.0),
        "leakage": _SOUND_LEAKAGE * np.maximum(draws["leakage"], 0.0) / hold.capacitor.leakage_resistance,
        "leak": 0.0,
    }


def pot_at(circuit: BenchCircuit, turn: float, draws: Draws) -> Floats:
    """The resistance in ohm of the timer's pot at a turn from 0 to 1."""
    hold = circuit.timer.si
    return np.maximum(turn * hold.pot * (1 + hold.pot_tolerance * draws["pot"]), 1.0)


def hold_seconds(circuit: BenchCircuit, state: State) -> Floats:
    """How long the timer holds; infinite where its trip is never reached, 0 s without a supply.

    `trip` is a share of the supply where the timer follows that, else in V. `leak` is a faulty capacitor's leakage, as
    a share of the current through the pot at the trip: from 1 on a trip that is charged up to is never reached.
    """
    timer, supply = circuit.timer.timer, np.maximum(state["supply"], 0.0)
    trip = np.minimum(state["trip"] * supply if timer.follows_supply else state["trip"], supply)
    resistance, end = state["pot"] + state["end resistor"], 0.0 if timer.discharges else supply
    faulty = state["leak"] * np.abs(end - trip) / (resistance * np.maximum(trip, 1e-3))
    beside = 1.0 / np.maximum(state["leakage"] + faulty, 1.0 / OPEN)
    times = timer.seconds(supply, resistance, state["capacitance"], trip, beside, state["input"])
    return np.where(supply > 0, times * state["timing"], 0.0)
