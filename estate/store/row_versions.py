"""Row versions: a change begun on an older state of a row is refused, with what came between."""

import json
from typing import Any

from sqlalchemy import Table, select
from sqlalchemy.orm import Session

from estate.domain.conflicts import ConflictFault, FieldChange, Meanwhile, Seen
from estate.store import ledger
from estate.store.canonical import UNTOLD
from estate.store.columns import Row
from estate.store.transaction import Transaction


def _version(session: Session, table: Table, row_id: int) -> int:
    found = session.execute(select(table.c[UNTOLD]).where(table.c.id == row_id)).scalar_one_or_none()
    return 0 if found is None else int(found)


def version_of(session: Session, row_class: type[Row], row_id: int) -> int:
    """The version of a row that may be changed; 0 where it is gone."""
    return seen_of(session, row_class.__tablename__, row_id).version


def seen_of(session: Session, noun: str, row_id: int) -> Seen:
    """A row as a form is filled from it, to be read in the same session as the form's values.

    Args:
        session: the session that reads the values.
        noun: a table whose rows may be changed.
        row_id: the row; one that is gone has version 0.
    """
    return Seen(noun, row_id, _version(session, Row.metadata.tables[noun], row_id))


def must_be_at(tx: Transaction, row_class: type[Row], row_id: int, version: int) -> None:
    """Refuse where somebody else changed a row since it was read.

    Raises:
        ConflictFault: it was changed or removed: by whom, when, and the difference.
    """
    must_be_as_seen(tx, Seen(row_class.__tablename__, row_id, version))


def must_be_as_seen(tx: Transaction, seen: Seen | None) -> None:
    """Refuse where somebody else changed a row since a form was filled from it.

    Writers come one after the other, so nobody can come between this look and the change.

    Args:
        tx: the change in hand.
        seen: the row as the form saw it; None where nothing was shown before.

    Raises:
        ConflictFault: it was changed or removed: by whom, when, and the difference.
    """
    if seen is None:
        return
    now = seen_of(tx.session, seen.noun, seen.row_id)
    if now == seen:
        return
    told = [
        each
        for each in ledger.entries(tx.session, seen.noun, seen.row_id)
        if each.action in ("amended", "removed")
    ]
    since = told[seen.version - now.version :] if now.version else told[-1:]
    _refuse(since, now if now.version else None)


def must_stand_since(tx: Transaction, noun: str, row_id: int, entry: int) -> None:
    """Refuse where a row was added, changed or removed after an entry of the ledger.

    Args:
        tx: the change in hand.
        noun: the table.
        row_id: the row.
        entry: the newest entry when the row was looked at.

    Raises:
        ConflictFault: it was: by whom, when, and the difference.
    """
    since = [each for each in ledger.entries(tx.session, noun, row_id) if each.id > entry]
    if since:
        now = seen_of(tx.session, noun, row_id)
        _refuse(since, now if now.version else None)


def _refuse(since: list[ledger.LedgerEntry], now: Seen | None) -> None:
    title = "Somebody else changed it" if now is not None else "Somebody else removed it"
    raise ConflictFault(title, tuple(_meanwhile(each) for each in since), now)


def _meanwhile(entry: ledger.LedgerEntry) -> Meanwhile:
    before: dict[str, Any] = json.loads(entry.before) if entry.before else {}
    after: dict[str, Any] = json.loads(entry.after) if entry.after else {}
    changed = tuple(
        FieldChange(key.replace("_", " "), _shown(before.get(key)), _shown(after[key]))
        for key in after
        if before.get(key) != after[key] and not key.endswith("_key")
    )
    return Meanwhile(entry.who, entry.at, entry.what, entry.why, changed)


def _shown(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "" if value is None else str(value)
