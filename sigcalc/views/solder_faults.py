"""A table of soldering mistakes: what each shows with the current one way and the other, and what a meter reads."""

from __future__ import annotations

from ..design.lamp.drive import OUT_BELOW
from ..design.pair.pair import FAULTS, FaultyPoint, solder_fault, study_pair
from ..design.pair.two_lead_pair import TwoLeadPair
from ..parts.drive import Drive
from ..units import Q, SupplyVoltage, say, with_units
from .style import NORMAL, Size
from .sums import Step, SumByHand

_NEXT_TO_NOTHING = 0.02  # V; a hobby meter on its 20 V range shows 0.01 V at best


@with_units(scalar=True)
def fault_table(supply: SupplyVoltage, drive: Drive, pair: TwoLeadPair, size: Size = NORMAL) -> SumByHand:
    """The sound pair and every mistake of `design.pair.FAULTS` on one supply; raises as `solder_fault` does."""
    volts = Q(supply, "V")
    study = study_pair(volts, drive, pair)
    rows = [Step("as it should be", *(_words(each.lit, each.si.reverse_voltage) for each in (study.red, study.green)))]
    for fault, meaning in FAULTS.items():
        rows.append(Step(f"{fault}: {meaning}", *map(_shown, solder_fault(volts, drive, pair, fault))))
    return SumByHand(
        f"What a pair on {say(supply, 'V')} shows, soldered well and badly",
        tuple(rows),
        "The voltages are what a meter reads between the two wires.",
        size,
        ("What was soldered", "Wire A is plus", "Wire B is plus"),
        equal=True,
    )


def _shown(point: FaultyPoint) -> str:
    lit = _both(point) if point.lit == "both" else point.lit
    return _words(lit, abs(point.si.pair_voltage))


def _both(point: FaultyPoint) -> str:
    """Both currents, and in words what the eye makes of them: the lamp of the lower drop may take all but nothing."""
    currents = {"red": point.si.red_current, "green": point.si.green_current}
    weak, strong = sorted(currents, key=lambda lamp: currents[lamp])
    if currents[weak] < OUT_BELOW * currents[strong]:
        return f"{strong} {say(currents[strong], 'A', 2)}, {weak} all but dark with {say(currents[weak], 'A', 2)}"
    return ", ".join(f"{lamp} {say(current, 'A', 2)}" for lamp, current in currents.items())


def _words(lit: str, volts: float) -> str:
    meter = say(volts, "V", 2) if volts > _NEXT_TO_NOTHING else "next to nothing"
    return f"{'dark' if lit == 'none' else lit}; meter: {meter}"
