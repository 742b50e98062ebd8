"""The published stage scheme after commissioning or service (D08-80..85)."""

from collections.abc import Sequence
from datetime import date, timedelta
from enum import StrEnum

from estate.domain.rules.values import RuleSet
from estate.domain.visits import VisitDraft

EARLY_DAYS = 7
"""A test up to a week early still counts as its stage's own (this register's own default)."""


class Change(StrEnum):
    """How much the mixed temperature changed: under 1 K, 1 to 2 K, over 2 K."""

    NONE = "no significant change"
    SMALL = "small change"
    LARGE = "significant change"


class Stage(StrEnum):
    """The three published tests; the third has two windows."""

    FIRST = "1"
    SECOND = "2"
    THIRD_LONG = "3.long"
    THIRD_SHORT = "3.short"


def classify_change(change_k: float, small_k: float, large_k: float) -> Change:
    """Class of a change in K; exactly `small_k` and exactly `large_k` both count as small.

    The published edges leave 1.0 K and 2.0 K open; a change of 1.0 K as small is the safer reading.
    """
    size = round(abs(change_k), 6)
    if size < small_k:
        return Change.NONE
    return Change.SMALL if size <= large_k else Change.LARGE


def third_stage(first: Change, second: Change) -> Stage:
    """Window of the third test from the changes in the two periods before it (D08-82..85).

    A significant change in either period overrides the deferral that rule (a) would allow.
    """
    if Change.LARGE in (first, second):
        return Stage.THIRD_SHORT
    return Stage.THIRD_SHORT if first is second is Change.SMALL else Stage.THIRD_LONG


def stage_weeks(rules: RuleSet, stage: Stage) -> tuple[float, float] | None:
    """First and last week of a stage, from commissioning; None where the rule set has no stages."""
    first, last = (rules.number(f"stage.{stage}.{end}") for end in ("from", "to"))
    return None if first is None or last is None else (first, last)


def changes_since_setting(
    reference: VisitDraft, tests: Sequence[VisitDraft], small_k: float, large_k: float
) -> tuple[Change | None, ...]:
    """Change at each test since the level was last set (at the reference or at a re-adjustment).

    Args:
        reference: the commissioning or service visit that starts the stages.
        tests: in-service tests after it, in order of date.
        small_k, large_k: edges in K.

    Returns:
        One class a test; None where a value is missing.
    """
    level = reference.readings.as_left_c
    changes: list[Change | None] = []
    for test in tests:
        found = test.readings.found_c
        known = found is not None and level is not None
        changes.append(classify_change((found or 0.0) - (level or 0.0), small_k, large_k) if known else None)
        if test.readings.level_reset or level is None:
            level = test.readings.as_left_c
    return tuple(changes)


def next_stage(
    rules: RuleSet, began: date, tests: Sequence[tuple[date, Change | None]]
) -> tuple[Stage, tuple[float, float]] | None:
    """The stage that comes next, with its weeks from commissioning; None when all three are done.

    Args:
        rules: the rule set; without a stage scheme there is no next stage.
        began: day of the reference.
        tests: day and change of each test since, in order.
    """
    second_from = _from_day(rules, Stage.SECOND, began)
    third_long = stage_weeks(rules, Stage.THIRD_LONG)
    if second_from is None or third_long is None:
        return None
    if not any(on >= second_from for on, _ in tests):
        stage = Stage.SECOND if _reached(rules, Stage.FIRST, began, tests) else Stage.FIRST
    else:
        stage = third_stage(*_periods(tests, second_from))
        if _reached(rules, stage, began, tests):
            return None
    weeks = stage_weeks(rules, stage)
    return None if weeks is None else (stage, weeks)


def _periods(tests: Sequence[tuple[date, Change | None]], second_from: date) -> tuple[Change, Change]:
    """The largest change of each of the two periods; an unknown one counts as small."""
    early = [change for on, change in tests if on < second_from]
    later = [change for on, change in tests if on >= second_from][:1]
    second = _largest(later)
    return (_largest(early) if early else second, second)


def _largest(changes: Sequence[Change | None]) -> Change:
    order = list(Change)
    return max((each or Change.SMALL for each in changes), key=order.index)


def _from_day(rules: RuleSet, stage: Stage, began: date) -> date | None:
    weeks = stage_weeks(rules, stage)
    return None if weeks is None else began + timedelta(days=round(weeks[0] * 7) - EARLY_DAYS)


def _reached(rules: RuleSet, stage: Stage, began: date, tests: Sequence[tuple[date, Change | None]]) -> bool:
    first_day = _from_day(rules, stage, began)
    return first_day is not None and any(on >= first_day for on, _ in tests)
