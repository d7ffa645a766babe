"""The figures over all corners, against every single corner worked out by other means."""

import itertools

import numpy as np
import pytest
from scipy.optimize import brentq

from sigcalc import Plan, leds
from sigcalc.plan.circuit import circuit_of, lamp_figures, resistance_figures, supply_figure

BATTERY = {"kind": "battery", "part": "9 V zinc-carbon"}  # with much resistance of its own
LAMPS = {"red": {"part": "red alingap 3 mm"}, "green": {"part": "green gap 3 mm"}}


def single_currents(plan, lamp, ohms):
    """The current at each of the 27 corners, by scipy, from the voltages of the LED alone."""
    led = leds[getattr(plan, lamp).part]
    below, above = led.si.drop_below, led.si.drop_above
    source = plan.supply.source()
    tolerance = plan.drive.tolerance
    for (volts, inner), off, shift in itertools.product(
        source.corners, (1 - tolerance, 1, 1 + tolerance), (-below, 0, above)
    ):

        def excess(current, volts=volts, total=inner + ohms * off, shift=shift):
            return volts - current * total - led.model.voltage_si(current) - shift

        yield brentq(excess, 1e-12, volts / (inner + ohms * off), rtol=1e-13)


@pytest.mark.parametrize("lamp", ["red", "green"])
def test_the_current_spans_all_corners(lamp):
    plan = Plan(**LAMPS, supply=BATTERY, drive={"resistance": "820 ohm", "tolerance": "10 %"})
    band = lamp_figures(circuit_of(plan), lamp)[f"{lamp}_current"]
    singles = list(single_currents(plan, lamp, 820))
    assert band.least == pytest.approx(min(singles), rel=1e-9)
    assert band.nominal == pytest.approx(singles[13], rel=1e-9)
    assert band.most == pytest.approx(max(singles), rel=1e-9)


@pytest.mark.parametrize("lamp", ["red", "green"])
@pytest.mark.parametrize(
    "wiring",
    [
        {},
        {"form": "shared and extra", "extra_red": "100 ohm", "extra_green": "47 ohm", "series_diodes": True},
        {"form": "one in each branch"},
    ],
)
@pytest.mark.parametrize("drive", [{"current": "8 mA"}, {"kind": "constant current", "current": "8 mA"}])
def test_voltages_sum_to_the_supply_and_powers_balance(lamp, wiring, drive):
    plan = Plan(**LAMPS, supply=BATTERY, drive=drive, wiring=wiring)
    circuit = circuit_of(plan)
    figures = {key.removeprefix(f"{lamp}_"): band.nominal for key, band in lamp_figures(circuit, lamp).items()}
    inner = plan.supply.source().corners[1][1]
    current = figures["current"]
    assert current * inner + figures["drive_voltage"] + figures["pair_voltage"] == pytest.approx(
        plan.supply.corners()[1], rel=1e-9
    )
    assert figures["led_power"] == pytest.approx(current * figures["led_voltage"])
    assert figures["shared_power"] == pytest.approx(current * figures["drive_voltage"])
    assert figures["extra_power"] == pytest.approx(current * figures["extra_voltage"])
    assert figures["extra_voltage"] == pytest.approx(current * circuit.extra(lamp))
    diode = figures["pair_voltage"] - figures["led_voltage"] - figures["extra_voltage"]
    assert (0.55 < diode < 0.85) if plan.wiring.series_diodes else diode == pytest.approx(0, abs=1e-9)
    led = leds[getattr(plan, lamp).part]
    assert figures["led_voltage"] == pytest.approx(float(led.model.voltage_si(current)))
    assert figures["light"] == pytest.approx(float(led.light_si(current)))


def test_a_driver_holds_its_current_and_its_tolerance():
    plan = Plan(**LAMPS, drive={"kind": "constant current", "current": "10 mA", "tolerance": "10 %"})
    band = lamp_figures(circuit_of(plan), "red")["red_current"]
    assert (band.least, band.nominal, band.most) == pytest.approx((9e-3, 10e-3, 11e-3))


def test_below_its_drop_out_voltage_a_driver_is_a_resistance():
    drive = {"kind": "constant current", "current": "10 mA", "dropout": "3 V", "tolerance": 0}
    supply = {"voltage": "3.2 V", "tolerance": 0}
    figures = lamp_figures(circuit_of(Plan(**LAMPS, supply=supply, drive=drive)), "red")
    current, volts = figures["red_current"].nominal, figures["red_drive_voltage"].nominal
    assert current < 9e-3
    assert volts / current == pytest.approx(300)


def test_without_any_spread_the_band_has_no_width():
    lamp = {"points": [["1.8 V", "2 mA"]], "max_current": "20 mA", "drop_below": "0 V", "drop_above": "0 V"}
    plan = Plan(
        red=lamp, green=lamp, supply={"voltage": "9 V", "tolerance": 0}, drive={"resistance": "1 kohm", "tolerance": 0}
    )
    circuit = circuit_of(plan)
    for band in [supply_figure(circuit), *lamp_figures(circuit, "red").values(), *resistance_figures(circuit).values()]:
        assert band.least == band.nominal == band.most
        assert "(" not in band.text


def test_a_wider_tolerance_never_narrows_a_band():
    widths = []
    for tolerance in (0, 0.01, 0.05, 0.2):
        plan = Plan(**LAMPS, drive={"resistance": "1 kohm", "tolerance": tolerance})
        band = lamp_figures(circuit_of(plan), "red")["red_current"]
        widths.append(band.most - band.least)
    assert np.all(np.diff(widths) > 0)


def test_resistors_as_bought():
    wiring = {"form": "shared and extra", "extra_green": "100 ohm"}
    bands = resistance_figures(circuit_of(Plan(**LAMPS, drive={"resistance": "1 kohm"}, wiring=wiring)))
    assert set(bands) == {"shared_resistance", "green_resistance"}
    green = bands["green_resistance"]
    assert (green.least, green.nominal, green.most) == pytest.approx((95, 100, 105))
    assert green.label == "extra resistor, green branch"


def test_two_resistors_are_measured_together():
    drive = {"current": "8 mA", "drawer": ["1 kohm", "300 ohm"]}
    band = resistance_figures(circuit_of(Plan(**LAMPS, drive=drive)))["shared_resistance"]
    assert (band.label, band.nominal) == ("shared resistor (two in series)", 1300)
    one = resistance_figures(circuit_of(Plan(**LAMPS, drive=drive | {"drawer": ["1.5 kohm"]})))["shared_resistance"]
    assert one.label == "shared resistor"


def test_where_the_light_is_not_known_there_is_no_figure_of_it():
    plan = Plan(red={"part": "white 3 mm"})
    assert "red_light" not in lamp_figures(circuit_of(plan), "red")
    assert "green_light" in lamp_figures(circuit_of(plan), "green")
