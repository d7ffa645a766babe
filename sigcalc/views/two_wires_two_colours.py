"""Pictures of the lesson on two wires: how bright both lamps are, and what they show on AC."""

from __future__ import annotations

import numpy as np

from ..design.pair.alternation import Alternation
from ..design.pair.brightness import EVEN_UP_TO, Evenness, even_out
from ..design.pair.two_lead_pair import PairStudy
from ..design.pair.wiring import GREEN, RED
from ..parts.drive import ConstantCurrentDrive
from ..parts.led import LIT_FROM
from ..physics.light import unevenness_word
from ..units import say
from .chart import kept
from .phrases import two_figures
from .picture import Picture
from .rows import Rows
from .style import DASHES, NORMAL, PAPER, STAGE, Size, lamp_fill, lamp_hatch, lamp_stroke

_LAMPS = (RED, GREEN)


def brightness_bars(evenness: Evenness, full: float | None = None, size: Size = NORMAL) -> Picture:
    """Bars for the typical light of both lamps, whiskers for the least and the most of bought ones.

    `full` is the light in cd at the end of the scale, so that bars of several pictures can be compared; a bar that is
    longer ends there and says so. Without it the longest is as long as there is room.
    """
    si = evenness.si
    spans = {lamp: [getattr(si, f"{lamp}_light{end}") for end in ("_min", "", "_max")] for lamp in _LAMPS}
    end = max(most for *_, most in spans.values()) if full is None else full
    _, end = kept(0.0, end, "light")
    on_wall = size is STAGE
    chart = Rows(0.0, 1e3 * end, left=76.0, right=126.0 if on_wall else 194.0, size=size)
    brightest = max(typical for _, typical, _ in spans.values())
    for lamp, (least, typical, most) in spans.items():
        share = typical / brightest
        words = f"{_mcd(typical)} mcd, {f'{100 * share:.0f} %' if share >= 0.01 else 'under 1 %'}"
        chart.row(lamp.upper(), tall=30.0, gap=14.0 if on_wall else 2.0)
        beyond = "" if typical <= end * (1 + 1e-9) else "off the scale: "
        chart.bar(1e3 * typical, beyond + words, lamp_fill(lamp), lamp_hatch(lamp), bold=True)
        if on_wall:  # bought ones are told on the page only
            continue
        chart.row("", tall=20.0, gap=14.0)
        chart.whisker(1e3 * least, 1e3 * most, f"bought: {_mcd(least)} to {_mcd(most)} mcd")
    if full is not None:
        chart.axis("light straight ahead in mcd")
    return chart.picture(_brightness_words(evenness))


def _mcd(light: float) -> str:
    """A light in cd as the scale counts it; what is next to none has no more than three decimals."""
    return f"{1e3 * light:.3g}" if light >= 1e-4 else f"{1e3 * light:.2f}"


def _brightness_words(evenness: Evenness) -> str:
    brighter, dimmer = evenness.brighter, GREEN if evenness.brighter == RED else RED
    word = str(unevenness_word(evenness.ratio)) if evenness.word.startswith("one ") else evenness.word
    word = word.replace("one ", f"{brighter} ")
    times = f"{two_figures(evenness.ratio)} times" if evenness.ratio >= 1.05 else "about"
    return (
        f"{brighter.capitalize()} has {times} the light of {dimmer}: {word}. With bought parts one may have "
        f"{two_figures(evenness.ratio_max)} times the light of the other."
    )


def even_brief(study: PairStudy, evenness: Evenness, supply: str) -> str:
    """How uneven both lamps look and the remedy, for a wall."""
    brighter, dimmer = evenness.brighter, "green" if evenness.brighter == "red" else "red"
    if evenness.ratio <= EVEN_UP_TO:
        return f"About alike, typically; of 100 bought pairs {100 * evenness.odds:.0f} differ visibly."
    said = f"{brighter.capitalize()} has {two_figures(evenness.ratio)} times {dimmer}'s light"
    if isinstance(study.red.drive, ConstantCurrentDrive):
        return f"{said}: one driver cannot even that out."
    more = say(even_out(supply, study.red.drive, study.red.pair).si.extra, "ohm")
    return f"{said}; {more} more evens it out."


def timeline(result: Alternation, size: Size = NORMAL, full: float | None = None) -> Picture:
    """Two cycles of both lamps' currents, one row for each lamp: red's line is solid and green's dashed.

    `full` is the current in A at the top of both rows, so that the scale stays; a peak beyond is cut off there and says
    so. Without it the larger peak is at the top.
    """
    chart = Rows(0.0, 2.0, left=104.0, right=14.0, size=size)
    _, most = kept(0.0, full or max(result.red.si.peak_current, result.green.si.peak_current, 1e-6), "current")
    chart.row("", tall=8.0, gap=0.0)
    phase = np.concatenate([result.phase, 1 + result.phase])
    for lamp, dash in zip(_LAMPS, DASHES, strict=False):
        share = result.share(lamp).si
        lit = share.peak_current > LIT_FROM
        notes = [f"peak {say(share.peak_current, 'A', 2)}", f"mean {say(share.mean_current, 'A', 2)}"]
        beyond = ["off the scale"] if share.peak_current > most else []
        chart.row(lamp.upper(), *([*notes, *beyond] if lit else ["dark"]), tall=84.0, gap=24.0)
        if full is not None:
            chart.level(1.0, say(full, "A"), dash=":")
        if lit:
            wave = np.tile(getattr(result, f"{lamp}_wave") / most, 2)
            look = {"dash": dash, "colour": lamp_stroke(lamp), "hatch": lamp_hatch(lamp)}
            chart.curve(phase, wave, 2.4, lamp_fill(lamp), **look)
        chart.level(0.0)
    chart.row("", tall=20.0)
    chart.strip([(0.0, 1.0)], f"one cycle, {say(1 / result.si.frequency, 's', 3)}", PAPER)
    chart.strip([(1.0, 2.0)], "the next", PAPER)
    return chart.picture(result.sentence)


def alternation_brief(result: Alternation) -> str:
    """What both lamps look like, for a wall."""
    if result.lit == "none":
        return "Both lamps stay dark: the supply never reaches their drop."
    means = ", ".join(say(result.share(lamp).si.mean_current, "A", 2) for lamp in _LAMPS)
    return f"{result.looks[:1].upper()}{result.looks[1:]}: {means} on average."
