"""What is wrong? From what was seen and read to ranked faults, and to the measurement that would tell most."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from ...parts.meter import UNITS, as_meter
from ...units import say
from ..findings import FINE, LOOK, STOP, Finding
from .case import Case
from .circuit import LAMPS, BenchCircuit, as_bench_circuit
from .fault import NOTHING_WRONG, Fault, weights
from .measured import IF_QUESTIONED, read_measured
from .measuring_point import MeasuringPoint
from .predictions import DRAWS, SEED, predict
from .visual_check import read_seen

_WORTH = 0.02  # bits; a measurement that tells less is not proposed
_NAMED = 3
_SURE = 0.9  # of a single suspect; a look is then no longer asked for


@dataclass(frozen=True)
class Suspect:
    """A fault, or several that nothing measured so far can tell apart, the likeliest first.

    `probability` is that of all together, `shares` those of each; they hang on how common each fault is taken to be.
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


@dataclass(frozen=True)
class Diagnosis:
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
    taken = read_measured(as_bench_circuit(circuit), meter, readings)
    predictions = predict(circuit, meter, pairs, draws, seed)
    case = Case(predictions, looks, taken.values, weights(predictions.faults, priors))
    unseen = tuple(lamp for lamp in LAMPS if lamp not in looks)
    questions = taken.questions + _signs(case)
    return Diagnosis(circuit, _suspects(case), _next(case), tuple(taken.values), unseen, questions, case.fits)


def _signs(case: Case) -> tuple[str, ...]:
    """A question about each reading whose sign is all that keeps everything from fitting."""
    if case.fits:
        return ()
    known, without = case.predictions, {name: abs(value) for name, value in case.readings.items()}
    unsigned = replace(known, values={name: np.abs(values) for name, values in known.values.items()})
    likeliest = int(np.argmax(Case(unsigned, case.looks, without, case.prior).probabilities))
    turned = {
        name: -value
        for name, value in case.readings.items()
        if known.points[name].signed and value * np.median(known.values[name][likeliest]) < 0
    }
    if not turned or not Case(known, case.looks, {**case.readings, **turned}, case.prior).fits:
        return ()
    return tuple(_sign_question(known.points[name], value) for name, value in turned.items())


def _sign_question(point: MeasuringPoint, turned: float) -> str:
    asked = "Did the display show a minus sign" if turned < 0 else "Were the probes the other way round"
    unit = UNITS[point.setting]
    return (
        f"{point.name}: you read {say(-turned, unit)}. {asked}? "
        f"With {say(turned, unit).replace('-', '−')} everything you saw and read fits."
    )


def _suspects(case: Case) -> tuple[Suspect, ...]:
    chance, groups, faults = case.probabilities, case.groups, case.predictions.faults
    members: dict[int, list[int]] = {}
    for place in np.argsort(-chance, kind="stable"):
        members.setdefault(groups[place], []).append(int(place))
    suspects = [_suspect([faults[place] for place in each], chance[each]) for each in members.values()]
    return tuple(sorted(suspects, key=lambda each: -each.probability))


def _suspect(faults: list[Fault], chances: np.ndarray) -> Suspect:
    return Suspect(
        faults=tuple(each.name for each in faults),
        probability=float(chances.sum()),
        shares=tuple(float(each) for each in chances),
        cause=faults[0].cause,
        remedy=faults[0].remedy,
    )


def _next(case: Case) -> tuple[NextMeasurement, ...]:
    """Measurements worth taking, the most telling for its effort first."""
    points = case.predictions.points
    found = [
        NextMeasurement(points[name], gain, gain / points[name].effort)
        for name, gain in case.gains().items()
        if gain >= _WORTH
    ]
    return tuple(sorted(found, key=lambda each: -each.worth))


def findings(result: Diagnosis) -> tuple[Finding, ...]:
    """The diagnosis as verdicts: readings in doubt, the first suspect, and what to measure next."""
    found = [Finding(LOOK, "reading", question, IF_QUESTIONED) for question in result.questions]
    first = result.suspects[0]
    sound = result.fits and first.faults[0] == NOTHING_WRONG
    alone = len(first.faults) == 1  # else a fault that looks the same so far may be behind it
    grade = LOOK if not result.fits or (sound and not alone) else FINE if sound else STOP
    found.append(Finding(grade, "diagnosis", result.sentence, first.remedy if result.fits else ""))
    settled = result.fits and alone and first.probability > _SURE
    if result.unseen and not settled:
        where = " and ".join(f"set for {lamp}" for lamp in result.unseen)
        found.append(
            Finding(LOOK, "look", f"Nobody has looked at it {where}: that costs nothing.", "Look, and say it.")
        )
    if result.next:
        found.append(Finding(LOOK, "next measurement", f"{result.next[0].point} would tell most for its effort."))
    return tuple(found)
