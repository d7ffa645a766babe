"""Grades of magnet material: remanence with its spread, its change with temperature, the heat it bears."""

from __future__ import annotations

from ..errors import RangeError
from ..units import FluxDensity, RemanenceCoefficient, Temperature, kind_of, record, say
from .table import Figures, PartsTable

_REMANENCE = kind_of(FluxDensity)


@record
class MagnetGrade:
    """A grade of magnet material: remanence at 20 degC from least to most, its change with temperature, the most heat.

    Makers differ by 0.03 T about the same grade name.
    """

    name: str
    remanence_least: FluxDensity
    remanence_most: FluxDensity
    coefficient: RemanenceCoefficient
    max_temperature: Temperature

    def __post_init__(self) -> None:
        least, most = self.si.remanence_least, self.si.remanence_most
        if not 0 < least <= most:
            raise RangeError(
                f"remanence_least of grade {self.name} needs to be above zero and at or below remanence_most of "
                f"{say(most, 'T')}, but {say(least, 'T')} came"
            )

    @property
    def remanence(self) -> FluxDensity:
        """The middle of the band, as a quantity."""
        return _REMANENCE.quantity((self.si.remanence_least + self.si.remanence_most) / 2)


def _grade(name: str, figures: Figures) -> MagnetGrade:
    return MagnetGrade(name, **{key: figure.text for key, figure in figures.items()})


magnet_grades: PartsTable[MagnetGrade] = PartsTable("grade of magnet", "magnet_grades.csv", _grade)
"""Grades by their trade name: "N35", "N42"."""
