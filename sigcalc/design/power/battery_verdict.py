"""What a battery's run has to say: how sure it is, how the light goes, what uses the charge, where the relay stops.

`findings` takes what `run_time` gives, and `practice` what `in_practice` gives.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ...errors import UnitError
from ...parts.drive import ConstantCurrentDrive
from ...physics.discharge import peukert_exponent
from ...units import Time, say, say_band, with_units
from ..findings import FINE, LOOK, STOP, Finding
from .battery_run import NOMINAL
from .load import Load
from .run_result import EMPTY, REACHED, RELAY, TIMER, RunTime

USUAL_EVENING = "3 h"

_STANDBY_MUCH = 0.3  # of the charge: more than this for anything but the lamp is worth a word
_STEADY = 0.999


@with_units(scalar=True)
def findings(run: RunTime, evening: Time = USUAL_EVENING) -> list[Finding]:
    """The findings on one run, the most telling first; even the weakest battery is to last one `evening`."""
    if not isinstance(run, RunTime):
        raise UnitError(f"run needs what run_time gives, but {type(run).__name__} came")
    found = [_band(run, evening), _end(run)]
    if isinstance(run.load, Load):
        found += [_light(run), _drop_out(run), _regulator(run), _shares(run), *_board(run)]
    return [each for each in (*found, _drain(run), _capacity(run), _memory(run)) if each is not None]


def _band(run: RunTime, evening: float) -> Finding:
    si, what = run.si, f"{run.battery.name} battery"
    said = say_band(si.hours_min, si.hours, si.hours_max, "s", 2)
    left = ""
    if isinstance(run.load, Load) and run.ended_by != REACHED:
        left = f", with {say(run.curve.light[-1], '')} of the starting light left"
    reason = f"It lasts {said} until {run.end}{left}, over the spread of batteries, drive and LEDs."
    if si.hours_min >= evening:
        return Finding(FINE, what, reason)
    one = f"one evening of {say(evening, 's', 2)}"
    little = "a little " if say(si.hours, "s", 2) == say(evening, "s", 2) else ""
    short = [f"That is {little}less than {one}."] if si.hours < evening else []
    if si.hours_min == 0:
        short.append("The weakest does not even start.")
    elif not short:
        short.append(f"The weakest does not last {one}.")
    grade = STOP if si.hours < evening else LOOK
    return Finding(grade, what, " ".join([reason, *short]), "Use a stronger battery or a lighter load.")


def _end(run: RunTime) -> Finding | None:
    if run.ended_by == EMPTY:
        return Finding(
            FINE,
            "end of the run",
            "The published curve of the battery ends before the end you asked for is reached; beyond it the voltage "
            "collapses and the run is counted as over.",
        )
    if run.ended_by == REACHED:
        return None
    with_timer = isinstance(run.load, Load) and run.load.si.coil_drop > 0
    pulls_in = "every relay pulls in at" + (", with what its timer keeps" if with_timer else "")
    why = {RELAY: f"the supply sags below what {pulls_in}", TIMER: "the supply dips below what it needs"}
    return Finding(
        LOOK,
        "end of the run",
        f"What ends it is that {run.ended_by}: {why[run.ended_by]}, while {say(run.curve.light[-1], '')} of the "
        "light is left.",
        "Use a relay or timer for a lower voltage, or a battery with more cells.",
    )


def _light(run: RunTime) -> Finding:
    time, light = run.curve.si.time, run.curve.light
    half = float(np.interp(time[-1] / 2, time, light))
    if isinstance(run.load.drive, ConstantCurrentDrive):
        return Finding(
            FINE,
            "light",
            f"The driver keeps {say(half, '')} of the starting light at half time and {say(light[-1], '')} at the end: "
            "there is little warning before it collapses.",
        )
    return Finding(
        FINE,
        "light",
        f"With a resistor the light fades with the battery: {say(half, '')} of the start at half time, "
        f"{say(light[-1], '')} at the end. The eye notices little before half.",
    )


def _drop_out(run: RunTime) -> Finding | None:
    drive = run.load.drive
    if not isinstance(drive, ConstantCurrentDrive):
        return None
    held = run.curve.si.current >= drive.limit * _STEADY
    if held.all():
        return None
    if not held[0]:
        reason = (
            f"Even fresh, the battery leaves the driver too little: {say(run.curve.si.current[0], 'A')} in place of "
            f"{say(drive.limit, 'A')}."
        )
        return Finding(LOOK, "drop-out", reason, "Use more cells, fewer LEDs in series, or a driver that needs less.")
    when = run.curve.si.time[int(np.argmin(held))]
    return Finding(FINE, "drop-out", f"The driver holds its current for {say(when, 's', 2)}, then the light falls.")


def _regulator(run: RunTime) -> Finding | None:
    drive = run.load.drive
    if not isinstance(drive, ConstantCurrentDrive) or drive.limit >= drive.si.least_current:
        return None
    return Finding(
        LOOK,
        "minimum load",
        f"{say(drive.limit, 'A')} is less than the {say(drive.si.least_current, 'A')} that any sample of the "
        f"{drive.kind} needs: the current may not be held and may be higher, and the run shorter.",
        "Use another kind of driver for a dim LED.",
    )


def _shares(run: RunTime) -> Finding | None:
    si = run.si
    other = si.standby_charge + si.coil_charge
    if other < _STANDBY_MUCH * si.used:
        return None
    uses = {"the lamp": si.lamp_charge, "standby": si.standby_charge, "the relay's coil": si.coil_charge}
    told = [f"{what} {say(charge, 'Ah', 2)}" for what, charge in uses.items() if charge > 0]
    told[0] = told[0].replace("the lamp", "the lamp uses")
    reason = f"Of {say(si.used, 'Ah', 2)} {', '.join(told[:-1])} and {told[-1]}."
    remedy = "Use a board that draws less, or an adapter."
    if si.latching is not None and si.coil_charge > si.standby_charge:
        remedy = f"A latching relay needs no holding: {say(si.latching, 's', 2)} in place of {say(si.hours, 's', 2)}."
    return Finding(LOOK, "what uses the charge", reason, remedy)


def _board(run: RunTime) -> Iterator[Finding]:
    """Where the dip of the coil makes relay and timer unsure."""
    if run.load.relay is None:
        return
    first = min((run.ends[name].m_as("s") for name in (RELAY, TIMER) if run.ends.get(name) is not None), default=None)
    if first is None:
        return
    last = run.si.chatter_to
    if last is None or say(last, "s") == say(first, "s"):
        return
    yield Finding(
        LOOK,
        "chatter",
        f"From {say(first, 's')} to {say(last, 's')} the supply is enough until the coil comes on, and then sags below "
        "what is needed: the relay may buzz, and the timer may start anew at every try.",
        "Change the battery before, or put a large capacitor at the board"
        + ("." if run.load.relay.latching else "; a latching relay puts it off."),
    )


def _drain(run: RunTime) -> Finding | None:
    drains = run.battery.discharge.si.drain
    least, most = run.curve.si.drain.min(), run.curve.si.drain.max()
    if least < drains[0] * (1 - 1e-9):
        reason = (
            f"In part of the run the battery gives {say(least, 'A')}, below {say(drains[0], 'A')}, the least drain "
            "with a published capacity: that capacity is taken, and no more."
        )
        return Finding(LOOK, "outside the data", reason)
    if most > drains[-1] * (1 + 1e-9):
        reason = (
            f"The battery gives {say(most, 'A')}, more than in any published test ({say(drains[-1], 'A')}): the "
            "capacity is carried on beyond the last point."
        )
        return Finding(LOOK, "outside the data", reason, "Use a larger battery.")
    return None


def _capacity(run: RunTime) -> Finding | None:
    drains, band = run.battery.capacity_band()
    if len(drains) < 2:
        return None
    place = int(np.clip(np.searchsorted(drains, run.curve.si.drain[0]) - 1, 0, len(drains) - 2))
    pair = slice(place, place + 2)
    here, over = (peukert_exponent(drains[part], band[NOMINAL + 1, part]) for part in (pair, slice(None)))
    return Finding(
        FINE,
        "capacity against drain",
        f"From {say(drains[place], 'A')} to {say(drains[place + 1], 'A')} the capacity falls with an exponent of "
        f"{here:.2f}, over all published drains with one of {over:.2f}: no single one holds, so it is interpolated "
        "from point to point in logarithms.",
    )


def _memory(run: RunTime) -> Finding | None:
    recalled = run.battery.discharge.from_memory
    if not recalled:
        return None
    return Finding(LOOK, "figures from memory", f"Not looked up: {'; '.join(recalled)}. The band is wider for it.")


def practice(runs: dict[str, RunTime]) -> list[Finding]:
    """Which assumptions lead to the twelve hours of common practice, and which to thirty."""
    held, latching, by_hand = (runs[how] for how in ("relay", "latching relay", "hand switch"))
    share = held.si.coil_charge / held.si.used
    start = held.curve.si
    assumed = f"a fresh {held.battery.name} block, {say(held.load.drive.limit, 'A')} in the lamp, lit all the time"
    return [
        Finding(
            FINE,
            "twelve hours",
            f"With {assumed}, and a relay coil held all the time, which makes {say(start.drain[0], 'A')} together and "
            f"takes {say(share, '', 2)} of the charge: {_hours(held)}, ended by its relay at "
            f"{say(start.voltage[-1], 'V')}. Common practice, no source: about twelve hours.",
        ),
        Finding(
            FINE,
            "thirty hours",
            f"With {assumed}, and a hand switch in place of the relay board: {_hours(by_hand)}, until the battery is "
            f"empty. With a latching relay, which needs no holding but still {say(start.voltage[-1], 'V')} to change: "
            f"{_hours(latching)}.",
        ),
    ]


def _hours(run: RunTime) -> str:
    return say_band(run.si.hours_min, run.si.hours, run.si.hours_max, "s", 2)
