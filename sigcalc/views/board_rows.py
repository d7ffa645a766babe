"""Where everything of a board's drawing goes: a row for each signal and each joint, the wires running down the left."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from ..design.board.board import Board
from ..errors import RangeError

SIGNAL, JOINT, FUSE, RING, WAITING = "signal", "joint", "fuse", "ring", "waiting"
_HEIGHTS = {SIGNAL: 31.0, JOINT: 21.0, FUSE: 24.0, RING: 21.0, WAITING: 31.0}
_LEFT, _STEP, _SPREAD = 24.0, 22.0, 88.0
MOST_ROWS = 120
"""A longer drawing is no help to anybody."""


@dataclass
class Row:
    """A row: what it is, its node, the place of its signal in the board, its section, and the height of its middle."""

    kind: str
    node: int
    number: int | None = None
    section: int | None = None
    y: float = 0.0


@dataclass
class Node:
    """A node: what it hangs on, its column and its children, and the heights of its first and last row."""

    above: int
    column: int
    children: list[int] = field(default_factory=list)
    first: float = 0.0
    last: float = 0.0


class Rows:
    """The rows of a board from `top` on, and its nodes; `height` is where they end.

    `waiting` names signals that are not connected yet.
    """

    def __init__(self, board: Board, top: float, waiting: Sequence[str] = ()):
        self.board, self.nodes = board, _nodes(board)
        self.rows = [Row(FUSE, 0)] if board.fuse is not None else []
        self._lay_out()
        self.rows += [Row(WAITING, 0, number) for number in range(len(waiting))]
        if len(self.rows) > MOST_ROWS:
            raise RangeError(
                f"the board needs at most {MOST_ROWS} signals and joints to be drawn, but {len(self.rows)} came; "
                "draw its branches one by one, or read the figures from the study"
            )
        self.height = self._stack(top)

    def x(self, node: int) -> float:
        """Where the node's wire runs down."""
        deepest = max(each.column for each in self.nodes)
        return _LEFT + self.nodes[node].column * min(_STEP, _SPREAD / max(deepest, 1))

    def _lay_out(self) -> None:
        """A node's own rows come before those of what hangs on it."""
        board, hanging = self.board, [[] for _ in self.nodes]
        for number, signal in enumerate(board.signals):
            hanging[board.place[signal.node]].append(number)
        waiting = [0]
        while waiting:
            node = waiting.pop()
            section = int(board.tree.section[node]) if node else None
            own = [Row(SIGNAL, node, number) for number in hanging[node]]
            if not own and node:
                own = [Row(JOINT, node)]
            if own:
                own[0].section = section
            self.rows += own
            waiting += reversed(self.nodes[node].children)
        for chord in board.tree.chords:
            start = board.place[board.sections[int(chord)].start]
            last = max(place for place, row in enumerate(self.rows) if row.node == start)
            self.rows.insert(last + 1, Row(RING, start, section=int(chord)))

    def _stack(self, top: float) -> float:
        y = top
        for each in self.nodes:
            each.first = each.last = top
        seen = set()
        for row in self.rows:
            row.y = y + _HEIGHTS[row.kind] / 2
            y += _HEIGHTS[row.kind]
            node = self.nodes[row.node]
            if row.node and row.node not in seen:
                node.first = row.y
            seen.add(row.node)
            if row.kind != WAITING:
                node.last = row.y
        return y


def _nodes(board: Board) -> list[Node]:
    """Every node with its column: an only child stays below its parent, several stand one column further in."""
    tree = board.tree
    nodes = [Node(int(above), 0) for above in tree.parent]
    for section in range(len(board.sections)):
        for below in (number for number in _ends(board, section) if tree.section[number] == section):
            nodes[nodes[below].above].children.append(below)
    for number in tree.order[1:]:
        above = nodes[nodes[number].above]
        nodes[number].column = above.column + (len(above.children) > 1)
    return nodes


def _ends(board: Board, section: int) -> tuple[int, int]:
    return board.place[board.sections[section].start], board.place[board.sections[section].end]
