"""Whether anything belongs to a place or ever did, and taking away one to which nothing does."""

import json
from collections import Counter
from collections.abc import Iterator
from typing import Final

from sqlalchemy import func, or_, select
from sqlalchemy.orm import Session

from estate.domain.browsing import PlaceKind
from estate.domain.editing import Place
from estate.domain.phrases import phrase_count
from estate.store import documents
from estate.store.columns import Row
from estate.store.parting import parts
from estate.store.schema import FittingRow, LedgerEntryRow, OutletRow, PositionRow, RuleOverrideRow
from estate.store.transaction import Transaction

_BELOW: Final = {"site": "building", "building": "level", "level": "room", "room": "outlet"}
_NAMED: Final = {
    "position": ("valve position", "valve positions"),
    "outlet_event": ("change of its use", "changes of its use"),
    "outlet_review": ("review", "reviews"),
    "care": ("entry of upkeep", "entries of upkeep"),
}
"""Tables in words, for one row and for several, where the table's own name does not tell."""


def held(session: Session, place: Place) -> tuple[str, ...]:
    """What belongs to a place or once did, in words; nothing where it can be taken away.

    Args:
        session: reads.
        place: one that is there.
    """
    kind, place_id = place
    found = [*_referring(session, kind.value, place_id), *_ruled(session, kind.value, place_id)]
    if kind is PlaceKind.OUTLET:
        found += _fitted(session, place_id)
    elif not found:
        found += _once(session, kind.value, place_id)
    return tuple(found)


def _referring(session: Session, noun: str, row_id: int) -> Iterator[str]:
    counted: Counter[str] = Counter()
    for table in Row.metadata.sorted_tables:
        for key in table.foreign_keys:
            if key.column.table.name == noun:
                query = select(func.count()).select_from(table).where(key.parent == row_id)
                counted[table.name] += session.execute(query).scalar_one()
    counted["document"] += sum(1 for _ in documents.owners_with_documents(session, noun, [row_id]))
    for name, count in counted.items():
        if count and not (noun == "room" and name == "position" and counted["outlet"]):
            yield f"{count} {_words(name, count)}"


def _words(table: str, count: int) -> str:
    said = table.replace("_", " ")
    return _NAMED.get(table, (said, f"{said}s"))[count > 1]


def _ruled(session: Session, noun: str, row_id: int) -> Iterator[str]:
    query = select(func.count()).select_from(RuleOverrideRow)
    count = session.execute(query.where(RuleOverrideRow.place == f"{noun}:{row_id}")).scalar_one()
    if count:
        yield phrase_count(count, "{n} value of its own", "{n} values of its own")


def _fitted(session: Session, outlet_id: int) -> Iterator[str]:
    position = select(OutletRow.position_id).where(OutletRow.id == outlet_id).scalar_subquery()
    query = select(func.count()).select_from(FittingRow).where(FittingRow.position_id == position)
    count = session.execute(query).scalar_one()
    if count:
        yield phrase_count(
            count, "{n} valve fitted there, now or once", "{n} valves fitted there, now or once"
        )


def _once(session: Session, noun: str, row_id: int) -> Iterator[str]:
    """What lay there once and lies elsewhere now, as the trail tells it."""
    below, column = _BELOW[noun], f"{noun}_id"
    told = [
        each.contains(f'"{column}":{row_id}{end}', autoescape=True)
        for each in (LedgerEntryRow.before, LedgerEntryRow.after)
        for end in (",", "}")
    ]
    query = select(LedgerEntryRow.row_id, LedgerEntryRow.after)
    lay: set[int] = set()
    for number, after in session.execute(query.where(LedgerEntryRow.noun == below, or_(*told))):
        stood = json.loads(after)["rows"] if number is None else [{"id": number, column: row_id}]
        lay |= {each["id"] for each in stood if each.get(column) == row_id}
    table = Row.metadata.tables[below]
    there = [session.execute(select(table.c.id).where(table.c.id.in_(part))).all() for part in parts(lay)]
    if count := sum(len(each) for each in there):
        yield f"{count} {_words(below, count)} lay there once"


def remove_outlet(tx: Transaction, outlet_id: int) -> None:
    """Take an outlet away to which nothing belongs, and its valve's position where it served no other."""
    query = select(OutletRow.position_id).where(OutletRow.id == outlet_id)
    position_id = tx.session.execute(query).scalar_one()
    tx.remove(OutletRow, outlet_id)
    others = select(func.count()).select_from(OutletRow).where(OutletRow.position_id == position_id)
    if not tx.session.execute(others).scalar_one():
        tx.remove(PositionRow, position_id)
