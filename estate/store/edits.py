"""One change by hand, as the trail tells it: what it wrote to places and valves, and the exact way back."""

import json
from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Any, Final

from sqlalchemy import Table, UniqueConstraint, select
from sqlalchemy.orm import Session

from estate.domain.editing import Written
from estate.domain.phrases import phrase
from estate.domain.register import WrittenEntry
from estate.domain.trail import noun_words
from estate.errors import EntryFault, NotFoundFault
from estate.store.canonical import UNTOLD
from estate.store.columns import Row
from estate.store.ledger import LedgerEntry
from estate.store.parting import parts
from estate.store.schema import REMOVABLE, LedgerEntryRow
from estate.store.taking_back import ROW_CLASSES, values_of
from estate.store.transaction import Transaction

_FOLLOWING: Final = frozenset({"outlet_event", "action", "action_event", "judgement", "finding"})
"""What a change by hand writes beside places and valves."""


def entries(session: Session, written: Written) -> tuple[LedgerEntry, ...]:
    """The entries of one change by hand, in their order.

    Raises:
        NotFoundFault: there are no such entries.
        EntryFault: they are not one change by hand.
    """
    query = select(*LedgerEntryRow.__table__.columns).where(
        LedgerEntryRow.id.between(written.first, written.last)
    )
    found = tuple(LedgerEntry(**row._mapping) for row in session.execute(query.order_by(LedgerEntryRow.id)))
    said = phrase("Entries {first} to {last} of the trail", first=written.first, last=written.last)
    if not found or (found[0].id, found[-1].id) != (written.first, written.last):
        raise NotFoundFault(
            "No such change", phrase("{said} are not there.", said=said), "Look the numbers up in the trail."
        )
    doings = {(each.who, each.what, each.at) for each in found}
    nouns = {each.noun for each in found} - REMOVABLE - _FOLLOWING
    replaced = any(each.noun == "fitting" and each.action != "added" for each in found)
    if len(doings) > 1 or nouns or replaced or any(each.batch_id is not None for each in found):
        remedy = phrase("Batches are undone, visits made void; what became of a valve is recorded anew.")
        raise EntryFault(
            "That is not one change by hand", phrase("{said}: {what}.", said=said, what=found[0].what), remedy
        )
    return found


def changes(found: Sequence[LedgerEntry]) -> tuple[WrittenEntry, ...]:
    """What entries tell of places and valves, in their order; of rows added or removed every column."""
    return tuple(_change(each) for each in found if each.noun in REMOVABLE)


def _change(entry: LedgerEntry) -> WrittenEntry:
    before, after = (json.loads(each) if each else {} for each in (entry.before, entry.after))
    blank = {each.name: None for each in _table(entry.noun).columns if each.name not in ("id", UNTOLD)}
    action = "changed" if entry.action == "amended" else entry.action
    if action == "changed":
        told = {name: value for name, value in before.items() if value != after[name]}
        before, after = told, {name: after[name] for name in told}
    elif action == "added":
        after = blank | after
    else:
        before = blank | before
    assert entry.row_id is not None, "places and valves are told row by row"
    return WrittenEntry(entry.noun, entry.row_id, action, _pairs(before), _pairs(after))


def _pairs(values: Mapping[str, object]) -> tuple[tuple[str, object], ...]:
    return tuple(values.items())


def _table(noun: str) -> Table:
    return Row.metadata.tables[noun]


def gone(session: Session, found: Sequence[WrittenEntry]) -> Iterator[WrittenEntry]:
    """The last entry of each row that is not there any more, or there again after it was removed."""
    last = {_row(each): each for each in found}
    wanted: defaultdict[str, set[int]] = defaultdict(set)
    for noun, row_id in last:
        wanted[noun].add(row_id)
    there: set[tuple[str, int]] = set()
    for noun, ids in wanted.items():
        table = _table(noun)
        for part in parts(ids):
            held = session.execute(select(table.c.id).where(table.c.id.in_(part))).scalars()
            there.update((noun, each) for each in held)
    for row, each in last.items():
        if (row in there) == (each.action == "removed"):
            yield each


def _row(entry: WrittenEntry) -> tuple[str, int]:
    return entry.noun, entry.row_id


def undo(tx: Transaction, found: Sequence[WrittenEntry], kept: Collection[tuple[str, int]] = ()) -> None:
    """Take a change back, the last entry first; each row stands as it did before.

    Args:
        tx: the transaction.
        found: what the change wrote.
        kept: rows that it added and that stay, because evidence names them.

    Raises:
        EntryFault: what a row referred to is gone, or its name was given to another.
    """
    for each in reversed(found):
        if _row(each) in kept:
            continue
        kind = ROW_CLASSES[each.noun]
        if each.action == "added":
            tx.remove(kind, each.row_id)
            continue
        values = values_of(_table(each.noun), each.before)
        _must_fit(tx.session, each, values)
        if each.action == "changed":
            tx.amend(kind, each.row_id, **values)
        else:
            _put_back(tx, kind, each.row_id, values)


def _put_back(tx: Transaction, kind: type[Row], row_id: int, values: Mapping[str, Any]) -> None:
    version = values.get(UNTOLD) or 1
    tx.put_back(kind, row_id, values)
    # A form that was filled from an older state of the row must go on to be told of it.
    name = next(each for each in values if each not in ("id", UNTOLD))
    for _ in range(1, version):
        tx.amend(kind, row_id, **{name: values[name]})


def _must_fit(session: Session, entry: WrittenEntry, values: Mapping[str, Any]) -> None:
    table = _table(entry.noun)
    for name, value in values.items():
        for key in table.c[name].foreign_keys:
            referred = key.column.table
            query = select(referred.c.id).where(referred.c.id == value)
            if value is not None and session.execute(query).scalar_one_or_none() is None:
                said = f"{noun_words(entry.noun)} {entry.row_id}"
                detail = phrase(
                    "{said}: its {noun} {value} was removed since.",
                    said=said,
                    noun=noun_words(referred.name),
                    value=value,
                )
                raise EntryFault("It can't be put back", detail, "Put it where it belongs by hand.")
    held = session.execute(select(*table.columns).where(table.c.id == entry.row_id)).one_or_none()
    whole = {**(held._asdict() if held is not None else {}), **values}
    for each in table.constraints:
        if not isinstance(each, UniqueConstraint):
            continue
        same = [column == whole[column.name] for column in each.columns]
        other = session.execute(select(table.c.id).where(*same, table.c.id != entry.row_id)).first()
        if other is not None:
            named = values.get("reference") or " ".join(
                str(whole[each]) for each in ("number", "name") if whole.get(each)
            )
            detail = phrase(
                '{noun} {id} is called "{named}" now.', noun=noun_words(entry.noun), id=other.id, named=named
            )
            raise EntryFault("Its name was given to another", detail, "Rename that one first.")
