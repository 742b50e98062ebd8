"""A rule set without a limit passes nothing, and says that the limit is missing, not the measurement."""

from collections.abc import Iterable
from dataclasses import replace

import pytest

from estate.domain.findings import Outcome, Verdict
from estate.domain.judging.judge import judge
from estate.domain.places import Use
from estate.domain.rules.values import RuleSet
from estate.domain.visits import Isolation
from estate.operations.open_register import published_rule_sets
from tests.builders import case, check, draft, healthcare, outlet, valve

FILL_IN = "to be filled in by the site, with its source"


def without(*keys: str) -> RuleSet:
    """The healthcare rules with some keys blank."""
    rules = healthcare()
    return replace(rules, values={key: each for key, each in rules.values.items() if key not in keys})


@pytest.mark.parametrize(
    ("keys", "code", "said"),
    [
        (("mixed.set-tolerance",), "left-off-set", "As left 41.1 °C, set temperature 41.0 °C"),
        (("change.small", "change.large"), "changed-since-previous", "Changed by +0.0 K from 41.1 °C"),
        (("isolation.residual-flow",), "cold-isolated-flow", "0 ml/min measured"),
        (("isolation.residual-flow",), "hot-isolated-flow", "0 ml/min measured"),
        (("isolation.wait",), "cold-isolated-time", "1.5 s measured"),
        (("isolation.wait",), "hot-isolated-time", "1.5 s measured"),
        (("isolation.max-rise",), "cold-isolated-rise", "41.6 °C measured"),
    ],
)
def test_that_a_measured_value_without_a_limit_is_not_tested_and_says_why(
    keys: Iterable[str], code: str, said: str
) -> None:
    found = check(judge(case(rules=without(*keys))), code)
    assert found.outcome is Outcome.NOT_TESTED
    assert found.words.startswith(said)
    assert FILL_IN in found.words
    assert (found.limit, found.source) == (None, "")


def test_that_one_of_two_limits_of_a_change_is_enough_to_judge_by() -> None:
    moved = case(draft(found_c=43.5, left_c=41.1), rules=without("change.small"))
    assert check(judge(moved), "changed-since-previous").outcome is Outcome.NOT_MET
    moved = case(draft(found_c=42.5, left_c=41.1), rules=without("change.large"))
    assert check(judge(moved), "changed-since-previous").outcome is Outcome.NOT_MET


def test_that_strainers_without_an_interval_say_so_unless_cleaned() -> None:
    rules = without("strainers.interval")
    left = check(
        judge(case(draft(strainers_cleaned=False), rules=rules, strainers_due=None)), "strainers-overdue"
    )
    assert (left.outcome, FILL_IN in left.words) == (Outcome.NOT_TESTED, True)
    assert check(judge(case(rules=rules)), "strainers-overdue").outcome is Outcome.MET


def test_that_a_valve_said_not_to_shut_fails_without_any_limit() -> None:
    open_ = Isolation(residual_ml_min=500.0, said_to_shut=False)
    judgement = judge(
        case(draft(cold_isolated=open_, hot_isolated=open_), rules=without("isolation.residual-flow"))
    )
    assert check(judgement, "cold-isolated-flow").outcome is Outcome.NOT_MET
    assert check(judgement, "hot-isolated-flow").outcome is Outcome.NOT_MET


def test_that_a_reading_without_a_ceiling_asks_for_the_limit_and_not_for_the_measurement() -> None:
    rules, none_set = published_rule_sets()["ie-healthcare"], valve(None)
    judgement = judge(case(rules=rules, valve=none_set, outlets=(outlet(),)))
    for code in ("found-above-ceiling", "left-above-ceiling", "small-draw-above-ceiling"):
        found = check(judgement, code)
        assert (found.outcome, found.required) == (Outcome.NOT_TESTED, True)
        assert "fill in the limit with its source" in found.action
    for code in ("cold-isolated-highest", "cold-isolated-stabilised"):
        assert FILL_IN in check(judgement, code).words
    assert judgement.verdict is Verdict.NOT_TESTED


@pytest.mark.parametrize("left_c", [30.0, 41.0, 60.0])
def test_that_nothing_is_satisfactory_where_every_limit_is_blank(left_c: float) -> None:
    rules = published_rule_sets()["ie-healthcare"]
    for use in Use:
        judgement = judge(case(draft(found_c=left_c, left_c=left_c), rules=rules, valve=valve(None), use=use))
        assert not judgement.verdict.satisfactory


def test_that_a_missing_measurement_stays_one_where_the_limit_is_blank_too() -> None:
    rules = published_rule_sets()["ie-healthcare"]
    bare = draft(
        found_c=None, left_c=None, small_draw_c=None, cold_isolated=Isolation(), hot_isolated=Isolation()
    )
    judgement = judge(case(bare, rules=rules))
    assert "was not measured" in check(judgement, "left-above-ceiling").words
    assert check(judgement, "left-above-ceiling").action == "Make the missing measurement."
    assert check(judgement, "cold-isolated-flow").words == "Shut-off with the cold isolated: not measured."
    assert FILL_IN not in check(judgement, "cold-isolated-highest").words


def test_that_a_limit_in_fahrenheit_is_met_by_a_reading_taken_at_it() -> None:
    rules = published_rule_sets()["us-ny-nursing"]
    at_limit = (110 - 32) * 5 / 9
    for value, outcome in ((at_limit, Outcome.MET), (43.34, Outcome.NOT_MET), (43.3, Outcome.MET)):
        judgement = judge(case(draft(found_c=value, left_c=value), rules=rules, instrument=None))
        found = check(judgement, "left-above-ceiling")
        assert found.outcome is outcome
        assert "published as 110 °F" in found.source
    assert (
        "As left 43.34 °C, ceiling 43.33 °C"
        in check(judge(case(draft(left_c=43.34), rules=rules, instrument=None)), "left-above-ceiling").words
    )
