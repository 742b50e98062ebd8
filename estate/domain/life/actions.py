"""Actions: what must be done at an outlet, and the changes that an action may go through."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from enum import StrEnum
from types import MappingProxyType
from typing import Final

from estate.domain.findings import Severity


class ActionKind(StrEnum):
    """What an action came from."""

    FAULT = "fault"
    COMMISSIONING = "commissioning"
    WORK = "work"


class ActionState(StrEnum):
    """Where an action stands."""

    OPEN = "open"
    MADE_SAFE = "made safe"
    PUT_RIGHT = "put right"
    RETESTED = "retest passed"
    CLOSED = "closed"
    CANCELLED = "cancelled"

    @property
    def live(self) -> bool:
        """Whether something is still to be done."""
        return self not in (ActionState.CLOSED, ActionState.CANCELLED)


class Step(StrEnum):
    """What may be done about an action."""

    MAKE_SAFE = "made safe"
    PUT_RIGHT = "put right"
    RETEST = "retest passed"
    FOUND_AGAIN = "found again"
    CORRECT = "finding corrected"
    CLOSE = "closed"
    REOPEN = "reopened"
    CANCEL = "cancelled"
    ASSIGN = "assigned"
    RETARGET = "new target date"
    NOTE = "noted"


_OPEN, _SAFE, _RIGHT, _RETESTED = (
    ActionState.OPEN,
    ActionState.MADE_SAFE,
    ActionState.PUT_RIGHT,
    ActionState.RETESTED,
)
MOVES: Final[Mapping[tuple[ActionState, Step], ActionState]] = MappingProxyType(
    {
        (_OPEN, Step.MAKE_SAFE): _SAFE,
        (_OPEN, Step.PUT_RIGHT): _RIGHT,
        (_OPEN, Step.RETEST): _RETESTED,
        (_OPEN, Step.FOUND_AGAIN): _OPEN,
        (_OPEN, Step.CORRECT): _OPEN,
        (_OPEN, Step.CANCEL): ActionState.CANCELLED,
        (_OPEN, Step.ASSIGN): _OPEN,
        (_OPEN, Step.RETARGET): _OPEN,
        (_OPEN, Step.NOTE): _OPEN,
        (_SAFE, Step.PUT_RIGHT): _RIGHT,
        (_SAFE, Step.RETEST): _RETESTED,
        (_SAFE, Step.FOUND_AGAIN): _SAFE,
        (_SAFE, Step.CORRECT): _SAFE,
        (_SAFE, Step.CANCEL): ActionState.CANCELLED,
        (_SAFE, Step.ASSIGN): _SAFE,
        (_SAFE, Step.RETARGET): _SAFE,
        (_SAFE, Step.NOTE): _SAFE,
        (_RIGHT, Step.RETEST): _RETESTED,
        (_RIGHT, Step.FOUND_AGAIN): _OPEN,
        (_RIGHT, Step.CORRECT): _RIGHT,
        (_RIGHT, Step.CLOSE): ActionState.CLOSED,
        (_RIGHT, Step.REOPEN): _OPEN,
        (_RIGHT, Step.CANCEL): ActionState.CANCELLED,
        (_RIGHT, Step.ASSIGN): _RIGHT,
        (_RIGHT, Step.RETARGET): _RIGHT,
        (_RIGHT, Step.NOTE): _RIGHT,
        (_RETESTED, Step.RETEST): _RETESTED,
        (_RETESTED, Step.FOUND_AGAIN): _OPEN,
        (_RETESTED, Step.CORRECT): _OPEN,
        (_RETESTED, Step.CLOSE): ActionState.CLOSED,
        (_RETESTED, Step.REOPEN): _OPEN,
        (_RETESTED, Step.CANCEL): ActionState.CANCELLED,
        (_RETESTED, Step.ASSIGN): _RETESTED,
        (_RETESTED, Step.NOTE): _RETESTED,
        (ActionState.CLOSED, Step.REOPEN): _OPEN,
        (ActionState.CLOSED, Step.NOTE): ActionState.CLOSED,
        (ActionState.CANCELLED, Step.REOPEN): _OPEN,
        (ActionState.CANCELLED, Step.NOTE): ActionState.CANCELLED,
    }
)
"""Every change that there is: the state and what is done give the next state. Nothing else is possible."""


@dataclass(frozen=True, slots=True)
class ActionDraft:
    """An action before it is in the register.

    Attributes:
        valve_id: the body that it is about; None where it is about none.
        visit_id: the visit that found it; None of one opened by hand.
        asks_retest: whether it is done only when a later visit found it in order.
        codes: codes of the checks that failed.
        stop_codes: those of them that ask for the outlet to be out of use.
        found_on: the day of the visit, or the day it was opened.
        target_on: the day by which it is to be done; None where the policy gives none.
    """

    outlet_id: int
    kind: ActionKind
    severity: Severity
    words: str
    found_on: date
    asks_retest: bool = False
    valve_id: int | None = None
    visit_id: int | None = None
    codes: tuple[str, ...] = ()
    stop_codes: tuple[str, ...] = ()
    target_on: date | None = None
    owner: str = ""


@dataclass(frozen=True, slots=True)
class EventDraft:
    """Something done about an action, before it is in the register.

    Attributes:
        by_itself: whether the register does it, from the visits alone.
        owner, target_on, severity: what it sets; empty or None leaves them.
        codes, stop_codes: what joins the action.
    """

    step: Step
    on: date
    why: str = ""
    by_itself: bool = False
    owner: str = ""
    target_on: date | None = None
    visit_id: int | None = None
    codes: tuple[str, ...] = ()
    stop_codes: tuple[str, ...] = ()
    severity: Severity | None = None


@dataclass(frozen=True, slots=True)
class ActionEvent:
    """Something done about an action, in the register.

    Attributes:
        at: moment of entry, UTC.
        counts: whether the action could go through it; one that was put in past the program may not count.
    """

    id: int
    draft: EventDraft
    who: str
    at: datetime
    counts: bool = True

    @property
    def step(self) -> Step:
        """What was done."""
        return self.draft.step


@dataclass(frozen=True, slots=True)
class Action:
    """An action in the register, as its events left it.

    Attributes:
        findings: pairs of a visit and the code of a check that failed at it.
        retest_id: the visit that its passed retest rests on.
    """

    id: int
    opening: ActionDraft
    opened_by: str
    opened_at: datetime
    batch_id: int | None = None
    state: ActionState = ActionState.OPEN
    severity: Severity = Severity.NOTE
    owner: str = ""
    target_on: date | None = None
    findings: frozenset[tuple[int, str]] = frozenset()
    stop_codes: frozenset[str] = frozenset()
    retest_id: int | None = None
    events: tuple[ActionEvent, ...] = field(default=())

    @property
    def outlet_id(self) -> int:
        """Where it is to be done."""
        return self.opening.outlet_id

    @property
    def codes(self) -> frozenset[str]:
        """Codes of every check that failed."""
        return frozenset(code for _, code in self.findings)

    @property
    def asks_retest(self) -> bool:
        """Whether it is done only when a later visit found it in order; so is what was found again."""
        return self.opening.asks_retest or any(each.step is Step.FOUND_AGAIN for each in self.events)

    @property
    def visit_ids(self) -> frozenset[int]:
        """The visits that found it."""
        return frozenset(visit_id for visit_id, _ in self.findings)

    @property
    def last(self) -> ActionEvent | None:
        """The last event that changed its state."""
        changing = (each for each in reversed(self.events) if each.counts and each.step not in _KEEPING)
        return next(changing, None)

    @property
    def done_on(self) -> date | None:
        """The day it was closed or cancelled; None while it is live."""
        return None if self.state.live or self.last is None else self.last.draft.on

    def age_days(self, today: date) -> int:
        """Days from the finding to today, or to the day it was closed or cancelled."""
        return ((self.done_on or today) - self.opening.found_on).days

    def days_late(self, today: date) -> int:
        """Days past its target date; 0 where it is in time, done or has none."""
        if self.target_on is None or not self.state.live:
            return 0
        return max(0, (today - self.target_on).days)


_KEEPING: Final = frozenset({Step.ASSIGN, Step.RETARGET, Step.NOTE, Step.CORRECT})


def opened(action_id: int, draft: ActionDraft, who: str, at: datetime, batch_id: int | None = None) -> Action:
    """An action as it begins."""
    found = () if draft.visit_id is None else ((draft.visit_id, code) for code in draft.codes)
    return Action(
        id=action_id,
        opening=draft,
        opened_by=who,
        opened_at=at,
        batch_id=batch_id,
        severity=draft.severity,
        owner=draft.owner,
        target_on=draft.target_on,
        findings=frozenset(found),
        stop_codes=frozenset(draft.stop_codes),
    )


def after(action: Action, event: ActionEvent) -> Action:
    """An action after one more event; one that it can't go through is kept beside it and does not count."""
    draft = event.draft
    state = MOVES.get((action.state, draft.step))
    if state is None:
        return replace(action, events=(*action.events, replace(event, counts=False)))
    joined = () if draft.visit_id is None else ((draft.visit_id, code) for code in draft.codes)
    return replace(
        action,
        state=state,
        severity=max(action.severity, draft.severity or Severity.NOTE),
        owner=draft.owner or action.owner,
        target_on=draft.target_on or action.target_on,
        findings=action.findings | frozenset(joined),
        stop_codes=action.stop_codes | frozenset(draft.stop_codes),
        retest_id=draft.visit_id if draft.step is Step.RETEST else _retest_kept(action, state),
        events=(*action.events, event),
    )


def _retest_kept(action: Action, state: ActionState) -> int | None:
    return action.retest_id if state in (ActionState.RETESTED, ActionState.CLOSED) else None


def fold(action: Action, events: Iterable[ActionEvent]) -> Action:
    """An action after its events, in their order."""
    for event in events:
        action = after(action, event)
    return action
