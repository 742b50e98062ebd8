"""Rows in the trail's words: which outlet and day an entry is about, looked up for many entries at once."""

import json
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import Any, Final

from sqlalchemy import select
from sqlalchemy.orm import Session

from estate.domain.dates import day_words
from estate.domain.trail import TrailChange, noun_words
from estate.store.ledger import LedgerEntry
from estate.store.schema import OutletRow
from estate.store.visit_schema import FindingRow, JudgementRow, VisitRow

_NAMES: Final = ("reference", "number", "name", "make", "model", "serial", "key", "file", "words", "person")
_DAYS: Final = ("visited_on", "attempted_on")
_AT_ONCE: Final = 500
MANY: Final = ("added many", "stood")
"""Actions of entries that tell of several rows under one digest, or of a whole table."""

Values = Mapping[str, Any]


def values_of(text: str) -> Values:
    """What an entry tells; nothing where it can't be read (verifying says so)."""
    try:
        told = json.loads(text) if text else {}
    except ValueError:
        return {}
    return told if isinstance(told, dict) else {}


def changes_of(before: Values, after: Values, many: bool) -> tuple[TrailChange, ...]:
    """The values that an entry tells, by the order of their names."""
    if many:
        return (TrailChange("rows", None, _text(after.get("rows"))),)
    names = sorted(before.keys() | after.keys())
    return tuple(TrailChange(each, _text(before.get(each)), _text(after.get(each))) for each in names)


def _text(value: object) -> str | None:
    if value is None:
        return None
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value if isinstance(value, str) else json.dumps(value, ensure_ascii=False)


def told_of(entry: LedgerEntry) -> tuple[Values, Values]:
    """What stood before and what after."""
    return values_of(entry.before), values_of(entry.after)


class Places:
    """Outlets and days of the rows that some entries are about."""

    def __init__(self, session: Session, entries: Sequence[LedgerEntry]) -> None:
        self._told = {each.id: {**before, **after} for each in entries for before, after in [told_of(each)]}
        own = {noun: {self._row(each) for each in entries if each.noun == noun} for noun in _LOOKED_UP}
        ids = {name: {each.get(name) for each in self._told.values()} for name in _LEADING}
        finds = _found(session, (FindingRow.id, FindingRow.judgement_id), own["finding"])
        self._judgement_of = dict(finds)
        judged = own["judgement"] | ids["judgement_id"] | set(self._judgement_of.values())
        found = _found(session, (JudgementRow.id, JudgementRow.visit_id), judged)
        self._visit_of = dict(found)
        wanted = own["visit"] | ids["visit_id"] | set(self._visit_of.values())
        visits = _found(session, (VisitRow.id, VisitRow.outlet_id, VisitRow.visited_on), wanted)
        self._visits = {number: (outlet_id, day) for number, outlet_id, day in visits}
        outlets = own["outlet"] | ids["outlet_id"] | {each for each, _ in self._visits.values()}
        references = _found(session, (OutletRow.id, OutletRow.reference), outlets)
        self._references = dict(references)

    def words(self, entry: LedgerEntry) -> str:
        """The row that an entry is about, in words."""
        told, row_id, noun = self._told[entry.id], self._row(entry), noun_words(entry.noun)
        if row_id is None:
            first, last = told.get("first_id"), told.get("last_id")
            return f"{noun} {first} to {last}" if first else noun
        around = self._around(entry.noun, row_id, told)
        said = noun if entry.noun == "register" else f"{noun} {row_id}"
        return f"{said}: {around}" if around else said

    def _row(self, entry: LedgerEntry) -> int | None:
        """The one row that an entry is about; None where it tells of several."""
        told = self._told[entry.id]
        only = told.get("first_id") if told.get("first_id") == told.get("last_id") else None
        return entry.row_id if entry.row_id is not None else only

    def _around(self, noun: str, row_id: int, told: Values) -> str:
        judgement_id = row_id if noun == "judgement" else told.get("judgement_id")
        judgement_id = self._judgement_of.get(row_id) if noun == "finding" else judgement_id
        visit_id = row_id if noun == "visit" else told.get("visit_id", self._visit_of.get(judgement_id))
        outlet_id, day = self._visits.get(visit_id, (None, None))
        outlet_id = row_id if noun == "outlet" else told.get("outlet_id", outlet_id)
        reference = self._references.get(outlet_id) or ""
        said = next((told[each] for each in _DAYS if told.get(each)), None)
        parts = [reference, day_words(day) if day is not None else _day(said)]
        if not any(parts):
            parts = [" ".join(str(told[each]) for each in _NAMES if told.get(each))]
        return ", ".join(each for each in parts if each)


_LOOKED_UP: Final = ("finding", "judgement", "visit", "outlet")
_LEADING: Final = ("visit_id", "judgement_id", "outlet_id")


def _day(told: object) -> str:
    try:
        return day_words(date.fromisoformat(str(told))) if told else ""
    except ValueError:
        return str(told)


def _found(session: Session, columns: Sequence[Any], ids: Iterable[Any]) -> list[Any]:
    """Columns of the rows with some ids, the id first."""
    wanted = sorted(each for each in ids if type(each) is int)
    found: list[Any] = []
    for start in range(0, len(wanted), _AT_ONCE):
        query = select(*columns).where(columns[0].in_(wanted[start : start + _AT_ONCE]))
        found += [tuple(each) for each in session.execute(query)]
    return found
