"""The invented club layout Quillhaven (O scale): eight signals along it, and what may feed them."""

from __future__ import annotations

from typing import Any

from ..design.lamp.resistor import choose_resistor
from ..design.pair.two_lead_pair import TwoLeadPair
from ..design.power.load import Load
from ..parts.drive import ConstantCurrentDrive, Drive, ResistorDrive
from ..parts.led import leds
from ..parts.relay import relays
from ..parts.source import Source, adapters, batteries
from ..units import Q, say

PAIR = TwoLeadPair(leds["bright red 3 mm"], leds["ordinary green 3 mm"])
CURRENT = "10 mA"
RESISTOR, DRIVER = "a resistor", "a driver, constant current"
DRIVES = (RESISTOR, DRIVER)
HAND, SENSITIVE, RELAY = "hand switch", "timer, sensitive relay", "timer, usual relay"
MAKES = (HAND, SENSITIVE, RELAY)
# by the volts printed on the source; from memory: a 555 timer draws 3 mA at 5 V and 10 mA at 15 V, so between them
TIMERS = {9: "6 mA", 12: "8 mA"}

GAUGES = {f"{gauge} AWG": gauge for gauge in (30, 28, 26, 24, 22, 20)}
"""The wires it may be wired with."""

# shares of the layout's length from the adapter on, which is at its east end
PLACES = {
    "east home": 0.06,
    "east starter": 0.19,
    "yard departure": 0.31,
    "engine shed": 0.44,
    "cattle dock": 0.56,
    "north junction": 0.69,
    "west starter": 0.81,
    "west home": 0.94,
}
LENGTH = 12.0  # metres along the boards

_SOURCES = {
    "12 V regulated": adapters["12 V regulated"],
    "9 V regulated": adapters["9 V regulated"],
    "9 V unregulated": adapters["9 V unregulated"],
}
SOURCES: dict[str, Source] = {
    **{f"{name}, {say(each.si.max_current, 'A')}": each for name, each in _SOURCES.items()},
    "9 V alkaline battery": batteries["9 V alkaline"],
}


def places(length: Any, count: int = len(PLACES)) -> dict[str, Any]:
    """The first so many signals with their distances from the adapter, on a layout of that length."""
    return {name: share * Q(length) for name, share in list(PLACES.items())[:count]}


def load(source: Source, make: str = HAND, drive: str = RESISTOR) -> Load:
    """One signal of a make for a source; red is shown while the relay is on."""
    if make == HAND:
        return Load(_drive(source, drive), PAIR)
    volts = round(source.nominal_voltage.m_as("V"))
    relay = relays[f"{volts} V two-pole" + (" sensitive" if make == SENSITIVE else "")]
    return Load(_drive(source, drive), PAIR, standby=TIMERS[volts], relay=relay)


def _drive(source: Source, drive: str) -> Drive:
    """The drive for the usual current at the voltage printed on the source."""
    if drive == DRIVER:
        return ConstantCurrentDrive(CURRENT, "1.5 V", "5 %")
    chosen = choose_resistor(source.nominal_voltage, PAIR.red, CURRENT, series="E24")
    return ResistorDrive(chosen.resistance, "5 %")
