"""How the pictures say a drive and a current."""

from __future__ import annotations

from ..parts.drive import ConstantCurrentDrive, Drive
from ..units import say


def drive_name(drive: Drive) -> str:
    """What to buy: the resistance or the current, with its tolerance where one is given."""
    value = say(drive.si.current, "A") if isinstance(drive, ConstantCurrentDrive) else say(drive.si.resistance, "ohm")
    return value + (f" ± {say(drive.si.tolerance, '')}" if drive.si.tolerance else "")


def current_words(current: float) -> str:
    """A current as a hobby meter shows it; what none shows is given no figure."""
    return say(current, "A") if current >= 1e-6 else "under 0.001 mA" if current else "no current"


def voltage_words(voltage: float) -> str:
    """A voltage as it is said; below a microvolt it is none."""
    return say(voltage if abs(voltage) >= 1e-6 else 0.0, "V")


def two_figures(ratio: float) -> str:
    """A ratio to two figures, also a large one, never with a power of ten: "1.4", "220"."""
    return f"{ratio:.2g}" if ratio < 100 else f"{float(f'{ratio:.1e}'):.0f}"
