"""Battery or adapter by cost: the evenings a battery lasts, an adapter's energy in a year, and the evening it pays.

Prices are the reader's own, in one currency; none is given here.
"""

from __future__ import annotations

import math
from typing import Annotated, Any

import numpy as np

from ...errors import RangeError, UnitError
from ...parts.source import Adapter, as_adapter
from ...units import Current, Power, Q, QuantityKind, Ratio, Time, kind_of, record, say, with_units
from ...units.reading import quoted
from ..findings import FINE, LOOK, STOP, Finding
from .run_time import RunTime

_DAY, _YEAR = 86400.0, 365.25 * 86400.0
_JOULES = 3.6e6  # in a kWh
_LEAST_TIME = 1.0  # s
_MUCH_LOST = 0.2
_SMALL, _LARGE = 49.0, 250.0  # W
_LOW_VOLTAGE, _LOW_CURRENT = 6.0, 0.55
Price = Annotated[Any, QuantityKind("plain number", "", 0.0, 1e12, "4.99", bare=True)]
Uses = Annotated[Any, QuantityKind("plain number", "", 1.0, 1e12, "500", bare=True)]
LONG = 30.0
"""Years after which an adapter that pays for itself late is not called cheaper: longer than one keeps it."""


@record
class EveningCount:
    """How many evenings a battery lasts: nominal, least and most, and how long that is.

    `lost` is the share of the battery that storage between the evenings loses, nominally.
    """

    count: float
    count_min: float
    count_max: float
    lasts: Time
    lost: Ratio
    hours_each: Time
    every: Time
    run: RunTime

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The number of evenings with its band, and what storage loses."""
        least, usual, most = (math.floor(each) for each in (self.count_min, self.count, self.count_max))
        many, days = "evening" if usual == 1 else "evenings", f"{self.si.every / _DAY:.3g} days"
        reason = f"{usual} {many} ({least} to {most}) of {say(self.si.hours_each, 's', 2)}, one in {days}."
        grade, remedy, lost = FINE, "", say(self.si.lost, "", 2)
        if least < 1:
            grade, remedy = (STOP if usual < 1 else LOOK), "Use a stronger battery or a lighter load."
            reason += f" {'It' if usual < 1 else 'The weakest'} does not last one whole evening."
        storage = f"{lost} of the battery is lost between the evenings and never lights a lamp."
        instead = "Charge before each evening, or use a battery that holds its charge."
        stored = (Finding(LOOK, "storage", storage, instead),) if self.si.lost > _MUCH_LOST else ()
        return Finding(grade, f"{self.run.battery.name} battery", reason, remedy), *stored


@with_units(scalar=True)
def evenings(run: RunTime, hours_each: Time, every: Time = "7 days") -> EveningCount:
    """The number of evenings of a run that is switched on for `hours_each`, once in `every`.

    Each evening uses s = hours_each / hours of the battery; from one to the next storage
    loses the share l of what is left. After k evenings (1 - l)^k - s (1 - (1 - l)^k) / l is
    left, which is zero at k = ln(1 + l / s) / -ln(1 - l). Raises RangeError where an
    evening is less than a second or longer than the time from one to the next.
    """
    if not isinstance(run, RunTime):
        raise UnitError(argument="run", need="what run_time gives", given=type(run).__name__)
    _check_times(hours_each, every, "a second at least")
    hours, kept = (run.si.hours_min, run.si.hours, run.si.hours_max), run.battery.discharge.kept(every / _YEAR)
    least, nominal, most = (_count(hours_each, each, 1.0 - share) for each, share in zip(hours, kept, strict=True))
    return EveningCount.of(
        count=nominal,
        count_min=least,
        count_max=most,
        lasts=nominal * every,
        lost=max(1.0 - nominal * hours_each / run.si.hours, 0.0),
        hours_each=hours_each,
        every=every,
        run=run,
    )


def _check_times(hours_each: float, every: float, least: str) -> None:
    if not _LEAST_TIME <= hours_each <= every:
        need = f"{least}, and no longer than every ({say(every, 's')})"
        raise RangeError(argument="hours_each", need=need, example="3 h", given=say(hours_each, "s"))


def _count(each: float, hours: float, loss: float) -> float:
    if hours == 0 or loss >= 1:  # storage loses all of it before the first evening
        return 0.0
    share = each / hours
    return 1.0 / share if loss < 1e-12 else math.log1p(loss / share) / -math.log1p(-loss)


def level_vi(adapter: Adapter) -> tuple[float, float]:
    """What level VI demands of an external power supply, for the power printed on it.

    The least average efficiency, a mean over a quarter to the whole of the rated load, and the most power in W that it
    may draw with nothing connected. Source: 10 CFR 430.32(w), single-voltage AC to DC, the coefficients from memory. In
    force for what was made from 10 February 2016 (legalclarity.org); older ones are worse. Raises RangeError above
    250 W.
    """
    si = as_adapter(adapter).si
    watts, low = si.voltage * si.max_current, si.voltage < _LOW_VOLTAGE and si.max_current >= _LOW_CURRENT
    if watts > _LARGE:
        raise RangeError(argument="adapter", need="at most 250 W printed on it", given=f"{say(watts, 'W')}")
    if watts > _SMALL:
        return (0.87 if low else 0.88), 0.21
    if watts <= 1.0:
        return (0.517 * watts + 0.087 if low else 0.5 * watts + 0.16), 0.1
    factor, offset = (0.0834, 0.609) if low else (0.071, 0.67)
    return factor * math.log(watts) - 0.0014 * watts + offset, 0.1


@record
class YearlyEnergy:
    """Energy that an adapter draws from the mains: while the signals are lit, and while it is only plugged in.

    `lit`, `idle` and `year` are energies in kWh for a year, `evening` in Wh from one
    evening to the next. `assumed` says that a figure of level VI was used in place of the adapter's
    own.
    """

    lit: Any
    idle: Any
    year: Any
    evening: Any
    efficiency: Ratio
    no_load_power: Power
    assumed: bool
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

    While lit it draws load / efficiency and its no-load power on top, an upper estimate:
    the efficiency is stated for larger loads. Raises RangeError for times that make no sense.
    """
    _check_times(hours_each, every, "more than 0")
    assumed = efficiency is None or no_load_power is None
    least, most = level_vi(adapter) if assumed else (efficiency, no_load_power)
    share = least if efficiency is None else efficiency
    if not share > 0:
        raise RangeError(argument="efficiency", need="more than 0", example="75 %", advice="or leave it out")
    idle_watts = most if no_load_power is None else no_load_power
    lit = (as_adapter(adapter).si.voltage * load / share + idle_watts) * hours_each
    idle = idle_watts * (every - hours_each) if plugged_in else 0.0
    times = _YEAR / every / _JOULES
    return YearlyEnergy.of(
        lit=Q(lit * times, "kWh"),
        idle=Q(idle * times, "kWh"),
        year=Q((lit + idle) * times, "kWh"),
        evening=Q((lit + idle) / 3600.0, "Wh"),
        efficiency=share,
        no_load_power=idle_watts,
        assumed=assumed,
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

    @property
    def waiting(self) -> str:
        """How long it takes until then, as people say it."""
        return _long(self.after_years)

    @property
    def sentence(self) -> str:
        """From which evening on the adapter is cheaper, and how long that is."""
        if math.isinf(self.evening):
            return "At these prices the adapter never pays for itself."
        if self.evening == 0:
            return "The adapter, which costs nothing, is cheaper from the first evening on."
        if self.after_years > LONG:
            return f"The adapter would pay for itself after {self.evening:.0f} evenings, longer than you will keep it."
        latest = f"{self.evening_max:.0f}" if math.isfinite(self.evening_max) else "never"
        return (
            f"From evening {self.evening:.0f} ({self.evening_min:.0f} to {latest}) on the adapter is cheaper, after "
            f"{self.waiting}."
        )

    @property
    def findings(self) -> tuple[Finding, ...]:
        """When the adapter pays, and what it draws while nothing is lit."""
        energy = self.energy
        lit, idle = energy.lit.m_as("kWh"), energy.idle.m_as("kWh")
        found = [Finding(FINE, "break-even", f"{self.sentence} The prices are your own.")]
        if energy.assumed and not energy.adapter.regulated:
            reason = "An unregulated adapter is likely older than the rule used here (level VI), and wastes more."
            remedy = "Measure what it draws from the socket with nothing lit."
            found.append(Finding(LOOK, "age of the adapter", reason, remedy))
        if idle > lit:
            reason = f"Plugged in all year it uses {idle:.2g} kWh with nothing lit and {lit:.2g} kWh for the signals."
            remedy = "Switch it off at the socket between the evenings."
            found.append(Finding(LOOK, "plugged in all year", reason, remedy))
        return tuple(found)


@with_units(scalar=True)
def break_even(
    energy: YearlyEnergy,
    adapter_price: Price,
    price_per_kwh: Price,
    battery_price: Price,
    evenings_each: Any,
    uses: Uses = 1,
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
        raise UnitError(argument="energy", need="what yearly_energy gives", given=type(energy).__name__)
    lasting = _three(evenings_each)
    mains = energy.evening.m_as("kWh") * price_per_kwh
    least, nominal, most = (_pays(adapter_price, battery_price / (each * uses) - mains) for each in lasting)
    return BreakEven(
        evening=nominal,
        evening_min=least,
        evening_max=most,
        adapter_per_evening=mains,
        battery_per_evening=battery_price / (lasting[1] * uses),
        after_years=nominal * energy.si.every / _YEAR,
        energy=energy,
    )


def _pays(price: float, saved: float) -> float:
    """The first evening after which the adapter has cost no more than the batteries."""
    return math.ceil(price / saved - 1e-9) if saved > 0 else math.inf


def _three(evenings_each: Any) -> list[float]:
    lasting = np.atleast_1d(kind_of(Price).read(evenings_each, "evenings_each"))
    if lasting.shape not in ((1,), (3,)) or not lasting.min() > 0 or (np.diff(lasting) < 0).any():
        need = "one number above zero, or least, nominal and most in rising order"
        raise RangeError(argument="evenings_each", need=need, given=quoted(evenings_each))
    return np.broadcast_to(lasting, 3).tolist()


def _long(years: float) -> str:
    """A time in years as people say it."""
    days = years * 365.25
    if days < 45:
        return f"{days:.0f} day{'' if round(days) == 1 else 's'}"
    return f"{days / 30.44:.0f} months" if years < 2 else f"{years:.0f} years"
