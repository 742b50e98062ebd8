"""Reads how the window says things, and which texts a catalogue of another language can hold.

As in `architecture.py`, every rule takes sources (module name -> text) and returns its faults in words. Run
by hand it lists every text of the window as the catalogue of a language, keeping the translations there are:

    .venv/bin/python -m tests.wording resources/translations/de.toml > de.toml
"""

import ast
import importlib
import json
import re
import sys
import tomllib
from collections.abc import Iterable, Iterator, Mapping, Set
from enum import StrEnum
from pathlib import Path
from pkgutil import walk_packages
from string import Formatter
from typing import Any

from estate.assets import resource
from estate.domain.designations import BANDS
from estate.domain.findings import Severity
from estate.domain.questions import CHOICES
from estate.domain.reading_names import ISOLATION_NAMES, PLAIN_NAMES
from estate.domain.rules.catalogue import CATALOGUE as RULE_KEYS
from estate.window.trust import Why
from tests.architecture import sources_in
from tests.fault_wording import fault_sources, fault_texts
from tests.written_words import FAULTS, Sources, bare, is_words, literal, name_of, nodes

SHOWERS = {
    "setText",
    "setToolTip",
    "setStatusTip",
    "setAccessibleName",
    "setAccessibleDescription",
    "setPlaceholderText",
    "setWindowTitle",
    "setSuffix",
    "setPrefix",
    "addItem",
    "addItems",
    "addTab",
    "addAction",
    "addMenu",
    "addButton",
    "label",
    "QPushButton",
    "QCheckBox",
    "QRadioButton",
    "QLabel",
    "QGroupBox",
    "QAction",
    "Chip",
    "Card",
    "Listing",
    "Shell",
    "Why",
    "WordsField",
    "NumberField",
    "AnswerField",
    "day_field",
    "say",
    "button",
    "lines",
    "drawText",
    "run_long",
    "file_to_open",
    "file_to_write",
    "folder",
}
"""What shows the first words that it is given to a person, by the last name of the call."""
_KEY = re.compile(r"[a-zA-Z]|[a-z]{1,4}|[a-z0-9]+([-_.][a-z0-9_]+)+")
"""Names by which the program knows things; no one reads them."""
WRAPPERS = {"tr", "tr_count", "said", "phrase", "phrase_count"}
COUNTED = {"tr_count", "phrase_count"}
"""Of these: those that take a count, and the text for one of it, before the text that a catalogue holds."""


def _calls(sources: Sources) -> Iterator[tuple[str, ast.Call]]:
    for module, text in sources.items():
        yield from ((module, node) for node in nodes(text) if isinstance(node, ast.Call))


def _shown(call: ast.Call) -> list[ast.expr]:
    name = name_of(call)
    if name.endswith(FAULTS):
        return list(call.args)
    if name == "addTab":
        return call.args[1:2]
    if name == "drawText":
        return call.args
    if name == "Chip":
        return call.args[1:2]
    if name == "Listing":
        return call.args[1:2]
    return call.args[:1] if name in SHOWERS else []


def not_translated(sources: Sources) -> list[str]:
    """Words that are shown as they stand, past `tr`."""
    return [
        f"{module}:{node.lineno} shows {literal(node)!r} past tr()"
        for module, call in _calls(sources)
        for argument in _shown(call)
        for node in bare(argument)
        if is_words(literal(node))
    ]


def put_together_inside(sources: Sources) -> list[str]:
    """Texts put together before they are looked up: no catalogue can hold them."""
    return [
        f"{module}:{call.lineno} puts a text together inside {name_of(call)}()"
        for module, call in _calls(sources)
        if name_of(call) in WRAPPERS
        for argument in call.args[1 if name_of(call) in COUNTED else 0 :]
        if isinstance(argument, ast.JoinedStr | ast.BinOp)
    ]


def _on_import(node: ast.AST) -> Iterator[ast.AST]:
    """What runs as soon as a module is imported: not the insides of functions, but their defaults."""
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.FunctionDef | ast.Lambda):
            yield from (part for each in child.args.defaults for part in ast.walk(each))
        else:
            yield child
            yield from _on_import(child)


def asked_too_early(sources: Sources) -> list[str]:
    """Texts that are translated on import, before the person's language is known."""
    return [
        f"{module}:{node.lineno} translates on import; mark it with said()"
        for module, text in sources.items()
        for node in _on_import(ast.parse(text))
        if isinstance(node, ast.Call) and name_of(node) in {"tr", "tr_count"}
    ]


def left_in_pieces(sources: Sources) -> list[str]:
    """Texts that are no whole sentence or name, but made to be glued to another."""
    return [
        f"{module}:{call.lineno} holds a piece to be glued on: {text!r}"
        for module, call in _calls(sources)
        if name_of(call) in WRAPPERS
        for text in (literal(each) for each in call.args)
        if text != text.strip() or text.startswith((",", ";", "."))
        if not text.startswith(".xls")
    ]


def _names_in(text: str) -> set[str]:
    """The names that a text puts in, those of a format included."""
    found: set[str] = set()
    for _, name, form, _ in Formatter().parse(text):
        found |= ({name} if name is not None else set()) | (_names_in(form) if form else set())
    return found


def _given_differs(call: ast.Call) -> bool:
    texts = [
        each.value for each in call.args if isinstance(each, ast.Constant) and isinstance(each.value, str)
    ]
    if not texts or any(each.arg is None for each in call.keywords):
        return False
    given = {each.arg for each in call.keywords if each.arg is not None}
    counted = {"n"} if name_of(call) in COUNTED else set()
    wanted = [_names_in(each) - counted for each in texts]
    return any(each != given for each in wanted) and bool(given or call.args[1:] or counted)


def with_other_names(sources: Sources) -> list[str]:
    """Texts whose names in braces are not those that are given."""
    return [
        f"{module}:{call.lineno} gives other names than {literal(call.args[0])!r} has"
        for module, call in _calls(sources)
        if name_of(call) in WRAPPERS - {"said"} and call.args and _given_differs(call)
    ]


def _texts_of(module: str, call: ast.Call, sources: Sources) -> Iterator[str]:
    for argument in call.args[2:] if name_of(call) in COUNTED else call.args:
        for node in bare(argument):
            if text := literal(node):
                yield text
        held = argument.value if isinstance(argument, ast.Subscript) else argument
        if isinstance(held, ast.Name):
            yield from _imported(module, held.id, sources)


def _imported(module: str, name: str, sources: Sources) -> list[str]:
    """Texts that another room of the program holds, such as a caution of the domain."""
    for node in nodes(sources[module]):
        if isinstance(node, ast.ImportFrom) and node.module and not node.module.startswith("estate.window"):
            for alias in node.names:
                if (alias.asname or alias.name) == name:
                    held = getattr(importlib.import_module(node.module), alias.name)
                    every = held.values() if isinstance(held, Mapping) else (held,)
                    return [each for each in every if isinstance(each, str)]
    return []


def _choices() -> Iterator[str]:
    """The words of states, verdicts, uses and the like: what shows them asks `tr` for them."""
    yield from (each.words for each in Severity)
    yield from Why
    yield from (name for name, _ in (*PLAIN_NAMES.values(), *ISOLATION_NAMES.values()))
    yield from (code.replace("-", " ") for code in CHOICES)
    yield from BANDS.values()
    yield from (each for entry in RULE_KEYS.values() for each in entry.choices if not each.isdigit())
    yield from _help()
    domain = importlib.import_module("estate.domain")
    for each in walk_packages(domain.__path__, "estate.domain."):
        for held in vars(importlib.import_module(each.name)).values():
            if isinstance(held, type) and issubclass(held, StrEnum) and held.__module__ == each.name:
                yield from (member.value for member in held)


def _help() -> Iterator[str]:
    """What is said of limits and of reasons of dates."""
    held = tomllib.loads(resource("help", "limits.toml").read_text("utf-8"))
    yield from held["cautions"].values()
    for part in ("limits", "reasons"):
        yield from (each["means"] for each in held[part].values())


def window_sources() -> dict[str, str]:
    """Every module of the window but those that only take its pictures."""
    found = sources_in(Path(__file__).parent.parent / "estate" / "window")
    modules = {f"estate.{name}": text for name, text in found.items()}
    return {name: text for name, text in modules.items() if not name.startswith("estate.window.pictures")}


def phrase_sources() -> dict[str, str]:
    """Every module below the window that puts phrases together."""
    found = sources_in(Path(__file__).parent.parent / "estate")
    return {
        name: text
        for name, text in found.items()
        if not name.startswith("estate.window") and ".phrases import" in text
    }


def _samples(call: ast.Call) -> list[ast.expr]:
    """What only lends a column its width."""
    return call.args[2:3] if name_of(call) == "Column" else []


def literals(sources: Sources) -> frozenset[str]:
    """Every text that the modules themselves hold, wrapped or not, and the words of choices."""
    found = set(texts(sources))
    for text in sources.values():
        calls = [node for node in nodes(text) if isinstance(node, ast.Call)]
        samples = {id(each) for call in calls for each in _samples(call)}
        for node in nodes(text):
            if isinstance(node, ast.Constant | ast.JoinedStr) and id(node) not in samples:
                found.add(literal(node).strip(" .,:;…()“”\n"))
    return frozenset(each for each in found if is_words(each) and not _KEY.fullmatch(each))


def wrapped(sources: Sources) -> frozenset[str]:
    """Every text that is marked where it stands."""
    return frozenset(
        text
        for module, call in _calls(sources)
        if name_of(call) in WRAPPERS
        for text in _texts_of(module, call, sources)
    )


def texts(sources: Sources) -> list[str]:
    """Every text that the window can show, once, in the order of the alphabet."""
    found = wrapped(sources) | set(_choices()) | fault_texts(fault_sources())
    return sorted(found, key=lambda text: (text.casefold(), text))


def going_with_a_count(sources: Sources) -> frozenset[str]:
    """Texts of which a catalogue can hold a form for each kind of count."""
    calls = (call for _, call in _calls(sources) if name_of(call) in COUNTED)
    return frozenset(literal(each) for call in calls for each in call.args[2:])


def longest_pieces(found: Iterable[str]) -> frozenset[str]:
    """What of each text stands between its names, the longest, where it has some words."""
    pieces = (max((part for part, *_ in Formatter().parse(text)), key=len) for text in found)
    return frozenset(each for each in pieces if len(each.split()) >= 3)


def catalogue(found: Iterable[str], known: Mapping[str, Any], counted: Set[str] = frozenset()) -> str:
    """A catalogue to be filled in: what is translated already, then the rest as comments."""
    lines = [f"plural = {json.dumps(known.get('plural', 'one, other'))}", "", "[words]"]
    told = known.get("words", {})
    for text in found:
        key = json.dumps(text, ensure_ascii=False)
        if text in told:
            lines.append(f"{key} = {json.dumps(told[text], ensure_ascii=False)}")
        else:
            lines.append(f"# {key} = {'[]' if text in counted or 'n' in _names_in(text) else key}")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    kept = Path(sys.argv[1]) if len(sys.argv) > 1 else None
    known = tomllib.loads(kept.read_text("utf-8")) if kept is not None and kept.is_file() else {}
    sources = window_sources() | phrase_sources()
    sys.stdout.write(catalogue(texts(sources), known, going_with_a_count(sources)))
