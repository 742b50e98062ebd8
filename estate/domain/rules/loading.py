"""From the text of a rule file to a rule set; anything amiss is refused with file, key and value."""

import tomllib
from collections.abc import Mapping
from datetime import date
from itertools import pairwise
from types import MappingProxyType
from typing import Any

from estate.domain.rules.catalogue import CATALOGUE
from estate.domain.rules.checking import (
    RuleDoubt,
    check_day,
    check_fields,
    check_order,
    check_sureness,
    check_value,
    check_words,
)
from estate.domain.rules.values import RuleSet, RuleSource, RuleValue
from estate.errors import RuleFault

_HEAD = ("id", "title", "edition", "scope")
_FIELDS = ("value", "unit", "source", "fact", "verified", "effective", "note")
_SOURCE = ("document", "edition", "clause")


def parse(text: str, file_name: str, on: date | None = None) -> RuleSet:
    """Read one rule file.

    Args:
        text: the file's TOML.
        file_name: its name, for faults; ``uk-healthcare.toml`` must hold the id ``uk-healthcare``.
        on: the day the rules are wanted for: of a key's dated values the newest that is effective on or
            before it applies, and a key with none is left out. None takes the newest of all.

    Returns:
        The rule set with nothing laid over it.

    Raises:
        RuleFault: the file is not a valid rule file; names file, key and value, and says what is expected.
    """
    try:
        return _rule_set(tomllib.loads(text), file_name, on)
    except tomllib.TOMLDecodeError as error:
        raise _fault(file_name, f"it is not valid TOML: {error}") from error
    except RuleDoubt as doubt:
        raise _fault(file_name, str(doubt)) from doubt


def parse_every(files: Mapping[str, str], on: date | None = None) -> Mapping[str, RuleSet]:
    """Read several rule files, text by file name, into rule sets by id.

    Raises:
        RuleFault: a file is not valid, or two files hold the same id.
    """
    found: dict[str, RuleSet] = {}
    for name in sorted(files):
        rule_set = parse(files[name], name, on)
        if rule_set.id in found:
            raise _fault(
                name, f"id is {rule_set.id!r}, which another file holds already; expected an id of its own"
            )
        found[rule_set.id] = rule_set
    return MappingProxyType(found)


def _fault(file_name: str, detail: str) -> RuleFault:
    remedy = "Correct the file, or put back the copy that came with the program."
    return RuleFault("The rule file is not valid", f"{file_name}: {detail}.", remedy)


def _rule_set(table: dict[str, Any], file_name: str, on: date | None) -> RuleSet:
    check_fields("the file's head", table, (*_HEAD, "cautions", "values"))
    if table["id"] != file_name.rpartition("/")[2].removesuffix(".toml"):
        raise RuleDoubt("the file's head", "id", table["id"], "the file's name without .toml")
    values = _values(table["values"])
    chosen = {key: picked for key, dated in values.items() if (picked := _newest(dated, on)) is not None}
    check_order(chosen)
    cautions = _cautions(table["cautions"])
    head = {name: check_words("the file's head", name, table[name]) for name in _HEAD}
    return RuleSet(**head, cautions=cautions, values=MappingProxyType(chosen))


def _cautions(cautions: object) -> tuple[str, ...]:
    if not isinstance(cautions, list) or not cautions:
        raise RuleDoubt("the file's head", "cautions", cautions, "a list of at least one caution")
    for caution in cautions:
        check_words("the file's head", "cautions", caution)
    return tuple(cautions)


def _values(tables: object) -> dict[str, tuple[RuleValue, ...]]:
    if not isinstance(tables, dict) or not tables:
        raise RuleDoubt("the file's head", "values", tables, 'tables such as [values."mixed.set.basin"]')
    return {key: _dated(key, table) for key, table in tables.items()}


def _dated(key: str, tables: object) -> tuple[RuleValue, ...]:
    if key not in CATALOGUE:
        raise RuleDoubt(key, "key", key, "one of the keys that the program knows")
    dated = tables if isinstance(tables, list) else [tables]
    if not dated:
        raise RuleDoubt(key, "values", tables, "at least one dated value")
    values = tuple(sorted((_value(key, table) for table in dated), key=lambda each: each.effective))
    for earlier, later in pairwise(values):
        if earlier.effective == later.effective:
            raise RuleDoubt(
                key, "effective", f"{later.effective} twice", "a day of its own for each dated value"
            )
    return values


def _newest(dated: tuple[RuleValue, ...], on: date | None) -> RuleValue | None:
    in_force = [each for each in dated if on is None or each.effective <= on]
    return in_force[-1] if in_force else None


def _value(key: str, table: object) -> RuleValue:
    fields = check_fields(key, table, _FIELDS)
    source = _source(key, fields["source"])
    if fields["unit"] != CATALOGUE[key].unit:
        raise RuleDoubt(key, "unit", fields["unit"], f'"{CATALOGUE[key].unit}"')
    fact, verified = check_sureness(key, fields["fact"], fields["verified"], source.document)
    return RuleValue(
        key=key,
        value=check_value(key, fields["value"]),
        unit=fields["unit"],
        source=source,
        fact=fact,
        verified=verified,
        effective=check_day(key, "effective", fields["effective"]),
        note=check_words(key, "note", fields["note"], may_be_empty=True),
    )


def _source(key: str, table: object) -> RuleSource:
    fields = check_fields(key, table, _SOURCE, within="source.")
    return RuleSource(
        document=check_words(key, "source.document", fields["document"]),
        edition=check_words(key, "source.edition", fields["edition"], may_be_empty=True),
        clause=check_words(key, "source.clause", fields["clause"], may_be_empty=True),
    )
