"""Actions and what was done about them: added, never changed."""

from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from typing import Any

from sqlalchemy import ColumnElement, select
from sqlalchemy.orm import Session

from estate.domain.findings import Severity
from estate.domain.life.actions import (
    Action,
    ActionDraft,
    ActionEvent,
    ActionKind,
    EventDraft,
    Step,
    fold,
    opened,
)
from estate.domain.phrases import phrase
from estate.errors import NotFoundFault
from estate.store.life_schema import ActionEventRow, ActionRow
from estate.store.parting import AT_ONCE, parts
from estate.store.transaction import Transaction


def actions(session: Session) -> tuple[Action, ...]:
    """Every action with what was done about it, oldest first."""
    return tuple(_folded(session, []))


def actions_of_valves(session: Session, valve_ids: Collection[int]) -> dict[int, tuple[Action, ...]]:
    """The actions about some bodies, oldest first, by the valve's id."""
    found: defaultdict[int, list[Action]] = defaultdict(list)
    for part in parts(valve_ids):
        for each in _folded(session, [ActionRow.valve_id.in_(part)]):
            if each.opening.valve_id is not None:
                found[each.opening.valve_id].append(each)
    return {valve_id: tuple(each) for valve_id, each in found.items()}


def acted_on(session: Session, valve_ids: Collection[int]) -> set[int]:
    """Those of some bodies about which there is an action."""
    query = select(ActionRow.valve_id).where(ActionRow.valve_id.is_not(None)).distinct()
    if len(valve_ids) > AT_ONCE:
        return {each for each in session.execute(query).scalars() if each is not None}.intersection(valve_ids)
    found = [
        session.execute(query.where(ActionRow.valve_id.in_(part))).scalars() for part in parts(valve_ids)
    ]
    return {each for part in found for each in part if each is not None}


def actions_at(session: Session, outlet_ids: Collection[int]) -> tuple[Action, ...]:
    """The actions at some outlets, oldest first."""
    found = [each for part in parts(outlet_ids) for each in _folded(session, [ActionRow.outlet_id.in_(part)])]
    return tuple(sorted(found, key=lambda each: each.id))


def actions_of_batch(session: Session, batch_id: int) -> tuple[Action, ...]:
    """The actions that a batch opened, oldest first."""
    return tuple(_folded(session, [ActionRow.batch_id == batch_id]))


def action(session: Session, action_id: int) -> Action:
    """One action.

    Raises:
        NotFoundFault: there is none with this id.
    """
    found = next(_folded(session, [ActionRow.id == action_id]), None)
    if found is None:
        raise NotFoundFault(
            "No such action",
            phrase("action {action_id}.", action_id=action_id),
            "Look at the list of actions.",
        )
    return found


def _folded(session: Session, where: Sequence[ColumnElement[bool]]) -> Iterator[Action]:
    rows = session.scalars(select(ActionRow).where(*where).order_by(ActionRow.id)).all()
    if not rows:
        return
    events: defaultdict[int, list[ActionEvent]] = defaultdict(list)
    wanted = select(ActionEventRow).join(ActionRow, ActionRow.id == ActionEventRow.action_id).where(*where)
    for each in session.scalars(wanted.order_by(ActionEventRow.id)):
        events[each.action_id].append(ActionEvent(each.id, _event_of(each), each.who, each.at))
    for row in rows:
        begun = opened(row.id, _draft_of(row), row.opened_by, row.opened_at, row.batch_id)
        yield fold(begun, events[row.id])


def _draft_of(row: ActionRow) -> ActionDraft:
    return ActionDraft(
        outlet_id=row.outlet_id,
        kind=ActionKind(row.kind),
        severity=Severity(row.severity),
        words=row.words,
        found_on=row.found_on,
        asks_retest=row.asks_retest,
        valve_id=row.valve_id,
        visit_id=row.visit_id,
        codes=tuple(row.codes.split()),
        stop_codes=tuple(row.stop_codes.split()),
        target_on=row.target_on,
        owner=row.owner,
    )


def _event_of(row: ActionEventRow) -> EventDraft:
    return EventDraft(
        step=Step(row.kind),
        on=row.done_on,
        why=row.why,
        by_itself=row.by_itself,
        owner=row.owner,
        target_on=row.target_on,
        visit_id=row.visit_id,
        codes=tuple(row.codes.split()),
        stop_codes=tuple(row.stop_codes.split()),
        severity=None if row.severity is None else Severity(row.severity),
    )


def add_actions(tx: Transaction, drafts: Sequence[ActionDraft], batch_id: int | None = None) -> range:
    """Open actions; returns their ids in the order of `drafts`."""
    rows = [_values(tx, draft, batch_id) for draft in drafts]
    tx.touch(
        outlets=[draft.outlet_id for draft in drafts],
        valves=[draft.valve_id for draft in drafts if draft.valve_id is not None],
    )
    return tx.insert_many(ActionRow, rows, each=True)


def _values(tx: Transaction, draft: ActionDraft, batch_id: int | None) -> dict[str, Any]:
    return {
        "outlet_id": draft.outlet_id,
        "valve_id": draft.valve_id,
        "visit_id": draft.visit_id,
        "kind": draft.kind.value,
        "severity": draft.severity.value,
        "asks_retest": draft.asks_retest,
        "codes": " ".join(draft.codes),
        "stop_codes": " ".join(draft.stop_codes),
        "words": draft.words,
        "opened_at": tx.at,
        "opened_by": tx.who,
        "found_on": draft.found_on,
        "target_on": draft.target_on,
        "owner": draft.owner,
        "batch_id": batch_id,
    }


def add_events(tx: Transaction, pairs: Sequence[tuple[int, EventDraft]]) -> range:
    """Add what was done about actions, by their ids; the outlets are for the caller to touch."""
    rows = [
        {
            "action_id": action_id,
            "kind": draft.step.value,
            "at": tx.at,
            "who": tx.who,
            "done_on": draft.on,
            "by_itself": draft.by_itself,
            "why": draft.why,
            "owner": draft.owner,
            "target_on": draft.target_on,
            "visit_id": draft.visit_id,
            "codes": " ".join(draft.codes),
            "stop_codes": " ".join(draft.stop_codes),
            "severity": None if draft.severity is None else draft.severity.value,
        }
        for action_id, draft in pairs
    ]
    return tx.insert_many(ActionEventRow, rows, each=True)
