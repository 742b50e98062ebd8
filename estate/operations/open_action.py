"""Open an action by hand, or for every fault that stands; ask for commissioning after a replacement."""

from collections.abc import Collection
from datetime import date, datetime

from estate.domain.changes import ChangeSet
from estate.domain.dates import day_words
from estate.domain.findings import Severity
from estate.domain.life.actions import ActionDraft, ActionKind, EventDraft, Step
from estate.domain.life.policy import target_day
from estate.domain.phrases import phrase
from estate.domain.places import Outlet
from estate.errors import EntryFault
from estate.operations.follow_faults import follow_faults
from estate.operations.register import Register
from estate.operations.rulebook import read_rulebook
from estate.store import actions, places, valves
from estate.store.database import Session
from estate.store.retrying import retried
from estate.store.transaction import Transaction, writing

COMMISSION = "Commission the new valve before the outlet is used (D08-50..64)."


@retried
def open_action(
    register: Register,
    outlet_id: int,
    *,
    words: str,
    severity: Severity = Severity.PUT_RIGHT,
    asks_retest: bool = False,
    owner: str = "",
    on: date,
    target_on: date | None = None,
    who: str,
    at: datetime,
) -> tuple[int, ChangeSet]:
    """Open an action that no finding asks for.

    Args:
        register: the open register.
        outlet_id: where.
        words: what must be done.
        severity: sets the target date by the policy in force there.
        asks_retest: whether it is done only when a later visit found the valve in order.
        owner: who does it; may stay empty.
        on: the day it was seen.
        target_on: another target date than the policy's.
        who: who opens it.
        at: now, UTC.

    Returns:
        The action's id and what changed.

    Raises:
        EntryFault: nothing is said, or the day lies ahead, or the target before it.
        NotFoundFault: there is no such outlet.
    """
    _check(words, on, target_on, at)
    with writing(register.database, who, "opened an action", at) as tx:
        outlet = places.outlet(tx.session, outlet_id)
        draft = ActionDraft(
            outlet_id=outlet_id,
            kind=ActionKind.WORK,
            severity=severity,
            words=words.strip(),
            found_on=on,
            asks_retest=asks_retest,
            valve_id=_in_place(tx.session, outlet),
            target_on=target_on or _target(tx.session, register, outlet, severity, on),
            owner=owner.strip(),
        )
        (action_id,) = actions.add_actions(tx, [draft])
    return action_id, tx.changes


def _check(words: str, on: date, target_on: date | None, at: datetime) -> None:
    if not words.strip():
        raise EntryFault("Nothing is said", "An action tells what must be done.", "Say it in a few words.")
    if on > at.astimezone().date():
        raise EntryFault("The day lies ahead", f"{day_words(on)}.", "Give the day on which it was seen.")
    if target_on is not None and target_on < on:
        detail = phrase(
            "Seen on {day}, to be done by {target}.",
            day=day_words(on),
            target=day_words(target_on),
        )
        raise EntryFault("The target comes before it was seen", detail, "Correct one of the two days.")


def _target(
    session: Session, register: Register, outlet: Outlet, severity: Severity, on: date
) -> date | None:
    return target_day(read_rulebook(session, register.published).at_outlet(outlet), severity, on)


def _in_place(session: Session, outlet: Outlet) -> int | None:
    there = [each for each in valves.fittings(session) if each.position_id == outlet.position_id]
    return next((each.valve_id for each in there if each.removed_on is None), None)


@retried
def open_for_standing(register: Register, *, who: str, at: datetime) -> tuple[int, ChangeSet]:
    """Open an action for every fault that stands and has none.

    A register from before there were actions has none for its old faults; later ones open theirs by
    themselves.

    Returns:
        How many were opened, and what changed.
    """
    with writing(register.database, who, "opened actions for faults that stand", at) as tx:
        before = len(actions.actions(tx.session))
        follow_faults(tx, register, valves.valves(tx.session).keys())
        opened = len(actions.actions(tx.session)) - before
    return opened, tx.changes


def ask_for_commissioning(
    tx: Transaction, register: Register, outlet: Outlet, valve_id: int, removed: Collection[int], on: date
) -> None:
    """After a replacement: actions about the old bodies end, one asks for the new one's commissioning.

    Args:
        tx: the transaction of the replacement.
        register: the open register.
        outlet: where.
        valve_id: the new body.
        removed: the bodies taken out.
        on: the day of the work.
    """
    draft = ActionDraft(
        outlet_id=outlet.id,
        kind=ActionKind.COMMISSIONING,
        severity=Severity.OUT_OF_USE,
        words=COMMISSION,
        found_on=on,
        asks_retest=True,
        valve_id=valve_id,
        target_on=_target(tx.session, register, outlet, Severity.OUT_OF_USE, on),
    )
    (action_id,) = actions.add_actions(tx, [draft])
    why = (
        f"The body was taken out on {day_words(on)}; action {action_id} asks for the new one's commissioning."
    )
    live = [
        each.id
        for group in actions.actions_of_valves(tx.session, removed).values()
        for each in group
        if each.state.live and each.opening.kind is not ActionKind.WORK
    ]
    done = max(on, tx.at.date())
    actions.add_events(tx, [(each, EventDraft(Step.CANCEL, done, why, by_itself=True)) for each in live])
