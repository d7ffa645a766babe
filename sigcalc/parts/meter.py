"""Hand-held meters: how far a reading may be off, and what the meter itself does to the circuit."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from ..units import Count, Current, Ratio, Resistance, Voltage, record, say
from .table import PartsTable, as_part, from_rows, need_rising

VOLTS, AC_VOLTS, AMPERES, OHMS, DIODE, WATCH = "DC volts", "AC volts", "DC milliamperes", "ohms", "diode test", "watch"
SETTINGS = (VOLTS, AC_VOLTS, AMPERES, OHMS, DIODE, WATCH)
"""What a measurement is taken with; the last is no meter, but a watch."""
UNITS = {VOLTS: "V", AC_VOLTS: "V", AMPERES: "A", OHMS: "ohm", DIODE: "V", WATCH: "s"}

_FINEST = {VOLTS: 1e-3, AC_VOLTS: 1e-3, AMPERES: 1e-5, OHMS: 0.1, DIODE: 1e-3}  # V, A, ohm: last place, smallest range
_HAND = 0.3  # s; a thumb on a stopwatch, both ends; common practice, no source
_WATCH_SHARE = 0.01  # of the time; common practice, no source
LONGEST = 600.0
"""In s: nobody waits longer for a hold to end. Common practice, no source."""


@record
class Meter:
    """A digital meter.

    Every accuracy is a share of the reading, and as many digits of the last place beside it. `input_resistance` lies
    across what is measured in volts, `shunt_resistance` in series with what is measured in amperes. In its diode test
    it is a source of `diode_open_voltage` that gives `diode_short_current` into a short. From `diode_most` and
    `ohms_most` on it shows that the range is exceeded. `reads_high` is by how much voltages and currents may read high.
    """

    name: str
    counts: Count
    input_resistance: Resistance
    volts_accuracy: Ratio
    volts_digits: Count
    amperes_accuracy: Ratio
    amperes_digits: Count
    shunt_resistance: Resistance
    ohms_accuracy: Ratio
    ohms_digits: Count
    ohms_most: Resistance
    lead_resistance: Resistance
    diode_open_voltage: Voltage
    diode_short_current: Current
    diode_accuracy: Ratio
    diode_digits: Count
    diode_most: Voltage
    reads_high: Ratio = 0.0
    note: str = ""

    def __post_init__(self) -> None:
        for name in ("counts", "input_resistance", "diode_open_voltage", "diode_short_current", "ohms_most"):
            need_rising(self, name, advice="see its manual")

    @property
    def diode_resistance(self) -> float:
        """What is in series with the open voltage of the diode test, in ohm."""
        return self.si.diode_open_voltage / self.si.diode_short_current

    def last_place(self, setting: str, value: Any) -> Any:
        """The value of the display's last place at a reading, in SI, the meter in its best range."""
        if setting == WATCH:
            return 0.1 + 0.0 * np.abs(value)
        amount = np.maximum(np.abs(value), 1e-12)
        return np.maximum(10.0 ** np.ceil(np.log10(amount / self.si.counts) - 1e-9), _FINEST[setting])

    def limit(self, setting: str, value: Any) -> Any:
        """How far a reading may be off, in SI, either way: share of the reading and digits; the watch's for a time."""
        if setting == WATCH:
            return _HAND + _WATCH_SHARE * np.abs(value)
        kind = "volts" if setting in (VOLTS, AC_VOLTS) else {AMPERES: "amperes", OHMS: "ohms", DIODE: "diode"}[setting]
        share, digits = getattr(self.si, f"{kind}_accuracy"), getattr(self.si, f"{kind}_digits")
        return share * np.abs(value) + digits * self.last_place(setting, value)

    def uncertainty(self, setting: str, value: Any) -> Any:
        """Standard uncertainty in SI, every error within the limit being as likely: the limit over the root of three.

        Source: JCGM 100:2008 (Guide to the expression of uncertainty in measurement) 4.3.7, from memory.
        """
        return self.limit(setting, value) / math.sqrt(3.0)

    def most(self, setting: str) -> float:
        """The largest value in SI that a setting shows; beyond it the display says OL."""
        return {OHMS: self.si.ohms_most, DIODE: self.si.diode_most, WATCH: LONGEST}.get(setting, math.inf)

    def shown(self, setting: str, value: float) -> str:
        """What the display says, "OL" beyond its range, to its last place."""
        if not abs(value) < self.most(setting):
            return "OL"
        if setting == OHMS and abs(value) < 1.0:
            return f"{self.displayed(setting, value):.1f} Ω"  # no hand-held meter shows thousandths of an ohm
        return say(self.displayed(setting, value), UNITS[setting], digits=4)

    def displayed(self, setting: str, value: float) -> float:
        """The same as a number in SI: to the display's last place, infinite beyond its range."""
        if not abs(value) < self.most(setting):
            return math.inf
        step = float(self.last_place(setting, value))
        return round(value / step) * step

    def shown_band(self, setting: str, least: float, most: float) -> str:
        """What the display may say from least to most: "1.62 to 2.54 V", "1.51 V to OL"; once where it is all one."""
        ends = [self.shown(setting, value) for value in (least, most)]
        if ends[0] == ends[1]:
            return ends[0]
        (number, _, unit), other = ends[0].partition(" "), ends[1].rpartition(" ")[2]
        return f"{number if unit == other else ends[0]} to {ends[1]}"


def as_meter(meter: Any) -> Meter:
    """The meter itself or by its name in `meters`; UnitError or UnknownNameError where it is none."""
    return as_part(meter, Meter, meters)


meters: PartsTable[Meter] = PartsTable("meter", "meters.csv", from_rows(Meter))
"""Kinds of meter: "hand meter", "hand meter, battery low", "pocket meter"."""
