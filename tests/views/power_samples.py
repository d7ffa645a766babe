"""Pictures of drives on a sagging supply, batteries that run down, adapters and costs: usual ones and extremes."""

from dataclasses import replace

import numpy as np

from sigcalc.design.pair.shared_limiter import share_limiter
from sigcalc.design.power.adapter import adapter_voltage
from sigcalc.design.power.cost import break_even, yearly_energy
from sigcalc.design.power.drive_choice import compare_drives, current_with_bought_parts, same_current
from sigcalc.design.power.load import Load
from sigcalc.design.power.run_time import run_time
from sigcalc.parts.drive import ConstantCurrentDrive
from sigcalc.parts.led import Led, leds
from sigcalc.parts.relay import relays
from sigcalc.parts.source import adapters, batteries
from sigcalc.units import Q
from sigcalc.views.battery_or_adapter import (
    AdapterLine,
    BreakEvenChart,
    RunTimeCurve,
    RunVoltage,
    charge_shares,
    run_time_picture,
)
from sigcalc.views.resistor_or_constant_current import SagCurve, limiter_shares, sag_figures
from tests.views.svg import HOSTILE

RED, GREEN = leds["red alingap 3 mm"], leds["green gap 3 mm"]
STRANGE = Led(HOSTILE, "red", RED.model, "30 mA")
RELAY, LATCHING = relays["9 V two-pole sensitive"], relays["9 V two-pole latching"]


def compared(fresh, now, other, led=RED, current="10 mA"):
    """A resistor and another drive at two voltages, with the bands of their currents at the second one."""
    drives = {name: each for name, each in same_current(fresh, led, current).items() if name in ("resistor", other)}
    comparison = compare_drives(Q([Q(fresh).m, Q(now).m], "V"), drives, led)
    bands = {name: current_with_bought_parts(now, each, led).m_as("A") for name, each in drives.items()}
    return comparison, bands


def run(battery="9 V alkaline", drive="resistor", until=0.1, led=RED, current="20 mA", **load):
    """A battery's run with one of the drives."""
    source = batteries[battery]
    return run_time(source, Load(same_current(source.fresh_voltage, led, current)[drive], led, **load), until)


def costs(battery_price, adapter_price, uses=1, evenings=(3.0, 5.0, 9.0)):
    """Break-even of an adapter, and what a battery costs each evening: least, nominal, most."""
    energy = yearly_energy(adapters["9 V regulated"], "20 mA", "3 h")
    result = break_even(energy, adapter_price, 0.3, battery_price, evenings, uses)
    least, nominal, most = (battery_price / (each * uses) for each in evenings[::-1])
    return result, adapter_price, (least, nominal, most)


def _sag(size):
    curve = SagCurve()
    for other, now, led in (
        ("driver", "9 V", RED),
        ("driver", "6 V", STRANGE),
        ("regulator", "4.5 V", [RED, RED]),
        ("current diode", "1 V", GREEN),
    ):
        comparison, bands = compared("9 V", now, other, led)
        yield f"sag {other} {now}", sag_figures(comparison, bands, size)
        drives = {name: over.drive for name, over in comparison.items()}
        down = compare_drives(Q(np.linspace(0.05, 9, 120), "V"), drives, led)
        yield f"sag curve {other} {now}", curve.picture(down, Q(now).m, size)


def _limiter(size):
    driver = ConstantCurrentDrive("10 mA", "1.5 V", 0.1)
    for name, led, ohms, together in (
        ("usual", RED, "0 ohm", True),
        ("strange", STRANGE, "1 kohm", True),
        ("in turn", RED, "0 ohm", False),
    ):
        shared = share_limiter("9 V", driver, [(led, "4 mA", ohms), (GREEN, "10 mA", "0 ohm")], together)
        yield f"limiter {name}", limiter_shares(shared, size)


def _runs(size):
    curve, volts = RunTimeCurve(), RunVoltage()
    for name, each, other in (
        ("hand switch", run(), run(drive="driver")),
        ("relay", run(relay=RELAY, standby="5 mA", timer_voltage="4.5 V"), None),
        ("driver", run("6 x AA alkaline", "driver"), run("6 x AA alkaline")),
        ("coin cell", run("3 V coin cell"), run("3 V coin cell", "driver")),
        ("latching", run("9 V zinc-carbon", relay=LATCHING), run("9 V zinc-carbon", "driver", relay=LATCHING)),
    ):
        yield f"run {name}", curve.picture(each, "resistor", other, "driver", size)
        yield f"run voltage {name}", volts.picture(each, size)
        yield f"charge {name}", charge_shares(each, size)
    yield "run alone", run_time_picture(run(relay=RELAY), size)
    strange = replace(batteries["9 V alkaline"], name=HOSTILE)
    drive = same_current("9.5 V", RED, "20 mA")["resistor"]
    yield "run strange name", curve.picture(run_time(strange, Load(drive, RED), 0.1), "resistor", size=size)


def _supplies(size):
    line, chart = AdapterLine(), BreakEvenChart()
    for name, load in (("9 V unregulated", "10 mA"), ("12 V unregulated", "1 A"), ("5 V regulated", "0 mA")):
        yield f"adapter {name} {load}", line.picture(adapter_voltage(adapters[name], load), size)
    for name, given in (
        ("usual", costs(5.0, 15.0)),
        ("never", costs(1.0, 15.0, uses=500)),
        ("at once", costs(50.0, 0.0)),
        ("far", costs(0.05, 100.0, evenings=(0.1, 5.0, 6.0))),
    ):
        yield f"costs {name}", chart.picture(*given, size)


def power_pictures(size):
    """All of them, with their names."""
    for source in (_sag, _limiter, _runs, _supplies):
        yield from source(size)
