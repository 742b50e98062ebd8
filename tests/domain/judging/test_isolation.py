from dataclasses import replace
from typing import Any

import pytest

from estate.domain.findings import Outcome, Severity, Verdict
from estate.domain.judging.judge import judge
from estate.domain.places import UserGroup
from estate.domain.visits import Isolation
from tests.builders import GOOD, case, check, draft, healthcare, valve

COLD = GOOD.cold_isolated


def cold(**fields: Any) -> Isolation:
    return replace(COLD, **fields)


def test_that_too_much_flow_of_unknown_temperature_takes_the_outlet_out_of_use() -> None:
    isolated = Isolation(residual_ml_min=300.0)
    judgement = judge(case(draft(cold_isolated=isolated)))
    flow = check(judgement, "cold-isolated-flow")
    assert judgement.verdict is Verdict.OUT_OF_USE
    assert (flow.measured, flow.limit, flow.unit) == (300.0, 120.0, "ml/min")
    assert "TP-02" in flow.source


def test_that_too_much_flow_known_to_be_cool_enough_is_put_right() -> None:
    isolated = cold(residual_ml_min=300.0, residual_c=41.0, stabilised_c=41.0)
    assert (
        check(judge(case(draft(cold_isolated=isolated))), "cold-isolated-flow").severity is Severity.PUT_RIGHT
    )


@pytest.mark.parametrize("flow", [0.0, 40.0, 120.0])
def test_that_a_flow_up_to_the_limit_passes(flow: float) -> None:
    found = check(judge(case(draft(cold_isolated=cold(residual_ml_min=flow)))), "cold-isolated-flow")
    assert found.outcome is Outcome.MET


def test_that_a_tick_alone_is_no_measurement() -> None:
    judgement = judge(case(draft(cold_isolated=Isolation(said_to_shut=True))))
    flow = check(judgement, "cold-isolated-flow")
    assert judgement.verdict is Verdict.NOT_TESTED
    assert (flow.outcome, flow.required) == (Outcome.NOT_TESTED, True)
    assert flow.retest_weeks == (0.0, 4.0)


def test_that_the_testers_no_counts_even_without_a_measurement() -> None:
    judgement = judge(case(draft(cold_isolated=Isolation(said_to_shut=False))))
    assert judgement.verdict is Verdict.OUT_OF_USE
    contradicting = judge(case(draft(cold_isolated=cold(said_to_shut=False))))
    assert check(contradicting, "cold-isolated-flow").outcome is Outcome.NOT_MET


def test_that_the_stabilised_temperature_alone_proves_the_shut_off() -> None:
    judgement = judge(case(draft(cold_isolated=Isolation(stabilised_c=42.0))))
    assert judgement.verdict is Verdict.SATISFACTORY
    flow = check(judgement, "cold-isolated-flow")
    assert (flow.outcome, flow.required) == (Outcome.NOT_TESTED, False)


def test_that_a_stabilised_temperature_above_the_limit_fails() -> None:
    judgement = judge(case(draft(cold_isolated=cold(stabilised_c=43.4))))
    found = check(judgement, "cold-isolated-stabilised")
    assert (found.severity, found.limit) == (Severity.OUT_OF_USE, 43.0)
    assert check(
        judge(case(draft(cold_isolated=cold(stabilised_c=43.4)), users=UserGroup.STAFF)), found.code
    ).severity is (Severity.PUT_RIGHT)


def test_that_the_strictest_of_ceiling_and_set_plus_two_is_shown() -> None:
    found = check(
        judge(case(draft(cold_isolated=cold(stabilised_c=41.5)), valve=valve(39.0))),
        "cold-isolated-stabilised",
    )
    assert (found.limit, found.outcome) == (41.0, Outcome.NOT_MET)
    assert "D08-91" in found.source


def test_that_a_valve_without_a_set_temperature_is_held_to_its_use() -> None:
    found = check(judge(case(valve=valve(None))), "cold-isolated-stabilised")
    assert found.limit == 43.0


def test_that_a_dry_outlet_has_nothing_to_stabilise() -> None:
    found = check(
        judge(case(draft(cold_isolated=Isolation(residual_ml_min=0.0)))), "cold-isolated-stabilised"
    )
    assert found.outcome is Outcome.NOT_TESTED
    assert "nothing flowed" in found.words


def test_that_a_peak_above_the_ceiling_is_watched() -> None:
    """Above it only briefly (D08-38)."""
    found = check(judge(case(draft(cold_isolated=cold(max_c=43.6)))), "cold-isolated-highest")
    assert found.severity is Severity.WATCH


def test_that_a_peak_two_kelvin_above_the_last_one_asks_for_service() -> None:
    last = draft(cold_isolated=cold(max_c=40.0))
    at_edge = judge(case(draft(cold_isolated=cold(max_c=42.0)), previous=last))
    assert check(at_edge, "cold-isolated-rise").outcome is Outcome.MET
    over = judge(case(draft(cold_isolated=cold(max_c=42.1)), previous=last))
    assert check(over, "cold-isolated-rise").severity is Severity.PUT_RIGHT


@pytest.mark.parametrize("supply", ["cold", "hot"])
def test_that_a_slow_shut_off_is_put_right(supply: str) -> None:
    slow: dict[str, Any] = {f"{supply}_isolated": replace(COLD, shut_s=5.1)}
    found = check(judge(case(draft(**slow))), f"{supply}-isolated-time")
    assert (found.severity, found.limit) == (Severity.PUT_RIGHT, 5.0)


def test_that_the_hot_side_is_judged_when_it_was_measured() -> None:
    passing = judge(case(draft(hot_isolated=Isolation(residual_ml_min=500.0))))
    assert check(passing, "hot-isolated-flow").severity is Severity.PUT_RIGHT
    told = judge(case(draft(hot_isolated=Isolation(said_to_shut=False))))
    assert check(told, "hot-isolated-flow").severity is Severity.PUT_RIGHT
    missing = judge(case(draft(hot_isolated=Isolation())))
    assert check(missing, "hot-isolated-flow").outcome is Outcome.NOT_TESTED
    assert missing.verdict is Verdict.SATISFACTORY


def test_that_without_a_residual_rule_the_ceiling_stands_alone() -> None:
    rules = healthcare()
    values = {key: value for key, value in rules.values.items() if key != "isolation.residual-over-set"}
    found = check(
        judge(case(rules=replace(rules, values=values), valve=valve(39.0))), "cold-isolated-stabilised"
    )
    assert found.limit == 43.0
