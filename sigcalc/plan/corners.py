"""The figures of a plan's circuit over all corners of its tolerances: supply, resistors and the LEDs' spread."""

from __future__ import annotations

import itertools
from dataclasses import replace
from typing import Any

import numpy as np

from ..design.lamp.led_string import loop_current, shift_of, string_voltage
from ..parts.drive import ConstantCurrentDrive
from .circuit import LAMPS, Circuit
from .result import Band

_NOMINAL = 13  # of the 27 corners, the one with everything nominal


def lamp_figures(circuit: Circuit, lamp: str) -> dict[str, Band]:
    """Bands of one lamp's figures while it is lit: current, voltages, powers, and its light where it is known.

    Each of supply, resistance and LED spread takes its least, nominal and most value in
    every combination; the band spans the answers. The tolerances of supply, resistors and
    LED are taken as independent, and all resistors as off in the same direction.
    """
    volts, source_ohms, off, spread = _corners(circuit)
    string, extra = circuit.pair.branch(lamp)
    led, driven = string[0], isinstance(circuit.drive, ConstantCurrentDrive)
    drive_scale, extra = 1 + off * circuit.drive.tolerance, extra * (1 + off * circuit.plan.drive.tolerance)
    # a driver set to more current has less resistance below its drop-out
    shared = circuit.drive.series_resistance * (1 / drive_scale if driven else drive_scale)
    current = loop_current(volts, source_ohms + shared + extra, string, None, spread)
    if driven:
        current = np.minimum(current, circuit.drive.limit * drive_scale)
    led_volts = led.model.voltage_si(current, None, shift_of(led, spread))
    extra_volts = current * extra
    across = string_voltage(current, string, None, spread) + extra_volts
    drive_volts = np.maximum(volts - current * source_ohms - across, 0.0) if driven else current * shared
    name = "driver" if driven else "shared resistor"
    values = {
        "current": ("current", current, "A"),
        "led_voltage": ("voltage across the LED", led_volts, "V"),
        "extra_voltage": ("voltage across the branch's own resistor", extra_volts, "V"),
        "pair_voltage": ("voltage across the two wires", across, "V"),
        "drive_voltage": (f"voltage across the {name}", drive_volts, "V"),
        "led_power": ("heat in the LED", current * led_volts, "W"),
        "extra_power": ("heat in the branch's own resistor", current * extra_volts, "W"),
        "shared_power": (f"heat in the {name}", current * drive_volts, "W"),
    }
    if led.intensity is not None:
        values["light"] = ("light on the axis", led.light_si(current), "cd")
    bands = {
        f"{lamp}_{key}": _band(f"{lamp} lit: {said}", each, unit, "supply, resistor and LED spread")
        for key, (said, each, unit) in values.items()
    }
    if led.intensity is not None:
        light, (least, most) = bands[f"{lamp}_light"], led.light_shares
        bands[f"{lamp}_light"] = replace(
            light,
            least=light.least * least,
            most=light.most * most,
            hangs_on=f"{light.hangs_on}, and how LEDs of a type vary in light",
        )
    return bands


def supply_band(circuit: Circuit) -> Band:
    """The open-circuit voltage of the supply."""
    supply = circuit.plan.supply
    return Band("supply, without load", *supply.corners(), "V", supply.hangs_on)


def resistance_bands(circuit: Circuit) -> dict[str, Band]:
    """The resistors of the circuit as bought."""
    tolerance = circuit.plan.drive.tolerance
    values = {"shared_resistance": ("shared resistor", circuit.shared_resistance)}
    values |= {f"{lamp}_resistance": (f"extra resistor, {lamp} branch", circuit.extra(lamp)) for lamp in LAMPS}
    if circuit.driver is not None:
        values["setting_resistance"] = ("resistor that sets the regulator's current", circuit.driver.setting)
    for place, combination in circuit.combinations.items():
        if combination.second is not None:
            label, ohms = values[f"{place}_resistance"]
            values[f"{place}_resistance"] = (f"{label} (two {combination.arrangement})", ohms)
    return {
        key: Band(label, ohms * (1 - tolerance), ohms, ohms * (1 + tolerance), "ohm", "the resistor's tolerance")
        for key, (label, ohms) in values.items()
        if ohms > 0
    }


def _corners(circuit: Circuit) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Supply in V, its internal resistance in ohm, shares of the drive's and the LED's spread: 27 corners."""
    source = circuit.plan.supply.source()
    ohms = (0.0,) * 3 if source is None else tuple(each for _, each in source.corners)
    supplies = list(zip(circuit.plan.supply.corners(), ohms, strict=True))
    grid = itertools.product(supplies, (-1.0, 0.0, 1.0), (-1.0, 0.0, 1.0))
    columns = np.array([(volts, inner, off, spread) for (volts, inner), off, spread in grid]).T
    return tuple(columns)


def _band(label: str, values: Any, unit: str, hangs_on: str) -> Band:
    values = np.broadcast_to(values, (27,))
    return Band(label, float(values.min()), float(values[_NOMINAL]), float(values.max()), unit, hangs_on)
