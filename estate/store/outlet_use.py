"""Outlets taken out of use and put back: added, never changed."""

from collections import defaultdict
from collections.abc import Collection

from sqlalchemy import select
from sqlalchemy.orm import Session

from estate.domain.life.outlet_use import UseDraft, UseEvent, UseStep
from estate.store.life_schema import OutletEventRow
from estate.store.transaction import Transaction


def use_events(
    session: Session, outlet_ids: Collection[int] | None = None
) -> dict[int, tuple[UseEvent, ...]]:
    """What was done about the use of outlets, oldest first, by the outlet's id.

    Args:
        outlet_ids: outlets asked for, at most a few hundred; None gives all.
    """
    query = select(OutletEventRow).order_by(OutletEventRow.id)
    if outlet_ids is not None:
        query = query.where(OutletEventRow.outlet_id.in_(sorted(outlet_ids)))
    found: defaultdict[int, list[UseEvent]] = defaultdict(list)
    for row in session.scalars(query):
        draft = UseDraft(
            step=UseStep(row.kind),
            on=row.done_on,
            why=row.why,
            who_told=row.who_told,
            sign_placed=row.sign_placed,
            action_id=row.action_id,
            visit_id=row.visit_id,
        )
        found[row.outlet_id].append(UseEvent(row.id, row.outlet_id, draft, row.who, row.at))
    return {outlet_id: tuple(events) for outlet_id, events in found.items()}


def add_use_event(tx: Transaction, outlet_id: int, draft: UseDraft) -> int:
    """Add a change of an outlet's use; returns its id."""
    tx.touch(outlets=[outlet_id])
    row = OutletEventRow(
        outlet_id=outlet_id,
        kind=draft.step.value,
        done_on=draft.on,
        at=tx.at,
        who=tx.who,
        who_told=draft.who_told.strip(),
        sign_placed=draft.sign_placed,
        why=draft.why.strip(),
        action_id=draft.action_id,
        visit_id=draft.visit_id,
    )
    return tx.insert(row)
