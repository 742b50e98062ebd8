"""Take an action one step on: made safe, put right, closed, reopened, cancelled, assigned ..."""

from datetime import date, datetime

from estate.domain.changes import ChangeSet
from estate.domain.dates import day_words
from estate.domain.life.actions import Action, EventDraft, Step
from estate.domain.life.guards import Ground, refusal
from estate.domain.life.outlet_use import OutletUse
from estate.domain.phrases import phrase
from estate.errors import EntryFault
from estate.operations.follow_faults import faults_of
from estate.operations.holdings import read_holdings
from estate.operations.register import Register
from estate.operations.use_outlet import use_now
from estate.store import actions, places
from estate.store.database import Session
from estate.store.retrying import retried
from estate.store.transaction import Transaction, writing


@retried
def move_action(
    register: Register,
    action_id: int,
    step: Step,
    *,
    on: date,
    why: str = "",
    owner: str = "",
    target_on: date | None = None,
    visit_id: int | None = None,
    who: str,
    at: datetime,
) -> ChangeSet:
    """Take an action through one change; `docs/states.md` lists which there are.

    Args:
        register: the open register.
        action_id: the action.
        step: what is done.
        on: the day on which it was done.
        why: what was done, or the reason.
        owner: whom it is assigned to.
        target_on: the new target date.
        visit_id: the retest, of an action that was opened by hand.
        who: who records it.
        at: now, UTC.

    Raises:
        EntryFault: the action can't go through it; says why. Nothing is written.
        NotFoundFault: there is no such action.
    """
    draft = EventDraft(
        step=step,
        on=on,
        why=why.strip(),
        owner=owner.strip() if step is Step.ASSIGN else "",
        target_on=target_on if step is Step.RETARGET else None,
        visit_id=visit_id if step is Step.RETEST else None,
    )
    with writing(register.database, who, f"action {action_id}: {step.value}", at, why=why.strip()) as tx:
        action = actions.action(tx.session, action_id)
        must_be_possible(tx, register, action, draft)
        actions.add_events(tx, [(action_id, draft)])
        tx.touch(outlets=[action.outlet_id])
    return tx.changes


def must_be_possible(tx: Transaction, register: Register, action: Action, draft: EventDraft) -> None:
    """Refuse a change that an action can't go through.

    Raises:
        EntryFault: with the reason.
    """
    title = phrase('Action {number} can\'t be "{step}"', number=action.id, step=phrase(draft.step.value))
    if draft.on > tx.at.astimezone().date():
        raise EntryFault(
            title,
            phrase("{day} lies ahead.", day=day_words(draft.on)),
            phrase("Give the day on which it was done."),
        )
    said = refusal(action, draft, _ground(tx.session, register, action))
    if said is not None:
        remedy = phrase("Nothing was written. See what an action can go through in docs/states.md.")
        raise EntryFault(title, said, remedy)


def _ground(session: Session, register: Register, action: Action) -> Ground:
    inventory = read_holdings(session, register.published, (), judged=False)
    faults = faults_of(session, inventory, action.opening.valve_id)
    outlet = places.outlet(session, action.outlet_id)
    use = use_now(session, outlet).use
    return Ground(faults, use is OutletUse.OUT_OF_USE, use is OutletUse.RETIRED)
