"""The chain of the ledger: every entry's digest covers the entry and the digest before it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, tzinfo
from hashlib import sha256
from typing import Any, Final, NamedTuple

from sqlalchemy import select
from sqlalchemy.orm import Session

from estate.store.canonical import text_of, utc
from estate.store.schema import LedgerEntryRow

COLUMNS: Final = (
    *("id", "at", "who", "what", "noun", "row_id", "action", "after"),
    *("local_at", "program", "batch_id", "before", "why", "previous", "digest"),
)


@dataclass(frozen=True, slots=True)
class Stamp:
    """What writes entries.

    Attributes:
        program: its name and version.
        zone: of the clock on the wall; None takes the machine's.
    """

    program: str
    zone: tzinfo | None = None

    def local(self, at: datetime) -> str:
        """A moment by the clock on the wall, with its offset."""
        return utc(at).astimezone(self.zone).isoformat()


@dataclass(frozen=True, slots=True)
class Head:
    """How the ledger ends.

    Attributes:
        entry_id: the newest entry; 0 where there is none.
        digest: hex; empty where the newest entry is older than the chain.
    """

    entry_id: int
    digest: str


class Change(NamedTuple):
    """One change of a transaction, before it is an entry."""

    noun: str
    row_id: int | None
    action: str
    before: str
    after: str
    batch_id: int | None


@dataclass(frozen=True, slots=True)
class Doing:
    """Who does what, when, with what and why: alike in all entries of a transaction."""

    who: str
    what: str
    at: datetime
    why: str
    stamp: Stamp


def head(session: Session) -> Head:
    """The newest entry and its digest."""
    query = select(LedgerEntryRow.id, LedgerEntryRow.digest).order_by(LedgerEntryRow.id.desc()).limit(1)
    row = session.execute(query).one_or_none()
    return Head(0, "") if row is None else Head(row.id, row.digest)


def digest_of(
    number: int, at: str, change: Sequence[Any], told: Sequence[str], batch_id: int | None, previous: str
) -> str:
    """The digest of one entry.

    Args:
        number: the entry's id.
        at: the moment, UTC, ISO.
        change: noun, row id, action, before, after.
        told: who, what, why, local moment, program, each as JSON.
        batch_id: the batch that wrote it.
        previous: digest of the entry before; empty for the first.
    """
    noun, row_id, action, before, after = change
    who, what, why, local_at, program = told
    batch = "null" if batch_id is None else batch_id
    row = "null" if row_id is None else row_id
    written = (
        f'{{"action":"{action}","after":{after or _NOTHING},"at":"{at}","batch_id":{batch},'
        f'"before":{before or _NOTHING},"id":{number},"local_at":{local_at},"noun":"{noun}",'
        f'"previous":"{previous}","program":{program},"row_id":{row},"what":{what},"who":{who},"why":{why}}}'
    )
    return sha256(written.encode()).hexdigest()


_NOTHING: Final = '""'


def chained(last: Head, doing: Doing, changes: Sequence[Change]) -> Iterator[tuple[Any, ...]]:
    """Entries for the changes of a transaction, with values in the order of `COLUMNS`."""
    at, local_at = utc(doing.at).isoformat(), doing.stamp.local(doing.at)
    texts = (doing.who, doing.what, doing.why, local_at, doing.stamp.program)
    told = tuple(text_of(each) for each in texts)
    number, previous = last.entry_id, last.digest
    for each in changes:
        number += 1
        change = (each.noun, each.row_id, each.action, each.before, each.after)
        digest = digest_of(number, at, change, told, each.batch_id, previous)
        yield (
            *(number, doing.at, doing.who, doing.what, each.noun, each.row_id, each.action, each.after),
            *(local_at, doing.stamp.program, each.batch_id, each.before, doing.why, previous, digest),
        )
        previous = digest
