"""The first things a newcomer meets and their symbols, side by side and named."""

from __future__ import annotations

from ...design.lamp.drive import NORMAL as USUAL_LIGHT
from ...parts.drive import ResistorDrive
from ..canvas import Canvas, Place
from ..circuit import elm, lamp_symbol, symbol
from ..light import Light
from ..picture import Picture
from ..style import FAINT, MATERIALS, NORMAL, SHADE, THIN, Size
from .first_circuit import resistor_facts
from .table import Table

_LEFT, _COLUMN, _HEIGHT = 84.0, 148.0, 256.0
_THING, _SYMBOL, _WORDS = 74.0, 176.0, 218.0  # middles of the first two rows, and the first line of the last
_HALF = 48.0  # of a symbol's length
_LIGHT = Light("red", USUAL_LIGHT, 0.7)
_SAID = {
    "battery": ("its longer line", "is plus"),
    "resistor": ("a box; it fits", "either way round"),
    "LED": ("lets current flow only", "as its triangle points"),
    "wire": ("a line; with a dot", "where wires join"),
}


def things_and_symbols(size: Size = NORMAL) -> Picture:
    """A battery, a resistor, an LED and a wire: as each looks, as it is drawn, and what it is called."""
    table = Table(_LEFT + _COLUMN * len(_SAID), _HEIGHT)
    for middle, words in ((_THING, "as it looks"), (_SYMBOL, "as it is drawn")):
        table.text((2, middle + 4), words, fill=FAINT)
    for number, (name, said) in enumerate(_SAID.items()):
        x = _LEFT + _COLUMN * (number + 0.5)
        if number:
            table.line((x - _COLUMN / 2, 12), (x - _COLUMN / 2, _HEIGHT - 6), width=THIN, colour=SHADE)
        _lay(table, name, x)
        table.group(f"symbol {name}")
        _draw(table, name, ((x - _HALF, _SYMBOL), (x + _HALF, _SYMBOL)))
        table.lines((x, _WORDS), (name, *said), "middle", bold_first=True)
    return table.picture(
        "Each thing, its symbol below it, and its name. The longer leg of an LED is its plus, the anode; the shorter "
        "one, on the side where the rim is flat, its minus, the cathode.",
        size,
    )


def _lay(table: Table, name: str, x: float) -> None:
    """The thing itself, in the middle of its column."""
    if name == "battery":
        table.put("battery_9v", (x - 38, _THING - 54), words="9 V")
    elif name == "resistor":
        table.put("resistor", (x - 48, _THING - 13), **resistor_facts(ResistorDrive("470 ohm")))
    elif name == "LED":
        ends = table.put("led", (x - 23, _THING - 48), light=_LIGHT)
        for leg, side, words in (("long", -6, "long, +"), ("short", 6, "short, −")):
            table.text((ends[leg][0] + side, ends[leg][1] - 2), words, "end" if side < 0 else "start")
    else:
        table.wire((x, _THING), (x, _THING + 40), pole="+")
        table.wire((x - _HALF, _THING), (x + _HALF, _THING), pole="+")
        table.circle((x, _THING), 4.6, fill=MATERIALS["metal"], width=THIN)


def _draw(canvas: Canvas, name: str, ends: tuple[Place, Place]) -> None:
    """Its symbol between two places, plus on the left where it has one."""
    (left, y), (right, _) = ends
    if name == "LED":
        lamp_symbol(canvas, "red", _LIGHT, ends)
    elif name == "wire":
        canvas.line(*ends)
        canvas.line(((left + right) / 2, y), ((left + right) / 2, y + 18))
        canvas.joint(((left + right) / 2, y))
    else:
        canvas.add(symbol(elm.Battery if name == "battery" else elm.ResistorIEC, *ends))
    if name in ("battery", "LED"):
        for x, sign in ((left, "+"), (right, "−")):
            canvas.text((x, y - 8), sign, "middle", bold=True, size=14)
