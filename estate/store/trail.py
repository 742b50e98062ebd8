"""The ledger as people ask for it: newest first, by person, day, words, or what an entry is about."""

from collections.abc import Iterable, Iterator
from datetime import UTC, date, datetime, time, timedelta
from typing import Any, Final

from sqlalchemy import ColumnElement, and_, false, func, or_, select
from sqlalchemy.orm import Session

from estate.domain.trail import TrailLine, TrailPage, TrailWanted
from estate.store.covering import read_cover
from estate.store.ledger import LedgerEntry
from estate.store.schema import FittingRow, LedgerEntryRow, OutletRow
from estate.store.trail_rows import MANY, Places, changes_of, told_of
from estate.store.trust_schema import SignatureRow
from estate.store.visit_schema import AttemptRow, AttemptVoidRow, JudgementRow, VisitRow, VisitVoidRow

_MOST_OUTLETS: Final = 20
_SEARCHED: Final = (
    LedgerEntryRow.who,
    LedgerEntryRow.what,
    LedgerEntryRow.why,
    LedgerEntryRow.program,
    LedgerEntryRow.before,
    LedgerEntryRow.after,
)
Rows = dict[str, set[int]]
"""Ids by table."""


def page(session: Session, wanted: TrailWanted, below: int | None, most: int) -> TrailPage:
    """Entries, newest first.

    Args:
        below: only entries older than this one; None begins with the newest.
        most: how many at the most.
    """
    query = select(*LedgerEntryRow.__table__.columns).where(*_conditions(session, wanted))
    if below is not None:
        query = query.where(LedgerEntryRow.id < below)
    rows = session.execute(query.order_by(LedgerEntryRow.id.desc()).limit(most + 1)).all()
    entries = [LedgerEntry(**row._mapping) for row in rows[:most]]
    places = Places(session, entries)
    lines = tuple(_line(each, places) for each in entries)
    return TrailPage(lines, lines[-1].id if len(rows) > most else None)


def how_many(session: Session, wanted: TrailWanted) -> int:
    """How many entries are wanted."""
    query = select(func.count()).select_from(LedgerEntryRow)
    return session.execute(query.where(*_conditions(session, wanted))).scalar_one()


def people(session: Session) -> tuple[str, ...]:
    """Everybody who wrote an entry, in the order of the alphabet."""
    found = session.execute(select(LedgerEntryRow.who).distinct()).scalars()
    return tuple(sorted((each for each in found if each), key=str.casefold))


def _line(entry: LedgerEntry, places: Places) -> TrailLine:
    before, after = told_of(entry)
    return TrailLine(
        id=entry.id,
        at=entry.at,
        local_at=_local(entry.local_at),
        who=entry.who,
        program=entry.program,
        batch_id=entry.batch_id,
        what=entry.what,
        noun=entry.noun,
        row_id=entry.row_id,
        place=places.words(entry),
        action=entry.action,
        changes=changes_of(before, after, entry.action in MANY and entry.row_id is None),
        why=entry.why,
        digest=entry.digest,
    )


def _local(told: str) -> datetime | None:
    try:
        return datetime.fromisoformat(told) if told else None
    except ValueError:
        return None


def _conditions(session: Session, wanted: TrailWanted) -> Iterator[ColumnElement[bool]]:
    if wanted.who:
        yield LedgerEntryRow.who == wanted.who
    if wanted.first is not None:
        yield _since(wanted.first)
    if wanted.last is not None:
        yield ~_since(wanted.last + timedelta(days=1))
    for word in wanted.text.split():
        yield or_(*(each.icontains(word, autoescape=True) for each in _SEARCHED), _about_named(session, word))
    if wanted.about is not None:
        yield _about(session, _hanging_on(session, *wanted.about))


def _since(day: date) -> ColumnElement[bool]:
    """Made on a day or later, by the clock on the wall; by UTC where an old entry does not tell it."""
    midnight = datetime.combine(day, time(), UTC)
    untold, local = LedgerEntryRow.local_at == "", func.substr(LedgerEntryRow.local_at, 1, 10)
    return or_(and_(untold, LedgerEntryRow.at >= midnight), and_(~untold, local >= day.isoformat()))


def _about_named(session: Session, word: str) -> ColumnElement[bool]:
    """What is about the outlets whose reference has a word in it; nothing where that says too little."""
    query = select(OutletRow.id).where(OutletRow.reference.icontains(word, autoescape=True))
    found = session.execute(query.limit(_MOST_OUTLETS + 1)).scalars().all()
    if not found or len(found) > _MOST_OUTLETS:
        return false()
    return _about(session, _of_outlets(session, found))


def _hanging_on(session: Session, noun: str, row_id: int) -> Rows:
    if noun == "outlet":
        return _of_outlets(session, [row_id])
    if noun == "visit":
        return _of_visits(session, {row_id})
    return {noun: {row_id}}


def _of_visits(session: Session, visits: set[int]) -> Rows:
    """Visits, what corrects them, their voids, judgements and signatures."""
    every = visits | _ids(session, VisitRow.id, VisitRow.corrects.in_(visits))
    signed = and_(SignatureRow.noun == "visit", SignatureRow.row_id.in_(every))
    return {
        "visit": every,
        "visit_void": _ids(session, VisitVoidRow.id, VisitVoidRow.visit_id.in_(every)),
        "judgement": _ids(session, JudgementRow.id, JudgementRow.visit_id.in_(every)),
        "signature": _ids(session, SignatureRow.id, signed),
    }


def _of_outlets(session: Session, outlets: Iterable[int]) -> Rows:
    """Outlets, their valves' positions, valves, attempts and visits."""
    held = set(outlets)
    positions = _ids(session, OutletRow.position_id, OutletRow.id.in_(held))
    fitted = FittingRow.position_id.in_(positions)
    attempts = _ids(session, AttemptRow.id, AttemptRow.outlet_id.in_(held))
    return {
        "outlet": held,
        "position": positions,
        "fitting": _ids(session, FittingRow.id, fitted),
        "valve": _ids(session, FittingRow.valve_id, fitted),
        "attempt": attempts,
        "attempt_void": _ids(session, AttemptVoidRow.id, AttemptVoidRow.attempt_id.in_(attempts)),
        **_of_visits(session, _ids(session, VisitRow.id, VisitRow.outlet_id.in_(held))),
    }


def _ids(session: Session, column: Any, condition: ColumnElement[bool]) -> set[int]:
    return set(session.execute(select(column).where(condition)).scalars())


def _about(session: Session, rows: Rows) -> ColumnElement[bool]:
    """Entries of some rows, those that tell of several at once too."""
    known = {noun: ids for noun, ids in rows.items() if ids}
    own = [
        and_(LedgerEntryRow.noun == noun, LedgerEntryRow.row_id.in_(sorted(ids)))
        for noun, ids in known.items()
    ]
    return or_(false(), *own, LedgerEntryRow.id.in_(sorted(_covering(session, known))))


def _covering(session: Session, rows: Rows) -> Iterator[int]:
    columns = (LedgerEntryRow.id, LedgerEntryRow.noun, LedgerEntryRow.after)
    several = LedgerEntryRow.row_id.is_(None), LedgerEntryRow.action.in_(MANY)
    query = select(*columns).where(LedgerEntryRow.noun.in_(sorted(rows)), *several)
    for number, noun, after in session.execute(query):
        try:
            cover = read_cover(after)
        except ValueError:
            continue  # verifying says so
        if any(_holds(cover.gaps, cover.first_id, cover.last_id, each) for each in rows[noun]):
            yield number


def _holds(gaps: Iterable[tuple[int, int]], first: int, last: int, row_id: int) -> bool:
    return first <= row_id <= last and not any(one <= row_id <= other for one, other in gaps)
