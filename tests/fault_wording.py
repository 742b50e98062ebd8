"""Reads which words the known faults below the window are given: written out, or put in a name before."""

import ast
import re
from collections import defaultdict
from collections.abc import Iterator, Mapping
from pathlib import Path

from tests.architecture import sources_in
from tests.written_words import FAULTS, Sources, bare, is_words, literal, name_of, nodes

Names = Mapping[str, list[ast.expr]]
_PLACE = re.compile(r"[a-z_]+\.")
"""Begins the name of a place in a file, such as ``units.mm``."""


def fault_sources() -> dict[str, str]:
    """Every module below the window whose faults reach it."""
    found = sources_in(Path(__file__).parent.parent / "estate")
    return {
        name: text for name, text in found.items() if not name.startswith(("estate.window", "estate.cli"))
    }


def _makers(sources: Sources) -> set[str]:
    """Functions that hand back a fault: what they are given are words of it."""
    found = (node for text in sources.values() for node in nodes(text) if isinstance(node, ast.FunctionDef))
    return {each.name for each in found if each.returns and ast.unparse(each.returns).endswith(FAULTS)}


def _named(body: Iterator[ast.AST]) -> Names:
    """What each name is given in a function, or on import."""
    given: dict[str, list[ast.expr]] = defaultdict(list)
    for node in body:
        target = node.targets[0] if isinstance(node, ast.Assign) else getattr(node, "target", None)
        if isinstance(node, ast.Assign | ast.AnnAssign | ast.AugAssign) and isinstance(target, ast.Name):
            given[target.id] += [node.value] if node.value is not None else []
    return given


def _told(argument: ast.expr, here: Names, module: Names) -> Iterator[ast.expr]:
    """The literals that an argument comes to: through choices, glue and one name."""
    if not isinstance(argument, ast.Name):
        yield from bare(argument)
        return
    for given in here.get(argument.id) or module.get(argument.id, []):
        yield from bare(given)


def _words(sources: Sources) -> Iterator[tuple[str, ast.expr]]:
    makers = _makers(sources)
    for name, text in sources.items():
        tree = nodes(text)
        module = _named(each for each in getattr(tree[0], "body", []))
        for function in (each for each in tree if isinstance(each, ast.FunctionDef)):
            inside = list(ast.walk(function))
            here = _named(each for each in inside)
            for call in (each for each in inside if isinstance(each, ast.Call)):
                if name_of(call).endswith(FAULTS) or name_of(call) in makers:
                    given = [*call.args, *(each.value for each in call.keywords)]
                    yield from ((name, node) for each in given for node in _told(each, here, module))


def put_together(sources: Sources) -> list[str]:
    """Words of faults that are put together past `phrase`: no catalogue can hold them."""
    return [
        f"{module}:{node.lineno} puts the words of a fault together: {ast.unparse(node)}"
        for module, node in _words(sources)
        if isinstance(node, ast.JoinedStr) and is_words(literal(node)) and not _PLACE.fullmatch(literal(node))
    ]


def fault_texts(sources: Sources) -> frozenset[str]:
    """Words of faults that are written out whole: the window asks for them as they are."""
    found = (literal(node) for _, node in _words(sources) if isinstance(node, ast.Constant))
    return frozenset(each for each in found if is_words(each))
