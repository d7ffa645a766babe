"""The three parameters of a diode or LED from points of its voltage and current."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from ..errors import RangeError
from .diode import LEAST_SATURATION_CURRENT
from .domain import Floats

IDEALITY_BOUNDS = (0.5, 8.0)
"""Wide on purpose: a plain junction has 1 to 2, but an LED's other layers rectify too and add to it."""
_UNKNOWNS = 3
_PLACES = {"ideality": 0, "series_resistance": 2}
_ROUNDS = 50
_SETTLED = 1e-12
Prior = tuple[float, float] | None
"""What is assumed of a parameter before any measurement: its value and its standard deviation."""


class ExponentialFit(NamedTuple):
    """A fitted exponential: parameters in SI, how well they are known, and what they depend on.

    `residual` is the root mean square of measured minus fitted voltage in V, or None where
    there are no more points than unknowns. `covariance` belongs to (ln saturation_current,
    ideality, series_resistance). A parameter held at a bound keeps the spread it would have had
    without it. `assumed` names the parameters that rest on a prior.
    """

    saturation_current: float
    ideality: float
    series_resistance: float
    residual: float | None
    covariance: NDArray[np.float64]
    assumed: tuple[str, ...]

    @property
    def spreads(self) -> NDArray[np.float64]:
        """Standard deviations of saturation current (relative), ideality and series resistance (ohm)."""
        return np.sqrt(np.diag(self.covariance))


def fit_exponential(
    voltage: ArrayLike,
    current: ArrayLike,
    thermal_voltage: float,
    *,
    voltage_spread: ArrayLike = 1e-3,
    ideality_prior: Prior = None,
    series_resistance_prior: Prior = None,
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
        If points and priors together are fewer than three, or if no exponential with a saturation current below the
        least of the currents fits. Points that fit poorly are not refused: they show in the residual, and in an
        ideality at its bound.
    """
    volts, amperes = np.asarray(voltage, float), np.asarray(current, float)
    sigma, vt = np.broadcast_to(np.asarray(voltage_spread, float), volts.shape), thermal_voltage
    priors = _needed(amperes, ideality=ideality_prior, series_resistance=series_resistance_prior)
    # each prior is one more measurement: of the parameter itself
    rows = np.zeros((len(priors), _UNKNOWNS))
    for row, (name, (_, spread)) in enumerate(priors.items()):
        rows[row, _PLACES[name]] = 1.0 / spread
    targets = np.array([value / spread for value, spread in priors.values()])
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
            return _result(solution, saturation, matrix, volts - design @ solution, sigma, tuple(priors))
    power = logarithm / np.log(10.0)
    raise RangeError(
        f"the points do not lie on a diode's curve: the nearest has a saturation current of 1e{power:.0f} A; "
        "check that each voltage belongs to its current and that both are in V and A"
    )


def _needed(amperes: Floats, **given: Prior) -> dict[str, tuple[float, float]]:
    """The priors that the points make needful, by parameter."""
    different = np.unique(amperes).size
    if different >= _UNKNOWNS:
        return {}
    priors = {name: pair for name, pair in given.items() if pair is not None}
    if different < 1 or different + len(priors) < _UNKNOWNS:
        raise RangeError(
            f"three parameters need three different currents or priors, and there are {different} different current(s) "
            f"and {len(priors)} prior(s); give more points, or ideality_prior and series_resistance_prior, each as "
            "(value, spread)"
        )
    return priors


def _bounded(matrix: Floats, target: Floats) -> Floats:
    """Least squares within the bounds; the columns are brought to one size, as the solver's tolerance needs."""
    from scipy.optimize import lsq_linear  # a third of a second to load: only where points are fitted

    size = np.linalg.norm(matrix, axis=0)
    low = np.array([IDEALITY_BOUNDS[0], -np.inf, 0.0]) * size
    high = np.array([IDEALITY_BOUNDS[1], np.inf, np.inf]) * size
    return lsq_linear(matrix / size, target, (low, high), method="bvls").x / size


def _result(
    solution: Floats, saturation: float, matrix: Floats, misfit: Floats, sigma: Floats, assumed: tuple[str, ...]
) -> ExponentialFit:
    ideality, product, series = (float(value) for value in solution)
    size = np.linalg.norm(matrix, axis=0)
    covariance = np.linalg.pinv((matrix / size).T @ (matrix / size)) / np.outer(size, size)
    freedom = 0 if assumed else misfit.size - _UNKNOWNS
    if freedom > 0:
        covariance = covariance * max(1.0, float(np.sum((misfit / sigma) ** 2)) / freedom)
    # from (n, -n ln Is, Rs) to (ln Is, n, Rs)
    to_log = np.array([[product / ideality**2, -1.0 / ideality, 0.0], [1.0, 0.0, 0.0], [0.0, 0.0, 1.0]])
    residual = float(np.sqrt(np.mean(misfit**2))) if freedom > 0 else None
    return ExponentialFit(saturation, ideality, series, residual, to_log @ covariance @ to_log.T, assumed)
