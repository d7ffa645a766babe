"""Plans for tests: any valid one (a hypothesis strategy), and the invented layout's."""

import math
import typing
from pathlib import Path

from hypothesis import reject
from hypothesis import strategies as st

from sigcalc import Plan, PlanError, Q, SigcalcError
from sigcalc.parts.led import leds
from sigcalc.parts.relay import relays
from sigcalc.parts.source import adapters, batteries
from sigcalc.plan.circuit_fields import DRIVE_TABLES
from sigcalc.plan.section import NameIn
from sigcalc.plan.signal_fields import FORMS as WIRING_FORMS
from sigcalc.plan.signal_fields import Evening, Limits, Mast, TriggerSpec, WireSpec, Wiring
from sigcalc.units import QuantityKind

FOLDER = Path(__file__).parents[2] / "notebooks" / "plans"
LAYOUT = FOLDER / "quillhaven_layout.toml"
QUILLHAVEN = sorted(each for each in FOLDER.glob("quillhaven_*.toml") if each != LAYOUT)

LAMPS = {"red": {"part": "bright red 3 mm"}, "green": {"part": "ordinary green 3 mm"}}
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


def _marked(info, kind):
    """What marks a field's annotation, such as its kind of quantity or its table of names."""
    inner = [mark for each in typing.get_args(info.annotation) for mark in getattr(each, "__metadata__", ())]
    return next((each for each in (*info.metadata, *inner) if isinstance(each, kind)), None)


def _values(info):
    """Values that a field may take: a name of its table, one of its words, or what is near the usual one."""
    usual = info.examples[0] if info.default is None else info.default
    kind, table = _marked(info, QuantityKind), _marked(info, NameIn)
    if table is not None:
        return st.sampled_from(list(table.table))
    if typing.get_origin(info.annotation) is typing.Literal:
        return st.sampled_from(typing.get_args(info.annotation))
    if isinstance(usual, bool):
        return st.booleans()
    if kind is not None and kind.bare:
        return st.floats(0, 1)
    if kind is not None and kind.unit != "K":
        value = Q(usual)
        return st.floats(-1.5, 1.5).map(lambda power: f"{value.magnitude * 10**power:.4g} {value.units:~}")
    return st.just(usual)


@st.composite
def _any_section(draw, section):
    """Any fields of a section, but for those that contradict others."""
    names = draw(st.lists(st.sampled_from(list(section.model_fields)), unique=True))
    given = {name: draw(_values(section.model_fields[name])) for name in names}
    while given:
        try:
            section(**given)
            break
        except ValueError:
            given.popitem()
    return given


_SECTIONS = {
    "lamps": st.just({"top": "red", "bottom": "green"}),
    "red": _lamps,
    "green": _lamps,
    "supply": _merged(_sources, _maybe("tolerance", _tolerances)),
    "drive": _drives,
    "wiring": _any_section(Wiring),
    "mast": _any_section(Mast),
    "wire": _any_section(WireSpec),
    "limits": st.one_of(_any_section(Limits), st.sampled_from([{"ambient": "-40 degC"}, {"ambient": "100 degC"}])),
    "evening": _any_section(Evening),
    "trigger": _any_section(TriggerSpec),
}


@st.composite
def fields(draw):
    """What a plan file may hold: all of it readable, most of it without contradiction."""
    given = {name: draw(st.one_of(_nothing, section)) for name, section in _SECTIONS.items()}
    drive, wiring, relay = given["drive"], given["wiring"], draw(st.sampled_from(list(relays)))
    if drive.get("kind") is None and wiring.get("form") != "one in each branch":
        drive = drive | draw(_own_resistors)
    if wiring.get("form", WIRING_FORMS[0]) != WIRING_FORMS[0]:
        wiring = wiring | draw(_extras)
    for each in ("evening", "trigger"):
        given[each].pop("relay", None)  # both name one relay, and only where the wiring has one
        if given[each] and wiring.get("reversing") == "relay":
            given[each] |= {"relay": relay}
    name = draw(st.text("abc <>&\"'=+-@é漢", min_size=1, max_size=20).filter(str.strip))
    given = {name: section for name, section in given.items() if section}
    return given | {"drive": drive, "wiring": wiring, "name": name}


@st.composite
def plans(draw):
    """Any valid plan."""
    try:
        return Plan(**draw(fields()))
    except SigcalcError:
        reject()


_words = ["5 mA", "9 V", "ordinary red 3 mm", "1:48", "battery", "kind", "part", b"x"]
ANYTHING = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.text(max_size=8), st.sampled_from(_words)),
    lambda inner: st.one_of(
        st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=4) | st.sampled_from(["kind", "part"]), inner)
    ),
    max_leaves=6,
)
"""Whatever a file or a script may hold where something else belongs."""


def answer_or_refusal(make):
    """What is made, which reads back as itself, or None and the faults of a PlanError; any other error is a defect."""
    made, faults = None, ()
    try:
        made = make()
    except PlanError as refusal:
        faults = refusal.faults
    assert (made is None) == bool(faults)
    assert all(faults)
    assert made is None or type(made).parse(made.text()) == made
    return made, faults
