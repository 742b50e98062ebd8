"""Reads how each module is written and says where it leaves the house's habits.

As in `architecture.py`, every rule takes sources (module name -> text) and returns its faults in words.
"""

import ast
from collections.abc import Iterator, Mapping

Sources = Mapping[str, str]
Function = ast.FunctionDef | ast.AsyncFunctionDef

EMPTY_NAMES = {"utils", "util", "helpers", "helper", "misc", "manager", "managers", "common"}
CATCH_ALL = {"Exception", "BaseException"}
SKIPS = {"skip", "skipif", "xfail", "importorskip"}
UNFINISHED = tuple(first + second for first, second in (("TO", "DO"), ("FIX", "ME"), ("X", "XX")))


def _nodes(sources: Sources) -> Iterator[tuple[str, ast.AST]]:
    for module, text in sources.items():
        for node in ast.walk(ast.parse(text)):
            yield module, node


def named_for_nothing(sources: Sources) -> list[str]:
    """Modules whose name does not say what they hold."""
    return [module for module in sources if EMPTY_NAMES & set(module.lower().split("."))]


def _catches_all(handler: ast.ExceptHandler) -> bool:
    kinds = handler.type.elts if isinstance(handler.type, ast.Tuple) else [handler.type]
    return any(kind is None or (isinstance(kind, ast.Name) and kind.id in CATCH_ALL) for kind in kinds)


def _lets_defects_through(handler: ast.ExceptHandler) -> bool:
    raised = [node for node in ast.walk(handler) if isinstance(node, ast.Raise)]
    return isinstance(handler.body[-1], ast.Raise) and any(node.exc is None for node in raised)


def swallowing_defects(sources: Sources) -> list[str]:
    """Handlers that catch everything and raise nothing on: they would hide a defect."""
    return [
        f"{module}:{node.lineno} catches everything"
        for module, node in _nodes(sources)
        if isinstance(node, ast.ExceptHandler) and _catches_all(node) and not _lets_defects_through(node)
    ]


def left_unfinished(sources: Sources) -> list[str]:
    """Lines that promise work instead of doing it."""
    return [
        f"{module}:{number} is unfinished"
        for module, text in sources.items()
        for number, line in enumerate(text.splitlines(), 1)
        if any(mark in line for mark in UNFINISHED)
    ]


def skipping(sources: Sources) -> list[str]:
    """Tests that can let themselves off."""
    return [
        f"{module}:{node.lineno} uses {node.attr}"
        for module, node in _nodes(sources)
        if isinstance(node, ast.Attribute) and node.attr in SKIPS and "pytest" in ast.unparse(node)
    ]


def not_a_sentence(sources: Sources) -> list[str]:
    """Tests whose name does not say the rule that they prove."""
    return [
        f"{module}:{node.lineno} {node.name}"
        for module, node in _nodes(sources)
        if isinstance(node, Function)
        and node.name.startswith("test")
        and not node.name.startswith("test_that_")
    ]


def _lines_of(node: Function) -> int:
    docstring = node.body[0] if ast.get_docstring(node) is not None else None
    spared = (docstring.end_lineno or 0) - docstring.lineno + 1 if docstring else 0
    return (node.end_lineno or node.lineno) - node.lineno + 1 - spared


def share_of_short_files(sources: Sources, below: int) -> float:
    """Share of the files that have fewer lines than `below`."""
    return sum(len(text.splitlines()) < below for text in sources.values()) / len(sources)


def share_of_short_functions(sources: Sources, below: int) -> float:
    """Share of the functions that have fewer lines than `below`, their docstrings not counted."""
    lengths = [_lines_of(node) for _, node in _nodes(sources) if isinstance(node, Function)]
    return sum(length < below for length in lengths) / len(lengths)
