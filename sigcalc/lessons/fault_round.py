"""The game of two teams of the lesson "find the fault": its rules, its rounds of five signals, and what is hidden."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from ..design.bench.diagnosis import Diagnosis, diagnose
from ..design.bench.fault import NOTHING_WRONG, Fault, weights
from ..design.bench.predictions import look_alikes
from ..design.bench.simulated import SimulatedSignal
from .find_the_fault import LEVELS, METER, candidates, quillhaven_signal

SIGNALS = 5
CLINIC = ("red LED open", "wires swapped", "short at the mast hole", "resistor open", NOTHING_WRONG)
"""The first round, from easy to hard. Each teaches a line of the lesson: a break beyond the probes has the full supply
across it; colours tell what is turned round; a short and a missing supply need a second reading; the meter bridges a
gap; and a sound signal is an answer too."""
ROUNDS = 200
START, COST, LEAST = 10, 1, 2
"""Points that a signal is worth before the first reading, what each reading takes off, and what always remains."""
SECONDS = 90
RULES = (
    f"The team that is behind begins. It measures, and each reading takes {COST} point off the {START}. It names the "
    f"fault within {SECONDS} seconds, and gets what is left. Wrong, or no idea? The other team guesses once, for half."
)
"""What is said to the room in one breath; `FINE_PRINT` is for anybody who asks."""
FINE_PRINT = (
    f"At a draw the team begins that did not begin last. Looking in both positions is free, and so is the same reading "
    f"again. At least {LEAST} points remain. The second guess has half the time. When the time is up, the team names a "
    "fault or passes."
)
_ENOUGH = 0.9  # how likely all readings together must make a fault that is hidden
_TRIES = 40


@cache
def _hidden(number: int) -> tuple[Fault, ...]:
    """The five faults of a round."""
    circuit = quillhaven_signal()
    among = {each.name: each for each in candidates(circuit, LEVELS[0])}
    if number == 1:
        return tuple(among[name] for name in CLINIC)
    alike = {name for names in look_alikes(circuit) for name in names}
    fair = [each for name, each in among.items() if name not in alike]
    random = np.random.default_rng([number, SIGNALS])
    return tuple(fair[place] for place in random.choice(len(fair), SIGNALS, replace=False, p=weights(fair)))


@cache
def _seed(fault: Fault, first: int) -> int:
    """The first seed that makes the fault grave enough to be found: a joint may be too little cold for any meter."""
    for seed in range(first, first + _TRIES):
        signal = _signal(fault, seed)
        if _found(signal, {name: signal.read(name) for name in signal.points}).probability(fault.name) > _ENOUGH:
            return seed
    return first


def _signal(fault: Fault, seed: int) -> SimulatedSignal:
    signal = SimulatedSignal(quillhaven_signal(), fault, seed, METER)
    _ = (
        signal.seen
    )  # eye and meter draw their errors one after the other: the eye comes first, then it is always the same
    return signal


def _found(signal: SimulatedSignal, readings: dict[str, str]) -> Diagnosis:
    return diagnose(signal.circuit, signal.seen, readings, METER, pairs=False)


def hidden_signal(number: int, place: int) -> SimulatedSignal:
    """A signal of a round, by the round's number and the signal's place from 1 to `SIGNALS`.

    Round 1 has the faults of `CLINIC`; another round's are drawn, the commoner the likelier, no two alike, and none
    that no meter tells from another.
    """
    fault = _hidden(number)[place - 1]
    return _signal(fault, _seed(fault, 1000 * number + 100 * place))


@dataclass(frozen=True)
class Secret:
    """A hidden fault for the presenter's paper: what is seen, and two readings, what tells most first."""

    number: int
    fault: str
    seen: dict[str, str]
    readings: dict[str, str]
    remedy: str


def secrets(number: int) -> tuple[Secret, ...]:
    """What is hidden in a round, signal by signal. For paper alone: no panel and no page of a lesson shows it."""
    return tuple(_secret(place, hidden_signal(number, place)) for place in range(1, SIGNALS + 1))


def _secret(place: int, signal: SimulatedSignal) -> Secret:
    readings: dict[str, str] = {}
    for _ in range(2):
        ahead = [each.point.name for each in _found(signal, readings).next if each.point.name not in readings]
        if ahead:
            readings[ahead[0]] = signal.read(ahead[0])
    return Secret(place, signal.fault.name, signal.seen, readings, signal.fault.remedy)


READY, FIRST, SECOND, SHOWN = "ready", "first guess", "second guess", "shown"


@dataclass(frozen=True)
class Standing:
    """Where a round is. Teams are 0 and 1; `turn` is the one that may act, or that acted last once the fault is shown.

    READY: before the clock runs. FIRST: the team that began measures and names. SECOND: the other one guesses.
    SHOWN: the fault is shown, and `won` is what the team whose turn it was has got for it.
    """

    scores: tuple[int, int] = (0, 0)
    place: int = 1
    began: int = 0
    turn: int = 0
    readings: int = 0
    phase: str = READY
    won: int = 0

    @property
    def worth(self) -> int:
        """What the right name brings now."""
        left = max(START - COST * self.readings, LEAST)
        return left // 2 if self.phase == SECOND else left

    @property
    def over(self) -> bool:
        """Whether the last fault of the round is shown."""
        return self.phase == SHOWN and self.place == SIGNALS

    @property
    def leader(self) -> int | None:
        """The team with more points; None at a draw."""
        one, other = self.scores
        return None if one == other else int(other > one)

    def started(self) -> Standing:
        """The clock runs."""
        return replace(self, phase=FIRST) if self.phase == READY else self

    def measured(self) -> Standing:
        """One more reading, by the team that began; later it costs nothing."""
        now = self.started()
        return replace(now, readings=now.readings + 1) if now.phase == FIRST else now

    def named(self, right: bool) -> Standing:
        """A team has named a fault, or has passed, which is never right."""
        if self.phase not in (FIRST, SECOND):
            return self
        if not right:
            return replace(self, phase=SHOWN) if self.phase == SECOND else self._to_the_other
        got = tuple(score + self.worth * (team == self.turn) for team, score in enumerate(self.scores))
        return replace(self, scores=got, won=self.worth, phase=SHOWN)

    @property
    def _to_the_other(self) -> Standing:
        return replace(self, phase=SECOND, turn=1 - self.turn)

    def following(self) -> Standing:
        """The next signal, which the team begins that is behind, at a draw the one that did not begin last."""
        if self.phase != SHOWN or self.over:
            return self
        begins = 1 - (self.began if self.leader is None else self.leader)
        return Standing(self.scores, self.place + 1, begins, begins, phase=FIRST)
