"""Constant-current drivers made of parts: an adjustable regulator with one resistor, and current-regulator diodes."""

from __future__ import annotations

from ..errors import DesignError, RangeError
from ..units import Count, Current, Power, Q, Ratio, Resistance, Voltage, record, say, with_units
from .drive import ConstantCurrentDrive
from .table import Figures, PartsTable

_MOST_TOLERANCE = 0.5
_KNEE = 0.8  # share of the least current at which a diode's limiting voltage is stated


@record
class Regulator:
    """An adjustable regulator, which holds `reference_voltage` across the resistor from its output to its adjust pin.

    With that resistor in the lamp's current it becomes a current source. `headroom` is
    what it needs from input to output, `adjust_current` flows out of the adjust pin,
    through the lamp, and `least_load` is what any sample needs to regulate at all. A
    fixed regulator can be used in the same way, with its own voltage as the reference.
    """

    name: str
    reference_voltage: Voltage
    reference_min: Voltage
    reference_max: Voltage
    headroom: Voltage
    max_current: Current
    adjust_current: Current = "0 mA"
    least_load: Current = "0 mA"
    max_voltage: Voltage | None = None

    def __post_init__(self) -> None:
        si = self.si
        if not 0 < si.reference_min <= si.reference_voltage <= si.reference_max:
            raise RangeError(
                f"reference_voltage of {self.name} needs reference_min, reference_voltage and reference_max in rising "
                "order, above zero; see its data sheet"
            )

    @with_units(scalar=True)
    def set_by(self, resistance: Resistance, tolerance: Ratio = 0.01) -> ConstantCurrentDrive:
        """The drive with a resistor of that tolerance: reference voltage / resistance, and the adjust pin's current.

        Its drop-out is the headroom and the reference voltage together. Raises DesignError
        for more current than the regulator gives.
        """
        if not resistance > 0:
            raise RangeError(
                f'resistance needs to be above 0 ohm: it sets the current of the {self.name}; try "62 ohm"'
            )
        if tolerance > _MOST_TOLERANCE:
            raise RangeError(
                f"tolerance needs to be {say(_MOST_TOLERANCE, '')} at most, but {say(tolerance, '')} came; resistors "
                "are sold with 5 % or closer"
            )
        si = self.si
        current = si.reference_voltage / resistance + si.adjust_current
        if current > si.max_current * (1 + 1e-9):
            raise DesignError(
                f"resistance {say(resistance, 'ohm')} would set {say(current, 'A')}, more than the "
                f"{say(si.max_current, 'A')} that the {self.name} gives; use a larger resistor"
            )
        ends = (si.reference_max / (1 - tolerance), si.reference_min / (1 + tolerance))
        spread = max(abs(each / si.reference_voltage - 1) for each in ends)
        return ConstantCurrentDrive(
            current=Q(current, "A"),
            dropout=Q(si.headroom + si.reference_voltage, "V"),
            tolerance=spread,
            least_current=self.least_load,
            max_voltage=None if si.max_voltage is None else Q(min(si.max_voltage + si.reference_voltage, 60.0), "V"),
            kind=f"adjustable regulator {self.name} with {say(resistance, 'ohm')}",
        )

    @with_units(scalar=True)
    def resistance_for(self, current: Current) -> Resistance:
        """The resistor that sets a current: reference voltage / (current - the adjust pin's)."""
        if not self.si.adjust_current < current <= self.si.max_current * (1 + 1e-9):
            raise RangeError(
                f"current needs to lie above the adjust pin's {say(self.si.adjust_current, 'A')} and up to "
                f"{say(self.si.max_current, 'A')} of the {self.name}, but {say(current, 'A')} came"
            )
        return self.si.reference_voltage / (current - self.si.adjust_current)

    @with_units(scalar=True)
    def resistor_power(self, current: Current) -> Power:
        """The heat in that resistor: reference voltage times current."""
        return self.si.reference_voltage * current


@record
class CurrentDiode:
    """A current-regulator diode: a field-effect transistor in a diode's case that passes one current.

    `limiting_voltage` is the most that any sample needs across it for 80 % of its least
    current; `output_resistance` the least that it has at 25 V, where `current` is stated.
    Nearer the knee real ones are softer and pass a little less than the model says.
    """

    name: str
    current: Current
    tolerance: Ratio
    limiting_voltage: Voltage
    output_resistance: Resistance

    def __post_init__(self) -> None:
        si = self.si
        if not (si.current > 0 and si.limiting_voltage > 0 and si.output_resistance > 0 and si.tolerance < 1):
            raise RangeError(
                f"current, limiting_voltage and output_resistance of {self.name} need to be above zero and its "
                "tolerance below 100 %; see its data sheet"
            )

    @with_units(scalar=True)
    def drive(self, in_parallel: Count = 1) -> ConstantCurrentDrive:
        """The drive of one such diode, or of several side by side for more current.

        Below its knee the model is a straight line through the data sheet's point, 80 % of
        the least current at the limiting voltage.
        """
        if not (in_parallel >= 1 and in_parallel % 1 == 0):
            raise RangeError(
                f"in_parallel needs to be a whole number from 1, but {in_parallel:g} came; count the diodes"
            )
        si = self.si
        known = _KNEE * si.current * (1 - si.tolerance)
        together = f"{in_parallel:g} x " if in_parallel > 1 else ""
        return ConstantCurrentDrive(
            current=Q(si.current * in_parallel, "A"),
            dropout=Q(si.limiting_voltage * si.current / known, "V"),
            tolerance=si.tolerance,
            output_resistance=Q(si.output_resistance / in_parallel, "ohm"),
            kind=f"{together}current-regulator diode {self.name}",
        )


def _regulator(name: str, figures: Figures) -> Regulator:
    return Regulator(name=name, **{key: figure.text for key, figure in figures.items()})


def _current_diode(name: str, figures: Figures) -> CurrentDiode:
    return CurrentDiode(name=name, **{key: figure.text for key, figure in figures.items()})


regulators: PartsTable[Regulator] = PartsTable("regulator", "regulators.csv", _regulator)
current_diodes: PartsTable[CurrentDiode] = PartsTable("current-regulator diode", "current_diodes.csv", _current_diode)
