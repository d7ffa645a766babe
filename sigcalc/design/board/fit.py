"""Does it fit: a lamp's body and flange in its hole, and insulated wires through a hole.

A hole is counted at its drill's diameter. Drills cut a little oversize, which helps
bodies and wires through and flanges as well: it is counted only against the flange.
"""

from __future__ import annotations

from typing import Any

from ...errors import DesignError
from ...parts.drill import Drill, next_drill_up
from ...parts.wire import Wire, wires
from ...physics.packing import bundle_diameter, enclosing_ratio
from ...units import Count, Length, Q, kind_of, record, say, say_band, with_units
from ..findings import FINE, LOOK, STOP, Finding
from .hole import DRILL_OVERSIZE, FAILS, PASSES, TIGHT, Clearance, Hole, clearance, drilled_hole
from .outline import LampOutline, lamp_outlines

STOPS, MAY_SLIP, SLIPS, UNKNOWN = "stops it", "may slip through", "slips through", "not known"

WIRE_PLAY = "0.1 mm"  # common practice, no source: insulation drags, and a burr takes its share

_NEXT = 1e-6  # m; enough to mean the next size and not the same one
_LENGTH = kind_of(Length)


@record
class LampFit:
    """A lamp in its hole."""

    outline: LampOutline
    hole: Hole
    clearance: Clearance

    @property
    def body(self) -> str:
        """Whether the body goes in: "fine", "tight" or "does not fit"."""
        return self.clearance.verdict

    @property
    def flange(self) -> str:
        """Whether the flange holds the lamp back: "stops it", "may slip through", "slips through" or "not known"."""
        flange, hole = self.outline.si, self.hole.si
        if flange.flange_least is None:
            return UNKNOWN
        if flange.flange_least > hole.most:
            return STOPS
        return SLIPS if flange.flange_most <= hole.least else MAY_SLIP

    @property
    def sentence(self) -> str:
        """The fit in words."""
        body = self.outline.si
        return (
            f"{self.outline.name} in a {self.hole.name}: the body, {say(body.body_least, 'm')} to "
            f"{say(body.body_most, 'm')}, {_in_words(self.body)} {say(self.hole.si.nominal, 'm', 4)}; "
            f"the flange {_FLANGE[self.flange]}."
        )


_FLANGE = {STOPS: "stops it", MAY_SLIP: "may slip through", SLIPS: "slips through", UNKNOWN: "is not known"}


def _in_words(verdict: str) -> str:
    return {PASSES: "passes", TIGHT: "is tight in", FAILS: "does not fit"}[verdict]


@with_units(scalar=True)
def lamp_in_hole(
    outline: str | LampOutline, hole: str | Drill | Hole | Any, play: Length = "0 mm", oversize: Length = DRILL_OVERSIZE
) -> LampFit:
    """Whether a lamp's body goes into a hole and its flange stops it there.

    Parameters
    ----------
    outline: a name in `lamp_outlines` or a record
    hole: a drill's name, a `Drill`, a diameter, or a `Hole` with a tolerance of its own
    play: room wanted around the thickest body; oversize: what a drill cuts too much at most

    Raises UnknownNameError, UnitError, RangeError or DesignError for what cannot be read.
    """
    outline = outline if isinstance(outline, LampOutline) else lamp_outlines[outline]
    hole = hole if isinstance(hole, Hole) else drilled_hole(hole, Q(oversize, "m"))
    least, most = outline.si.body_least, outline.si.body_most
    return LampFit(outline, hole, clearance(hole, least, (least + most) / 2, most, play))


@record
class WireFit:
    """Equal insulated wires through one round hole.

    Attributes
    ----------
    count, wire: how many wires of which name
    bundle_least, bundle_nominal, bundle_most: the narrowest round hole for them
    thickest_wire: diameter over the insulation of the thickest wire of which so many pass
    drill: the drill to take for the thickest of these wires with play, "" where none is thick enough
    """

    count: int
    wire: str
    hole: Hole
    bundle_least: Length
    bundle_nominal: Length
    bundle_most: Length
    clearance: Clearance
    thickest_wire: Length
    drill: str

    @property
    def verdict(self) -> str:
        """Whether they go through: "fine", "tight" or "does not fit"."""
        return self.clearance.verdict

    @property
    def sentence(self) -> str:
        """The fit in words."""
        si = self.si
        wires_ = f"{self.count} wires" if self.count > 1 else "1 wire"
        bundle = (si.bundle_least, si.bundle_nominal, si.bundle_most)
        band = say_band(*bundle, "m") if bundle[0] < bundle[2] else say(bundle[1], "m")
        return (
            f"{wires_}, {self.wire}: the bundle measures {band} and {_in_words(self.verdict)} the {self.hole.name} of "
            f"{say(self.hole.si.nominal, 'm', 4)}, which holds so many up to {say(si.thickest_wire, 'm')} "
            "over the insulation."
        )


@with_units(scalar=True)
def wires_in_hole(
    count: Count,
    wire: str | Wire | Any,
    hole: str | Drill | Hole | Any,
    play: Length = WIRE_PLAY,
    oversize: Length = DRILL_OVERSIZE,
) -> WireFit:
    """Whether a number of equal insulated wires goes through a round hole.

    The wires lie as close as circles can (published packings, up to 20), round and hard.

    Parameters
    ----------
    count: number of wires, 1 to 20
    wire: a name in `wires`, a `Wire`, or the diameter over the insulation ("1.19 mm" or a quantity)
    hole: a drill's name, a `Drill`, a diameter, or a `Hole` with a tolerance of its own
    play: room wanted around the thickest bundle; oversize: what a drill cuts too much at most

    Raises UnknownNameError, UnitError, RangeError or DesignError for what cannot be read.
    """
    ratio = float(enclosing_ratio(count))
    name, sizes = _outer(wire)
    hole = hole if isinstance(hole, Hole) else drilled_hole(hole, Q(oversize, "m"))
    bundle = [float(bundle_diameter(count, size)) for size in sizes]
    return WireFit.of(
        count=int(count),
        wire=name,
        hole=hole,
        bundle_least=bundle[0],
        bundle_nominal=bundle[1],
        bundle_most=bundle[2],
        clearance=clearance(hole, *bundle, play),
        thickest_wire=hole.si.nominal / ratio,
        drill=_drill_for(bundle[2] + play),
    )


def _outer(wire: str | Wire | Any) -> tuple[str, tuple[float, float, float]]:
    """Name and least, nominal, most diameter over the insulation."""
    if isinstance(wire, str) and _names_a_wire(wire):
        wire = wires[wire]
    if isinstance(wire, Wire):
        return wire.name, (wire.si.outer_least, wire.si.outer_nominal, wire.si.outer_most)
    diameter = _LENGTH.read(wire, "wire", scalar=True)
    return f"{say(diameter, 'm')} over the insulation", (diameter,) * 3


def _names_a_wire(text: str) -> bool:
    """Whether a text is meant as a name and not as a diameter: a diameter is one number and one unit."""
    words = text.replace("-", " ").split()
    return text in wires or any(word.isalpha() and (len(word) > 3 or word.upper() == "AWG") for word in words)


def _drill_for(diameter: float) -> str:
    try:
        return next_drill_up(Q(diameter, "m")).name
    except DesignError:
        return ""


def findings(result: LampFit | WireFit) -> tuple[Finding, ...]:
    """The verdicts on a fit, with reason and remedy."""
    return _lamp_findings(result) if isinstance(result, LampFit) else _wire_findings(result)


_GRADES = {PASSES: FINE, TIGHT: LOOK, FAILS: STOP}


def _lamp_findings(result: LampFit) -> tuple[Finding, ...]:
    needed = result.outline.si.body_most + result.clearance.si.play
    drill = _drill_for(max(needed, result.hole.si.nominal + _NEXT))
    remedy = "" if result.body == PASSES else f"Drill {drill or 'and ream'}, or try the lamp in a scrap piece first."
    found = [Finding(_GRADES[result.body], "lamp in its hole", result.sentence, remedy)]
    if result.flange in (MAY_SLIP, SLIPS):
        reason = f"The flange {_FLANGE[result.flange]} the {result.hole.name}."
        found.append(Finding(LOOK, "lamp's flange", reason, "Measure your own lamp, or hold it with a drop of glue."))
    return tuple(found)


def _wire_findings(result: WireFit) -> tuple[Finding, ...]:
    if result.verdict == PASSES:
        return (Finding(FINE, "wires through the hole", result.sentence),)
    drill = f"Drill {result.drill}" if result.drill else "Take more than one hole"
    remedy = f"{drill}, or take a thinner wire; measure your own over the insulation."
    return (Finding(_GRADES[result.verdict], "wires through the hole", result.sentence, remedy),)
