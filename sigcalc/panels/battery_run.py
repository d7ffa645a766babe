"""How long a battery runs a signal: its kind and age, the drive, the board beside the lamp, and how the light goes."""

from __future__ import annotations

from ..design.findings import FINE
from ..design.power.battery_verdict import findings
from ..design.power.load import Load
from ..design.power.run_result import RunTime
from ..design.power.run_time import run_time
from ..design.power.same_current import DRIVER, RESISTOR, same_current
from ..errors import DesignError
from ..parts.led import leds
from ..parts.relay import relays
from ..parts.source import batteries
from ..parts.timer import timers
from ..units import Q, say_band
from ..views.charge_shares import charge_shares
from ..views.picture import Picture
from ..views.run_time_curve import RunTimeCurve, sentence
from ..views.run_voltage import RunVoltage
from .base import Panel
from .control import NumberControl, choice, positions
from .scene import Scene

LIGHT, VOLTAGE, CHARGE = "light", "voltage", "charge"
HAND = "hand switch"
CHANGED_BY = {
    HAND: None,
    "relay, 9 V": relays["9 V two-pole"],
    "sensitive relay, 9 V": relays["9 V two-pole sensitive"],
    "latching relay, 9 V": relays["9 V two-pole latching"],
}
STORED = {"fresh": "0 days", "a year": "365.25 days", "3 years": "1095.75 days", "5 years": "1826.25 days"}
SHARES = {"always": 1.0, "1/2": 0.5, "1/5": 0.2, "1/20": 0.05}
TIMER = timers["one-shot"]
FAILS = 0.1
"""The share of the starting light at which a lamp counts as having failed, where nothing else has before."""


class BatteryRun(Panel):
    """A battery, and a signal with all that draws from it."""

    height = "37em"

    def __init__(self) -> None:
        self.curve, self.voltage = RunTimeCurve(), RunVoltage()
        controls = [
            choice("battery", list(batteries.items()), batteries["9 V alkaline"]),
            choice("stored", list(STORED.items()), narrow=True),
            choice("fed through", [RESISTOR, DRIVER], narrow=True),
            NumberControl("current at first", "mA", 1, 25, 20, step=0.5),
            choice("LED", list(leds.items()), leds["red alingap 3 mm"]),
            choice("changed by", list(CHANGED_BY)),
            choice("coil held", list(SHARES.items()), narrow=True),
            choice("lamp lit", list(SHARES.items()), narrow=True),
            NumberControl("timer board draws", "mA", 0, 20, 0, step=0.5),
            positions("view", [LIGHT, VOLTAGE, CHARGE]),
        ]
        super().__init__(controls, "How long does the battery run the signal?")

    def redraw(self) -> None:
        """Draw again, with the share of time for the coil enabled only where a coil is held."""
        relay = CHANGED_BY[self["changed by"].value]
        self["coil held"].enable(not (relay is None or relay.latching))
        super().redraw()

    def draw(self) -> Scene:
        """One view of the run, when the eye notices and when it fails, and what is not fine."""
        name = self["fed through"].value
        other_name = DRIVER if name == RESISTOR else RESISTOR
        run = self._run(name)
        try:
            other = self._run(other_name)
            beside = f"With a {other_name} instead: {_hours(other)}."
        except DesignError:
            other, beside = None, f"With a {other_name} instead it would not work at all."
        # what ends it stands in the sentence
        graver = tuple(each for each in findings(run) if each.grade != FINE and each.topic != "end of the run")
        picture = self._picture(run, name, other, other_name)
        return Scene((picture,), f"{sentence(run)} {beside}", graver)

    def _run(self, name: str) -> RunTime:
        """The run with one of the drives, chosen for the fresh battery."""
        battery, led = self["battery"].value, self["LED"].value
        drive = same_current(battery.fresh_voltage, led, self.text("current at first"))[name]
        standby = self["timer board draws"].checked()
        load = Load(
            drive,
            led,
            standby=Q(standby, "mA"),
            duty=self["lamp lit"].value,
            relay=CHANGED_BY[self["changed by"].value],
            energised=self["coil held"].value,
            timer_voltage=TIMER.least_supply if standby else None,
        )
        return run_time(battery, load, FAILS, age=self["stored"].value)

    def _picture(self, run: RunTime, name: str, other: RunTime | None, other_name: str) -> Picture:
        view = self["view"].value
        if view == VOLTAGE:
            return self.voltage.picture(run, self.size)
        if view == CHARGE:
            return charge_shares(run, self.size)
        return self.curve.picture(run, name, other, other_name, self.size)


def _hours(run: RunTime) -> str:
    return say_band(run.si.hours_min, run.si.hours, run.si.hours_max, "s", 2)
