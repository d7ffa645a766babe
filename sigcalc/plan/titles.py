"""What the sections of a plan are called where people read of them: in the form, and in findings."""

from __future__ import annotations

TITLES = {
    "lamps": "Which lamp on top",
    "red": "Red LED",
    "green": "Green LED",
    "supply": "Supply",
    "drive": "Current and resistor",
    "wiring": "Wiring",
    "mast": "Mast and holes",
    "wire": "Wires",
    "limits": "Your limits",
    "bench": "Your meter",
    "evening": "Power for the evening",
    "trigger": "Hands off: the train sets it",
}


def where_in_plan(section: str) -> str:
    """Where to look, as the form and as a plan's file call it."""
    return f'"{TITLES[section]}" ([{section}] in the file)'
