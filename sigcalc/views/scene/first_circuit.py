"""The first circuit as it lies on the table: a source, a resistor (or none, or a driver), and an LED or a few."""

from __future__ import annotations

from typing import Any, NamedTuple

from ...design.lamp.drive import OperatingPoint
from ...errors import RangeError
from ...parts.drive import ConstantCurrentDrive, Drive
from ...parts.marking import colour_bands
from ...units import say
from ..canvas import Place, text_width, wrapped
from ..circuit import LABEL_WIDTH, supply_name
from ..led_circuit import led_sentence
from ..light import Light
from ..phrases import current_words, drive_name, voltage_words
from ..picture import Picture
from ..style import NORMAL, STAGE, STAGE_BOX, Size
from ..which_resistor import band_fills, body_fill
from .source import COLUMN, Laid, lay_source
from .table import Table


class _Layout(NamedTuple):
    """Where the two wires and the middle between them are, and the first LED's upper left corner."""

    top: float
    bottom: float
    middle: float
    first: Place
    sides: Place
    named: bool  # whether there is room for the part's name


_PAGE = _Layout(38.0, 216.0, 124.0, (268.0, 66.0), (440.0, 240.0), True)
_WALL = _Layout(31.0, 188.0, 104.0, (258.0, 44.0), STAGE_BOX, False)
_APART = 76.0  # from one LED to the next
_SHOWN = 3  # LEDs of a string
_NEAR, _FAR = 8.0, 18.0  # how far beside the source its two wires bend
_USUAL = 0.05  # the tolerance whose band is drawn where none is given


def one_led_scene(
    point: OperatingPoint, supply: str, kind: str = "9 V battery", bare: bool = False, size: Size = NORMAL
) -> Picture:
    """What `one_led_circuit` shows as symbols, as things: the same facts and the same sentence.

    Parameters
    ----------
    point: of one supply voltage; with a negative one the source's wires are exchanged
    supply: what feeds it, in words, such as "9 V alkaline"
    kind: how that looks, one of `SOURCES`; `kind_of` gives it for a battery or an adapter
    bare: no resistor has been put in: the drive's resistance is the source's own, inside it

    Raises RangeError for a point that holds arrays, UnknownNameError for an unknown kind.
    """
    sentence = led_sentence(point, bare)
    string, voltage = point.string[:_SHOWN], point.si.led_voltage + point.si.drive_voltage
    lights = [Light.of(led, point.si.current) for led in string]
    moving = 0.0 if any(light.dead for light in lights) else point.si.current
    lies = _WALL if size is STAGE else _PAGE
    table = Table(max(lies.sides[0], lies.first[0] + _APART * len(string) + 10), lies.sides[1])
    source = lay_source(table, kind, supply, voltage, lies.middle)
    poles = ("+", "−") if voltage >= 0 else ("−", "+")
    coming = _upper(table, lies, source, point.drive, bare, poles[0], moving)
    leaving = _lower(table, lies, source, point.drive, poles[1], moving)
    _lamps(table, lies, lights, (coming, leaving), poles, moving)
    _write(table, lies, point, supply_name(supply, abs(voltage)), bare, lights)
    return table.picture(sentence, size)


def _write(
    table: Table, lies: _Layout, point: OperatingPoint, name: list[str], bare: bool, lights: list[Light]
) -> None:
    """What flows, and what is across what, each beside its thing."""
    si, resistor = point.si, has_resistor(point.drive)
    driver = isinstance(point.drive, ConstantCurrentDrive)
    inside = [f"{say(point.drive.si.resistance, 'ohm')} inside"] if bare and resistor else []
    table.group("supply")
    table.lines((COLUMN + 16, lies.middle), [*name, *inside], centred=True)
    burst = any(light.dead for light in lights)
    flows = f"{current_words(abs(si.current))} {'until it burst' if burst else 'flows'}"
    table.words((COLUMN + 20, lies.bottom - 10), flows, "start", bold=True)
    if driver or (resistor and not bare):
        place = (COLUMN + 56, lies.top + 52) if driver else (COLUMN + 48, lies.top + 28)
        table.words(place, voltage_words(abs(si.drive_voltage)))
    if len(lights) == 1:
        across = voltage_words(abs(si.led_voltage)) + (" reverse" if si.led_voltage < 0 else "")
        named = wrapped(point.string[0].name, LABEL_WIDTH, 3) if lies.named else []
        words = [*lights[0].said().split(", "), across, *named]
        table.group("lamp")
        left = min(lies.first[0] + 78, table.width - 2 - max(text_width(each, each == words[0]) for each in words))
        table.lines((left, lies.middle), words, bold_first=True, centred=True)
    elif len(point.string) > _SHOWN:
        more = len(point.string) - _SHOWN
        table.words(
            (lies.first[0] + 1.5 * _APART, lies.bottom + 19), f"and {more} more LED{'s' if more > 1 else ''} in series"
        )


def has_resistor(drive: Drive) -> bool:
    """Whether the drive is a resistor of some ohms."""
    return not isinstance(drive, ConstantCurrentDrive) and drive.si.resistance > 0


def resistor_facts(drive: Drive) -> dict[str, Any]:
    """What `resistor` is drawn with: the colours of its bands (none where no bands say that value), and of its body."""
    tolerance = drive.si.tolerance or _USUAL
    try:
        names = colour_bands(drive.resistance, tolerance)
    except RangeError:
        names = ()
    return {"bands": band_fills(names), "body": body_fill(tolerance)}


def _upper(
    table: Table, lies: _Layout, source: Laid, drive: Drive, bare: bool, pole: str, moving: float
) -> list[Place]:
    """The upper wire with what is in it; gives the places of its last stretch, which leads to the LEDs."""
    _mark(table, pole, (COLUMN - 12, lies.top - 8))
    way = source.way(pole, lies.top, _NEAR)
    if isinstance(drive, ConstantCurrentDrive):
        table.wire(*way, (COLUMN, lies.top), pole=pole, current=moving)
        ends = table.put("driver", (COLUMN, lies.top - 13), words=say(drive.si.current, "A"))
        return [ends["out"], (lies.first[0] - 4, lies.top)]
    if bare or not has_resistor(drive):
        table.words((COLUMN + 50, lies.top - 12), "no resistor")
        return [*way, (lies.first[0] - 20, lies.top)]
    table.wire(*way, (COLUMN, lies.top), pole=pole, current=moving)
    ends = table.put("resistor", (COLUMN, lies.top - 13), **resistor_facts(drive))
    table.words((COLUMN + 48, lies.top - 19), drive_name(drive))
    return [ends["right"], (lies.first[0] - 20, lies.top)]


def _lower(table: Table, lies: _Layout, source: Laid, drive: Drive, pole: str, moving: float) -> list[Place]:
    """The places of the stretch that leads from the LEDs back, to the source or to the driver."""
    if not isinstance(drive, ConstantCurrentDrive):
        _mark(table, pole, (COLUMN + 10, lies.bottom - 6))
        return source.way(pole, lies.bottom, _FAR)[::-1]
    into = lies.top + 24
    table.wire((COLUMN, into), *source.way(pole, into, _FAR)[::-1], pole=pole, current=moving)
    back = COLUMN + 112
    return [(back + 8, lies.bottom), (back + 8, into), (back, into)]


def _mark(table: Table, pole: str, place: Place) -> None:
    """The pole written beside its wire."""
    table.group("pole")
    table.text(place, pole, "middle", bold=True, size=14)


def _lamps(
    table: Table,
    lies: _Layout,
    lights: list[Light],
    ways: tuple[list[Place], list[Place]],
    poles: tuple[str, str],
    moving: float,
) -> None:
    """The LEDs side by side, each one's short leg joined to the next one's long leg."""
    (coming, leaving), pole = ways, poles[0]
    for number, light in enumerate(lights):
        x, y = corner = (lies.first[0] + number * _APART, lies.first[1])
        low, long, short = y + 120, (x + 15, y + 104), (x + 31, y + 90)
        table.wire(*coming, (coming[-1][0], low), (long[0], low), long, pole=pole, current=moving)
        table.put("led", corner, light=light)
        coming, pole = [short], ""
        if len(lights) > 1:
            name, *more = light.said().split(", ")
            for line, word in enumerate([name, *(part for each in more for part in wrapped(each, _APART - 6, 2))]):
                table.words((x + 23, 18 + 16 * line), word, bold=not line)
    table.wire(short, (short[0], lies.bottom), *leaving, pole=poles[1], current=moving)
