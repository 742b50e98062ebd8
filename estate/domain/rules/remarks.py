"""What a rule file says beside its values: where sources disagree, and what else they ask for."""

from collections.abc import Mapping
from typing import Any

from estate.domain.rules.checking import RuleDoubt, check_fact, check_fields, check_words
from estate.domain.rules.extending import HEAD
from estate.domain.rules.values import Remark


def read_remarks(table: Mapping[str, Any], name: str) -> tuple[Remark, ...]:
    """The remarks of one kind, ``disagreements`` (which say what is applied) or ``not_judged``.

    Raises:
        RuleDoubt: a remark lacks its facts or its words.
    """
    found = table.get(name, [])
    if not isinstance(found, list):
        raise RuleDoubt(HEAD, name, found, f"tables such as [[{name}]]")
    return tuple(_remark(each, name) for each in found)


def _remark(table: object, name: str) -> Remark:
    names = ("facts", "words", *(("applied",) if name == "disagreements" else ()))
    fields = check_fields(HEAD, table, names, within=f"{name}.")
    facts = fields["facts"]
    if not isinstance(facts, list) or not facts:
        raise RuleDoubt(HEAD, f"{name}.facts", facts, 'a list of ids such as ["AU-01"]')
    return Remark(
        tuple(check_fact(HEAD, f"{name}.facts", each) for each in facts),
        *(check_words(HEAD, f"{name}.{each}", fields[each]) for each in names[1:]),
    )


def read_left_aside(table: Mapping[str, Any]) -> tuple[str, ...]:
    """Parts of keys that the rule set has no use for.

    Raises:
        RuleDoubt: they are no list of texts.
    """
    found = table.get("left_aside", [])
    if not isinstance(found, list):
        raise RuleDoubt(HEAD, "left_aside", found, 'a list such as [".type-2"]')
    return tuple(check_words(HEAD, "left_aside", each) for each in found)
