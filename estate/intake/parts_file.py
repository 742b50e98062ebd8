"""The parts of headings, read strictly."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from estate.assets import resource
from estate.domain.phrases import phrase
from estate.errors import IntakeFault
from estate.intake.words import fold

_TOP = {"blockers", "other_days", "parts", "rules"}
_RULE = {"field", "needs", "may"}
_NOWHERE = "nothing"
"""In `or_says`: that no words stand for the unit."""


@dataclass(frozen=True, slots=True)
class Rule:
    """A field, the parts a heading must have for it, and those it may have besides.

    Attributes:
        needs: groups of parts, of each of which one must be there.
        parts: every part that may be there.
        or_says: parts of which one must be there where the heading names no unit.
    """

    field: str
    needs: tuple[frozenset[str], ...]
    parts: frozenset[str]
    or_says: frozenset[str]


@dataclass(frozen=True, slots=True)
class Parts:
    """The words of the file, folded.

    Attributes:
        roles: word or phrase to the parts it plays.
    """

    blockers: frozenset[str]
    other_days: frozenset[str]
    roles: Mapping[str, frozenset[str]]
    rules: tuple[Rule, ...]


@lru_cache(maxsize=4)
def parts_of_headings(path: Path | None = None) -> Parts:
    """Read the file of parts.

    Args:
        path: another file than the program's own, for tests.

    Raises:
        IntakeFault: it can't be read, or a key is missing, unknown or of the wrong type.
    """
    where = path or resource("intake", "parts.toml")
    try:
        raw = tomllib.loads(where.read_text(encoding="utf-8"))
    except (OSError, ValueError) as fault:
        raise _fault(where, "the file", str(fault)) from fault
    _same_keys(where, "top level", raw, _TOP)
    names = raw["parts"]
    if not isinstance(names, dict):
        raise _fault(where, "parts", phrase("must be a table"))
    roles: dict[str, frozenset[str]] = {}
    for name, body in names.items():
        for word in _texts(where, f"parts.{name}", body):
            roles[fold(word)] = roles.get(fold(word), frozenset()) | {name}
    blockers, other_days = (
        frozenset(map(fold, _texts(where, key, raw[key]))) for key in ("blockers", "other_days")
    )
    if not isinstance(raw["rules"], list):
        raise _fault(where, "rules", phrase("must be a list of tables"))
    rules = tuple(_rule(where, f"rules {number}", body, names) for number, body in enumerate(raw["rules"], 1))
    return Parts(blockers, other_days, roles, rules)


def _rule(where: Path, key: str, body: object, names: Mapping[str, object]) -> Rule:
    if not isinstance(body, dict):
        raise _fault(where, key, phrase("must be a table"))
    _same_keys(where, key, {name: 0 for name in body if name != "or_says"}, _RULE)
    if not isinstance(body["field"], str) or not isinstance(body["needs"], list):
        raise _fault(where, key, phrase("field must be a text and needs a list of lists"))
    needs = tuple(frozenset(_texts(where, f"{key}.needs", group)) for group in body["needs"])
    may = frozenset(_texts(where, f"{key}.may", body["may"]))
    or_says = frozenset(_texts(where, f"{key}.or_says", body.get("or_says", []))) - {_NOWHERE}
    parts = may.union(*needs)
    if unknown := sorted((parts | or_says) - set(names)):
        raise _fault(where, key, phrase("unknown part {unknown}", unknown=", ".join(unknown)))
    return Rule(body["field"], needs, parts, or_says)


def _texts(where: Path, key: str, found: object) -> tuple[str, ...]:
    if not isinstance(found, list) or not all(isinstance(each, str) for each in found):
        raise _fault(where, key, phrase("must be a list of texts"))
    return tuple(found)


def _same_keys(where: Path, key: str, found: Mapping[str, Any], expected: set[str]) -> None:
    if odd := sorted(expected ^ set(found)):
        raise _fault(where, key, phrase("missing or unknown: {odd}", odd=", ".join(odd)))


def _fault(where: Path, key: str, wrong: str) -> IntakeFault:
    remedy = phrase("Put the file back as it was delivered.")
    return IntakeFault(
        "The parts of headings are damaged",
        phrase("{name}, {key}: {wrong}.", name=where.name, key=key, wrong=wrong),
        remedy,
    )
