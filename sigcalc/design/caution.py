"""Cautions: those of building, of each kind of supply, of magnet and reed, and of the meter at the bench."""

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
    return cautions_about(*_about(source))


def work_cautions(source: Any, train: bool) -> tuple[Caution, ...]:
    """What to heed while a signal is built and fed from `source`, and while a `train` sets it.

    Raises UnitError as `cautions` does.
    """
    return cautions_about("work", *_about(source), *(["train"] if train else []))


def caution_text(about: str, topic: str) -> str:
    """The text of one caution of the file."""
    (text,) = (each.text for each in all_cautions() if (each.about, each.topic) == (about, topic))
    return text


def cautions_about(*about: str) -> tuple[Caution, ...]:
    """The cautions about some things, such as "bench" or "dc range", in the order of the file."""
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
