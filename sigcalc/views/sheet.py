"""The build sheet: one printable page with drawing, parts, cuts, steps, readings and findings of a plan."""

from __future__ import annotations

from functools import cache

import jinja2
from markupsafe import Markup

from ..parts.finding import FINE, GRADES, LOOK, STOP
from ..plan.result import Study
from ..units import say
from .bands import colour_band_picture
from .mast import mast_front
from .picture import Picture
from .schematic import signal_circuit
from .style import NORMAL, Size

MARKS = dict(zip(GRADES, ("✔", "?", "✘"), strict=True))
"""A sign for each grade beside its word, so that a grey print tells them apart."""
GRADE_SENTENCES = {
    FINE: "Nothing speaks against building it so.",
    LOOK: "It can be built, but look again at what is marked below.",
    STOP: "Do not build it so: see the findings.",
}
CAUTIONS = (
    "Extra-low-voltage DC from a listed supply is assumed. Mains wiring is for licensed people; local codes win.",
    "Soldering: hot iron, harmful fume. Extraction or fresh air, head out of the plume, wash hands afterwards.",
    "Eye protection when you trim leads and when you drill. Hold small work in a vice.",
    "Instant glue bonds skin in seconds: never pull, soak in warm water; eyes: see a doctor.",
    "Never short a battery or an adapter; cover the posts of a loose block battery.",
    "Never try an LED without its resistor: it may burst. Do not stare into a bright one.",
    "Measure current only in series, and put the meter's lead back into the voltage socket at once.",
    "Measure resistance only with the power off.",
)


def build_sheet(study: Study) -> str:
    """The sheet as one HTML page for A4 or Letter, without links to anything outside; every text in it is escaped."""
    return _template().render(
        study=study,
        grade_mark=MARKS[study.grade],
        grade_sentence=GRADE_SENTENCES[study.grade],
        marks=MARKS,
        circuits=[_figure(circuit_picture(study, lamp)) for lamp in ("red", "green")],
        bands=[
            _figure(colour_band_picture(line.bands, f"{line.part}, {line.detail}"))
            for line in study.parts
            if line.bands
        ],
        mast=_figure(mast_of(study)),
        cautions=CAUTIONS,
    )


def circuit_picture(study: Study, lamp: str, size: Size = NORMAL) -> Picture:
    """The plan's circuit with the polarity that calls for a lamp."""
    supply = study.plan.supply
    return signal_circuit(study.points[lamp], supply.part or supply.name, adapter=supply.kind == "adapter", size=size)


def mast_of(study: Study, lit: str = "red", size: Size = NORMAL) -> Picture:
    """The front view of the plan's mast with one lamp lit."""
    mast = study.plan.mast
    return mast_front(
        mast_height=mast.height,
        lamp_height=mast.top_lamp,
        lamp_spacing=mast.top_lamp - mast.bottom_lamp,
        top=study.plan.lamps.top,
        lit=lit,
        size=size,
    )


def _figure(picture: Picture) -> Markup:
    return Markup(picture.html())  # a Picture escapes every text when it is made


def _length(metres: float) -> str:
    """A length for the bench, in whole millimetres and in inches."""
    return (
        f"{metres * 1e3:.0f} mm ({metres / 0.0254:.2g} in)"
        if metres < 0.254
        else f"{metres * 1e3:.0f} mm ({metres / 0.0254:.1f} in)"
    )


@cache
def _template() -> jinja2.Template:
    environment = jinja2.Environment(
        loader=jinja2.PackageLoader("sigcalc.views"), autoescape=True, undefined=jinja2.StrictUndefined
    )
    environment.globals |= {"say": say, "length": _length}
    return environment.get_template("sheet.html.j2")
