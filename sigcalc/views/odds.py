"""Of many trains: how many were given their red, and what went wrong with the others."""

from __future__ import annotations

from ..design.train.passing_odds import PassingOdds
from ..units import say
from .canvas import Canvas
from .picture import Picture
from .style import INK, NORMAL, PAPER, SHADE, THIN, Size

_WIDTH, _LEFT, _RIGHT, _TOP, _ROW, _BAR = 530.0, 168.0, 430.0, 30.0, 34.0, 20.0
_ROWS = {
    "right": "given its red",
    "missed": "never red",
    "short": "green too soon",
    "own_red": "red before its front",
    "for_good": "red for good",
}


def odds_picture(result: PassingOdds, size: Size = NORMAL) -> Picture:
    """A bar for each outcome, with its count; one train may stand in two of them."""
    canvas = Canvas(_WIDTH, _TOP + len(_ROWS) * _ROW + 4)
    canvas.group("title")
    canvas.text((0, 14), f"Of {result.samples} trains, parts and speeds from all over their bands:", bold=True)
    for number, (name, words) in enumerate(_ROWS.items()):
        share, y = getattr(result.si, name), _TOP + number * _ROW
        canvas.group(f"row {name}")
        canvas.text((0, y + 15), words)
        canvas.rectangle((_LEFT, y), (_RIGHT - _LEFT, _BAR), fill=PAPER, width=THIN)
        if share:
            fill = SHADE if name == "right" else INK
            canvas.rectangle((_LEFT, y), (max(share * (_RIGHT - _LEFT), 1.5), _BAR), fill=fill, width=THIN)
        canvas.text((_RIGHT + 8, y + 15), f"{round(share * result.samples)}, {say(share, '')}", bold=bool(share))
    return canvas.picture(result.sentence, size)
