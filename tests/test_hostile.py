"""Arguments that no honest script gives: each public function answers or refuses with our own error, and soon."""

import numpy as np
import pint
import pytest

import sigcalc
from sigcalc import Layout, Plan, Q, SigcalcError, Talk
from sigcalc.design.bench.circuit import BenchCircuit
from sigcalc.design.bench.fault import faults_of

LOOP, MAPPED, BOXED, DEEP = [], {}, np.empty(2, object), []
LOOP.append(LOOP)
MAPPED["red"] = MAPPED
BOXED[:] = [BOXED, 1]
for _ in range(3000):
    DEEP = [DEEP]


class Unsayable:
    def __repr__(self):
        raise RuntimeError


HOSTILE = {
    "no number": float("nan"),
    "endless": float("inf"),
    "negative": -1,
    "huge": 1e308,
    "beyond a float": 10**400,
    "complex": np.complex128(3 + 1j),
    "complex array": np.array([1 + 0j, 2]),
    "masked": np.ma.masked_array([1.0, 2.0], mask=[False, True]),
    "masked quantity": pint.Quantity(np.ma.masked_array([1.0, 2.0], mask=[False, True]), "V"),
    "span of time": np.timedelta64(3, "s"),
    "spans of time": np.array([1, 2], "timedelta64[s]"),
    "half a character": "\ud800",
    "long text": "x" * 100_000,
    "bytes": b"9 V",
    "text": "no",
    "list in itself": LOOP,
    "mapping in itself": MAPPED,
    "array in itself": BOXED,
    "deep list": DEEP,
    "wrong mapping": {"red": LOOP},
    "wrong keys": {5: "red"},
    "empty": [],
    "empty array": np.zeros((0, 3)),
    "none": None,
    "yes": True,
    "unsayable": Unsayable(),
    "class": Plan,
    "quantity": Q("5 V"),
    "least": "5e-324 s",
}

RED, GREEN = sigcalc.leds["bright red 3 mm"], sigcalc.leds["ordinary green 3 mm"]
DRIVE, PAIR = sigcalc.ResistorDrive("680 ohm", 0.05), sigcalc.TwoLeadPair(RED, GREEN)
ADAPTER, BATTERY = sigcalc.adapters["9 V regulated"], sigcalc.batteries["9 V alkaline"]
LOAD = sigcalc.Load(DRIVE, PAIR)
CIRCUIT = BenchCircuit(ADAPTER, DRIVE, PAIR)
FAULT = faults_of(CIRCUIT)[1]
BOARD = sigcalc.star_board("board", ADAPTER, LOAD, 2, "24 AWG", "2 m")
RUN, ENERGY = sigcalc.run_time(BATTERY, LOAD, 0.5), sigcalc.yearly_energy(ADAPTER, "20 mA", "3 h")
SIGNAL = sigcalc.SimulatedSignal(CIRCUIT, FAULT, 1)
FEEDERS = [{"name": "run", "start": "supply", "end": "post", "length": "3 m"}]
LAYOUT = Layout(feeders=FEEDERS, signals=[{"name": "home", "at": "post"}])
SCENE = {"name": "light", "panel": "first light", "minutes": 2, "question": "Does the lamp follow?"}
TALK = Talk(name="light", scene=[SCENE], kit=[{"item": "LED", "each": 1}])
FEW = {"pairs": False, "draws": 20, "seed": 1}

CALLS = {
    "Q": (Q, {"value": 9, "unit_symbol": "V"}),
    "ResistorDrive": (sigcalc.ResistorDrive, {"resistance": "470 ohm", "tolerance": 0.05}),
    "Led.voltage": (RED.voltage, {"current": "5 mA", "temperature": "20 degC"}),
    "fitted": (sigcalc.Exponential.fitted, {"points": [("1.8 V", "1 mA")], "temperature": "20 degC"}),
    "operate": (sigcalc.operate, {"supply": "9 V", "drive": DRIVE, "led": RED, "temperature": "20 degC"}),
    "pair": (PAIR.operate, {"supply": "9 V", "drive": DRIVE, "polarity": 1}),
    "branch": (PAIR.branch, {"lamp": "red"}),
    "extra": (CIRCUIT.extra, {"lamp": "red"}),
    "choose_resistor": (sigcalc.choose_resistor, {"supply": "9 V", "led": RED, "current": "5 mA", "series": "E12"}),
    "compare_drives": (sigcalc.compare_drives, {"supply": "9 V", "drives": {"a": DRIVE}, "lamp": RED, "polarity": 1}),
    "colour_bands": (sigcalc.colour_bands, {"resistance": "470 ohm", "tolerance": 0.05, "digits": 2}),
    "read_colour_bands": (sigcalc.read_colour_bands, {"bands": ["red", "red", "red", "gold"]}),
    "wire_resistance": (sigcalc.wire_resistance, {"gauge": 26, "length": "1 m"}),
    "scale_speed": (sigcalc.scale_speed, {"speed": "40 mph", "scale": "HO"}),
    "Board.signal": (BOARD.signal, {"name": "signal 1"}),
    "feeder_voltages": (sigcalc.feeder_voltages, {"supply": "9 V", "resistances": "1 ohm", "currents": "20 mA"}),
    "star_board": (
        sigcalc.star_board,
        {"name": "b", "source": ADAPTER, "load": LOAD, "count": 2, "wire": 24, "run": "2 m"},
    ),
    "evenings": (sigcalc.evenings, {"run": RUN, "hours_each": "3 h", "every": "7 days"}),
    "break_even": (
        sigcalc.break_even,
        {"energy": ENERGY, "adapter_price": 9, "price_per_kwh": 0.3, "battery_price": 3, "evenings_each": 9, "uses": 1},
    ),
    "leds": (sigcalc.leds.__getitem__, {"name": "bright red 3 mm"}),
    "SimulatedSignal": (
        sigcalc.SimulatedSignal,
        {"circuit": CIRCUIT, "fault": FAULT, "seed": 1, "meter": "hand meter"},
    ),
    "read": (SIGNAL.read, {"name": "pair, red"}),
    "diagnose": (
        sigcalc.diagnose,
        {"circuit": CIRCUIT, "seen": {"red": "red"}, "readings": {"pair, red": "1.9 V"}, "priors": {}, **FEW},
    ),
    "fault_views": (sigcalc.fault_views, {"circuit": CIRCUIT, "meter": "hand meter", **FEW}),
    "look_alikes": (sigcalc.look_alikes, {"circuit": CIRCUIT, "points": ["pair, red"], **FEW}),
    "Plan": (Plan, {"name": "home", "mast": {"height": "130 mm"}, "drive": {"current": "5 mA"}}),
    "Plan.load": (Plan.load, {"path": "nowhere.toml"}),
    "with_changes": (Plan().mast.with_changes, {"height": "140 mm", "lamp_hole": "1/8 in"}),
    "Layout": (Layout, {"feeders": FEEDERS, "signals": [{"name": "home", "at": "post"}], "share": "80 %"}),
    "plan_of": (LAYOUT.plan_of, {"signal": LAYOUT.signals[0]}),
    "own_supply": (LAYOUT.own_supply, {"signal": LAYOUT.signals[0]}),
    "Talk": (Talk, {"name": "light", "scene": [SCENE], "kit": [{"item": "LED", "each": 1}], "seats": 20}),
    "Scene": (TALK.scene[0].with_changes, {"start": {"supply": 9}, "minutes": 3, "cover": ["verdict"]}),
    "Talk.load": (Talk.load, {"path": "nowhere.toml"}),
    "Talk.from_plan": (Talk.from_plan, {"plan": Plan(), "minutes": 15, "seats": 30}),
    "Talk.from_layout": (Talk.from_layout, {"layout": LAYOUT, "minutes": 15, "seats": 30}),
    "kit_list": (TALK.kit_list, {"seats": 20, "spares": "10 %"}),
}  # fmt: skip


def said_to(function, given):
    """The sentence of a refusal, or that there was an answer."""
    try:
        function(**given)
    except SigcalcError as refusal:
        return str(refusal)
    return "answered"


@pytest.mark.parametrize("name", CALLS)
def test_any_one_argument_may_be_hostile(name):
    function, usual = CALLS[name]
    for argument in usual:
        for value in HOSTILE.values():
            said = said_to(function, usual | {argument: value})
            assert 0 < len(said.encode()) < 3000  # which half a character would not allow


REFUSED = {
    "yes or no as text": ("fault_views", {"pairs": "no"}, "pairs needs True or False; you gave 'no'"),
    "no fault": ("SimulatedSignal", {"fault": "short"}, "fault needs one of faults_of"),
    "a seed as text": ("SimulatedSignal", {"seed": "1"}, "seed needs a whole number from 0"),
    "draws as text": ("diagnose", {"draws": "20"}, "draws needs a whole number from 1 to 5000"),
    "more draws than fit": ("look_alikes", {"draws": 10**6}, "draws needs a whole number from 1 to 5000"),
    "looks that are no mapping": ("diagnose", {"seen": "red"}, "seen needs a mapping such as .*; you gave 'red'"),
    "readings that are no mapping": ("diagnose", {"readings": 5}, "readings needs a mapping such as .*; you gave 5"),
    "weights that are no mapping": ("diagnose", {"priors": ["a"]}, "priors needs a mapping"),
    "points in one text": ("look_alikes", {"points": "pair, red"}, "points needs a list of names"),
    "hidden values": ("operate", {"supply": HOSTILE["masked quantity"]}, "supply needs numbers"),
    "hidden ratios": ("ResistorDrive", {"tolerance": HOSTILE["masked"]}, "tolerance needs a fraction"),
    "a complex price": ("break_even", {"battery_price": np.complex128(3)}, "battery_price needs a plain number"),
    "a span of time as a price": ("break_even", {"uses": np.timedelta64(3, "s")}, "uses needs a plain number"),
    "a span of time as a scale": ("scale_speed", {"scale": np.timedelta64(48, "s")}, "scale needs a name or a ratio"),
    "no time at all": ("evenings", {"hours_each": "1e-300 h"}, "hours_each needs a second at least"),
    "a list in itself": ("operate", {"supply": LOOP}, "supply needs one supply voltage"),
    "hidden polarities": ("pair", {"polarity": np.ma.masked_array([1, -1], mask=[0, 1])}, "polarity needs"),
    "no lamp": ("branch", {"lamp": "blue"}, "lamp 'blue' is not known"),
    "no signal": ("plan_of", {"signal": "home"}, "signal needs one of layout.signals; you gave 'home'"),
}  # fmt: skip


@pytest.mark.parametrize("case", REFUSED)
def test_what_was_taken_or_raised_another_error(case):
    name, hostile, said = REFUSED[case]
    function, usual = CALLS[name]
    with pytest.raises(SigcalcError, match=said):
        function(**usual | hostile)


def test_nothing_hidden_is_no_mask():
    supply = pint.Quantity(np.ma.masked_array([9.0, 12.0], mask=[False, False]), "V")
    assert sigcalc.operate(supply, DRIVE, RED).current.shape == (2,)


def test_progress_that_cannot_be_called():
    with pytest.raises(SigcalcError, match="progress needs a function"):
        LAYOUT.study(progress=5)
