"""How often a passing train does not get its red: a seeded study over what bought parts and running trains differ by.

Every figure is as likely in one part of its band as in another. Data sheets give no more than the ends of a band, and
most parts lie nearer its middle: the true odds are, as a rule, better.
"""

from __future__ import annotations

from typing import Annotated, Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from ...errors import DesignError
from ...parts.reed import band_of
from ...units import QuantityKind, Ratio, Time, record, say, with_units
from ...units.plain import need_whole
from ..findings import FINE, LOOK, STOP, Finding
from ..tolerance import Band, over_draws
from .train_run import Happenings, TrainRun

Spread = Annotated[Any, QuantityKind("fraction", "", 0.0, 0.99, "20 %", bare=True)]

WATCH = 0.05  # how well an on-time is set with a watch; common practice, no source
_MOST_SAMPLES = 100_000
_OFTEN = 0.01  # of all trains
_WRONG = {
    "missed": ("never see red", "Bring the magnet nearer, turn it, or run slower."),
    "short": ("see it end too soon", "Set the pot with a watch, and set a longer on-time."),
    "own_red": ("see the red they have set themselves", "Move the reed farther beyond the signal."),
    "for_good": ("leave it red for good", "Use a film capacitor, or a shorter on-time."),
}

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
    """Of many trains, the shares that do not get their red.

    Attributes
    ----------
    sample: what each of them met; happenings: what came of it
    missed: never red; short: green too soon; own_red: red before its own front; for_good: never green again
    right: none of these
    red_low, red_high: how long red lasts: a twentieth is shorter, a twentieth is longer; None where no train is given a
        red that ends
    """

    run: TrainRun
    samples: int
    sample: Sample
    happenings: Happenings
    missed: Ratio
    short: Ratio
    own_red: Ratio
    for_good: Ratio
    right: Ratio
    red_low: Time | None
    red_high: Time | None

    @property
    def sentence(self) -> str:
        """The odds in words."""
        lasts, si = "", self.si
        if self.red_low is not None:
            lasts = f" In nine of ten red lasts {say(si.red_low, 's')} to {say(si.red_high, 's')}."
        right, *wrong = (round(getattr(si, name) * self.samples) for name in ("right", *_WRONG))
        listed = ", ".join(f"{count} {what}" for count, (what, _) in zip(wrong, _WRONG.values(), strict=True))
        return f"Of {self.samples} trains with parts from all over their bands {right} get their red; {listed}.{lasts}"

    def uncertainty(self, share: float) -> float:
        """One standard error of a share that is counted among so many samples."""
        return float(np.sqrt(max(share * (1 - share), 1 / self.samples) / self.samples))

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The verdict on the odds: fine, or what most often goes wrong and what helps."""
        found = []
        for name, (what, remedy) in _WRONG.items():
            share = getattr(self.si, name)
            if share:
                give_or_take = say(self.uncertainty(share), "", 1)
                reason = f"{say(share, '', 2)} of the trains (give or take {give_or_take}) {what}."
                found.append(Finding(STOP if share > _OFTEN else LOOK, what, reason, remedy))
        if not found:
            most = 3 / self.samples  # with none seen among n, fewer than 3/n are likely: 95 %, the rule of three
            reason = f"All {self.samples} trains get their red: fewer than {say(most, '', 2)} are likely to fail."
            found.append(Finding(FINE, "odds", reason))
        return tuple(found)


@with_units
def passing_odds(
    run: TrainRun,
    samples: int = 500,
    seed: int = 1,
    gap_spread: Spread = 0.2,
    speed_spread: Spread = 0.2,
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
    samples = need_whole(samples, "samples", 1, _MOST_SAMPLES, 500)
    if run.backwards:
        raise DesignError(
            "a train that comes the other way needs no red of this signal: there are no odds to count; "
            "give one that runs through"
        )
    bands = _of_reed(run) | {
        "gap": Band.within(run.si.gap, gap_spread, "m"),
        "speed": Band.within(run.si.speed, speed_spread, "m/s"),
    }
    bands |= {"set_with_watch": Band.within(run.hold, WATCH, "s")} if watch else _of_timer(run)

    def of_draws(reed: Any, bridge: Array, remanence: Array, gap: Array, speed: Array, **timer: Array) -> Sample:
        times = np.exp(bridge) * run.magnet.si.remanence / remanence
        hold = timer["set_with_watch"] if watch else run.circuit.on_time(run.si.supply, run.si.turn, **timer)
        return Sample(reed[0] * times, reed[1] * times, gap, speed, hold)

    sample = over_draws(of_draws, seed, samples, **bands)
    case = run.happenings(*sample[:2], sample.hold, sample.gap, sample.speed)
    wrong = {name: getattr(case, name) for name in _WRONG}
    wrong["short"] = case.short & ~case.for_good
    lasts = (case.red.first_end - case.red.first)[~case.missed & ~case.for_good]
    low, high = np.quantile(lasts, (0.05, 0.95)) if len(lasts) else (None, None)
    return PassingOdds.of(
        run=run,
        samples=samples,
        sample=sample,
        happenings=case,
        **{name: float(each.mean()) for name, each in wrong.items()},
        right=float((~np.any(list(wrong.values()), axis=0)).mean()),
        red_low=low,
        red_high=high,
    )


def _of_reed(run: TrainRun) -> dict[str, Any]:
    """A reed that closes early opens late as well: its two levels go together. The bridge counts by its logarithm."""
    reeds = band_of(run.reed)
    pull_in, release, bridge = zip(
        *((each.si.pull_in, each.si.release, np.log(each.at_magnet[0] / each.si.pull_in)) for each in reeds),
        strict=True,
    )
    return {
        "reed": (Band(*pull_in, "T"), Band(*release, "T")),
        "bridge": Band(*bridge),
        "remanence": Band(*run.magnet.remanence_band, "T"),
    }


def _of_timer(run: TrainRun) -> dict[str, Any]:
    """Every part of the timer, and whatever leaks: from nothing to the most, not nothing as a rule."""
    bands = run.circuit.bands(run.si.supply)
    for name in ("leak", "drawn"):
        least, most = bands[name].least, bands[name].most
        bands[name] = Band(least, (least + most) / 2, most)
    return bands
