"""Magnets: discs, rods and bars, and the flux density around them."""

from __future__ import annotations

import dataclasses
from typing import Any

import numpy as np

from ..errors import DesignError, RangeError, UnitError, UnknownNameError
from ..physics import magnetics
from ..units import FluxDensity, Length, Q, Temperature, kind_of, record, say, with_units
from ..units.reading import quoted
from .magnet_grade import MagnetGrade, magnet_grades
from .table import Figures, PartsTable, unknown

_TEMPERATURE = kind_of(Temperature)
_LEAST_SIDE, _MOST_SIDE = 1e-5, 1.0  # m


class _Shape:
    """What discs and bars have in common. The magnetised axis is the magnet's own z.

    A subclass gives `sides` (along its own x, y and z), `volume`, `field_at`, `potential_at` and `on_axis`.
    """

    def __post_init__(self) -> None:
        for name in self._sides:
            if not _LEAST_SIDE <= getattr(self.si, name) <= _MOST_SIDE:
                raise RangeError(
                    f"{name} of a magnet needs to be above zero, from {say(_LEAST_SIDE, 'm')} to "
                    f"{say(_MOST_SIDE, 'm')}, but {say(getattr(self.si, name), 'm')} came; "
                    f'give for example {name}="3 mm"'
                )
        least, nominal, most = self.remanence_band
        if not 0 < least <= nominal <= most:
            raise RangeError(
                "a magnet's remanence needs remanence_least, remanence and remanence_most in rising order above zero, "
                f"but {say(least, 'T')}, {say(nominal, 'T')} and {say(most, 'T')} came; give them in order"
            )

    @property
    def remanence_band(self) -> tuple[float, float, float]:
        """Least, nominal and most remanence in T; one figure three times where no spread is given."""
        si = self.si
        return (
            si.remanence if si.remanence_least is None else si.remanence_least,
            si.remanence,
            si.remanence if si.remanence_most is None else si.remanence_most,
        )

    @classmethod
    def of_grade(cls, grade: str | MagnetGrade, **sides: Any) -> Any:
        """The magnet with these sides in a grade (a name in `magnet_grades` or a record), with its spread."""
        grade = grade if isinstance(grade, MagnetGrade) else magnet_grades[grade]
        size = " x ".join(say(kind_of(Length).read(each, name), "m") for name, each in sides.items())
        return cls(
            **sides,
            remanence=grade.remanence,
            remanence_least=grade.remanence_least,
            remanence_most=grade.remanence_most,
            grade=grade,
            name=f"{size}, {grade.name}",
        )

    def at(self, temperature: Any) -> Any:
        """The magnet at a temperature: its remanence goes down the straight line of its grade.

        The knee of the demagnetisation curve is not modelled.

        Raises DesignError where the grade is not known, RangeError above the temperature that it bears.
        """
        kelvin = _TEMPERATURE.read(temperature, "temperature", scalar=True)
        if self.grade is None:
            raise DesignError("temperature needs a magnet of a known grade; make it with of_grade, such as grade N42")
        most = self.grade.si.max_temperature
        if kelvin > most:
            raise RangeError(
                f"temperature {say(kelvin, 'K')} is above the {say(most, 'K')} that grade {self.grade.name} bears: it "
                "may lose part of its strength for good, which is not modelled; keep it cooler or take another grade"
            )
        band = magnetics.remanence_at(kelvin, self.remanence_band, self.grade.si.coefficient / 100)
        remanences = dict(zip(("remanence_least", "remanence", "remanence_most"), Q(band, "T"), strict=True))
        return dataclasses.replace(self, **remanences, grade=None, name=f"{self.name} at {say(kelvin, 'K')}")

    def lying(self, orientation: str) -> tuple[float, float, float]:
        """The magnet's extent in m along the track, across it and upwards."""
        directions = magnetics.DIRECTIONS[orientation]
        return tuple(self.sides[directions.index(direction)] for direction in range(3))

    def along_track(self, position: Any, offset: Any, gap: Any, orientation: str) -> Any:
        """Flux density (T) along the track at the reed: floats or arrays in m.

        `position` and `offset` are the magnet's centre less the reed's, along the track and across it; `gap` reaches
        from the magnet's lowest point up to which nothing of it hangs, down to the reed's axis.
        """
        directions = magnetics.DIRECTIONS[orientation]
        return self.field_at(*self._seen(position, offset, gap, orientation))[directions.index(0)]

    def mean_along_track(self, position: Any, offset: Any, gap: Any, orientation: str, length: float) -> Any:
        """As `along_track`, the mean over a stretch of track with the reed in its middle."""
        start, end = (
            self.potential_at(*self._seen(np.asarray(position) + side * length / 2, offset, gap, orientation))
            for side in (1, -1)
        )
        return (start - end) / length

    def _seen(self, position: Any, offset: Any, gap: Any, orientation: str) -> tuple[Any, Any, Any]:
        """The reed's place from the magnet's centre in the magnet's own directions."""
        height = gap + self.lying(orientation)[2] / 2
        place = (np.negative(position), np.negative(offset), np.negative(height))
        return tuple(place[direction] for direction in magnetics.DIRECTIONS[orientation])


@record
class Magnet(_Shape):
    """A disc or rod magnet, magnetised along its axis; `length` lies along that axis.

    `remanence_least` and `remanence_most` say how far a bought one may differ.
    """

    diameter: Length
    length: Length
    remanence: FluxDensity
    remanence_least: FluxDensity | None = None
    remanence_most: FluxDensity | None = None
    grade: MagnetGrade | None = None
    name: str = ""

    _sides = ("diameter", "length")

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

    def potential_at(self, x: Any, y: Any, z: Any) -> Any:
        """Magnetic potential (T m) at a place in m from its centre, outside it."""
        return magnetics.cylinder_potential(x, y, z, self.si.diameter, self.si.length, self.si.remanence)

    def on_axis(self, distance: Any) -> Any:
        """Flux density (T) on its axis, at a distance in m from a pole face."""
        return magnetics.axial_field(distance, self.si.diameter, self.si.length, self.si.remanence)


@record
class BarMagnet(_Shape):
    """A rectangular magnet, magnetised along `length`, be that its longest side or its shortest.

    Its width lies level: across the track where the magnet stands upright or lies lengthwise, along the track where it
    lies crosswise.
    """

    width: Length
    thickness: Length
    length: Length
    remanence: FluxDensity
    remanence_least: FluxDensity | None = None
    remanence_most: FluxDensity | None = None
    grade: MagnetGrade | None = None
    name: str = ""

    _sides = ("width", "thickness", "length")

    @property
    def sides(self) -> tuple[float, float, float]:
        """Its sides in m along its own x, y and z."""
        return self.si.width, self.si.thickness, self.si.length

    @property
    def volume(self) -> float:
        """Its volume in m3."""
        return float(np.prod(self.sides))

    def field_at(self, x: Any, y: Any, z: Any) -> Any:
        """Flux density (T) along its own x, y and z, at a place in m from its centre."""
        return magnetics.bar_field(x, y, z, *self.sides, self.si.remanence)

    def potential_at(self, x: Any, y: Any, z: Any) -> Any:
        """Magnetic potential (T m) at a place in m from its centre, outside it."""
        return magnetics.bar_potential(x, y, z, *self.sides, self.si.remanence)

    def on_axis(self, distance: Any) -> Any:
        """Flux density (T) on its axis, at a distance in m from a pole face."""
        return self.field_at(0.0, 0.0, self.si.length / 2 + np.asarray(distance))[2]


def _magnet(name: str, figures: Figures) -> Magnet | BarMagnet:
    sides = {key: figure.text for key, figure in figures.items() if key != "grade"}
    shape = Magnet if "diameter" in sides else BarMagnet
    return dataclasses.replace(shape.of_grade(figures["grade"].value, **sides), name=name)


magnets: PartsTable[Magnet | BarMagnet] = PartsTable("magnet", "magnets.csv", _magnet)
"""Usual sizes by name: "5 x 3 mm disc, N35"."""


def as_magnet(magnet: Any) -> Magnet | BarMagnet:
    """A magnet from a name in `magnets` or a record; UnknownNameError or UnitError for anything else."""
    if isinstance(magnet, str):
        return magnets[magnet]
    if not isinstance(magnet, Magnet | BarMagnet):
        raise UnitError(
            f"magnet needs a Magnet, a BarMagnet or a name in magnets, but {quoted(magnet)} came; "
            'write for example magnet=Magnet("5 mm", "3 mm", "1.2 T")'
        )
    return magnet


def as_orientation(orientation: Any) -> str:
    """An orientation's name, or UnknownNameError."""
    if not isinstance(orientation, str) or orientation not in magnetics.ORIENTATIONS:
        raise UnknownNameError(unknown("orientation", orientation, magnetics.ORIENTATIONS))
    return orientation


@with_units
def axial_field(magnet: Magnet | BarMagnet | str, distance: Length) -> FluxDensity:
    """Flux density on a magnet's axis, at a distance from its pole face (arrays broadcast).

    Source of the formula: the solenoid of the same length and radius (`physics.magnetics.axial_field`).

    Raises UnitError or RangeError for a bad distance, UnknownNameError for a magnet in no table.
    """
    return as_magnet(magnet).on_axis(distance)
