"""Discharge data of batteries: bands hold every test of the file, measured curves of others, sources are named."""

import dataclasses

import numpy as np
import pytest

from sigcalc.errors import DesignError, RangeError, UnitError
from sigcalc.parts.battery_data import capacity_points
from sigcalc.parts.source import Battery, adapters, as_adapter, as_battery, batteries
from sigcalc.physics.discharge import SHARES, capacity_at


@pytest.mark.parametrize("battery", batteries.values(), ids=lambda each: each.name)
def test_records_are_sound(battery):
    si = battery.discharge.si
    assert si.rest_voltage[0] == pytest.approx(battery.si.fresh_voltage)
    assert (si.rest_voltage > 0).all()
    assert battery.discharge.resistance_growth[0] == 1
    assert (np.diff(si.drain) > 0).all()
    for row in battery.capacity_band()[1]:
        assert (np.diff(row) <= 0).all()  # never more at a higher drain
    least, nominal, most = battery.capacity_band()[1]
    assert (least < nominal).all()
    assert (nominal < most).all()
    assert si.loss_per_year_min <= si.loss_per_year <= si.loss_per_year_max
    assert "," not in battery.name
    assert repr(battery)


@pytest.mark.parametrize("battery", batteries.values(), ids=lambda each: each.name)
def test_the_band_holds_every_test_of_the_file(battery):
    """Down to its own end voltage each test gave a charge within the band."""
    cell = {"6 x AA alkaline": "AA alkaline", "6 x AA NiMH": "AA NiMH", "8 x AA NiMH": "AA NiMH"}.get(battery.name)
    cell = cell or {"3 V coin cell": "CR2032"}.get(battery.name, battery.name)
    drains, (least, _, most) = battery.capacity_band()
    points = capacity_points(cell)
    assert points
    discharge = battery.discharge
    for point in points:
        ohms = battery.si.internal_resistance * discharge.resistance_growth
        volts = discharge.si.rest_voltage - ohms * point.drain
        ended = 1.0
        if point.cut_off is not None and (volts < discharge.cells * point.cut_off).any():
            ended = SHARES[(volts < discharge.cells * point.cut_off).argmax()]
        low, high = (float(capacity_at(point.drain, drains, edge)) * ended / 3600 for edge in (least, most))
        assert low <= point.charge * 1.01
        assert high >= point.charge * 0.99


def test_zinc_carbon_against_alkaline():
    # powerstream.com/9V-Alkaline-tests.htm at 100 mA: 52 mAh against 310 to 490: ratio 0.11 to 0.17
    zinc, alkaline = (
        float(capacity_at(0.1, drains, rows[1]))
        for drains, rows in (batteries[f"9 V {kind}"].capacity_band() for kind in ("zinc-carbon", "alkaline"))
    )
    assert 0.11 <= zinc / alkaline <= 0.17


def test_another_measured_curve_lies_within_the_spread():
    # github tektronix/keithley, 2281S battery models, EnergizerAA_150mA: rest voltage of a cell, 5 mV; ours is the
    # curve at 25 mA with the spread of the fresh voltage
    charged = np.array([90, 80, 70, 60, 50, 40, 30, 20, 10]) / 100
    measured = np.array([1.397, 1.337, 1.294, 1.263, 1.238, 1.212, 1.179, 1.133, 1.062])
    battery = batteries["6 x AA alkaline"]
    nominal = np.interp(1 - charged, SHARES, battery.discharge.si.rest_voltage) / 6
    low = (battery.si.fresh_voltage_min - battery.si.fresh_voltage) / 6
    high = (battery.si.fresh_voltage_max - battery.si.fresh_voltage) / 6
    assert (measured >= nominal + low - 0.005).all()
    assert (measured <= nominal + high + 0.040).all()  # and 40 mV between makes


def test_figures_from_memory_are_told():
    said = "; ".join(batteries["9 V zinc-carbon"].discharge.from_memory)
    assert "shape of the discharge curve" in said
    assert "25 mA" in "; ".join(batteries["9 V alkaline"].discharge.from_memory)
    # the E91 curve was measured
    assert "curve" not in "; ".join(batteries["6 x AA alkaline"].discharge.from_memory)
    # they widen the band: 20 % either way, where measured rows have 10 % or less
    for cell in ("9 V alkaline", "9 V lithium"):
        for point in capacity_points(cell):
            if point.figure.from_memory:
                assert point.spread >= 0.2


def test_storage_takes_its_share():
    kept = batteries["9 V alkaline"].discharge.kept(3.0)
    # rightbattery.com/tag/9v-duracell: 0.873 left of one three years fresher, 0.01
    assert kept[0] == pytest.approx(0.873, abs=0.01)
    assert kept[0] < kept[1] < kept[2]
    assert batteries["8.4 V NiMH"].discharge.kept(1 / 12)[0] == pytest.approx(
        0.70, abs=0.01
    )  # from memory: 30 % a month
    fresh, old = (batteries["9 V alkaline"].capacity_band(years)[1] for years in (0, 3))
    assert old[0] == pytest.approx(fresh[0] * kept[0])


def test_your_own_printed_capacity_scales_the_published_ones():
    own = dataclasses.replace(batteries["6 x AA NiMH"], capacity="2000 mAh")
    assert own.capacity_band()[1][1, 0] == pytest.approx(2.0 * 3600, rel=1e-9)
    ratio = own.capacity_band()[1] / batteries["6 x AA NiMH"].capacity_band()[1]
    assert ratio == pytest.approx(ratio[0, 0], rel=1e-12)


def test_common_rechargeable_cells_lie_in_the_band_and_printed_ones_near_their_print():
    """Cells printed with 2000 mAh gave 2058 and 2106 mAh at about 250 mA (rechargebatteryguide.com, January 2010).

    From memory: others gave 2115 and 2133.
    """
    for name in ("6 x AA NiMH", "8 x AA NiMH"):
        own = dataclasses.replace(batteries[name], capacity="2000 mAh")
        for measured in (2.058, 2.106, 2.115, 2.133):
            for each in (batteries[name], own):
                drains, rows = each.capacity_band()
                least, nominal, most = (float(capacity_at(0.25, drains, row)) / 3600 for row in rows)
                assert least < measured < most
            assert nominal == pytest.approx(measured, rel=0.1)


def test_own_fresh_voltage_is_kept():
    own = dataclasses.replace(
        batteries["9 V alkaline"], fresh_voltage="9.3 V", fresh_voltage_min="9.2 V", fresh_voltage_max="9.4 V"
    )
    assert own.corners[1][0] == pytest.approx(9.3)


@pytest.mark.parametrize(
    ("call", "kind", "said"),
    [
        (lambda: dataclasses.replace(batteries["9 V alkaline"], capacity="0 mAh"), RangeError, "empty battery"),
        (lambda: dataclasses.replace(batteries["9 V alkaline"], fresh_voltage="-9 V"), RangeError, "wrong way round"),
        (
            lambda: dataclasses.replace(batteries["9 V alkaline"], discharge=None).capacity_band(),
            DesignError,
            "no disch",
        ),
        (lambda: dataclasses.replace(adapters["9 V regulated"], voltage="-9 V"), RangeError, "turn the plug"),
        (lambda: dataclasses.replace(adapters["9 V regulated"], max_current="0 A"), RangeError, "max_current"),
        (
            lambda: dataclasses.replace(adapters["9 V unregulated"], no_load_voltage="8 V"),
            RangeError,
            "no_load_voltage",
        ),
        (lambda: dataclasses.replace(adapters["9 V regulated"], no_load_voltage="12 V"), RangeError, "no_load_voltage"),
        (lambda: as_battery(adapters["9 V regulated"]), UnitError, "battery needs"),
        (lambda: as_adapter(batteries["9 V lithium"]), UnitError, "adapter needs"),
    ],
)
def test_what_is_refused_and_how(call, kind, said):
    with pytest.raises(kind, match=said):
        call()


def test_a_battery_without_discharge_data_still_has_corners():
    plain = Battery("own", "unknown", "9 V", "9 V", "8.8 V", "9.2 V", "2 ohm", "1 ohm", "4 ohm")
    assert plain.corners[1] == (9, 2)
