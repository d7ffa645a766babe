"""Wires to cut, and what goes through which hole: a lamp's body and flange, insulated wires.

A hole is counted at its drill's diameter. Drills cut a little oversize, which helps bodies and wires through, and
flanges as well: it is counted only against the flange.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from ...errors import DesignError, RangeError
from ...parts.drill import Drill, drills, next_drill_up
from ...parts.table import Figures, PartsTable
from ...parts.wire import Wire
from ...parts.wire import wires as wire_table
from ...physics.copper import enclosing_ratio
from ...units import Count, Current, Length, Q, Resistance, Voltage, kind_of, record, say, with_units
from ..findings import FINE, LOOK, STOP, Finding
from ..tolerance import Band

PASSES, TIGHT, FAILS = "fine", "tight", "does not fit"
STOPS, MAY_SLIP, SLIPS, UNKNOWN = "stops it", "may slip through", "slips through", "not known"

DRILL_OVERSIZE = "0.1 mm"  # common practice, no source: a hand-held drill in brass or plastic
WIRE_PLAY = "0.1 mm"  # common practice, no source: insulation drags, and a burr needs its share
TRIMMED, STRIPPED = "1/4 in", "1/4 in"  # common practice, no source: leads are trimmed, insulation is stripped to this
WASTE = 0.1  # common practice, no source: bought besides
COLOURS = ("orange", "blue")
"""Insulation of wires A and B: neither could be taken for a lamp's colour, or for a supply's pole."""

_NOTICEABLE = 0.1  # V; common practice, no source: less is lost among the tolerances of LED and supply
_NEXT = 1e-6  # m; enough to mean the next size and not the same one
_ROUNDING = 1e-9  # m; 3.175 mm and 1/8 in are one diameter
_MOST_LAMPS = 8
_LENGTH = kind_of(Length)
_IN_WORDS = {PASSES: "passes", TIGHT: "is tight in", FAILS: "does not fit"}
_FLANGE = {STOPS: "stops it", MAY_SLIP: "may slip through", SLIPS: "slips through", UNKNOWN: "is not known"}
_GRADES = {PASSES: FINE, TIGHT: LOOK, FAILS: STOP}


@record
class LampOutline:
    """Diameters of a round lamp: of its body, and of the flange at its foot (None where it is not known)."""

    name: str
    body_least: Length
    body_most: Length
    flange_least: Length | None = None
    flange_most: Length | None = None

    def __post_init__(self) -> None:
        for what in ("body", "flange"):
            least, most = (getattr(self.si, f"{what}_{end}") for end in ("least", "most"))
            if (least is None) != (most is None):
                raise RangeError(f"{what}_least and {what}_most are needed both or neither; give the other one as well")
            if least is not None and not 0 < least <= most:
                raise RangeError(
                    argument=f"{what}_least",
                    need=f"more than 0 mm and no more than {what}_most",
                    given=f"{say(least, 'm')} and {say(most, 'm')}",
                    advice=f"measure the {what} again",
                )


def _outline(name: str, figures: Figures) -> LampOutline:
    return LampOutline(name, **{quantity.replace(" ", "_"): figure.text for quantity, figure in figures.items()})


lamp_outlines: PartsTable[LampOutline] = PartsTable("lamp outline", "outlines.csv", _outline)
"""Outlines by name: "3 mm lamp, T-1 outline"."""


class Hole(NamedTuple):
    """A round hole: what made it, and its diameter in m."""

    name: str
    diameter: Band


def drilled_hole(drill: str | Drill | Any, oversize: float = 0.0) -> Hole:
    """The hole a drill makes: its own diameter at least, up to `oversize` (m) more at most.

    drill: a name in `drills` ("1/8 in", "no. 52"), a `Drill`, or a diameter ("2.38 mm" or a quantity)

    Raises UnknownNameError, UnitError or RangeError where the drill cannot be read.
    """
    if isinstance(drill, str) and (drill in drills or drill.strip().lower().startswith("no")):
        drill = drills[drill]
    diameter = drill.si.diameter if isinstance(drill, Drill) else _LENGTH.read(drill, "hole", scalar=True)
    if not diameter > 0:
        raise RangeError(argument="hole", need="more than 0 mm", given=say(diameter, "m"), example="3.2 mm")
    name = drill.name if isinstance(drill, Drill) else say(diameter, "m")
    return Hole(f"{name} hole", Band(diameter, diameter, diameter + oversize, "m"))


def _clearance(hole: Hole, thing: Band) -> Band:
    """Hole minus what goes through: at the worst, as named, at the best."""
    hole = hole.diameter
    return Band(hole.least - thing.most, hole.nominal - thing.nominal, hole.most - thing.least, "m")


def _verdict(clearance: Band, play: float) -> str:
    """The fit in a word: "fine" leaves the play even at the worst, "does not fit" is too thick already as named."""
    if clearance.nominal < -_ROUNDING:
        return FAILS
    return PASSES if clearance.least >= max(play - _ROUNDING, _ROUNDING) else TIGHT


@record
class LampFit:
    """A lamp in its hole, with `play` wanted around its thickest body."""

    outline: LampOutline
    hole: Any
    clearance: Any
    play: Length

    @property
    def body(self) -> str:
        """Whether the body goes in: "fine", "tight" or "does not fit"."""
        return _verdict(self.clearance, self.si.play)

    @property
    def flange(self) -> str:
        """Whether the flange holds the lamp back: "stops it", "may slip through", "slips through" or "not known"."""
        flange, hole = self.outline.si, self.hole.diameter
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
            f"{say(body.body_most, 'm')}, {_IN_WORDS[self.body]} {say(self.hole.diameter.nominal, 'm', 4)}; "
            f"the flange {_FLANGE[self.flange]}."
        )

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The verdicts on body and flange."""
        drill = _drill_for(max(self.outline.si.body_most + self.si.play, self.hole.diameter.nominal + _NEXT))
        remedy = f"Drill {drill or 'and ream'}, or try the lamp in a scrap piece first."
        found = [Finding(_GRADES[self.body], "lamp in its hole", self.sentence, "" if self.body == PASSES else remedy)]
        if self.flange in (MAY_SLIP, SLIPS):
            reason = f"The flange {_FLANGE[self.flange]} the {self.hole.name}."
            remedy = "Measure your own lamp, or hold it with a drop of glue."
            found.append(Finding(LOOK, "lamp's flange", reason, remedy))
        return tuple(found)


@with_units(scalar=True)
def lamp_in_hole(
    outline: str | LampOutline, hole: str | Drill | Any, play: Length = "0 mm", oversize: Length = DRILL_OVERSIZE
) -> LampFit:
    """Whether a lamp's body goes into a hole and its flange stops it there.

    Parameters
    ----------
    outline: a name in `lamp_outlines` or a record
    hole: a drill's name, a `Drill` or a diameter
    play: room wanted around the thickest body; oversize: what a drill cuts too much at most

    Raises UnknownNameError, UnitError, RangeError or DesignError for what cannot be read.
    """
    outline = outline if isinstance(outline, LampOutline) else lamp_outlines[outline]
    hole = drilled_hole(hole, oversize)
    least, most = outline.si.body_least, outline.si.body_most
    clearance = _clearance(hole, Band(least, (least + most) / 2, most, "m"))
    return LampFit.of(outline=outline, hole=hole, clearance=clearance, play=play)


@record
class WireFit:
    """Equal insulated wires through one round hole, with `play` wanted around their thickest bundle.

    count, wire: how many wires of which name
    bundle: diameter of the narrowest round hole for them
    thickest_wire: diameter over the insulation of the thickest wire of which so many pass
    drill: the drill to use for the thickest of these wires with play, "" where none is thick enough
    """

    count: int
    wire: str
    hole: Any
    bundle: Any
    clearance: Any
    play: Length
    thickest_wire: Length
    drill: str

    @property
    def verdict(self) -> str:
        """Whether they go through: "fine", "tight" or "does not fit"."""
        return _verdict(self.clearance, self.si.play)

    @property
    def sentence(self) -> str:
        """The fit in words."""
        many = f"{self.count} wires" if self.count > 1 else "1 wire"
        measured = self.bundle if self.bundle.least < self.bundle.most else say(self.bundle.nominal, "m")
        return (
            f"{many}, {self.wire}: the bundle measures {measured} and {_IN_WORDS[self.verdict]} the {self.hole.name} "
            f"of {say(self.hole.diameter.nominal, 'm', 4)}, which holds so many up to "
            f"{say(self.si.thickest_wire, 'm')} over the insulation."
        )

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The verdict on the fit."""
        drill = f"Drill {self.drill}" if self.drill else "Use more than one hole"
        remedy = f"{drill}, or use a thinner wire; measure your own over the insulation."
        topic, passes = "wires through the hole", self.verdict == PASSES
        return (Finding(_GRADES[self.verdict], topic, self.sentence, "" if passes else remedy),)


@with_units(scalar=True)
def wires_in_hole(
    count: Count,
    wire: str | Wire | Any,
    hole: str | Drill | Any,
    play: Length = WIRE_PLAY,
    oversize: Length = DRILL_OVERSIZE,
) -> WireFit:
    """Whether a number of equal insulated wires goes through a round hole.

    The wires are as close as circles can be (published packings, up to 20), round and hard.

    Parameters
    ----------
    count: number of wires, 1 to 20
    wire: a name in `wires`, a `Wire`, or the diameter over the insulation ("1.19 mm" or a quantity)
    hole: a drill's name, a `Drill` or a diameter
    play: room wanted around the thickest bundle; oversize: what a drill cuts too much at most

    Raises UnknownNameError, UnitError, RangeError or DesignError for what cannot be read.
    """
    ratio = float(enclosing_ratio(count))
    name, sizes = _outer(wire)
    hole = drilled_hole(hole, oversize)
    bundle = Band(*(ratio * size for size in sizes), "m")
    return WireFit.of(
        count=int(count),
        wire=name,
        hole=hole,
        bundle=bundle,
        clearance=_clearance(hole, bundle),
        play=play,
        thickest_wire=hole.diameter.nominal / ratio,
        drill=_drill_for(bundle.most + play),
    )


def _outer(wire: str | Wire | Any) -> tuple[str, tuple[float, float, float]]:
    """Name and least, nominal, most diameter over the insulation."""
    if isinstance(wire, str) and _names_a_wire(wire):
        wire = wire_table[wire]
    if isinstance(wire, Wire):
        return wire.name, (wire.si.outer_least, wire.si.outer_nominal, wire.si.outer_most)
    diameter = _LENGTH.read(wire, "wire", scalar=True)
    return f"{say(diameter, 'm')} over the insulation", (diameter,) * 3


def _names_a_wire(text: str) -> bool:
    """Whether a text is meant as a name and not as a diameter: a diameter is one number and one unit."""
    words = text.replace("-", " ").split()
    return text in wire_table or any(word.isalpha() and (len(word) > 3 or word.upper() == "AWG") for word in words)


def _drill_for(diameter: float) -> str:
    try:
        return next_drill_up(Q(diameter, "m")).name
    except DesignError:
        return ""


@record
class Piece:
    """One piece of wire: what it is for, its colour, length to cut and to strip at each end, its resistance."""

    what: str
    colour: str
    length: Length
    strip: Length
    resistance: Resistance


@record
class CutList:
    """What to cut for the two wires from the terminal strip up the mast to the lamps.

    total, to_buy: length of all pieces; the same with waste
    loop_resistance: there and back to the lamp that is farthest
    voltage_lost: what is lost in that at the current
    leads: length the lamps' leads are trimmed to
    steps: what to do, in order
    """

    wire: str
    pieces: tuple[Piece, ...]
    total: Length
    to_buy: Length
    current: Current
    loop_resistance: Resistance
    voltage_lost: Voltage
    leads: Length
    steps: tuple[str, ...]

    @property
    def sentence(self) -> str:
        """The list in words."""
        si = self.si
        return (
            f"{len(self.pieces)} pieces of {self.wire}, {say(si.total, 'm')} in all, {say(si.to_buy, 'm')} with waste; "
            f"there and back {say(si.loop_resistance, 'ohm')}, which costs {say(si.voltage_lost, 'V')} "
            f"at {say(si.current, 'A')}."
        )

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The verdicts on the wires."""
        much = self.si.voltage_lost > _NOTICEABLE
        remedy = "Use thicker wire or a shorter way, or count it in with the resistor." if much else ""
        return (
            Finding(LOOK if much else FINE, "wires", self.sentence, remedy),
            Finding(
                FINE,
                "lamp leads",
                "The longer lead is the anode (common practice, no source), and trimming hides which it was.",
                "Mark it before trimming; if in doubt, test the lamp with its resistor on a low voltage.",
            ),
        )


@with_units(scalar=True)
def cut_list(
    mast_height: Length,
    distance: Length,
    lamp_heights: Any,
    wire: str | Wire = "26 AWG solid hook-up",
    slack: Length = "50 mm",
    strip: Length = STRIPPED,
    leads: Length = TRIMMED,
    current: Current = "10 mA",
) -> CutList:
    """The pieces of wire that a signal of lamps back to back on two wires needs.

    Parameters
    ----------
    mast_height: from foot to top
    distance: from the mast's foot to the terminal strip, as the wire runs
    lamp_heights: of each lamp above the mast's foot, one length or a list of up to 8
    slack: added to each wire that goes to the terminal strip
    strip: insulation removed at each end; it is added to the run of the wire
    leads: what the lamps' leads are trimmed to; lamps no more than twice that apart need no wire between them
    current: of one lamp, one lit at a time

    Raises UnitError, RangeError or UnknownNameError for what cannot be read, DesignError where the lamps are above
    the mast or the strip leaves no insulation.
    """
    heights = _heights(lamp_heights, mast_height)
    wire = wire if isinstance(wire, Wire) else wire_table[wire]
    names = {1: ("lamp",), 2: ("lower lamp", "upper lamp")}.get(
        len(heights), [f"lamp {number} from below" for number in range(1, len(heights) + 1)]
    )
    runs = [(f"terminal to {names[0]}", distance + slack + heights[0])]
    gaps = zip(names, names[1:], np.diff(heights).tolist(), strict=False)
    runs += [(f"{lower} to {upper}", gap) for lower, upper, gap in gaps if gap > 2 * leads]
    shortest = min(length for _, length in runs)
    if shortest <= strip:
        raise DesignError(
            f"strip {say(strip, 'm')} leaves hardly any insulation on a run of {say(shortest, 'm')}; "
            "strip less, or give more slack"
        )
    lengths = np.array([length for _, length in runs]) + 2 * strip
    ohms = wire.resistance(_LENGTH.quantity(lengths)).magnitude
    pieces = tuple(
        Piece.of(what=f"{what}, wire {name}", colour=colour, length=length, strip=strip, resistance=ohm)
        for (what, _), length, ohm in zip(runs, lengths.tolist(), ohms.tolist(), strict=True)
        for name, colour in zip("AB", COLOURS, strict=True)
    )
    total, loop = 2 * float(lengths.sum()), 2 * float(ohms.sum())
    cuts = "; ".join(f"{each.colour}, {each.what}: {say(each.si.length, 'm')}" for each in pieces)
    return CutList.of(
        wire=wire.name,
        pieces=pieces,
        total=total,
        to_buy=total * (1 + WASTE),
        current=current,
        loop_resistance=loop,
        voltage_lost=current * loop,
        leads=leads,
        steps=(
            f"Cut {len(pieces)} pieces ({cuts}).",
            f"Strip {say(strip, 'm')} of insulation off both ends of each, and tin them.",
            "Mark each lamp's longer lead, the anode, before trimming: afterwards both leads look alike.",
            f"Trim the lamps' leads to {say(leads, 'm')}; hold the end you cut off, and wear eye protection.",
        ),
    )


def _heights(given: Any, mast_height: float) -> np.ndarray:
    heights = np.sort(np.atleast_1d(_LENGTH.read(given, "lamp_heights")).ravel())
    if not 1 <= len(heights) <= _MOST_LAMPS:
        raise DesignError(
            argument="lamp_heights",
            need=f"1 to {_MOST_LAMPS} lamps",
            given=str(len(heights)),
            advice="split the signal",
        )
    if heights[-1] > mast_height:
        raise DesignError(
            f"lamp_heights reaches {say(heights[-1], 'm')}, and the mast is {say(mast_height, 'm')} high; "
            "measure both from the mast's foot"
        )
    return heights
