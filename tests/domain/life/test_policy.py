from dataclasses import replace
from datetime import date
from types import MappingProxyType

import pytest

from estate.domain.findings import Severity
from estate.domain.life.policy import DEFAULTS, ESCALATES, TARGETS, escalation, policy_value, target_day
from estate.domain.rules.catalogue import CATALOGUE
from estate.domain.rules.values import RuleSet, RuleValue
from tests.builders import healthcare

DAY = date(2026, 11, 2)


def with_value(key: str, value: float) -> RuleSet:
    rules = healthcare()
    own = replace(DEFAULTS[key], value=value)
    return replace(rules, values=MappingProxyType({**rules.values, key: own}))


@pytest.mark.parametrize("default", DEFAULTS.values(), ids=lambda each: each.key)
def test_that_each_default_may_stand_and_says_that_it_has_no_source_or_is_unverified(
    default: RuleValue,
) -> None:
    entry = CATALOGUE[default.key]
    assert entry.accepts(default.value)
    assert default.unit == entry.unit
    assert "not verified in the source" in default.shown_source
    assert "common practice, no source" in default.shown_source or default.fact.startswith("HSE-")


def test_that_every_key_of_actions_upkeep_and_reviews_has_a_default() -> None:
    wanted = {key for key in CATALOGUE if key.startswith(("action.", "care.", "review."))}
    assert wanted == set(DEFAULTS)


def test_that_a_severity_has_its_target_day() -> None:
    rules = healthcare()
    days = {severity: (target_day(rules, severity, DAY) - DAY).days for severity in Severity}
    assert days == {
        Severity.OUT_OF_USE: 7,
        Severity.PUT_RIGHT: 28,
        Severity.WATCH: 91,
        Severity.NOTE: 182,
    }


def test_that_a_value_of_the_rule_set_comes_before_the_default() -> None:
    key = TARGETS[Severity.PUT_RIGHT]
    assert policy_value(with_value(key, 14), key).number == 14
    assert target_day(with_value(key, 14), Severity.PUT_RIGHT, DAY) == date(2026, 11, 16)


@pytest.mark.parametrize(
    ("late", "whom"),
    [(1, "the estates manager"), (7, "the estates manager"), (8, "the responsible person for water safety")],
)
def test_that_a_late_action_is_told_to_one_person_then_to_the_next(late: int, whom: str) -> None:
    found = escalation(healthcare(), late)
    assert found is not None
    assert found.whom == whom
    assert found.words.startswith(f"{late} day{'s' if late > 1 else ''} past its target date: tell {whom} [")


def test_that_nobody_is_told_in_time() -> None:
    assert escalation(healthcare(), 0) is None
    at_once = escalation(with_value(ESCALATES, 0), 1)
    assert at_once is not None
    assert at_once.whom == "the responsible person for water safety"
