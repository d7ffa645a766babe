"""From watts and amperes to candelas."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..domain import together, within
from .observer import response

Floats = np.float64 | NDArray[np.float64]

# 683 lm/W at 540 THz defines the candela; 540 THz is 555.016 nm in standard air, a hair off V's peak at 555 nm.
LUMINOUS_EFFICACY_MOST = 683.002  # lm/W, CIE 18


def luminous_weight(wavelength: ArrayLike) -> Floats:
    """The eye's weight V for light of one wavelength (m), 0 to 1: CIE 1924, photopic (daylight) vision.

    In a dark room the eye leans towards shorter waves (mesopic vision): red then looks darker than V says.

    Raises
    ------
    RangeError
        Outside 360 to 830 nm.
    """
    return response(wavelength)[..., 1][()]


def luminous_efficacy(wavelength: ArrayLike) -> Floats:
    """Lumens per watt (= candelas per W/sr) of light of one wavelength (m): 683.002 V.

    Raises
    ------
    RangeError
        Outside 360 to 830 nm.
    """
    return LUMINOUS_EFFICACY_MOST * luminous_weight(wavelength)


def led_efficacy(peak_wavelength: ArrayLike, dominant_wavelength: ArrayLike) -> Floats:
    """Lumens per watt of an LED's light, from the peak and the dominant wavelength (m) of its data sheet.

    An LED's light is a hump some 20 to 40 nm wide, so no single wavelength gives its efficacy. The geometric mean of
    the efficacies at peak and dominant wavelength does, within 10 % for red, yellow and green: tried on the nine
    measured or data-sheet figures in the tests, where the dominant wavelength alone errs by up to 37 % and the peak
    alone by up to 24 %. Not for blue, where the hump lies on the steep foot of V.

    Raises
    ------
    RangeError
        If a wavelength lies outside 360 to 830 nm, or the dominant one below 500 nm.
    """
    within("dominant_wavelength", dominant_wavelength, 500e-9, 830e-9, "m", "blue wants the whole measured spectrum")
    peak, dominant = together(
        peak_wavelength=np.asarray(luminous_efficacy(peak_wavelength)),
        dominant_wavelength=np.asarray(luminous_efficacy(dominant_wavelength)),
    )
    return np.sqrt(peak * dominant)


def luminous_from_radiant(radiant_intensity: ArrayLike, wavelength: ArrayLike) -> Floats:
    """Luminous intensity (cd) of light of one wavelength (m) with a radiant intensity in W/sr.

    For an LED, multiply the radiant intensity by `led_efficacy` instead: its light is not of one wavelength.

    Raises
    ------
    RangeError
        If the wavelength lies outside 360 to 830 nm or the radiant intensity outside 0 to 1 MW/sr.
    """
    radiant = within("radiant_intensity", radiant_intensity, 0, 1e6, "W/sr", "give it in W/sr, for example 1e-3")
    radiant, efficacy = together(radiant_intensity=radiant, wavelength=np.asarray(luminous_efficacy(wavelength)))
    return radiant * efficacy


def intensity_at(current: ArrayLike, reference_intensity: ArrayLike, reference_current: ArrayLike) -> Floats:
    """Luminous intensity (cd) at a current (A), when it is `reference_intensity` at `reference_current`.

    The assumption: light is proportional to current. For one measured lamp, scaled from its light at 24 mA, that was
    within 8 % from 14 to 50 mA, 19 % too much at 99 mA (a warm chip gives less) and 29 % too little at 4 mA (stray
    light in the reading is part of it); see the tests. Well below a milliampere older red, yellow and green lamps
    (GaAsP, GaP) give less light than this says, since part of the current passes without making any; InGaN (green,
    blue, white) gives more, since its efficiency is best at small currents. For small currents start from a lamp
    specified there (2 mA types).

    Raises
    ------
    RangeError
        Outside 0 to 1000 A, 0 to 1e6 cd, and a reference current of 1 nA to 1000 A.
    """
    current = within("current", current, 0, 1e3, "A", "give the forward current in amperes, for example 0.01")
    reference = _reference(reference_intensity, reference_current, 0)
    current, per_ampere = together(current=current, reference=reference)
    return current * per_ampere


def current_for(intensity: ArrayLike, reference_intensity: ArrayLike, reference_current: ArrayLike) -> Floats:
    """The current (A) that gives a luminous intensity (cd); the inverse of `intensity_at`, on the same assumption.

    Raises
    ------
    RangeError
        Outside 0 to 1e6 cd, a reference intensity of 1e-9 to 1e6 cd, and a reference current of 1 nA to 1000 A.
    """
    intensity = within("intensity", intensity, 0, 1e6, "cd", "give the luminous intensity in candelas")
    reference = _reference(reference_intensity, reference_current, 1e-9)
    intensity, per_ampere = together(intensity=intensity, reference=reference)
    return intensity / per_ampere


def _reference(intensity: ArrayLike, current: ArrayLike, least_intensity: float) -> NDArray[np.float64]:
    intensity = within(
        "reference_intensity", intensity, least_intensity, 1e6, "cd", "take the data sheet's figure in candelas"
    )
    current = within("reference_current", current, 1e-9, 1e3, "A", "take the current the data sheet's intensity is for")
    intensity, current = together(reference_intensity=intensity, reference_current=current)
    return np.asarray(intensity / current)
