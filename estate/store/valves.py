"""Valve bodies and where they are and were fitted."""

from collections.abc import Mapping
from dataclasses import fields
from datetime import date
from math import isfinite
from typing import Any, TypedDict, Unpack

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from estate.domain.phrases import phrase
from estate.domain.valves import EnType, Fitting, ModelLimits, SchemeClass, Valve
from estate.errors import EntryFault, NotFoundFault
from estate.store.records import VALVE_COLUMNS, valve_of, valve_values
from estate.store.schema import FittingRow, OutletRow, ValveRow
from estate.store.transaction import Transaction


class ValveFields(TypedDict, total=False):
    """Fields of a valve that may be amended."""

    make: str
    model: str
    serial: str
    scheme_class: SchemeClass | None
    en_type: EnType | None
    designations: tuple[str, ...]
    size_mm: float | None
    set_c: float | None
    check_valves: bool | None
    strainers: bool | None
    isolating_valves: bool | None
    limits: ModelLimits


def valves(session: Session) -> dict[int, Valve]:
    """Every valve body by id."""
    columns = ValveRow.__table__.c
    query = select(*(columns[name] for name in VALVE_COLUMNS)).order_by(ValveRow.id)
    return {row[0]: valve_of(row) for row in session.execute(query)}


def fittings(session: Session) -> tuple[Fitting, ...]:
    """Every fitting: by position, oldest first (an unknown day of fitting counts as oldest)."""
    query = select(
        FittingRow.valve_id,
        FittingRow.position_id,
        FittingRow.fitted_on,
        FittingRow.removed_on,
        FittingRow.id,
    )
    rows = sorted(session.execute(query), key=lambda row: (row[1], row[2] or date.min, row[4]))
    return tuple(Fitting(*row[:4]) for row in rows)


def fittings_by_id(session: Session) -> dict[int, Fitting]:
    """Every fitting by the id of its row, in the order in which they were recorded."""
    columns = (FittingRow.valve_id, FittingRow.position_id, FittingRow.fitted_on, FittingRow.removed_on)
    query = select(FittingRow.id, *columns).order_by(FittingRow.id)
    return {row.id: Fitting(*row[1:]) for row in session.execute(query)}


def add_valve(tx: Transaction, valve: Valve) -> int:
    """Add a valve body; its own id is not used.

    Returns:
        The id it was given.

    Raises:
        EntryFault: a figure is not a figure.
    """
    values = valve_values({each.name: getattr(valve, each.name) for each in fields(valve)})
    check_figures(values)
    valve_id = tx.insert(ValveRow(**values))
    tx.touch(valves=[valve_id])
    return valve_id


def amend_valve(tx: Transaction, valve_id: int, **amended: Unpack[ValveFields]) -> None:
    """Change fields of a valve body.

    Raises:
        EntryFault: a figure is not a figure.
    """
    changed = valve_values(amended)
    check_figures(changed)
    tx.amend(ValveRow, valve_id, **changed)
    tx.touch(valves=[valve_id])


def check_figures(values: Mapping[str, Any]) -> None:
    """Refuse what is no figure.

    Raises:
        EntryFault: a value is infinite or no number.
    """
    for name, value in values.items():
        if isinstance(value, float) and not isfinite(value):
            raise EntryFault("That is not a figure", f"{name} {value}.", "Give a figure or leave it empty.")


def fit(tx: Transaction, valve_id: int, position_id: int, on: date | None) -> int:
    """Fit a valve body at a position.

    Args:
        on: day of fitting; None if it is not known.

    Returns:
        The id of the fitting.

    Raises:
        EntryFault: the body or the position is taken on or after that day.
    """
    asked = or_(FittingRow.valve_id == valve_id, FittingRow.position_id == position_id)
    query = select(FittingRow.valve_id, FittingRow.removed_on).where(asked)
    for other, removed_on in tx.session.execute(query):
        if removed_on is None or on is None or removed_on > on:
            raise _taken(other == valve_id, on, removed_on)
    fitting_id = tx.insert(FittingRow(valve_id=valve_id, position_id=position_id, fitted_on=on))
    _touch(tx, valve_id, position_id)
    return fitting_id


def _taken(same_valve: bool, on: date | None, removed_on: date | None) -> EntryFault:
    what = phrase("this valve is") if same_valve else phrase("another valve is")
    until = (
        phrase("until {removed_on:%d %b %Y}", removed_on=removed_on)
        if removed_on
        else phrase("and was not removed")
    )
    day = f"{on:%d %b %Y}" if on else phrase("day not known")
    remedy = phrase("Record when that valve was removed, or give a day of fitting that is not earlier.")
    return EntryFault(
        "The valve can't be fitted there",
        phrase("fitting, {day}: {what} in place {until}.", day=day, what=what, until=until),
        remedy,
    )


def remove(tx: Transaction, valve_id: int, position_id: int, on: date) -> None:
    """Record that a valve body was removed from its position; the day belongs to its successor.

    Raises:
        NotFoundFault: the body is not in place there.
        EntryFault: the day is before it was fitted.
    """
    query = select(FittingRow.id, FittingRow.fitted_on).where(
        FittingRow.valve_id == valve_id,
        FittingRow.position_id == position_id,
        FittingRow.removed_on.is_(None),
    )
    row = tx.session.execute(query).one_or_none()
    if row is None:
        detail = phrase(
            "valve {valve_id} is not in place at position {position_id}.",
            valve_id=valve_id,
            position_id=position_id,
        )
        raise NotFoundFault("No valve to remove", detail, "Read the register afresh.")
    if row.fitted_on is not None and on < row.fitted_on:
        detail = phrase("removed {on:%d %b %Y}, fitted {fitted_on:%d %b %Y}.", on=on, fitted_on=row.fitted_on)
        raise EntryFault("Removed before it was fitted", detail, "Give the day of fitting or a later one.")
    tx.amend(FittingRow, row.id, removed_on=on)
    _touch(tx, valve_id, position_id)


def outlets_served(session: Session, valve_id: int) -> tuple[int, ...]:
    """Ids of the outlets at the positions where a body is or was."""
    query = select(OutletRow.id).join(FittingRow, FittingRow.position_id == OutletRow.position_id)
    return tuple(session.execute(query.where(FittingRow.valve_id == valve_id).distinct()).scalars())


def _touch(tx: Transaction, valve_id: int, position_id: int) -> None:
    query = select(OutletRow.id).where(OutletRow.position_id == position_id)
    tx.touch(valves=[valve_id], outlets=tx.session.execute(query).scalars())
