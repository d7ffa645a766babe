"""The LEDs and diodes of the tables against what is printed in the sheets they name."""

import numpy as np
import pytest

from sigcalc import Q, diodes, leds
from sigcalc.errors import UnknownNameError
from sigcalc.parts.table import read_figures


def printed(name, quantity, unit):
    return getattr(leds[name], quantity).to(unit).magnitude


# led-tlhr4400: Vishay 83006 (dtsheet.com/doc/1690477): "TLHR4400 Red 1.6 13 - 10 612 - 625 10 - 2 3 20 GaAsP on GaP"
TLHR4400 = {"drop": 2.0, "most": 3.0, "mA": 20, "mcd": (1.6, 13), "at mA": 10, "nm": (612, 625)}
# led-tlhg4400: Vishay 83006 rev 2.2: "TLHG4400 Green 2.5 4 - 10 562 - 575 - 2.4 3 20 GaP on GaP"
TLHG4400 = {"drop": 2.4, "most": 3.0, "mA": 20, "mcd": (2.5, 4), "at mA": 10, "nm": (562, 575)}
# led-tlhk4400l (dtsheet.com/doc/1693356): 1.9 V typical, 2.6 V most at 20 mA; 16 and 70 mcd at 10 mA; 626 to 639 nm
TLHK4400L = {"drop": 1.9, "most": 2.6, "mA": 20, "mcd": (16, 70), "at mA": 10, "nm": (626, 639)}
# led-yellow-vishay: TLHY6400 (tr.scribd.com/373947354): "Yellow 1.6 10 - 10 581 - 594 10 - 2.4 3 20"
TLHY6400 = {"drop": 2.4, "most": 3.0, "mA": 20, "mcd": (1.6, 10), "at mA": 10, "nm": (581, 594)}
# led-lowcurrent-hlmp17xx (pdf.datasheet.technology, HLMP-1719): "4700 1700 1.8 2.0 V 2mA 4719 1719 1.9 2.5 4740 1790
# 1.8 2.2"; least and typical mcd at 2 mA; dominant wavelengths 626, 585, 569 nm
HLMP1700 = {"drop": 1.8, "most": 2.0, "mA": 2, "mcd": (0.8, 2.1), "at mA": 2, "nm": (626, 626)}
HLMP1719 = {"drop": 1.9, "most": 2.5, "mA": 2, "mcd": (0.9, 1.6), "at mA": 2, "nm": (585, 585)}
HLMP1790 = {"drop": 1.8, "most": 2.2, "mA": 2, "mcd": (1.0, 2.1), "at mA": 2, "nm": (569, 569)}
# led-asmt-qtb4: Broadcom ASMT-QTB4 p. 3, green: 2.8, 3.2, 3.8 V, dominant 525 to 537 nm ("Green 525 530 537");
# led-ll304-ingan (dtsheet.com/doc/2808813): 2900 and 3800 mcd at 20 mA
INGAN = {"drop": 3.2, "most": 3.8, "mA": 20, "mcd": (2900, 3800), "at mA": 20, "nm": (525, 537)}
SHEETS = {
    "red gaasp 3 mm": TLHR4400,
    "green gap 3 mm": TLHG4400,
    "red alingap 3 mm": TLHK4400L,
    "yellow gaasp 3 mm": TLHY6400,
    "red low-current 3 mm": HLMP1700,
    "yellow low-current 3 mm": HLMP1719,
    "green low-current 3 mm": HLMP1790,
    "green ingan 3 mm": INGAN,
}


@pytest.mark.parametrize("name", SHEETS)
class TestSheets:
    def test_drop_at_the_sheet_s_current(self, name):
        sheet = SHEETS[name]
        led = leds[name]
        at = Q(sheet["mA"], "mA")
        assert led.voltage(at, temperature="25 degC").to("V").magnitude == pytest.approx(sheet["drop"], abs=1e-6)
        assert led.voltage(at).to("V").magnitude == pytest.approx(sheet["drop"], abs=1e-6)
        assert (led.voltage(at) + led.drop_above).to("V").magnitude == pytest.approx(sheet["most"], abs=1e-6)
        assert led.drop_below.magnitude > 0

    def test_light(self, name):
        sheet = SHEETS[name]
        least, typical = sheet["mcd"]
        assert printed(name, "intensity_min", "millicandela") == pytest.approx(least)
        assert printed(name, "intensity", "millicandela") == pytest.approx(typical)
        assert printed(name, "intensity_current", "mA") == pytest.approx(sheet["at mA"])
        assert leds[name].light(Q(sheet["at mA"], "mA")).to("millicandela").magnitude == pytest.approx(typical)

    def test_wavelength(self, name):
        low, high = SHEETS[name]["nm"]
        assert low <= round(printed(name, "wavelength", "nm"), 6) <= high


def test_white():
    # led-white-rnd: RND 135-00123 p. 2: "Forward Voltage VF 2.60 3.00 3.40 V IF=20mA"; 25 mA, 85 mW, 5 V
    white = leds["white 3 mm"]
    drop = white.voltage("20 mA")
    span = [(drop - white.drop_below), drop, (drop + white.drop_above)]
    assert [each.to("V").magnitude for each in span] == pytest.approx([2.60, 3.00, 3.40])
    assert printed("white 3 mm", "max_current", "mA") == pytest.approx(25)
    assert printed("white 3 mm", "max_power", "mW") == pytest.approx(85)


@pytest.mark.parametrize(
    ("name", "quantity", "unit", "value"),
    [
        # led-tlhk4400l: dtsheet.com/doc/1693356
        ("red alingap 3 mm", "max_current", "mA", 30),
        ("red alingap 3 mm", "max_power", "mW", 80),
        ("red alingap 3 mm", "max_junction_temperature", "degC", 100),
        ("red alingap 3 mm", "thermal_resistance", "K/W", 400),
        # led-hlmp13xx-absmax (pdf.datasheet.support, HLMP-1421): "DC Current[2] 30 20 30 mA Power Dissipation[3] 135 85
        # 135 mW"
        ("red gaasp 3 mm", "max_current", "mA", 30),
        ("yellow gaasp 3 mm", "max_current", "mA", 20),
        ("green gap 3 mm", "max_current", "mA", 30),
        ("red gaasp 3 mm", "max_power", "mW", 135),
        ("yellow gaasp 3 mm", "max_power", "mW", 85),
        ("green gap 3 mm", "max_power", "mW", 135),
        ("green gap 3 mm", "max_junction_temperature", "degC", 110),
        # led-ll304-ingan: dtsheet.com/doc/2808813
        ("green ingan 3 mm", "max_current", "mA", 25),
        ("green ingan 3 mm", "max_power", "mW", 90),
        # led-asmt-qtb4 (Broadcom ASMT-QTB4 p. 3): dominant wavelength of the green chip
        ("green ingan 3 mm", "wavelength", "nm", 530),
        # from memory: no sheet gives the low-current lamps' most current
        ("red low-current 3 mm", "max_current", "mA", 7),
    ],
)
def test_ratings(name, quantity, unit, value):
    assert printed(name, quantity, unit) == pytest.approx(value)


@pytest.mark.parametrize("name", leds)
def test_all_stand_five_volts_in_reverse(name):
    # led-tlhk4400l, led-hlmp13xx-absmax, led-lowcurrent-hlmp17xx (at least), led-ll304-ingan, led-white-rnd: 5 V
    assert printed(name, "max_reverse_voltage", "V") == pytest.approx(5)


# LED22: T. R. Kuphaldt, Lessons in Electric Circuits Vol. III, ch. 3: usual forward voltages by colour
RANGES = {"red": (1.5, 2.4), "green": (1.7, 2.8), "yellow": (1.7, 2.8), "white": (3.0, 4.0), "ingan": (3.0, 4.0)}


@pytest.mark.parametrize("name", leds)
def test_the_typical_drop_lies_in_the_usual_range_of_its_colour(name):
    led, figures = leds[name], leds.figures(name)
    low, high = RANGES["ingan" if figures["technology"].value == "InGaN" else led.colour]
    assert low <= round(led.voltage(figures["test_current"].text).to("V").magnitude, 6) <= high


@pytest.mark.parametrize("name", leds)
def test_every_led_is_whole(name):
    led = leds[name]
    assert led.name == name == name.lower()
    assert led.note == "typical, not guaranteed"
    assert led.colour in ("red", "green", "yellow", "white")
    assert led.model.fit.assumed == ("ideality", "series_resistance")
    assert led.model.temperature.to("degC").magnitude == pytest.approx(25)
    currents = np.geomspace(1e-6, led.si.max_current, 20)
    volts = led.model.voltage_si(currents)
    assert np.all(np.diff(volts) > 0)
    # at its most current it must not already be beyond its power
    if led.max_power is not None:
        assert led.si.max_current * volts[-1] < led.si.max_power


def test_the_lamps_that_are_promised():
    promised = {
        "red alingap 3 mm",
        "red gaasp 3 mm",
        "red low-current 3 mm",
        "green gap 3 mm",
        "green ingan 3 mm",
        "yellow gaasp 3 mm",
        "white 3 mm",
    }
    assert promised <= set(leds)


@pytest.mark.parametrize("name", diodes)
def test_every_diode_is_whole(name):
    diode = diodes[name]
    # a silicon diode drops 0.5 to 0.8 V at 10 mA (common practice, no source)
    assert 0.5 < diode.voltage("10 mA").to("V").magnitude < 0.8
    assert diode.si.max_reverse_voltage >= 50
    assert diode.intensity is None
    assert diode.note == "typical, not guaranteed"


def test_the_1n4001_of_the_book():
    # T. R. Kuphaldt, Lessons in Electric Circuits Vol. III, ch. 3: IS=18.8n, N=2
    assert diodes["1n4001"].model.saturation_current.to("nA").magnitude == pytest.approx(18.8)
    assert diodes["1n4001"].model.ideality == 2


@pytest.mark.parametrize(
    ("wrong", "near"),
    [("red alingap", "red alingap 3 mm"), ("GREEN GAP 3 MM", "green gap 3 mm"), ("wite", "white 3 mm")],
)
def test_a_name_in_no_table_lists_the_nearest(wrong, near):
    with pytest.raises(UnknownNameError, match=f"LED '{wrong}' is not known; use one of: .*'{near}'"):
        leds[wrong]


def test_the_figures_behind_a_lamp_can_be_read():
    figures = leds.figures("red alingap 3 mm")
    assert figures["forward_voltage"].text == "1.9 V"
    assert "TLHK4400L" in figures["forward_voltage"].source
    assert figures["forward_voltage_min"].from_memory
    assert read_figures("leds.csv")["red alingap 3 mm"] == figures
