"""Reads what each module imports and says which imports point the wrong way.

Every rule takes sources (module name -> text) and returns its faults in words, so that a made-up bad
module shows that the rule bites. Packages go by `package.__init__`.
"""

import ast
import sys
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fnmatch import fnmatchcase
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

Sources = Mapping[str, str]
Floors = Sequence[Sequence[str]]
OTHERS = "*"
"""Stands in a floor for every room that no floor names."""

HIDDEN_IMPORTS = {"TYPE_CHECKING", "import_module", "__import__"}
CLOCK_OWNERS = {"datetime", "PySide6.QtCore"}
CLOCK_READS = {
    "now",
    "today",
    "utcnow",
    "currentDate",
    "currentDateTime",
    "currentDateTimeUtc",
    "currentTime",
}


@dataclass(frozen=True, order=True)
class Arrow:
    """One import: who, where, what."""

    importer: str
    line: int
    imported: str

    def __str__(self) -> str:
        return f"{self.importer}:{self.line} imports {self.imported}"


def sources_in(folder: Path) -> dict[str, str]:
    """Every module of a package, by dotted name."""
    files = sorted(folder.rglob("*.py"))
    names = (".".join(file.relative_to(folder.parent).with_suffix("").parts) for file in files)
    return dict(zip(names, (file.read_text("utf-8") for file in files), strict=True))


def _base(importer: str, node: ast.ImportFrom) -> str:
    above = importer.split(".")[: -node.level] if node.level else []
    return ".".join([*above, *([node.module] if node.module else [])])


def _imported(importer: str, node: ast.AST, sources: Sources) -> Iterator[str]:
    if isinstance(node, ast.Import):
        yield from (alias.name for alias in node.names)
    elif isinstance(node, ast.ImportFrom):
        base = _base(importer, node)
        for alias in node.names:
            deeper = f"{base}.{alias.name}"
            yield deeper if deeper in sources or f"{deeper}.__init__" in sources else base


def arrows(sources: Sources) -> list[Arrow]:
    """Every import of every module, also those inside functions."""
    return sorted(
        {
            Arrow(module, getattr(node, "lineno", 0), name)
            for module, text in sources.items()
            for node in ast.walk(ast.parse(text))
            for name in _imported(module, node, sources)
        }
    )


def room(module: str, house: str) -> str | None:
    """The part of `house` that a module lies in; None outside the house."""
    if module == house:
        return "__init__"
    return module.removeprefix(f"{house}.").split(".")[0] if module.startswith(f"{house}.") else None


def _floor(name: str, floors: Floors) -> int | None:
    if name == "__init__":
        return -1
    wanted = name if any(name in rooms for rooms in floors) else OTHERS
    return next((number for number, rooms in enumerate(floors) if wanted in rooms), None)


def without_a_floor(sources: Sources, house: str, floors: Floors) -> list[str]:
    """Modules of the house that the order does not place."""
    rooms = {module: room(module, house) for module in sources}
    return [
        f"{module} has no floor" for module, name in rooms.items() if name and _floor(name, floors) is None
    ]


def pointing_up(sources: Sources, house: str, floors: Floors) -> list[str]:
    """Imports between rooms of the house that do not go strictly down."""
    faults = []
    for arrow in arrows(sources):
        start, end = room(arrow.importer, house), room(arrow.imported, house)
        if start is None or end is None or start == end:
            continue
        from_floor, to_floor = _floor(start, floors), _floor(end, floors)
        if from_floor is None or to_floor is None or from_floor <= to_floor:
            faults.append(str(arrow))
    return faults


def seeing(sources: Sources, who: str, never: Sequence[str]) -> list[str]:
    """Imports by modules named like `who` of modules named like any of `never` (shell patterns)."""
    return [
        str(arrow)
        for arrow in arrows(sources)
        if fnmatchcase(arrow.importer, who)
        and any(fnmatchcase(arrow.imported, pattern) for pattern in never)
        and arrow.imported != arrow.importer
    ]


def away_from_home(sources: Sources, homes: Mapping[str, Sequence[str]]) -> list[str]:
    """Imports of a library outside its home, or of a library that has none."""
    own = {module.split(".")[0] for module in sources}
    faults = []
    for arrow in arrows(sources):
        library = arrow.imported.split(".")[0]
        if library in sys.stdlib_module_names or library in own:
            continue
        if not any(fnmatchcase(arrow.importer, home) for home in homes.get(library, ())):
            faults.append(str(arrow))
    return faults


def in_circles(sources: Sources) -> list[str]:
    """Modules that import each other in a circle."""
    after: dict[str, set[str]] = {}
    for arrow in arrows(sources):
        start = arrow.importer.removesuffix(".__init__")
        if arrow.imported != start:
            after.setdefault(start, set()).add(arrow.imported)
    try:
        TopologicalSorter(after).prepare()
    except CycleError as fault:
        return [" -> ".join(fault.args[1])]
    return []


def _names(node: ast.AST) -> list[str]:
    if isinstance(node, ast.ImportFrom):
        return [alias.name for alias in node.names]
    if isinstance(node, ast.Name):
        return [node.id]
    return [node.attr] if isinstance(node, ast.Attribute) else []


def hiding_imports(sources: Sources) -> list[str]:
    """Modules that import in a way that the other rules would not see."""
    return [
        f"{module}:{getattr(node, 'lineno', 0)} uses {name}"
        for module, text in sources.items()
        for node in ast.walk(ast.parse(text))
        for name in _names(node)
        if name in HIDDEN_IMPORTS
    ]


def _clock_names(tree: ast.Module) -> set[str]:
    names = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            names |= {
                alias.asname or alias.name.split(".")[0] for alias in node.names if alias.name in CLOCK_OWNERS
            }
        elif isinstance(node, ast.ImportFrom) and node.module in CLOCK_OWNERS:
            names |= {alias.asname or alias.name for alias in node.names}
    return names


def _root(node: ast.expr) -> str | None:
    while isinstance(node, ast.Attribute):
        node = node.value
    return node.id if isinstance(node, ast.Name) else None


def reading_the_clock(sources: Sources) -> list[str]:
    """Modules that ask the machine what time it is."""
    faults = [str(arrow) for arrow in arrows(sources) if arrow.imported == "time"]
    for module, text in sources.items():
        tree = ast.parse(text)
        owners = _clock_names(tree)
        faults += [
            f"{module}:{node.lineno} reads the clock by {node.attr}"
            for node in ast.walk(tree)
            if isinstance(node, ast.Attribute) and node.attr in CLOCK_READS and _root(node.value) in owners
        ]
    return faults
