"""From the text of a rule file to a rule set; anything amiss is refused with file, key and value."""

import tomllib
from collections.abc import Mapping
from datetime import date
from itertools import pairwise
from types import MappingProxyType
from typing import Any

from estate.domain.phrases import phrase
from estate.domain.rules.catalogue import CATALOGUE
from estate.domain.rules.checking import (
    RuleDoubt,
    check_chosen_by,
    check_day,
    check_fields,
    check_order,
    check_published,
    check_sureness,
    check_words,
)
from estate.domain.rules.days import days_matter, newest
from estate.domain.rules.extending import HEAD, extended, file_id, is_part
from estate.domain.rules.remarks import read_left_aside, read_remarks
from estate.domain.rules.values import ChosenBy, RuleSet, RuleSource, RuleValue
from estate.errors import RuleFault

_HEAD = ("id", "title", "edition", "scope")
_MAY_HEAD = ("place", "extends", "part", "left_aside", "disagreements", "not_judged")
_FIELDS = ("value", "unit", "source", "fact", "verified", "effective", "note")
_MAY = ("until", "chosen_by")
_SOURCE = ("document", "edition", "clause")


def parse(text: str, file_name: str, on: date | None = None) -> RuleSet:
    """Read one rule file that stands alone.

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
    return _rules({file_name: _table(text, file_name)}, file_name, on)


def parse_every(files: Mapping[str, str], on: date | None = None) -> Mapping[str, RuleSet]:
    """Read several rule files, text by file name, into rule sets by id.

    A part, which others extend, is no rule set by itself.

    Raises:
        RuleFault: a file is not valid, two files hold the same id, or one extends a file that isn't there.
    """
    found: dict[str, RuleSet] = {}
    tables = {name: _table(files[name], name) for name in sorted(files)}
    for name, table in tables.items():
        if _is_part(table, name):
            continue
        rule_set = _rules(tables, name, on)
        if rule_set.id in found:
            raise _fault(
                name,
                phrase(
                    "id is {id!r}, which another file holds already; expected an id of its own",
                    id=rule_set.id,
                ),
            )
        found[rule_set.id] = rule_set
    return MappingProxyType(found)


def _fault(file_name: str, detail: str) -> RuleFault:
    remedy = phrase("Correct the file, or put back the copy that came with the program.")
    return RuleFault(
        "The rule file is not valid",
        phrase("{file_name}: {detail}.", file_name=file_name, detail=detail),
        remedy,
    )


def _table(text: str, file_name: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise _fault(file_name, phrase("it is not valid TOML: {error}", error=error)) from error


def _is_part(table: Mapping[str, Any], file_name: str) -> bool:
    try:
        return is_part(table)
    except RuleDoubt as doubt:
        raise _fault(file_name, str(doubt)) from doubt


def _rules(tables: Mapping[str, dict[str, Any]], file_name: str, on: date | None) -> RuleSet:
    others = {file_id(name): table for name, table in tables.items()}
    try:
        return _rule_set(extended(tables[file_name], others, (file_id(file_name),)), file_name, on)
    except RuleDoubt as doubt:
        raise _fault(file_name, str(doubt)) from doubt


def _rule_set(table: dict[str, Any], file_name: str, on: date | None) -> RuleSet:
    check_fields(HEAD, table, (*_HEAD, "cautions", "values"), optional=_MAY_HEAD)
    if table["id"] != file_id(file_name):
        raise RuleDoubt(HEAD, "id", table["id"], "the file's name without .toml")
    dated = _values(table["values"])
    chosen = {
        key: picked for key, each in dated.items() if (picked := newest(each, on or date.max)) is not None
    }
    check_order(chosen)
    return RuleSet(
        **{name: check_words(HEAD, name, table[name]) for name in _HEAD},
        cautions=_cautions(table["cautions"]),
        values=MappingProxyType(chosen),
        place=check_words(HEAD, "place", table.get("place", ""), may_be_empty=True),
        dated=MappingProxyType({key: each for key, each in dated.items() if days_matter(each)}),
        left_aside=read_left_aside(table),
        disagreements=read_remarks(table, "disagreements"),
        not_judged=read_remarks(table, "not_judged"),
    )


def _cautions(cautions: object) -> tuple[str, ...]:
    if not isinstance(cautions, list) or not cautions:
        raise RuleDoubt(HEAD, "cautions", cautions, "a list of at least one caution")
    for caution in cautions:
        check_words(HEAD, "cautions", caution)
    return tuple(cautions)


def _values(tables: object) -> dict[str, tuple[RuleValue, ...]]:
    if not isinstance(tables, dict) or not tables:
        raise RuleDoubt(HEAD, "values", tables, 'tables such as [values."mixed.set.basin"]')
    return {key: _dated(key, table) for key, table in tables.items()}


def _dated(key: str, tables: object) -> tuple[RuleValue, ...]:
    if key not in CATALOGUE:
        raise RuleDoubt(key, "key", key, "one of the keys that the program knows")
    dated = tables if isinstance(tables, list) else [tables]
    if not dated:
        raise RuleDoubt(key, "values", tables, "at least one dated value")
    values = tuple(sorted((_value(key, table) for table in dated), key=lambda each: each.effective))
    for earlier, later in pairwise(values):
        if earlier.chosen_by is not later.chosen_by:
            raise RuleDoubt(
                key, "chosen_by", later.chosen_by.value, "the same for every dated value of a key"
            )
        if earlier.effective == later.effective:
            raise RuleDoubt(
                key, "effective", f"{later.effective} twice", "a day of its own for each dated value"
            )
    return values


def _value(key: str, table: object) -> RuleValue:
    fields = check_fields(key, table, _FIELDS, optional=_MAY)
    source = _source(key, fields["source"])
    fact, verified = check_sureness(key, fields["fact"], fields["verified"], source.document)
    until = fields.get("until")
    return RuleValue(
        key=key,
        value=check_published(key, fields["value"], fields["unit"]),
        unit=fields["unit"],
        source=source,
        fact=fact,
        verified=verified,
        effective=check_day(key, "effective", fields["effective"]),
        note=check_words(key, "note", fields["note"], may_be_empty=True),
        until=None if until is None else check_day(key, "until", until),
        chosen_by=check_chosen_by(key, fields.get("chosen_by", ChosenBy.VISIT)),
    )


def _source(key: str, table: object) -> RuleSource:
    fields = check_fields(key, table, _SOURCE, within="source.")
    return RuleSource(
        document=check_words(key, "source.document", fields["document"]),
        edition=check_words(key, "source.edition", fields["edition"], may_be_empty=True),
        clause=check_words(key, "source.clause", fields["clause"], may_be_empty=True),
    )
