"""Magnets: discs and rods, the grades of their material, and the flux density on their axis."""

from __future__ import annotations

import dataclasses
from typing import Annotated, Any

import numpy as np

from ..errors import DesignError, RangeError
from ..physics import magnetics
from ..units import (
    FluxDensity,
    Length,
    Q,
    QuantityKind,
    RemanenceCoefficient,
    Temperature,
    kind_of,
    record,
    say,
    with_units,
)
from .table import Figures, PartsTable, as_part, from_rows, need_name, need_rising

Side = Annotated[Any, QuantityKind("length", "m", 1e-5, 1.0, "3 mm")]
_TEMPERATURE = kind_of(Temperature)


@record
class MagnetGrade:
    """A grade of magnet material: remanence at 20 degC from least to most, its change with temperature, its limit.

    Makers differ by 0.03 T about the same grade name.
    """

    name: str
    remanence_least: FluxDensity
    remanence_most: FluxDensity
    coefficient: RemanenceCoefficient
    max_temperature: Temperature

    def __post_init__(self) -> None:
        need_rising(self, "remanence_least", "remanence_most")


magnet_grades: PartsTable[MagnetGrade] = PartsTable("grade of magnet", "magnet_grades.csv", from_rows(MagnetGrade))
"""Grades by their trade name: "N35", "N42"."""


@record
class Magnet:
    """A disc or rod magnet, magnetised along its axis; `length` lies along that axis.

    `remanence_least` and `remanence_most` say how far a bought one may differ. The magnetised axis is its own z.
    """

    diameter: Side
    length: Side
    remanence: FluxDensity
    remanence_least: FluxDensity | None = None
    remanence_most: FluxDensity | None = None
    grade: MagnetGrade | None = None
    name: str = ""

    def __post_init__(self) -> None:
        need_rising(self, "remanence_least", "remanence", "remanence_most")

    @classmethod
    def of_grade(cls, grade: str | MagnetGrade, diameter: Any, length: Any) -> Any:
        """The magnet of these sides in a grade (a name in `magnet_grades` or a record), with its spread."""
        grade = grade if isinstance(grade, MagnetGrade) else magnet_grades[grade]
        least, most = grade.si.remanence_least, grade.si.remanence_most
        band = (Q(each, "T") for each in ((least + most) / 2, least, most))
        sides = (kind_of(Side).read(each, name) for name, each in (("diameter", diameter), ("length", length)))
        size = " x ".join(say(each, "m") for each in sides)
        return cls(diameter, length, *band, grade, f"{size}, {grade.name}")

    @property
    def remanence_band(self) -> tuple[float, float, float]:
        """Least, nominal and most remanence in T; one figure three times where no spread is given."""
        nominal = self.si.remanence
        least, most = (nominal if each is None else each for each in (self.si.remanence_least, self.si.remanence_most))
        return least, nominal, most

    def at(self, temperature: Any) -> Any:
        """The magnet at a temperature: its remanence falls along the straight line of its grade.

        The knee of the demagnetisation curve is not modelled.

        Raises DesignError where the grade is not known, RangeError above the grade's limit.
        """
        kelvin = _TEMPERATURE.read(temperature, "temperature", scalar=True)
        if self.grade is None:
            raise DesignError("temperature needs a magnet of a known grade; make it with of_grade, such as grade N42")
        most = self.grade.si.max_temperature
        if kelvin > most:
            raise RangeError(
                argument="temperature",
                need=f"no more than the {say(most, 'K')} of grade {self.grade.name}",
                given=say(kelvin, "K"),
                advice="a hotter magnet may lose part of its strength for good, which is not modelled",
            )
        band = magnetics.remanence_at(kelvin, self.remanence_band, self.grade.si.coefficient / 100)
        remanences = dict(zip(("remanence_least", "remanence", "remanence_most"), Q(band, "T"), strict=True))
        return dataclasses.replace(self, **remanences, grade=None, name=f"{self.name} at {say(kelvin, 'K')}")

    @property
    def sides(self) -> tuple[float, float, float]:
        """Its sides in m along its own x, y and z."""
        return self.si.diameter, self.si.diameter, self.si.length

    @property
    def volume(self) -> float:
        """Its volume in m3."""
        return np.pi / 4 * self.si.diameter**2 * self.si.length

    def field_at(self, x: Any, y: Any, z: Any) -> Any:
        """Flux density (T) along its own x, y and z, at a place in m from its centre."""
        return magnetics.cylinder_field(x, y, z, self.si.diameter, self.si.length, self.si.remanence)


def _magnet(name: str, figures: Figures) -> Magnet:
    size = (figures[side].text for side in ("diameter", "length"))
    return dataclasses.replace(Magnet.of_grade(figures["grade"].value, *size), name=name)


magnets: PartsTable[Magnet] = PartsTable("magnet", "magnets.csv", _magnet)
"""Usual sizes by name: "5 x 3 mm disc, N35"."""


def as_magnet(magnet: Any) -> Magnet:
    """A magnet from a name in `magnets` or a record; UnknownNameError or UnitError for anything else."""
    return as_part(magnet, Magnet, magnets)


def as_orientation(orientation: Any) -> str:
    """An orientation's name, or UnknownNameError."""
    return need_name(orientation, "orientation", magnetics.ORIENTATIONS)


@with_units
def axial_field(magnet: Magnet | str, distance: Length) -> FluxDensity:
    """Flux density on a magnet's axis, at a distance from its pole face (arrays broadcast).

    On the axis the closed form is Br / 2 ((L + z) / hypot(R, L + z) - z / hypot(R, z)), R the radius and L the length.
    Source: the solenoid of the same length and radius (`physics.magnetics.cylinder_field`).

    Raises UnitError or RangeError for a bad distance, UnknownNameError for a magnet in no table.
    """
    magnet = as_magnet(magnet)
    return magnet.field_at(0.0, 0.0, magnet.si.length / 2 + np.asarray(distance))[2]
