"""Plans for tests: any valid one (a hypothesis strategy), and the invented layout's."""

import math
from pathlib import Path

from hypothesis import reject
from hypothesis import strategies as st

from sigcalc import Plan, SigcalcError
from sigcalc.design.board.wire_and_holes import lamp_outlines
from sigcalc.parts.capacitor import capacitor_kinds
from sigcalc.parts.drill import drills
from sigcalc.parts.led import leds
from sigcalc.parts.magnet import magnets
from sigcalc.parts.relay import relays
from sigcalc.parts.source import adapters, batteries
from sigcalc.parts.timer import timers
from sigcalc.parts.wire import wires
from sigcalc.plan.circuit_fields import DRIVE_TABLES

FOLDER = Path(__file__).parents[2] / "notebooks" / "plans"
LAYOUT = FOLDER / "quillhaven_layout.toml"
QUILLHAVEN = sorted(each for each in FOLDER.glob("quillhaven_*.toml") if each != LAYOUT)

LAMPS = {"red": {"part": "red alingap 3 mm"}, "green": {"part": "green gap 3 mm"}}
FORMS = {
    "shared": {"drive": {"current": "8 mA"}},
    "extra": {"drive": {"resistance": "680 ohm"}, "wiring": {"form": "shared and extra", "extra_red": "47 ohm"}},
    "own": {"wiring": {"form": "one in each branch", "series_diodes": True, "reversing": "relay"}},
    "driver": {"drive": {"kind": "constant current", "current": "8 mA"}},
    "train": {"wiring": {"reversing": "relay"}, "trigger": {"relay": "12 V two-pole"}},
}
"""The usual ways to feed two lamps, and one that a train sets."""


def _quantity(unit, low, high):
    """Values as people write them, spread evenly over the powers of ten."""
    return st.floats(low, high).map(lambda power: f"{10**power:.3g} {unit}")


_ohms = _quantity("ohm", -1, 6)
_amperes = st.one_of(st.sampled_from(["2 mA", "5 mA", "15 mA"]), _quantity("A", -6, 1))
_volts = st.floats(0.1, 60).map(lambda volts: f"{volts:.3g} V")
_tolerances = st.one_of(st.sampled_from(["1 %", "5 %", 0.1]), st.floats(0, 0.5))
_nothing = st.just({})


def _maybe(name, values):
    return st.one_of(_nothing, values.map(lambda value: {name: value}))


def _merged(*parts):
    return st.tuples(*parts).map(lambda each: {name: value for part in each for name, value in part.items()})


@st.composite
def _own_lamps(draw):
    """Points on a diode's curve, as a meter of three digits after the point shows them."""
    volts, ideality, ohms = draw(st.floats(1.2, 3.5)), draw(st.floats(1, 4)), draw(st.floats(0, 20))
    milliamperes = sorted(draw(st.lists(st.floats(0.1, 30), min_size=1, max_size=5)))
    points = [
        [f"{volts + 0.0257 * ideality * math.log(each) + ohms * each / 1e3:.3f} V", f"{each} mA"]
        for each in milliamperes
    ]
    more = draw(
        _merged(
            _maybe("max_reverse_voltage", _volts),
            _maybe("drop_below", st.just("0.1 V")),
            _maybe("drop_above", st.just("0.3 V")),
            st.one_of(_nothing, st.just({"intensity": "20 mcd", "intensity_current": "5 mA"})),
        )
    )
    return {"points": points, "max_current": draw(_amperes)} | more


_lamps = st.one_of(st.sampled_from(list(leds)).map(lambda name: {"part": name}), _own_lamps())
_sources = st.one_of(
    st.sampled_from(list(adapters)).map(lambda name: {"kind": "adapter", "part": name}),
    st.sampled_from(list(batteries)).map(lambda name: {"kind": "battery", "part": name}),
    st.tuples(st.sampled_from(["adapter", "battery"]), _volts).map(lambda pair: {"kind": pair[0], "voltage": pair[1]}),
    st.floats(1, 40).map(
        lambda volts: {"voltage": f"{volts:.3f} V", "no_load_voltage": f"{1.4 * volts:.3f} V", "max_current": "1 A"}
    ),
)
_drives = _merged(
    st.fixed_dictionaries({"current": _amperes, "tolerance": _tolerances, "dropout": _volts}),
    st.one_of(
        st.sampled_from([{}, {"series": "E6"}, {"series": "E96"}, {"kind": "constant current"}]),
        st.sampled_from([(kind, name) for kind, table in DRIVE_TABLES.items() for name in table]).map(
            lambda pair: {"kind": pair[0], "part": pair[1]}
        ),
        st.sampled_from([{"kind": "current diode"}, {"kind": "regulator", "reference_voltage": "1.25 V"}]),
    ),
)
_own_resistors = st.one_of(
    _nothing, _nothing, _maybe("resistance", _ohms), _maybe("drawer", st.lists(_ohms, min_size=1, max_size=5))
)
_extras = _merged(_maybe("extra_red", _ohms), _maybe("extra_green", _ohms))


@st.composite
def _masts(draw):
    below, between, above = (draw(st.floats(low, 0.2)) for low in (0.01, 0.005, 0))
    heights = {"bottom_lamp": below, "top_lamp": below + between, "height": below + between + above}
    return {name: f"{each:.5f} m" for name, each in heights.items()} | {
        "lamp_outline": draw(st.sampled_from(list(lamp_outlines))),
        "lamp_hole": draw(st.sampled_from(list(drills))),
        "wire_hole": draw(st.sampled_from(list(drills))),
    }


@st.composite
def _wirings(draw):
    form = draw(st.sampled_from(["one shared resistor", "shared and extra", "one in each branch"]))
    more = draw(st.sampled_from([{}, {"reversing": "relay"}, {"series_diodes": True}]))
    return {"form": form} | more | ({} if form == "one shared resistor" else draw(_extras))


_SECTIONS = {
    "lamps": st.just({"top": "red", "bottom": "green"}),
    "red": _lamps,
    "green": _lamps,
    "supply": _merged(_sources, _maybe("tolerance", _tolerances)),
    "drive": _drives,
    "wiring": _wirings(),
    "mast": _masts(),
    "wire": st.fixed_dictionaries(
        {"part": st.sampled_from(list(wires)), "distance": _quantity("m", -2, 1.5), "slack": _quantity("mm", 0, 2)}
    ),
    "limits": st.fixed_dictionaries(
        {
            "max_current": _amperes,
            "ambient": st.floats(-40, 100).map(lambda celsius: f"{celsius:.1f} degC"),
            "unevenness": st.floats(1.01, 100),
        }
    ),
}


_evenings = _merged(
    st.fixed_dictionaries(
        {
            "hours": st.floats(0.1, 100).map(lambda hours: f"{hours:.2f} h"),
            "red_share": st.floats(0, 1),
            "standby": st.sampled_from(["0 mA", "6 mA", "1 A"]),
            "until": st.sampled_from(["50 %", "0.2", "5.4 V"]),
        }
    ),
    _maybe("timer_voltage", _volts),
)
_triggers = _merged(
    st.one_of(
        st.sampled_from(list(magnets)).map(lambda name: {"magnet": name}),
        st.just({"diameter": "6 mm", "length": "2 mm", "grade": "N42"}),
    ),
    st.sampled_from([{}, {"speed": "1 m/s"}, {"prototype_speed": "100 km/h"}]),
    st.fixed_dictionaries(
        {
            "orientation": st.sampled_from(["upright", "lengthwise", "crosswise"]),
            "gap": st.floats(0.5, 60).map(lambda gap: f"{gap:.2f} mm"),
            "beyond": _quantity("m", -3, 0),
            "timer": st.sampled_from(list(timers)),
            "capacitor": st.sampled_from(list(capacitor_kinds)),
            "capacitance": st.sampled_from(["1 µF", "100 µF", "2200 µF"]),
            "pot": _quantity("ohm", 1, 6),
            "both_ways": st.booleans(),
        }
    ),
    _maybe("hold", _quantity("s", -1, 2)),
    _maybe("neighbour", _quantity("mm", 0, 2)),
)
_RELAYS = st.sampled_from(list(relays))


@st.composite
def fields(draw):
    """What a plan file may hold: all of it readable, most of it without contradiction."""
    given = {name: draw(st.one_of(_nothing, section)) for name, section in _SECTIONS.items()}
    drive, wiring = given["drive"], given["wiring"]
    if drive.get("kind") is None and wiring.get("form") != "one in each branch":
        drive = drive | draw(_own_resistors)
    given = {name: section for name, section in given.items() if section}
    if draw(st.booleans()):
        given["evening"] = draw(_evenings)
        if wiring.get("reversing") == "relay":
            given["evening"] |= draw(_maybe("relay", _RELAYS))
    if draw(st.booleans()):
        given["trigger"] = draw(_triggers)
    name = draw(st.text("abc <>&\"'=+-@é漢", min_size=1, max_size=20).filter(str.strip))
    return given | {"drive": drive, "name": name}


@st.composite
def plans(draw):
    """Any valid plan."""
    try:
        return Plan(**draw(fields()))
    except SigcalcError:
        reject()
