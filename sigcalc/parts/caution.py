"""Cautions that belong to a supply whatever is built with it: short circuits, charging, swallowing, the mains."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from ..errors import UnitError
from .source import Adapter, Battery
from .table import read_figures


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
    if isinstance(source, Adapter):
        about = {"adapter"}
    elif isinstance(source, Battery):
        about = _about(source)
    else:
        came = type(source).__name__
        raise UnitError(f'source needs a Battery or an Adapter, but {came} came; try adapters["12 V regulated"]')
    return tuple(each for each in all_cautions() if each.about in about)


def _about(battery: Battery) -> set[str]:
    rechargeable = battery.discharge is not None and battery.discharge.rechargeable
    about = {"rechargeable battery" if rechargeable else "primary battery", battery.form, f"{battery.form} battery"}
    return about | ({"zinc-carbon battery"} if "zinc-carbon" in battery.chemistry else set())
