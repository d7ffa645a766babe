"""What is wrong? From what was seen and read to ranked faults, and to the measurement that would tell most."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray
from scipy.special import gammaincinv

from ...parts.meter import UNITS, as_meter
from ...physics import bayes
from ...units import say
from ...units.plain import need_made
from ...units.record import Shown
from ..findings import FINE, LOOK, STOP, Finding
from .circuit import LAMPS, BenchCircuit, Floats
from .expected import IF_QUESTIONED, read_measured
from .fault import NOTHING_WRONG, weights
from .predictions import DRAWS, SEED, Predictions, classes, doubt, predict, scaled
from .reading import MeasuringPoint
from .visual_check import SEEN, read_seen

SLIP = 0.02
"""With this share, what was noted or the catalogue itself is wrong, and the faults are as common as before."""
_FITS = 0.999
_RARELY_SEEN = 0.02
_BINS = 24
_LIKELY = 1e-3
_POSSIBLE = 1e-6
_FAR = 6.0  # standard deviations beyond a fault's own spread: nothing of it is left there
_WORTH = 0.02  # bits; a measurement that tells less is not proposed
_NAMED = 3
_SURE = 0.9  # of a single suspect; a look is then no longer asked for


class Evidence:
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
        # the quantile of chi-square; scipy.stats, which has it by name, takes half a second to load
        near = distance <= (2.0 * gammaincinv(number / 2, _FITS) if number else np.inf)
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
        enough = 1.0 / (joint**2).sum()  # samples that carry the weight
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


@dataclass(frozen=True)
class Suspect:
    """A fault, or several that nothing measured so far can tell apart, the likeliest first.

    `probability` is that of all together, `shares` those of each; they depend on how common each fault is taken to be.
    `cause` and `remedy` are the likeliest one's.
    """

    faults: tuple[str, ...]
    probability: float
    shares: tuple[float, ...]
    cause: str
    remedy: str

    @property
    def name(self) -> str:
        """The faults' names, in words; of many the likeliest."""
        named, others = self.faults[:_NAMED], len(self.faults) - _NAMED
        if others > 1:
            return f"{', '.join(named)} or one of {others} others that look the same so far"
        return " or ".join(self.faults)


@dataclass(frozen=True)
class NextMeasurement:
    """A measurement not yet taken, the information in bits that it is expected to give, and that for its effort."""

    point: MeasuringPoint
    gain: float
    worth: float


@dataclass(frozen=True, repr=False)
class Diagnosis(Shown):
    """Ranked suspects, what to measure next, and questions about readings: not used, or perhaps without their minus.

    `used` names the points whose readings were used, `unseen` the positions at which nobody has looked. `fits` is
    False where nothing in the catalogue explains what was seen and read.
    """

    circuit: BenchCircuit
    suspects: tuple[Suspect, ...]
    next: tuple[NextMeasurement, ...]
    used: tuple[str, ...]
    unseen: tuple[str, ...]
    questions: tuple[str, ...]
    fits: bool

    def __repr__(self) -> str:
        return f"Diagnosis of {self.circuit.name}: {self.sentence}"

    @property
    def sentence(self) -> str:
        """The outcome in words; never certain."""
        first = self.suspects[0]
        if not self.used and len(self.unseen) == len(LAMPS):
            return "Nothing was seen or read yet, so that anything may be wrong, or nothing."
        if not self.fits:
            return (
                "Nothing in the catalogue explains what was seen and read together. "
                f"Nearest comes: {first.name}. Measure again, one point after the other."
            )
        rest = "" if len(self.suspects) == 1 else f"; next comes {self.suspects[1].name}"
        return f"Likeliest is {first.name} ({_percent(first.probability)}){rest}."

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The diagnosis as verdicts: readings in doubt, the first suspect, and what to measure next."""
        found = [Finding(LOOK, "reading", question, IF_QUESTIONED) for question in self.questions]
        first = self.suspects[0]
        sound = self.fits and first.faults[0] == NOTHING_WRONG
        alone = len(first.faults) == 1  # else a fault that looks the same so far may be behind it
        grade = LOOK if not self.fits or (sound and not alone) else FINE if sound else STOP
        found.append(Finding(grade, "diagnosis", self.sentence, first.remedy if self.fits else ""))
        settled = self.fits and alone and first.probability > _SURE
        if self.unseen and not settled:
            where = " and ".join(f"set for {lamp}" for lamp in self.unseen)
            found.append(
                Finding(LOOK, "look", f"Nobody has looked at it {where}: that costs nothing.", "Look, and say it.")
            )
        if self.next:
            found.append(Finding(LOOK, "next measurement", f"{self.next[0].point} would tell most for its effort."))
        return tuple(found)

    def probability(self, fault: str) -> float:
        """The probability of one fault by its name; 0 for one that was not looked for."""
        named = (pair for each in self.suspects for pair in zip(each.faults, each.shares, strict=True))
        return sum(share for name, share in named if name == fault)


def _percent(probability: float) -> str:
    """A probability in words that never say that anything is certain."""
    return "over 99 %" if probability > 0.99 else f"about {round(100 * probability)} %"


def diagnose(
    circuit: BenchCircuit,
    seen: Mapping[str, str] | None = None,
    readings: Mapping[str, Any] | None = None,
    meter: Any = "hand meter",
    priors: Mapping[str, float] | None = None,
    pairs: bool = True,
    draws: int = DRAWS,
    seed: int = SEED,
) -> Diagnosis:
    """Rank the faults of a circuit by what was seen and read.

    Bayes' rule over random samples of every fault's circuit: how common the fault is, times how well its samples
    agree with the eye and the meter.

    Parameters
    ----------
    seen: what lights while the signal is set for "red" and for "green": "none", "red", "dim red", "both", ...
    readings: text or quantities by the name of a measuring point, such as {"pair, red": "1.9 V"}; "OL" beyond range
    meter: a Meter, or its name in `meters`
    priors: weights of faults by name, in place of the catalogue's
    pairs: whether two of the commonest faults at once are looked for as well
    draws, seed: how many samples of each fault, and which

    Raises UnknownNameError for a name that is none, UnitError or RangeError for priors that are none. A reading with
    a wrong unit or an impossible value is questioned in the answer, and not used.
    """
    looks, meter = read_seen(seen), as_meter(meter)
    taken = read_measured(need_made(circuit, "circuit", BenchCircuit), meter, readings)
    predictions = predict(circuit, meter, pairs, draws, seed)
    evidence = Evidence(predictions, looks, taken.values, weights(predictions.faults, priors))
    unseen = tuple(lamp for lamp in LAMPS if lamp not in looks)
    questions = taken.questions + _signs(evidence)
    return Diagnosis(
        circuit, _suspects(evidence), _next(evidence), tuple(taken.values), unseen, questions, evidence.fits
    )


def _signs(evidence: Evidence) -> tuple[str, ...]:
    """A question about each reading whose sign is all that keeps everything from fitting."""
    if evidence.fits:
        return ()
    known, without = evidence.predictions, {name: abs(value) for name, value in evidence.readings.items()}
    unsigned = replace(known, values={name: np.abs(values) for name, values in known.values.items()})
    likeliest = int(np.argmax(Evidence(unsigned, evidence.looks, without, evidence.prior).probabilities))
    turned = {
        name: -value
        for name, value in evidence.readings.items()
        if known.points[name].signed and value * np.median(known.values[name][likeliest]) < 0
    }
    if not turned or not Evidence(known, evidence.looks, {**evidence.readings, **turned}, evidence.prior).fits:
        return ()
    return tuple(_sign_question(known.points[name], value) for name, value in turned.items())


def _sign_question(point: MeasuringPoint, turned: float) -> str:
    asked = "Did the display show a minus sign" if turned < 0 else "Were the probes the other way round"
    read, right = (say(each, UNITS[point.setting]) for each in (-turned, turned))
    return f"{point.name}: you read {read}. {asked}? With {right.replace('-', '−')} everything you saw and read fits."


def _suspects(evidence: Evidence) -> tuple[Suspect, ...]:
    chance, groups, faults = evidence.probabilities, evidence.groups, evidence.predictions.faults
    members: dict[int, list[int]] = {}
    for place in np.argsort(-chance, kind="stable"):
        members.setdefault(groups[place], []).append(int(place))
    suspects = [
        Suspect(
            faults=tuple(faults[place].name for place in each),
            probability=float(chance[each].sum()),
            shares=tuple(map(float, chance[each])),
            cause=faults[each[0]].cause,
            remedy=faults[each[0]].remedy,
        )
        for each in members.values()
    ]
    return tuple(sorted(suspects, key=lambda each: -each.probability))


def _next(evidence: Evidence) -> tuple[NextMeasurement, ...]:
    """Measurements worth taking, the most telling for its effort first."""
    points = evidence.predictions.points
    found = [
        NextMeasurement(points[name], gain, gain / points[name].effort)
        for name, gain in evidence.gains().items()
        if gain >= _WORTH
    ]
    return tuple(sorted(found, key=lambda each: -each.worth))
