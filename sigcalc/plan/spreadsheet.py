"""Lists as comma-separated text, for a spreadsheet."""

from __future__ import annotations

import csv
import io
import unicodedata
from collections.abc import Iterable, Sequence

MARK = "\ufeff"
"""In front of the text in a file; else spreadsheets read Ω as two letters."""


def csv_text(heads: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    """The heads and rows as comma-separated text.

    A cell that a spreadsheet would take for a formula gets an apostrophe in front (names in a file may come from a
    stranger).
    """
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\r\n")
    table.writerow(heads)
    table.writerows([_harmless(each) for each in row] for row in rows)
    return out.getvalue()


def _harmless(cell: object) -> object:
    if not isinstance(cell, str):
        return cell
    # the full-width forms of = + - @ begin a formula as well
    begins = unicodedata.normalize("NFKC", cell.lstrip()[:1]) in ("=", "+", "-", "@") or cell[:1] in ("\t", "\r", "\n")
    return "'" + cell if begins else cell
