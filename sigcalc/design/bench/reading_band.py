"""One reading at a measuring point with its band: what is common to a sound signal's and a faulty one's."""

from __future__ import annotations

from dataclasses import dataclass

from ...parts.meter import UNITS, Meter
from .measuring_point import MeasuringPoint


@dataclass(frozen=True)
class ReadingBand:
    """What a meter reads at one point, in SI: infinite where it shows OL. What the band spans, the kinds of it say."""

    point: MeasuringPoint
    meter: Meter
    least: float
    nominal: float
    most: float

    @property
    def unit(self) -> str:
        """SI unit of the three figures."""
        return UNITS[self.point.setting]
