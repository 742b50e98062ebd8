"""What the site asks of its actions: by when they are done, and who is told when they are late."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from types import MappingProxyType
from typing import Final

from estate.domain.findings import Severity
from estate.domain.rules.catalogue import CATALOGUE
from estate.domain.rules.checking import COMMON_PRACTICE, OWN_FACT
from estate.domain.rules.values import RuleSet, RuleSource, RuleValue

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
_SINCE: Final = date(2026, 11, 25)


def _own(key: str, value: float | str, note: str) -> RuleValue:
    unit = CATALOGUE[key].unit
    return RuleValue(key, value, unit, RuleSource(COMMON_PRACTICE), OWN_FACT, False, _SINCE, note)


def _published(key: str, value: float, document: str, fact: str) -> RuleValue:
    unit, source = CATALOGUE[key].unit, RuleSource(document, "seen second-hand")
    return RuleValue(key, value, unit, source, fact, False, _SINCE)


DEFAULTS: Final[Mapping[str, RuleValue]] = MappingProxyType(
    {
        each.key: each
        for each in (
            _own(TARGETS[Severity.OUT_OF_USE], 7, "The outlet itself is out of use at once."),
            _own(TARGETS[Severity.PUT_RIGHT], 28, "With the retest."),
            _own(TARGETS[Severity.WATCH], 91, "Only of actions opened by hand."),
            _own(TARGETS[Severity.NOTE], 182, "Only of actions opened by hand."),
            _own(ESCALATES, 7, "Days past the target date before the second person is told."),
            _own(FIRST_TOLD, "the estates manager", ""),
            _own(THEN_TOLD, "the responsible person for water safety", ""),
            _published(FLUSHED, 7, "HSE, L8 checklist: little-used outlets weekly", "HSE-08"),
            _published(SHOWER_CLEANED, 3, "HSE, L8 checklist: shower heads and hoses", "HSE-07"),
            _published(REVIEWED, 12, "HSE, HSG274 Part 2, Table 2.1: is the valve needed", "HSE-09"),
        )
    }
)
"""What holds where neither the rule set nor the site has a value of its own."""


def policy_value(rules: RuleSet, key: str) -> RuleValue:
    """The value in force of a key of `DEFAULTS`: the site's own or the rule set's, else the default."""
    return rules.get(key) or DEFAULTS[key]


@dataclass(frozen=True, slots=True)
class Escalation:
    """Who is to be told of a late action, and why."""

    whom: str
    words: str


def target_day(rules: RuleSet, severity: Severity, on: date) -> date:
    """The day by which a finding of a day is to be done."""
    return on + timedelta(days=policy_value(rules, TARGETS[severity]).number)


def escalation(rules: RuleSet, days_late: int) -> Escalation | None:
    """Who is to be told of an action that is late; None in time."""
    if days_late <= 0:
        return None
    after = policy_value(rules, ESCALATES)
    told = policy_value(rules, THEN_TOLD if days_late > after.number else FIRST_TOLD)
    late = f"{days_late} day{'s' if days_late > 1 else ''} past its target date"
    return Escalation(str(told.value), f"{late}: tell {told.value} [{told.shown_source}]")
