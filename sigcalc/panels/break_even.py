"""Battery or adapter by cost: the evening from which the adapter has paid for itself, at the reader's own prices."""

from __future__ import annotations

from typing import NamedTuple

from ..design.findings import FINE
from ..design.power import evenings as evenings_design
from ..design.power import running_cost
from ..design.power.evenings import Evenings, evenings
from ..design.power.load import Load
from ..design.power.relay_coil import operates_down_to
from ..design.power.run_time import run_time
from ..design.power.running_cost import BreakEven, break_even, yearly_energy
from ..design.power.same_current import DRIVER, same_current
from ..errors import DesignError
from ..parts.led import leds
from ..parts.relay import Relay, relays
from ..parts.source import adapters, batteries
from ..units import say
from ..views.break_even import BreakEvenChart, sentence
from .base import Panel
from .control import NumberControl, choice
from .scene import Scene

LED = leds["red alingap 3 mm"]
HALF = 0.5
EVENING = {"1 h": "1 h", "2 h": "2 h", "3 h": "3 h", "5 h": "5 h", "8 h": "8 h"}
EVERY = {"a day": "1 day", "a week": "7 days", "a month": "30.44 days"}
USES = {"once": 1, "50 times": 50, "200 times": 200, "500 times": 500}
PLUGGED = {"all the time": True, "evenings only": False}


class Signal(NamedTuple):
    """A lamp's current, and the relay that is held meanwhile, if there is one."""

    current: str
    relay: Relay | None


SIGNALS = {
    "20 mA, hand switch": Signal("20 mA", None),
    "20 mA, sensitive relay held": Signal("20 mA", relays["9 V two-pole sensitive"]),
    "20 mA, relay held": Signal("20 mA", relays["9 V two-pole"]),
    "5 mA, hand switch": Signal("5 mA", None),
    "5 mA, sensitive relay held": Signal("5 mA", relays["9 V two-pole sensitive"]),
}


class BreakEvenPanel(Panel):
    """A battery and an adapter with the reader's prices, and how often the signal is lit."""

    height = "30em"

    def __init__(self) -> None:
        self.chart = BreakEvenChart()
        controls = [
            choice("battery", list(batteries.items()), batteries["9 V alkaline"]),
            NumberControl("price of the battery", "", 0, 50, 5, step=0.5),
            choice("adapter", list(adapters.items()), adapters["9 V regulated"]),
            NumberControl("price of the adapter", "", 0, 100, 15, step=0.5),
            NumberControl("price of a kWh", "", 0, 2, 0.3, step=0.05),
            choice("an evening is", list(EVENING.items()), EVENING["3 h"], narrow=True),
            choice("one", list(EVERY.items()), EVERY["a week"], narrow=True),
            choice("battery used", list(USES.items()), narrow=True),
            choice("plugged in", list(PLUGGED.items()), narrow=True),
            choice("signal", list(SIGNALS.items())),
        ]
        super().__init__(controls, "From which evening on is the adapter cheaper?")

    def draw(self) -> Scene:
        """Both costs over the evenings, where they meet, and what is not fine."""
        self._refuse_charging()
        self._refuse_too_low()
        lasting = self._evenings()
        if not lasting.count_min > 0:
            raise DesignError(
                f"battery: the weakest {lasting.run.battery.name} does not even start with this signal, so that no "
                "price of an evening can be given; choose a stronger battery or a lighter signal"
            )
        counts = (lasting.count_min, lasting.count, lasting.count_max)
        result, dearest, cheapest = (self._break_even(lasting, each) for each in (counts, counts[0], counts[2]))
        costs = (cheapest.battery_per_evening, result.battery_per_evening, dearest.battery_per_evening)
        picture = self.chart.picture(result, self["price of the adapter"].checked(), costs, self.size)
        graver = [*running_cost.findings(result), *evenings_design.findings(lasting)]
        return Scene(
            (picture,), f"{_lasts(lasting)} {sentence(result)}", tuple(each for each in graver if each.grade != FINE)
        )

    def _refuse_charging(self) -> None:
        battery = self["battery"].value
        if self["battery used"].value > 1 and not battery.discharge.rechargeable:
            raise DesignError(
                f"battery used: the {battery.name} is not made to be charged and may leak or burst; choose once, or a "
                "NiMH battery"
            )

    def _refuse_too_low(self) -> None:
        """An adapter on which the signal's relay would not pull in is no choice, however cheap."""
        adapter, relay = self["adapter"].value, self["signal"].value.relay
        if relay is None:
            return
        least, needs = adapter.corners[0][0], operates_down_to(relay).m_as("V")
        if least < needs:
            raise DesignError(
                f"adapter: the {adapter.name} gives {say(least, 'V')} at the least, and the relay needs "
                f"{say(needs, 'V')} to pull in; choose an adapter of the relay's voltage, or a hand switch"
            )

    def _evenings(self) -> Evenings:
        battery, signal = self["battery"].value, self["signal"].value
        drive = same_current(battery.fresh_voltage, LED, signal.current)[DRIVER]
        run = run_time(battery, Load(drive, LED, relay=signal.relay), HALF)
        return evenings(run, self["an evening is"].value, self["one"].value)

    def _break_even(self, lasting: Evenings, counts: float | tuple[float, float, float]) -> BreakEven:
        """With the load that the fresh battery feels also on the adapter."""
        energy = yearly_energy(
            self["adapter"].value,
            lasting.run.curve.drain[0],
            lasting.hours_each,
            lasting.every,
            self["plugged in"].value,
        )
        return break_even(
            energy,
            self["price of the adapter"].checked(),
            self["price of a kWh"].checked(),
            self["price of the battery"].checked(),
            counts,
            self["battery used"].value,
        )


def _lasts(lasting: Evenings) -> str:
    """How many evenings one battery lasts."""
    least, nominal, most = map(_count, (lasting.count_min, lasting.count, lasting.count_max))
    return f"One battery lasts {nominal} evenings ({least} to {most}) of {say(lasting.si.hours_each, 's', 2)}."


def _count(evenings_each: float) -> str:
    """A number of evenings, under ten with a decimal."""
    if evenings_each < 0.1:
        return "under 0.1"
    return f"{evenings_each:.2g}" if evenings_each < 100 else f"{evenings_each:.0f}"
