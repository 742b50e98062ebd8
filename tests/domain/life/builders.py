"""Actions, visits and events for the tests of a valve's life."""

from collections.abc import Mapping, Sequence
from datetime import UTC, date, datetime, timedelta
from types import MappingProxyType
from typing import Any

from estate.domain.findings import Severity
from estate.domain.life.actions import (
    Action,
    ActionDraft,
    ActionEvent,
    ActionKind,
    EventDraft,
    Step,
    after,
    opened,
)
from estate.domain.life.faults import FailedCheck, JudgedVisit, read_faults
from estate.domain.life.following import Body, Deed, follow
from estate.domain.visits import VisitKind

NOW = datetime(2026, 11, 25, 9, 30, tzinfo=UTC)
TODAY = date(2026, 11, 25)
NOTHING_GONE: Mapping[int, str] = MappingProxyType({})
HOT, SLOW, STABLE = "left-above-ceiling", "cold-isolated-time", "cold-isolated-stabilised"


def failed(code: str = HOT, severity: Severity = Severity.OUT_OF_USE, retest: bool = True) -> FailedCheck:
    """A check that failed."""
    return FailedCheck(code, severity, f"{code} failed", retest)


def visit(number: int, *checks: FailedCheck, met: Sequence[str] = (), **fields: Any) -> JudgedVisit:
    """A visit on the day of its number; what it does not fail or meet it did not test."""
    said: dict[str, Any] = {"kind": VisitKind.IN_SERVICE, "satisfactory": not checks}
    day = date(2026, 1, 1) + timedelta(days=number)
    return JudgedVisit(number, 1, on=day, failed=checks, in_order=frozenset(met), **(said | fields))


def target(severity: Severity, on: date) -> date:
    """A policy: a week for what is to be taken out of use, else four."""
    return on + timedelta(days=7 if severity is Severity.OUT_OF_USE else 28)


def body(
    series: Sequence[JudgedVisit],
    actions: Sequence[Action] = (),
    in_place: bool = True,
    gone: Mapping[int, str] = NOTHING_GONE,
) -> Body:
    """A body with its visits and actions."""
    return Body(1, in_place, read_faults(series), tuple(actions), gone)


def written(actions: Sequence[Action], deeds: Sequence[Deed]) -> tuple[Action, ...]:
    """The actions after what was to be written, as the register would keep them."""
    kept = {each.id: each for each in actions}
    for deed in deeds:
        number = deed.action_id
        if deed.opening is not None:
            number = len(kept) + 1
            kept[number] = opened(number, deed.opening, "A. Officer", NOW)
        assert number is not None
        for draft in deed.events:
            kept[number] = done(kept[number], draft)
    return tuple(kept.values())


def done(action: Action, draft: EventDraft) -> Action:
    """An action after one more thing was done."""
    return after(action, ActionEvent(len(action.events) + 1, draft, "A. Officer", NOW))


def followed(
    series: Sequence[JudgedVisit], actions: Sequence[Action] = (), **fields: Any
) -> tuple[Action, ...]:
    """The actions after they were made to agree with the visits."""
    return written(actions, list(follow(body(series, actions, **fields), target, TODAY)))


def work(**fields: Any) -> Action:
    """An action opened by hand."""
    said: dict[str, Any] = {"outlet_id": 1, "severity": Severity.PUT_RIGHT, "words": "Clear the access."}
    draft = ActionDraft(kind=ActionKind.WORK, found_on=date(2026, 11, 2), **(said | fields))
    return opened(1, draft, "A. Officer", NOW)


def step(which: Step, **fields: Any) -> EventDraft:
    """Something a person does, with all that it needs said."""
    said: dict[str, Any] = {"on": TODAY, "why": "said", "owner": "E. Fitter", "target_on": TODAY}
    return EventDraft(which, **(said | fields))
