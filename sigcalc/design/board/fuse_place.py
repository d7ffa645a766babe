"""A place on a board where a fuse may sit: what flows through it, which wires it protects, how far a short may be."""

from __future__ import annotations

import dataclasses

import numpy as np

from ...errors import DesignError, RangeError, UnknownNameError
from ...parts.fuse import BEARABLE_DENSITY
from ...parts.table import unknown
from ...physics.network_tree import Sweep
from ...units.reading import quoted
from .board import Board
from .board_state import MOST, corner_states
from .feeder_section import wire_areas


class FusePlace:
    """Where the fuse sits, and what lies behind it."""

    def __init__(self, board: Board, at: str | None, contact: float):
        if not board.sections:
            raise RangeError("board needs at least one section: a fuse protects wires, and there are none")
        self.board, self.at, self.contact = board, at, contact
        self.states = corner_states(board if board.fuse is None else dataclasses.replace(board, fuse=None), (MOST,))
        tree, way = board.tree, Sweep(board.feeder, board.tree)
        self.way = way.along(way.ohms)
        if at is None:
            self.head, nodes = 0, np.arange(len(board.nodes))
            sections = np.arange(len(board.sections))
            drawn = [each.si.supply_current for each in self.states.values()]
        else:
            number = self._section(at)
            below = int(np.flatnonzero(tree.section == number)[0])
            behind = np.zeros(len(board.nodes))
            behind[below] = 1.0
            nodes = np.flatnonzero(way.along(behind) > 0.5)
            sections = tree.section[nodes]
            self.head = int(tree.parent[below])
            drawn = [abs(each.si.section_current[number]) for each in self.states.values()]
        self.load_current = float(max(drawn))
        self.farthest = int(nodes[np.argmax(self.way[nodes])])
        areas = wire_areas(board.sections)[sections]
        self.thinnest = board.sections[int(sections[np.argmin(areas)])].name
        self.bearable = float(areas.min()) * BEARABLE_DENSITY

    def _section(self, at: str) -> int:
        names = [each.name for each in self.board.sections]
        if not isinstance(at, str) or at not in names:
            raise UnknownNameError(unknown("section", at, names))
        if self.board.tree.chords.size:
            raise DesignError(
                f"section {quoted(at)} belongs to a board with a ring, which is fed from both ends: a fuse at one of "
                "them protects nothing; put it at the source (at=None), or open the ring"
            )
        return names.index(at)

    def short_current(self, ohms: float, node: int, corner: int) -> float:
        """What a short at a node draws alone, with a fuse of so many ohms."""
        volts, inside = self.board.source.corners[corner]
        return volts / (inside + ohms + self.way[node] + self.contact)
