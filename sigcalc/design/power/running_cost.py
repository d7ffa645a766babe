"""Adapter or battery: energy in a year, what plugging in costs while nothing is lit, and the evening it pays.

Prices are the reader's own, in one currency; none is given here.
"""

from __future__ import annotations

import math
from typing import Any

from ...errors import RangeError, UnitError
from ...parts.source import Adapter, as_adapter
from ...units import Current, Power, Q, Ratio, Time, record, say, with_units
from ...units.plain import is_number
from ...units.reading import quoted
from ..findings import FINE, LOOK, Finding

_YEAR = 365.25 * 86400.0
_JOULES = 3.6e6
_SMALL, _LARGE = 49.0, 250.0  # W
_LOW_VOLTAGE, _LOW_CURRENT = 6.0, 0.55
_MOST = 1e12  # of a price or a count


def level_vi_efficiency(adapter: Adapter) -> float:
    """The least average efficiency of an external power supply made under level VI, for the power printed on it.

    Source: 10 CFR 430.32(w), single-voltage AC to DC, the coefficients from memory; it is
    the mean over a quarter to the whole of the rated load. In force for what was made from
    10 February 2016 (legalclarity.org); older ones are worse. Raises RangeError above 250 W.
    """
    si = as_adapter(adapter).si
    watts = _printed(adapter)
    low = si.voltage < _LOW_VOLTAGE and si.max_current >= _LOW_CURRENT
    if watts <= 1.0:
        return 0.517 * watts + 0.087 if low else 0.5 * watts + 0.16
    if watts <= _SMALL:
        factor, offset = (0.0834, 0.609) if low else (0.071, 0.67)
        return factor * math.log(watts) - 0.0014 * watts + offset
    return 0.87 if low else 0.88


def level_vi_no_load(adapter: Adapter) -> float:
    """The most power in W that it may take with nothing connected; source as `level_vi_efficiency`."""
    return 0.1 if _printed(adapter) <= _SMALL else 0.21


def _printed(adapter: Adapter) -> float:
    watts = as_adapter(adapter).si.voltage * adapter.si.max_current
    if watts > _LARGE:
        raise RangeError(f"adapter {adapter.name} is printed with {say(watts, 'W')}; up to 250 W is known here")
    return watts


@record
class YearlyEnergy:
    """Energy that an adapter takes from the mains: while the signals are lit, and while it is only plugged in.

    `lit`, `idle` and `year` are energies in kWh for a year, `evening` in Wh from one
    evening to the next. `assumed` says that a figure of level VI stands for the adapter's
    own.
    """

    lit: Any
    idle: Any
    year: Any
    evening: Any
    efficiency: Ratio
    no_load_power: Power
    plugged_in: bool
    assumed: bool
    hours_each: Time
    every: Time
    adapter: Adapter


@with_units(scalar=True)
def yearly_energy(
    adapter: Adapter,
    load: Current,
    hours_each: Time,
    every: Time = "7 days",
    plugged_in: bool = True,
    efficiency: Ratio | None = None,
    no_load_power: Power | None = None,
) -> YearlyEnergy:
    """The energy of an adapter that is lit for `hours_each`, once in `every`.

    Parameters
    ----------
    adapter, load: the load is taken at the voltage printed on the adapter
    plugged_in: whether it stays in the socket between the evenings
    efficiency, no_load_power: of your own adapter; else what level VI demands

    While lit it takes load / efficiency and its no-load power on top, an upper estimate:
    the efficiency is stated for larger loads. Raises RangeError for times that make no sense.
    """
    as_adapter(adapter)
    if not 0 < hours_each <= every:
        raise RangeError(
            f"hours_each needs to be above 0 and no longer than every ({say(every, 's')}), but {say(hours_each, 's')} "
            'came; write for example hours_each="3 h", every="7 days"'
        )
    share = level_vi_efficiency(adapter) if efficiency is None else efficiency
    if not share > 0:
        raise RangeError('efficiency needs to be above 0; leave it out, or give for example "75 %"')
    idle_watts = level_vi_no_load(adapter) if no_load_power is None else no_load_power
    lit = (adapter.si.voltage * load / share + idle_watts) * hours_each
    idle = idle_watts * (every - hours_each) if plugged_in else 0.0
    times = _YEAR / every / _JOULES
    return YearlyEnergy.of(
        lit=Q(lit * times, "kWh"),
        idle=Q(idle * times, "kWh"),
        year=Q((lit + idle) * times, "kWh"),
        evening=Q((lit + idle) / 3600.0, "Wh"),
        efficiency=share,
        no_load_power=idle_watts,
        plugged_in=bool(plugged_in),
        assumed=efficiency is None or no_load_power is None,
        hours_each=hours_each,
        every=every,
        adapter=adapter,
    )


@record
class BreakEven:
    """From which evening on an adapter is cheaper than batteries: nominal, least and most; infinite for never.

    Costs are in the currency of the prices that were given.
    """

    evening: float
    evening_min: float
    evening_max: float
    adapter_per_evening: float
    battery_per_evening: float
    after_years: float
    energy: YearlyEnergy


def break_even(
    energy: YearlyEnergy,
    adapter_price: float,
    price_per_kwh: float,
    battery_price: float,
    evenings_each: Any,
    uses: int = 1,
) -> BreakEven:
    """The evening from which an adapter has paid for itself.

    Parameters
    ----------
    energy: what `yearly_energy` gives
    adapter_price, price_per_kwh, battery_price: your own prices, plain numbers in one currency
    evenings_each: how many evenings one battery lasts: a number, or (least, nominal, most)
    uses: how often a battery is used up: once, or for a rechargeable one as often as it is charged (its charging is
        not counted)

    Raises RangeError for a price below zero, or a battery that lasts no evening.
    """
    if not isinstance(energy, YearlyEnergy):
        raise UnitError(f"energy needs what yearly_energy gives, but {type(energy).__name__} came")
    prices = {"adapter_price": adapter_price, "price_per_kwh": price_per_kwh, "battery_price": battery_price}
    for name, value in prices.items():
        _number(name, value, 0.0)
    _number("uses", uses, 1.0)
    least, nominal, most = _three(evenings_each)
    mains = energy.evening.m_as("kWh") * price_per_kwh
    evenings = [_pays(adapter_price, battery_price / (each * uses) - mains) for each in (least, nominal, most)]
    return BreakEven(
        evening=evenings[1],
        evening_min=evenings[0],
        evening_max=evenings[2],
        adapter_per_evening=mains,
        battery_per_evening=battery_price / (nominal * uses),
        after_years=evenings[1] * energy.si.every / _YEAR,
        energy=energy,
    )


def _pays(price: float, saved: float) -> float:
    """The first evening after which the adapter has cost no more than the batteries."""
    return math.ceil(price / saved - 1e-9) if saved > 0 else math.inf


def _number(name: str, value: Any, least: float) -> float:
    if not is_number(value) or not least <= value <= _MOST:
        raise RangeError(
            f"{name} needs a plain number from {least:g} to {_MOST:g}, but {quoted(value)} came; give it bare"
        )
    return float(value)


def _three(evenings: Any) -> tuple[float, float, float]:
    values = tuple(evenings) if isinstance(evenings, list | tuple) else (evenings,) * 3
    if len(values) != 3:
        raise RangeError(f"evenings_each needs one number, or least, nominal and most, but {quoted(evenings)} came")
    least, nominal, most = (_number("evenings_each", each, 0.0) for each in values)
    if not 0 < least <= nominal <= most:
        raise RangeError(
            f"evenings_each needs to rise from above zero, but {quoted(evenings)} came; a battery that lasts no "
            "evening is no choice"
        )
    return least, nominal, most


def findings(result: BreakEven) -> list[Finding]:
    """When the adapter pays, and what it takes while nothing is lit."""
    energy = result.energy
    if math.isinf(result.evening):
        first = Finding(FINE, "break-even", "At these prices batteries stay cheaper for ever.")
    else:
        band = f"{result.evening:.0f} ({result.evening_min:.0f} to {result.evening_max:.0f})"
        first = Finding(
            FINE,
            "break-even",
            f"From evening {band} on the adapter is cheaper, after {result.after_years:.2g} years. The prices are "
            "your own.",
        )
    found = [first]
    if energy.assumed and not energy.adapter.regulated:
        reason = "An unregulated adapter is likely older than the rule taken here (level VI), and uses more for itself."
        found.append(Finding(LOOK, "age of the adapter", reason, "Measure it, or give efficiency and no_load_power."))
    if not energy.idle.m_as("kWh") > energy.lit.m_as("kWh"):
        return found
    reason = (
        f"Plugged in all year it takes {energy.idle.m_as('kWh'):.2g} kWh while nothing is lit, and "
        f"{energy.lit.m_as('kWh'):.2g} kWh for the signals."
    )
    return [*found, Finding(LOOK, "plugged in", reason, "Switch it off at the socket between the evenings.")]
