"""The pair on a supply that turns round all the time: what each lamp gets, and what the eye makes of both together."""

from __future__ import annotations

from typing import Annotated, Any

import numpy as np

from ...parts.drive import Drive
from ...parts.led import LIT_FROM
from ...physics import alternation, flicker
from ...units import Current, LuminousIntensity, Power, QuantityKind, Ratio, Voltage, record, say
from ..lamp.drive import string_voltage
from .two_lead_pair import TwoLeadPair

LAMPS = ("red", "green")
AC, REVERSED = "AC", "quick reversal"
FLASHES_FROM, FLASHES_TO = 3.0, 60.0
"""Hz. Between them flashing can trigger seizures (epilepsysociety.org.uk, photosensitive epilepsy)."""
SEEN_BY_ALL_BELOW = 23.7
"""Hz. The least critical flicker frequency of 19 people (open data set, from memory): below it all saw flicker."""
PHASES = 241
"""Moments of a cycle at which both currents are given."""

# above, the capacitance of an LED, which is neglected, begins to count
AlternationFrequency = Annotated[Any, QuantityKind("frequency", "Hz", 0.01, 1e5, "60 Hz")]


@record
class LampShare:
    """What one lamp of the pair gets, averaged over whole cycles.

    `mean_current_min` and `_max` span the resistor's tolerance, the spread of the LED and,
    on AC, a transformer that gives more than its nameplate says. `peak_current` is
    nominal. `reverse_voltage` is the most that lies across this lamp's branch while the
    other lamp is lit. `light` and `light_share` are None where the pair's LEDs have no
    intensity. `lit_share` is the part of the cycle with more than 10 microamperes.
    """

    lamp: str
    mean_current: Current
    mean_current_min: Current
    mean_current_max: Current
    rms_current: Current
    peak_current: Current
    lit_share: Ratio
    reverse_voltage: Voltage
    light: LuminousIntensity | None
    light_share: Ratio | None


@record
class Alternating:
    """The pair on a supply that turns round all the time.

    `supply` says which, "AC" or "quick reversal". `mixed` names the hue of both lamps seen
    as one light and `chromaticity` is its CIE 1931 (x, y); None where the LEDs have no
    intensity or wavelength. `modulation` is the depth of flicker of that one light (1 for
    on and off; each lamp by itself always goes on and off). `phase` runs from 0 to 1 over
    one cycle, with the currents in A of both lamps along it in `red_wave` and `green_wave`.
    """

    supply: str
    frequency: AlternationFrequency
    red: LampShare
    green: LampShare
    drive_power: Power
    mixed: str | None
    chromaticity: tuple[float, float] | None
    modulation: Ratio
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
        lit = [lamp for lamp in LAMPS if self.share(lamp).si.peak_current > LIT_FROM]
        return "both" if len(lit) == 2 else lit[0] if lit else "none"

    @property
    def apart(self) -> str:
        """What the two lamps look like side by side."""
        if self.lit == "none":
            return "both lamps stay dark"
        lamps = "both lamps seem to be on" if self.lit == "both" else f"only {self.lit} is on"
        if self.si.frequency < SEEN_BY_ALL_BELOW:
            return f"{lamps.replace('seem to be on', 'flash in turn')}, and everyone sees it flash"
        return f"{lamps}; each {flicker.flicker_word(self.si.frequency, 100.0)}"

    @property
    def together(self) -> str:
        """What both look like through one lens, or from afar; "" where nothing mixes."""
        if self.mixed is None or self.lit != "both":
            return ""
        if self.si.frequency < SEEN_BY_ALL_BELOW:
            return "too slow for the colours to mix"
        return f"{self.mixed}; it {flicker.flicker_word(self.si.frequency, 100.0 * self.modulation)}"

    @property
    def sentence(self) -> str:
        """The finding in words."""
        times = f"{say(self.si.frequency, 'Hz')} {self.supply}"
        if self.lit == "none":
            return f"On {times} both lamps stay dark: the supply never reaches their drop."
        currents = " and ".join(f"{say(self.share(lamp).si.mean_current, 'A')} through {lamp}" for lamp in LAMPS)
        return f"On {times} {self.apart}. On average {currents}.{self._mixture}"

    @property
    def _mixture(self) -> str:
        if not self.together:
            return ""
        slow = self.si.frequency < SEEN_BY_ALL_BELOW
        return f" It is {self.together}." if slow else f" Through one lens they look {self.together}."


def collected(case: dict[str, Any], cycles: dict[str, Any], waves: dict[str, Any], power: float) -> Alternating:
    """The result: `cycles` has for each lamp its least mean current, nominal half cycle and most mean current."""
    pair, nominal = case["pair"], {lamp: cycles[lamp][1] for lamp in LAMPS}
    light = _light(pair, [nominal[lamp].mean_current for lamp in LAMPS])
    total = sum(light.values())
    seen = _seen_as_one(pair, light) if total else None
    shares = {}
    for lamp, other in zip(LAMPS, LAMPS[::-1], strict=True):
        figures = {name: float(value) for name, value in nominal[lamp]._asdict().items()}
        shares[lamp] = LampShare.of(
            lamp=lamp,
            **figures,
            mean_current_min=float(cycles[lamp][0]),
            mean_current_max=float(cycles[lamp][2]),
            reverse_voltage=across(pair, other, float(nominal[other].peak_current)),
            light=light.get(lamp),
            light_share=light[lamp] / total if total else None,
        )
    return Alternating.of(
        **case,
        **shares,
        drive_power=float(power),
        mixed=None if seen is None else str(seen.word),
        chromaticity=None if seen is None else (float(seen.x), float(seen.y)),
        modulation=_depth(case["supply"], pair, [nominal[lamp].peak_current for lamp in LAMPS]),
        phase=np.linspace(0, 1, PHASES),
        red_wave=waves["red"],
        green_wave=waves["green"],
    )


def across(pair: TwoLeadPair, lamp: str, current: float) -> float:
    """The voltage across the lit lamp's whole branch, which the dark one sees in reverse."""
    string, extra = pair.branch(lamp)
    return float(string_voltage(current, string) + current * extra) if current else 0.0


def _light(pair: TwoLeadPair, currents: list[Any]) -> dict[str, float]:
    """Light of each lamp in cd at its current; empty where a lamp has no intensity."""
    leds = (pair.red, pair.green)
    if any(led.intensity is None for led in leds):
        return {}
    return {lamp: float(led.light_si(each)) for lamp, led, each in zip(LAMPS, leds, currents, strict=True)}


def _depth(supply: str, pair: TwoLeadPair, peaks: list[Any]) -> float:
    """Depth of flicker of both lamps seen as one: 1 on AC, which passes through zero, or without known light."""
    light = list(_light(pair, peaks).values())
    if supply == AC or not light or max(peaks) <= LIT_FROM:
        return 1.0
    return float(flicker.percent_modulation(max(light), min(light))) / 100


def _seen_as_one(pair: TwoLeadPair, light: dict[str, float]) -> alternation.SeenTogether | None:
    waves = [getattr(pair, lamp).si.wavelength for lamp in LAMPS]
    return None if None in waves else alternation.seen_together(list(light.values()), waves)
