"""Evenings instead of hours: how many a battery lasts when it is lit a few hours at a time and loses charge between."""

from __future__ import annotations

import math

from ...errors import RangeError, UnitError
from ...units import Ratio, Time, record, say, with_units
from ..findings import FINE, LOOK, STOP, Finding
from .run_result import RunTime

_DAY, _YEAR = 86400.0, 365.25 * 86400.0
_LEAST = 1.0  # s
_MUCH_LOST = 0.2


@record
class Evenings:
    """How many evenings a battery lasts: nominal, least and most, and how long that is.

    `lost` is the share of the battery that storage between the evenings takes, nominally.
    """

    count: float
    count_min: float
    count_max: float
    lasts: Time
    lost: Ratio
    hours_each: Time
    every: Time
    run: RunTime


@with_units(scalar=True)
def evenings(run: RunTime, hours_each: Time, every: Time = "7 days") -> Evenings:
    """The number of evenings of a run that is switched on for `hours_each`, once in `every`.

    Each evening takes s = hours_each / hours of the battery; from one to the next storage
    takes the share l of what is left. After k evenings (1 - l)^k - s (1 - (1 - l)^k) / l is
    left, which is nought at k = ln(1 + l / s) / -ln(1 - l). Raises RangeError where an
    evening is less than a second or longer than the time from one to the next.
    """
    if not isinstance(run, RunTime):
        raise UnitError(f"run needs what run_time gives, but {type(run).__name__} came")
    if not _LEAST <= hours_each <= every:
        raise RangeError(
            f"hours_each needs to be a second at least and no longer than every ({say(every, 's')}), but "
            f'{say(hours_each, "s")} came; write for example hours_each="3 h", every="7 days"'
        )
    si, years = run.si, every / _YEAR
    kept = run.battery.discharge.kept(years)  # least, nominal, most
    least, nominal, most = (
        _count(hours_each, hours, 1.0 - share)
        for hours, share in zip((si.hours_min, si.hours, si.hours_max), kept, strict=True)
    )
    return Evenings.of(
        count=nominal,
        count_min=least,
        count_max=most,
        lasts=nominal * every,
        lost=max(1.0 - nominal * hours_each / si.hours, 0.0),
        hours_each=hours_each,
        every=every,
        run=run,
    )


def _count(each: float, hours: float, loss: float) -> float:
    if hours == 0 or loss >= 1:  # storage takes all of it before the first evening
        return 0.0
    share = each / hours
    return 1.0 / share if loss < 1e-12 else math.log1p(loss / share) / -math.log1p(-loss)


def findings(result: Evenings) -> list[Finding]:
    """The number of evenings with its band, and what storage takes."""
    if not isinstance(result, Evenings):
        raise UnitError(f"result needs what evenings gives, but {type(result).__name__} came")
    least, usual, most = (math.floor(each) for each in (result.count_min, result.count, result.count_max))
    many = "evening" if usual == 1 else "evenings"
    said = f"{usual} {many} ({least} to {most}) of {say(result.si.hours_each, 's', 2)}"
    days, remedy = result.si.every / _DAY, ""
    reason, grade = f"{said}, one in {days:.3g} days.", FINE
    if least < 1:
        grade, remedy = (STOP if usual < 1 else LOOK), "Use a stronger battery or a lighter load."
        reason += f" {'It' if usual < 1 else 'The weakest'} does not last one whole evening."
    found = [Finding(grade, f"{result.run.battery.name} battery", reason, remedy)]
    if result.si.lost > _MUCH_LOST:
        reason = f"{say(result.si.lost, '', 2)} of the battery is lost between the evenings and never lights a lamp."
        found.append(Finding(LOOK, "storage", reason, "Charge before each evening, or take a battery that keeps."))
    return found
