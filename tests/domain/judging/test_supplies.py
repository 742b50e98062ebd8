from dataclasses import replace

import pytest

from estate.domain.findings import Outcome, Severity, Verdict
from estate.domain.judging.judge import judge
from estate.domain.rules.values import RuleSet
from estate.domain.valves import ModelLimits, SchemeClass
from tests.builders import case, check, draft, healthcare, valve


def without(*keys: str) -> RuleSet:
    rules = healthcare()
    return replace(rules, values={key: value for key, value in rules.values.items() if key not in keys})


def test_that_a_cool_hot_supply_is_put_right_for_legionella() -> None:
    hot = check(judge(case(draft(hot_c=54.9))), "hot-too-cool")
    assert (hot.severity, hot.limit) == (Severity.PUT_RIGHT, 55.0)
    assert hot.source.startswith("HSE-01")
    assert check(judge(case(draft(hot_c=55.0))), "hot-too-cool").outcome is Outcome.MET


@pytest.mark.parametrize(
    ("hot", "outcome"), [(51.9, Outcome.NOT_MET), (52.0, Outcome.MET), (65.1, Outcome.NOT_MET)]
)
def test_that_the_hot_supply_is_held_to_the_class(hot: float, outcome: Outcome) -> None:
    assert check(judge(case(draft(hot_c=hot))), "hot-outside-class").outcome is outcome


def test_that_a_warm_cold_supply_is_watched() -> None:
    judgement = judge(case(draft(cold_c=20.5)))
    assert check(judgement, "cold-too-warm").severity is Severity.WATCH
    assert check(judgement, "cold-outside-class").severity is Severity.WATCH
    assert check(judge(case(draft(cold_c=20.0))), "cold-too-warm").outcome is Outcome.NOT_MET
    assert check(judge(case(draft(cold_c=4.0))), "cold-outside-class").outcome is Outcome.NOT_MET


def test_that_reversed_supplies_stop_use() -> None:
    judgement = judge(case(draft(hot_c=14.0, cold_c=60.0)))
    assert check(judgement, "supplies-reversed").severity is Severity.OUT_OF_USE


def test_that_the_differential_is_held_to_the_models_own_figure() -> None:
    small = check(judge(case(draft(hot_c=60.0, found_c=50.5, left_c=50.5))), "differential-too-small")
    assert (small.severity, small.measured, small.limit) == (Severity.PUT_RIGHT, 9.5, 10.0)
    unknown = judge(case(valve=valve(limits=ModelLimits())))
    assert check(unknown, "differential-too-small").outcome is Outcome.NOT_TESTED


def test_that_pressures_are_held_to_the_designation() -> None:
    judgement = judge(case(draft(hot_flow_bar=0.5, cold_static_bar=10.5)))
    assert check(judgement, "hot-flow-pressure").limit == 1.0
    assert check(judgement, "cold-static-pressure").limit == 10.0
    low = judge(case(draft(hot_flow_bar=0.5), valve=valve(designations=("LP-W",))))
    assert check(low, "hot-flow-pressure").outcome is Outcome.MET
    both = judge(case(draft(hot_flow_bar=0.5), valve=valve(designations=("LP-W", "HP-W"))))
    assert check(both, "hot-flow-pressure").outcome is Outcome.MET


def test_that_without_a_designation_flow_pressures_are_not_judged() -> None:
    judgement = judge(case(valve=valve(designations=())))
    assert check(judgement, "hot-flow-pressure").outcome is Outcome.NOT_TESTED


def test_that_imbalance_is_held_to_the_model_or_common_practice() -> None:
    uneven = draft(hot_flow_bar=1.0, cold_flow_bar=5.5)
    own = check(judge(case(uneven)), "pressure-ratio")
    assert (own.limit, own.measured, own.severity) == (5.0, 5.5, Severity.PUT_RIGHT)
    common = check(judge(case(uneven, valve=valve(limits=ModelLimits()))), "pressure-ratio")
    assert (common.limit, common.outcome) == (10.0, Outcome.MET)
    assert "TP-04" in common.source


def test_that_static_pressures_serve_where_flow_pressures_are_missing() -> None:
    at_rest = draft(hot_flow_bar=None, hot_static_bar=6.0, cold_static_bar=1.0)
    assert check(judge(case(at_rest)), "pressure-ratio").measured == 6.0


@pytest.mark.parametrize("pair", [(None, None), (0.0, 2.0)])
def test_that_a_ratio_that_can_not_be_formed_is_not_tested(pair: tuple[float | None, float | None]) -> None:
    hot, cold = pair
    visit = draft(hot_flow_bar=hot, cold_flow_bar=cold, hot_static_bar=None)
    assert check(judge(case(visit)), "pressure-ratio").outcome is Outcome.NOT_TESTED


def test_that_a_valve_of_unknown_class_has_no_conditions_of_use() -> None:
    judgement = judge(case(valve=valve(scheme_class=None)))
    assert check(judgement, "hot-outside-class").outcome is Outcome.NOT_TESTED
    mechanical = judge(case(valve=valve(scheme_class=SchemeClass.TYPE_1)))
    assert check(mechanical, "cold-outside-class").outcome is Outcome.NOT_TESTED


def test_that_missing_supply_temperatures_are_required() -> None:
    judgement = judge(case(draft(hot_c=None, cold_c=None)))
    assert judgement.verdict is Verdict.NOT_TESTED
    assert {each.code for each in judgement.not_tested if each.required} == {"hot-too-cool", "cold-too-warm"}
    assert check(judgement, "supplies-reversed").outcome is Outcome.NOT_TESTED


def test_that_blank_legionella_limits_are_not_judged() -> None:
    rules = without("hot.legionella-min", "cold.legionella-max")
    judgement = judge(case(draft(hot_c=53.0), rules=rules))
    assert check(judgement, "hot-too-cool").outcome is Outcome.NOT_TESTED
    assert check(judgement, "cold-too-warm").outcome is Outcome.NOT_TESTED
