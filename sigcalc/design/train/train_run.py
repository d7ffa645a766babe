"""A train with a magnet that works a signal: what is built, how it runs, and what then happens in time.

Places are those of the train's first magnet along the track, less the reed's, in the direction of travel. At 0 s that
magnet is over the reed.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Annotated, Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from ...errors import RangeError
from ...parts.magnet import Magnet, as_magnet, as_orientation
from ...parts.reed import Reed, ReedType, as_sold, band_of
from ...parts.relay import Relay, as_relay
from ...parts.scale import ModelSpeed
from ...parts.table import need_name
from ...physics import events
from ...physics.events import Spans
from ...units import Length, QuantityKind, Ratio, Resistance, SupplyVoltage, Time, record, say
from .hold import HoldCircuit, need_hold
from .magnet_and_reed import Gap, Passing

TrackPlace = Annotated[Any, QuantityKind("place along the track", "m", -1e3, 1e3, "5 mm")]
TrainLength = Annotated[Any, QuantityKind("length of a train", "m", 1e-3, 1e3, "900 mm")]

RED, GREEN = "red", "green"
SPARE = 1.25
"""How much longer than the train needs its red should be held. Common practice, no source."""
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

    They come from the bytes of arrays of floats and are kept: many trains with other on-times and speeds are the same
    to the magnet and the reed.
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
    reed_beyond: how far the reed is beyond the signal, 0 for right at it
    clearing_distance: from the reed to the place that the last wheel must have passed
    backwards: it comes the other way, so that it meets the reed first and the signal after
    stop_at: where its first magnet is, less the reed's place, when it halts; None where it does not
    stop_time: how long it halts
    coil_fed_for: "red" or "green", for which aspect the relay's coil is fed
    reed_resistor: in series with the reed, so that its contacts carry no more than they may; where the reed itself
        fills or empties the timer's capacitor it says how long that lasts. Common practice, no source
    """

    magnet: Magnet
    reed: Reed | ReedType
    gap: Gap
    orientation: str
    circuit: HoldCircuit
    turn: Ratio
    supply: SupplyVoltage
    relay: Relay
    length: TrainLength
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
        readers = (("magnet", as_magnet), ("reed", as_sold), ("relay", as_relay))
        for name, read in readers:
            object.__setattr__(self, name, read(getattr(self, name)))
        as_orientation(self.orientation)
        need_name(self.coil_fed_for, "coil_fed_for", (RED, GREEN))
        si = self.si
        need_hold(self.circuit, "supply", si.supply)
        places = [si.magnet_from_front, *([] if si.last_magnet is None else [si.last_magnet])]
        if sorted(set(places)) != places or max(places) > si.length:
            raise RangeError(
                argument="last_magnet" if len(places) == 2 else "magnet_from_front",
                need=f"a length within the train's {say(si.length, 'm')}, and the last magnet behind the first",
                given=" and ".join(say(each, "m") for each in places),
                advice="measure from the train's front",
            )

    @property
    def passing(self) -> Passing:
        """The magnet in its orientation past the reed."""
        return Passing.over(self.magnet, self.orientation, self.reed)

    @property
    def hold(self) -> float:
        """The nominal on-time in s; infinite where the trip is never reached."""
        return self.circuit.seconds(self.si.supply, self.si.turn).nominal

    @property
    def least_pulse(self) -> float:
        """The shortest contact in s that the timer responds to."""
        return self.circuit.least_pulse(self.si.reed_resistor)

    @property
    def operate_time(self) -> float:
        """How long the reed needs in s to close, bounce included."""
        return max(each.si.operate_time for each in band_of(self.reed))

    @property
    def delays(self) -> tuple[float, float]:
        """How long the relay needs in s from the timer's coming on to red, and from its going off to green.

        A coil that is fed for green lets go for red.
        """
        times = (self.relay.si.operate_time, self.relay.si.release_time)
        return times if self.coil_fed_for == RED else times[::-1]

    @property
    def signal(self) -> float:
        """Where the signal is in m, in the direction of travel."""
        return self.si.reed_beyond if self.backwards else -self.si.reed_beyond

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
                argument="last_magnet",
                need=f"a place {say(far, 'm')} or more behind the first magnet",
                given=f"one {say(apart, 'm')} behind it",
                advice="nearer together their fields add up, which is not modelled: use one magnet, or move them apart",
            )
        return apart

    def happenings(self, pull_in: Array, release: Array, hold: Any, gap: Any = None, speed: Any = None) -> Happenings:
        """What happens for reeds of these pull-ins and releases (T): flat arrays, as are hold (s), gap (m), speed."""
        si = self.si
        starts, ends = self.stretches(pull_in, release, gap)
        speed = np.broadcast_to(si.speed if speed is None else speed, len(pull_in))
        field = Spans(self.when(starts, speed[:, np.newaxis]), self.when(ends, speed[:, np.newaxis]))
        reed = (*field, self.operate_time, self.reed.si.release_time if isinstance(self.reed, ReedType) else 0.0)
        contact = events.contact_spans(*reed)
        # the contact closes as well where that is too short for the timer to respond
        timer = events.timer_spans(events.contact_spans(*reed, self.least_pulse), hold, self.circuit.timer.retriggers)
        return Happenings(
            field=field,
            contact=contact,
            timer=timer,
            red=events.delayed(timer, *self.delays),
            at_signal=self.when(self.front_at(self.signal), speed),
            clear=self.when(self.front_at(si.clearing_distance + si.length), speed),
        )

    def front_at(self, place: float) -> float:
        """Where the first magnet is in m when the train's front is at a place."""
        return place - self.si.magnet_from_front

    def field(self, time: Any) -> Array:
        """What the reed takes of the flux density (T), at an array of times in s."""
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
