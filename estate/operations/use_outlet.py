"""Take an outlet out of use, put it back, retire it, take it up again."""

from datetime import date, datetime

from estate.domain.changes import ChangeSet
from estate.domain.dates import day_words
from estate.domain.life.actions import Action, ActionState, EventDraft, Step
from estate.domain.life.outlet_use import UseDraft, UseGround, UseOfOutlet, UseStep, use_of, use_refusal
from estate.domain.places import Outlet
from estate.errors import EntryFault
from estate.operations.follow_faults import faults_of
from estate.operations.holdings import read_holdings
from estate.operations.register import Register
from estate.store import actions, outlet_use, places
from estate.store.database import Session
from estate.store.retrying import retried
from estate.store.transaction import Transaction, writing


@retried
def use_outlet(
    register: Register,
    outlet_id: int,
    step: UseStep,
    *,
    on: date,
    why: str,
    who_told: str = "",
    sign_placed: bool | None = None,
    action_id: int | None = None,
    who: str,
    at: datetime,
) -> ChangeSet:
    """Change whether people draw water at an outlet; `docs/states.md` lists which changes there are.

    Taking it out for an open action makes that action safe; which one is found where there is only one.

    Args:
        register: the open register.
        outlet_id: the outlet.
        step: what is done.
        on: the day on which it was done.
        why: the reason.
        who_told: who in charge of the area was told.
        sign_placed: whether a sign was put up; None where nothing was said.
        action_id: the action that asked for it; None takes the one open action that does.
        who: who records it.
        at: now, UTC.

    Raises:
        EntryFault: it can't be done; says why. Nothing is written.
        NotFoundFault: there is no such outlet or action.
    """
    with writing(register.database, who, f"outlet {step.value}", at, why=why.strip()) as tx:
        outlet = places.outlet(tx.session, outlet_id)
        about = actions_about(tx.session, outlet)
        asked = _asking(tx.session, outlet, about, step, action_id)
        retest = _retest(about) if step is UseStep.PUT_BACK else None
        draft = UseDraft(
            step, on, why.strip(), who_told.strip(), sign_placed, None if asked is None else asked.id, retest
        )
        _must_be_possible(tx, register, outlet, draft, about)
        outlet_use.add_use_event(tx, outlet_id, draft)
        if step in (UseStep.RETIRE, UseStep.TAKE_UP):
            retired_on = on if step is UseStep.RETIRE else None
            places.amend_outlet(tx, outlet_id, retired_on=retired_on)
        if step is UseStep.TAKE_OUT and asked is not None and asked.state is ActionState.OPEN:
            made_safe = EventDraft(Step.MAKE_SAFE, on, _safe_words(outlet, draft), by_itself=True)
            actions.add_events(tx, [(asked.id, made_safe)])
    return tx.changes


def actions_about(session: Session, outlet: Outlet) -> tuple[Action, ...]:
    """Actions at every outlet of the same mounting place, oldest first."""
    served = [each.id for each in places.outlets(session) if each.position_id == outlet.position_id]
    return actions.actions_at(session, served)


def _asking(
    session: Session, outlet: Outlet, about: tuple[Action, ...], step: UseStep, action_id: int | None
) -> Action | None:
    if action_id is not None:
        named = actions.action(session, action_id)
        if named.id not in {each.id for each in about}:
            detail = f"Action {action_id} is about another valve than {outlet.reference}."
            raise EntryFault("That action is about another outlet", detail, "Name the right action, or none.")
        return named
    if step is not UseStep.TAKE_OUT:
        return None
    asking = [each for each in about if each.state.live]
    stopping = [each for each in asking if each.stop_codes] or asking
    return stopping[0] if len(stopping) == 1 else None


def _retest(about: tuple[Action, ...]) -> int | None:
    passed = [each.retest_id for each in about if each.retest_id is not None]
    return max(passed, default=None)


def _safe_words(outlet: Outlet, draft: UseDraft) -> str:
    sign = {True: "a sign was put up", False: "no sign was put up", None: "of a sign nothing was said"}
    return f"{outlet.reference} taken out of use; {draft.who_told} told; {sign[draft.sign_placed]}."


def _must_be_possible(
    tx: Transaction, register: Register, outlet: Outlet, draft: UseDraft, about: tuple[Action, ...]
) -> None:
    title = f"{outlet.reference} can't be {draft.step.value}"
    stands = use_now(tx.session, outlet)
    if draft.on > tx.at.astimezone().date():
        raise EntryFault(title, f"{day_words(draft.on)} lies ahead.", "Give the day on which it was done.")
    if stands.since is not None and draft.on < stands.since:
        detail = (
            f"It has been {stands.use.value} since {day_words(stands.since)}, after {day_words(draft.on)}."
        )
        raise EntryFault(title, detail, "Correct the day.")
    said = use_refusal(stands, draft, use_ground(tx.session, register, outlet, about))
    if said is not None:
        remedy = "Nothing was written; the outlet stays as it is."
        raise EntryFault(title, said, remedy)


def use_ground(session: Session, register: Register, outlet: Outlet, about: tuple[Action, ...]) -> UseGround:
    """What a change of an outlet's use is judged against, from an open session."""
    inventory = read_holdings(session, register.published, (), judged=False)
    there = [each for each in inventory.fittings_at(outlet.position_id) if each.removed_on is None]
    faults = faults_of(session, inventory, there[0].valve_id) if there else None
    return UseGround(about, faults)


def use_now(session: Session, outlet: Outlet) -> UseOfOutlet:
    """How an outlet stands, from an open session."""
    return use_of(outlet_use.use_events(session, [outlet.id]).get(outlet.id, ()), outlet.retired_on)
