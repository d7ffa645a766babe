"""One jumper of a reversing switch gone wrong: every way it can, and what is seen instead."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from ...errors import DesignError
from ...parts.contacts import Join, Wiring, wirings
from ..findings import FINE, LOOK, STOP, Finding
from .wiring import SHORT, Shown, show_all

NO_DIFFERENCE = "no difference"


@dataclass(frozen=True)
class Mistake:
    """One jumper gone wrong: which, how, and what is seen instead.

    verdict: "short circuit" (in some position), "dead" (in all), "never reverses" (one colour at most),
    "other colours" (than the right wiring shows in that position) or "no difference"
    """

    jumper: Join
    fault: str
    states: tuple[Shown, ...]
    verdict: str

    @property
    def sentence(self) -> str:
        """What is wrong and what it shows, in words."""
        shows = ", ".join(f"{each.position}: {each.lamps[0]}" for each in self.states)
        return f"The jumper from {self.jumper[0]} to {self.jumper[1]} {self.fault}: {self.verdict} ({shows})."


def single_jumper_mistakes(wiring: str | Wiring) -> tuple[Mistake, ...]:
    """Every way to get one jumper wrong: left out, or one end on another terminal of the devices.

    Only the positions that the right wiring can use (no short circuit) are looked at.

    Raises DesignError where the wiring has more than one signal or never reverses when right.
    """
    wiring = wiring if isinstance(wiring, Wiring) else wirings[wiring]
    usable = {each.position: each for each in show_all(wiring) if not each.short}
    if len(wiring.signals) != 1 or not {1, -1} <= {each.polarities[0] for each in usable.values()}:
        raise DesignError(
            f"wiring {wiring.name!r} needs one signal and has to reverse when it is right; "
            "take a wiring such as 'crossed double-throw switch'"
        )
    mistakes = []
    for place, jumper in enumerate(wiring.jumpers):
        for fault, instead in _faults(wiring, jumper):
            jumpers = (*wiring.jumpers[:place], *instead, *wiring.jumpers[place + 1 :])
            wrong = show_all(replace(wiring, jumpers=jumpers))
            states = tuple(each for each in wrong if each.position in usable)
            mistakes.append(Mistake(jumper, fault, states, _verdict(tuple(usable.values()), states)))
    return tuple(mistakes)


def _faults(wiring: Wiring, jumper: Join) -> Iterator[tuple[str, tuple[Join, ...]]]:
    yield "is missing", ()
    for end, other in (jumper, jumper[::-1]):
        if end not in wiring.terminals:
            continue
        for terminal in wiring.terminals:
            if terminal not in jumper:
                yield f"sits on {terminal} instead of {end}", ((other, terminal),)


def _verdict(right: tuple[Shown, ...], wrong: tuple[Shown, ...]) -> str:
    was, now = ([each.polarities[0] for each in states] for states in (right, wrong))
    seen = set(now)
    if "short" in seen:
        return SHORT
    if now == was:
        return NO_DIFFERENCE
    if seen == {0}:
        return "dead"
    if not {1, -1} <= seen:
        return "never reverses"
    return "other colours"


def findings(result: Mistake) -> tuple[Finding, ...]:
    """The verdict on one mistake, with its remedy."""
    if result.verdict == NO_DIFFERENCE:
        return (Finding(FINE, "jumpers", result.sentence),)
    grade = STOP if result.verdict == SHORT else LOOK
    return (Finding(grade, "jumpers", result.sentence, f"Join {result.jumper[0]} to {result.jumper[1]}."),)
