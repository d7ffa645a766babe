"""Panels of the lesson "battery or adapter": a battery's run, an adapter's voltage, and the evening that pays."""

from __future__ import annotations

from ..design.findings import FINE
from ..design.lamp.drive import operate
from ..design.power.adapter import resistor_on_adapter
from ..design.power.cost import EveningCount, break_even, evenings, yearly_energy
from ..design.power.drive_choice import DRIVER, HALF, RESISTOR, same_current
from ..design.power.load import Load
from ..design.power.relay_coil import operates_down_to
from ..design.power.run_time import RunTime, run_time
from ..errors import DesignError
from ..lessons.battery_or_adapter import CURRENTS, HAND, REVERSED_BY, SHARES, TIMER_DRAWS
from ..parts.drive import ResistorDrive
from ..parts.led import leds
from ..parts.relay import relays
from ..parts.source import adapters, batteries
from ..parts.timer import timers
from ..units import Q, say, say_band
from ..views.battery_or_adapter import (
    AdapterLine,
    BreakEvenChart,
    RunTimeCurve,
    RunVoltage,
    adapter_brief,
    after,
    charge_shares,
    cost_brief,
    cost_sentence,
    notices,
    run_brief,
    signal_now,
)
from ..views.findings import Answer
from ..views.led_circuit import one_led_circuit
from ..views.scene.first_circuit import one_led_scene
from ..views.scene.source import kind_of as looks_like
from .base import AS_IT_LOOKS, Panel
from .control import NumberControl, choice, positions

RED = leds["bright red 3 mm"]
LIGHT, VOLTAGE, CHARGE = "light", "voltage", "charge"
STORED = {"fresh": "0 days", "a year": "365.25 days", "3 years": "1095.75 days", "5 years": "1826.25 days"}
TIMER = timers["one-shot"]
UNSURE = ("outside the data", "figures from memory")
"""Topics of findings about the data, not about the signal."""
FAILS = 0.1
"""The share of the starting light at which a lamp counts as having failed, where nothing else has before."""
EVENING = {each: each for each in ("1 h", "2 h", "3 h", "5 h", "8 h")}
EVERY = {"a day": "1 day", "a week": "7 days", "a month": "30.44 days"}
USES = {"once": 1, "50 times": 50, "200 times": 200, "500 times": 500}
PLUGGED = {"all the time": True, "evenings only": False}
_HELD = {HAND: None, "sensitive relay held": relays["9 V two-pole sensitive"], "relay held": relays["9 V two-pole"]}
SIGNALS = {
    f"{current}, {held}": (current, _HELD[held])
    for current, helds in (("20 mA", _HELD), ("5 mA", [HAND, "sensitive relay held"]))
    for held in helds
}
"""A lamp's current, and the relay that is held meanwhile, if there is one."""


class BatteryRun(Panel):
    """A battery, and a signal with all that draws from it: when the eye notices, and when it fails."""

    wall = ("into the run", "fed through", "battery")

    def __init__(self) -> None:
        self.curve, self.voltage = RunTimeCurve(), RunVoltage()
        controls = [
            choice("battery", list(batteries.items()), batteries["9 V alkaline"]),
            choice("stored", list(STORED.items()), narrow=True),
            NumberControl("into the run", "%", 0, 100, 0, step=1),
            choice("fed through", [RESISTOR, DRIVER], narrow=True),
            choice("current at first", list(CURRENTS.items()), narrow=True),
            choice("LED", list(leds.items()), RED),
            choice("reversed by", list(REVERSED_BY)),
            choice("coil held", list(SHARES.items()), narrow=True),
            choice("timer draws", list(TIMER_DRAWS.items()), narrow=True),
            positions("view", [LIGHT, VOLTAGE, CHARGE]),
        ]
        super().__init__(controls, "How long does the battery run the signal?", height="37em", scene=True)
        self.show.value = AS_IT_LOOKS

    def draw(self) -> Answer:
        """The lamp now, one view of the run, when the eye notices and when it fails, and what is not fine."""
        relay, name = REVERSED_BY[self["reversed by"].value], self["fed through"].value
        self["coil held"].enable(not (relay is None or relay.latching))
        other_name = DRIVER if name == RESISTOR else RESISTOR
        run = self._run(name)
        try:
            other = self._run(other_name)
            beside = f"With a {other_name} instead: {other.lasts}."
        except DesignError:
            other, beside = None, f"With a {other_name} instead it would not work at all."
        verdict, *found = run.findings
        # what ends it is in the verdict, and what is less sure is no fault of the signal: it comes last, in small words
        graver = [each for each in found if each.grade != FINE and each.topic not in (*UNSURE, "end of the run")]
        unsure = " ".join(each.reason for each in found if each.topic in UNSURE)
        now = self["into the run"].checked() / 100
        if self["view"].value == VOLTAGE:
            picture = self.voltage.picture(run, self.size, now)
        elif self["view"].value == CHARGE:
            picture = charge_shares(run, self.size)
        else:
            picture = self.curve.picture(run, name, other, other_name, self.size, now)
        seen, said = signal_now(run, now, looks_like(self["battery"].value)), after(run, now)
        fed = self.beside(lambda: seen.looks(said, self.size), lambda: seen.drawn(said, self.size))
        sentence = f"{said} {notices(run)} {beside} {unsure}".strip()
        return Answer((*fed, picture), sentence, (verdict, *graver), run_brief(run, now))

    def _run(self, name: str) -> RunTime:
        """The run with one of the drives, chosen for the fresh battery."""
        battery, led = self["battery"].value, self["LED"].value
        standby = self["timer draws"].value
        load = Load(
            same_current(battery.fresh_voltage, led, Q(self["current at first"].value, "mA"))[name],
            led,
            standby=Q(standby, "mA"),
            relay=REVERSED_BY[self["reversed by"].value],
            energised=self["coil held"].value,
            timer_voltage=TIMER.least_supply if standby else None,
        )
        return run_time(battery, load, FAILS, age=self["stored"].value)


class AdapterVoltagePanel(Panel):
    """An adapter, what it feeds already, and one more LED: what it really gives, and the resistor for that."""

    wall = ("other load", "adapter", "wanted current")

    def __init__(self) -> None:
        self.line = AdapterLine()
        controls = [
            choice("adapter", list(adapters.items()), adapters["9 V regulated"]),
            NumberControl("other load", "mA", 0, 400, 0, step=5),
            NumberControl("wanted current", "mA", 1, 25, 10, step=0.5),
            choice("LED", list(leds.items()), RED),
        ]
        super().__init__(controls, "What does the adapter really give?", height="37em", scene=True)
        self.show.value = AS_IT_LOOKS

    def draw(self) -> Answer:
        """The adapter's line with the point of its load, and the resistor for the LED."""
        adapter, led = self["adapter"].value, self["LED"].value
        result = resistor_on_adapter(adapter, led, self.text("wanted current"), other_load=self.text("other load"))
        si = result.si
        flows = say_band(si.current_min, si.current, si.current_max, "A")
        resistor = f"For {say(si.wanted, 'A')} use {say(si.resistance, 'ohm')}: {flows} flows."
        # that it is not regulated is in the sentence already
        found = [each for each in result.at.findings if each.topic != "voltage"]
        graver = tuple(each for each in (*found, *result.findings) if each.grade != FINE) or result.findings[:1]
        point = operate(result.at.voltage, ResistorDrive(result.resistance, 0.05), led)
        fed = self.beside(
            lambda: one_led_scene(point, adapter.name, "adapter", size=self.size),
            lambda: one_led_circuit(point, adapter.name, True, size=self.size, full=adapter.corners[1][0]),
        )
        pictures = *fed, self.line.picture(result.at, self.size)
        return Answer(pictures, f"{result.at.sentence} {resistor}", graver, adapter_brief(result))


class BreakEvenPanel(Panel):
    """A battery and an adapter with the reader's prices, and how often the signal is lit."""

    wall = ("price of the battery", "price of the adapter", "an evening is")

    def __init__(self) -> None:
        self.chart = BreakEvenChart()
        controls = [
            choice("battery", list(batteries.items()), batteries["9 V alkaline"]),
            NumberControl("price of the battery", "", 0, 20, 5, step=0.5),
            choice("adapter", list(adapters.items()), adapters["9 V regulated"]),
            NumberControl("price of the adapter", "", 0, 50, 15, step=0.5),
            NumberControl("price of a kWh", "", 0, 1, 0.3, step=0.05),
            choice("an evening is", list(EVENING.items()), EVENING["3 h"], narrow=True),
            choice("how often", list(EVERY.items()), EVERY["a week"], narrow=True),
            choice("battery used", list(USES.items()), narrow=True),
            choice("plugged in", list(PLUGGED.items()), narrow=True),
            choice("signal", list(SIGNALS.items())),
        ]
        super().__init__(controls, "From which evening on is the adapter cheaper?", height="30em")

    def draw(self) -> Answer:
        """Both costs over the evenings, where they meet, and what is not fine."""
        battery, adapter, price = self["battery"].value, self["adapter"].value, self["price of the battery"].checked()
        adapter_price, uses = self["price of the adapter"].checked(), self["battery used"].value
        self._refuse(battery.name, battery.discharge.rechargeable)
        lasting = self._evenings()
        counts = (lasting.count_min, lasting.count, lasting.count_max)
        # the load that the fresh battery feels is also the adapter's
        load, plugged_in = lasting.run.curve.drain[0], self["plugged in"].value
        energy = yearly_energy(adapter, load, lasting.hours_each, lasting.every, plugged_in)
        result = break_even(energy, adapter_price, self["price of a kWh"].checked(), price, counts, uses)
        costs = tuple(price / (each * uses) for each in counts[::-1])
        picture = self.chart.picture(result, adapter_price, costs, lasting.count, self.size)
        found = (*result.findings, *lasting.findings)
        graver = tuple(each for each in found if each.grade != FINE) or found[:1]
        return Answer((picture,), f"{_lasts(lasting)} {cost_sentence(result)}", graver, cost_brief(result))

    def _refuse(self, battery: str, rechargeable: bool) -> None:
        """What must not be charged, or an adapter on which the signal's relay would not pull in, has no price."""
        if self["battery used"].value > 1 and not rechargeable:
            raise DesignError(
                f"battery used: the {battery} is not made to be charged and may leak or burst; choose once, or a NiMH "
                "battery"
            )
        adapter, (_, relay) = self["adapter"].value, self["signal"].value
        if relay is None:
            return
        least, needs = adapter.corners[0][0], operates_down_to(relay).m_as("V")
        if least < needs:
            raise DesignError(
                f"adapter: the {adapter.name} may give only {say(least, 'V')}, and the relay needs {say(needs, 'V')} "
                "to pull in; choose an adapter of the relay's voltage, or a hand switch"
            )

    def _evenings(self) -> EveningCount:
        battery, (current, relay) = self["battery"].value, self["signal"].value
        drive = same_current(battery.fresh_voltage, RED, current)[DRIVER]
        run = run_time(battery, Load(drive, RED, relay=relay), HALF)
        lasting = evenings(run, self["an evening is"].value, self["how often"].value)
        if lasting.count_min > 0:
            return lasting
        raise DesignError(
            f"battery: the weakest {battery.name} does not even start with this signal, so no price of an evening can "
            "be given; choose a stronger battery or a lighter signal"
        )


def _lasts(lasting: EveningCount) -> str:
    """How many evenings one battery lasts."""
    counts = (lasting.count_min, lasting.count, lasting.count_max)
    least, nominal, most = (
        "under 0.1" if each < 0.1 else f"{each:.2g}" if each < 100 else f"{each:.0f}" for each in counts
    )
    return f"One battery lasts {nominal} evenings ({least} to {most}) of {say(lasting.si.hours_each, 's', 2)}."
