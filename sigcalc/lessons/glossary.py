"""The trade's words, each in a sentence or two, with its sign and the lesson where you meet it (`glossary.csv`)."""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files
from typing import NamedTuple


class Term(NamedTuple):
    """A word of the trade.

    `also` are other names of the same thing. `sign` is a letter, or what `views/glossary.py` draws a symbol for.
    `lesson` is the name of the notebook, without its number, in which the reader meets the word.
    """

    word: str
    also: tuple[str, ...]
    sign: str
    lesson: str
    meaning: str


@cache
def terms() -> tuple[Term, ...]:
    """All terms in the order of the alphabet."""
    with files(__package__).joinpath("glossary.csv").open(encoding="utf-8", newline="") as file:
        return tuple(
            Term(**row | {"also": tuple(filter(None, row["also"].split("; ")))}) for row in csv.DictReader(file)
        )
