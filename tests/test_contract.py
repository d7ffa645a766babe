"""What scripts outside the repository call: names, argument names and results that must not change."""

import dataclasses
import inspect
import json
import runpy
import subprocess
import sys
from operator import attrgetter

import numpy as np
import pint
import pytest

import sigcalc
from sigcalc import Q, SigcalcError

NAMES = [
    *("Q", "Led", "ConstantDrop", "Exponential", "leds", "batteries", "adapters", "ResistorDrive"),
    *("preferred_values", "colour_bands", "read_colour_bands", "exact_resistance", "choose_resistor"),
    *("ConstantCurrentDrive", "operate", "TwoLeadPair", "wire_resistance", "Plan", "SigcalcError"),
]

# every argument may be given by its name; what follows after these has a default
ARGUMENTS = {
    "exact_resistance": ["supply", "led", "current"],
    "choose_resistor": ["supply", "led", "current", "series", "tolerance"],
    "operate": ["supply", "drive", "led", "temperature"],
    "preferred_values": ["series"],
    "colour_bands": ["resistance", "tolerance"],
    "read_colour_bands": ["bands"],
    "wire_resistance": ["gauge", "length", "temperature"],
    "Led": ["name", "colour", "model", "max_current", "max_reverse_voltage"],
    "ConstantDrop": ["forward_voltage"],
    "Exponential": ["saturation_current", "ideality", "series_resistance", "temperature"],
    "ResistorDrive": ["resistance", "tolerance"],
    "ConstantCurrentDrive": ["current", "dropout"],
    "TwoLeadPair": ["red", "green", "extra_red", "extra_green"],
    "Exponential.fitted": ["points", "temperature"],
    "Exponential.voltage": ["current"],
    "Exponential.current": ["voltage"],
    "ConstantDrop.voltage": ["current"],
    "ConstantDrop.current": ["voltage"],
    "Led.voltage": ["current"],
    "Led.current": ["voltage"],
    "TwoLeadPair.operate": ["supply", "drive", "polarity"],
    "Plan.load": ["path"],
    "Plan.save": ["path"],
}

DROP = sigcalc.Led("red", "red", sigcalc.ConstantDrop("2 V"), max_current="30 mA", max_reverse_voltage="5 V")
RED, GREEN = sigcalc.leds["red alingap 3 mm"], sigcalc.leds["green gap 3 mm"]


@pytest.mark.parametrize("name", NAMES)
def test_the_name_is_there(name):
    assert getattr(sigcalc, name) is not None
    assert name in sigcalc.__all__
    assert name in dir(sigcalc)


def test_a_name_that_is_not_there(tmp_path):
    with pytest.raises(AttributeError, match="sigcalc has no 'resistor'; it has Adapter"):
        sigcalc.resistor  # noqa: B018
    program = tmp_path / "program.py"
    program.write_text("from sigcalc import resistor", encoding="utf-8")
    with pytest.raises(ImportError, match="resistor"):
        runpy.run_path(str(program))


@pytest.mark.parametrize("name", ARGUMENTS)
def test_arguments_have_these_names_and_all_further_ones_have_defaults(name):
    parameters = inspect.signature(attrgetter(name)(sigcalc)).parameters.values()
    given = [each for each in parameters if each.name != "self"]
    count = len(ARGUMENTS[name])
    assert [each.name for each in given[:count]] == ARGUMENTS[name]
    assert all(each.default is not each.empty for each in given[count:])


def test_usual_values():
    def defaults(function):
        parameters = inspect.signature(function).parameters.items()
        return {name: each.default for name, each in parameters if each.default is not each.empty}

    assert defaults(sigcalc.choose_resistor).items() >= {"series": "E12", "tolerance": 0.05}.items()
    assert defaults(sigcalc.ResistorDrive).items() >= {"tolerance": 0.0}.items()
    assert defaults(sigcalc.Exponential)["temperature"] == "27 degC"
    assert defaults(sigcalc.wire_resistance)["temperature"] == "20 degC"
    pair = defaults(sigcalc.TwoLeadPair)
    assert (pair["extra_red"], pair["extra_green"]) == ("0 ohm", "0 ohm")


class TestQ:
    def test_both_forms(self):
        assert Q(9, "V") == Q("9 V")
        assert isinstance(Q("9 V"), pint.Quantity)
        assert Q("9 V")._REGISTRY is pint.application_registry.get()

    def test_temperatures(self):
        assert Q("27 degC") == Q("27 °C") == Q(27, "degC")
        assert Q("27 degC").to("K").magnitude == pytest.approx(300.15)

    @pytest.mark.parametrize(
        ("text", "unit", "value"),
        [("4k7", "ohm", 4700), ("20 mA", "A", 0.02), ("1/8 in", "in", 0.125), ("470 Ω", "ohm", 470), ("9 V", "V", 9)],
    )
    def test_our_own_reading(self, text, unit, value):
        assert Q(text).to(unit).magnitude == pytest.approx(value)

    @pytest.mark.parametrize("text", ["1,5 V", "9..12 V", "20 ma", "680 R", "12 VDC", "9**9**9 V", "9"])
    def test_what_is_refused(self, text):
        with pytest.raises(SigcalcError):
            sigcalc.exact_resistance(supply=text, led=DROP, current="10 mA")


class TestTables:
    @pytest.mark.parametrize(
        "name", ["9 V alkaline", "9 V zinc-carbon", "9 V lithium", "8.4 V NiMH", "6 x AA alkaline"]
    )
    def test_fixed_keys(self, name):
        assert sigcalc.batteries[name].name == name

    @pytest.mark.parametrize("table", [sigcalc.leds, sigcalc.batteries, sigcalc.adapters])
    def test_they_are_mappings_to_records(self, table):
        name = next(iter(table))
        assert table[name].name == name
        assert dataclasses.is_dataclass(table[name])
        with pytest.raises(SigcalcError, match=name):
            table[name[:-1]]

    def test_names_of_leds_are_plain_and_lower_case(self):
        assert all(name == name.lower() for name in sigcalc.leds)


class TestModels:
    def test_exponential(self):
        model = sigcalc.Exponential("1e-21 A", 1.8, "4 ohm", temperature="27 degC")
        volts = model.voltage(current="10 mA")
        assert volts.check("[electric_potential]")
        assert model.current(voltage=volts).m_as("mA") == pytest.approx(10)
        led = sigcalc.Led(name="x", colour="red", model=model, max_current="20 mA", max_reverse_voltage="5 V")
        assert led.voltage(current="10 mA") == volts
        assert led.current(voltage=volts).m_as("mA") == pytest.approx(10)

    def test_constant_drop(self):
        assert sigcalc.ConstantDrop(forward_voltage="2 V").voltage(current="5 mA").m_as("V") == 2
        assert DROP.current(voltage="1 V").magnitude == 0

    def test_fitted(self):
        points = [("1.7481 V", "0.5 mA"), (Q(1.9081, "V"), Q(10, "mA")), ("2.0244 V", "30 mA")]
        model = sigcalc.Exponential.fitted(points, temperature="24.5 degC")
        assert model.voltage("10 mA").m_as("V") == pytest.approx(1.9081, abs=1e-3)
        assert sigcalc.Exponential.fitted(points=points[:1]).fit.assumed

    def test_the_drop_falls_when_it_gets_warmer(self):
        model = sigcalc.Exponential("1e-21 A", 1.8, "4 ohm")
        assert model.voltage("10 mA", temperature="60 degC") < model.voltage("10 mA")


class TestResistors:
    def test_preferred_values(self):
        values = sigcalc.preferred_values(series="E12")
        assert [float(each) for each in values] == [1, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2]

    def test_colour_bands_both_ways(self):
        bands = sigcalc.colour_bands(resistance="4700 ohm", tolerance=0.05)
        assert list(bands) == ["yellow", "violet", "red", "gold"]
        assert list(sigcalc.colour_bands(resistance="4k7", tolerance="5 %")) == list(bands)
        resistance, tolerance = sigcalc.read_colour_bands(bands=bands)
        assert resistance.m_as("ohm") == pytest.approx(4700)
        assert tolerance == pytest.approx(0.05)

    def test_exact_resistance(self):
        # Schultz, Grob's Basic Electronics, Ex 27-9: 24 V, 2 V, 25 mA gives 880 ohm
        found = sigcalc.exact_resistance(supply="24 V", led=DROP, current="25 mA")
        assert found.m_as("ohm") == pytest.approx(880)

    def test_choose_resistor(self):
        choice = sigcalc.choose_resistor(supply="9 V", led=DROP, current="10 mA", series="E12", tolerance=0.05)
        assert choice.resistance.m_as("ohm") == pytest.approx(820)
        assert choice.current.m_as("mA") == pytest.approx(7 / 0.820)
        assert choice.current_min.m_as("mA") == pytest.approx(7 / 0.861)
        assert choice.current_max.m_as("mA") == pytest.approx(7 / 0.779)
        assert choice.power.m_as("mW") == pytest.approx(49 / 0.779)
        assert choice.rating.m_as("W") >= 2 * choice.power.m_as("W")
        assert list(choice.bands) == ["grey", "red", "brown", "gold"]

    def test_where_nothing_would_light_the_choosers_raise(self):
        for chooser in (sigcalc.exact_resistance, sigcalc.choose_resistor):
            with pytest.raises(SigcalcError, match=r"supply 1\.5 V"):
                chooser(supply="1.5 V", led=DROP, current="10 mA")

    def test_wire_resistance(self):
        found = sigcalc.wire_resistance(gauge=26, length="1 m", temperature="20 degC").m_as("ohm")
        assert found == pytest.approx(sigcalc.wire_resistance(gauge="26 AWG", length="1 m").m_as("ohm"))
        area = sigcalc.wire_resistance(gauge="0.129 mm2", length="1 m").m_as("ohm")
        assert area == pytest.approx(found, rel=2e-3)


RESULT = ["current", "led_voltage", "drive_voltage", "led_power", "drive_power"]
PAIR = sigcalc.TwoLeadPair(red=RED, green=GREEN, extra_red="0 ohm", extra_green="100 ohm")
RESISTOR = sigcalc.ResistorDrive(resistance="680 ohm", tolerance=0.05)
DRIVER = sigcalc.ConstantCurrentDrive(current="10 mA", dropout="1.5 V")


class TestOperate:
    @pytest.mark.parametrize("drive", [RESISTOR, DRIVER])
    @pytest.mark.parametrize("led", [RED, DROP, [RED, GREEN]])
    def test_results(self, drive, led):
        point = sigcalc.operate(supply="9 V", drive=drive, led=led, temperature=None)
        units = zip(RESULT, ("A", "V", "V", "W", "W"), strict=True)
        assert all(getattr(point, name).is_compatible_with(unit) for name, unit in units)
        assert (point.led_voltage + point.drive_voltage).m_as("V") == pytest.approx(9)
        assert point.led_power.m_as("W") == pytest.approx((point.current * point.led_voltage).m_as("W"))

    def test_a_driver_holds_its_current_and_below_drop_out_is_a_resistance(self):
        assert sigcalc.operate(supply="9 V", drive=DRIVER, led=DROP).current.m_as("mA") == pytest.approx(10)
        low = sigcalc.operate(supply="2.75 V", drive=DRIVER, led=DROP)
        assert low.current.m_as("mA") == pytest.approx(0.75 / 1.5 * 10)

    def test_below_the_drop_the_supply_lies_across_the_led(self):
        point = sigcalc.operate(supply="1 V", drive=RESISTOR, led=RED)
        assert point.current.m_as("A") < 1e-9
        assert point.led_voltage.m_as("V") == pytest.approx(1, abs=1e-6)

    def test_arrays_broadcast(self):
        drive = sigcalc.ResistorDrive(resistance=["470 ohm", "680 ohm", "1 kohm"])
        point = sigcalc.operate(supply=Q(np.array([[5.0], [9.0]]), "V"), drive=drive, led=RED)
        assert point.current.shape == point.led_power.shape == (2, 3)
        one = sigcalc.operate(supply="9 V", drive=sigcalc.ResistorDrive("680 ohm"), led=RED)
        assert point.current[1, 1].magnitude == pytest.approx(one.current.magnitude, rel=1e-12)


class TestPair:
    @pytest.mark.parametrize("drive", [RESISTOR, DRIVER])
    @pytest.mark.parametrize(("polarity", "lit"), [(+1, "red"), (-1, "green")])
    def test_results(self, drive, polarity, lit):
        point = PAIR.operate(supply="9 V", drive=drive, polarity=polarity)
        assert point.lit == lit
        values = [getattr(point, name).magnitude for name in (*RESULT, "extra_power", "reverse_voltage")]
        assert all(value >= 0 for value in values)
        across = 9 - point.drive_voltage.m_as("V")
        assert point.reverse_voltage.m_as("V") == pytest.approx(across)
        extra = 0.0 if lit == "red" else 100 * point.current.m_as("A") ** 2
        assert point.extra_power.m_as("W") == pytest.approx(extra)

    @pytest.mark.parametrize("polarity", [0, 2, "red", None, True])
    def test_a_polarity_that_is_none(self, polarity):
        with pytest.raises(SigcalcError, match="polarity"):
            PAIR.operate(supply="9 V", drive=RESISTOR, polarity=polarity)

    def test_arrays_of_strings(self):
        point = PAIR.operate(supply=["9 V", "0.5 V"], drive=RESISTOR, polarity=[[1], [-1]])
        assert point.lit.tolist() == [["red", "none"], ["green", "none"]]


BARE = {
    "supply of exact_resistance": lambda: sigcalc.exact_resistance(supply=9, led=DROP, current="10 mA"),
    "current of exact_resistance": lambda: sigcalc.exact_resistance(supply="9 V", led=DROP, current=0.01),
    "supply of choose_resistor": lambda: sigcalc.choose_resistor(supply=9.0, led=DROP, current="10 mA"),
    "supply of operate": lambda: sigcalc.operate(supply=np.array([9.0]), drive=RESISTOR, led=DROP),
    "resistance of ResistorDrive": lambda: sigcalc.ResistorDrive(resistance=470),
    "current of ConstantCurrentDrive": lambda: sigcalc.ConstantCurrentDrive(current=0.01, dropout="1 V"),
    "dropout of ConstantCurrentDrive": lambda: sigcalc.ConstantCurrentDrive(current="10 mA", dropout=1),
    "extra_red of TwoLeadPair": lambda: sigcalc.TwoLeadPair(red=RED, green=GREEN, extra_red=0),
    "supply of TwoLeadPair.operate": lambda: PAIR.operate(supply=9, drive=RESISTOR, polarity=1),
    "forward_voltage of ConstantDrop": lambda: sigcalc.ConstantDrop(forward_voltage=2),
    "series_resistance of Exponential": lambda: sigcalc.Exponential("1e-21 A", 1.8, 4),
    "current of Led.voltage": lambda: RED.voltage(current=0.01),
    "voltage of Led.current": lambda: RED.current(voltage=2),
    "resistance of colour_bands": lambda: sigcalc.colour_bands(resistance=4700, tolerance=0.05),
    "length of wire_resistance": lambda: sigcalc.wire_resistance(gauge=26, length=1),
}


@pytest.mark.parametrize("name", BARE)
def test_a_bare_number_is_refused_with_the_line_that_mends_it(name):
    argument = name.split()[0]
    with pytest.raises(SigcalcError, match=rf'^{argument} needs .*with its unit, for example "\d.*; you gave '):
        BARE[name]()


@pytest.mark.parametrize("tolerance", [0.05, "5 %", Q(5, "%")])
def test_a_tolerance_is_a_fraction_or_per_cent(tolerance):
    assert sigcalc.ResistorDrive("470 ohm", tolerance=tolerance).tolerance == pytest.approx(0.05)


class TestPlan:
    def test_load_save_study(self, tmp_path):
        path = tmp_path / "signal.toml"
        sigcalc.Plan().save(path=path)
        plan = sigcalc.Plan.load(path=str(path))
        assert plan == sigcalc.Plan()
        told = json.loads(json.dumps(plan.study().to_dict(), allow_nan=False))
        nominal = told["figures"]["supply"]["nominal"]
        assert nominal == {"value": 12.0, "unit": "V"}

    def test_faults(self, tmp_path):
        path = tmp_path / "signal.toml"
        path.write_text('version = 1\n[red]\npart = "x"\n[green]\npart = 5\n', encoding="utf-8")
        with pytest.raises(SigcalcError) as refusal:
            sigcalc.Plan.load(path)
        assert isinstance(refusal.value, ValueError)
        assert len(refusal.value.faults) == 2


@pytest.mark.parametrize(
    ("line", "unwanted"),
    [
        ("import sigcalc", ["numpy", "pint", "pydantic", "matplotlib", "schemdraw", "jinja2", "tomlkit", "scipy"]),
        ("import sigcalc.physics.diode", ["pint", "pydantic", "matplotlib", "schemdraw", "jinja2", "tomlkit"]),
    ],
)
def test_importing_is_light(line, unwanted):
    code = f"import sys; {line}; print([name for name in {unwanted} if name in sys.modules])"
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert ran.stdout.strip() == "[]"
