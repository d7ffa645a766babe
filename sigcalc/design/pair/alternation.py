"""May the pair be fed with AC, or turned round quickly: what both lamps get, what the eye sees, and does it flicker.

On AC each lamp lights in one half of the cycle, so both seem to be on and the signal shows no colour of its own. Turned
round quickly on DC it does the same on purpose: through one lens the two colours mix.
"""

from __future__ import annotations

from typing import Annotated, Any

import numpy as np

from ...errors import DesignError, RangeError
from ...parts.drive import ConstantCurrentDrive, Drive, as_one_drive
from ...parts.led import LIT_FROM, Exponential
from ...physics import alternation, flicker
from ...units import QuantityKind, Ratio, SupplyVoltage, say, with_units
from ..caution import caution_text
from ..findings import FINE, LOOK, STOP, Finding
from ..lamp.drive import constant_drop, loop_current
from .alternating import (
    AC,
    FLASHES_FROM,
    FLASHES_TO,
    LAMPS,
    PHASES,
    REVERSED,
    SEEN_BY_ALL_BELOW,
    Alternating,
    AlternationFrequency,
    across,
    collected,
)
from .two_lead_pair import TwoLeadPair, as_pair

# UL 1310, scope (standards catalogue of UL): a Class 2 supply gives at most 42.4 V peak of alternating current
RmsVoltage = Annotated[Any, QuantityKind("voltage (rms)", "V", 0.0, 30.0, "16 V")]
_SLOW = 50.0  # Hz; below it half a cycle, over 10 ms, warms a small LED's junction up (common practice, no source)
_FASTER = np.arange(90.0, 3001.0, 10.0)  # Hz, tried one after the other for a remedy


@with_units(scalar=True)
def on_ac(
    supply: RmsVoltage,
    drive: Drive,
    pair: TwoLeadPair,
    frequency: AlternationFrequency,
    lightly_loaded: Ratio = "33 %",
) -> Alternating:
    """The pair on AC behind its resistor.

    Parameters
    ----------
    supply: rms, as on the transformer's nameplate, up to 30 V
    drive: ResistorDrive; a constant-current driver works in one direction only
    frequency: of the supply, such as "60 Hz"
    lightly_loaded: how much more than its nameplate a transformer gives at next to no load (common practice,
        no source); only the most current rests on it

    What a half cycle does is the same at every frequency (the LED's capacitance is
    neglected). Raises DesignError for a constant-current drive, or for no resistance at all.
    """
    _check(pair, as_one_drive(drive))
    if isinstance(drive, ConstantCurrentDrive):
        raise DesignError(
            "on_ac needs a ResistorDrive: a constant-current driver works in one direction only; "
            "rectify and smooth the AC first, or use a resistor"
        )
    cycles = {}
    for lamp in LAMPS:
        least, nominal, most = (
            _half_cycle(pair, drive, lamp, supply * (1 + excess), corner)
            for corner, excess in ((-1, 0.0), (0, 0.0), (+1, lightly_loaded))
        )
        cycles[lamp] = (least.mean_current, nominal, most.mean_current)
    swing = np.sqrt(2) * supply * np.sin(2 * np.pi * np.linspace(0, 1, PHASES))
    waves = {
        lamp: _current(pair, drive, lamp, np.maximum(sign * swing, 0.0))
        for lamp, sign in zip(LAMPS, (1, -1), strict=True)
    }
    power = drive.series_resistance * sum(cycles[lamp][1].rms_current ** 2 for lamp in LAMPS)
    case = {"supply": AC, "frequency": frequency, "pair": pair, "drive": drive}
    return collected(case, cycles, waves, power)


@with_units(scalar=True)
def turned_round(
    supply: SupplyVoltage, drive: Drive, pair: TwoLeadPair, frequency: AlternationFrequency, duty: Ratio = 0.5
) -> Alternating:
    """The pair on DC that is turned round quickly, `duty` of the time with red lit and the rest with green.

    `frequency` counts whole cycles, red and green. The change-over itself takes no time
    here. Raises RangeError for a negative supply or a duty of 0 or 1 (nothing alternates),
    DesignError for no resistance at all.
    """
    if supply < 0:
        raise RangeError(
            f"supply needs to be 0 V or more, but {say(supply, 'V')} came; its direction changes all the time"
        )
    if not 0 < duty < 1:
        raise RangeError(f"duty needs to lie between 0 and 1, but {duty:g} came; at the ends nothing alternates")
    _check(pair, as_one_drive(drive))
    cycles = {}
    for lamp, share in zip(LAMPS, (duty, 1 - duty), strict=True):
        least, nominal, most = (float(_current(pair, drive, lamp, supply, corner)) for corner in (-1, 0, +1))
        lit = share if nominal > LIT_FROM else 0.0
        cycle = alternation.HalfCycle(share * nominal, np.sqrt(share) * nominal, nominal, lit)
        cycles[lamp] = (share * least, cycle, share * most)
    red = np.linspace(0, 1, PHASES) < duty
    nominal = {lamp: cycles[lamp][1] for lamp in LAMPS}
    waves = {lamp: nominal[lamp].peak_current * lit for lamp, lit in zip(LAMPS, (red, ~red), strict=True)}
    left = {lamp: supply - across(pair, lamp, nominal[lamp].peak_current) for lamp in LAMPS}
    power = sum(nominal[lamp].mean_current * left[lamp] for lamp in LAMPS)
    case = {"supply": REVERSED, "frequency": frequency, "pair": pair, "drive": drive}
    return collected(case, cycles, waves, power)


def _check(pair: TwoLeadPair, drive: Drive) -> None:
    as_pair(pair)
    for lamp in LAMPS:
        if not drive.series_resistance + pair.branch(lamp)[1] > 0:
            raise DesignError(
                f"the {lamp} lamp has no resistance in its circuit; add a resistor to see what alternation does"
            )


def _current(pair: TwoLeadPair, drive: Drive, lamp: str, voltage: Any, corner: int = 0) -> Any:
    """The lamp's current in A at a forward voltage of the supply in V, its dark neighbour's leakage neglected.

    corner: -1 for the least current (largest resistance, highest drop), +1 for the most.
    """
    string, _ = pair.branch(lamp)
    most = drive.limit * (1 + corner * drive.tolerance)
    return np.minimum(
        loop_current(voltage, _resistance(pair, drive, lamp, corner), string, spread=-float(corner)), most
    )


def _resistance(pair: TwoLeadPair, drive: Drive, lamp: str, corner: int) -> Any:
    """In ohm, shared and extra; both resistors have the drive's tolerance, the drop-out of a driver has none."""
    factor = 1 - corner * drive.tolerance
    shared = drive.series_resistance * (1 if isinstance(drive, ConstantCurrentDrive) else factor)
    return shared + pair.branch(lamp)[1] * factor


def _half_cycle(pair: TwoLeadPair, drive: Drive, lamp: str, rms: float, corner: int) -> alternation.HalfCycle:
    string, _ = pair.branch(lamp)
    if any(isinstance(each.model, Exponential) for each in string):
        return alternation.half_cycle_of(lambda volts: _current(pair, drive, lamp, volts, corner), rms)
    return alternation.half_cycle(rms, _resistance(pair, drive, lamp, corner), constant_drop(string, -float(corner)))


def findings(result: Alternating) -> list[Finding]:
    """What alternation does to the lamps, to the signal's meaning and to the eye."""
    found = [each for lamp in LAMPS for each in (_current_finding(result, lamp), _reverse_finding(result, lamp))]
    # what is dark does not flicker, and what everyone sees flash has been said
    steady = result.lit != "none" and result.si.frequency >= SEEN_BY_ALL_BELOW
    flashes = result.lit != "none" and FLASHES_FROM <= result.si.frequency <= FLASHES_TO
    found += [Finding(STOP, "flashing", caution_text("flashing lamp", "flashing"), "Use steady DC.")] if flashes else []
    return [*found, _meaning(result), *([_flicker_finding(result)] if steady else [])]


def _current_finding(result: Alternating, lamp: str) -> Finding:
    share, led, topic = result.share(lamp).si, getattr(result.pair, lamp), f"{lamp} lamp"
    rated = say(led.si.max_current, "A")
    if share.peak_current <= LIT_FROM:
        return Finding(
            STOP, topic, f"The {topic} stays dark: the supply never reaches its drop.", "Use a higher supply voltage."
        )
    if share.mean_current_max > led.si.max_current:
        reason = f"On average up to {say(share.mean_current_max, 'A')} flows through the {topic}; it stands {rated}."
        return Finding(STOP, topic, reason, "Use a larger resistor.")
    if share.peak_current > led.si.max_current and result.si.frequency < _SLOW:
        reason = (
            f"The peaks of {say(share.peak_current, 'A')} through the {topic} last so long that they count as steady "
            f"current; it stands {rated}."
        )
        return Finding(STOP, topic, reason, "Use a larger resistor.")
    if share.peak_current > led.si.max_current:
        reason = (
            f"{say(share.mean_current, 'A')} on average is within the {rated} the {topic} stands, but the peaks reach "
            f"{say(share.peak_current, 'A')}."
        )
        return Finding(LOOK, topic, reason, "Look up the peak current in its data sheet, or use a larger resistor.")
    return Finding(
        FINE,
        topic,
        f"{say(share.mean_current, 'A')} on average and {say(share.peak_current, 'A')} at the peak; it stands {rated}.",
    )


def _reverse_finding(result: Alternating, lamp: str) -> Finding:
    across, led, diode = result.share(lamp).si.reverse_voltage, getattr(result.pair, lamp), result.pair.series_diode
    rated, topic = led.si.max_reverse_voltage, f"dark {lamp} lamp"
    blocked = diode is not None and across <= diode.si.max_reverse_voltage
    reason = f"{say(across, 'V')} lies across the {topic} in reverse; the LED stands {say(rated, 'V')}."
    if across <= rated or blocked:
        return Finding(FINE, topic, reason + (" The series diode blocks it." if across > rated else ""))
    return Finding(STOP, topic, reason, "Use one shared resistor, or put a plain diode in series with each LED.")


def _meaning(result: Alternating) -> Finding:
    if result.lit != "both":
        which = "Neither lamp lights." if result.lit == "none" else f"Of the two lamps only {result.lit} lights."
        return Finding(LOOK, "colour", which, "Check the supply voltage.")
    reason = f"Both lamps light in every cycle, so the signal shows no one colour: {result.apart}."
    if result.supply == AC:
        return Finding(STOP, "colour", reason, "Use DC: rectify and smooth the AC, or use a regulated DC adapter.")
    return Finding(
        LOOK, "colour", reason, "Turn the supply round only when the signal changes, unless the mixture is wanted."
    )


def _flicker_finding(result: Alternating) -> Finding:
    words = flicker.flicker_word(result.si.frequency, 100.0)
    reason = f"Each lamp goes on and off at {say(result.si.frequency, 'Hz')}: it {words} (IEEE 1789, from memory)."
    if result.si.frequency > flicker.FUSION_FREQUENCY and flicker.flicker_low_risk_limit(result.si.frequency) >= 100:
        return Finding(FINE, "flicker", reason)
    low_risk = _FASTER[np.argmax(flicker.flicker_low_risk_limit(_FASTER) >= 100)]
    return Finding(
        LOOK,
        "flicker",
        reason,
        f"Light that goes fully on and off is low in risk from {say(low_risk, 'Hz')} on, or use steady DC.",
    )
