"""Visits: added, corrected by a later entry, voided with a reason; never changed."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from math import isfinite
from types import MappingProxyType
from typing import Any, Final

from sqlalchemy import ColumnElement, or_, select
from sqlalchemy.orm import Session

from estate.domain.phrases import phrase
from estate.domain.visits import Standing, Visit, VisitDraft
from estate.errors import EntryFault, NotFoundFault
from estate.store.parting import parts
from estate.store.records import reading_columns, readings_row, source_row
from estate.store.transaction import Transaction
from estate.store.visit_records import VISIT_COLUMNS, uncollected, visit_query, visits_of
from estate.store.visit_schema import VisitRow, VisitVoidRow
from estate.store.visit_steps import add_steps, with_steps

NOTHING_CORRECTED: Final = MappingProxyType[int, int]({})


def visits(
    session: Session, valve_ids: Collection[int] | None = None, *, sources: bool = True
) -> tuple[Visit, ...]:
    """Visits by valve, day and id; void and corrected ones too, each with its standing.

    Args:
        valve_ids: bodies asked for; None gives all.
        sources: False leaves the cells of the sheet unread, which is faster.
    """
    if valve_ids is None:
        return tuple(_found(session, (), sources))
    return tuple(
        visit
        for part in parts(valve_ids)
        for visit in _found(session, [VisitRow.valve_id.in_(part)], sources)
    )


def visit(session: Session, visit_id: int) -> Visit:
    """One visit.

    Raises:
        NotFoundFault: there is none with this id.
    """
    found = _found(session, [VisitRow.id == visit_id], True)
    if not found:
        raise NotFoundFault(
            "No such visit", phrase("visit {visit_id}.", visit_id=visit_id), "Read the register afresh."
        )
    return found[0]


def people(session: Session) -> tuple[str, ...]:
    """Names of those who made visits, in order of the alphabet."""
    query = select(VisitRow.person).where(VisitRow.person != "").distinct()
    return tuple(sorted(session.execute(query).scalars()))


def _found(session: Session, where: Iterable[ColumnElement[bool]], sources: bool) -> list[Visit]:
    query = visit_query(sources).where(*where)
    voids = session.execute(select(VisitVoidRow.visit_id, VisitVoidRow.reason))
    reasons = {row.visit_id: row.reason for row in voids}
    corrected = _corrected(session)
    with uncollected():
        found = visits_of(session.execute(query).all(), reasons, corrected, sources)
    return with_steps(session, found)


def _corrected(session: Session) -> frozenset[int]:
    # A void correction corrects nothing: the entry before it counts again.
    query = select(VisitRow.corrects).where(VisitRow.corrects.is_not(None))
    query = query.where(VisitRow.id.not_in(select(VisitVoidRow.visit_id)))
    return frozenset(found for found in session.execute(query).scalars() if found is not None)


def add_visit(
    tx: Transaction, draft: VisitDraft, batch_id: int | None = None, corrects: int | None = None
) -> Visit:
    """Add a visit.

    Args:
        draft: what was measured and by whom.
        batch_id: the batch it came in.
        corrects: id of the entry it corrects; that one no longer counts.

    Raises:
        EntryFault: a measured value is no number, or the entry to correct does not count any more.
        NotFoundFault: there is no entry to correct.
    """
    if corrects is not None:
        _must_count(tx.session, corrects)
    added = _add(tx, [draft], batch_id, {} if corrects is None else {0: corrects})[0]
    if corrects is not None:
        _touch(tx, visit(tx.session, corrects))
    return added


def add_visits(
    tx: Transaction,
    drafts: Sequence[VisitDraft],
    batch_id: int | None,
    corrects: Mapping[int, int] = NOTHING_CORRECTED,
) -> tuple[Visit, ...]:
    """Add the visits of a batch, fast.

    Args:
        corrects: ids of the entries that some drafts correct, by the place of the draft in `drafts`; those
            entries no longer count.

    Returns:
        The visits in the order of `drafts`.

    Raises:
        EntryFault: a measured value is no number, or an entry to correct does not count any more.
        NotFoundFault: there is no entry to correct.
    """
    tx.touch(everything=bool(drafts))
    if len(set(corrects.values())) < len(corrects):
        detail = phrase("visits {sorted}.", sorted=sorted(corrects.values()))
        raise EntryFault("An entry would be corrected twice", detail, "Keep one of the corrections.")
    for visit_id in corrects.values():
        _touch(tx, _must_count(tx.session, visit_id))
    return _add(tx, drafts, batch_id, corrects)


def _add(
    tx: Transaction, drafts: Sequence[VisitDraft], batch_id: int | None, corrects: Mapping[int, int]
) -> tuple[Visit, ...]:
    entry = (tx.at, tx.who, batch_id)
    rows = [
        (*_values(draft), *entry, corrects.get(place), *source_row(draft.source))
        for place, draft in enumerate(drafts)
    ]
    ids = tx.insert_rows(VisitRow, VISIT_COLUMNS[1:], rows, each=True)
    add_steps(
        tx, [(visit_id, draft.steps) for visit_id, draft in zip(ids, drafts, strict=True) if draft.steps]
    )
    tx.touch(
        outlets=[draft.outlet_id for draft in drafts],
        valves=[draft.valve_id for draft in drafts],
        visits=ids,
    )
    return tuple(
        Visit(visit_id, draft, tx.at, tx.who, batch_id, corrects=corrects.get(place))
        for place, (visit_id, draft) in enumerate(zip(ids, drafts, strict=True))
    )


def _values(draft: VisitDraft) -> tuple[Any, ...]:
    """What was measured and by whom, in the order of `VISIT_COLUMNS`."""
    readings = readings_row(draft.readings)
    if not isfinite(sum(filter(None, readings))):
        _must_be_figures(readings)
    said = (draft.person, draft.instrument_id, draft.instrument_words, draft.remarks)
    body = (draft.valve_id, draft.outlet_id, draft.kind.value, draft.on)
    return (*body, *said, *readings)


def _must_be_figures(readings: Sequence[Any]) -> None:
    for name, value in zip(reading_columns(), readings, strict=True):
        if type(value) is float and not isfinite(value):
            remedy = phrase("Give a figure, or leave it empty: it then counts as not tested.")
            raise EntryFault("That is not a figure", f"{name}: {value}.", remedy)


def void_visit(tx: Transaction, visit_id: int, reason: str) -> None:
    """Void a visit: it stays readable and no longer counts.

    Raises:
        EntryFault: no reason is given, or the entry is void or corrected already.
        NotFoundFault: there is no such entry.
    """
    if not reason.strip():
        raise EntryFault(
            "A reason is needed",
            phrase("visit {visit_id}.", visit_id=visit_id),
            "Say why the entry no longer counts.",
        )
    found = _must_count(tx.session, visit_id)
    tx.insert(VisitVoidRow(visit_id=visit_id, reason=reason.strip(), who=tx.who, at=tx.at))
    _touch(tx, found)
    if found.corrects is not None:
        _touch(tx, visit(tx.session, found.corrects))


def void_visits_of_batch(tx: Transaction, batch_id: int, reason: str) -> tuple[Visit, ...]:
    """Void the visits of a batch that are not void yet; entries that they corrected count again.

    Returns:
        The visits voided, as they stood.

    Raises:
        EntryFault: no reason is given.
    """
    if not reason.strip():
        raise EntryFault(
            "A reason is needed",
            phrase("batch {batch_id}.", batch_id=batch_id),
            "Say why its entries no longer count.",
        )
    found = [each for each in visits_of_batch(tx.session, batch_id) if each.standing is not Standing.VOID]
    said = {"reason": reason.strip(), "who": tx.who, "at": tx.at}
    tx.insert_many(VisitVoidRow, [{"visit_id": each.id, **said} for each in found], each=True)
    for each in found:
        _touch(tx, each)
    tx.touch(visits=[each.corrects for each in found if each.corrects is not None])
    return tuple(found)


def visits_of_batch(session: Session, batch_id: int) -> tuple[Visit, ...]:
    """The visits of a batch in the order in which they were added, void ones too."""
    found = _found(session, [VisitRow.batch_id == batch_id], True)
    return tuple(sorted(found, key=lambda each: each.id))


def correcting(session: Session, batch_id: int) -> tuple[Visit, ...]:
    """Later entries from outside a batch that correct visits of it and are not void themselves."""
    own = select(VisitRow.id).where(VisitRow.batch_id == batch_id)
    outside = or_(VisitRow.batch_id.is_(None), VisitRow.batch_id != batch_id)
    found = _found(session, [VisitRow.corrects.in_(own), outside], True)
    return tuple(each for each in found if each.standing is not Standing.VOID)


def _must_count(session: Session, visit_id: int) -> Visit:
    found = visit(session, visit_id)
    if found.standing is Standing.VOID:
        detail = phrase(
            "visit {visit_id} of {on:%d %b %Y}: {void_reason}.",
            visit_id=visit_id,
            on=found.on,
            void_reason=found.void_reason,
        )
        raise EntryFault("That entry is void already", detail, "Record the visit afresh if it was made.")
    if found.standing is Standing.CORRECTED:
        detail = phrase(
            "visit {visit_id} of {on:%d %b %Y} is corrected by a later entry.", visit_id=visit_id, on=found.on
        )
        raise EntryFault("That entry is corrected already", detail, "Correct or void the later entry.")
    return found


def _touch(tx: Transaction, changed: Visit) -> None:
    draft = changed.draft
    tx.touch(outlets=[draft.outlet_id], valves=[draft.valve_id], visits=[changed.id])
