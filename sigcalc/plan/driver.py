"""The constant-current driver that a plan asks for: bought ready, a regulator with one resistor, or current diodes."""

from __future__ import annotations

from dataclasses import dataclass

from ..parts.drive import ConstantCurrentDrive, Regulator, current_diodes, regulators
from ..parts.resistor import at_least
from ..units import Q, say
from .drive_spec import DIODE, REGULATOR, DriveSpec

OWN_SPREAD = 0.04
"""How far an own regulator's reference voltage is taken to be off: that of the usual kind, 1.2 V to 1.3 V."""


@dataclass(frozen=True)
class Driver:
    """A driver as it is bought and built.

    `setting` is the resistor in ohm that sets a regulator's current, 0 where there is none, and `setting_voltage`
    the most in V across it. `story` says how it came about.
    """

    drive: ConstantCurrentDrive
    name: str
    detail: str
    story: str
    count: int = 1
    setting: float = 0.0
    setting_voltage: float = 0.0


def driver_of(wish: DriveSpec) -> Driver:
    """The driver of a plan whose drive is no resistor; raises DesignError where the part cannot do what is wished."""
    if wish.kind == REGULATOR:
        return _regulator(wish)
    if wish.kind == DIODE and wish.part is not None:
        return _diodes(wish, wish.part)
    kind = "current-regulator diode" if wish.kind == DIODE else "constant-current driver"
    drive = ConstantCurrentDrive(wish.current, wish.dropout, wish.tolerance, kind=kind)
    return Driver(drive, kind, _figures(drive), "The driver sets the current; no resistor is chosen.")


def _figures(drive: ConstantCurrentDrive) -> str:
    drops_out = say(drive.si.dropout, "V")
    return f"{say(drive.limit, 'A')}, {say(drive.tolerance, '', 2)}, drop-out {drops_out}"


def _regulator(wish: DriveSpec) -> Driver:
    regulator, said = _bought(wish)
    ohms, how = wish.resistance, "is the one you gave"
    if ohms is None:
        exact = regulator.resistance_for(wish.current).m_as("ohm")
        ohms, how = Q(at_least(exact, wish.series), "ohm"), f"is the {wish.series} value for the current you wish"
    drive = regulator.set_by(ohms, wish.tolerance)
    return Driver(
        drive=drive,
        name="adjustable regulator",
        detail=f"{regulator.name}, set to {_figures(drive)}",
        story=f"The resistor from the regulator's output to its adjust pin {how}.{said}",
        setting=ohms.m_as("ohm"),
        setting_voltage=regulator.si.reference_max,
    )


def _bought(wish: DriveSpec) -> tuple[Regulator, str]:
    """The regulator, and what is taken for granted of an own one."""
    if wish.part is not None:
        return regulators[wish.part], ""
    volts = wish.reference_voltage
    own = Regulator(
        name="own regulator",
        reference_voltage=volts,
        reference_min=volts * (1 - OWN_SPREAD),
        reference_max=volts * (1 + OWN_SPREAD),
        headroom=wish.dropout,
        max_current=wish.current if wish.resistance is None else Q(10, "A"),
    )
    said = f" Its reference voltage is taken to be within {say(OWN_SPREAD, '')}, its own currents as nothing."
    return own, said


def _diodes(wish: DriveSpec, name: str) -> Driver:
    """As many diodes side by side as stay within the wish, and one at the least."""
    diode = current_diodes[name]
    count = max(1, int(wish.current.m_as("A") / diode.si.current * (1 + 1e-9)))
    drive = diode.drive(count)
    many = f"{count} current diodes side by side set" if count > 1 else "The current diode sets"
    story = f"{many} {say(drive.limit, 'A')}, of {say(wish.current.m_as('A'), 'A')} wished; no resistor is chosen."
    return Driver(drive, "current-regulator diode", f"{diode.name.upper()}, {_figures(drive)}", story, count)
