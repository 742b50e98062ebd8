"""Row versions: a change begun on an older state of a row is refused, with what came between."""

import json
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime
from typing import Any

from sqlalchemy import Table, select
from sqlalchemy.orm import Session

from estate.domain.conflicts import ConflictFault, FieldChange, Meanwhile, Rows, Seen
from estate.domain.phrases import phrase
from estate.store import ledger
from estate.store.canonical import UNTOLD
from estate.store.columns import Row
from estate.store.parting import parts
from estate.store.transaction import Transaction

_CHANGED = phrase("Somebody else changed it")


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


def seen_rows(session: Session, noun: str, row_ids: Sequence[int]) -> Rows:
    """Several rows of a table as a form is filled from them all; one that is gone has version 0."""
    columns = Row.metadata.tables[noun].c
    found: dict[int, int] = {}
    for part in parts(row_ids):
        query = select(columns.id, columns[UNTOLD]).where(columns.id.in_(part))
        found |= {int(row_id): int(version) for row_id, version in session.execute(query)}
    return tuple(Seen(noun, each, found.get(each, 0)) for each in row_ids)


def must_be_at(tx: Transaction, row_class: type[Row], row_id: int, version: int) -> None:
    """Refuse where somebody else changed a row since it was read.

    Raises:
        ConflictFault: it was changed or removed: by whom, when, and the difference.
    """
    must_be_as_seen(tx, Seen(row_class.__tablename__, row_id, version))


def must_be_as_seen(tx: Transaction, seen: Seen | Rows | None) -> None:
    """Refuse where somebody else changed a row, or one of several, since a form was filled from them.

    Writers come one after the other, so nobody can come between this look and the change.

    Args:
        tx: the change in hand.
        seen: the row, or several of one table, as the form saw them; None where nothing was shown before.

    Raises:
        ConflictFault: it was changed or removed: by whom, when, and the difference.
    """
    if isinstance(seen, tuple):
        _must_all_be_as_seen(tx, seen)
        return
    if seen is None:
        return
    now = seen_of(tx.session, seen.noun, seen.row_id)
    if now != seen:
        _refuse(_since(tx, seen, now), now if now.version else None)


def _must_all_be_as_seen(tx: Transaction, seen: Rows) -> None:
    now = seen_rows(tx.session, seen[0].noun, [each.row_id for each in seen]) if seen else ()
    differing = [(before, after) for before, after in zip(seen, now, strict=True) if before != after]
    if not differing:
        return
    title = phrase("Somebody else removed one of them")
    if all(after.version for _, after in differing):
        title = (
            phrase("Somebody else changed {count} of them", count=len(differing))
            if len(seen) > 1
            else _CHANGED
        )
    told: dict[tuple[str, datetime, str, str], list[FieldChange]] = {}
    for before, after in differing:
        for each in _since(tx, before, after):
            changed = told.setdefault((each.who, each.at, each.what, each.why), [])
            changed += (replace(field, field=f"{_name(tx, each)}: {field.field}") for field in _fields(each))
    meanwhile = tuple(Meanwhile(*head, tuple(changed)) for head, changed in told.items())
    raise ConflictFault(title, meanwhile, now if all(each.version for each in now) else None)


def _name(tx: Transaction, entry: ledger.LedgerEntry) -> str:
    """What a person calls the row that an entry is about."""
    if entry.before and "reference" in (before := json.loads(entry.before)):
        return str(before["reference"])
    columns = Row.metadata.tables[entry.noun].c
    called = select(columns.reference).where(columns.id == entry.row_id) if "reference" in columns else None
    found = None if called is None else tx.session.execute(called).scalar_one_or_none()
    return f"{entry.noun} {entry.row_id}" if found is None else str(found)


def _since(tx: Transaction, seen: Seen, now: Seen) -> list[ledger.LedgerEntry]:
    """The entries that changed a row since it was seen."""
    told = [
        each
        for each in ledger.entries(tx.session, seen.noun, seen.row_id)
        if each.action in ("amended", "removed")
    ]
    return told[seen.version - now.version :] if now.version else told[-1:]


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
    title = _CHANGED if now is not None else phrase("Somebody else removed it")
    raise ConflictFault(title, tuple(_meanwhile(each) for each in since), now)


def _meanwhile(entry: ledger.LedgerEntry) -> Meanwhile:
    return Meanwhile(entry.who, entry.at, entry.what, entry.why, _fields(entry))


def _fields(entry: ledger.LedgerEntry) -> tuple[FieldChange, ...]:
    before: dict[str, Any] = json.loads(entry.before) if entry.before else {}
    after: dict[str, Any] = json.loads(entry.after) if entry.after else {}
    return tuple(
        FieldChange(key.replace("_", " "), _shown(before.get(key)), _shown(after[key]))
        for key in after
        if before.get(key) != after[key] and not key.endswith("_key")
    )


def _shown(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return "" if value is None else str(value)
