"""The hold that a train needs, and what becomes of a slower train."""

from __future__ import annotations

from ...errors import RangeError
from ...parts.scale import ModelSpeed
from ...units import Length, Time, record, say, with_units
from ..findings import FINE, LOOK, STOP, Finding


@record
class TrainPass:
    """A train that has set off the hold.

    Attributes
    ----------
    distance: how far the train still goes, from the moment the reed closes, until its last wheel is clear
    needed: the hold this takes at `speed`; hold, hold_min: what the timer gives, and the least of it
    slowest, slowest_sure: the speeds below which the hold, or its least, is too short
    left: how much of the distance is left when the hold ends at `speed`, 0 m where the train is clear
    """

    distance: Length
    speed: ModelSpeed
    needed: Time
    hold_min: Time
    hold: Time
    slowest: ModelSpeed
    slowest_sure: ModelSpeed
    left: Length

    @property
    def clears(self) -> bool:
        """Whether the nominal hold outlasts the train."""
        return self.si.hold >= self.si.needed

    @property
    def sentence(self) -> str:
        """The pass in words."""
        si = self.si
        start = (
            f"At {say(si.speed, 'm/s')} the train needs a hold of {say(si.needed, 's')} to clear "
            f"{say(si.distance, 'm')}; the timer gives {say(si.hold, 's')}, at least {say(si.hold_min, 's')}. "
        )
        if self.clears:
            return (
                start + f"It is enough down to {say(si.slowest, 'm/s')}, surely down to {say(si.slowest_sure, 'm/s')}."
            )
        return start + f"The signal clears while {say(si.left, 'm')} are still to go."


@with_units(scalar=True)
def train_hold(
    length: Length, speed: ModelSpeed, clearing_distance: Length, magnet_from_front: Length = "0 mm"
) -> Time:
    """The hold that a train needs: the way from the reed's closing to its last wheel being clear, over its speed.

    Parameters
    ----------
    length: of the whole train on the model
    speed: of the model, such as "0.3 m/s"
    clearing_distance: from the reed to the place that the last wheel must have passed
    magnet_from_front: how far the magnet lies behind the train's front

    Raises RangeError where the magnet lies behind the train's end, or for a value out of range.
    """
    return _distance(length, clearing_distance, magnet_from_front) / speed


@with_units(scalar=True)
def train_pass(
    length: Length,
    speed: ModelSpeed,
    clearing_distance: Length,
    hold: Time,
    hold_min: Time | None = None,
    magnet_from_front: Length = "0 mm",
) -> TrainPass:
    """A train at `speed` against the hold that is set; arguments as `train_hold`.

    `hold_min` is the least hold with bought parts, or as it drifts; `hold` where it is not given.
    Raises RangeError as `train_hold`, and for a `hold_min` above `hold` or of 0 s.
    """
    least = hold if hold_min is None else hold_min
    if not 0 < least <= hold:
        raise RangeError(
            f"hold_min needs a time above 0 s and no more than the hold of {say(hold, 's')}, but {say(least, 's')} "
            "came; give the least hold of the timer"
        )
    distance = _distance(length, clearing_distance, magnet_from_front)
    return TrainPass.of(
        distance=distance,
        speed=speed,
        needed=distance / speed,
        hold_min=least,
        hold=hold,
        slowest=distance / hold,
        slowest_sure=distance / least,
        left=max(distance - speed * hold, 0.0),
    )


def _distance(length: float, clearing_distance: float, magnet_from_front: float) -> float:
    if not length > 0 or magnet_from_front > length:
        raise RangeError(
            f"length needs to be above 0 m and magnet_from_front no more than it, but {say(length, 'm')} and "
            f"{say(magnet_from_front, 'm')} came; measure the whole train, and the magnet from its front"
        )
    return length - magnet_from_front + clearing_distance


def findings(result: TrainPass) -> tuple[Finding, ...]:
    """The verdict on a train against the hold."""
    si = result.si
    if not result.clears:
        return (Finding(STOP, "hold for the train", result.sentence, "Set a longer hold, or run faster."),)
    if si.hold_min < si.needed:
        remedy = "Set the hold with a watch, with some time to spare."
        return (Finding(LOOK, "hold for the train", result.sentence, remedy),)
    return (Finding(FINE, "hold for the train", result.sentence),)
