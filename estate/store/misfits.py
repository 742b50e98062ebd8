"""Misfits in words: which row, of which outlet and day, and what it means that it does not fit."""

from collections.abc import Iterable, Mapping
from typing import Any, Final

from sqlalchemy import text
from sqlalchemy.exc import DBAPIError
from sqlalchemy.orm import Session

from estate.domain.trust import Misfit
from estate.store.columns import Row

PAST_PROGRAM: Final = "It was changed past the program; do not rely on it before it is cleared up."
_SHOWN = 4


def named(session: Session, noun: str, row_id: object, values: Mapping[str, Any]) -> str:
    """A row in words.

    Args:
        values: what is known of the row, from the table or from the ledger.
    """
    said = f"{noun.replace('_', ' ')} {row_id}"
    around = _outlet_and_day(session, noun, row_id, values)
    return f"{said} ({around})" if around else said


def _outlet_and_day(session: Session, noun: str, row_id: object, values: Mapping[str, Any]) -> str:
    if noun == "outlet":
        return f"outlet {values['reference']}" if values.get("reference") else ""
    if noun == "finding" and values.get("judgement_id"):
        query = "SELECT visit_id FROM judgement WHERE id = :id"
        return _of_visit(session, _first(session, query, values["judgement_id"]))
    if values.get("visit_id") is not None:
        return _of_visit(session, values["visit_id"])
    day = values.get("visited_on") or values.get("attempted_on") or ""
    reference = _reference(session, values.get("outlet_id"))
    return ", ".join(str(each) for each in (reference, day) if each)


def _of_visit(session: Session, visit_id: object) -> str:
    outlet_id = _first(session, "SELECT outlet_id FROM visit WHERE id = :id", visit_id)
    day = _first(session, "SELECT visited_on FROM visit WHERE id = :id", visit_id)
    reference = _reference(session, outlet_id)
    told = ", ".join(str(each) for each in (reference, day) if each)
    return f"visit {visit_id}, {told}" if told else f"visit {visit_id}"


def _reference(session: Session, outlet_id: object) -> str:
    found = _first(session, "SELECT reference FROM outlet WHERE id = :id", outlet_id)
    return f"outlet {found}" if found else ""


def _first(session: Session, query: str, row_id: object) -> object:
    if not isinstance(row_id, int):
        return None
    try:
        return session.execute(text(query), {"id": row_id}).scalar()
    except DBAPIError:
        return None  # the place is damaged too; its number has to do


def altered(
    session: Session, noun: str, row_id: object, entry_id: int | None, changes: Iterable[tuple[str, Any, Any]]
) -> Misfit:
    """A row whose values are others than the ledger tells: columns, values told and values there."""
    listed = list(changes)
    told = [f"{name} is {_shown(there)}, the ledger tells {_shown(was)}" for name, was, there in listed]
    more = [f"{len(listed) - _SHOWN} more columns"] if len(listed) > _SHOWN else []
    values = _held(session, noun, row_id)
    place = named(session, noun, row_id, values)
    return _misfit(noun, row_id, entry_id, place, "; ".join(told[:_SHOWN] + more), PAST_PROGRAM)


def differing(expected: Mapping[str, Any], there: Mapping[str, Any]) -> list[tuple[str, Any, Any]]:
    """Columns with what they should hold and what they do."""
    names = sorted(expected.keys() | there.keys())
    pairs = [(name, expected.get(name), there.get(name)) for name in names]
    return [each for each in pairs if each[1] != each[2]]


def missing(
    session: Session, noun: str, row_id: int, entry_id: int | None, told: Mapping[str, Any]
) -> Misfit:
    """A row that the ledger tells of and that is not there."""
    place = named(session, noun, row_id, told)
    means = "It was taken out past the program; a backup may still hold it."
    return _misfit(noun, row_id, entry_id, place, "the row is not there", means)


def extra(session: Session, noun: str, row_id: object, values: Mapping[str, Any]) -> Misfit:
    """A row that the ledger does not tell of."""
    place = named(session, noun, row_id, values)
    means = "It was put in past the program; do not rely on it."
    return _misfit(noun, row_id, None, place, "the ledger tells of no such row", means)


def entry_misfit(entry_id: object, what: str, means: str) -> Misfit:
    """Something wrong with an entry of the ledger."""
    return _misfit("ledger_entry", entry_id, entry_id, f"ledger entry {entry_id}", what, means)


def unchained() -> Misfit:
    """No entry of the ledger is chained, though every register is made or brought up to date with a trail."""
    means = "Its digests were wiped past the program; go on from a backup whose trail is whole."
    return register_misfit("none of its entries has a digest", means, "the ledger")


def register_misfit(what: str, means: str, place: str = "the register") -> Misfit:
    """Something wrong with the register as a whole."""
    return Misfit("", None, None, place, what, means)


def _misfit(noun: str, row_id: object, entry_id: object, place: str, what: str, means: str) -> Misfit:
    numbers = [each if isinstance(each, int) else None for each in (row_id, entry_id)]
    return Misfit(noun, numbers[0], numbers[1], place, what, means)


def _held(session: Session, noun: str, row_id: object) -> Mapping[str, Any]:
    table = Row.metadata.tables[noun]
    wanted = [name for name in _TELLING if name in table.c]
    if not wanted or not isinstance(row_id, int):
        return {}
    columns = ", ".join(wanted)
    query = text(f"SELECT {columns} FROM {noun} WHERE id = :id")
    try:
        row = session.execute(query, {"id": row_id}).one_or_none()
    except DBAPIError:
        return {}
    return {} if row is None else dict(row._mapping)


_TELLING: Final = ("reference", "outlet_id", "visited_on", "attempted_on", "visit_id", "judgement_id")


def _shown(value: object) -> str:
    if value is None:
        return "empty"
    said = str(value)
    return f"{said[:60]}…" if len(said) > 60 else said
