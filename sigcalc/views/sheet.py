"""The build sheet: one printable page with drawing, parts, cuts, steps, readings and findings of a plan."""

from __future__ import annotations

import html
from fractions import Fraction
from functools import cache
from importlib.resources import files
from typing import Any, NamedTuple

import jinja2
from markupsafe import Markup

from ..design.findings import FINE, GRADES, LOOK, MARKS, STOP
from ..design.lamp.drive import shines
from ..parts.meter import AC_VOLTS, AMPERES, DIODE, OHMS, VOLTS
from ..plan.bench_readings import fault_table
from ..plan.layout_study import LayoutStudy
from ..plan.result import BenchTest, Figure, Reading, Study
from ..units import say
from .battery_or_adapter import run_time_picture
from .board_side import board_side
from .circuit import signal_circuit
from .findings import finding_html, findings_html
from .let_the_train_do_it import passing_timeline
from .picture import Picture
from .plan_your_signal import mast_front
from .style import NORMAL, Size
from .table import Table
from .track import track_picture
from .which_resistor import colour_band_picture

GRADE_SENTENCES = {
    FINE: "No problems found.",
    LOOK: "It can be built, but look again at what is marked below.",
    STOP: "Do not build it like this: see the findings.",
}
GRADE_CLASSES = dict(zip(GRADES, ("fine", "look", "stop"), strict=True))
_NO_BREAK = "\u00a0"


def build_sheet(study: Study) -> str:
    """The sheet as one HTML page for A4 or Letter, without links to anything outside; every text in it is escaped."""
    return page_template("sheet.html.j2").render(
        study=study,
        grade_sentence=GRADE_SENTENCES[study.grade],
        marks=MARKS,
        classes=GRADE_CLASSES,
        drive=_drive(study),
        circuits=[_figure(circuit_picture(study, lamp)) for lamp in ("red", "green")],
        run_time=[_figure(each) for each in run_time_pictures(study)],
        passing=[_figure(each) for each in passing_pictures(study)],
        board_side=[_figure(each) for each in board_pictures(study)],
        bands=[_figure(each) for each in _band_pictures(study)],
        mast=_figure(mast_of(study)),
        strips=sorted({cut.strip for cut in study.cuts}),
        bench=None if study.bench_test is None else bench_page(study.bench_test),
        figures=_figures(study),
        at_steps={step.caution for each in (study, study.trigger) if each is not None for step in each.steps},
        style=Markup(page_style()),
    )


def _band_pictures(study: Study) -> list[Picture]:
    """The resistors of the parts list, each value once."""
    values = {line.bands: ", ".join(line.detail.split(", ")[:2]) for line in study.parts if line.bands}
    return [colour_band_picture(bands, value) for bands, value in values.items()]


def circuit_picture(study: Study, lamp: str, size: Size = NORMAL) -> Picture:
    """The plan's circuit with the polarity that calls for a lamp."""
    supply, turned_by = study.plan.supply, study.plan.wiring.reversing.removeprefix("hand ")
    name, adapter = supply.part or supply.name, supply.kind == "adapter"
    return signal_circuit(study.points[lamp], name, adapter=adapter, size=size, reversing=turned_by)


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
    return [track_picture(passing, moment, size), passing_timeline(passing, brief=True, size=size)]


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
    return f"{wish.kind}, {say(wish.current.m_as('A'), 'A')} wished"


def _figure(picture: Picture) -> Markup:
    return Markup(picture.html())  # a Picture escapes every text when it is made


def _length(metres: float) -> str:
    """A length for the bench, in whole millimetres and in sixteenths of an inch."""
    sixteenths = round(metres / 0.0254 * 16)
    whole, rest = divmod(sixteenths, 16)
    inches = " ".join(str(each) for each in (whole, Fraction(rest, 16)) if each) or "0"
    return f"{metres * 1e3:.0f}{_NO_BREAK}mm ({inches.replace(' ', _NO_BREAK)}{_NO_BREAK}in)"


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
        "length": _length,
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
