"""Chromaticity (CIE 1931 x, y) of single wavelengths and of mixed light, its dominant wavelength, its word."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ...errors import RangeError
from ..domain import together, within
from .observer import LONGEST, SHORTEST, response, table

Array = NDArray[np.float64]
Floats = np.float64 | Array

_WHITE = np.full(3, 1 / 3)  # the equal-energy stimulus E, to which an LED's dominant wavelength refers (CIE 127)
_TELLING = 340  # rows of the table up to 699 nm: all longer waves have one chromaticity
_SLACK = 1e-4  # rad, about 4e-5 in x and y: what rounding to five digits may do to either end of the spectrum
_WHITE_RADIUS = 1e-3  # in x and y; nearer to white no hue can be told

# Each word holds from its wavelength (nm) on. Red, orange, yellow and yellow-green follow the groups in which lamps are
# sold: data sheets print 612 to 625 nm for red, 598 to 611 soft orange, 581 to 594 yellow, 562 to 575 green and 555 to
# 565 pure green; the limits lie between the groups. For the last two the eye's word is taken instead of the trade's:
# 570 nm is a greenish yellow, 555 nm a yellowish green (National Bureau of Standards, Letter Circular 454, p. 1).
# The limits below 550 nm are common practice, no source.
_HUES = ((360, "violet"), (450, "blue"), (485, "blue-green"), (500, "green"), (550, "yellow-green"))
_HUES += ((578, "yellow"), (596, "orange"), (611.5, "red"))
_HUE_STARTS = np.array([start for start, _ in _HUES])
_HUE_WORDS = np.array([word for _, word in _HUES])
_WHITISH = 0.15  # below this purity a light is called white; our choice, no source


def chromaticity(wavelength: ArrayLike) -> tuple[Floats, Floats]:
    """Chromaticity x and y of light of one wavelength (m), each in the shape of `wavelength`.

    Raises
    ------
    RangeError
        Outside 360 to 830 nm.
    """
    tristimulus = response(wavelength)
    x, y, _ = np.moveaxis(tristimulus / tristimulus.sum(axis=-1, keepdims=True), -1, 0)
    return x[()], y[()]


def mix(chromaticities: tuple[ArrayLike, ArrayLike], luminances: ArrayLike) -> tuple[Floats, Floats]:
    """Chromaticity x and y of lights seen together: additive mixture (CIE 15), weighted by the light of each.

    Parameters
    ----------
    chromaticities : pair of array_like
        x and y, as `chromaticity` gives them; the last axis runs over the lights.
    luminances : array_like
        Luminance, luminous intensity or flux of each light, in one unit; the last axis runs over the lights.

    Raises
    ------
    RangeError
        If no pair came, x, y is outside the colour triangle, a luminance outside 0 to 1e12, or all lights are dark.
    """
    try:
        x, y = chromaticities
    except (TypeError, ValueError):
        raise RangeError("chromaticities must be a pair x, y; something else came: see chromaticity.") from None
    x, y = _checked(x, y)
    luminance = within("luminances", luminances, 0, 1e12, "cd", "give the light of each lamp, none below zero")
    x, y, luminance = together(x=x, y=y, luminances=luminance)
    if luminance.ndim == 0 or luminance.shape[-1] == 0 or not luminance.any(axis=-1).all():
        raise RangeError("luminances must hold a light above zero along the last axis; none came: light one lamp.")
    share = luminance / luminance.max(axis=-1, keepdims=True)
    amounts = np.stack([share * x / y, share, share * (1 - x - y) / y]).sum(axis=-1)
    return (amounts[0] / amounts.sum(axis=0))[()], (amounts[1] / amounts.sum(axis=0))[()]


def dominant_wavelength(x: ArrayLike, y: ArrayLike) -> Floats:
    """The wavelength (m) that makes this chromaticity when mixed with equal-energy white.

    Interpolated between the 1 nm values, so that it undoes `chromaticity` up to 699 nm; light of longer waves has the
    chromaticity of 699 nm and is answered so.

    Raises
    ------
    RangeError
        If the colour is white (within 0.001), purple (no single wavelength makes it), or no real light has it.
    """
    edge = _edge(x, y)
    _refuse(edge.purity == 0, x, y, "is white and has no dominant wavelength", "ask colour_word for its word")
    _refuse(edge.purple, x, y, "is a purple, which no single wavelength makes", "ask colour_word for its word")
    return edge.wavelength[()]


def excitation_purity(x: ArrayLike, y: ArrayLike) -> Floats:
    """How far from white (0) a colour lies on the way to a single wavelength or full purple (1); CIE 15.

    Within 0.001 of white in x and y the answer is 0.

    Raises
    ------
    RangeError
        If no real light has this chromaticity.
    """
    return _edge(x, y).purity[()]


def hue_word(wavelength: ArrayLike) -> str | NDArray[np.str_]:
    """The everyday word for the hue of a (dominant) wavelength (m).

    violet from 360 nm, blue 450, blue-green 485, green 500, yellow-green 550, yellow 578, orange 596, red 611.5;
    from lamp makers' groups where there are any (see the source), else common practice.

    Raises
    ------
    RangeError
        Outside 360 to 830 nm.
    """
    wavelength = within("wavelength", wavelength, SHORTEST, LONGEST, "m", "give visible light in metres")
    words = _hue(wavelength)
    return str(words) if wavelength.ndim == 0 else words


def colour_word(x: ArrayLike, y: ArrayLike) -> str | NDArray[np.str_]:
    """The everyday word for a chromaticity: "white" below a purity of 0.15, "purple", or the hue's word.

    Raises
    ------
    RangeError
        If no real light has this chromaticity.
    """
    edge = _edge(x, y)
    words = np.where(edge.purple, "purple", _hue(edge.wavelength))
    words = np.where(edge.purity < _WHITISH, "white", words)
    return str(words) if words.ndim == 0 else words


def screen_colour(x: ArrayLike, y: ArrayLike) -> str | NDArray[np.str_]:
    """A colour for drawing light of this chromaticity on a screen, as "#rrggbb": one that people call by its word.

    A screen cannot show a colour as pure as an LED's. The nearest that it can show has another name: of 604 nm, which
    is orange, a red; of 588 nm, yellow, an orange. So the hue follows the wavelength in such a way that each word of
    `hue_word` keeps to its own stretch of the colour circle, and the saturation is the purity.

    Raises
    ------
    RangeError
        If no real light has this chromaticity.
    """
    edge = _edge(x, y)
    hue = np.where(edge.purple, _PURPLE, np.interp(edge.wavelength * 1e9, *np.array(_HUE_CIRCLE).T))
    place = (np.array([5, 3, 1]) + hue[..., np.newaxis] / 60) % 6  # the usual way from hue and saturation to sRGB
    short = np.clip(np.minimum(place, 4 - place), 0, 1) * np.minimum(edge.purity, 1)[..., np.newaxis]
    levels = np.rint(255 * (1 - short)).astype(int)
    digits = _HEX[np.stack([levels // 16, levels % 16], axis=-1)].reshape(*levels.shape[:-1], 6)
    text = np.concatenate([np.full((*digits.shape[:-1], 1), "#"), digits], axis=-1)
    words = np.ascontiguousarray(text).view("<U7")[..., 0]
    return str(words) if words.ndim == 0 else words


_HEX = np.array(list("0123456789abcdef"))
# wavelength (nm) and angle on the colour circle (degrees), where one word of _HUES ends and the next begins; from 620
# nm on all is red. The angles lie between those of the named colours of CSS: orange is at 39, yellow at 60,
# yellowgreen at 80, green at 120, cyan at 180, blue at 240, blueviolet at 271
_HUE_CIRCLE = ((360, 285.0), (450, 255.0), (485, 200.0), (500, 150.0), (550, 105.0))
_HUE_CIRCLE += ((578, 68.0), (596, 48.0), (611.5, 15.0), (620, 0.0))
_PURPLE = 310.0


class _Edge(NamedTuple):
    """Where the ray from white through a colour leaves the diagram."""

    wavelength: Array  # no meaning where `purple`, or where `purity` is zero
    purity: Array
    purple: NDArray[np.bool_]


def _edge(x: ArrayLike, y: ArrayLike) -> _Edge:
    x, y = _checked(x, y)
    ring, turns, start = _ring()
    white = np.hypot(x - _WHITE[0], y - _WHITE[1]) < _WHITE_RADIUS
    colour = np.where(white[..., np.newaxis], ring[200] / ring[200].sum(), np.stack([x, y, 1 - x - y], axis=-1))
    turn = (start - np.arctan2(colour[..., 1] - _WHITE[1], colour[..., 0] - _WHITE[0])) % (2 * np.pi)
    turn = np.where(turn > 2 * np.pi - _SLACK, 0, turn)
    below = np.searchsorted(turns, turn, side="right") - 1
    normal = np.cross(_WHITE, colour)  # of the plane through white and the colour; it cuts the edge where the ray does
    before, after = (ring[below] * normal).sum(axis=-1), (ring[below + 1] * normal).sum(axis=-1)
    share = np.clip(before / (before - after), 0, 1)
    edge = ring[below] + share[..., np.newaxis] * (ring[below + 1] - ring[below])
    edge = edge / edge.sum(axis=-1, keepdims=True)
    purity = np.hypot(*np.moveaxis((colour - _WHITE)[..., :2], -1, 0))
    purity = purity / np.hypot(*np.moveaxis((edge - _WHITE)[..., :2], -1, 0))
    _refuse(purity > 1.001, x, y, "is a colour that no light has", "give a chromaticity inside the CIE 1931 diagram")
    wavelength = SHORTEST + 1e-9 * np.minimum(below + share, len(turns) - 1)
    return _Edge(wavelength, np.where(white, 0, purity), ~white & (turn > turns[-1] + _SLACK))


@cache
def _ring() -> tuple[Array, Array, float]:
    """The spectrum's tristimulus values, closed by the purple line; how far each has turned from the first about white.

    The turn (rad) grows with the wavelength up to 699 nm; the third item is the direction of the first.
    """
    spectrum = table()[1][:_TELLING]
    x, y, _ = (spectrum / spectrum.sum(axis=1, keepdims=True)).T
    direction = np.unwrap(np.arctan2(y - _WHITE[1], x - _WHITE[0]))
    return np.concatenate([spectrum, spectrum[:1]]), direction[0] - direction, float(direction[0])


def _hue(wavelength: Array) -> NDArray[np.str_]:
    return _HUE_WORDS[np.searchsorted(_HUE_STARTS, wavelength * 1e9 + 1e-9, side="right") - 1]


def _checked(x: ArrayLike, y: ArrayLike) -> list[Array]:
    remedy = "give CIE 1931 chromaticity coordinates"
    x, y = together(x=within("x", x, 0, 1, "", remedy), y=within("y", y, 1e-3, 1, "", remedy))
    _refuse(x + y > 1 + 1e-9, x, y, "is a colour that no light has", "x and y together are at most 1")
    return [x, y]


def _refuse(mask: NDArray[np.bool_], x: ArrayLike, y: ArrayLike, what: str, remedy: str) -> None:
    if np.any(mask):
        x, y = np.broadcast_arrays(x, y)
        raise RangeError(f"The chromaticity x = {x[mask].flat[0]:.4g}, y = {y[mask].flat[0]:.4g} {what}: {remedy}.")
