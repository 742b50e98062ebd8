"""What the site asks of its actions: by when they are done, and who is told when they are late.

Every value comes from the rule set in force. One that it leaves blank is said to be missing: an action
without a target date is never in time, and upkeep without an interval is due.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from types import MappingProxyType
from typing import Final

from estate.domain.findings import Severity
from estate.domain.phrases import phrase, phrase_count
from estate.domain.rules.values import RuleSet

TARGETS: Final[Mapping[Severity, str]] = MappingProxyType(
    {
        Severity.OUT_OF_USE: "action.target.out-of-use",
        Severity.PUT_RIGHT: "action.target.put-right",
        Severity.WATCH: "action.target.watch",
        Severity.NOTE: "action.target.note",
    }
)
ESCALATES: Final = "action.escalate-after"
FIRST_TOLD: Final = "action.first-told"
THEN_TOLD: Final = "action.then-told"
FLUSHED: Final = "care.flushing"
SHOWER_CLEANED: Final = "care.shower-head"
REVIEWED: Final = "review.interval"

NO_TARGET: Final = phrase("no target is set")
"""Stands where an action has no target date: that is not the same as being in time."""
NO_INTERVAL: Final = phrase("no interval is set, so it is due: to be filled in by the site, with its source")
NOBODY_NAMED: Final = phrase("nobody is named")


@dataclass(frozen=True, slots=True)
class Escalation:
    """Who is to be told of a late action, and why."""

    whom: str
    words: str


def target_day(rules: RuleSet, severity: Severity, on: date) -> date | None:
    """The day by which a finding of a day is to be done; None where the rules set no target."""
    days = rules.number(TARGETS[severity])
    return None if days is None else on + timedelta(days=days)


def escalation(rules: RuleSet, days_late: int) -> Escalation | None:
    """Who is to be told of an action that is late; None in time.

    Where the rules name nobody, that is said: a late action is never passed over.
    """
    if days_late <= 0:
        return None
    after, first, then = (rules.get(key) for key in (ESCALATES, FIRST_TOLD, THEN_TOLD))
    later = after is not None and days_late > after.number
    told = (then or first) if later else (first or then)
    late = phrase_count(days_late, "{n} day past its target date", "{n} days past its target date")
    if told is None:
        words = phrase("{late}: nobody is named to be told; the site names somebody", late=late)
        return Escalation(NOBODY_NAMED, words)
    whom = phrase(str(told.value))
    words = phrase("{late}: tell {whom} [{source}]", late=late, whom=whom, source=told.shown_source)
    return Escalation(whom, words)
