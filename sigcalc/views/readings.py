"""The readings beside what is right, and the faults ranked by them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from ..design.bench.diagnosis import Diagnosis, Suspect
from .canvas import Canvas
from .find_the_fault import seen_words
from .picture import Picture
from .rows import Rows
from .style import INK, NORMAL, SHADE, STAGE, STAGE_BOX, Size


class _Layout(NamedTuple):
    """The sheet's width, the columns of what is read and of what is right, a row's height, and how many rows fit."""

    width: float
    reading: float
    right: float
    row: float
    most: int | None = None


_PAGE = _Layout(528.0, 140.0, 290.0, 16.0)
_WALL = _Layout(STAGE_BOX[0], 134.0, 254.0, 19.5, 9)


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
    looks, lies = {} if seen is None else seen, _WALL if size is STAGE else _PAGE
    most = lies.most - len(looks) if lies.most else most
    shown = list(rows) if most is None else list(rows)[-most:]
    canvas = Canvas(lies.width, lies.row * (len(shown) + len(looks) + 1.6) + 6 if size is not STAGE else STAGE_BOX[1])
    canvas.group("head")
    earlier = f" (the last {len(shown)} of {len(rows)})" if len(shown) < len(rows) else ""
    canvas.text((4, 14), f"Readings{earlier}", bold=True)
    canvas.text((lies.right, 14), "a sound signal reads", bold=True)
    y = 14 + 1.2 * lies.row
    seen_rows = [ReadingRow(f"set for {name}", seen_words(said), "", said == name) for name, said in looks.items()]
    for row in [*seen_rows, *shown]:
        canvas.group(f"row {row.name}")
        canvas.text((4, y), row.name)
        sign = {None: "", True: "✔ ", False: "✘ "}[row.fits]
        canvas.text((lies.reading, y), f"{sign}{row.reading}", bold=row.fits is False)
        canvas.text((lies.right, y), row.right)
        y += lies.row
    return canvas.picture(_table_sentence(rows, looks), size)


def _table_sentence(rows: Sequence[ReadingRow], looks: Mapping[str, str]) -> str:
    said = [f"set for {position}, {seen_words(seen)}" for position, seen in looks.items()]
    said += [
        f"{row.name} reads {row.reading}"
        + ("" if row.fits is None else f", {'as' if row.fits else 'not as'} it should")
        for row in rows
    ]
    return f"Noted: {'; '.join(said)}." if said else "Nothing has been read yet."


_WORDS = ((0.95, "very likely"), (0.7, "likely"), (0.3, "quite possible"), (0.05, "possible"), (0.01, "unlikely"))


def chance_words(probability: float) -> str:
    """A probability in words: "very likely" from 95 %, "likely" from 70 %, ... "hardly" below 1 %."""
    return next((words for least, words in _WORDS if probability >= least), "hardly")


def chance_number(probability: float) -> str:
    """A probability as a number; never 0 % and never 100 %, since nothing is certain."""
    if probability < 0.01:
        return "under 1 %"
    return "over 99 %" if probability > 0.99 else f"{100 * probability:.0f} %"


def ranking(result: Diagnosis, most: int = 5, size: Size = NORMAL) -> Picture:
    """A bar for each of the likeliest suspects, and one for all others together.

    Faults that nothing measured so far tells apart share one bar. Where nothing fits, only the nearest is named, with
    no bar: how much likelier it is than the others says nothing then.
    """
    wall = size is STAGE
    most = (3 if wall else most) if result.fits else 1
    shown, others = result.suspects[:most], result.suspects[most:]
    rows = [(_short(each) if wall else each.name, each.probability) for each in shown]
    if result.fits and others:
        count = sum(len(each.faults) for each in others)
        rows.append((f"all {count} others together", sum(each.probability for each in others)))
    title = "How likely is each fault?" if result.fits else "Nothing fits well. The nearest is:"
    room = (180.0, 76.0) if wall else (272.0, 146.0)
    chart = Rows(0.0, 1.0, *room, title=title, width=528.0, size=size)
    for number, (name, probability) in enumerate(rows):
        first = number == 0
        chart.row(name, tall=17.0, bold=first)
        if not result.fits:
            chart.words("does not fit", 0.0, bold=True)
            continue
        chart.strip([(0.0, 1.0)], fill="none")
        chart.strip([(0.0, probability)], fill=INK if first else SHADE)
        said = chance_number(probability)
        chart.words(said if wall else f"{said}, {chance_words(probability)}", 1.0, bold=first)
    return chart.picture(_ranking_sentence(shown, result))


def _short(suspect: Suspect) -> str:
    """The name for a wall: of many that look alike the likeliest."""
    others = len(suspect.faults) - 1
    return suspect.name if others < 2 else f"{suspect.faults[0]} or {others} others"


def _ranking_sentence(shown: Sequence[Suspect], result: Diagnosis) -> str:
    if not result.fits:
        return f"Nothing in the catalogue fits well. The nearest is {shown[0].name}."
    said = "; ".join(
        f"{each.name}: {chance_words(each.probability)}, {chance_number(each.probability)}" for each in shown[:3]
    )
    return f"{said}."
