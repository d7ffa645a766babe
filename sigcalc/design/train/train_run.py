"""A train with a magnet that works a signal: what is built, how it runs, and what then happens in time.

Places are those of the train's first magnet along the track, less the reed's, in the direction of travel. At 0 s that
magnet is over the reed.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Annotated, Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from ...errors import RangeError, UnknownNameError
from ...parts.magnet import Magnet, as_magnet, as_orientation
from ...parts.reed import Reed, ReedType, band_of, reeds
from ...parts.relay import Relay, as_relay
from ...parts.scale import ModelSpeed
from ...parts.table import unknown
from ...physics import events
from ...physics.events import Spans
from ...units import Length, QuantityKind, Ratio, Resistance, SupplyVoltage, Time, record, say
from .hold_circuit import HoldCircuit, as_hold_circuit
from .magnet_and_reed import Passing

TrackPlace = Annotated[Any, QuantityKind("place along the track", "m", -1e3, 1e3, "5 mm")]

RED, GREEN = "red", "green"
SPARE = 1.25
"""How much longer than the train needs its red is to be held. Common practice, no source."""
_APART = 4.0  # times the farthest place at which a magnet holds the reed: there its field is down by about 4 cubed

Array = NDArray[np.float64]


class Happenings(NamedTuple):
    """What happens, in s, for each case along the first axis; spans along the last."""

    field: Spans  # the field is enough for the reed
    contact: Spans  # the reed's contact is closed, bounce over
    timer: Spans
    red: Spans  # the lamp
    at_signal: Array  # the train's front passes the signal
    clear: Array  # its last wheel is clear

    @property
    def missed(self) -> NDArray[np.bool_]:
        """The lamp never turns red."""
        return np.isnan(self.red.first)

    @property
    def own_red(self) -> NDArray[np.bool_]:
        """The lamp is red before the front has passed the signal."""
        return self.red.first < self.at_signal

    @property
    def short(self) -> NDArray[np.bool_]:
        """The lamp turns green again before the last wheel is clear."""
        return self.red.first_end < self.clear

    @property
    def for_good(self) -> NDArray[np.bool_]:
        """The lamp never turns green again."""
        return np.isinf(self.red.ends).any(axis=-1)


@lru_cache(maxsize=8)
def _closed(passing: Passing, gap: bytes, pull_in: bytes, release: bytes) -> Array:
    """The closed stretches of each case, shape (cases, spans, 2), NaN where there is none; not to be written into.

    They come from the bytes of arrays of floats and are kept: many trains with other holds and speeds are the same to
    the magnet and the reed.
    """
    found = passing.stretches(np.frombuffer(gap), 0.0, np.frombuffer(pull_in), np.frombuffer(release))
    counts = np.array([len(each) for each in found])
    table = np.full((len(found), max(int(counts.max()), 1), 2), np.nan)
    table[np.arange(table.shape[1]) < counts[:, np.newaxis]] = np.concatenate(found)
    table.setflags(write=False)
    return table


@record
class TrainRun:
    """What is built, and one train.

    Attributes
    ----------
    magnet, reed, relay: a record or a name in its table; the reed a type with its band, or a single one
    circuit, turn, supply: the hold timer, its pot's turn and what feeds it
    length, speed: of the train on the model
    magnet_from_front: how far its first magnet lies behind its front; last_magnet: how far a second one lies, if any
    reed_beyond: how far the reed stands beyond the signal, 0 for right at it
    clearing_distance: from the reed to the place that the last wheel must have passed
    backwards: it comes the other way, so that it meets the reed first and the signal after
    stop_at: where its first magnet is, less the reed's place, when it halts; None where it does not
    stop_time: how long it halts
    coil_fed_for: "red" or "green", for which aspect the relay's coil is fed
    reed_resistor: in the reed's lead, so that its contacts carry no more than they stand; where the reed itself
        fills or empties the timer's capacitor it says how long that takes. Common practice, no source
    """

    magnet: Magnet
    reed: Reed | ReedType
    gap: Length
    orientation: str
    circuit: HoldCircuit
    turn: Ratio
    supply: SupplyVoltage
    relay: Relay
    length: Length
    speed: ModelSpeed
    magnet_from_front: Length
    reed_beyond: Length
    clearing_distance: Length
    last_magnet: Length | None = None
    backwards: bool = False
    stop_at: TrackPlace | None = None
    stop_time: Time = "0 s"
    coil_fed_for: str = RED
    reed_resistor: Resistance = "100 ohm"

    def __post_init__(self) -> None:
        for name, read in (("magnet", as_magnet), ("relay", as_relay), ("circuit", as_hold_circuit)):
            object.__setattr__(self, name, read(getattr(self, name)))
        if isinstance(self.reed, str):
            object.__setattr__(self, "reed", reeds[self.reed])
        band_of(self.reed)
        as_orientation(self.orientation)
        if self.coil_fed_for not in (RED, GREEN):
            raise UnknownNameError(unknown("coil_fed_for", self.coil_fed_for, (RED, GREEN)))
        self.circuit.refuse_no_hold("supply", self.si.supply)
        self._check_places()

    def _check_places(self) -> None:
        si = self.si
        for name in ("gap", "length"):
            if not getattr(si, name) > 0:
                raise RangeError(f'{name} needs to be above 0 m, but 0 m came; give for example {name}="5 mm"')
        places = [si.magnet_from_front, *([] if si.last_magnet is None else [si.last_magnet]), si.length]
        if si.magnet_from_front > si.length or sorted(set(places[:-1])) != places[:-1] or max(places) > si.length:
            raise RangeError(
                f"magnet_from_front and last_magnet need to rise and to lie within the train's {say(si.length, 'm')}; "
                f"{' and '.join(say(each, 'm') for each in places[:-1])} came; measure from the train's front"
            )

    @property
    def passing(self) -> Passing:
        """The magnet in its orientation past the reed."""
        return Passing.over(self.magnet, self.orientation, self.reed)

    @property
    def hold(self) -> float:
        """The nominal hold in s; infinite where the trip is never reached."""
        return self.circuit.seconds(self.si.supply, self.si.turn)[1]

    @property
    def least_pulse(self) -> float:
        """The least contact in s that the timer takes notice of."""
        return self.circuit.least_pulse(self.si.reed_resistor)

    @property
    def delays(self) -> tuple[float, float]:
        """What the relay takes in s from the timer's coming on to red, and from its going off to green.

        A coil that is fed for green lets go for red.
        """
        times = (self.relay.si.operate_time, self.relay.si.release_time)
        return times if self.coil_fed_for == RED else times[::-1]

    def stretches(self, pull_in: Array, release: Array, gap: Any = None) -> tuple[Array, Array]:
        """Places (m) between which the field keeps the reed closed: two arrays (cases, spans), NaN where there is none.

        `pull_in` and `release` (T) are flat arrays; `gap` (m) is the run's own where none is given.
        """
        gap = self.si.gap if gap is None else gap
        flat = np.broadcast_arrays(*(np.atleast_1d(np.asarray(each, float)) for each in (gap, pull_in, release)))
        table = _closed(self.passing, *(each.tobytes() for each in flat))
        if self.si.last_magnet is not None:
            table = np.concatenate([table, table + self._second(table)], axis=1)
        return table[..., 0], table[..., 1]

    def _second(self, table: Array) -> float:
        """How far the second magnet comes behind the first; refused where their fields would meet."""
        apart = self.si.last_magnet - self.si.magnet_from_front
        far = _APART * float(np.nanmax(np.abs(table), initial=0.0))
        if apart < far:
            raise RangeError(
                f"last_magnet needs to lie {say(far, 'm')} or more behind the first, but {say(apart, 'm')} came: "
                "nearer together their fields add up, which is not modelled; use one magnet, or move them apart"
            )
        return apart

    def happenings(self, pull_in: Array, release: Array, hold: Any, gap: Any = None, speed: Any = None) -> Happenings:
        """What happens for reeds of these pull-ins and releases (T): flat arrays, as are hold (s), gap (m), speed."""
        si = self.si
        starts, ends = self.stretches(pull_in, release, gap)
        speed = np.broadcast_to(si.speed if speed is None else speed, len(pull_in))
        field = Spans(self.when(starts, speed[:, np.newaxis]), self.when(ends, speed[:, np.newaxis]))
        reed = (*field, self._operate_time, self._release_time)
        contact = events.contact_spans(*reed)
        # the contact closes as well where it is too short a time for the timer to take notice
        timer = events.timer_spans(events.contact_spans(*reed, self.least_pulse), hold, self.circuit.timer.retriggers)
        return Happenings(
            field=field,
            contact=contact,
            timer=timer,
            red=events.delayed(timer, *self.delays),
            at_signal=self.when(self.front_at(self.signal), speed),
            clear=self.when(self.front_at(si.clearing_distance + si.length), speed),
        )

    @property
    def signal(self) -> float:
        """Where the signal stands in m, in the direction of travel."""
        return self.si.reed_beyond if self.backwards else -self.si.reed_beyond

    def front_at(self, place: float) -> float:
        """Where the first magnet is in m when the train's front is at a place."""
        return place - self.si.magnet_from_front

    def field(self, time: Any) -> Array:
        """Flux density along the reed in T, at times in s."""
        gap, places = self.si.gap, [self.place(time)]
        if self.si.last_magnet is not None:
            places.append(places[0] - self.si.last_magnet + self.si.magnet_from_front)
        return sum(self.passing.field(each, gap) for each in places)

    def place(self, time: Any) -> Array:
        """Where the first magnet is in m, at times in s."""
        si = self.si
        return events.place_at(time, si.speed, np.inf if si.stop_at is None else si.stop_at, si.stop_time)

    def when(self, place: Any, speed: Any = None) -> Array:
        """When the first magnet is at a place (m), in s, at a speed of its own or that of the run."""
        si = self.si
        speed = si.speed if speed is None else speed
        return events.time_at(place, speed, np.inf if si.stop_at is None else si.stop_at, si.stop_time)

    @property
    def _operate_time(self) -> float:
        return max(each.si.operate_time for each in band_of(self.reed))

    @property
    def _release_time(self) -> float:
        return self.reed.si.release_time if isinstance(self.reed, ReedType) else 0.0

    @property
    def bounce_time(self) -> float:
        """How long the contact bounces in s before it is closed for good; 0 where it is not known."""
        return self.reed.si.bounce_time if isinstance(self.reed, ReedType) else 0.0
