"""The door for units: text and quantities come in, SI floats go through, quantities go out.

No text ever reaches pint's own parser: it reads `20 ma` as milliyears and `9,5 V`
as 95 V, and it never returns from `9**9**9 V`. `reading` holds our short pattern and
our own table of units; `kinds` the vocabulary of checked quantities; `with_units` the
decorator for public functions; `record` the frozen records.
"""

from .kinds import (
    AmpereTurns,
    Area,
    Capacitance,
    Charge,
    ContactVoltage,
    Count,
    Current,
    FluxDensity,
    Hours,
    Length,
    LuminousIntensity,
    Power,
    QuantityKind,
    Ratio,
    RemanenceCoefficient,
    Resistance,
    ResistanceCoefficient,
    ReverseVoltage,
    Speed,
    SupplyVoltage,
    Temperature,
    TemperatureCoefficient,
    ThermalResistance,
    Time,
    Tolerance,
    Voltage,
    Wavelength,
    kind_of,
)
from .quantity import Q, registry
from .record import record
from .text import say, say_band, say_times
from .with_units import with_units
