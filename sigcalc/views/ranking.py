"""Faults as bars, the likeliest above: each with its probability in words and in a number."""

from __future__ import annotations

from collections.abc import Sequence

from ..design.bench.diagnosis import Diagnosis, Suspect
from .chart import Rows
from .picture import Picture
from .style import INK, NORMAL, SHADE, Size

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
    most = most if result.fits else 1
    shown, others = result.suspects[:most], result.suspects[most:]
    rows = [(each.name, each.probability) for each in shown]
    if result.fits and others:
        count = sum(len(each.faults) for each in others)
        rows.append((f"all {count} others together", sum(each.probability for each in others)))
    title = "How likely is which fault?" if result.fits else "Nothing fits well. The nearest is:"
    chart = Rows(0.0, 1.0, left=272.0, right=146.0, title=title, width=528.0)
    for number, (name, probability) in enumerate(rows):
        first = number == 0
        chart.row(name, tall=17.0, bold=first)
        if not result.fits:
            chart.words("does not fit", 0.0, bold=True)
            continue
        chart.strip([(0.0, 1.0)], fill="none")
        chart.strip([(0.0, probability)], fill=INK if first else SHADE)
        chart.words(f"{chance_number(probability)}, {chance_words(probability)}", 1.0, bold=first)
    return chart.picture(_sentence(shown, result), size)


def _sentence(shown: Sequence[Suspect], result: Diagnosis) -> str:
    if not result.fits:
        return f"Nothing in the catalogue fits well. The nearest is {shown[0].name}."
    said = "; ".join(
        f"{each.name}: {chance_words(each.probability)}, {chance_number(each.probability)}" for each in shown[:3]
    )
    return f"{said}."
