"""The scenes of a talk with the parts of a reader's own plan."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from ..design.lamp.drawer import choose_from_drawer
from ..design.lamp.resistor import choose_resistor
from ..design.pair.brightness import compare_brightness
from ..design.power.adapter import resistor_on_adapter
from ..errors import DesignError, SigcalcError
from ..parts.led import leds
from ..parts.resistor import nearest
from ..parts.source import adapters, batteries
from ..plan.circuit import LAMPS
from ..plan.plan import Plan
from ..plan.result import Study
from ..units import Q, say
from .battery_or_adapter import CURRENTS, HAND, SHARES, TIMER_DRAWS
from .let_the_train_do_it import MAGNET, REED
from .own_talk import Setting, Settings, Wall
from .scene import LONGEST_SETTING
from .two_wires_two_colours import DRIVER
from .which_resistor import SERIES, SUPPLY_TOLERANCES, TOLERANCES
from .why_a_resistor import SOURCES

_RELAYS = {"latching": "latching relay, 9 V", "sensitive": "sensitive relay, 9 V"}
_DRIVER = DRIVER.current.m_as("mA")
_TRAIN = {"magnet": MAGNET, "reed": REED}


@dataclass
class Own:
    """A reader's plan for the panels: its study, and what stands in for parts that they do not have."""

    plan: Plan
    wall: Wall
    study: Study = field(init=False)
    led: Mapping[str, str] = field(init=False)
    resistor: float | SigcalcError = field(init=False)

    def __post_init__(self) -> None:
        self.study = self.plan.study()
        self.led = {lamp: self._led(lamp) for lamp in LAMPS}
        self.resistor = self._resistor()

    @property
    def milliamps(self) -> float:
        """The wanted current."""
        return self.plan.drive.current.m_as("mA")

    @property
    def volts(self) -> float:
        """The supply's voltage, with nothing connected."""
        return self.plan.supply.corners()[1]

    @property
    def ohms(self) -> float:
        """The one resistor that the panels show; raises SigcalcError where none does what the plan's driver does."""
        if isinstance(self.resistor, SigcalcError):
            raise self.resistor
        return self.resistor

    def _led(self, lamp: str) -> str:
        """The LED of the panels' lists."""
        own, current = getattr(self.plan, lamp).led(lamp), self.plan.drive.current
        offers = {name: each for name, each in leds.items() if each.colour == lamp}
        if own.name in offers:
            return own.name
        volts = own.voltage(current).m_as("V")
        found = min(offers, key=lambda each: abs(offers[each].voltage(current).m_as("V") - volts))
        self.wall.note(f"The {found} stands in for your {lamp} LED ({own.name}): its voltage is nearest.")
        return found

    def _resistor(self) -> float | SigcalcError:
        figures = self.study.figures
        if "shared_resistance" in figures:
            return figures["shared_resistance"].nominal
        if "red_resistance" in figures:
            found = figures["red_resistance"].nominal
            self.wall.note(f"Where a panel has one resistor, it is that of your red branch, {say(found, 'ohm')}.")
            return found
        supply, red = Q(self.volts, "V"), leds[self.led["red"]]
        try:
            found = choose_resistor(supply=supply, led=red, current=self.plan.drive.current).si.resistance
        except SigcalcError as refusal:
            return refusal
        self.wall.note(f"Where a panel has a resistor, {say(found, 'ohm')} stands in for your {self.plan.drive.kind}.")
        return found

    @property
    def has_driver(self) -> bool:
        """Whether something else than a resistor sets the current."""
        return self.plan.drive.kind != "resistor"


def _why_a_resistor(own: Own) -> Setting:
    panel = "why a resistor"
    label = own.wall.source(panel, own.plan.supply.record(), own.plan.supply.name, SOURCES)
    ohms = own.wall.slider(panel, "resistor", own.ohms, "ohm")
    start = {"source": label, "resistor": ohms, "no resistor": False, "LED": own.led["red"]}
    return start, {"no resistor": True}, {"source": label}


def _which_resistor(own: Own) -> Setting:
    panel, wish = "which resistor", own.plan.drive
    if own.has_driver:
        raise DesignError("your signal has no resistor to choose")
    least, nominal, most = own.plan.supply.corners()
    series = wish.series if wish.series in SERIES else "E96"
    if series != wish.series:
        own.wall.note(f"“{panel}”: series {series} is shown; yours is {wish.series}.")
    volts = own.wall.slider(panel, "supply", nominal, "V")
    current = own.wall.slider(panel, "wanted current", own.milliamps, "mA")
    spread = max(most / nominal - 1, 1 - least / nominal)
    tolerance = own.wall.offer(panel, "supply tolerance", spread, SUPPLY_TOLERANCES, say(spread, ""))
    found = {lamp: _chosen(own, volts, current, own.led[lamp], series) for lamp in LAMPS}
    lamp = max(found, key=found.__getitem__)  # the one that needs the larger resistor
    start = {
        "supply": volts,
        "supply tolerance": tolerance,
        "wanted current": current,
        "series": series,
        "its tolerance": own.wall.offer(panel, "its tolerance", wish.tolerance, TOLERANCES, say(wish.tolerance, "")),
        "LED": own.led[lamp],
    }
    if wish.drawer is not None:
        drawer = "; ".join(f"{each.m_as('ohm'):.12g}" for each in wish.drawer)
        if len(drawer) > LONGEST_SETTING:
            raise DesignError("your drawer holds more values than the panel's line")
        start["own drawer (ohm)"] = drawer
    values = {"less": nearest(found[lamp] / 2, "E24"), "right": found[lamp], "more": nearest(2 * found[lamp], "E24")}
    said = {name: say(float(ohms), "ohm") for name, ohms in values.items()}
    return start, {}, {"supply": f"{volts:g} V", "current": f"{current:g} mA"} | said


def _chosen(own: Own, volts: float, milliamps: float, led: str, series: str) -> float:
    """The resistor that the panel will name, in ohm."""
    wish = own.plan.drive
    asked = {"supply": Q(volts, "V"), "led": leds[led], "current": Q(milliamps, "mA"), "tolerance": wish.tolerance}
    if wish.drawer is not None:
        return choose_from_drawer(**asked, drawer=list(wish.drawer))[0].si.resistance
    return choose_resistor(**asked, series=series).si.resistance


def _pair(own: Own, panel: str) -> Settings:
    """The settings that the panels of a pair share."""
    return {
        "supply": own.wall.slider(panel, "supply", own.volts, "V"),
        "resistor": own.wall.slider(panel, "resistor", own.ohms, "ohm"),
        "red LED": own.led["red"],
        "green LED": own.led["green"],
        "direction": "wire A is plus",
    }


def _which_lamp_lights(own: Own) -> Setting:
    return _pair(own, "which lamp lights"), {"direction": "wire B is plus"}, {}


def _equally_bright(own: Own) -> Setting:
    panel = "equally bright"
    ohms = {lamp: own.study.figures.get(f"{lamp}_resistance") for lamp in LAMPS}
    red, green = (0.0 if each is None else each.nominal for each in ohms.values())
    way = "a resistor in each branch" if own.plan.wiring.form == "one in each branch" else "one resistor, shared"
    if own.has_driver:
        way = "a driver, constant current"
        if abs(own.milliamps - _DRIVER) > 0.02 * _DRIVER:
            own.wall.note(f"“{panel}”: the driver there is set to {_DRIVER:g} mA, and yours to {own.milliamps:g} mA.")
    start = _pair(own, panel) | {"what limits the current": way, "series diodes": own.plan.wiring.series_diodes}
    if way == "a resistor in each branch":
        start["resistor"] = own.wall.slider(panel, "resistor", min(red, green), "ohm")
    if red != green:
        lamps = (leds[own.led[each]] for each in LAMPS)
        brighter = compare_brightness(*lamps, own.plan.drive.current, own.plan.drive.current).brighter
        if brighter == ("red" if red > green else "green"):
            start["extra in one branch"] = own.wall.slider(panel, "extra in one branch", abs(red - green), "ohm")
        else:  # the panel puts it into the brighter lamp's branch
            own.wall.note(f"“{panel}”: your extra resistor is in the dimmer lamp's branch, and is left out.")
    return start, {"compare the brightness": True}, {}


def _turned_by_switch(own: Own) -> Setting | None:
    if own.plan.wiring.reversing != HAND:
        return None
    return {"wiring": "wrong: both straight", "contacts": "down, or coil on"}, {"wiring": "crossed switch"}, {}


def _turned_by_relay(own: Own) -> Setting | None:
    if own.plan.wiring.reversing == HAND:
        return None
    return {"wiring": "crossed relay", "contacts": "down, or coil on"}, {"contacts": "up, or coil off"}, {}


def _passing_train(own: Own) -> Setting | None:
    panel, wish = "passing train", own.plan.trigger
    if wish is None:
        return None
    for what, shown in _TRAIN.items():
        named = getattr(wish, what) or "one of your own"
        if named != shown:
            own.wall.note(f"“{panel}”: the {what} there is the {shown}; yours is {named}.")
    figures = {
        "on-time": (own.study.figures["hold_wanted"].nominal, "s"),
        "gap": (wish.gap.m_as("mm"), "mm"),
        "speed of the model": (wish.model_speed(own.plan.scale).m_as("m/s"), "m/s"),
        "length of the train": (wish.train_length.m_as("mm"), "mm"),
        "reed beyond the signal": (wish.beyond.m_as("mm"), "mm"),
    }
    start = {name: own.wall.slider(panel, name, *figure) for name, figure in figures.items()}
    start |= {"moment (step)": 0, "view": "whole time", "timer": wish.timer, "magnet lies": wish.orientation}
    return start, {"moment (step)": 90}, {}


def _battery_run(own: Own) -> Setting | None:
    panel, evening = "battery run", own.plan.evening
    if own.plan.supply.kind != "battery":
        return None
    battery = own.wall.source(panel, own.plan.supply.record(), own.plan.supply.name, batteries)
    start = {
        "battery": battery,
        "current at first": own.wall.offer(panel, "current at first", own.milliamps, CURRENTS, f"{own.milliamps:g} mA"),
        "fed through": "driver" if own.has_driver else "resistor",
        "LED": own.led["red"],
        "reversed by": HAND,
    }
    if own.plan.wiring.reversing != HAND:
        relay = own.plan.relay or ""
        start["reversed by"] = next((_RELAYS[each] for each in _RELAYS if each in relay), "relay, 9 V")
        own.wall.note(f"“{panel}”: the relay is shown as “{start['reversed by']}”.")
    if evening is not None:
        held = evening.red_share if own.plan.coil_fed_for == "red" else 1 - evening.red_share
        if start["reversed by"] != HAND:
            start["coil held"] = own.wall.offer(panel, "coil held", held, SHARES, say(held, ""))
        draws = evening.standby.m_as("mA")
        start["timer draws"] = own.wall.offer(panel, "timer draws", draws, TIMER_DRAWS, f"{draws:g} mA")
    return start, {}, {"supply": battery}


def _adapter_voltage(own: Own) -> Setting | None:
    panel = "adapter voltage"
    if own.plan.supply.kind != "adapter":
        return None
    adapter = own.wall.source(panel, own.plan.supply.record(), own.plan.supply.name, adapters)
    current = own.wall.slider(panel, "wanted current", own.milliamps, "mA")
    resistor_on_adapter(adapters[adapter], leds[own.led["red"]], Q(current, "mA"))  # its refusal would be the panel's
    start = {"adapter": adapter, "wanted current": current, "LED": own.led["red"]}
    return start, {}, {"supply": adapter}


def _find_the_fault(own: Own) -> Setting:
    panel = "your own signal"
    start = {"at red I see": "nothing", "at green I see": "not looked", "show": "ranking"}
    start |= {"red LED": own.led["red"], "green LED": own.led["green"]}
    try:
        source = own.wall.source(panel, own.plan.supply.record(), own.plan.supply.name, {**batteries, **adapters})
        start |= {"supply": source, "resistor (ohm)": f"{own.ohms:.12g}"}
    except SigcalcError:
        own.wall.note(f"“{panel}”: supply and resistor there are others than yours.")
    return start, {"at green I see": "green"}, {}


SCENES: tuple[tuple[str, int, Callable[[Own], Setting | None]], ...] = (
    ("Why a resistor", 0, _why_a_resistor),
    ("Which resistor", 4, _which_resistor),
    ("Which lamp lights", 1, _which_lamp_lights),
    ("Equally bright", 7, _equally_bright),
    ("Turned round by a switch", 2, _turned_by_switch),
    ("Turned round by a relay", 2, _turned_by_relay),
    ("The train sets it", 3, _passing_train),
    ("How long the battery lasts", 6, _battery_run),
    ("What the adapter gives", 6, _adapter_voltage),
    ("Find the fault", 5, _find_the_fault),
)
"""The scenes in their order; the lower its number, the longer a scene stays as the talk gets shorter."""
