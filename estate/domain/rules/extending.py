"""A rule file may extend another: it takes over all that the other says and lays its own over it."""

from collections.abc import Mapping, Sequence
from typing import Any

from estate.domain.rules.checking import RuleDoubt, check_words

HEAD = "the file's head"
_JOINED = ("left_aside", "disagreements", "not_judged")


def file_id(file_name: str) -> str:
    """The id that a file of this name must hold."""
    return file_name.rpartition("/")[2].removesuffix(".toml")


def is_part(table: Mapping[str, Any]) -> bool:
    """Whether a file is there to be extended only, and is no rule set by itself.

    Raises:
        RuleDoubt: it says neither yes nor no.
    """
    part = table.get("part", False)
    if not isinstance(part, bool):
        raise RuleDoubt(HEAD, "part", part, "true or false")
    return part


def extended(
    table: dict[str, Any], others: Mapping[str, dict[str, Any]], seen: Sequence[str] = ()
) -> dict[str, Any]:
    """The table of a file with those that it extends below it.

    Args:
        table: of the file.
        others: tables of all files, by id.
        seen: ids of the files that extend it.

    Raises:
        RuleDoubt: it extends a file that is not there, or itself.
    """
    if "extends" not in table:
        return table
    named = check_words(HEAD, "extends", table["extends"])
    if named not in others or named in seen:
        raise RuleDoubt(HEAD, "extends", named, "the id of another rule file that does not extend this one")
    below = extended(others[named], others, (*seen, named))
    joined = {name: [*_list(below, name), *_list(table, name)] for name in _JOINED}
    return {**below, **table, **joined, "values": _table(below) | _table(table)}


def _list(table: Mapping[str, Any], name: str) -> list[Any]:
    found = table.get(name, [])
    if not isinstance(found, list):
        raise RuleDoubt(HEAD, name, found, "a list")
    return found


def _table(table: Mapping[str, Any]) -> dict[str, Any]:
    found = table.get("values", {})
    if not isinstance(found, dict):
        raise RuleDoubt(HEAD, "values", found, 'tables such as [values."mixed.set.basin"]')
    return found
