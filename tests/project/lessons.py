"""Which files of the library a lesson stands on, floor by floor, found by following the imports.

To write the table of DEVELOPERS.md anew: `python -m tests.project.lessons`.
"""

import ast
import json
import sys
from collections.abc import Iterator
from pathlib import Path

import sigcalc
from tests.project.floors import Tree

ROOT = Path(__file__).parents[2]
ORDER = (
    "start_here",
    "why_a_resistor",
    "which_resistor",
    "two_wires_two_colours",
    "plan_your_signal",
    "resistor_or_constant_current",
    "battery_or_adapter",
    "many_signals_one_adapter",
    "let_the_train_do_it",
    "find_the_fault",
)
FLOORS = ("panels", "views", "plan", "design")


def _imported_by(name: str) -> Iterator[str]:
    """The modules that a notebook's cells name; a public name of sigcalc counts as the module it comes from."""
    cells = json.loads((ROOT / "notebooks" / f"{name}.ipynb").read_text(encoding="utf-8"))["cells"]
    code = "\n".join("".join(cell["source"]) for cell in cells if cell["cell_type"] == "code")
    for node in ast.walk(ast.parse(code)):
        if isinstance(node, ast.ImportFrom) and node.module == "sigcalc":
            yield from (f"sigcalc.{sigcalc._HOME[alias.name]}" for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield node.module


def stands_on(name: str, tree: Tree) -> set[str]:
    """Every module of sigcalc that a lesson needs."""
    seen: set[str] = set()
    wanted = set(_imported_by(name))
    while wanted:
        module = wanted.pop()
        if module in tree.imports and module not in seen:
            seen.add(module)
            wanted |= set(tree.imports[module])
    return seen


def row(name: str, tree: Tree) -> str:
    """The lesson's line of the table."""
    modules = stands_on(name, tree)
    cells = []
    for floor in FLOORS:
        start = f"sigcalc.{floor}."
        names = sorted(module.removeprefix(start) for module in modules if module.startswith(start))
        cells.append(", ".join(names) or "-")
    return f"| `{name}` | " + " | ".join(cells) + " |"


if __name__ == "__main__":
    library = Tree(ROOT)
    sys.stdout.writelines(row(name, library) + "\n" for name in ORDER)
