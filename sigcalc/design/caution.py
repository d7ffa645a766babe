"""Cautions: those of the work at the bench, of each kind of supply, and of magnet and reed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from ..errors import UnitError
from ..parts.source import Adapter, Battery
from ..parts.table import read_figures


@dataclass(frozen=True)
class Caution:
    """One caution: what it is about, its topic, what to say, and where that comes from."""

    about: str
    topic: str
    text: str
    source: str


@cache
def all_cautions() -> tuple[Caution, ...]:
    """Every caution of the file, in its order."""
    return tuple(
        Caution(about, topic, figure.value, figure.source)
        for about, topics in read_figures("cautions.csv").items()
        for topic, figure in topics.items()
    )


def cautions(source: Any) -> tuple[Caution, ...]:
    """The cautions for a battery or an adapter; UnitError for anything else."""
    return _of(_about(source))


def work_cautions(source: Any, train: bool) -> tuple[Caution, ...]:
    """What to heed while a signal is built and fed from `source`, and while a `train` sets it.

    Raises UnitError as `cautions` does.
    """
    return _of({"work", *_about(source), *(["train"] if train else [])})


def caution_text(about: str, topic: str) -> str:
    """The text of one caution of the file."""
    (text,) = (each.text for each in all_cautions() if (each.about, each.topic) == (about, topic))
    return text


def _of(about: set[str]) -> tuple[Caution, ...]:
    return tuple(each for each in all_cautions() if each.about in about)


def _about(source: Any) -> set[str]:
    if isinstance(source, Adapter):
        return {"adapter"}
    if not isinstance(source, Battery):
        given = type(source).__name__
        raise UnitError(f'source needs a Battery or an Adapter; you gave {given}; try adapters["12 V regulated"]')
    rechargeable = source.discharge is not None and source.discharge.rechargeable
    kind = "rechargeable battery" if rechargeable else "primary battery"
    chemistry = {f"{each} battery" for each in ("zinc-carbon", "alkaline") if each in source.chemistry}
    return {"battery", kind, source.form, f"{source.form} battery", *chemistry}
