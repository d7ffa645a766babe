"""What the train's trigger means at the bench: parts, where they go, and steps."""

from __future__ import annotations

from ..design.caution import caution_text
from ..errors import SigcalcError
from ..parts.marking import colour_bands
from ..units import Q, say
from .model import PlanFields
from .result import Figure, PartLine, Step
from .signal_fields import TriggerSpec

_DRIVE_A_TRANSISTOR = ("schmitt gate", "comparator")  # the timer "mosfet" is one itself
_TRANSISTOR_NOTE = "in the coil's lead to minus, for the coil's current"


def parts(wish: TriggerSpec, plan: PlanFields) -> tuple[PartLine, ...]:
    """What to buy beside the signal's own parts; the relay stands there already."""
    capacitor = wish.circuit().capacitor
    lines = [
        PartLine(1, "magnet", wish.make_magnet().name, note=f"under the train, {wish.orientation}"),
        PartLine(1, "reed switch", wish.reed, note="in the track, along it"),
        PartLine(1, "timer", wish.timer),
        PartLine(1, "capacitor of the timer", capacitor.name, note="mind its polarity" if _polar(wish) else ""),
        PartLine(1, "pot of the timer", f"{say(wish.pot.m_as('ohm'), 'ohm')}, linear"),
        _resistor("resistor, end of the pot", wish.end_resistor.m_as("ohm")),
        _resistor("resistor, beside the reed", wish.reed_resistor.m_as("ohm")),
    ]
    if plan.relay is not None and wish.timer in _DRIVE_A_TRANSISTOR:
        lines.append(PartLine(1, "transistor for the coil", "small N-channel MOSFET", note=_TRANSISTOR_NOTE))
    return tuple(lines)


def _polar(wish: TriggerSpec) -> bool:
    return wish.circuit().capacitor.kind.polarised


def _resistor(name: str, ohms: float) -> PartLine:
    try:
        bands = colour_bands(Q(ohms, "ohm"), 0.05)
    except SigcalcError:
        bands = ()
    return PartLine(1, name, f"{say(ohms, 'ohm')}, {say(0.05, '')}", bands)


def positions(wish: TriggerSpec, figures: dict[str, Figure]) -> tuple[tuple[str, str], ...]:
    """Where each thing goes, in words."""
    beyond = f"{_length(wish.beyond)} beyond the signal, as the train runs, along the middle of the track"
    least = figures.get("reed_beyond_least")
    if least is not None:
        beyond += f"; {say(least.nominal, 'm')} at the least"
    placed = [
        ("reed", beyond),
        ("magnet", f"{_length(wish.magnet_from_front)} behind the train's front, {wish.orientation}"),
        ("gap", f"{_length(wish.gap)} from the magnet's face down to the reed's axis"),
        ("clear of the signal", f"the last wheel {_length(wish.clearing_distance)} beyond the reed"),
    ]
    if "pot_turn" in figures:
        placed.append(("pot", f"turned up to {figures['pot_turn'].text} to begin with, then by the watch"))
    return tuple(placed)


def _length(length: object) -> str:
    return say(length.m_as("m"), "m")


def steps(wish: TriggerSpec, hold: float) -> tuple[Step, ...]:
    """What to do once the signal works by hand, in order."""
    polarity = "Mind its polarity: the wrong way round it heats up and may burst." if _polar(wish) else ""
    return (
        Step(f"Lay the reed {_length(wish.beyond)} beyond the signal, along the track, and fix it without strain.",
             caution_text("train", "reed")),
        Step(f"Fix the magnet {wish.orientation} under the train, and check the gap of {_length(wish.gap)} by a card.",
             caution_text("train", "magnets")),
        Step("Push the train over the reed by hand with the meter on it: it must beep as often as the findings say."),
        Step("Build the timer board with its capacitor, pot and end resistor.", polarity),
        Step("Join reed, its resistor, board and supply.", caution_text("train", "track power")),
        Step(f"Let a train pass and set the pot by a watch, until red is held for {say(hold, 's')}."),
        Step("Try the slowest, the fastest and the longest train."),
    )  # fmt: skip
