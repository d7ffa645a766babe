"""How thin the feeder's wire may be before the last signal dims."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from typing import Any

from ...errors import DesignError, RangeError, UnitError, UnknownNameError
from ...parts.fuse import bearable_current
from ...parts.table import unknown
from ...units import Current, Ratio, record, say, with_units
from ...units.reading import quoted
from ..findings import FINE, LOOK, Finding
from .board import Board, as_board
from .board_state import MOST, USUAL_SHARE, corner_states, worsts_of

USUAL_GAUGES = (30, 28, 26, 24, 22, 20, 18, 16)
BREAKS_BELOW = 28  # common practice, no source: thinner solid wire breaks when it is pulled under a layout
STRONGER = "Lay it in a duct, or take thicker wire under the layout."


@record
class GaugeTrial:
    """A gauge tried, and the least share of its light that any lamp keeps with it, at any corner."""

    gauge: int
    share: Ratio


@record
class GaugeChoice:
    """The thinnest gauge that is enough, the lamp that decides, and all gauges tried, the thinnest first.

    `current` is the most in any of the sections that were changed, `bearable` what the gauge bears in a bundle.
    """

    gauge: int
    share: Ratio
    wanted: Ratio
    weakest: str
    current: Current
    bearable: Current
    tried: tuple[GaugeTrial, ...]
    board: Board


@with_units(scalar=True)
def gauge_for(
    board: Board,
    share: Ratio = USUAL_SHARE,
    gauges: Sequence[int] = USUAL_GAUGES,
    sections: Sequence[str] | None = None,
) -> GaugeChoice:
    """The thinnest gauge with which every lamp keeps a share of its own light, at every corner of the tolerances.

    Parameters
    ----------
    board: its own wires count only in the sections that are not asked about
    share: of the light a signal would have alone on the source
    gauges: American wire gauges to choose from
    sections: names of the sections to be wired alike; all of them if not given

    Raises DesignError where not even the thickest is enough, with what limits it instead.
    """
    if not 0 < share <= 1:
        raise RangeError(f'share needs to be above 0 and up to 1, but {share:g} came; give for example "80 %"')
    names = _names(as_board(board), sections)
    tried, offered = [], sorted(_gauges(gauges), reverse=True)
    boards = [_wired(board, gauge, names) for gauge in offered]
    for gauge, wired, worst in zip(offered, boards, worsts_of(boards), strict=True):
        least, place, _ = worst.weakest
        tried.append(GaugeTrial.of(gauge=gauge, share=least))
        if tried[-1].share >= share:
            changed = [number for number, each in enumerate(wired.sections) if each.name in names]
            most = corner_states(wired, (MOST,)).values()
            current = max(float(abs(each.si.section_current[changed]).max()) for each in most)
            return GaugeChoice.of(
                gauge=gauge,
                share=tried[-1].share,
                wanted=share,
                weakest=board.signals[place].name,
                current=current,
                bearable=float(bearable_current(gauge).to("A").magnitude),
                tried=tuple(tried),
                board=wired,
            )
    raise DesignError(
        f"no gauge of {', '.join(str(each.gauge) for each in tried)} keeps {say(share, '', 4)} of the light: "
        f"the thickest leaves {say(max(each.share for each in tried), '', 4)}; shorten the runs, take fewer signals, "
        "give far signals a drive that holds its current, or feed the board from a stiffer source"
    )


def _names(board: Board, sections: Any) -> set[str]:
    known = [each.name for each in board.sections]
    if not known:
        raise RangeError("board needs at least one section, since a wire is asked for; add the run to the signal")
    if sections is None:
        return set(known)
    if isinstance(sections, str) or not isinstance(sections, Sequence) or not sections:
        raise UnitError(f"sections needs a list of names, but {quoted(sections)} came")
    for name in sections:
        if name not in known:
            raise UnknownNameError(unknown("section", name, known))
    return set(sections)


def _gauges(gauges: Any) -> list[int]:
    if isinstance(gauges, str) or not isinstance(gauges, Sequence) or not gauges:
        raise UnitError(f"gauges needs a list of American wire gauges, but {quoted(gauges)} came; try [28, 26, 24, 22]")
    for gauge in gauges:
        bearable_current(gauge)  # refuses what is no gauge
        if isinstance(gauge, str):
            raise UnitError(f"gauges needs whole numbers, but {quoted(gauge)} came; write 26 for 26 AWG")
    return [int(gauge) for gauge in gauges]


def _wired(board: Board, gauge: int, names: set[str]) -> Board:
    sections = (dataclasses.replace(each, wire=gauge) if each.name in names else each for each in board.sections)
    return dataclasses.replace(board, sections=tuple(sections))


def _that_bears(current: float) -> str:
    """The thinnest usual wire that bears a current for good."""
    enough = (each for each in USUAL_GAUGES if bearable_current(each).m_as("A") >= current)
    gauge = next(enough, None)
    if gauge is None:
        return f"Not even {USUAL_GAUGES[-1]} AWG bears that: feed the board in two places, or take fewer signals."
    return f"Take {gauge} AWG where the current is greatest."


def findings(choice: GaugeChoice) -> list[Finding]:
    """The choice with what the next thinner wire would do, and whether the wire bears its current."""
    if not isinstance(choice, GaugeChoice):
        raise UnitError(f"choice needs what gauge_for gives, but {type(choice).__name__} came")
    said = f"{choice.gauge} AWG leaves {quoted(choice.weakest)} {say(choice.share, '')} of its light at worst."
    if len(choice.tried) > 1:
        thinner = choice.tried[-2]
        said += f" {thinner.gauge} AWG would leave {say(thinner.share, '')}, and {say(choice.wanted, '')} is asked for."
    found = [Finding(FINE, "gauge", said)]
    if choice.si.current > choice.si.bearable:
        reason = (
            f"The wire carries up to {say(choice.si.current, 'A')} and bears {say(choice.si.bearable, 'A')} in a "
            "bundle (700 circular mils an ampere, a careful rule)."
        )
        found.append(Finding(LOOK, "wire current", reason, _that_bears(choice.si.current)))
    if choice.gauge > BREAKS_BELOW:
        reason = f"{choice.gauge} AWG breaks easily where it is pulled or stripped."
        found.append(Finding(LOOK, "strength", reason, STRONGER))
    return found
