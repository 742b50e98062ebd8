from dataclasses import replace
from datetime import date
from types import MappingProxyType

import pytest

from estate.domain.findings import Severity
from estate.domain.life.policy import (
    ESCALATES,
    FIRST_TOLD,
    TARGETS,
    THEN_TOLD,
    escalation,
    target_day,
)
from estate.domain.rules.values import RuleSet
from tests.builders import healthcare

DAY = date(2026, 11, 2)


def with_value(key: str, value: float) -> RuleSet:
    rules = healthcare()
    own = replace(rules.values[key], value=value)
    return replace(rules, values=MappingProxyType({**rules.values, key: own}))


def without(*keys: str) -> RuleSet:
    rules = healthcare()
    left = {key: each for key, each in rules.values.items() if key not in keys}
    return replace(rules, values=MappingProxyType(left))


def test_that_a_severity_has_its_target_day() -> None:
    rules = healthcare()
    assert {severity: target_day(rules, severity, DAY) for severity in Severity} == {
        Severity.OUT_OF_USE: date(2026, 11, 9),
        Severity.PUT_RIGHT: date(2026, 11, 30),
        Severity.WATCH: date(2027, 2, 1),
        Severity.NOTE: date(2027, 5, 3),
    }


def test_that_a_blank_target_gives_no_day() -> None:
    assert target_day(without(TARGETS[Severity.WATCH]), Severity.WATCH, DAY) is None


def test_that_a_value_laid_over_the_rule_set_holds() -> None:
    key = TARGETS[Severity.PUT_RIGHT]
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


@pytest.mark.parametrize(
    ("blank", "whom"),
    [
        ((FIRST_TOLD,), "the responsible person for water safety"),
        ((THEN_TOLD,), "the estates manager"),
        ((ESCALATES,), "the estates manager"),
        ((FIRST_TOLD, THEN_TOLD), "nobody is named"),
    ],
)
def test_that_a_late_action_is_never_passed_over_where_the_rules_leave_blanks(
    blank: tuple[str, ...], whom: str
) -> None:
    found = escalation(without(*blank), 30)
    assert found is not None
    assert found.whom == whom
    assert "30 days past its target date" in found.words
