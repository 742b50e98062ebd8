"""Entries that somebody else corrected or made void since a form was filled from them."""

from sqlalchemy import select
from sqlalchemy.orm import Session

from estate.domain.conflicts import ConflictFault, Meanwhile, Seen, draft_changes
from estate.domain.visits import Standing, Visit
from estate.store.instruments import instruments
from estate.store.visit_schema import VisitRow, VisitVoidRow
from estate.store.visits import visit

_VOID = "Somebody else made the entry void"
_CORRECTED = "Somebody else corrected the entry"
_RECORD_AFRESH = "Record the visit afresh if it was made; nothing was changed."


def must_count(session: Session, visit_id: int) -> Visit:
    """An entry that still counts.

    Raises:
        ConflictFault: it was corrected or made void: by whom, when, and the difference.
        NotFoundFault: there is no such entry.
    """
    found = visit(session, visit_id)
    if found.standing is Standing.VOID:
        raise ConflictFault(_VOID, (_voided(session, found),), None, _RECORD_AFRESH)
    if found.standing is Standing.CORRECTED:
        raise _corrected(session, found)
    return found


def _voided(session: Session, found: Visit) -> Meanwhile:
    query = select(VisitVoidRow.who, VisitVoidRow.at).where(VisitVoidRow.visit_id == found.id)
    who, at = session.execute(query).one()
    return Meanwhile(who, at, "made it void", found.void_reason)


def _corrected(session: Session, found: Visit) -> ConflictFault:
    references = {each.id: each.reference for each in instruments(session)}
    made, before = list[Meanwhile](), found
    while before.standing is Standing.CORRECTED:
        after = _correction_of(session, before.id)
        changed = draft_changes(before.draft, after.draft, references)
        made.append(Meanwhile(after.recorded_by, after.recorded_at, "corrected it", fields=changed))
        before = after
    return ConflictFault(_CORRECTED, tuple(made), Seen("visit", before.id))


def _correction_of(session: Session, visit_id: int) -> Visit:
    voided = select(VisitVoidRow.visit_id)
    query = select(VisitRow.id).where(VisitRow.corrects == visit_id, VisitRow.id.not_in(voided))
    return visit(session, session.execute(query).scalar_one())
