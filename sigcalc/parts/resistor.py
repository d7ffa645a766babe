"""What a resistor bears: the usual power ratings, and what is left of them where it is warm."""

from __future__ import annotations

import math
from typing import Annotated, Any

import numpy as np

from ..errors import RangeError
from ..units import Power, QuantityKind, Temperature, record, say, with_units
from .table import Figures, PartsTable

# common practice, no source: a resistor runs cool enough at half of what it is rated for
USUAL_MARGIN = 2.0
Margin = Annotated[Any, QuantityKind("margin", "", 1.0, 100.0, "2", bare=True)]
WorkingVoltage = Annotated[Any, QuantityKind("working voltage", "V", 0.0, 1e4, "250 V")]


@record
class ResistorRating:
    """A size of resistor: full `power` up to the ambient `derate_from`, none from `zero_at` on, a line between.

    `max_voltage` is the most that may stand across it whatever the power.
    """

    name: str
    power: Power
    derate_from: Temperature
    zero_at: Temperature
    max_voltage: WorkingVoltage
    note: str = ""

    def __post_init__(self) -> None:
        if not self.si.zero_at > self.si.derate_from:
            raise RangeError(
                f"zero_at of {self.name} needs to be above derate_from, {say(self.si.derate_from, 'K')}, "
                f"but {say(self.si.zero_at, 'K')} came; see the part's data sheet"
            )

    def power_at(self, ambient: Any) -> Any:
        """Power in W that it bears at an ambient temperature in K, which may be an array."""
        share = (self.si.zero_at - ambient) / (self.si.zero_at - self.si.derate_from)
        return self.si.power * np.clip(share, 0.0, 1.0)


def _rating(name: str, figures: Figures) -> ResistorRating:
    quantities = {quantity: figure.text for quantity, figure in figures.items()}
    return ResistorRating(name=name, note="typical, not guaranteed", **quantities)


resistor_ratings: PartsTable[ResistorRating] = PartsTable("rating", "resistor_ratings.csv", _rating)
"""The ratings sold everywhere, least first: "1/8 W" to "2 W"."""


@with_units
def derated_power(rating: ResistorRating | str, ambient: Temperature = "25 degC") -> Power:
    """The power a resistor bears at an ambient temperature (which may be an array).

    `rating` is a name from `resistor_ratings` or a record. Source: the derating line of
    carbon and metal film resistors, full power to 70 °C, none at 155 °C (see the table).
    """
    return _record(rating).power_at(ambient)


@with_units(scalar=True)
def rating_for(
    power: Power, ambient: Temperature = "25 degC", margin: Margin = USUAL_MARGIN, voltage: WorkingVoltage = "0 V"
) -> ResistorRating:
    """The smallest usual rating that bears `margin` times the worst-case `power` at `ambient`, and `voltage` across it.

    The margin of two is common practice. Raises RangeError where no usual rating is
    enough, with what to do.
    """
    return rating_for_si(power, ambient, margin, voltage)


def rating_for_si(power: float, ambient: float, margin: float = USUAL_MARGIN, voltage: float = 0.0) -> ResistorRating:
    """The same for floats in W, K and V."""
    for rating in resistor_ratings.values():
        if rating.power_at(ambient) >= margin * power * (1 - 1e-9) and voltage <= rating.si.max_voltage:
            return rating
    raise RangeError(_too_much(_largest(), power, ambient, margin, voltage))


def bearable_power(ambient: float, margin: float = USUAL_MARGIN) -> float:
    """The most worst-case power in W that the largest usual rating bears `margin` times over, at an ambient in K."""
    return float(_largest().power_at(ambient)) / margin


def _largest() -> ResistorRating:
    return max(resistor_ratings.values(), key=lambda rating: rating.si.power)


def _too_much(largest: ResistorRating, power: float, ambient: float, margin: float, voltage: float) -> str:
    bears = float(largest.power_at(ambient))
    if bears == 0:
        return (
            f"ambient {say(ambient, 'K')} leaves a resistor no power at all; "
            f"put it where it is cooler than {say(largest.si.zero_at, 'K')}"
        )
    if voltage > largest.si.max_voltage:
        return (
            f"voltage {say(voltage, 'V')} is above the {say(largest.si.max_voltage, 'V')} "
            "that the largest usual resistor bears; put two in series"
        )
    share = math.ceil(margin * power / bears - 1e-9)
    return (
        f"power {say(power, 'W')} needs a rating of {say(margin * power, 'W')} at {say(ambient, 'K')} "
        f"({margin:g} times), and the largest usual resistor bears {say(bears, 'W')} there; "
        f"share it between {share} equal resistors in series, or take a lower current"
    )


def _record(rating: Any) -> ResistorRating:
    return rating if isinstance(rating, ResistorRating) else resistor_ratings[rating]
