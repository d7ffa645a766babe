"""Light as the eye weighs it: luminous intensity, chromaticity of mixed light, and how even two lamps look.

`observer` holds the table of the CIE 1931 standard observer, `luminous` the step from watts and amperes to candelas,
`colour` the chromaticity, its dominant wavelength and its word, `evenness` the comparison of two lamps.
"""

from .colour import chromaticity, colour_word, dominant_wavelength, excitation_purity, hue_word, mix, screen_colour
from .evenness import MAY_DIFFER, brightness_ratio, drawn_ratios, unevenness_word
from .luminous import (
    LUMINOUS_EFFICACY_MOST,
    current_for,
    intensity_at,
    led_efficacy,
    luminous_efficacy,
    luminous_from_radiant,
    luminous_weight,
)

__all__ = [
    "LUMINOUS_EFFICACY_MOST",
    "MAY_DIFFER",
    "brightness_ratio",
    "chromaticity",
    "colour_word",
    "current_for",
    "dominant_wavelength",
    "drawn_ratios",
    "excitation_purity",
    "hue_word",
    "intensity_at",
    "led_efficacy",
    "luminous_efficacy",
    "luminous_from_radiant",
    "luminous_weight",
    "mix",
    "screen_colour",
    "unevenness_word",
]
