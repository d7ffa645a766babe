"""What a meter shows at each measuring point of a bench circuit, sound or faulty, over all samples of its parts.

A measuring point is where a meter can be put, with its setting, its effort and its cautions. With the power on, the
circuit in one position of its switch or relay is a netlist for `physics.circuit`; each meter is one more resistance in
it. A reading beyond the meter's range is infinite: the display says OL. Reverse breakdown of the LEDs is left out.
"""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, NamedTuple

import numpy as np

from ...parts.meter import AC_VOLTS, AMPERES, DIODE, OHMS, WATCH, Meter
from ...physics.circuit import GROUND, Branch, Driver, Solved, port_voltage, solve
from ..caution import Caution, cautions_about
from .circuit import BRIDGE, HELD, LAMPS, OPEN, BenchCircuit, Floats, State, hold_seconds


@dataclass(frozen=True)
class MeasuringPoint:
    """One measurement: its name, the setting of the meter, where the probes go, and the position of the signal.

    `effort` grows with what has to be done for it (1: the probes alone); common practice, no source. `position` is
    the lamp that the signal is set for, "" where the power is off or it does not matter.
    """

    name: str
    place: str
    setting: str
    position: str
    where: str
    effort: float
    cautions: tuple[Caution, ...]

    @property
    def base(self) -> str:
        """The name without the position of the signal."""
        return base_name(self.name, self.position)

    @property
    def signed(self) -> bool:
        """Whether a minus in front of the reading means something."""
        return self.setting.startswith("DC")

    def __str__(self) -> str:
        position = f", signal set for {self.position}" if self.position else ""
        return f"{self.setting}, {self.where}{position}"


def base_name(name: str, position: str) -> str:
    """The name of a point without the position of the signal: "pair, red" is "pair"."""
    return name.removesuffix(f", {position}") if position else name


@cache
def measuring_points(circuit: BenchCircuit) -> dict[str, MeasuringPoint]:
    """The points that a circuit offers, by name: "pair, red" is across the pair with the signal set for red.

    In the order in which to take them: with the power on, with it off, the current last; in each what needs
    least first.
    """
    points = [
        _point(circuit, row, position)
        for row in _rows()
        if not row["needs"] or row["needs"] in circuit.features
        for position in _positions(circuit, row["position"])
    ]
    ordered = sorted(points, key=lambda each: (each.setting == AMPERES, each.setting in (OHMS, DIODE), each.effort))
    return {each.name: each for each in ordered}


def _positions(circuit: BenchCircuit, wanted: str) -> tuple[str, ...]:
    """The positions in which to measure; "crossed" is the one that the X of jumpers serves."""
    return {"both": LAMPS, "crossed": (circuit.crossed_lamp,)}.get(wanted, (wanted,))


def _point(circuit: BenchCircuit, row: dict[str, str], position: str) -> MeasuringPoint:
    limit = "driver" if circuit.driver else "shared resistor"
    name = row["name"].format(limit=limit)
    return MeasuringPoint(
        name=f"{name}, {position}" if row["position"] == "both" else name,
        place=row["place"],
        setting=row["setting"],
        position=position,
        where=row["where"].format(limit=limit, switch="switch" if circuit.relay is None else "relay"),
        effort=float(row["effort"]),
        cautions=cautions_about(*row["cautions"].split("|")),
    )


@cache
def _rows() -> tuple[dict[str, str], ...]:
    with files("sigcalc.parts").joinpath("data", "measuring_points.csv").open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))


PLUS, MINUS = 1, -1
_BROKEN = 1e9  # ohm: a coil beyond it carries no current that would pull
_MEANT = {"red": (PLUS, MINUS), "green": (MINUS, PLUS)}


class Position(NamedTuple):
    """One position of the signal.

    The rail each wire is on (0: none), wire A's contact in ohm, whether the coil is fed, and whether the relay has
    pulled in (a hand switch: has been moved).
    """

    rail_a: Any
    rail_b: Any
    contact_a: Any
    fed: Any
    moved: Any


def position(circuit: BenchCircuit, state: State, lamp: str) -> Position:
    """What is joined while the signal is set for "red" or "green"."""
    crossed = circuit.crossed_lamp
    (direct,) = (each for each in LAMPS if each != crossed)
    fed = _fed(circuit, state, lamp)
    moved = np.asarray(lamp == crossed) if circuit.relay is None else _pulled_in(state, fed)
    over_a, over_b = (moved & (np.asarray(state[f"stuck {wire}"]) == 0) for wire in "ab")
    rails = [
        np.where(over, far * state["plus jumper" if far == PLUS else "minus jumper"], near)
        for over, far, near in zip((over_a, over_b), _MEANT[crossed], _MEANT[direct], strict=True)
    ]
    contact = np.where(over_a, state[f"contact {crossed}"], state[f"contact {direct}"])
    return Position(*rails, contact, fed, moved)


def _fed(circuit: BenchCircuit, state: State, lamp: str) -> Any:
    """Whether the coil is fed. A timer holds red, as a train sets it; without one it is fed by hand."""
    if circuit.timer is None:
        return np.asarray(circuit.relay is not None and lamp == circuit.fed_lamp)
    stuck = np.asarray(state["reed"]) == 1
    closes = stuck | ((np.asarray(state["reed"]) == 0) & (np.asarray(state["magnet reaches"]) == 1))
    holds = ((lamp == HELD) & closes) | stuck | (np.isinf(hold_seconds(circuit, state)) & closes)
    alive = np.asarray(state["timer works"]) * (1 - state["alternating"]) * (state["supply"] > state["keeps"]) > 0
    return (holds if circuit.fed_lamp == HELD else ~holds) & alive


def _pulled_in(state: State, fed: Any) -> Any:
    """Whether the coil's voltage reaches what it pulls in at; the lamps' milliamperes on the source are left out."""
    armature, coil = np.asarray(state["armature"]), state["coil"]
    across = np.abs(np.abs(state["supply"]) - state.get("keeps", 0.0)) / (1.0 + state["source"] / coil)
    pulls = (coil < _BROKEN) & (across >= state["pull in"]) & (np.asarray(state["alternating"]) == 0)
    return (fed & pulls & (armature == 0)) | (armature == 1)


_P, _Q, _A, _B, _FOOT_A, _FOOT_B, _LAMP_A, _LAMP_B = range(8)
"""The supply's plus, the switch's feed, wires A and B at the switch, at the mast's foot and at the lamps."""
_ACROSS = {
    "supply": (_P, GROUND),
    "limit": (_P, _Q),
    "lead a": (_A, GROUND),
    "lead b": (_B, GROUND),
    "plus to a": (_P, _A),
    "plus to b": (_P, _B),
    "pair": (_FOOT_A, _FOOT_B),
    "lamps": (_LAMP_A, _LAMP_B),
    "current": (_A, _FOOT_A),
}
_AT_THE_MAST = ("pair", "lamps")
_IN_BRANCH = ("red resistor", "green resistor")
PLACES = (*_ACROSS, *_IN_BRANCH)
"""Where a meter can be while the power is on; "current" is in series with wire A."""
_LEAST = 1e-6  # ohm, of a wire


class Powered(NamedTuple):
    """A signal under power: what meters show, by place, and the current through each LED in A, none where bypassed."""

    values: dict[str, Any]
    light: tuple[Any, Any]


def power(circuit: BenchCircuit, state: State, lamp: str, places: Sequence[str], meter: Meter | None = None) -> Powered:
    """Solve a signal set for "red" or "green", with a meter at each place in turn.

    Without a meter it is one that takes nothing: OPEN ohm across, next to nothing in series.
    """
    where = position(circuit, state, lamp)
    volts, shunt = (OPEN, 1e-9) if meter is None else (meter.si.input_resistance, meter.si.shunt_resistance)
    wire = np.maximum(state["wire"], _LEAST)
    across = [place for place in places if place in _ACROSS]
    loads = [-wire * (wire + shunt) / shunt if place == "current" else volts for place in across]
    solved = _solved(
        circuit, state, where, [(*_ACROSS[place], load) for place, load in zip(across, loads, strict=True)]
    )
    values = dict(zip(across, solved.meters, strict=True))
    if "current" in values:
        values["current"] = values["current"] / (wire + shunt)
    for place in _AT_THE_MAST:
        if place in values:  # the network has the wires straight: where they are swapped, the mast is turned round
            values[place] = values[place] * state["swapped"]
    for place in set(places) & set(_IN_BRANCH):
        values[place] = _in_branch(circuit, state, where, place, volts)
    light = (
        np.where(np.asarray(state[f"{name} bridged"]) == 1, 0.0, np.maximum(current, 0.0))
        for name, current in zip(LAMPS, solved.currents, strict=False)
    )
    return Powered(values, tuple(light))


def _in_branch(circuit: BenchCircuit, state: State, where: Position, place: str, load: float) -> Any:
    """Across the resistor in a branch, the meter beside it; the red probe is where the current should enter."""
    lamp = place.split()[0]
    ohms = state[place] * load / (state[place] + load)
    solved = _solved(circuit, state | {place: ohms}, where, [])
    through = sum(solved.currents[LAMPS.index(lamp) :: len(LAMPS)])  # one of LED and bridge is not there
    meant = 1 if lamp == LAMPS[0] else -1
    return meant * state[f"{lamp} sign"] * through * ohms


def _solved(circuit: BenchCircuit, state: State, where: Position, meters: list[tuple[int, int, Any]]) -> Solved:
    """The circuit in one position as a netlist, solved."""
    wire, half = np.maximum(state["wire"], _LEAST), np.maximum(state["mast"], _LEAST) / 2
    contacts = ((_A, where.rail_a, where.contact_a), (_B, where.rail_b, state["second contact"]))
    resistors = [
        (_P, GROUND, state["source"]),
        *((lead, _Q, np.where(rail == PLUS, contact, OPEN)) for lead, rail, contact in contacts),
        *((lead, GROUND, np.where(rail == MINUS, contact, OPEN)) for lead, rail, contact in contacts),
        (_A, _FOOT_A, wire),
        (_B, _FOOT_B, wire),
        (_FOOT_A, _FOOT_B, state["short"]),
        (_FOOT_A, _LAMP_A, half),
        (_FOOT_B, _LAMP_B, half),
    ]
    currents = {_P: state["supply"] / state["source"]}
    if np.any(where.fed):
        coil = np.where(where.fed, state["coil"], OPEN)
        resistors.append((_P, GROUND, coil))
        currents[_P] = currents[_P] + np.where(where.fed, state.get("keeps", 0.0) / coil, 0.0)
    driver = None
    if circuit.driver:  # it passes nothing the wrong way
        blocks = np.isfinite(state["held"]) & (state["supply"] < 0)
        driver = Driver((_P, _Q), np.where(blocks, OPEN, state["limit"]), state["held"], state["beside"])
    else:
        resistors.append((_P, _Q, state["limit"]))
    return solve(8, resistors, currents, (_LAMP_A, _LAMP_B), _branches(state), driver, meters)


def _branches(state: State) -> list[Branch]:
    """Both lamps, and, where an LED is bypassed, what then conducts in its place: its diode, or both ways alike."""
    leds, bridges = [], []
    for lamp in LAMPS:
        bridged, (led, *diodes) = np.asarray(state[f"{lamp} bridged"]), state[f"{lamp} leds"]
        sign = state[f"{lamp} sign"] * state["swapped"]
        ohms = state[f"{lamp} joint"] + state[f"{lamp} resistor"] + BRIDGE * bridged
        if diodes:
            saturation, emission, series = led
            led = (saturation, np.where(bridged == 1, 1e-9 * emission, emission), np.where(bridged == 1, 0.0, series))
        leds.append(Branch(sign if diodes else sign * (1 - bridged), ohms, [led, *diodes]))
        bridges.append(Branch(0 if diodes else sign * bridged, np.maximum(ohms, _LEAST)))
    return [*leds, *bridges] if any(np.any(each.sign) for each in bridges) else leds


_PHASES = np.sin(np.pi * (np.arange(-4, 4) + 0.5) / 8)
"""An alternating supply is followed through 16 moments of a period, of which each two are alike."""
_BY_SWITCH = ("plus jumper", "minus jumper", "stuck a", "stuck b", "contact red", "contact green", "second contact")
_BY_RELAY = ("reed", "magnet reaches", "timer works", "pot", "leak", "pull in", "armature")


def what_shows(circuit: BenchCircuit, state: State, changed: Iterable[str], lamp: str) -> State:
    """Of the changed numbers those that can show while the signal is set for `lamp`; with "", while the power is off.

    Two faults that agree in them read alike. A dark LED does not show, nor what acts through the position alone.
    """
    if not lamp:
        return {name: state[name] for name in changed if name not in _BY_SWITCH}
    where = position(circuit, state, lamp)
    hidden = [*_BY_SWITCH, *_BY_RELAY]
    if np.all(where.rail_a * where.rail_b == PLUS * MINUS):
        across = where.rail_a * np.asarray(state["swapped"]) * np.sign(state["supply"])
        for name in LAMPS:
            if not np.any(state[f"{name} bridged"]) and np.all(across * state[f"{name} sign"] < 0):
                hidden += [f"{name} {each}" for each in ("joint", "resistor", "leds")]
    shows = {name: state[name] for name in changed if name not in hidden}
    return shows | {"second contact": state["second contact"]} | where._replace(moved=0)._asdict()


class BenchReadings:
    """All readings of one circuit, with the numbers of a sound or faulty state; alternating in all samples or in none.

    Parameters
    ----------
    state: arrays of shape (..., samples)
    meter: what is read with
    """

    def __init__(self, circuit: BenchCircuit, state: State, meter: Meter):
        self.circuit, self.state, self.meter = circuit, state, meter
        self.shape = np.broadcast_shapes(*(np.shape(each) for name, each in state.items() if "leds" not in name))
        self.alternating = bool(np.any(state["alternating"]))
        self._over_time = state
        if self.alternating:
            phases = _PHASES.reshape(-1, *(1,) * len(self.shape))
            self._over_time = state | {"supply": np.sqrt(2.0) * state["supply"] * phases}

    def at(self, points: Iterable[MeasuringPoint]) -> tuple[dict[str, Floats], dict[str, tuple[Floats, Floats]]]:
        """What the meter shows at points, by name, and the mean currents through red and green LED, by the lamp set.

        The meter's own load counts, its errors do not.
        """
        points, light = list(points), {}
        values = self.unpowered(point for point in points if not point.position)
        for lamp in LAMPS:
            found, light[lamp] = self.powered(lamp, [point for point in points if point.position == lamp])
            values |= found
        return values, light

    def powered(self, lamp: str, points: Sequence[MeasuringPoint]) -> tuple[dict[str, Floats], tuple[Floats, Floats]]:
        """The same for points of one position alone."""
        places = [point.place for point in points if point.place in PLACES]
        if self.circuit.relay is not None and "supply" not in places:
            places.append("supply")
        solved = power(self.circuit, self._over_time, lamp, places, self.meter)
        rail = solved.values.get("supply")
        values = {
            point.name: solved.values[point.place] if point.place in PLACES else self._coil(point, rail)
            for point in points
        }
        shown = {point.name: self._shown(point, self._mean(values[point.name])) for point in points}
        return shown, tuple(map(self._mean, solved.light))

    def unpowered(self, points: Iterable[MeasuringPoint]) -> dict[str, Floats]:
        """What the meter shows at points that ask for no position: the power is off, or nothing else connected."""
        values = {}
        for point in points:
            place = "supply AC" if point.setting == AC_VOLTS else point.place
            value = _UNPOWERED[place](self) if place in _UNPOWERED else self.ohms(place.removesuffix(" ohms"))
            values[point.name] = self._shown(point, value)
        return values

    def light(self, lamp: str) -> tuple[Floats, Floats]:
        """Mean current in A through the red and the green LED while the signal is set for `lamp`."""
        return tuple(map(self._mean, power(self.circuit, self._over_time, lamp, ()).light))

    def _mean(self, value: Any) -> Floats:
        """A DC range shows the mean of what alternates."""
        value = np.asarray(value)
        value = value.mean(axis=0) if self.alternating and value.ndim > len(self.shape) else value
        return np.broadcast_to(value, self.shape)

    def _shown(self, point: MeasuringPoint, value: Any) -> Floats:
        value = np.broadcast_to(value, self.shape)
        if point.setting not in (OHMS, WATCH):
            value = value * (1.0 + 0.5 * (1.0 + self.state["reads high"]) * self.meter.si.reads_high)
        most = self.meter.most(point.setting)
        return value if most == np.inf else np.where(np.abs(value) < most, value, np.inf)

    def _coil(self, point: MeasuringPoint, rail: Any) -> Any:
        """Across the coil, or at the output that feeds it against minus: its other end is at minus, or at plus."""
        state, keeps = self.state, self.state.get("keeps", 0.0)
        left = np.where(state["supply"] > state.get("leaves", 0.0), state.get("leaves", 0.0), 0.0)
        fed = _fed(self.circuit, state, point.position)
        across = np.where(fed, rail - keeps, left)
        return rail - across if point.place == "timer output" and self.circuit.coil_from_plus else across

    def supply(self, on_ac: bool) -> Any:
        """Nothing but the meter connected, on a DC or an AC range; each shows nothing of the other kind but ripple."""
        inside, state = self.meter.si.input_resistance, self.state
        if on_ac and not self.alternating:
            return np.where(state["supply"] != 0, state["ripple"], 0.0)
        shown = state["supply"] * inside / (inside + state["source"])
        return shown if on_ac == self.alternating else 0.0 * shown

    def pair_ohms(self) -> Any:
        """Between the two wires at the mast's foot: LEDs do not conduct at an ohmmeter's small voltage."""
        bridges = _branches(self.state)[len(LAMPS) :]
        bypassed = sum(np.abs(each.sign) / each.resistance for each in bridges) + 1.0 / OPEN
        ohms = 1.0 / (1.0 / self.state["short"] + 1.0 / (self.state["mast"] + 1.0 / bypassed))
        return ohms + self.meter.si.lead_resistance

    def diode(self, sign: int) -> Any:
        """The diode test: a voltage behind a resistance, into the pair from one side or the other."""
        meter, state = self.meter, self.state
        volts, ohms = meter.si.diode_open_voltage, meter.diode_resistance + meter.si.lead_resistance
        share = 1.0 / (1.0 + ohms / state["short"])
        inner = ohms * share + state["mast"]
        node, _ = port_voltage(sign * volts * share, inner, _branches(state))
        return volts * share - (volts * share - sign * node) / inner * ohms * share

    def hold(self) -> Any:
        """Time for which the relay stays as for red; nothing where it never gets there."""
        red, green = (
            position(self.circuit, self.state, lamp).moved == (lamp == self.circuit.fed_lamp) for lamp in LAMPS
        )
        return np.where(red, np.where(green, hold_seconds(self.circuit, self.state), np.inf), 0.0)

    def ohms(self, name: str) -> Any:
        """A resistance by itself, the meter's leads included."""
        return self.state[name] + self.meter.si.lead_resistance

    def reed(self, near: Any) -> Any:
        """The reed's resistance: closed where it is stuck so, or sound with a magnet near."""
        reed = np.asarray(self.state["reed"])
        closed = (reed == 1) | ((reed == 0) & (np.asarray(near) == 1))
        return np.where(closed, self.state["reed contact"], OPEN) + self.meter.si.lead_resistance


# the other places are resistances by themselves
_UNPOWERED: dict[str, Callable[[BenchReadings], Any]] = {
    "supply open": lambda readings: readings.supply(on_ac=False),
    "supply AC": lambda readings: readings.supply(on_ac=True),
    "pair ohms": BenchReadings.pair_ohms,
    "diode a to b": lambda readings: readings.diode(+1),
    "diode b to a": lambda readings: readings.diode(-1),
    "reed alone": lambda readings: readings.reed(0),
    "reed with a magnet": lambda readings: readings.reed(1),
    "reed under the train": lambda readings: readings.reed(readings.state["magnet reaches"]),
    "hold": BenchReadings.hold,
}
