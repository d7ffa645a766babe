"""Two resistors joined, as they lie on the table; the same as symbols is `views.which_resistor.joined_resistors`."""

from __future__ import annotations

from ...parts.drive import ResistorDrive
from ...units import Q, say
from ..picture import Picture
from ..style import NORMAL, STAGE, TEXT, Size
from ..which_resistor import JOINED_TEXT, joined_resistors
from .first_circuit import resistor_facts
from .table import Table

_WIDTH, _SCALE = 480.0, 1.9
_LONG, _TALL = 96 * _SCALE, 26 * _SCALE


def joined_scene(
    first: float, second: float, tolerance: float, parallel: bool, size: Size = NORMAL, named: bool = True
) -> Picture:
    """Two resistors, in ohm, with their real bands, side by side or one behind the other between two wires.

    `named` writes above them how they are joined.
    """
    symbols = joined_resistors(first, second, parallel)
    table = Table(_WIDTH, (168.0 if parallel else 92.0) + 8.0 * (size is STAGE))
    apart = (_WIDTH - _LONG) / 2, (_WIDTH / 2 - _LONG - 8, _WIDTH / 2 + 8)
    corners = [(apart[0], y) for y in (30.0, 98.0)] if parallel else [(x, 30.0) for x in apart[1]]
    heights = [y + _TALL / 2 for _, y in corners]
    if parallel:
        middle = sum(heights) / 2
        for end, edge in ((6.0, corners[0][0] - 24), (_WIDTH - 6, corners[0][0] + _LONG + 24)):
            inner = edge + (26 if edge > end else -26)
            table.wire((end, middle), (edge, middle))
            table.wire((inner, heights[0]), (edge, heights[0]), (edge, heights[1]), (inner, heights[1]))
    else:
        for start, end in (
            (6.0, corners[0][0]),
            (corners[0][0] + _LONG, corners[1][0]),
            (corners[1][0] + _LONG, 474.0),
        ):
            table.wire((start, heights[0]), (end, heights[0]))
    table.group("caption")
    text = {"size": JOINED_TEXT if size is STAGE else TEXT}
    if named:
        caption = symbols.sentence.removesuffix(".").replace(" are joined", "")
        table.text((_WIDTH / 2, 20), caption, "middle", bold=True, **text)
    for ohms, (x, y) in zip((first, second), corners, strict=True):
        table.put("resistor", (x, y), _SCALE, **resistor_facts(ResistorDrive(Q(ohms, "ohm"), tolerance)))
        table.words((x + _LONG / 2, y + _TALL + 10), say(ohms, "ohm"), **text)
    return table.picture(symbols.sentence, size)
