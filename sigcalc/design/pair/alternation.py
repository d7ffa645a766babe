"""The pair on a supply that turns round all the time: AC, or DC that is reversed quickly.

Each lamp lights while the current flows its way, so both seem to be on and the signal shows no colour of its own. A
cycle does the same at every frequency: the small capacitance of an LED, which begins to count near 100 kHz, is
neglected, and so is the dark lamp's leakage.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Annotated, Any

import numpy as np

from ...errors import DesignError, RangeError
from ...parts.drive import ConstantCurrentDrive, Drive, as_one_drive
from ...parts.led import LIT_FROM
from ...units import Current, Power, QuantityKind, Ratio, SupplyVoltage, Voltage, record, say, with_units
from ..caution import caution_text
from ..findings import FINE, LOOK, STOP, Finding, check_rating
from ..lamp.drive import SPREAD, loop_current, string_voltage
from ..tolerance import Band, over_corners
from .two_lead_pair import LAMPS, TwoLeadPair, as_pair, lit_of, reverse_finding

AC, REVERSED = "AC", "quick reversal"
FLASHES_FROM, FLASHES_TO = 3.0, 60.0
"""Hz. Between them flashing can trigger seizures (epilepsysociety.org.uk, photosensitive epilepsy)."""
SEEN_BY_ALL_BELOW = 23.7
"""Hz. The least critical flicker frequency of 19 people (open data set, from memory): below it all saw flicker."""
PHASES = 241
"""Moments of a cycle at which both currents are given."""

_LEAST = 1e-3  # ohm; a wire has more, so a current behind less would mean nothing
_SLOW = 50.0  # Hz; below it half a cycle, over 10 ms, warms a small LED's junction up (common practice, no source)
_POINTS, _WEIGHTS = np.polynomial.legendre.leggauss(64)

AlternationFrequency = Annotated[Any, QuantityKind("frequency", "Hz", 0.01, 1e5, "60 Hz")]
# UL 1310, scope (standards catalogue of UL): a Class 2 supply gives at most 42.4 V peak of alternating current
RmsVoltage = Annotated[Any, QuantityKind("voltage (rms)", "V", 0.0, 30.0, "16 V")]
_Moments = Callable[[Any, Any], tuple[Any, Any]]
"""Voltages of the supply while a lamp is forward and the share of the cycle of each, for a surplus and a drop."""


@record
class LampShare:
    """What one lamp of the pair gets, averaged over whole cycles.

    `mean_current_min` and `_max` span the resistor's tolerance, the spread of the LED and, on AC, a transformer that
    gives more than its nameplate says. `peak_current` is nominal. `reverse_voltage` is the most across this lamp's
    branch while the other lamp is lit.
    """

    mean_current: Current
    mean_current_min: Current
    mean_current_max: Current
    peak_current: Current
    reverse_voltage: Voltage


@record
class Alternation:
    """The pair on a supply that turns round all the time.

    `supply` says which, "AC" or "quick reversal". `phase` runs from 0 to 1 over one cycle, with the currents in A of
    both lamps along it in `red_wave` and `green_wave`.
    """

    supply: str
    frequency: AlternationFrequency
    red: LampShare
    green: LampShare
    drive_power: Power
    phase: Any
    red_wave: Any
    green_wave: Any
    pair: TwoLeadPair
    drive: Drive

    def share(self, lamp: str) -> LampShare:
        """What the "red" or the "green" lamp gets."""
        return getattr(self, lamp)

    @property
    def lit(self) -> str:
        """Which lamps light in the course of a cycle: "red", "green", "both" or "none"."""
        return lit_of({lamp: self.share(lamp).si.peak_current for lamp in LAMPS})

    @property
    def looks(self) -> str:
        """What the two lamps look like."""
        flashes = self.si.frequency < SEEN_BY_ALL_BELOW
        if self.lit == "none":
            return "both lamps stay dark"
        if self.lit == "both":
            return "both lamps flash in turn" if flashes else "both lamps seem to be on"
        return f"only {self.lit} lights, and it flashes" if flashes else f"only {self.lit} is on"

    @property
    def sentence(self) -> str:
        """The finding in words."""
        times = f"{say(self.si.frequency, 'Hz')} {self.supply}"
        if self.lit == "none":
            return f"On {times} both lamps stay dark: the supply never reaches their drop."
        currents = " and ".join(f"{say(self.share(lamp).si.mean_current, 'A')} through {lamp}" for lamp in LAMPS)
        return f"On {times} {self.looks}. On average {currents}."

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What alternation does to the lamps and to the signal's meaning."""
        found = []
        for lamp in LAMPS:
            found += self._current(lamp), reverse_finding(self.pair, lamp, self.share(lamp).si.reverse_voltage)
        if self.lit != "none" and FLASHES_FROM <= self.si.frequency <= FLASHES_TO:
            found.append(Finding(STOP, "flashing", caution_text("flashing lamp", "flashing"), "Use steady DC."))
        return (*found, self._meaning())

    def _current(self, lamp: str) -> Finding:
        share, led, topic = self.share(lamp).si, getattr(self.pair, lamp).si, f"{lamp} lamp"
        if share.peak_current <= LIT_FROM:
            reason = f"The {topic} stays dark: the supply never reaches its drop."
            return Finding(STOP, topic, reason, "Use a higher supply voltage.")
        what, larger = f"The average current through the {topic}", "Use a larger resistor."
        mean = check_rating(what, share.mean_current_max, led.max_current, larger, unit="A", topic=topic)
        if mean.grade != FINE or share.peak_current <= led.max_current:
            return mean
        peak = say(share.peak_current, "A")
        if self.si.frequency < _SLOW:
            steady = "last so long that they count as steady current; its limit is"
            reason = f"The peaks of {peak} through the {topic} {steady} {say(led.max_current, 'A')}."
            return Finding(STOP, topic, reason, larger)
        reason = f"{mean.reason} But the peaks reach {peak}."
        return Finding(LOOK, topic, reason, "Look up the peak current in its data sheet, or use a larger resistor.")

    def _meaning(self) -> Finding:
        if self.lit != "both":
            which = "Neither lamp lights." if self.lit == "none" else f"Of the two lamps only {self.lit} lights."
            return Finding(LOOK, "colour", which, "Check the supply voltage.")
        reason = f"Both lamps light in every cycle, so the signal shows no one colour: {self.looks}."
        if self.supply == AC:
            return Finding(STOP, "colour", reason, "Use DC: rectify and smooth the AC, or use a regulated DC adapter.")
        return Finding(LOOK, "colour", reason, "Reverse the supply only when the signal changes.")


@with_units(scalar=True)
def on_ac(
    supply: RmsVoltage,
    drive: Drive,
    pair: TwoLeadPair,
    frequency: AlternationFrequency,
    lightly_loaded: Ratio = "33 %",
) -> Alternation:
    """The pair on AC behind its resistor.

    Parameters
    ----------
    supply: rms, as on the transformer's nameplate, up to 30 V
    drive: ResistorDrive; a constant-current driver works in one direction only
    frequency: of the supply, such as "60 Hz"
    lightly_loaded: how much more than its nameplate a transformer gives at next to no load (common practice,
        no source); only the most current depends on it

    Currents are integrated over the cycle by Gauss-Legendre quadrature, on both sides of the point where the lamp
    begins to light. Raises DesignError for a constant-current drive, or for no resistance at all.
    """

    def moments(surplus: Any, drop: Any) -> tuple[Any, Any]:
        peak = np.sqrt(2) * supply * (1 + surplus)
        onset = np.arcsin(np.minimum(drop / np.maximum(peak, 1e-9), 1.0))
        starts, halves = np.stack([0 * onset, onset]), np.stack([onset, np.pi / 2 - onset]) / 2
        angles = np.concatenate(starts[..., None] + halves[..., None] * (1 + _POINTS), axis=-1)
        return peak[..., None] * np.sin(angles), np.concatenate(halves[..., None] * _WEIGHTS, axis=-1) / np.pi

    swing = np.sqrt(2) * supply * np.sin(2 * np.pi * np.linspace(0, 1, PHASES))
    waves = np.maximum(swing, 0.0), np.maximum(-swing, 0.0)
    case = {"supply": AC, "frequency": frequency, "pair": pair, "drive": drive}
    return _alternation(case, (moments, moments), waves, Band(0.0, 0.0, lightly_loaded))


@with_units(scalar=True)
def turned_round(
    supply: SupplyVoltage, drive: Drive, pair: TwoLeadPair, frequency: AlternationFrequency, duty: Ratio = 0.5
) -> Alternation:
    """The pair on DC that is reversed quickly, `duty` of the time with red lit and the rest with green.

    `frequency` counts whole cycles, red and green. The change-over itself takes no time
    here. Raises RangeError for a negative supply or a duty of 0 or 1 (nothing alternates),
    DesignError for no resistance at all.
    """
    if supply < 0:
        advice = "its direction changes all the time"
        raise RangeError(argument="supply", need="0 V or more", given=say(supply, "V"), advice=advice)
    if not 0 < duty < 1:
        need, advice = "a share between 0 and 1", "at the ends nothing alternates"
        raise RangeError(argument="duty", need=need, given=f"{duty:g}", advice=advice)
    phase = np.linspace(0, 1, PHASES)
    waves = supply * (phase < duty), supply * (phase >= duty)

    def moments(share: float) -> _Moments:
        return lambda _, drop: (np.full((*drop.shape, 1), supply), np.full((*drop.shape, 1), share))

    case = {"supply": REVERSED, "frequency": frequency, "pair": pair, "drive": drive}
    return _alternation(case, (moments(duty), moments(1 - duty)), waves, Band.exactly(0.0))


def _alternation(case: dict[str, Any], moments: Sequence[_Moments], waves: Sequence[Any], surplus: Band) -> Alternation:
    pair = as_pair(case["pair"])
    if isinstance(as_one_drive(case["drive"]), ConstantCurrentDrive):
        need, advice = "to be a ResistorDrive", "rectify and smooth the AC first, or use a resistor"
        given = "a constant-current driver, which works in one direction only"
        raise DesignError(argument="drive", need=need, given=given, advice=advice)
    lamps = [_lamp(pair, case["drive"], *each, surplus) for each in zip(LAMPS, moments, waves, strict=True)]
    red, green = (
        LampShare.of(
            mean_current=means["current"].nominal,
            mean_current_min=means["current"].least,
            mean_current_max=means["current"].most,
            peak_current=float(wave.max()),
            reverse_voltage=against,
        )
        for (means, wave, _), (_, _, against) in zip(lamps, lamps[::-1], strict=True)
    )
    return Alternation.of(
        **case,
        red=red,
        green=green,
        drive_power=sum(means["power"].nominal for means, _, _ in lamps),
        phase=np.linspace(0, 1, PHASES),
        red_wave=lamps[0][1],
        green_wave=lamps[1][1],
    )


def _lamp(
    pair: TwoLeadPair, drive: Drive, lamp: str, moments: _Moments, wave: Any, surplus: Band
) -> tuple[dict[str, Band], Any, float]:
    """Means over a cycle of one lamp's current and the drive's power, nominal current along a wave, and most voltage.

    The voltage is that across the lit lamp's whole branch, which the dark one sees in reverse.
    """
    string, extra = pair.branch(lamp)
    resistance = drive.series_resistance + extra
    if resistance < _LEAST:
        advice = "add a resistor to see what alternation does"
        raise DesignError(f"the {lamp} lamp has no resistance in its circuit; {advice}")

    def cycle(surplus: Any, more: Any, spread: Any) -> dict[str, Any]:
        volts, shares = moments(surplus, string_voltage(LIT_FROM, string, spread=spread))
        more, spread = more[..., None], spread[..., None]
        # both resistors have the drive's tolerance
        flows = loop_current(volts, resistance * (1 - more), string, spread=spread)
        rest = volts - string_voltage(flows, string, spread=spread) - flows * extra * (1 - more)
        return {name: (shares * each).sum(axis=-1) for name, each in {"current": flows, "power": flows * rest}.items()}

    tolerance = Band(-drive.tolerance, 0.0, drive.tolerance)
    means = over_corners(cycle, surplus=surplus, more=tolerance, spread=SPREAD)
    current = loop_current(wave, resistance, string)
    peak = float(current.max())  # a wave has a point on its crest
    return means, current, float(string_voltage(peak, string) + peak * extra) if peak else 0.0
