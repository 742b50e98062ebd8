"""Take a change by hand back, exactly, unless later work rests on it.

A recorded visit is not taken back: it is made void with a reason (`record_visit.void_visit`).
"""

from collections.abc import Collection, Iterator, Sequence
from datetime import datetime
from typing import Final

from estate.domain.browsing import PlaceKind
from estate.domain.changes import ChangeSet
from estate.domain.dates import day_words
from estate.domain.editing import Written
from estate.domain.life.actions import ActionKind, EventDraft, Step
from estate.domain.life.outlet_use import OutletUse, UseDraft, UseEvent, UseStep, use_of
from estate.domain.phrases import phrase, some_of
from estate.domain.places import Outlet
from estate.domain.register import WrittenEntry
from estate.errors import EntryFault
from estate.operations.judge_last import judge_last_again
from estate.operations.register import Register
from estate.operations.resting import resting_on
from estate.operations.use_outlet import change_use, open_to
from estate.store import actions, edits, outlet_use, places, storeys
from estate.store.ledger import LedgerEntry
from estate.store.retrying import retried
from estate.store.transaction import Transaction, writing

_SHOWN: Final = 12
_BACK: Final = {UseStep.RETIRE: UseStep.TAKE_UP, UseStep.TAKE_OUT: UseStep.PUT_BACK}
_LEADING: Final = frozenset({"site_id", "building_id", "level_id", "room_id", "rule_set"})
_RENAMED: Final = frozenset({"name", "number", "reference"})


@retried
def take_back_edit(
    register: Register, written: Written, *, who: str, at: datetime, why: str = ""
) -> ChangeSet:
    """Undo a change by hand: what it added goes, what it changed or removed stands as before.

    Evidence stays. An outlet that was retired is taken up again; it is out of use first, unless it was in use
    before, was retired this very day and the rules let it be put back at once. One that was taken out of use
    is put back where the rules let it. A body that was fitted leaves its position and stays on record with
    the action that asked for its commissioning, which is cancelled. Visits are judged again where the change
    bears on them.

    Args:
        register: the open register.
        written: the first and the last entry of the change.
        who: who takes it back.
        at: now, UTC.
        why: the reason, for the ledger; empty where none was given.

    Raises:
        EntryFault: later work rests on it, it was taken back already, or it is not one change by hand.
        NotFoundFault: there is no such change.
    """
    with register.database.reading() as session:
        found = edits.entries(session, written)
    with writing(register.database, who, f"took back: {found[0].what}", at, why=why.strip()) as tx:
        if any(each.noun == "outlet_event" for each in found):
            _step_back(tx, register, found, why.strip())
        else:
            _undo(tx, register, found, why.strip())
        tx.touch(everything=True)
    return tx.changes


def _undo(tx: Transaction, register: Register, found: Sequence[LedgerEntry], why: str) -> None:
    changes = edits.changes(found)
    own = {(each.noun, each.row_id or 0) for each in found}
    _must_stand(tx, found[0].what, changes, own)
    opened = [each.row_id for each in found if (each.noun, each.action) == ("action", "added")]
    kept = _named_by(tx, [each for each in opened if each is not None])
    _cancel_commissioning(tx, [each for each in opened if each is not None], why)
    edits.undo(tx, changes, kept)
    there = [each for each in changes if each.action == "changed"]
    judge_last_again(
        tx, register, _outlets_of(tx, there), [each.row_id for each in there if each.noun == "valve"]
    )


def _must_stand(
    tx: Transaction, what: str, changes: Sequence[WrittenEntry], own: Collection[tuple[str, int]]
) -> None:
    gone = next(edits.gone(tx.session, changes), None)
    if gone is not None:
        state = phrase("is there again") if gone.action == "removed" else phrase("is not there any more")
        detail = phrase(
            "{what}: {noun} {row_id} {state}.", what=what, noun=gone.noun, row_id=gone.row_id, state=state
        )
        raise EntryFault("There is nothing to take back", detail, "Look at what is there now.")
    found = resting_on(tx.session, changes, own)
    if found:
        remedy = phrase("Take that back first where it is wrong; what was measured stays on record for good.")
        detail = phrase("{what}: {found}.", what=what, found=some_of(found, _SHOWN))
        raise EntryFault("Later work rests on this change", detail, remedy)


def _named_by(tx: Transaction, action_ids: Sequence[int]) -> set[tuple[str, int]]:
    """Bodies that actions of the change name: evidence keeps them."""
    told = [actions.action(tx.session, each).opening.valve_id for each in action_ids]
    return {("valve", each) for each in told if each is not None}


def _cancel_commissioning(tx: Transaction, action_ids: Sequence[int], why: str) -> None:
    for action_id in action_ids:
        action = actions.action(tx.session, action_id)
        if action.opening.kind is ActionKind.COMMISSIONING and action.state.live:
            said = "The fitting of the body was taken back" + (f": {why}" if why else ".")
            draft = EventDraft(Step.CANCEL, tx.at.date(), said, by_itself=True)
            actions.add_events(tx, [(action_id, draft)])
            tx.touch(outlets=[action.outlet_id])


def _outlets_of(tx: Transaction, changed: Sequence[WrittenEntry]) -> set[int]:
    """Outlets that are judged by what was put back."""
    found: set[int] = set()
    for each in changed:
        columns = {name for name, _ in each.before}
        if each.noun == "outlet" and columns - _RENAMED - {"reference_key"}:
            found.add(each.row_id)
        elif each.noun in ("room", "level", "building") and columns & _LEADING:
            found |= storeys.outlets_in(tx.session, [(PlaceKind(each.noun), each.row_id)])
    return found


def _step_back(tx: Transaction, register: Register, found: Sequence[LedgerEntry], why: str) -> None:
    """Undo a change of outlets' use by the opposite step, which is a further entry."""
    ids = {each.row_id for each in found if each.noun == "outlet_event"}
    said = f"Taken back: {why}" if why else "Taken back."
    day = tx.at.astimezone().date()
    told = list(_events(tx, ids))
    step = _BACK.get(told[0][1].draft.step)
    if step is None:
        detail = phrase(
            "{reference} was {step}.",
            reference=told[0][0].reference,
            step=phrase(told[0][1].draft.step.value),
        )
        raise EntryFault("That is not taken back", detail, "Record what is so now.")
    change_use(tx, register, [outlet for outlet, _, _ in told], UseDraft(step, day, said))
    again = [
        outlet.id
        for outlet, event, was_out in told
        if step is UseStep.TAKE_UP and not was_out and event.at.astimezone().date() == day
    ]
    draft = UseDraft(UseStep.PUT_BACK, day, said)
    change_use(tx, register, open_to(tx, register, places.outlets_by_id(tx.session, again), draft), draft)


def _events(tx: Transaction, ids: Collection[int | None]) -> Iterator[tuple[Outlet, UseEvent, bool]]:
    """Outlets with the event that is taken back, and whether they were out of use before it."""
    every = outlet_use.use_events(tx.session)
    for outlet_id, events in sorted(every.items()):
        for number, event in enumerate(events):
            if event.id not in ids:
                continue
            outlet = places.outlet(tx.session, outlet_id)
            if event.draft.step in _BACK and _open(events)[-1:] != [event]:
                later = events[-1]
                detail = phrase(
                    "{reference} was {step} on {day} by {who}.",
                    reference=outlet.reference,
                    step=phrase(later.draft.step.value),
                    day=day_words(later.draft.on),
                    who=later.who,
                )
                raise EntryFault("Later work rests on this change", detail, "Record what is so now.")
            yield outlet, event, use_of(events[:number], None).use is OutletUse.OUT_OF_USE


def _open(events: Sequence[UseEvent]) -> list[UseEvent]:
    """What stopped the use of an outlet and was not answered by the opposite step, oldest first."""
    found: list[UseEvent] = []
    for event in events:
        if event.draft.step in _BACK:
            found.append(event)
        elif found and _BACK[found[-1].draft.step] is event.draft.step:
            found.pop()
    return found
