"""Faults as bars, the likeliest above: each with its probability in words and in a number."""

from __future__ import annotations

from collections.abc import Sequence

from ..design.bench.diagnosis import Diagnosis, Suspect
from .canvas import Canvas, wrapped
from .picture import Picture
from .style import INK, NORMAL, PAPER, SHADE, THIN, Size

_WIDTH, _LEFT, _START, _BAR = 528.0, 4.0, 272.0, (110.0, 17.0)
_TOP, _LINE, _SPACE = 28.0, 15.0, 10.0
_BOLD = 1.06  # bold type is that much wider
_WORDS = ((0.95, "very likely"), (0.7, "likely"), (0.3, "quite possible"), (0.05, "possible"), (0.01, "unlikely"))
_LINES = 3


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
    most = most if result.fits else 1
    shown = result.suspects[:most]
    others = sum(each.probability for each in result.suspects[most:])
    rows = [(_names(each), each.probability) for each in shown]
    if result.fits and result.suspects[most:]:
        count = sum(len(each.faults) for each in result.suspects[most:])
        rows.append(([f"all {count} others together"], others))
    height = _TOP + sum(_height(lines) for lines, _ in rows)
    canvas = Canvas(_WIDTH, height)
    canvas.group("head")
    head = "How likely is which fault?" if result.fits else "Nothing fits well. Nearest comes:"
    canvas.text((_LEFT, 16), head, bold=True)
    y = _TOP
    for number, (lines, probability) in enumerate(rows):
        _row(canvas, y, lines, probability if result.fits else None, number)
        y += _height(lines)
    return canvas.picture(_sentence(shown, result), size)


def _names(suspect: Suspect) -> list[str]:
    return wrapped(suspect.name, (_START - _LEFT - _SPACE) / _BOLD, _LINES)


def _height(lines: Sequence[str]) -> float:
    return max(len(lines), 1) * _LINE + _SPACE


def _row(canvas: Canvas, y: float, lines: Sequence[str], probability: float | None, number: int) -> None:
    canvas.group(f"suspect {number + 1}")
    for place, line in enumerate(lines):
        canvas.text((_LEFT, y + 13 + place * _LINE), line, bold=number == 0)
    if probability is None:
        canvas.text((_START + _BAR[0] + 6, y + 13), "does not fit", bold=True)
        return
    canvas.rectangle((_START, y), (_BAR[0], _BAR[1]), fill=PAPER, width=THIN)
    fill = INK if number == 0 else SHADE
    canvas.rectangle((_START, y), (max(probability * _BAR[0], 1.5), _BAR[1]), fill=fill, width=THIN)
    words = f"{chance_number(probability)}, {chance_words(probability)}"
    canvas.text((_START + _BAR[0] + 6, y + 13), words, bold=number == 0)


def _sentence(shown: Sequence[Suspect], result: Diagnosis) -> str:
    if not result.fits:
        return f"Nothing in the catalogue fits well. Nearest comes {shown[0].name}."
    said = "; ".join(
        f"{each.name}: {chance_words(each.probability)}, {chance_number(each.probability)}" for each in shown[:3]
    )
    return f"{said}."
