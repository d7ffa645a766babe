"""The three parameters of a diode or LED from points of its voltage and current."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray
from scipy.optimize import lsq_linear

from ..errors import RangeError
from .diode_loop import LEAST_SATURATION_CURRENT
from .domain import together, within

UNKNOWNS = 3
IDEALITY_BOUNDS = (0.5, 8.0)
"""Wide on purpose: a plain junction has 1 to 2, but an LED's other layers rectify too and add to it."""
_ROUNDS = 50
_SETTLED = 1e-12
_LN10 = float(np.log(10.0))


class Prior(NamedTuple):
    """What is assumed of a parameter before any measurement: its value and its standard deviation."""

    value: float
    spread: float


class ExponentialFit(NamedTuple):
    """A fitted exponential: parameters in SI, how well they are known, and what they hang on.

    `residual` is the root mean square of measured minus fitted voltage in V, or None where
    there are no more points than unknowns. `covariance` belongs to (ln saturation_current,
    ideality, series_resistance); the spreads are its standard deviations, the first being
    relative. A parameter held at a bound keeps the spread it would have had without it.
    `assumed` names the parameters that rest on a prior.
    """

    saturation_current: float
    ideality: float
    series_resistance: float
    residual: float | None
    saturation_current_spread: float
    ideality_spread: float
    series_resistance_spread: float
    covariance: NDArray[np.float64]
    assumed: tuple[str, ...]


def fit_exponential(
    voltage: ArrayLike,
    current: ArrayLike,
    thermal_voltage: float,
    *,
    voltage_spread: ArrayLike = 1e-3,
    ideality_prior: tuple[float, float] | None = None,
    series_resistance_prior: tuple[float, float] | None = None,
) -> ExponentialFit:
    """Least-squares parameters of V = n Vt ln(1 + I/Is) + I Rs.

    For I well above Is the model is linear in n, -n ln Is and Rs, with columns Vt ln I, Vt and I;
    the bounds n = 0.5 to 8 and Rs >= 0 are kept by `scipy.optimize.lsq_linear`. What is left
    of the "1 +" goes into the first column as ln(I + Is), a few rounds over.

    Parameters
    ----------
    voltage, current : array_like, shape (points,)
        Measured forward voltages in V and currents in A, all above zero.
    thermal_voltage : float
        kT/q in V at the junction's temperature.
    voltage_spread : array_like
        Standard deviation of the voltages in V, one for all or one each: the weights. With more
        points than unknowns a larger scatter than this widens the spreads.
    ideality_prior, series_resistance_prior : (value, spread), optional
        Used only when there are fewer than three different currents, so that plenty of points are
        never pulled towards them. What the points do not tell stays at the prior's value.

    Raises
    ------
    RangeError
        If points and priors together are fewer than three, if an argument is out of range, or if
        no exponential with a saturation current below the least of the currents fits. Points that fit
        poorly are not refused: they show in the residual, and in an ideality at its bound.
    """
    volts, amperes, sigma = _points(voltage, current, voltage_spread)
    vt = _number("thermal_voltage", thermal_voltage, 1e-4, 0.2, "V", "give kT/q, 0.02585 at 27 °C")
    priors = _priors(amperes, ideality_prior, series_resistance_prior)
    rows, targets = _prior_rows(priors)
    saturation = 0.0
    for _ in range(_ROUNDS):
        design = np.column_stack([vt * np.log(amperes + saturation), np.full_like(amperes, vt), amperes])
        matrix = np.vstack([design / sigma[:, None], rows])
        solution = _bounded(matrix, np.concatenate([volts / sigma, targets]))
        logarithm = -solution[1] / solution[0]
        if not np.log(LEAST_SATURATION_CURRENT) < logarithm < np.log(amperes.min()):
            break
        before, saturation = saturation, float(np.exp(logarithm))
        if abs(saturation - before) <= _SETTLED * saturation:
            return _result(solution, saturation, matrix, volts - design @ solution, sigma, priors)
    raise RangeError(
        f"The points do not lie on a diode's curve: the nearest has a saturation current of 1e{logarithm / _LN10:.0f} "
        "A; check that each voltage belongs to its current and that both are in V and A."
    )


def _number(name: str, value: Any, low: float, high: float, unit: str, remedy: str) -> float:
    array = within(name, value, low, high, unit, remedy)
    if array.ndim:
        raise RangeError(f"{name} must be one number; an array of shape {array.shape} came: {remedy}.")
    return float(array)


def _points(voltage: ArrayLike, current: ArrayLike, spread: ArrayLike) -> list[NDArray[np.float64]]:
    volts = within("voltage", voltage, 1e-6, 1e3, "V", "give the forward voltage of each point")
    amperes = within("current", current, 1e-15, 1e3, "A", "give the forward current of each point")
    sigma = within("voltage_spread", spread, 1e-9, 1e3, "V", "give a meter's uncertainty, such as 1e-3")
    volts, amperes, sigma = together(voltage=volts, current=amperes, voltage_spread=sigma)
    return [np.ravel(each) for each in (volts, amperes, sigma)]


def _priors(amperes: NDArray, ideality: tuple | None, series_resistance: tuple | None) -> dict[str, Prior]:
    """The priors that the points make needful, by parameter."""
    different = np.unique(amperes).size
    if different >= UNKNOWNS:
        return {}
    given = {"ideality": ideality, "series_resistance": series_resistance}
    priors = {}
    for name, pair in given.items():
        if pair is not None:
            low, high = IDEALITY_BOUNDS if name == "ideality" else (0.0, 1e6)
            if not isinstance(pair, Sequence) or len(pair) != 2:
                raise RangeError(
                    f"{name}_prior must be two numbers, value and spread; {pair!r} came: give such as (2.0, 0.4)."
                )
            value = _number(f"{name}_prior's value", pair[0], low, high, "", "give what the parameter can be")
            spread = _number(f"{name}_prior's spread", pair[1], 1e-9, 1e6, "", "give a standard deviation above zero")
            priors[name] = Prior(value, spread)
    if different < 1 or different + len(priors) < UNKNOWNS:
        raise RangeError(
            f"Three parameters need three different currents or priors; {different} different current(s) and "
            f"{len(priors)} prior(s) came: give more points, or ideality_prior and "
            "series_resistance_prior, each as (value, spread)."
        )
    return priors


def _prior_rows(priors: dict[str, Prior]) -> tuple[NDArray, NDArray]:
    """Each prior as one more measurement: of the parameter itself."""
    place = {"ideality": 0, "series_resistance": 2}
    rows = np.zeros((len(priors), UNKNOWNS))
    targets = np.zeros(len(priors))
    for row, (name, prior) in enumerate(priors.items()):
        rows[row, place[name]] = 1.0 / prior.spread
        targets[row] = prior.value / prior.spread
    return rows, targets


def _bounded(matrix: NDArray, target: NDArray) -> NDArray[np.float64]:
    """Least squares within the bounds; the columns are brought to one size, as the solver's tolerance needs."""
    size = np.linalg.norm(matrix, axis=0)
    low = np.array([IDEALITY_BOUNDS[0], -np.inf, 0.0]) * size
    high = np.array([IDEALITY_BOUNDS[1], np.inf, np.inf]) * size
    return lsq_linear(matrix / size, target, (low, high), method="bvls").x / size


def _result(solution, saturation, matrix, misfit, sigma, priors) -> ExponentialFit:
    ideality, product, series = (float(value) for value in solution)
    size = np.linalg.norm(matrix, axis=0)
    covariance = np.linalg.pinv((matrix / size).T @ (matrix / size)) / np.outer(size, size)
    freedom = 0 if priors else misfit.size - UNKNOWNS
    if freedom > 0:
        covariance = covariance * max(1.0, float(np.sum((misfit / sigma) ** 2)) / freedom)
    to_log = np.eye(UNKNOWNS)  # from (n, -n ln Is, Rs) to (ln Is, n, Rs)
    to_log[0] = [product / ideality**2, -1.0 / ideality, 0.0]
    to_log[1] = [1.0, 0.0, 0.0]
    covariance = to_log @ covariance @ to_log.T
    spreads = np.sqrt(np.diag(covariance))
    return ExponentialFit(
        saturation_current=saturation,
        ideality=ideality,
        series_resistance=series,
        residual=float(np.sqrt(np.mean(misfit**2))) if freedom > 0 else None,
        saturation_current_spread=float(spreads[0]),
        ideality_spread=float(spreads[1]),
        series_resistance_spread=float(spreads[2]),
        covariance=covariance,
        assumed=tuple(priors),
    )
