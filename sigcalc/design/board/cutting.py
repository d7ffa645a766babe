"""The cut and strip list of a signal's wires, and what their resistance takes from the voltage.

Wires run from the terminal under the board to the mast, up the mast, and to the lamps.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np

from ...errors import DesignError
from ...parts.wire import Wire
from ...parts.wire import wires as wire_table
from ...units import (
    Count,
    Current,
    Length,
    Q,
    Ratio,
    Resistance,
    Temperature,
    Voltage,
    kind_of,
    record,
    say,
    with_units,
)
from ...units.reading import quoted
from ..findings import FINE, LOOK, Finding

TRIMMED, STRIPPED = "1/4 in", "1/4 in"  # common practice, no source: leads are trimmed, insulation is stripped to this
COLOURS = ("orange", "blue", "white", "grey", "violet", "brown", "pink", "turquoise")
"""Insulation colours in the order they are used: none that could be taken for a lamp's, or for a supply's pole."""

PAIR, COMMON, OWN = "head to tail on two wires", "a common wire and one for each lamp", "two wires for each lamp"

_NOTICEABLE = 0.1  # V; common practice, no source: less is lost among the tolerances of LED and supply
_LENGTH = kind_of(Length)
_MOST_LAMPS = 8


@record
class Piece:
    """One piece of wire: what it is for, its colour, length to cut and to strip at each end, its resistance."""

    what: str
    colour: str
    length: Length
    strip_first: Length
    strip_second: Length
    resistance: Resistance


@record
class CutList:
    """What to cut.

    Attributes
    ----------
    form: how the lamps share the wires, in words
    total, to_buy: length of all pieces; the same with waste
    loop_resistance: there and back to the lamp that is farthest, one lamp lit
    voltage_lost: what that takes at the current
    leads: length the lamps' leads are trimmed to
    steps: what to do, in order
    """

    wire: str
    form: str
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
            f"there and back {say(si.loop_resistance, 'ohm')}, which takes {say(si.voltage_lost, 'V')} "
            f"at {say(si.current, 'A')}."
        )


@with_units(scalar=True)
def cut_list(
    mast_height: Length,
    distance: Length,
    lamp_heights: Any,
    wires: Count = 2,
    wire: str | Wire = "26 AWG solid hook-up",
    slack: Length = "50 mm",
    strip: Length = STRIPPED,
    leads: Length = TRIMMED,
    current: Current = "10 mA",
    waste: Ratio = 0.1,
    temperature: Temperature = "20 degC",
    colours: Sequence[str] = COLOURS,
) -> CutList:
    """The pieces of wire a signal needs.

    Parameters
    ----------
    mast_height: from foot to top
    distance: from the mast's foot to the terminal, as the wire runs
    lamp_heights: of each lamp above the mast's foot, one length or a list of up to 8
    wires: 2 (lamps head to tail), one more than lamps (a common wire), or two for each lamp
    slack: added to each wire that goes to the terminal
    strip: insulation taken off each end; it is added to the run of the wire
    leads: what the lamps' leads are trimmed to; lamps no more than twice that apart need no wire between them
    current: of one lamp, one lit at a time
    waste: share of the total bought besides
    colours: of the insulation, one for each wire

    Raises UnitError, RangeError or UnknownNameError for what cannot be read, DesignError where the lamps are above
    the mast, the number of wires suits no form, or colours are missing.
    """
    heights = _heights(lamp_heights, mast_height)
    form = _form(wires, len(heights))
    wire = wire if isinstance(wire, Wire) else wire_table[wire]
    runs = _runs(form, heights, distance + slack, 2 * leads)
    names = _colours(colours, 1 + max(each.colour for each in runs))
    _need_insulation(min(each.length for each in runs), strip)
    lengths = np.array([each.length for each in runs]) + 2 * strip
    ohms = wire.resistance(_LENGTH.quantity(lengths), Q(temperature, "K")).magnitude
    pieces = tuple(
        Piece.of(
            what=run.what,
            colour=names[run.colour],
            length=length,
            strip_first=strip,
            strip_second=strip,
            resistance=ohm,
        )
        for run, length, ohm in zip(runs, lengths.tolist(), ohms.tolist(), strict=True)
    )
    total, loop = float(lengths.sum()), float(ohms[[each.farthest for each in runs]].sum())
    return CutList.of(
        wire=wire.name,
        form=form,
        pieces=pieces,
        total=total,
        to_buy=total * (1 + waste),
        current=current,
        loop_resistance=loop,
        voltage_lost=current * loop,
        leads=leads,
        steps=_steps(pieces, strip, leads),
    )


class _Run(NamedTuple):
    """A wire's way (m) before its ends are stripped; whether it belongs to the loop of the farthest lamp."""

    what: str
    colour: int
    length: float
    farthest: bool


def _heights(given: Any, mast_height: float) -> np.ndarray:
    heights = np.sort(np.atleast_1d(_LENGTH.read(given, "lamp_heights")).ravel())
    if not 1 <= len(heights) <= _MOST_LAMPS:
        raise DesignError(f"lamp_heights needs 1 to {_MOST_LAMPS} lamps, but {len(heights)} came; split the signal")
    if heights[-1] > mast_height:
        raise DesignError(
            f"lamp_heights reaches {say(heights[-1], 'm')}, but the mast is {say(mast_height, 'm')} high; "
            "measure both from the mast's foot"
        )
    return heights


def _form(wires: float, lamps: int) -> str:
    forms = {2 * lamps: OWN, lamps + 1: COMMON, 2: PAIR}
    if wires not in forms:
        choices = " or ".join(f"{number} ({form})" for number, form in sorted(forms.items()))
        raise DesignError(f"wires needs to suit {lamps} lamps: {choices}; but {wires:g} came")
    return forms[wires]


def _runs(form: str, heights: np.ndarray, to_mast: float, near: float) -> list[_Run]:
    """Every piece: `to_mast` is the way from terminal to mast; lamps up to `near` apart need no wire between them."""
    up = (to_mast + heights).tolist()
    gaps = [(place, gap) for place, gap in enumerate(np.diff(heights).tolist(), 1) if gap > near]
    last = len(up)
    if form == PAIR:
        mains = [
            _Run(f"terminal to {_lamp(1, last)}, wire {wire}", place, up[0], True) for place, wire in enumerate("AB")
        ]
        links = [
            _Run(f"{_lamp(lamp, last)} to {_lamp(lamp + 1, last)}, wire {wire}", place, gap, True)
            for lamp, gap in gaps
            for place, wire in enumerate("AB")
        ]
        return mains + links
    if form == COMMON:
        common = [_Run(f"terminal to {_lamp(1, last)}, common", 0, up[0], True)]
        links = [_Run(f"{_lamp(lamp, last)} to {_lamp(lamp + 1, last)}, common", 0, gap, True) for lamp, gap in gaps]
        own = [_Run(f"terminal to {_lamp(lamp, last)}", lamp, way, lamp == last) for lamp, way in enumerate(up, 1)]
        return common + own + links
    return [
        _Run(f"terminal to {_lamp(lamp, last)}, {lead}", 2 * (lamp - 1) + place, way, lamp == last)
        for lamp, way in enumerate(up, 1)
        for place, lead in enumerate(("anode", "cathode"))
    ]


def _lamp(number: int, count: int) -> str:
    """A lamp's name; the first is the lowest."""
    names = {1: ("lamp",), 2: ("lower lamp", "upper lamp")}
    return names[count][number - 1] if count in names else f"lamp {number} from below"


def _colours(given: Sequence[str], needed: int) -> list[str]:
    names = [given] if isinstance(given, str) else list(given) if isinstance(given, Sequence) else []
    if not all(isinstance(each, str) and each.strip() for each in names) or len(set(names)) < max(needed, len(names)):
        raise DesignError(
            f"colours needs {needed} different words, one for each wire, but {quoted(given)} came; add some"
        )
    return names


def _need_insulation(shortest: float, strip: float) -> None:
    if shortest <= strip:
        raise DesignError(
            f"strip {say(strip, 'm')} leaves hardly any insulation on a run of {say(shortest, 'm')}; "
            "strip less, or give more slack"
        )


def _steps(pieces: tuple[Piece, ...], strip: float, leads: float) -> tuple[str, ...]:
    cuts = "; ".join(f"{each.colour}, {each.what}: {say(each.si.length, 'm')}" for each in pieces)
    return (
        f"Cut {len(pieces)} pieces ({cuts}).",
        f"Strip {say(strip, 'm')} of insulation off both ends of each, and tin them.",
        "Mark each lamp's longer lead, the anode, before trimming: afterwards both leads look alike.",
        f"Trim the lamps' leads to {say(leads, 'm')}; hold the end you cut off, and wear eye protection.",
    )


def findings(result: CutList) -> tuple[Finding, ...]:
    """The verdicts on the wires, with reason and remedy."""
    lost = result.si.voltage_lost
    remedy = "" if lost <= _NOTICEABLE else "Take thicker wire or a shorter way, or count it in with the resistor."
    return (
        Finding(LOOK if remedy else FINE, "wires", result.sentence, remedy),
        Finding(
            FINE,
            "lamp leads",
            "The longer lead is the anode (common practice, no source), and trimming hides which it was.",
            "Mark it before trimming; if in doubt, test the lamp with its resistor on a low voltage.",
        ),
    )
