"""A battery's hours by hand, capacity over drain, and the same signal on one battery after the other."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from ..design.power.load import Load
from ..design.power.run_result import REACHED, RunTime
from ..design.power.run_time import run_time
from ..errors import DesignError, UnitError
from ..parts.source import Battery, as_battery
from ..physics.discharge import capacity_at
from ..units import say, say_band
from .style import NORMAL, Size
from .sums import Step, SumByHand

_DIGITS = 3


def run_by_hand(run: RunTime, size: Size = NORMAL) -> SumByHand:
    """Drain of lamp and coil, the capacity at that drain, and the hours, beside what the library finds.

    Raises UnitError for a run under a steady current, which has nothing to add up.
    """
    if not isinstance(run, RunTime) or not isinstance(run.load, Load):
        raise UnitError("run needs what run_time gives for a Load; a steady current has nothing to add up")
    steps, drain = [], 0.0
    for what, how, amps in _drains(run):
        steps.append(Step(what, how, say(amps, "A", _DIGITS)))
        drain += amps
    if len(steps) > 1:
        steps.append(Step("Together", " + ".join(each.answer for each in steps), say(drain, "A", _DIGITS)))
    drains, charges = run.battery.capacity_band(run.si.age / (365.25 * 86400.0))
    charge = float(capacity_at(np.array(drain), drains, charges[1])) / 3600.0
    how = _read_off(drains, charges[1] / 3600.0, drain)
    hours = f"{say(charge, 'Ah', _DIGITS)} ÷ {say(drain, 'A', _DIGITS)}"
    steps += [
        Step("What the battery gives at that drain", how, say(charge, "Ah", _DIGITS)),
        Step("The hours", hours, say(3600 * charge / drain, "s", 2)),
    ]
    why = run.until if run.ended_by == REACHED else run.ended_by
    sentence = (
        f"Following the sag of the battery, the library finds {_lasts(run)}: then {why}. "
        "Your hours hold down to the empty battery and with the fresh one's drain."
    )
    return SumByHand(f"Hours by hand: {run.battery.name}", tuple(steps), sentence, size)


def _drains(run: RunTime) -> list[tuple[str, str, float]]:
    """What draws from the fresh battery: what it is, how it is worked out, and how much in A, over the time."""
    load = run.load
    lamp = float(run.curve.si.current[0])
    found = [("The lamp", load.drive.kind, lamp * load.duty)]
    if load.si.standby > 0:
        found.append(("The timer board", "all the time", load.si.standby))
    if load.relay is not None and not load.relay.latching:
        volts, ohms = float(run.curve.si.voltage[0]), load.relay.si.coil_resistance
        how = f"{say(volts, 'V', _DIGITS)} ÷ {say(ohms, 'ohm', _DIGITS)}"
        found.append(("The relay's coil", how, volts / ohms * load.energised))
    return found


def _read_off(drains: np.ndarray, charges: np.ndarray, drain: float) -> str:
    """Between or beyond which published capacities (Ah) a drain lies."""
    pairs = zip(drains, charges, strict=True)
    said = [f"{say(charge, 'Ah', _DIGITS)} at {say(amps, 'A', _DIGITS)}" for amps, charge in pairs]
    if drain <= drains[0]:
        return f"as much as {said[0]}, the least published drain"
    if drain > drains[-1]:
        return f"carried on beyond {said[-1]}, the greatest published drain"
    place = int(np.searchsorted(drains, drain))
    return f"read between {said[place - 1]} and {said[place]}"


def battery_table(batteries: Iterable[Battery], load: Load, until: float = 0.1, size: Size = NORMAL) -> SumByHand:
    """How long each of the batteries runs one and the same load, and what ends it.

    A battery that cannot run it at all says so, with the reason.
    """
    steps = [_battery_row(as_battery(battery), load, until) for battery in batteries]
    return SumByHand(
        "The same signal on one battery after the other",
        tuple(steps),
        "In brackets the spread of batteries, drive and LEDs: of two batteries with the same name one may last much "
        "longer than the other.",
        size,
        ("Battery", "It ends because", "It lasts"),
    )


def _battery_row(battery: Battery, load: Load, until: float) -> Step:
    try:
        run = run_time(battery, load, until)
    except DesignError as refusal:
        return Step(battery.name, str(refusal).partition(";")[0], "does not work")  # without what to do instead
    return Step(battery.name, run.until if run.ended_by == REACHED else run.ended_by, _lasts(run))


def _lasts(run: RunTime) -> str:
    return say_band(run.si.hours_min, run.si.hours, run.si.hours_max, "s", 2)
