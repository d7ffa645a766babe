"""One LED: its voltage at a current, and the current of a supply, a resistance and the LED in a loop."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..errors import RangeError
from . import wright_omega
from .domain import together, within

Floats = NDArray[np.float64]

LEAST_SATURATION_CURRENT = 1e-200
"""In A. Below this a double has no room left for the ratio of current to saturation current."""
GREATEST_CURRENT = 1e90
"""In A. No figure is given beyond it: the exponential of a junction without resistance has run away."""
BEYOND = (
    "The current is beyond any number: there is too little resistance to hold the exponential at this supply, or the "
    "arguments lie too many powers of ten apart; give a resistance or a series_resistance such as 5.0 ohm."
)
_GREATEST = 1e300
_EMISSION = (1e-300, 1e300)
_RANGES = {
    "supply": (-_GREATEST, _GREATEST, "V", "give the supply's voltage, such as 9.0"),
    "voltage": (-_GREATEST, _GREATEST, "V", "give the voltage across the part, such as 2.0"),
    "current": (-GREATEST_CURRENT, GREATEST_CURRENT, "A", "give the forward current, such as 0.01"),
    "resistance": (0.0, _GREATEST, "ohm", "give the resistor's value, such as 470.0"),
    "saturation_current": (LEAST_SATURATION_CURRENT, _GREATEST, "A", "a red LED has about 1e-21"),
    "emission_voltage": (*_EMISSION, "V", "it is ideality times kT/q, such as 0.05"),
    "series_resistance": (0.0, _GREATEST, "ohm", "an LED has some ohms, such as 5.0"),
}


def argument(name: str, value: Any) -> Floats:
    """The argument called `name` as an array of floats in its range; RangeError otherwise."""
    return within(name, value, *_RANGES[name])


def exponential_voltage(
    current: ArrayLike, saturation_current: ArrayLike, emission_voltage: ArrayLike, series_resistance: ArrayLike = 0.0
) -> Floats:
    """Voltage in V across one LED at a current in A: n (kT/q) ln(1 + I/Is) + I Rs; everything broadcasts.

    The model reaches the reverse current -Is at no finite voltage, so `current` must be more
    than -saturation_current; RangeError if it is not, or if another argument is out of range.
    """
    amperes, saturation, emission, series = together(
        current=argument("current", current),
        saturation_current=argument("saturation_current", saturation_current),
        emission_voltage=argument("emission_voltage", emission_voltage),
        series_resistance=argument("series_resistance", series_resistance),
    )
    beyond = amperes <= -saturation
    if beyond.any():
        raise RangeError(
            f"current {amperes[beyond].flat[0]:g} A must be above -{saturation[beyond].flat[0]:g} A, minus the "
            "saturation current, which the model reaches at no voltage; give a forward current, such as 0.01."
        )
    with np.errstate(over="ignore"):
        volts = emission * np.log1p(amperes / saturation) + amperes * series
    if not np.isfinite(volts).all():
        raise RangeError("The voltage is beyond any number; give a smaller current or series_resistance.")
    return volts[()]


def exponential_current(
    voltage: ArrayLike, saturation_current: ArrayLike, emission_voltage: ArrayLike, series_resistance: ArrayLike = 0.0
) -> Floats:
    """Current in A through one LED with a voltage in V across it, the inverse of `exponential_voltage`.

    Everything broadcasts; accuracy and errors are those of `loop_current`.
    """
    try:
        return loop_current(voltage, 0.0, saturation_current, emission_voltage, series_resistance)
    except RangeError:
        argument("voltage", voltage)  # the refusal by the name it has here
        raise


def loop_current(
    supply: ArrayLike,
    resistance: ArrayLike,
    saturation_current: ArrayLike,
    emission_voltage: ArrayLike,
    series_resistance: ArrayLike = 0.0,
) -> Floats:
    """Current in A of a supply, a resistance and one LED in a loop, in closed form.

    The closed form is that of T. C. Banwell and A. Jayakumar, Electronics Letters 36(4),
    291-292 (2000), doi 10.1049/el:20000301, evaluated as `omega` explains:
    I = (nVt/R) W0[(Is R/nVt) exp((V + Is R)/nVt)] - Is, with R = resistance + series_resistance.

    Parameters
    ----------
    supply : array_like
        V in V; negative for a reversed LED.
    resistance, series_resistance : array_like
        In ohm, zero or more; they add up.
    saturation_current : array_like
        Is in A, 1e-200 or more.
    emission_voltage : array_like
        nVt, ideality times kT/q, in V, above zero; k times that for a string of k equal LEDs.

    Returns
    -------
    float or ndarray
        The current in the common shape: forward positive, exactly zero at zero supply, never below
        -Is. Good to 1e-12 of itself when forward, to 1e-12 of Is when reverse.

    Raises
    ------
    RangeError
        If an argument is outside its range or not finite, if the shapes do not fit each other, or
        if for want of resistance the exponential leaves the range of numbers.
    """
    arrays = _quickly_checked(
        supply=supply,
        resistance=resistance,
        saturation_current=saturation_current,
        emission_voltage=emission_voltage,
        series_resistance=series_resistance,
    )
    current, greatest = solve(arrays)
    if not greatest < GREATEST_CURRENT:
        _check(arrays)
        raise RangeError(BEYOND)
    return current[()]


def solve(arrays: dict[str, Floats]) -> tuple[Floats, np.float64]:
    """The loop's current as `loop_current`, unchecked, and the greatest of all: NaN where it is beyond numbers."""
    with _blocks(arrays) as blocks, np.errstate(all="ignore"):
        greatest = _fill(blocks)
        return blocks.operands[-1], greatest


def _quickly_checked(**given: Any) -> dict[str, Floats]:
    """The arguments as arrays, looked at, for speed, only for what would not show as not-a-number in the current."""
    arrays = {name: value if _is_plain(value) else argument(name, value) for name, value in given.items()}
    arrays = {name: np.asarray(value, float) for name, value in arrays.items()}
    saturation, emission = arrays["saturation_current"], arrays["emission_voltage"]
    sound = (
        saturation.min(initial=np.inf) >= LEAST_SATURATION_CURRENT
        and emission.min(initial=np.inf) >= _EMISSION[0]
        and emission.max(initial=0.0) <= _EMISSION[1]
        and arrays["resistance"].min(initial=np.inf) >= 0
        and arrays["series_resistance"].min(initial=np.inf) >= 0
    )
    if not sound:
        _check(arrays)
    return arrays


def _is_plain(value: Any) -> bool:
    return isinstance(value, float) or (type(value) is np.ndarray and value.dtype == float)


def _check(arrays: dict[str, Floats]) -> None:
    for name, array in arrays.items():
        argument(name, array)


def _blocks(arrays: dict[str, Floats]) -> np.nditer:
    """The arguments and a place for the current, broadcast, in blocks that fit the cache."""
    try:
        return np.nditer(
            [*arrays.values(), None],
            flags=["external_loop", "buffered", "zerosize_ok"],
            op_flags=[["readonly"]] * len(arrays) + [["writeonly", "allocate"]],
            buffersize=wright_omega.BLOCK,
        )
    except ValueError:
        together(**arrays)  # raises with the shapes in the sentence
        raise


def _fill(blocks: np.nditer) -> np.float64:
    """Put the current of every loop into the last operand; gives the greatest, or NaN if there is one."""
    workspace = wright_omega.Workspace(min(wright_omega.BLOCK, blocks.itersize))
    greatest = np.float64(-np.inf)
    for supply, resistance, saturation, emission, series, current in blocks:
        if current.size != workspace.size:
            workspace.fit(current.size)
        drive, slope = workspace.drive, workspace.slope
        np.add(resistance, series, out=slope)
        np.multiply(slope, saturation, out=slope)
        np.divide(slope, emission, out=slope)
        np.divide(supply, emission, out=drive)
        wright_omega.current_ratio(drive, slope, current, workspace)
        np.multiply(current, saturation, out=current)
        greatest = np.maximum(greatest, current.max(initial=-np.inf))  # Python's max would lose a NaN
    return greatest
