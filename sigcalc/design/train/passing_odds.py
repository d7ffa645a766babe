"""How often a passing train is not given its red: a seeded study over what bought parts and running trains differ by.

Every figure is taken as equally likely all over its band. Data sheets give no more than the ends of a band, and most
parts lie nearer its middle: the true odds are, as a rule, better.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from ...errors import DesignError, RangeError
from ...parts.reed import band_of
from ...units import Ratio, Time, record, say, with_units
from ..findings import FINE, LOOK, STOP, Finding
from .train_run import Happenings, TrainRun

WATCH = 0.05  # how well a hold is set with a watch; common practice, no source
_MOST_SAMPLES = 100_000
_OFTEN = 0.01  # of all trains

Array = NDArray[np.float64]


class Sample(NamedTuple):
    """What each train of the study met: flat arrays in SI units."""

    pull_in: Array
    release: Array
    gap: Array
    speed: Array
    hold: Array


@record
class PassingOdds:
    """Of many trains, the shares that are not given their red.

    Attributes
    ----------
    sample: what each of them met; happenings: what came of it
    missed: never red; short: green too soon; own_red: red before its own front; for_good: never green again
    right: none of these
    red_low, red_middle, red_high: how long red lasts: a twentieth is shorter, half is, a twentieth is longer; None
        where no train is given a red that ends
    """

    run: TrainRun
    samples: int
    seed: int
    watch: bool
    sample: Sample
    happenings: Happenings
    missed: Ratio
    short: Ratio
    own_red: Ratio
    for_good: Ratio
    right: Ratio
    red_low: Time | None
    red_middle: Time | None
    red_high: Time | None

    @property
    def sentence(self) -> str:
        """The odds in words."""
        lasts = ""
        if self.red_middle is not None:
            si = self.si
            lasts = f" In nine of ten red lasts {say(si.red_low, 's')} to {say(si.red_high, 's')}."
        return (
            f"Of {self.samples} trains with parts from all over their bands {self._count('right')} are given their "
            f"red; {self._count('missed')} never see it, for {self._count('short')} it ends too soon, "
            f"{self._count('own_red')} see their own and {self._count('for_good')} leave it red for good.{lasts}"
        )

    def _count(self, name: str) -> int:
        return round(getattr(self.si, name) * self.samples)

    def uncertainty(self, share: float) -> float:
        """One standard error of a share that is counted among so many samples."""
        return float(np.sqrt(max(share * (1 - share), 1 / self.samples) / self.samples))


@with_units
def passing_odds(
    run: TrainRun,
    samples: int = 500,
    seed: int = 1,
    gap_spread: Ratio = 0.2,
    speed_spread: Ratio = 0.2,
    watch: bool = False,
) -> PassingOdds:
    """Let many trains pass, each with its own reed, magnet, gap, timer and speed.

    Parameters
    ----------
    run: the nominal train and what is built
    samples, seed: how many, and the seed of the random numbers; the same seed gives the same trains
    gap_spread, speed_spread: how far gap and speed lie from nominal at most, up and down, as a fraction below 1
    watch: whether the pot was set with a watch for the parts at hand, or by its scale

    The reed's band and that of the bridge from ampere-turns to a magnet's field, the magnet's remanence, and the band
    of every part of the timer count as well. Raises RangeError for too many samples or a spread of 1 and more,
    DesignError for a train that comes the other way.
    """
    if isinstance(samples, bool) or not isinstance(samples, int) or not 1 <= samples <= _MOST_SAMPLES:
        raise RangeError(f"samples needs a whole number from 1 to {_MOST_SAMPLES}, but {samples!r} came; try 500")
    if max(np.max(gap_spread), np.max(speed_spread)) >= 1:
        raise RangeError('gap_spread and speed_spread need to be below 100 %; write for example "20 %"')
    if run.backwards:
        raise DesignError(
            "a train that comes the other way needs no red of this signal: there are no odds to count; "
            "take one that runs through"
        )
    random = np.random.default_rng(seed)
    sample = _sample(run, random, samples, float(gap_spread), float(speed_spread), watch)
    case = run.happenings(sample.pull_in, sample.release, sample.hold, sample.gap, sample.speed)
    short = case.short & ~case.for_good
    lasts = (case.red.first_end - case.red.first)[~case.missed & ~case.for_good]
    low, middle, high = np.quantile(lasts, (0.05, 0.5, 0.95)) if len(lasts) else (None,) * 3
    return PassingOdds.of(
        run=run,
        samples=samples,
        seed=seed,
        watch=watch,
        sample=sample,
        happenings=case,
        missed=float(case.missed.mean()),
        short=float(short.mean()),
        own_red=float(case.own_red.mean()),
        for_good=float(case.for_good.mean()),
        right=float((~(case.missed | short | case.own_red | case.for_good)).mean()),
        red_low=low,
        red_middle=middle,
        red_high=high,
    )


def _sample(
    run: TrainRun, random: np.random.Generator, count: int, gap_spread: float, speed_spread: float, watch: bool
) -> Sample:
    band = band_of(run.reed)
    least, _, most = (np.array([each.si.pull_in, each.si.release]) for each in band)
    hardest, _, easiest = (each.at_magnet[0] / each.si.pull_in for each in band)
    sensitive = random.uniform(size=count)[:, np.newaxis]  # a reed that closes early opens late as well
    low, nominal, high = run.magnet.remanence_band
    weakening = nominal / random.uniform(low, high, count)
    bridge = easiest * (hardest / easiest) ** random.uniform(size=count)
    levels = (least + sensitive * (most - least)) * (weakening * bridge)[:, np.newaxis]
    around = random.uniform(-1, 1, (2, count))
    hold = run.hold * (1 + WATCH * random.uniform(-1, 1, count)) if watch else _holds(run, random, count)
    return Sample(
        pull_in=levels[:, 0],
        release=levels[:, 1],
        gap=run.si.gap * (1 + gap_spread * around[0]),
        speed=run.si.speed * (1 + speed_spread * around[1]),
        hold=hold,
    )


def _holds(run: TrainRun, random: np.random.Generator, count: int) -> Array:
    """The hold of each timer built from parts of its bands, the pot at the run's turn by its scale."""
    circuit, supply = run.circuit, run.si.supply
    si, timer = circuit.si, circuit.timer

    def within(least: Any, most: Any) -> Array:
        return random.uniform(least, most, count)

    pot = si.pot * within(1 - si.pot_tolerance, 1 + si.pot_tolerance)
    end_resistor = si.end_resistor * within(1 - si.end_tolerance, 1 + si.end_tolerance)
    least, _, most = circuit.capacitor.corners
    capacitance = within(least, most)
    least, _, most = timer.trips(supply)
    trip = within(least, most)
    leak, input_current = within(0, 1), timer.si.input_current * within(0, 1)
    held = timer.seconds(
        supply,
        end_resistor + run.si.turn * pot,
        capacitance,
        trip,
        circuit.capacitor.leakage_resistance / leak,
        input_current,
    )
    return held * within(1 - timer.si.spread, 1 + timer.si.spread)


def findings(result: PassingOdds) -> tuple[Finding, ...]:
    """The verdict on the odds: fine, or what most often goes wrong and what helps."""
    si = result.si
    words = {
        "missed": ("never see red", "Bring the magnet nearer, turn it, or run slower."),
        "short": ("see it end too soon", "Set the pot with a watch, and hold longer."),
        "own_red": ("see their own red", "Move the reed farther beyond the signal."),
        "for_good": ("leave it red for good", "Take a film capacitor, or a shorter hold."),
    }
    found = []
    for name, (what, remedy) in words.items():
        share = getattr(si, name)
        if share:
            reason = f"{say(share, '', 2)} of the trains (give or take {say(result.uncertainty(share), '', 1)}) {what}."
            found.append(Finding(STOP if share > _OFTEN else LOOK, what, reason, remedy))
    if not found:
        most = 3 / result.samples  # with none seen among n, fewer than 3/n are likely: 95 %, the rule of three
        reason = f"All {result.samples} trains are given their red: fewer than {say(most, '', 2)} are likely to fail."
        found.append(Finding(FINE, "odds", reason))
    return tuple(found)
