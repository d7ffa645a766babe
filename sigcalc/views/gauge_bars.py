"""What each gauge of wire leaves of the weakest lamp's light, as bars, against what is asked for."""

from __future__ import annotations

from collections.abc import Mapping

from ..errors import UnitError
from ..units import Ratio, say, with_units
from ..units.reading import quoted
from .canvas import Canvas
from .picture import Picture
from .style import LINE, NORMAL, PAPER, SHADE, THIN, Size

_WIDTH, _TOP, _STEP, _BAR = 480.0, 34.0, 29.0, 18.0
_START, _ROOM = 76.0, 250.0


@with_units(scalar=True)
def gauge_bars(shares: Mapping[int, float], wanted: Ratio, size: Size = NORMAL) -> Picture:
    """A bar for the share of light that each gauge leaves, the thinnest first; `wanted` is the share asked for."""
    if not isinstance(shares, Mapping) or not shares:
        raise UnitError(f"shares needs a share for each gauge, but {quoted(shares)} came; take what gauge_shares gives")
    pairs = sorted(shares.items(), reverse=True)
    thinnest = max((gauge for gauge, share in pairs if share >= wanted), default=None)
    canvas = Canvas(_WIDTH, _TOP + _STEP * len(pairs) + 6)
    for place, (gauge, share) in enumerate(pairs):
        _row(canvas, _TOP + place * _STEP, (gauge, share), share >= wanted, gauge == thinnest)
    mark = _START + wanted * _ROOM
    canvas.group("wanted")
    canvas.line((mark, _TOP - 6), (mark, canvas.height - 6), width=LINE, dash="6 3")
    canvas.text((mark, _TOP - 12), f"asked for: {say(wanted, '')}", "middle", bold=True)
    canvas.line((_START, _TOP - 6), (_START, canvas.height - 6))
    return canvas.picture(_sentence(pairs, wanted, thinnest), size)


def _row(canvas: Canvas, top: float, pair: tuple[int, float], enough: bool, chosen: bool) -> None:
    (gauge, share), baseline = pair, top + 14
    canvas.group(f"gauge {gauge}")
    canvas.text((_START - 8, baseline), f"{gauge} AWG", "end", bold=chosen)
    fill, width = (SHADE, LINE) if enough else (PAPER, THIN)
    canvas.rectangle((_START, top), (share * _ROOM, _BAR), fill=fill, width=width)
    words = f"{say(share, '')} {'✔ enough' if enough else '✘ too thin'}"
    canvas.text((_START + _ROOM + 10, baseline), words, bold=chosen)


def _sentence(pairs: list[tuple[int, float]], wanted: float, thinnest: int | None) -> str:
    said = ", ".join(f"{gauge} AWG {say(share, '')}" for gauge, share in pairs)
    enough = "No gauge shown is enough" if thinnest is None else f"{thinnest} AWG is the thinnest that is enough"
    return f"What the weakest lamp keeps of its light at worst: {said}. Asked for: {say(wanted, '')}. {enough}."
