"""What others write on a server, told as it is kept: NOTIFY with each commit, LISTEN in whoever watches."""

import json
from collections.abc import Iterator
from dataclasses import fields
from typing import Any, Final

from sqlalchemy import text
from sqlalchemy.orm import Session

from estate.domain.changes import ChangeSet
from estate.store.database import Database
from estate.store.faults import told_plainly

_MOST_BYTES: Final = 7000  # the server takes less than 8000
_CHANNEL: Final = "SELECT 'estate_' || 'ledger_entry'::regclass::oid"


def notify(session: Session, changes: ChangeSet) -> None:
    """Tell whoever listens, once the transaction in hand is kept; a file tells nobody."""
    connection = session.connection()
    if connection.dialect.name == "postgresql":
        statement = text(f"SELECT pg_notify(({_CHANNEL}), :told)")
        connection.execute(statement, {"told": written(changes)})


def written(changes: ChangeSet) -> str:
    """A change set as JSON; one too long for a message says that everything had better be read afresh."""
    told: dict[str, Any] = {each.name: getattr(changes, each.name) for each in fields(changes)}
    whole = json.dumps(
        {key: sorted(value) if isinstance(value, frozenset) else value for key, value in told.items()}
    )
    if len(whole) <= _MOST_BYTES:
        return whole
    return json.dumps({"rules": changes.rules, "everything": True})


def read(told: str) -> ChangeSet:
    """What `written` wrote."""
    values: dict[str, Any] = json.loads(told)
    sets: dict[str, Any] = {
        key: frozenset(each) if isinstance(each, list) else each for key, each in values.items()
    }
    return ChangeSet(**sets)


def listen(database: Database, timeout_s: float) -> Iterator[ChangeSet]:
    """Change sets of commits, this program's own too, until none came for a while.

    Args:
        database: a register on a server.
        timeout_s: how long to wait for all of them together.

    Raises:
        RegisterFault: the server is out of reach.
    """
    with told_plainly(database.shown), database.listening() as connection:
        channel = connection.execute(text(_CHANNEL)).scalar_one()
        connection.exec_driver_sql(f'LISTEN "{channel}"')
        driver: Any = connection.connection.dbapi_connection
        yield ChangeSet()
        for each in driver.notifies(timeout=timeout_s):
            yield read(each.payload)
