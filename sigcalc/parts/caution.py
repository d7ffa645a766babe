"""Cautions that belong to a supply whatever is built with it: short circuits, charging, swallowing, the mains."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from ..errors import UnitError
from .source import Adapter, Battery


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
    with files(__package__).joinpath("data", "cautions.csv").open(encoding="utf-8", newline="") as file:
        return tuple(Caution(**row) for row in csv.DictReader(file))


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
