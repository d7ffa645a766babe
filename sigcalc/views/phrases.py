"""How the pictures say a drive, a current, a share of light."""

from __future__ import annotations

from ..design.power.drive_choice import HALF
from ..parts.drive import ConstantCurrentDrive, Drive
from ..units import say

_OF_LIGHT = ((0.9, "LIKE FRESH"), (HALF, "HARDLY NOTICED"), (0.1, "CLEARLY DIMMER"), (0.0, "A GLIMMER"))


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


def light_word(light: float, lit: bool = True) -> str:
    """What the eye makes of a share of the light it has seen before: it notices little before half is gone."""
    return next((word for least, word in _OF_LIGHT if light >= least), _OF_LIGHT[-1][1]) if lit else "DARK"


def two_figures(ratio: float) -> str:
    """A ratio to two figures, also a large one, never with a power of ten: "1.4", "220"."""
    return f"{ratio:.2g}" if ratio < 100 else f"{float(f'{ratio:.1e}'):.0f}"
