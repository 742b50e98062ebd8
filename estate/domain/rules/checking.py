"""Checks that rule files and overrides share; each names key, field, the wrong value and what is expected."""

import re
from collections.abc import Collection, Mapping
from datetime import date, datetime
from math import isfinite
from typing import Any

from estate.domain.rules.catalogue import CATALOGUE, ORDERED_PAIRS
from estate.domain.rules.values import FAHRENHEIT, ChosenBy, RuleValue
from estate.domain.temperature import to_celsius

COMMON_PRACTICE = "common practice, no source"
OWN_DEFAULT = "this register's own default, no published source"
OWN_FACT = "OWN"
MISSING = object()
"""Stands for the value of a field that is not there."""

_FACT = re.compile(r"[A-Z][A-Z0-9]*-[0-9]+")


class RuleDoubt(ValueError):
    """One thing that is wrong in a rule; the caller turns it into a fault that says where."""

    def __init__(self, key: str, field: str, value: object, expected: str) -> None:
        found = "missing" if value is MISSING else repr(value)
        super().__init__(f"{key}: {field} is {found}; expected {expected}")


def check_fields(
    key: str, table: object, names: Collection[str], within: str = "", optional: Collection[str] = ()
) -> dict[str, Any]:
    """Return the table if it has exactly the fields named; the optional ones may be missing.

    Raises:
        RuleDoubt: it is no table, or a field is missing or too many.
    """
    if not isinstance(table, dict):
        raise RuleDoubt(key, within.rstrip(".") or "the entry", table, f"a table of {', '.join(names)}")
    for name in names:
        if name not in table:
            raise RuleDoubt(key, f"{within}{name}", MISSING, f"the fields {', '.join(names)}")
    for name in table:
        if name not in names and name not in optional:
            raise RuleDoubt(key, f"{within}{name}", table[name], f"only the fields {', '.join(names)}")
    return table


def check_words(key: str, field: str, value: object, *, may_be_empty: bool = False) -> str:
    """Return the value if it is a text with something in it.

    Raises:
        RuleDoubt: it is not.
    """
    if not isinstance(value, str) or not (may_be_empty or value.strip()):
        raise RuleDoubt(key, field, value, "a text" if may_be_empty else "a text that is not empty")
    return value


def check_value(key: str, value: object) -> float | str:
    """Return a value that a key may hold: numbers as float, in the key's unit.

    Raises:
        RuleDoubt: the key is unknown, or the value of the wrong kind or out of range.
    """
    entry = CATALOGUE.get(key)
    if entry is None:
        raise RuleDoubt(key, "key", key, "one of the keys that the program knows")
    if not entry.accepts(value):
        raise RuleDoubt(key, "value", value, entry.expected)
    return value if isinstance(value, str) else float(str(value))


def check_published(key: str, value: object, unit: object) -> float | str:
    """Return a published value as it stands in its file: in the key's unit, or in °F for one in °C.

    Raises:
        RuleDoubt: the unit is another, or the value of the wrong kind or out of range.
    """
    entry = CATALOGUE[key]
    in_fahrenheit = unit == FAHRENHEIT and entry.unit == "degC"
    if unit != entry.unit and not in_fahrenheit:
        raise RuleDoubt(key, "unit", unit, f'"{entry.unit}"')
    number = float(str(value)) if _is_number(value) else None
    if not entry.publishes(to_celsius(number) if in_fahrenheit and number is not None else value):
        raise RuleDoubt(key, "value", value, entry.expected)
    return value if isinstance(value, str) else float(str(value))


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and isfinite(value)


def check_chosen_by(key: str, named: object) -> ChosenBy:
    """Return which day decides between dated values.

    The day of fitting decides only where a lower limit is the stricter one, because where that day is not
    known the strictest value has to be found.

    Raises:
        RuleDoubt: it is neither, or the key is no highest mixed temperature.
    """
    if named not in list(ChosenBy):
        raise RuleDoubt(
            key, "chosen_by", named, "one of the texts " + ", ".join(f'"{each}"' for each in ChosenBy)
        )
    if named == ChosenBy.FITTING and not key.startswith(
        ("mixed.ceiling.", "mixed.set.", "mixed.never-above")
    ):
        raise RuleDoubt(key, "chosen_by", named, '"visit" for all but the highest mixed temperatures')
    return ChosenBy(str(named))


def check_day(key: str, field: str, value: object) -> date:
    """Return the value if it is a date without a time of day.

    Raises:
        RuleDoubt: it is not.
    """
    if not isinstance(value, date) or isinstance(value, datetime):
        raise RuleDoubt(key, field, value, "a date such as 2017-03-01, without quotes")
    return value


def check_fact(key: str, field: str, fact: object) -> str:
    """Return the id of a fact if it has the form of one.

    Raises:
        RuleDoubt: it has not.
    """
    if not isinstance(fact, str) or not (fact == OWN_FACT or _FACT.fullmatch(fact)):
        raise RuleDoubt(key, field, fact, f'a fact\'s id such as "D08-32", or "{OWN_FACT}"')
    return fact


def check_sureness(key: str, fact: object, verified: object, document: str) -> tuple[str, bool]:
    """Return fact and verified if they and the source's document don't claim more than is known.

    Raises:
        RuleDoubt: a fact's id is malformed, or a value without a published source is called verified.
    """
    fact = check_fact(key, "fact", fact)
    if not isinstance(verified, bool):
        raise RuleDoubt(key, "verified", verified, "true or false")
    needed = OWN_DEFAULT if fact == OWN_FACT else COMMON_PRACTICE if fact.startswith("TP-") else None
    if needed is not None and document != needed:
        raise RuleDoubt(key, "source.document", document, f'"{needed}" for the fact {fact}')
    if needed is None and document in (OWN_DEFAULT, COMMON_PRACTICE):
        raise RuleDoubt(key, "fact", fact, f'"{OWN_FACT}" or a TP- fact where nothing is published')
    if needed is not None and verified:
        raise RuleDoubt(key, "verified", verified, "false where nothing is published")
    return fact, verified


def check_order(values: Mapping[str, RuleValue]) -> None:
    """See that no lower bound is above its upper bound, such as a set temperature above its ceiling.

    Raises:
        RuleDoubt: one is.
    """
    for low_key, high_key in ORDERED_PAIRS:
        low, high = values.get(low_key), values.get(high_key)
        if low is not None and high is not None and low.number > high.number:
            expected = f"at most {high.value} {high.unit}, the value of {high_key}"
            raise RuleDoubt(low_key, "value", low.value, expected)
