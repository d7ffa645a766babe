"""Fuses for one board side by side: what speaks against each, and which one suits."""

from __future__ import annotations

from collections.abc import Sequence

from ..design.board.board import Board
from ..design.board.feeder_fuse import FuseCheck, check_fuse, findings
from ..design.findings import LOOK, STOP
from ..errors import UnitError
from ..units import say
from ..units.reading import quoted
from .style import NORMAL, Size
from .sums import Step, SumByHand


def fuse_table(board: Board, names: Sequence[str], size: Size = NORMAL) -> SumByHand:
    """Each fuse of those names at the board's source, as `check_fuse` finds it.

    Raises UnitError for what is no list of names, UnknownNameError for a fuse that is not in the table.
    """
    if isinstance(names, str) or not isinstance(names, Sequence) or not names:
        raise UnitError(f"names needs a list of fuses, but {quoted(names)} came; try ['300 mA resettable']")
    checks = [check_fuse(board, name) for name in names]
    steps = tuple(
        Step(check.fuse.name, _against(check), "suits" if check.suits else "does not suit") for check in checks
    )
    si = checks[0].si
    return SumByHand(
        f"Fuses at the source: up to {say(si.load_current, 'A')} to carry, a wire that bears {say(si.bearable, 'A')}",
        steps,
        "Which wire bears what: 700 circular mils an ampere, a careful rule for wires in a bundle.",
        size,
        ("Fuse", "What is to be said of it", "Verdict"),
    )


def _against(check: FuseCheck) -> str:
    """What stands against the fuse, or else is worth knowing; the rule for wires stands below the table once."""
    wanted = (LOOK,) if check.suits else (STOP,)
    said = [each.reason.partition(" (700")[0].rstrip(".") + "." for each in findings(check) if each.grade in wanted]
    return " ".join(said) or "No problems found."
