"""From the visits of a body to what its actions must go through: opened, found again, answered, reopened."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

from estate.domain.dates import day_words
from estate.domain.findings import Severity
from estate.domain.life.actions import Action, ActionDraft, ActionKind, ActionState, EventDraft, Step
from estate.domain.life.faults import Faults, JudgedVisit, StandingFault

_SHOWN: Final = 3
_RETEST_GONE: Final = "The visit at which the retest passed no longer counts."
_STANDS_AGAIN: Final = "Its finding stands again."


@dataclass(frozen=True, slots=True)
class Body:
    """What is followed: one valve body.

    Attributes:
        in_place: whether it is in place at an outlet that is not retired; only then something is opened.
        gone: why visits that found something no longer count, by the visit's id.
    """

    valve_id: int
    in_place: bool
    faults: Faults
    actions: tuple[Action, ...]
    gone: Mapping[int, str]


@dataclass(frozen=True, slots=True)
class Deed:
    """What is to be written.

    Attributes:
        action_id: the action; None of one that is opened by `opening`.
        events: what it goes through, in order.
    """

    action_id: int | None
    opening: ActionDraft | None
    events: tuple[EventDraft, ...]


Target = Callable[[Severity, date], date | None]
"""The day by which a severity found on a day is to be done."""


def follow(body: Body, target: Target, today: date) -> Iterator[Deed]:
    """Say what the actions of a body must go through so that they agree with its visits.

    The same visits and actions always give the same deeds, and none once they are written.

    Args:
        body: the body with its visits and actions.
        target: the policy.
        today: the day of the deeds.
    """
    live = [each for each in body.actions if each.opening.kind is ActionKind.FAULT and each.state.live]
    unknown = _unknown(body, live)
    for action in live:
        newer = unknown if action is live[-1] else ()
        events = tuple(_of_live(body, action, newer, target, today))
        if events:
            yield Deed(action.id, None, events)
    if not live and body.in_place:
        yield from _of_none(body, unknown, target, today)
    for action in body.actions:
        if action.opening.kind is ActionKind.COMMISSIONING:
            events = tuple(_of_commissioning(body.faults, action, today))
            if events:
                yield Deed(action.id, None, events)


def _unknown(body: Body, live: Sequence[Action]) -> tuple[StandingFault, ...]:
    """Standing faults that no action deals with: none found them, or the one that did lost its ground."""
    known = {
        pair for each in body.actions if each in live or not _reopens(body, each) for pair in each.findings
    }
    return tuple(each for each in body.faults.standing if (each.visit_id, each.code) not in known)


def _of_live(
    body: Body, action: Action, newer: Sequence[StandingFault], target: Target, today: date
) -> Iterator[EventDraft]:
    if newer:
        mended = action.state in (ActionState.PUT_RIGHT, ActionState.RETESTED)
        by = None if mended else action.target_on
        yield from _joined(body, newer, action.visit_ids, _no_later_than(by, target), today)
    elif body.faults.stand(action.findings):
        if action.state is ActionState.RETESTED:
            yield replace(_itself(Step.REOPEN, today, _RETEST_GONE), target_on=target(action.severity, today))
    elif not body.faults.holds(action.findings):
        yield _itself(Step.CANCEL, today, _why_gone(body, action))
    else:
        visit = body.faults.answer_to(action.findings)
        if visit is not None and visit.id != action.retest_id:
            yield _passed(visit, today)


def _no_later_than(by: date | None, target: Target) -> Target:
    """The policy, but never later than a day that is set already."""

    def sooner(severity: Severity, on: date) -> date | None:
        days = [each for each in (by, target(severity, on)) if each is not None]
        return min(days, default=None)

    return sooner


def _joined(
    body: Body, newer: Sequence[StandingFault], known: frozenset[int], target: Target, today: date
) -> Iterator[EventDraft]:
    by_visit: dict[int, list[StandingFault]] = {}
    for fault in newer:
        by_visit.setdefault(fault.visit_id, []).append(fault)
    for visit in body.faults.series:
        found = by_visit.get(visit.id)
        if not found:
            continue
        worst = max(each.check.severity for each in found)
        corrects = visit.corrects is not None and visit.corrects in known
        yield EventDraft(
            step=Step.CORRECT if corrects else Step.FOUND_AGAIN,
            on=today,
            why=_words(found),
            by_itself=True,
            target_on=target(worst, visit.on),
            visit_id=visit.id,
            codes=tuple(each.code for each in found),
            stop_codes=_stopping(found),
            severity=worst,
        )


def _of_none(body: Body, unknown: Sequence[StandingFault], target: Target, today: date) -> Iterator[Deed]:
    lost = {pair: each for each in body.actions if _reopens(body, each) for pair in each.findings}
    found = [lost[pair] for each in unknown if (pair := (each.visit_id, each.code)) in lost]
    fresh = [each for each in unknown if (each.visit_id, each.code) not in lost]
    again = max(found, key=lambda each: each.id, default=None)
    if again is not None:
        others = [each for each in unknown if (each.visit_id, each.code) not in again.findings]
        why = _RETEST_GONE if again.state is ActionState.CLOSED else _STANDS_AGAIN
        reopened = replace(_itself(Step.REOPEN, today, why), target_on=target(again.severity, today))
        yield Deed(again.id, None, (reopened, *_joined(body, others, again.visit_ids, target, today)))
    elif fresh:
        yield _opening(body, fresh, target, today)


def _reopens(body: Body, action: Action) -> bool:
    """A retest that no longer counts, or a cancellation by itself that lost its ground."""
    if action.state.live or action.opening.kind is not ActionKind.FAULT:
        return False
    if action.state is ActionState.CLOSED:
        return action.retest_id is not None and body.faults.stand(action.findings)
    return action.last is not None and action.last.draft.by_itself


def _opening(body: Body, fresh: Sequence[StandingFault], target: Target, today: date) -> Deed:
    places = {each.id: place for place, each in enumerate(body.faults.series)}
    first = min(fresh, key=lambda each: places[each.visit_id]).visit_id
    found = [each for each in fresh if each.visit_id == first]
    later = [each for each in fresh if each.visit_id != first]
    worst = max(each.check.severity for each in found)
    draft = ActionDraft(
        outlet_id=found[0].outlet_id,
        kind=ActionKind.FAULT,
        severity=worst,
        words=_words(found),
        found_on=found[0].on,
        asks_retest=any(each.check.asks_retest for each in fresh),
        valve_id=body.valve_id,
        visit_id=first,
        codes=tuple(each.code for each in found),
        stop_codes=_stopping(found),
        target_on=target(worst, found[0].on),
    )
    return Deed(None, draft, tuple(_joined(body, later, frozenset(), target, today)))


def _stopping(found: Sequence[StandingFault]) -> tuple[str, ...]:
    return tuple(each.code for each in found if each.check.severity is Severity.OUT_OF_USE)


def _words(found: Sequence[StandingFault]) -> str:
    told = [each.check.short for each in found]
    more = f"; and {len(told) - _SHOWN} more" if len(told) > _SHOWN else ""
    return f"{'; '.join(told[:_SHOWN])}{more}."


def _why_gone(body: Body, action: Action) -> str:
    for visit_id in sorted(action.visit_ids, reverse=True):
        if visit_id in body.gone:
            return body.gone[visit_id]
    return "Judged again, the visit that found it is in order on these checks."


def _of_commissioning(faults: Faults, action: Action, today: date) -> Iterator[EventDraft]:
    fits = (each for each in faults.series if each.kind.sets_reference and each.satisfactory)
    visit = next((each for each in fits if not each.doubtful), None)
    if visit is not None and action.state.live and action.retest_id != visit.id:
        yield _passed(visit, today)
    elif visit is None and action.retest_id is not None:
        yield _itself(Step.REOPEN, today, "The commissioning that was asked for no longer counts.")


def _passed(visit: JudgedVisit, today: date) -> EventDraft:
    why = f"The visit of {day_words(visit.on)} found it in order."
    return EventDraft(Step.RETEST, today, why, by_itself=True, visit_id=visit.id)


def _itself(step: Step, today: date, why: str) -> EventDraft:
    return EventDraft(step, today, why, by_itself=True)
