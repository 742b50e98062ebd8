"""Take an outlet out of use, put it back, retire it, take it up again."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from datetime import date, datetime
from functools import cached_property
from typing import Final

from estate.domain.changes import ChangeSet
from estate.domain.dates import day_words
from estate.domain.life.actions import Action, ActionState, EventDraft, Step
from estate.domain.life.faults import Faults
from estate.domain.life.outlet_use import UseDraft, UseGround, UseOfOutlet, UseStep, use_of, use_refusal
from estate.domain.phrases import phrase, some_of
from estate.domain.places import Outlet
from estate.errors import EntryFault
from estate.operations.follow_faults import faults_of
from estate.operations.holdings import Holdings, read_holdings
from estate.operations.register import Register
from estate.store import actions, outlet_use, places
from estate.store.database import Session
from estate.store.retrying import retried
from estate.store.transaction import Transaction, writing

_SHOWN: Final = 20
_FEW: Final = 200


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
        draft = UseDraft(step, on, why.strip(), who_told.strip(), sign_placed, action_id)
        change_use(tx, register, [places.outlet(tx.session, outlet_id)], draft)
    return tx.changes


def change_use(tx: Transaction, register: Register, outlets: Sequence[Outlet], draft: UseDraft) -> None:
    """Change the use of outlets, all or none, in the transaction in hand.

    Args:
        tx: the transaction.
        register: the open register.
        outlets: each once.
        draft: what is done; for each outlet its action and its retest are looked up.

    Raises:
        EntryFault: it can't be done; names each outlet that it can't be done to, and why.
        NotFoundFault: there is no such action.
    """
    ground = _Ground(tx.session, register, outlets)
    faults = [fault for each in outlets if (fault := ground.refusal(tx, each, draft)) is not None]
    if faults:
        raise faults[0] if len(outlets) == 1 else _together(faults, draft.step)
    safe: set[int] = set()
    for outlet in outlets:
        told, asked = ground.draft_for(outlet, draft)
        outlet_use.add_use_event(tx, outlet.id, told)
        if draft.step in (UseStep.RETIRE, UseStep.TAKE_UP):
            retired_on = draft.on if draft.step is UseStep.RETIRE else None
            places.amend_outlet(tx, outlet.id, retired_on=retired_on)
        stopped = asked if draft.step is UseStep.TAKE_OUT else None
        if stopped is not None and stopped.state is ActionState.OPEN and stopped.id not in safe:
            made_safe = EventDraft(Step.MAKE_SAFE, draft.on, _safe_words(outlet, told), by_itself=True)
            actions.add_events(tx, [(stopped.id, made_safe)])
            safe.add(stopped.id)


def open_to(
    tx: Transaction, register: Register, outlets: Sequence[Outlet], draft: UseDraft
) -> tuple[Outlet, ...]:
    """Those of some outlets that can go through a change."""
    ground = _Ground(tx.session, register, outlets)
    return tuple(each for each in outlets if ground.refusal(tx, each, draft) is None)


def _together(faults: Sequence[EntryFault], step: UseStep) -> EntryFault:
    said = [f"{each.title}: {each.detail.rstrip('.')}" for each in faults]
    detail = phrase("{found}.", found=some_of(said, _SHOWN))
    remedy = phrase("Nothing was written; leave those out, or put right what hinders them.")
    return EntryFault(phrase("Not every outlet can be {step}", step=phrase(step.value)), detail, remedy)


class _Ground:
    """What changes of the use of some outlets are judged against, read once for all of them."""

    def __init__(self, session: Session, register: Register, outlets: Sequence[Outlet]) -> None:
        self._session, self._register = session, register
        positions = {each.position_id for each in outlets}
        served = [each for each in places.outlets(session) if each.position_id in positions]
        position_of = {each.id: each.position_id for each in served}
        self._about: defaultdict[int, list[Action]] = defaultdict(list)
        for action in actions.actions_at(session, position_of):
            self._about[position_of[action.outlet_id]].append(action)
        few = len(outlets) <= _FEW
        self._events = outlet_use.use_events(session, [each.id for each in outlets] if few else None)

    def about(self, outlet: Outlet) -> tuple[Action, ...]:
        """Actions at every outlet of the same mounting place, oldest first."""
        return tuple(self._about.get(outlet.position_id, ()))

    def draft_for(self, outlet: Outlet, draft: UseDraft) -> tuple[UseDraft, Action | None]:
        """What is written of one outlet, and the action that asks for it."""
        about = self.about(outlet)
        asked = _asking(self._session, outlet, about, draft.step, draft.action_id)
        retest = _retest(about) if draft.step is UseStep.PUT_BACK else None
        return replace(draft, action_id=None if asked is None else asked.id, visit_id=retest), asked

    @cached_property
    def _inventory(self) -> Holdings:
        return read_holdings(self._session, self._register.published, (), judged=False)

    def _faults(self, outlet: Outlet) -> Faults | None:
        return _faults_at(self._session, self._inventory, outlet)

    def refusal(self, tx: Transaction, outlet: Outlet, draft: UseDraft) -> EntryFault | None:
        """Why an outlet can't go through a change; None where it can."""
        told, _ = self.draft_for(outlet, draft)
        stands = use_of(self._events.get(outlet.id, ()), outlet.retired_on)
        title = phrase("{outlet} can't be {step}", outlet=outlet.reference, step=phrase(draft.step.value))
        if draft.on > tx.at.astimezone().date():
            remedy: str = phrase("Give the day on which it was done.")
            return EntryFault(title, phrase("{day} lies ahead.", day=day_words(draft.on)), remedy)
        if stands.since is not None and draft.on < stands.since:
            since = phrase(
                "It has been {use} since {since}, after {day}.",
                use=phrase(stands.use.value),
                since=day_words(stands.since),
                day=day_words(draft.on),
            )
            return EntryFault(title, since, phrase("Correct the day."))
        faults = self._faults(outlet) if draft.step is UseStep.PUT_BACK else None
        said = use_refusal(stands, told, UseGround(self.about(outlet), faults))
        remedy = phrase("Nothing was written; the outlet stays as it is.")
        return None if said is None else EntryFault(title, said, remedy)


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
            detail = phrase(
                "Action {action_id} is about another valve than {reference}.",
                action_id=action_id,
                reference=outlet.reference,
            )
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


def use_ground(session: Session, register: Register, outlet: Outlet, about: tuple[Action, ...]) -> UseGround:
    """What a change of an outlet's use is judged against, from an open session."""
    inventory = read_holdings(session, register.published, (), judged=False)
    return UseGround(about, _faults_at(session, inventory, outlet))


def _faults_at(session: Session, inventory: Holdings, outlet: Outlet) -> Faults | None:
    there = [each for each in inventory.fittings_at(outlet.position_id) if each.removed_on is None]
    return faults_of(session, inventory, there[0].valve_id) if there else None


def use_now(session: Session, outlet: Outlet) -> UseOfOutlet:
    """How an outlet stands, from an open session."""
    return use_of(outlet_use.use_events(session, [outlet.id]).get(outlet.id, ()), outlet.retired_on)
