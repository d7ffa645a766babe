"""Wires to cut, and what goes through which hole: a lamp's body and flange, the wires down the mast.

A hole is counted at its drill's diameter. Drills cut a little oversize, which helps bodies and wires through, and
flanges as well: it is counted only against the flange.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from ...errors import DesignError
from ...parts.drill import Drill, drills, next_drill_up
from ...parts.table import Figures, PartsTable
from ...parts.wire import Wire
from ...parts.wire import wires as wire_table
from ...physics.copper import enclosing_ratio
from ...units import Count, Current, Length, Q, Resistance, Voltage, kind_of, record, say, with_units
from ..findings import FINE, LOOK, STOP, Finding
from ..tolerance import Band

PASSES, TIGHT, FAILS = "fine", "tight", "does not fit"
STOPS, MAY_SLIP, SLIPS, UNKNOWN = "stops it", "may slip through", "slips through", "is not known"

_OVERSIZE = 1e-4  # m; common practice, no source: a hand-held drill in brass or plastic
_PLAY = 1e-4  # m; common practice, no source: insulation drags, and a burr needs its share
_TRIMMED = _STRIPPED = 6.35e-3  # m, 1/4 in; common practice, no source: left of leads, stripped of wires
_WASTE = 0.1  # common practice, no source: bought besides
COLOURS = ("orange", "blue")
"""Insulation of wires A and B: neither could be taken for a lamp's colour, or for a supply's pole."""
_NOTICEABLE = 0.1  # V; common practice, no source: less is lost among the tolerances of LED and supply
_NEXT, _ROUNDING = 1e-6, 1e-9  # m; enough to mean the next size; 3.175 mm and 1/8 in are one diameter
_MOST_LAMPS = 8
_IN_WORDS = {PASSES: "passes", TIGHT: "is tight in", FAILS: "does not fit"}
_GRADES = {PASSES: FINE, TIGHT: LOOK, FAILS: STOP}


@record
class LampOutline:
    """Diameters of a round lamp: of its body, and of the flange at its foot (None where it is not known)."""

    name: str
    body_least: Length
    body_most: Length
    flange_least: Length | None = None
    flange_most: Length | None = None


def _outline(name: str, figures: Figures) -> LampOutline:
    return LampOutline(name, **{quantity.replace(" ", "_"): figure.text for quantity, figure in figures.items()})


lamp_outlines: PartsTable[LampOutline] = PartsTable("lamp outline", "outlines.csv", _outline)
"""Outlines by name: "3 mm lamp, T-1 outline"."""


def _verdict(clearance: Band, play: float) -> str:
    """The fit in a word: "fine" leaves the play even at the worst, "does not fit" is too thick already as named."""
    if clearance.nominal < -_ROUNDING:
        return FAILS
    return PASSES if clearance.least >= max(play - _ROUNDING, _ROUNDING) else TIGHT


@record
class LampFit:
    """A lamp in its hole.

    clearance: the band of hole minus body, in m
    body: whether it goes in: "fine", "tight" or "does not fit"
    flange: whether it holds the lamp: "stops it", "may slip through", "slips through" or "is not known"
    """

    outline: LampOutline
    drill: Drill
    clearance: Any
    body: str
    flange: str

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The verdicts on body and flange."""
        body, hole = self.outline.si, self.drill.si.diameter
        said = (
            f"{self.outline.name} in a {self.drill.name} hole: the body, {say(body.body_least, 'm')} to "
            f"{say(body.body_most, 'm')}, {_IN_WORDS[self.body]} {say(hole, 'm', 4)}; the flange {self.flange}."
        )
        drill = _drill_for(max(body.body_most, hole + _NEXT)) or "and ream"
        remedy = "" if self.body == PASSES else f"Drill {drill}, or try the lamp in a scrap piece first."
        found = (Finding(_GRADES[self.body], "lamp in its hole", said, remedy),)
        if self.flange in (STOPS, UNKNOWN):
            return found
        reason = f"The flange {self.flange} the {self.drill.name} hole."
        return (*found, Finding(LOOK, "lamp's flange", reason, "Measure your lamp, or glue it in."))


def lamp_in_hole(outline: str, drill: str) -> LampFit:
    """Whether a lamp's body goes into the hole of a drill and its flange stops it there.

    Raises UnknownNameError for an outline that is not in `lamp_outlines`, or a drill that is in no table.
    """
    lamp, bit = lamp_outlines[outline], drills[drill]
    si, hole = lamp.si, bit.si.diameter
    middle = (si.body_least + si.body_most) / 2
    clearance = Band(hole - si.body_most, hole - middle, hole + _OVERSIZE - si.body_least, "m")
    if si.flange_least is None:
        flange = UNKNOWN
    elif si.flange_least > hole + _OVERSIZE:
        flange = STOPS
    else:
        flange = SLIPS if si.flange_most <= hole else MAY_SLIP
    return LampFit(lamp, bit, clearance, _verdict(clearance, 0.0), flange)


@record
class WireFit:
    """Equal insulated wires through one round hole.

    bundle: the band of the diameter of the narrowest round hole for them; clearance: hole minus that; both in m
    verdict: whether they go through: "fine", "tight" or "does not fit"
    thickest_wire: diameter over the insulation of the thickest wire of which so many pass
    """

    count: int
    wire: str
    drill: Drill
    bundle: Any
    clearance: Any
    verdict: str
    thickest_wire: Length

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The verdict on the fit."""
        many = f"{self.count} wires" if self.count > 1 else "1 wire"
        measured = self.bundle if self.bundle.least < self.bundle.most else say(self.bundle.nominal, "m")
        said = (
            f"{many}, {self.wire}: the bundle measures {measured} and {_IN_WORDS[self.verdict]} the {self.drill.name} "
            f"hole of {say(self.drill.si.diameter, 'm', 4)}, which holds so many up to "
            f"{say(self.si.thickest_wire, 'm')} over the insulation."
        )
        better = _drill_for(self.bundle.most + _PLAY)
        drill = f"Drill {better}" if better else "Use more than one hole"
        remedy = f"{drill}, or use a thinner wire; measure your own over the insulation."
        passes = self.verdict == PASSES
        return (Finding(_GRADES[self.verdict], "wires through the hole", said, "" if passes else remedy),)


@with_units(scalar=True)
def wires_in_hole(count: Count, wire: str | Wire, drill: str) -> WireFit:
    """Whether 1 to 20 equal insulated wires go through the hole of a drill, with some play.

    The wires are as close as circles can be (published packings), round and hard; `wire` is a name in `wires` or a
    Wire. Raises UnknownNameError for a name that is in no table, RangeError for another number of wires.
    """
    wire, bit = wire if isinstance(wire, Wire) else wire_table[wire], drills[drill]
    ratio, hole, outer = float(enclosing_ratio(count)), bit.si.diameter, wire.si
    bundle = Band(ratio * outer.outer_least, ratio * outer.outer_nominal, ratio * outer.outer_most, "m")
    clearance = Band(hole - bundle.most, hole - bundle.nominal, hole + _OVERSIZE - bundle.least, "m")
    return WireFit(int(count), wire.name, bit, bundle, clearance, _verdict(clearance, _PLAY), Q(hole / ratio, "m"))


def _drill_for(diameter: float) -> str:
    try:
        return next_drill_up(Q(diameter, "m")).name
    except DesignError:
        return ""


@record
class Piece:
    """One piece of wire: what it is for, its colour, length to cut and to strip at each end."""

    what: str
    colour: str
    length: Length
    strip: Length


@record
class CutList:
    """What to cut for the two wires from the terminal strip up the mast to the lamps.

    total, to_buy: length of all pieces; the same with waste
    loop_resistance: there and back to the lamp that is farthest
    voltage_lost: what is lost in that at the current
    """

    wire: str
    pieces: tuple[Piece, ...]
    total: Length
    to_buy: Length
    current: Current
    loop_resistance: Resistance
    voltage_lost: Voltage

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The verdicts on the wires."""
        si, much = self.si, self.si.voltage_lost > _NOTICEABLE
        said = (
            f"{len(self.pieces)} pieces of {self.wire}, {say(si.total, 'm')} in all, {say(si.to_buy, 'm')} with waste; "
            f"there and back {say(si.loop_resistance, 'ohm')}, which costs {say(si.voltage_lost, 'V')} "
            f"at {say(si.current, 'A')}."
        )
        remedy = "Use thicker wire or a shorter way, or count it in with the resistor." if much else ""
        anode = "The longer lead is the anode (common practice, no source), and trimming hides which it was."
        mark = "Mark it before trimming; if in doubt, test the lamp with its resistor on a low voltage."
        return Finding(LOOK if much else FINE, "wires", said, remedy), Finding(FINE, "lamp leads", anode, mark)


@with_units(scalar=True)
def cut_list(
    mast_height: Length,
    distance: Length,
    lamp_heights: Sequence[Any],
    wire: str | Wire = "26 AWG solid hook-up",
    slack: Length = "50 mm",
    current: Current = "10 mA",
) -> CutList:
    """The pieces of wire that a signal of lamps back to back on two wires needs.

    Parameters
    ----------
    mast_height: from foot to top
    distance: from the mast's foot to the terminal strip, as the wire runs
    lamp_heights: of each lamp above the mast's foot, up to 8; lamps whose leads reach each other need no wire between
    slack: added to each wire that goes to the terminal strip
    current: of one lamp, one lit at a time

    Raises UnitError, RangeError or UnknownNameError for what cannot be read, DesignError for lamps above the mast.
    """
    heights = np.sort(np.atleast_1d(kind_of(Length).read(lamp_heights, "lamp_heights")))
    if not 1 <= heights.size <= _MOST_LAMPS:
        raise DesignError(argument="lamp_heights", need=f"1 to {_MOST_LAMPS} lamps", given=str(heights.size))
    if heights[-1] > mast_height:
        raise DesignError(
            f"lamp_heights reaches {say(heights[-1], 'm')}, and the mast is {say(mast_height, 'm')} high; "
            "measure both from the mast's foot"
        )
    wire = wire if isinstance(wire, Wire) else wire_table[wire]
    usual = {1: ("lamp",), 2: ("lower lamp", "upper lamp")}
    names = usual.get(heights.size, [f"lamp {number} from below" for number in range(1, heights.size + 1)])
    gaps = zip(names, names[1:], np.diff(heights).tolist(), strict=False)
    runs = [(f"terminal to {names[0]}", distance + slack + heights[0])]
    runs += [(f"{lower} to {upper}", gap) for lower, upper, gap in gaps if gap > 2 * _TRIMMED]
    lengths = [float(length) + 2 * _STRIPPED for _, length in runs]
    pieces = tuple(
        Piece.of(what=f"{what}, wire {name}", colour=colour, length=length, strip=_STRIPPED)
        for (what, _), length in zip(runs, lengths, strict=True)
        for name, colour in zip("AB", COLOURS, strict=True)
    )
    total = 2 * sum(lengths)
    loop = float(wire.resistance(Q(total, "m")).m_as("ohm"))
    figures = {"total": total, "to_buy": total * (1 + _WASTE), "loop_resistance": loop, "voltage_lost": current * loop}
    return CutList.of(wire=wire.name, pieces=pieces, current=current, **figures)
