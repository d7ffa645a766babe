"""A diode or LED as V = n (kT/q) ln(1 + I/Is) + I Rs: alone, with a resistor on a supply, in a string, warm or cold.

The three parameters of one LED come in this order everywhere: saturation current Is in A, emission voltage n kT/q in V,
series resistance Rs in ohm. The model knows no reverse breakdown: in reverse the current goes to -Is and stays there.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike
from scipy.constants import elementary_charge
from scipy.constants import k as boltzmann

from ..errors import RangeError
from .domain import Floats, together

Triple = tuple[ArrayLike, ArrayLike, ArrayLike]
"""Saturation current in A, emission voltage in V, series resistance in ohm of one LED, each broadcastable."""

BOLTZMANN_VOLTAGE = boltzmann / elementary_charge
"""k/q in V/K, exact in the SI of 2019."""
LEAST_SATURATION_CURRENT = 1e-200
"""In A. Below this a double has no room left for the ratio of current to saturation current."""
GREATEST_CURRENT = 1e90
"""In A. No figure is given beyond it: the exponential of a junction without resistance has run away."""
_BEYOND = (
    "the current is beyond any number: there is too little resistance to hold the exponential at this supply, or the "
    "arguments lie too many powers of ten apart; give a resistance or a series_resistance such as 5.0 ohm"
)
_LEAST = 1e-300
_NEAR_ZERO = 1e-3  # below that exponent the tangent at zero is the better start
_MOST_STEPS = 100
_BLOCK = 8192
_SATURATED = -40.0  # an exponent below this leaves nothing of exp beside 1: the current is -Is to the last digit
_SETTLED = 1e-8  # Newton doubles the digits: the step after one as small as this, relative, is below rounding


def thermal_voltage(temperature: ArrayLike) -> Floats:
    """Thermal voltage kT/q in V at a junction temperature in K; broadcasts."""
    return BOLTZMANN_VOLTAGE * np.asarray(temperature, float)


def saturation_current_at(
    temperature: ArrayLike,
    saturation_current: ArrayLike,
    ideality: ArrayLike,
    energy_gap: ArrayLike,
    reference_temperature: ArrayLike,
) -> Floats:
    """Saturation current in A at a junction temperature, from the one at a reference temperature.

    Is (T/T0)^(3/n) exp(Eg/(n k/q) (1/T0 - 1/T)), the rule of SPICE's diode with XTI = 3, worked out as a logarithm.
    Temperatures in K, `energy_gap` in V (electron volts per charge): the true gap, or better the one from
    `effective_energy_gap`; everything broadcasts. Raises RangeError where the answer leaves the range of numbers.
    """
    kelvin = np.asarray(temperature, float)
    growth = 3.0 * np.log(kelvin / reference_temperature)
    growth = growth + np.divide(energy_gap, BOLTZMANN_VOLTAGE) * (
        1.0 / np.asarray(reference_temperature) - 1.0 / kelvin
    )
    with np.errstate(all="ignore"):
        current = np.exp(np.log(saturation_current) + growth / ideality)
    if not ((current >= LEAST_SATURATION_CURRENT) & (current <= GREATEST_CURRENT)).all():
        raise RangeError(
            "temperature is too far from reference_temperature: the saturation current would leave the range of "
            "numbers; use a temperature nearer to the reference"
        )
    return current


def effective_energy_gap(
    junction_voltage: ArrayLike, temperature_coefficient: ArrayLike, temperature: ArrayLike
) -> Floats:
    """The energy gap in V that gives a junction the wanted change of voltage with temperature.

    With `saturation_current_at`, the voltage V = n (k/q) T ln(I/Is) at a steady current I well above
    Is changes by dV/dT = (V - Eg)/T - 3 k/q. Solved for Eg. It takes the place of the material's gap,
    which alone would miss what contacts and other layers add to the measured change.

    Parameters
    ----------
    junction_voltage : array_like
        V in V, without the drop over the series resistance.
    temperature_coefficient : array_like
        The wanted dV/dT in V/K; negative, about -0.002.
    temperature : array_like
        T in K where both hold.

    Raises RangeError when the gap would be negative.
    """
    change = np.add(temperature_coefficient, 3.0 * BOLTZMANN_VOLTAGE)
    gap = np.subtract(junction_voltage, np.multiply(temperature, change))
    if not (gap >= 0.0).all():
        raise RangeError(
            "temperature_coefficient falls too little for the junction's voltage: no energy gap gives it; "
            "use a more negative one, such as -0.0018"
        )
    return gap


def exponential_voltage(
    current: ArrayLike, saturation_current: ArrayLike, emission_voltage: ArrayLike, series_resistance: ArrayLike = 0.0
) -> Floats:
    """Voltage in V across one LED at a current in A: n (kT/q) ln(1 + I/Is) + I Rs; everything broadcasts.

    Raises RangeError where no finite voltage gives the current, which must be more than -saturation_current, and for
    shapes that do not fit each other.
    """
    amperes, saturation, emission, series = together(
        current=current,
        saturation_current=saturation_current,
        emission_voltage=emission_voltage,
        series_resistance=series_resistance,
    )
    with np.errstate(all="ignore"):
        volts = emission * np.log1p(amperes / saturation) + amperes * series
    if not np.isfinite(volts).all():
        raise RangeError(
            "no voltage gives that current: it needs to be above minus the saturation current, which the model reaches "
            "at no voltage, and not beyond any number; give a forward current, such as 0.01"
        )
    return volts[()]


def exponential_current(
    voltage: ArrayLike, saturation_current: ArrayLike, emission_voltage: ArrayLike, series_resistance: ArrayLike = 0.0
) -> Floats:
    """Current in A through one LED with a voltage in V across it, the inverse of `exponential_voltage`.

    Everything broadcasts; accuracy and errors are those of `loop_current`.
    """
    return loop_current(voltage, 0.0, saturation_current, emission_voltage, series_resistance)


def loop_current(
    supply: ArrayLike,
    resistance: ArrayLike,
    saturation_current: ArrayLike,
    emission_voltage: ArrayLike,
    series_resistance: ArrayLike = 0.0,
) -> Floats:
    """Current in A of a supply, a resistance and one LED in a loop, in closed form.

    The closed form is that of T. C. Banwell and A. Jayakumar, Electronics Letters 36(4),
    291-292 (2000), doi 10.1049/el:20000301, evaluated as `_exponent` explains:
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
        If the shapes do not fit each other, or if for want of resistance the exponential leaves the range of numbers.
    """
    volts, saturation, emission = (np.asarray(each, float) for each in (supply, saturation_current, emission_voltage))
    try:
        current = _loop(volts, np.add(resistance, series_resistance), saturation, emission)
    except ValueError:
        together(supply=volts, resistance=resistance, saturation_current=saturation, emission_voltage=emission)
        raise
    if not ((current < GREATEST_CURRENT).all() and (saturation >= LEAST_SATURATION_CURRENT).all()):
        raise RangeError(_BEYOND)
    return current[()]


def string_current(supply: ArrayLike, resistance: ArrayLike, leds: Sequence[Triple]) -> Floats:
    """Current in A of a supply in V, a resistance in ohm and several LEDs in series.

    LEDs with one saturation current are one LED with the sum of their emission voltages, exactly.
    Unequal ones let through in reverse what the least saturation current among them allows. Their
    equation is solved for that LED's junction voltage by Newton's method from a closed-form start;
    since the loop's voltage is convex in it, the method descends steadily and needs no safeguard.

    `leds` holds (saturation_current, emission_voltage, series_resistance) of each, at least one; the rest and the
    errors are those of `loop_current`. So is the accuracy, with the least saturation current for Is.
    """
    saturations, emissions, series = zip(*leds, strict=True)
    if all(np.array_equal(saturations[0], each) for each in saturations[1:]):
        return loop_current(supply, resistance, saturations[0], sum(emissions), sum(series))
    figures = {f"LED {place}": each for place, each in enumerate((*saturations, *emissions))}
    volts, ohms, *columns = together(supply=supply, resistance=np.add(resistance, sum(series)), **figures)
    saturation, emission = np.stack(columns[: len(leds)]), np.stack(columns[len(leds) :])
    order = np.argsort(saturation, axis=0)
    saturation, emission = (np.take_along_axis(each, order, axis=0) for each in (saturation, emission))
    with np.errstate(all="ignore"):
        return _unequal_current(volts, ohms, saturation, emission)[()]


def _loop(volts: Floats, ohms: Floats, saturation: Floats, emission: Floats) -> Floats:
    """The current of a loop, unchecked: NaN or infinity where it is beyond numbers.

    Many points are taken block by block, each small enough for the processor's cache: half the time of all at once.
    """
    given = np.broadcast_arrays(volts, ohms, saturation, emission)
    size = given[0].size
    if size > _BLOCK:
        flat = [np.ravel(each) for each in given]
        blocks = (slice(first, first + _BLOCK) for first in range(0, size, _BLOCK))
        return np.concatenate([_loop(*(each[block] for each in flat)) for block in blocks]).reshape(given[0].shape)
    with np.errstate(all="ignore"):
        return saturation * np.expm1(_exponent(volts / emission, ohms * saturation / emission))


def _exponent(drive: Floats, slope: Floats) -> Floats:
    """The junction voltage u, counted in emission voltages, of one LED in a loop: u + slope (exp(u) - 1) = drive.

    `drive` is the supply in emission voltages, `slope` the resistance in emission voltage over saturation current.
    u = y - ln(slope), y being the logarithm of Wright's omega function at z = drive + slope + ln(slope): it solves
    y + exp(y) = z. Two of Halley's steps from the lesser of z and ln z bring it to 3e-9; worked out as a logarithm
    nothing over- or underflows. (scipy's `wrightomega` takes three times as long, and its answer the same two steps
    below.) Near zero the start is the tangent there instead, which keeps a vanishing current exact. Two of Newton's
    steps on the loop's own equation take off the rest, and what was lost where a large slope cancels in z.
    """
    logarithm = np.log(slope + _LEAST)  # no resistance at all would have an infinite one; lost beside any other
    z = drive + slope + logarithm
    y = np.minimum(z, np.log(np.maximum(z, 1.0)))
    for _ in range(2):
        omega = np.exp(y)
        excess, growth = y + omega - z, 1.0 + omega
        y = y - excess * growth / (growth * growth - 0.5 * excess * omega)
    u = np.where(np.abs(drive) < _NEAR_ZERO * (1.0 + slope), drive / (1.0 + slope), y - logarithm)
    for _ in range(2):
        ratio = np.expm1(u)
        u = u - (u + slope * ratio - drive) / (1.0 + slope * (ratio + 1.0))
    return u


def _unequal_current(volts: Floats, ohms: Floats, saturation: Floats, emission: Floats) -> Floats:
    """The loop's current for LEDs along axis 0, the least saturation current first."""
    least, own = saturation[0], emission[0]
    share, rest = least / saturation[1:], (saturation[1:] - least) / saturation[1:]
    forward = volts >= 0.0
    log_share, log_rest = np.log(share), np.log(rest)
    exponent = _start(volts, ohms, saturation, emission)
    for _ in range(_MOST_STEPS):
        ratio = np.expm1(exponent)
        # The others' exponents ln(1 + I/Is): as they are when forward, and in reverse, where 1 + I/Is
        # cancels, from its two parts, (1 - share) + share exp(exponent).
        others = np.where(ratio > -0.5, np.log1p(share * ratio), np.logaddexp(log_rest, log_share + exponent))
        growth = np.exp(log_share + exponent - others)
        excess = own * exponent + (emission[1:] * others).sum(axis=0) + ohms * least * ratio - volts
        slope = own + (emission[1:] * growth).sum(axis=0) + ohms * least * (ratio + 1.0)
        step = -excess / slope
        size = np.abs(exponent)
        if (np.abs(step) <= _SETTLED * np.where(exponent < _SATURATED, size, np.minimum(size, 1.0))).all():
            return least * (ratio + (ratio + 1.0) * np.expm1(np.minimum(step, 1.0)))
        exponent = exponent + step
        # The first step may be from the left and overshoot, but not rightly past zero.
        exponent = np.where(forward, exponent, np.minimum(exponent, 0.0))
    raise RangeError(_BEYOND)


def _start(volts: Floats, ohms: Floats, saturation: Floats, emission: Floats) -> Floats:
    """The first LED's exponent to start from, each start from the closed form for one LED.

    Forward, the drop of several LEDs is never less than that of one LED with the sum of their emission
    voltages and the weighted geometric mean of their saturation currents (Jensen's inequality for the convex
    ln(1 + exp t)), nor less than that of only some of them. So each of these gives at least the true
    current, and the least of them is close. In reverse nearly all the voltage is across the first LED alone.
    """
    total = np.cumsum(emission, axis=0)
    mean = np.exp(np.cumsum(emission * np.log(saturation), axis=0) / total)
    # passes over those beyond numbers
    least = np.fmin.reduce(_loop(np.maximum(volts, 0.0), ohms, mean, total), axis=0)
    if not (least < GREATEST_CURRENT).all():
        raise RangeError(_BEYOND)
    reverse = _exponent(np.minimum(volts, 0.0) / emission[0], ohms * saturation[0] / emission[0])
    return np.where(volts >= 0.0, np.log1p(least / saturation[0]), reverse)
