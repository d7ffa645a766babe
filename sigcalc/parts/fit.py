"""An LED's parameters from points: what was measured, what had to be assumed, and how well it fits."""

from __future__ import annotations

from functools import cache
from typing import Any

import numpy as np

from ..errors import RangeError, UnknownNameError
from ..physics.diode_fit import IDEALITY_BOUNDS, ExponentialFit, fit_exponential
from ..units import Count, Resistance, TemperatureCoefficient, Voltage, kind_of, record, say
from .table import read_figures, unknown

METER_ERROR = 15e-3
"""In V: about what a cheap meter errs by at 2 V, all readings alike. Common practice, no source."""
POOR_ABOVE = METER_ERROR
"""In V: a residual beyond this is called poor."""
_ANY, _INGAN = "any", "ingan"  # rows that are no colour


@record
class Fit:
    """Where a model's parameters come from.

    `points` is how many points were given; `residual` the root mean square of measured
    minus fitted voltage, None where no points are left over to judge by; `poor` says that
    it is too large to trust, or that the ideality came out at the edge of what any diode
    has. `assumed` names the parameters that rest on an assumption,
    and `assumption` says which, with its spread. `covariance` belongs to (ln saturation current, ideality, series
    resistance), in SI; it holds what is usual for the colour as well, even where there are points enough without it.
    """

    points: int
    residual: Voltage | None
    poor: bool
    assumed: tuple[str, ...]
    assumption: str
    ideality_spread: Count
    series_resistance_spread: Resistance
    covariance: np.ndarray


def fit_points(
    voltages: np.ndarray, currents: np.ndarray, thermal_voltage: Any, colour: str | None
) -> tuple[ExponentialFit, Fit, Any]:
    """The fitted parameters in SI, their story, and the colour's usual temperature coefficient (a quantity).

    Raises RangeError for points that no LED shows, UnknownNameError for a colour without an assumption.
    """
    _check(voltages, currents)
    usual = _priors(_known(_ANY if colour is None else colour))
    solved = fit_exponential(
        voltages,
        currents,
        float(thermal_voltage),
        ideality_prior=usual["ideality"],
        series_resistance_prior=usual["series_resistance"],
    )
    residual = solved.residual
    story = Fit.of(
        points=len(voltages),
        residual=residual,
        poor=(residual is not None and residual > POOR_ABOVE) or _at_the_edge(solved.ideality),
        assumed=solved.assumed,
        assumption=_assumption(solved.assumed, usual, colour),
        ideality_spread=float(solved.spreads[1]),
        series_resistance_spread=float(solved.spreads[2]),
        covariance=solved.covariance if solved.assumed else _narrowed(solved.covariance, usual),
    )
    return solved, story, kind_of(TemperatureCoefficient).quantity(usual["temperature_coefficient"])


def _narrowed(covariance: np.ndarray, usual: dict[str, Any]) -> np.ndarray:
    """What is left of a fit's doubts once the usual ideality and series resistance count as measurements too.

    Points that lie close together tell next to nothing of the curve elsewhere; no LED is as odd as they allow.
    """
    doubts = np.diag([usual["ideality"][1], usual["series_resistance"][1]]) ** 2
    gain = covariance[:, 1:] @ np.linalg.inv(covariance[1:, 1:] + doubts)
    return covariance - gain @ covariance[1:, :]


def _at_the_edge(ideality: float) -> bool:
    return any(abs(ideality - bound) < 1e-6 for bound in IDEALITY_BOUNDS)


def usual_colour(colour: str, technology: str) -> str:
    """The row of the table of assumptions that fits a colour and chip technology best."""
    if technology == "InGaN":
        return _INGAN
    return f"{colour} {technology.lower()}" if f"{colour} {technology.lower()}" in _table() else colour


def _check(voltages: np.ndarray, currents: np.ndarray) -> None:
    if np.any(currents <= 0) or np.any(voltages <= 0):
        raise RangeError("points needs forward voltages and currents above zero; leave out points without current")
    order = np.argsort(currents, kind="stable")
    falling = (np.diff(voltages[order]) < 0) & (np.diff(currents[order]) > 0)
    if np.any(falling):
        at = order[int(np.argmax(falling)) + 1]
        raise RangeError(
            f"points: the voltage falls to {say(voltages[at], 'V')} where the current rises to "
            f"{say(currents[at], 'A')}; an LED's voltage rises with its current, so check the readings "
            "and that each stands as (voltage, current)"
        )


@cache
def _table() -> dict[str, Any]:
    return read_figures("led_priors.csv")


def _known(colour: Any) -> str:
    if not isinstance(colour, str) or colour not in _table():
        plain = [each for each in _table() if each not in (_ANY, _INGAN) and " " not in each]
        raise UnknownNameError(unknown("colour", colour, plain))
    return colour


@cache
def _priors(colour: str) -> dict[str, Any]:
    figures = _table()[colour]
    ohms, per_kelvin = kind_of(Resistance), kind_of(TemperatureCoefficient)
    return {
        "ideality": (float(figures["ideality"].value), float(figures["ideality_spread"].value)),
        "series_resistance": tuple(
            ohms.read(figures[name].text, name) for name in ("series_resistance", "series_resistance_spread")
        ),
        "temperature_coefficient": per_kelvin.read(figures["temperature_coefficient"].text, "temperature_coefficient"),
    }


def _assumption(assumed: tuple[str, ...], usual: dict[str, Any], colour: str | None) -> str:
    if not assumed:
        return ""
    said = {
        "ideality": "ideality {:g} ± {:g}".format(*usual["ideality"]),
        "series_resistance": "series resistance {:g} ± {:g} Ω".format(*usual["series_resistance"]),
    }
    of = "LEDs of any colour" if colour is None else f"{colour} LEDs"
    return f"too few points: assumed as usual for {of}: " + ", ".join(said[name] for name in assumed)
