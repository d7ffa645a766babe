"""The tables of LEDs and plain diodes: typical figures of data sheets, not guaranteed for the one you bought."""

from __future__ import annotations

from ..units import Voltage, kind_of
from .fit import usual_colour
from .led import Led
from .led_model import Exponential
from .table import Figures, PartsTable

_NOTE = "typical, not guaranteed"
_OPTIONAL = (
    "max_power",
    "max_junction_temperature",
    "thermal_resistance",
    "intensity",
    "intensity_min",
    "intensity_current",
    "wavelength",
    "derate_from",
    "zero_at",
)


def _led(name: str, figures: Figures) -> Led:
    """An LED from its rows: the model goes through the typical point, the rest is assumed by colour and technology."""
    colour = figures["colour"].value
    point = (figures["forward_voltage"].text, figures["test_current"].text)
    typical, least, most = (_volts(figures["forward_voltage" + end].text) for end in ("", "_min", "_max"))
    return Led(
        name=name,
        colour=colour,
        model=Exponential.fitted(
            [point], temperature="25 degC", colour=usual_colour(colour, figures["technology"].value)
        ),
        max_current=figures["max_current"].text,
        max_reverse_voltage=figures["max_reverse_voltage"].text,
        drop_below=kind_of(Voltage).quantity(typical - least),
        drop_above=kind_of(Voltage).quantity(most - typical),
        note=_NOTE,
        **{key: figures[key].text for key in _OPTIONAL if key in figures},
    )


def _diode(name: str, figures: Figures) -> Led:
    """A plain silicon diode; it has the same model as an LED and no light."""
    model = ("saturation_current", "ideality", "series_resistance", "temperature_coefficient")
    return Led(
        name=name,
        colour="none",
        model=Exponential(**{key: figures[key].text for key in model}),
        max_current=figures["max_current"].text,
        max_reverse_voltage=figures["max_reverse_voltage"].text,
        note=_NOTE,
    )


def _volts(text: str) -> float:
    return kind_of(Voltage).read(text, "forward_voltage")


leds: PartsTable[Led] = PartsTable("LED", "leds.csv", _led)
diodes: PartsTable[Led] = PartsTable("diode", "diodes.csv", _diode)
