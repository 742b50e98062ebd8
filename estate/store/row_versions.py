"""Row versions: a change begun on an older state of a row is refused, with what came between."""

import json
from typing import Any

from sqlalchemy import Table, select
from sqlalchemy.orm import Session

from estate.errors import EntryFault
from estate.store import ledger
from estate.store.columns import Row
from estate.store.transaction import Transaction

_AGAIN = "Look at what is there now, and do it again where it still holds; nothing was changed."


def _table(row_class: type[Row]) -> Table:
    return Row.metadata.tables[row_class.__tablename__]


def version_of(session: Session, row_class: type[Row], row_id: int) -> int:
    """The version of a row that may be changed; 0 where it is gone."""
    table = _table(row_class)
    found = session.execute(select(table.c.row_version).where(table.c.id == row_id)).scalar_one_or_none()
    return 0 if found is None else int(found)


def must_be_at(tx: Transaction, row_class: type[Row], row_id: int, version: int) -> None:
    """Refuse where somebody else changed a row since it was read.

    Writers come one after the other, so nobody can come between this look and the change.

    Raises:
        EntryFault: it was changed or removed: by whom, when, and the difference.
    """
    now = version_of(tx.session, row_class, row_id)
    if now == version:
        return
    told = [
        each
        for each in ledger.entries(tx.session, row_class.__tablename__, row_id)
        if each.action in ("amended", "removed")
    ]
    since = told[version - now :] if now else told[-1:]
    said = "; ".join(_words(each) for each in since)
    title = "Somebody else changed it" if now else "Somebody else removed it"
    raise EntryFault(title, f"{said}.", _AGAIN)


def _words(entry: ledger.LedgerEntry) -> str:
    moment = entry.at.strftime("%Y-%m-%d %H:%M UTC")
    before = json.loads(entry.before) if entry.before else {}
    after = json.loads(entry.after) if entry.after else {}
    changed = ", ".join(
        f"{key.replace('_', ' ')} from {_shown(before.get(key))} to {_shown(after[key])}"
        for key in after
        if before.get(key) != after[key]
    )
    return f"changed by {entry.who} at {moment}" + (f": {changed}" if changed else "")


def _shown(value: Any) -> str:
    return "nothing" if value in (None, "") else f'"{value}"'
