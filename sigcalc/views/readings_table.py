"""What was seen and read, as a table, beside what a sound signal reads."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .canvas import Canvas
from .meter import seen_words
from .picture import Picture
from .style import NORMAL, Size

_WIDTH, _ROW = 528.0, 16.0


@dataclass(frozen=True)
class ReadingRow:
    """A reading as it was taken, what a sound signal reads there, and whether the reading fits; None: not judged."""

    name: str
    reading: str
    right: str
    fits: bool | None


def readings_table(
    rows: Sequence[ReadingRow], most: int | None = None, size: Size = NORMAL, seen: Mapping[str, str] | None = None
) -> Picture:
    """The readings taken so far beside what a sound signal reads; of more than `most` only the last ones.

    `seen` adds what the eye says, by position.
    """
    shown = list(rows) if most is None else list(rows)[-most:]
    looks = {} if seen is None else seen
    canvas = Canvas(_WIDTH, _ROW * (len(shown) + len(looks) + 1.6) + 6)
    canvas.group("head")
    earlier = f" (the last {len(shown)} of {len(rows)})" if len(shown) < len(rows) else ""
    canvas.text((4, 14), f"Readings{earlier}", bold=True)
    canvas.text((290, 14), "a sound signal reads", bold=True)
    y = 14 + 1.2 * _ROW
    for position, said in looks.items():
        canvas.group(f"seen {position}")
        fits = said == position
        canvas.text((4, y), f"set for {position}")
        canvas.text((140, y), f"{_mark(fits)} {seen_words(said)}", bold=not fits)
        y += _ROW
    for row in shown:
        canvas.group(f"row {row.name}")
        canvas.text((4, y), row.name)
        canvas.text((140, y), f"{_mark(row.fits)} {row.reading}".strip(), bold=row.fits is False)
        canvas.text((290, y), row.right)
        y += _ROW
    return canvas.picture(_table_sentence(rows, looks), size)


def _mark(fits: bool | None) -> str:
    return "" if fits is None else "✔" if fits else "✘"


def _table_sentence(rows: Sequence[ReadingRow], looks: Mapping[str, str]) -> str:
    said = [f"set for {position}, {seen_words(seen)}" for position, seen in looks.items()]
    said += [
        f"{row.name} reads {row.reading}"
        + ("" if row.fits is None else f", {'as' if row.fits else 'not as'} it should")
        for row in rows
    ]
    return f"Noted: {'; '.join(said)}." if said else "Nothing has been read yet."
