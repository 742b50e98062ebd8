"""Which rule set applies, and the site's own values."""

from math import isfinite

from sqlalchemy import select
from sqlalchemy.orm import Session

from estate.domain.phrases import phrase
from estate.domain.rules.values import Override
from estate.errors import EntryFault
from estate.store.schema import RegisterRow, RuleOverrideRow
from estate.store.transaction import Transaction


def estate_rule_set(session: Session) -> str:
    """The id of the rule set chosen for the whole estate."""
    return session.execute(select(RegisterRow.rule_set)).scalar_one()


def choose_estate_rules(tx: Transaction, rule_set: str) -> None:
    """Choose the rule set of the whole estate."""
    tx.amend(RegisterRow, 1, rule_set=rule_set)
    tx.touch(rules=True)


def overrides(session: Session) -> tuple[Override, ...]:
    """Every override ever made, oldest first; the latest of a key at a place counts."""
    return tuple(
        Override(
            row.rule_set,
            row.key,
            row.place,
            row.text_value if row.number_value is None else row.number_value,
            row.who,
            row.at,
            row.why,
        )
        for row in session.scalars(select(RuleOverrideRow).order_by(RuleOverrideRow.id))
    )


def add_override(tx: Transaction, override: Override) -> int:
    """Keep a site's own value; returns its id.

    Raises:
        EntryFault: no reason is given, or the value is no number.
    """
    if not override.why.strip():
        detail = phrase("{key} at {place}.", key=override.key, place=override.place)
        raise EntryFault("A reason is needed", detail, "Say why the site departs from the published value.")
    value = override.value
    number = None if isinstance(value, str) or value is None else float(value)
    if number is not None and not isfinite(number):
        raise EntryFault("That is not a figure", f"{override.key}: {value}.", "Give a figure.")
    row = RuleOverrideRow(
        rule_set=override.rule_set,
        key=override.key,
        place=override.place,
        number_value=number,
        text_value=value if isinstance(value, str) else None,
        who=override.who,
        at=override.at,
        why=override.why.strip(),
    )
    tx.touch(rules=True)
    return tx.insert(row)
