"""Reads the floors of sigcalc off its files: which floor a file is on, and what each file imports."""

import ast
import graphlib
import sys
from collections.abc import Iterator
from itertools import accumulate
from pathlib import Path

PACKAGE = "sigcalc"
# Floor by floor: the files and folders on it, and the packages it may import besides those of the floors below.
# pydantic_core is a part of pydantic, markupsafe one of jinja2, IPython comes with ipywidgets.
FLOORS = (
    ({"errors", "jupyter_server"}, set()),
    ({"physics"}, {"numpy", "scipy", "magpylib"}),
    ({"parts", "units"}, {"pint", "pydantic", "pydantic_core"}),
    ({"design"}, set()),
    ({"plan"}, {"tomlkit"}),
    ({"lessons"}, set()),
    ({"views"}, {"matplotlib", "schemdraw", "jinja2", "markupsafe"}),
    ({"panels"}, {"ipywidgets", "IPython", "traitlets"}),
)
FLOOR_OF = {name: floor for floor, (names, _) in enumerate(FLOORS) for name in names}
TOPICS = ("lamp", "pair", "power", "board", "train", "bench")
"""The folders of `design`: a topic imports itself, the topics before it, and the files beside the folders."""
PACKAGES = tuple(accumulate((packages for _, packages in FLOORS), set.union))


class Tree:
    """The modules below a folder `sigcalc`, by dotted name, each with what it imports."""

    def __init__(self, root: Path):
        self.files = {self._module(path.relative_to(root)): path for path in sorted(root.glob(f"{PACKAGE}/**/*.py"))}
        self.imports = {
            name: sorted(set(self._imports(name, path))) for name, path in self.files.items() if name != PACKAGE
        }

    @staticmethod
    def _module(path: Path) -> str:
        parts = path.with_suffix("").parts
        return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)

    def _imports(self, name: str, path: Path) -> Iterator[str]:
        """Dotted names of what a file imports, also inside functions; names of sigcalc as far as there is a file."""
        package = name if path.name == "__init__.py" else name.rpartition(".")[0]
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"), path)):
            if isinstance(node, ast.Import):
                yield from (alias.name for alias in node.names)
            elif isinstance(node, ast.ImportFrom):
                start = node.module or ""
                if node.level:
                    base = package.rsplit(".", node.level - 1)[0]
                    start = f"{base}.{start}" if start else base
                for alias in node.names:
                    longer = f"{start}.{alias.name}"
                    yield longer if longer in self.files else start
            elif isinstance(node, ast.Name | ast.Attribute):
                last = node.id if isinstance(node, ast.Name) else node.attr
                if last in {"import_module", "__import__"}:
                    yield "an import by name"


def floor_of(module: str) -> int | None:
    """Floor of a dotted name of sigcalc; None for sigcalc itself and for a name on no floor."""
    return FLOOR_OF.get(module.split(".")[1]) if "." in module else None


def faults(tree: Tree) -> list[str]:
    """Everything that breaks the rule of the floors, a sentence each."""
    found = [f"{name} is on no floor" for name in tree.imports if floor_of(name) is None]
    for name, imported in tree.imports.items():
        found += [fault for other in imported if (fault := _fault(name, other))]
    return found + _circles(tree)


def _fault(name: str, other: str) -> str | None:
    floor = floor_of(name)
    if floor is None:
        return None
    top = other.split(".")[0]
    if top != PACKAGE:
        allowed = top in sys.stdlib_module_names or top in PACKAGES[floor]
        return None if allowed else f"{name} (floor {floor}) imports {other}"
    if other == PACKAGE:
        return f"{name} imports from sigcalc itself, which hides the floor: import from the file that defines the name"
    if floor_of(other) is None or floor_of(other) > floor:
        return f"{name} (floor {floor}) imports {other} (floor {floor_of(other)})"
    if _topic(other) > _topic(name) and floor_of(name) == FLOOR_OF["design"]:
        return f"{name} imports {other}: a topic of design imports only those before it ({', '.join(TOPICS)})"
    return None


def _topic(module: str) -> int:
    """The place of a module's topic in `design`; -1 for a file beside the topics and for any other floor."""
    parts = module.split(".")
    return TOPICS.index(parts[2]) if parts[1] == "design" and len(parts) > 2 and parts[2] in TOPICS else -1


def _circles(tree: Tree) -> list[str]:
    graph = {name: [other for other in imported if other in tree.imports] for name, imported in tree.imports.items()}
    try:
        graphlib.TopologicalSorter(graph).prepare()
    except graphlib.CycleError as error:
        return ["a circle: " + " <- ".join(error.args[1])]
    return []
