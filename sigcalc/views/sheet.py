"""The build sheet: two pages to take to the bench, one more to the track, and an annex for those who want it."""

from __future__ import annotations

import html
from functools import cache
from importlib.resources import files
from typing import Any, NamedTuple

import jinja2
from markupsafe import Markup

from ..design.bench.reading import MeasuringPoint, measuring_points
from ..design.findings import FINE, GRADES, LOOK, MARKS, STOP
from ..design.lamp.drive import shines
from ..parts.meter import AC_VOLTS, AMPERES, DIODE, OHMS, VOLTS
from ..plan.bench import measured, rule_for_wire
from ..plan.bench_readings import fault_table
from ..plan.circuit_fields import RESISTOR
from ..plan.layout_study import LayoutStudy
from ..plan.result import BenchTest, Figure, Reading, Study
from ..units import say
from .battery_or_adapter import run_time_picture
from .board_side import board_side
from .find_the_fault import probes
from .findings import finding_html, findings_html
from .let_the_train_do_it import passing_timeline
from .meter_circuit import signal_with_points
from .picture import Picture
from .plan_your_signal import lamp_joints, mast_front, reversing_wired
from .scene.signal_scene import signal_scene
from .scene.source import kind_of
from .scene.train_scene import train_scene
from .signal_circuit import IN_PLUS_LEAD, IN_WIRE_A, IN_WIRE_B, signal_circuit, signal_sentence
from .style import NORMAL, STAGE, Size
from .table import Table
from .which_resistor import BAND_FILLS

GRADE_SENTENCES = {
    FINE: "No problems found.",
    LOOK: "It can be built, but look again at what is marked below.",
    STOP: "Do not build it like this: see the findings.",
}
GRADE_CLASSES = dict(zip(GRADES, ("fine", "look", "stop"), strict=True))
_NO_BREAK = "\u00a0"


def build_sheet(study: Study, annex: bool = False) -> str:
    """The sheet as one HTML page for A4 or Letter, without links to anything outside; every text in it is escaped.

    `annex` adds faults and tables.
    """
    test, plan = study.bench_test, study.plan
    more: dict[str, Any] = {}
    if annex:
        steps = (*study.steps, *(() if study.trigger is None else study.trigger.steps))
        more = {
            "bench": None if test is None else bench_page(test),
            "figures": _figures(study),
            "at_steps": " ".join(step.text + step.caution for step in steps),
            "run_time": [_figure(each) for each in run_time_pictures(study)],
        }
    train = len(study.trigger.parts) if study.trigger is not None else 0
    return page_template("sheet.html.j2").render(
        study=study,
        annex=annex,
        grade_sentence=GRADE_SENTENCES[study.grade],
        marks=MARKS,
        classes=GRADE_CLASSES,
        drive=_drive(study),
        circuit=_figure(_with_points(study)),
        looks=_figure(signal_looks(study, "red")),
        parts=study.parts[: len(study.parts) - train],
        band_fill=BAND_FILLS,
        rule=rule_for_wire(plan),
        mast=_figure(mast_front(plan, "red", enlarged=False)),
        joint=_figure(lamp_joints(study.pair)),
        switch=_figure(reversing_wired(plan, _limit(study))),
        readings=[] if test is None else _bench_rows(test),
        reading_cautions=[] if test is None else _reading_cautions(test),
        passing=[_figure(each) for each in passing_pictures(study)],
        board_side=[_figure(each) for each in board_pictures(study)],
        style=Markup(page_style()),
        **more,
    )


def _limit(study: Study) -> str:
    """What sits in the supply's plus lead; "" for nothing."""
    driver = study.plan.drive.kind != RESISTOR
    return "driver" if driver else "resistor" if "shared_resistance" in study.figures else ""


def _with_points(study: Study) -> Picture:
    """The circuit with the points where the meter goes; as the planner draws it where nothing may be measured."""
    drawn = circuit_picture(study, "red")
    if study.bench_test is None:
        return drawn
    return signal_with_points(study.bench_test.circuit, "red", drawn.sentence, made_of=study.made_of)


class _BenchRow(NamedTuple):
    """A reading for the bench: where the probes go, and what they should show, the same for `both` or for each lamp."""

    name: str
    setting: str
    power: str
    probes: str
    both: str = ""
    red: str = ""
    green: str = ""


_AT_BENCH = {"diode a to b": "off", "diode b to a": "off", "supply open": "alone"} | dict.fromkeys(
    ("limit", "pair", "coil", "hold", "current"), "on"
)
"""The places that show whether a signal is sound, in the order in which to read them, and the power there."""


def _bench_rows(test: BenchTest) -> list[_BenchRow]:
    """What to read at the bench: the annex has all the rest."""
    points = measuring_points(test.circuit)
    rows = {each.name: _BenchRow(each.name, "", "loose", "", each.shown) for each in test.before}
    order = list(_AT_BENCH)
    chosen = [each for each in test.readings if points[each.name].place in _AT_BENCH and each.setting != AC_VOLTS]
    for each in sorted(chosen, key=lambda each: order.index(points[each.name].place)):
        point = points[each.name]
        name = "on-time" if point.place == "hold" else each.base
        new = _BenchRow(name, each.setting, _AT_BENCH[point.place], _where(point))
        # a loose resistor has the name of the same one in its place
        key = f"{each.base} {new.power}"
        rows[key] = rows.get(key, new)._replace(**{each.lamp or "both": each.shown})
    return list(rows.values())


def _where(point: MeasuringPoint) -> str:
    """Where the probes go, in the drawing's letters; the coil is not in it."""
    return "" if point.place == "hold" else "across it" if point.place == "coil" else probes(point)


def _reading_cautions(test: BenchTest) -> list[str]:
    """The cautions of the diode test and of the current, each once."""
    points = measuring_points(test.circuit).values()
    told = (caution for each in points if each.setting in (DIODE, AMPERES) for caution in each.cautions)
    return list(dict.fromkeys(each.text for each in told if each.about != "lift a lead"))  # no lead is soldered there


def circuit_picture(study: Study, lamp: str, size: Size = NORMAL) -> Picture:
    """The plan's circuit with the polarity that calls for a lamp."""
    adapter = study.plan.supply.kind == "adapter"
    return signal_circuit(study.points[lamp], _supply_name(study), adapter, size=size, **_turned(study))


def signal_looks(study: Study, lamp: str, size: Size = NORMAL) -> Picture:
    """The same as it looks, wired up and lit; for a wall without what turns the current round."""
    kind, point = kind_of(study.plan.supply.record()), study.points[lamp]
    if size is STAGE:
        plus = IN_WIRE_A if point.polarity > 0 else IN_WIRE_B
        lies = {"switch": False, "resistor_in": plus, "made_of": study.made_of}
        picture = signal_scene(point, _supply_name(study), kind, size=size, **lies)
        return picture.saying(signal_sentence(point, False, resistor_in=IN_PLUS_LEAD, made_of=study.made_of))
    return signal_scene(point, _supply_name(study), kind, size=size, **_turned(study))


def _supply_name(study: Study) -> str:
    return study.plan.supply.part or study.plan.supply.name


def _turned(study: Study) -> dict[str, Any]:
    """What turns the current round, what each resistor is made of, and where the shared one is: as the steps say."""
    turned = study.plan.wiring.reversing.removeprefix("hand ")
    return {"reversing": turned, "resistor_in": IN_PLUS_LEAD, "made_of": study.made_of}


def run_time_pictures(study: Study, size: Size = NORMAL) -> list[Picture]:
    """How the light goes while the evening's battery runs down; none without a battery that runs down."""
    run = None if study.evening is None else study.evening.run
    return [] if run is None else [run_time_picture(run, size)]


def passing_pictures(study: Study, size: Size = NORMAL) -> list[Picture]:
    """The track while the train runs past the red signal, and its passing in time; none without a train."""
    passing = None if study.trigger is None else study.trigger.passing
    if passing is None:
        return []
    si = passing.si
    moment = si.at_signal if si.red_from is None else (si.red_from + max(si.red_from, si.clear)) / 2
    return [train_scene(passing, moment, boards=False, size=size), passing_timeline(passing, brief=True, size=size)]


def board_pictures(study: Study, size: Size = NORMAL) -> list[Picture]:
    """The circuit at the board where a train sets the signal; none while no relay is named."""
    return [] if study.plan.trigger is None or study.plan.relay is None else [board_side(study, size)]


def mast_of(study: Study, lit: str = "red", size: Size = NORMAL) -> Picture:
    """The front view of the plan's mast with one lamp lit, if what flows through it makes it shine."""
    point = study.points.get(lit)
    dark = point is not None and not shines(getattr(study.pair, lit), point.si.current)
    return mast_front(study.plan, "none" if dark else lit, size)


class _Row(NamedTuple):
    """A line of a table: one figure with red lit, and with green lit."""

    label: str
    red: Figure | None = None
    green: Figure | None = None


_READ = ("pair_voltage", "drive_voltage", "extra_voltage")
"""Figures that the test page has, with the meter's own error."""


def _figures(study: Study) -> list[_Row]:
    """The figures that no meter is asked for, with both lamps side by side, in the study's order."""
    rows: dict[str, _Row] = {}
    for key, band in study.figures.items():
        lamp, _, label = band.label.partition(" lit: ")
        what = key.removeprefix(f"{lamp}_")
        if label and what not in _READ:
            row = rows.get(
                what, _Row(label.replace("green branch", "dark branch").replace("red branch", "dark branch"))
            )
            rows[what] = row._replace(**{lamp: band})
    return list(rows.values())


def _drive(study: Study) -> str:
    wish = study.plan.drive
    return f"{wish.kind} for {say(wish.current.m_as('A'), 'A')}"


def _figure(picture: Picture) -> Markup:
    return Markup(picture.html())  # a Picture escapes every text when it is made


def _span(time: Any) -> str:
    """A time for the evening, in days where it is one or more."""
    days = time.m_as("day")
    return f"{days:.3g}{_NO_BREAK}days" if days >= 1 else say(time.m_as("s"), "s").replace(" ", _NO_BREAK)


def _share(share: float) -> str:
    return say(share, "").replace(" ", _NO_BREAK)


def _band(band: Figure) -> str:
    """A figure with its band, the values not torn from their units and no unit said twice."""
    values = [say(each, band.unit) for each in (band.nominal, band.least, band.most)]
    nominal, least, most = (each.replace(" ", _NO_BREAK) for each in values)
    if least == most:
        return nominal
    if least.split(_NO_BREAK)[-1] == most.split(_NO_BREAK)[-1]:
        least = least.split(_NO_BREAK)[0]
    return f"{nominal} ({least}{_NO_BREAK}to{_NO_BREAK}{most})"


@cache
def page_style() -> str:
    """The style sheet of printed pages."""
    return files(__package__).joinpath("templates", "sheet.css").read_text(encoding="utf-8")


@cache
def page_template(name: str) -> jinja2.Template:
    """A page's template, which escapes every text."""
    environment = jinja2.Environment(
        loader=jinja2.PackageLoader("sigcalc.views"),
        autoescape=True,
        undefined=jinja2.StrictUndefined,
        trim_blocks=True,
    )
    environment.globals |= {
        "finding": lambda each: Markup(finding_html(each)),
        "length": lambda metres, like: measured(metres, like).replace(" ", _NO_BREAK),
        "band": _band,
        "span": _span,
        "share": _share,
    }
    return environment.get_template(name)


_ALONE = "the supply, before it feeds the signal"
_POWERED = "with the power on"
_UNPOWERED = "with the power off"
_CURRENT = "the current, last of all"

_LOOKS = {"none": "both dark", "both": "both lit"}


def bench_page(test: BenchTest) -> dict[str, Any]:
    """What the test page shows; takes some tenths of a second, as every fault is tried on the signal's circuit.

    `stages` holds, between two changes of the power or of the meter's sockets, the readings of each place in a row.
    """
    table = fault_table(test)
    stages: dict[str, dict[str, list[Reading]]] = {name: {} for name in (_ALONE, _POWERED, _UNPOWERED, _CURRENT)}
    signs: dict[str, list[tuple[str, str, str]]] = {each.base: [] for each in test.readings}
    for each in test.readings:
        stages[_stage(each)].setdefault(each.base, []).append(each)
        signs[each.base] += [(each.lamp, sign.text, _list(sign.faults)) for sign in table.signs[each.name]]
    remedies: dict[str, list[str]] = {}
    for name, remedy in table.remedies.items():
        remedies.setdefault(remedy, []).append(name)
    return {
        "test": test,
        "right": _seen(table.right),
        "looks": [(*_seen(each.seen), _list(each.faults), each.measure) for each in table.looks],
        "signs": signs,
        "stages": stages,
        "glaring": _list(table.glaring),
        "hidden": _list(table.hidden),
        "remedies": {_list(names): remedy for remedy, names in remedies.items()},
    }


def _stage(reading: Reading) -> str:
    """Between which changes of power and sockets a reading is taken."""
    if reading.setting in (OHMS, DIODE):
        return _UNPOWERED
    if reading.setting == AMPERES:
        return _CURRENT
    return _ALONE if reading.setting in (VOLTS, AC_VOLTS) and not reading.lamp else _POWERED


def _seen(seen: dict[str, str]) -> tuple[str, str]:
    return _LOOKS.get(seen["red"], seen["red"]), _LOOKS.get(seen["green"], seen["green"])


def _list(names: Any) -> str:
    """Names of faults; some have commas in them."""
    return "; ".join(names)


def study_findings(study: Study | LayoutStudy) -> str:
    """All findings in the order given, the figures with their bands in a table, and the cautions."""
    rows = [(band.label, band.text) for band in study.figures.values()]
    table = Table("The figures", ("What", "How much"), rows).html()
    heeded = "".join(f"<li>{html.escape(each.text)}</li>" for each in study.cautions)
    return (
        f'<div class="sigcalc-findings">{findings_html(study.findings)}{table}'
        f"<p><b>Cautions for building and feeding it</b></p><ul>{heeded}</ul></div>"
    )
