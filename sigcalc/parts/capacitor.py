"""Capacitors for timing: what the kinds do to a hold (tolerance, leakage, polarity)."""

from __future__ import annotations

from typing import Annotated, Any

from ..units import Current, QuantityKind, Ratio, Time, Tolerance, record, say
from .table import PartsTable, from_rows, need_rising

# capacitors for 63 V and more are sold for any supply: the 60 V of other voltages would shut them out
RatedVoltage = Annotated[Any, QuantityKind("rated voltage", "V", 1.0, 1e3, "16 V")]
PrintedCapacitance = Annotated[Any, QuantityKind("capacitance", "F", 1e-12, 1.0, "100 µF")]


@record
class CapacitorKind:
    """How capacitors of one kind differ from what is printed on them.

    `tolerance_below` and `tolerance_above` bound the capacitance. At most capacitance times rated
    voltage over `leakage_time` leaks, or `least_leakage` where that is more; data sheets give this
    after two minutes on the rated voltage. In the first seconds after a long rest more may leak.
    """

    name: str
    tolerance_below: Tolerance
    tolerance_above: Ratio
    leakage_time: Time
    least_leakage: Current
    polarised: bool

    def __post_init__(self) -> None:
        need_rising(self, "leakage_time")


@record
class Capacitor:
    """One capacitor: its kind, what is printed on it, and a tolerance of its own where one is printed.

    `kind` is a name in `capacitor_kinds` or a record.
    """

    kind: CapacitorKind
    capacitance: PrintedCapacitance
    rated_voltage: RatedVoltage
    tolerance_below: Tolerance | None = None
    tolerance_above: Ratio | None = None

    def __post_init__(self) -> None:
        if not isinstance(self.kind, CapacitorKind):
            object.__setattr__(self, "kind", capacitor_kinds[self.kind])

    @property
    def name(self) -> str:
        """Capacitance, voltage and kind in words."""
        return f"{say(self.si.capacitance, 'F')} {say(self.si.rated_voltage, 'V')} {self.kind.name} capacitor"

    @property
    def corners(self) -> tuple[float, float, float]:
        """Least, nominal and most capacitance in F."""
        own = (self.si.tolerance_below, self.si.tolerance_above)
        usual = (self.kind.si.tolerance_below, self.kind.si.tolerance_above)
        below, above = (kind if given is None else given for given, kind in zip(own, usual, strict=True))
        return self.si.capacitance * (1 - below), self.si.capacitance, self.si.capacitance * (1 + above)

    @property
    def most_leakage(self) -> float:
        """The most that may leak, in A, at the rated voltage; the true leak is somewhere below."""
        charge = self.si.capacitance * self.si.rated_voltage
        return max(charge / self.kind.si.leakage_time, self.kind.si.least_leakage)

    @property
    def leakage_resistance(self) -> float:
        """The same as a resistance in ohm beside the capacitor.

        Below the rated voltage the leak falls at least in proportion (common practice, no source).
        """
        return self.si.rated_voltage / self.most_leakage


capacitor_kinds: PartsTable[CapacitorKind] = PartsTable("capacitor", "capacitors.csv", from_rows(CapacitorKind))
