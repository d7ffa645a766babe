"""A circuit on the bench as plain SI numbers, over many samples of its parts: what a fault then changes.

Nothing is ever quite open or quite shorted: an open joint counts as OPEN, a clean contact as something within CLEAN.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from ...parts.source import Adapter
from ...parts.timer import Timer, timer_output
from ..lamp.drive import triples
from ..train.hold import HoldCircuit
from .circuit import LAMPS, BenchCircuit
from .draws import Draws

Floats = NDArray[np.float64]

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
_LEAST_PULL_IN = 0.5  # of what every relay of the kind pulls in at; common practice, no source
_SOUND_LEAKAGE = 0.1  # of what a sound capacitor's sheet allows; common practice, no source


class Lamp(NamedTuple):
    """One branch of the pair: which way it lies, resistances in ohm, and its LED and diode as exponential triples.

    `joint` is in series with all; `resistor` is the branch's own; `bridged` says that the LED is bypassed.
    """

    sign: int
    joint: Any
    resistor: Any
    bridged: bool
    led: tuple[Any, Any, Any]
    diodes: tuple[tuple[Any, Any, Any], ...]

    @property
    def ohms(self) -> Any:
        """All resistance in series with what conducts one way only."""
        return self.joint + self.resistor + (BRIDGE if self.bridged else 0.0)

    @property
    def members(self) -> tuple[tuple[Any, Any, Any], ...]:
        """What conducts one way only, in series; empty where it is bypassed."""
        return self.diodes if self.bridged else (self.led, *self.diodes)


class Timing(NamedTuple):
    """What sets the length of a hold. `trip` is a share of the supply where it follows that, else in V.

    `leakage` in A/V is a sound capacitor's; `leak` is a faulty one's, as a share of the current through the pot at the
    trip: from 1 on a trip that is charged up to is never reached.
    """

    timer: Timer
    pot: Any
    end_resistor: Any
    capacitance: Any
    trip: Any
    input_current: Any
    leakage: Any
    leak: Any
    spread: Any

    def seconds(self, supply: Any) -> Floats:
        """The hold at a supply in V; infinite where the trip is never reached, 0 s without a supply."""
        supply = np.maximum(supply, 0.0)
        trip = np.minimum(self.trip * supply if self.timer.follows_supply else self.trip, supply)
        resistance, end = self.pot + self.end_resistor, 0.0 if self.timer.discharges else supply
        faulty = self.leak * np.abs(end - trip) / (resistance * np.maximum(trip, 1e-3))
        beside = 1.0 / np.maximum(self.leakage + faulty, 1.0 / OPEN)
        times = self.timer.seconds(supply, resistance, self.capacitance, trip, beside, self.input_current)
        return np.where(supply > 0, times * self.spread, 0.0)


class Trigger(NamedTuple):
    """Reed and timer: whether the reed is "sound", "closed" or "open", whether the train's magnet reaches it, outputs.

    The timer holds red. What feeds the coil `keeps` some of the supply for itself, and `leaves` some across a coil that
    it does not feed, both in V; the coil lies from plus to the output where it is `from_plus`, else from it to minus.
    """

    reed: str
    reed_resistance: Any
    magnet_reaches: bool
    works: bool
    from_plus: bool
    keeps: Any
    leaves: Any
    timing: Timing


class Coil(NamedTuple):
    """A relay's coil in ohm, the voltage it pulls in at, its armature, and the lamp shown while fed.

    The `armature` is "free", or stuck "at rest" or "pulled in".
    """

    resistance: Any
    pull_in: Any
    armature: str
    fed_lamp: str


class Bench(NamedTuple):
    """One circuit, sound or faulty; arrays run over the samples. SI throughout.

    `supply` is signed, and the root mean square where it is `alternating`. `crossing` says how the switch's X is wired.
    `contact_red` and `contact_green` are the first contact's resistance in each position, `second_contact` the other
    one's in both; `held` the contacts that stick. `swapped` is -1 where the two wires change places at the mast's foot.
    `ripple` is what an AC range shows of a steady supply, in V.
    """

    supply: Any
    alternating: bool
    source_resistance: Any
    limit_resistance: Any
    held_current: Any
    held_by: Any
    crossing: str
    contact_red: Any
    contact_green: Any
    second_contact: Any
    held: tuple[str, ...]
    swapped: int
    wire: Any
    short: Any
    mast: Any
    red: Lamp
    green: Lamp
    coil: Coil | None
    trigger: Trigger | None
    reads_high: Any
    ripple: Any


def sound(circuit: BenchCircuit, draws: Draws) -> Bench:
    """The circuit without a fault."""
    volts, ohms = zip(*circuit.source.corners, strict=True)
    resistance, held = _limit(circuit, draws["limit"])
    return Bench(
        supply=between(_still_good(circuit, volts), draws["supply"]),
        alternating=False,
        source_resistance=np.maximum(between(sorted(ohms), draws["source"]), 1e-3),
        limit_resistance=resistance,
        held_current=held,
        held_by=_held_by(circuit),
        crossing="crossed",
        contact_red=between(CLEAN, draws["contact"]),
        contact_green=between(CLEAN, draws["contact"]),
        second_contact=between(CLEAN, draws["contact"]),
        held=(),
        swapped=1,
        wire=np.asarray(circuit.si.wire_resistance),
        short=np.asarray(OPEN),
        mast=np.asarray(2 * circuit.si.mast_resistance),
        red=_lamp(circuit, "red", draws),
        green=_lamp(circuit, "green", draws),
        coil=_coil(circuit, draws),
        trigger=_trigger(circuit, draws),
        reads_high=draws["reads high"],
        ripple=_ripple(circuit) * np.maximum(draws["ripple"], 0.0),
    )


def _still_good(circuit: BenchCircuit, volts: tuple[float, ...]) -> tuple[float, ...]:
    """The supply's corners in V; a battery in use is not quite fresh."""
    return volts if isinstance(circuit.source, Adapter) else (STILL_GOOD * volts[0], *volts[1:])


def _ripple(circuit: BenchCircuit) -> float:
    """The most in V that an AC range shows of a sound supply: a battery has no ripple."""
    return RIPPLE * circuit.source.si.voltage if isinstance(circuit.source, Adapter) else 0.0


def between(ends: Any, where: Floats) -> Floats:
    """The value from least over usual to most for numbers from -1 to 1, in two straight pieces."""
    return np.interp(where, (-1.0, 0.0, 1.0), ends)


def _limit(circuit: BenchCircuit, where: Floats) -> tuple[Floats, Any]:
    """Resistance of the shared resistor, or of a driver below its drop-out, and the current that a driver holds."""
    tolerance = circuit.drive.si.tolerance
    if circuit.driver:
        held = circuit.drive.si.current * (1 + tolerance * where)
        return circuit.drive.si.dropout / held, held
    return np.maximum(circuit.shared * (1 + tolerance * where), 1e-3), None


def _held_by(circuit: BenchCircuit) -> float:
    output = circuit.drive.si.output_resistance if circuit.driver else None
    return HELD_BY if output is None else float(output)


def _lamp(circuit: BenchCircuit, lamp: str, draws: Draws) -> Lamp:
    string, extra = circuit.pair.branch(lamp)
    led, *diodes = triples(string, spread=draws[f"{lamp} drop"])
    resistor = extra * (1 + circuit.si.branch_tolerance * draws[f"{lamp} resistor"])
    return Lamp(1 if lamp == LAMPS[0] else -1, np.asarray(0.0), resistor, False, led, tuple(diodes))


def _coil(circuit: BenchCircuit, draws: Draws) -> Coil | None:
    relay = circuit.relay
    if relay is None:
        return None
    surely = relay.si.must_operate * relay.si.rated_voltage
    return Coil(
        resistance=relay.si.coil_resistance * (1 + relay.si.coil_tolerance * draws["coil"]),
        pull_in=between((_LEAST_PULL_IN * surely, (1 + _LEAST_PULL_IN) / 2 * surely, surely), draws["pull in"]),
        armature="free",
        fed_lamp=circuit.fed_lamp,
    )


def _trigger(circuit: BenchCircuit, draws: Draws) -> Trigger | None:
    timer = circuit.timer
    if timer is None:
        return None
    output = timer_output(timer.timer, circuit.fed_lamp)
    return Trigger(
        reed="sound",
        reed_resistance=np.asarray(0.1),  # common practice, no source; data sheets allow up to 0.2 ohm
        magnet_reaches=True,
        works=True,
        from_plus=output.from_plus,
        keeps=between(output.keeps, draws["output"]),
        leaves=between(output.leaves, draws["output"]),
        timing=_timing(timer, circuit.si.pot_turn, draws),
    )


def _timing(timer: HoldCircuit, turn: float, draws: Draws) -> Timing:
    return Timing(
        timer=timer.timer,
        pot=np.maximum(turn * whole_pot(timer, draws), 1.0),
        end_resistor=timer.si.end_resistor * (1 + timer.si.end_tolerance * draws["end resistor"]),
        capacitance=between(timer.capacitor.corners, draws["capacitance"]),
        trip=between(timer.timer.trips(1.0), draws["trip"]),
        input_current=timer.timer.si.input_current * np.maximum(draws["input"], 0.0),
        leakage=_SOUND_LEAKAGE * np.maximum(draws["leakage"], 0.0) / timer.capacitor.leakage_resistance,
        leak=np.asarray(0.0),
        spread=1 + timer.timer.si.spread * draws["timing"],
    )


def whole_pot(timer: HoldCircuit, draws: Draws) -> Floats:
    """The resistance of the whole pot in ohm."""
    return timer.si.pot * (1 + timer.si.pot_tolerance * draws["pot"])
