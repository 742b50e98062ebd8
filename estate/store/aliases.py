"""Words that stand for outlets: told, told otherwise or withdrawn, never changed."""

from typing import Any

from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session

from estate.domain.aliases import Alias
from estate.domain.phrases import phrase
from estate.domain.references import reference_key
from estate.errors import EntryFault
from estate.store.batch_schema import AliasRow
from estate.store.transaction import Transaction


def aliases(session: Session) -> tuple[Alias, ...]:
    """What words stand for now, in the order in which it was confirmed; withdrawn words are left out."""
    query = (
        select(AliasRow.words, AliasRow.outlet_id, AliasRow.who, AliasRow.at)
        .where(AliasRow.id.in_(_latest()), AliasRow.outlet_id.is_not(None))
        .order_by(AliasRow.id)
    )
    found = session.execute(query)
    return tuple(
        Alias(words, outlet_id, who, at) for words, outlet_id, who, at in found if outlet_id is not None
    )


def add_alias(tx: Transaction, words: str, outlet_id: int | None, batch_id: int | None = None) -> int:
    """Keep what some words stand for from now on.

    Args:
        words: as written in the sheet; case, spaces and punctuation make no difference.
        outlet_id: the outlet; None withdraws what was said before.
        batch_id: the batch with which it was confirmed; it is withdrawn when that is undone.

    Returns:
        The id of the entry.

    Raises:
        EntryFault: there are no words.
    """
    key = reference_key(words)
    if not key:
        raise EntryFault(
            "There are no words",
            phrase("'{words}' has no letter or figure.", words=words),
            "Give the sheet's words.",
        )
    row = AliasRow(
        words=words.strip(), words_key=key, outlet_id=outlet_id, batch_id=batch_id, who=tx.who, at=tx.at
    )
    return tx.insert(row)


def withdraw_of_batch(tx: Transaction, batch_id: int) -> int:
    """Withdraw what a batch taught, unless the words were told otherwise since; returns how many."""
    query = (
        select(AliasRow.words)
        .where(AliasRow.id.in_(_latest()), AliasRow.outlet_id.is_not(None), AliasRow.batch_id == batch_id)
        .order_by(AliasRow.id)
    )
    taught = tx.session.execute(query).scalars().all()
    for words in taught:
        add_alias(tx, words, None, batch_id)
    return len(taught)


def _latest() -> Select[Any]:
    return select(func.max(AliasRow.id)).group_by(AliasRow.words_key)
