"""One signal's evidence: what was seen and read, against what every fault lets one expect."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.stats import chi2

from ...physics import bayes
from .circuit import LAMPS
from .indistinguishable import classes, doubt, scaled
from .measuring_point import MeasuringPoint
from .predictions import Predictions
from .visual_check import SEEN

Floats = NDArray[np.float64]
SLIP = 0.02
"""With this share, what was noted or the catalogue itself is wrong, and the faults are as common as before."""
_FITS = 0.999
_RARELY_SEEN = 0.02
_BINS = 24
_LIKELY = 1e-3
_POSSIBLE = 1e-6
_FAR = 6.0  # standard deviations beyond a fault's own spread: nothing of it is left there


class Case:
    """Bayes' rule over the samples of all faults.

    Parameters
    ----------
    predictions: the faults and their samples
    looks: by position ("red" or "green"), those of `visual_check.SEEN` that were meant
    readings: SI values by point's name, infinite for OL
    prior: how common each fault is, with the sum 1
    """

    def __init__(
        self,
        predictions: Predictions,
        looks: Mapping[str, tuple[str, ...]],
        readings: Mapping[str, float],
        prior: Sequence[float],
    ):
        self.predictions, self.looks, self.readings = predictions, looks, readings
        self.prior = np.array(prior)
        seen, kernels = self._seen(), self._kernels()
        with np.errstate(divide="ignore"):
            log_joint = kernels.log_density + np.log(seen) + np.log(self.prior)[:, None]
        top = log_joint.max()
        known = np.repeat(self.prior[:, None], seen.shape[1], axis=1)
        self._joint = np.exp(log_joint - top) if np.isfinite(top) else known
        self._joint = self._joint / self._joint.sum()
        self._chance = self._joint.sum(axis=1)
        self.fits = bool(np.isfinite(top)) and self._explained(seen, kernels.distance)
        """Whether a likely fault comes near what was read, and shows what was seen."""

    def _seen(self) -> Floats:
        """Share with which each sample shows what was seen."""
        faults, _, _, samples = self.predictions.seen.shape
        share = np.ones((faults, samples))
        for position, said in self.looks.items():
            places = [SEEN.index(each) for each in said]
            share = share * self.predictions.seen[:, LAMPS.index(position)][:, places].sum(axis=1)
        return share

    def _kernels(self) -> bayes.Kernels:
        """The densities of all samples at the readings; faults that lie far off any reading are left out."""
        number = {name: value for name, value in self.readings.items() if np.isfinite(value)}
        points, values, meter = self.predictions.points, self.predictions.values, self.predictions.meter
        usable = np.ones((len(self.prior), self.predictions.seen.shape[-1]), bool)
        for name, value in self.readings.items():
            usable &= np.isinf(values[name]) == np.isinf(value)
        samples = [scaled(points[name], values[name]) for name in number]
        reading = np.array([scaled(points[name], value) for name, value in number.items()])
        noise = np.array([doubt(meter, points[name], value) for name, value in number.items()])
        near = _near(samples, usable, reading, noise)
        stacked = np.stack([each[near] for each in samples], axis=-1) if samples else np.empty((*usable[near].shape, 0))
        density, distance = np.full(usable.shape, -np.inf), np.full(len(usable), np.inf)
        density[near], distance[near] = bayes.kernels(stacked, usable[near], reading, noise)
        return bayes.Kernels(density, distance)

    def _explained(self, seen: Floats, distance: Floats) -> bool:
        number = sum(1 for value in self.readings.values() if np.isfinite(value))
        near = distance <= (chi2.ppf(_FITS, number) if number else np.inf)
        shows = (seen * self._joint).sum(axis=1) >= _RARELY_SEEN * self._chance
        return bool((near & shows & (self._chance > _LIKELY)).any())

    @property
    def probabilities(self) -> Floats:
        """Of each fault; a small share stays as common as before, so that nothing is ever certain."""
        return (1 - SLIP) * self._chance + SLIP * self.prior

    @property
    def groups(self) -> tuple[int, ...]:
        """The class of each fault: those still possible that nothing measured can tell apart share a number."""
        possible = np.flatnonzero(self._chance > _POSSIBLE)
        positions = [LAMPS.index(each) for each in self.looks]
        groups = np.arange(len(self.prior)) + len(self.prior)  # the impossible ones each for itself
        groups[possible] = classes(self.predictions, list(self.readings), positions, possible)
        return tuple(int(each) for each in groups)

    def gains(self) -> dict[str, float]:
        """The information in bits that each measurement not yet taken is expected to give about the fault."""
        likely = self._chance > _LIKELY
        joint = self._joint[likely] / self._joint[likely].sum()
        enough = 1.0 / (joint**2).sum()  # samples that bear the weight
        return {
            name: self._gain(point, self.predictions.values[name][likely], joint, enough)
            for name, point in self.predictions.points.items()
            if name not in self.readings
        }

    def _gain(self, point: MeasuringPoint, values: Floats, joint: Floats, enough: float) -> float:
        own = scaled(point, values)
        heavy = np.isfinite(own) & (joint > 0)
        bins = 1
        if heavy.any():
            unsure = float(np.median(doubt(self.predictions.meter, point, values[heavy])))
            bins = int(np.clip(np.ptp(own[heavy]) / (2 * unsure), 1, min(_BINS, 2 + np.sqrt(enough))))
        return bayes.information(bayes.shares_of_bins(own, joint, bins))


def _near(samples: list[Floats], usable: Any, reading: Floats, noise: Floats) -> NDArray[np.bool_]:
    """The faults with samples around every reading, or all of them where there is none."""
    near = usable.any(axis=1)
    for values, read, unsure in zip(samples, reading, noise, strict=True):
        low = np.where(usable, values, np.inf).min(axis=1) - read
        high = np.where(usable, values, -np.inf).max(axis=1) - read
        reach = _FAR * unsure + np.where(high > low, high - low, 0.0)
        near &= (low <= reach) & (high >= -reach)
    return near if near.any() else np.ones_like(near)
