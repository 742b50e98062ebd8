"""Literals as they stand in modules, and whether a person reads them as words."""

import ast
import re
from collections.abc import Iterator, Mapping
from functools import cache

Sources = Mapping[str, str]
FAULTS = "Fault"
"""How the names of known faults end: each of their words is shown."""
UNITS = {"°C", "°F", "K", "kPa", "MPa", "mbar", "psi", "bar", "mm", "cm", "m", "s", "min", "ml", "l", "UTC"}
UNITS |= {"l/min", "ml/min", "l/h", "l/s", "ml/s", "m³/h", "mg/l", "CaCO₃", "MiB", "KiB"}
"""The same in every language."""
PLAIN = {"strong", "small", "muted", "caution", "title", "heading", "large", "wrong"}
"""Kinds of the style sheet, which `label` takes after its words."""
_PLAIN = re.compile(r"\.|\*\.|#|(Ctrl|Alt|Shift)\+|F\d+$")
"""Endings of files, colours and keys of the keyboard."""


def name_of(call: ast.Call) -> str:
    return call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")


@cache
def nodes(text: str) -> tuple[ast.AST, ...]:
    """Everything in a module; it is read once for all rules."""
    return tuple(ast.walk(ast.parse(text)))


def bare(node: ast.expr) -> Iterator[ast.expr]:
    """Literals that reach a shower as they are: through choices and glue, but not through another call."""
    if isinstance(node, ast.Constant | ast.JoinedStr):
        yield node
    elif isinstance(node, ast.IfExp):
        yield from (*bare(node.body), *bare(node.orelse))
    elif isinstance(node, ast.BoolOp):
        yield from (each for part in node.values for each in bare(part))
    elif isinstance(node, ast.BinOp):
        yield from (*bare(node.left), *bare(node.right))
    elif isinstance(node, ast.List | ast.Tuple):
        yield from (each for part in node.elts for each in bare(part))


def literal(node: ast.expr) -> str:
    if isinstance(node, ast.JoinedStr):
        return " ".join(str(part.value) for part in node.values if isinstance(part, ast.Constant))
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else ""


def is_words(text: str) -> bool:
    """Whether a text has letters beyond units, kinds and endings of files."""
    parts = (part.strip(".,:;()/…–•·“”%") for part in text.split())
    said = [part for part in parts if any(letter.isalpha() for letter in part) and part not in UNITS]
    return bool(said) and text not in PLAIN and not _PLAIN.match(text)
