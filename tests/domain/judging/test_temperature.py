from dataclasses import replace

import pytest

from estate.domain.findings import Outcome, Severity, Verdict
from estate.domain.judging.judge import judge
from estate.domain.places import Use, UserGroup
from estate.domain.visits import VisitKind
from tests.builders import case, check, draft, healthcare, instrument, outlet, valve


def test_that_a_full_test_in_good_order_is_satisfactory() -> None:
    judgement = judge(case())
    assert judgement.verdict is Verdict.SATISFACTORY
    assert not judgement.findings
    assert not [each for each in judgement.not_tested if each.required]


def test_that_water_left_above_the_ceiling_takes_the_outlet_out_of_use() -> None:
    judgement = judge(case(draft(found_c=44.2, left_c=44.2)))
    left = check(judgement, "left-above-ceiling")
    assert judgement.verdict is Verdict.OUT_OF_USE
    assert (left.measured, left.limit, left.retest_weeks) == (44.2, 43.0, (0.0, 0.0))
    assert "burn" in left.words
    assert "sign" in left.action
    assert left.source.startswith("D08-32")


def test_that_robust_staff_have_it_put_right_instead() -> None:
    judgement = judge(case(draft(found_c=44.2, left_c=44.2), users=UserGroup.STAFF))
    assert check(judgement, "left-above-ceiling").severity is Severity.PUT_RIGHT


def test_that_a_valve_found_hot_and_set_back_is_watched_and_tested_again_soon() -> None:
    found = check(judge(case(draft(found_c=43.9, left_c=41.0, adjusted=True))), "found-above-ceiling")
    assert found.severity is Severity.WATCH
    assert found.retest_weeks == (6.0, 8.0)
    assert "re-adjusted to 41.0" in found.words


def test_that_a_valve_found_hot_with_no_as_left_value_is_not_taken_as_set_back() -> None:
    judgement = judge(case(draft(found_c=43.9, left_c=None, adjusted=True)))
    assert check(judgement, "found-above-ceiling").severity is Severity.OUT_OF_USE


@pytest.mark.parametrize(
    ("left", "outcome", "severity"),
    [
        (42.4, Outcome.MET, None),
        (42.6, Outcome.NOT_MET, Severity.WATCH),
        (43.0, Outcome.NOT_MET, Severity.WATCH),
        (43.3, Outcome.NOT_MET, Severity.OUT_OF_USE),
        (43.6, Outcome.NOT_MET, Severity.OUT_OF_USE),
    ],
)
def test_that_the_measurement_uncertainty_guards_the_ceiling(
    left: float, outcome: Outcome, severity: Severity | None
) -> None:
    """ILAC-G8 4.2.3 with w = 2u = 0.5 K around 43 °C."""
    found = check(judge(case(draft(found_c=left, left_c=left))), "left-above-ceiling")
    assert (found.outcome, found.severity) == (outcome, severity)


def test_that_without_a_known_uncertainty_the_limit_itself_decides() -> None:
    known = judge(case(draft(found_c=42.9, left_c=42.9), instrument=instrument(u=None)))
    assert check(known, "left-above-ceiling").outcome is Outcome.MET


def test_that_nothing_adjusted_means_left_as_found() -> None:
    judgement = judge(case(draft(found_c=41.2, left_c=None, adjusted=False)))
    assert check(judgement, "left-above-ceiling").measured == 41.2


def test_that_a_set_temperature_off_by_more_than_the_tolerance_is_noted() -> None:
    found = check(judge(case(draft(found_c=38.8, left_c=38.8))), "left-off-set")
    assert (found.severity, found.limit) == (Severity.NOTE, 41.0)


def test_that_a_bath_above_44_is_watched_for_people_at_risk_and_not_for_staff() -> None:
    hot_bath = draft(found_c=45.0, left_c=45.0)
    found = check(judge(case(hot_bath, use=Use.ASSISTED_BATH)), "bath-above-immersion-limit")
    assert (found.severity, found.limit) == (Severity.WATCH, 44.0)
    assert "supervises" in found.action
    codes = [each.code for each in judge(case(hot_bath, use=Use.BATH, users=UserGroup.STAFF)).checks]
    assert "bath-above-immersion-limit" not in codes


def test_that_a_bath_at_44_is_within_the_immersion_limit() -> None:
    found = check(judge(case(draft(found_c=44.0, left_c=44.0), use=Use.BATH)), "bath-above-immersion-limit")
    assert found.outcome is Outcome.MET


def test_that_a_group_valve_is_held_to_its_strictest_outlet() -> None:
    served = (outlet(Use.BATH), outlet(Use.BIDET, id=2))
    found = check(judge(case(draft(found_c=41.0, left_c=41.0), outlets=served)), "left-above-ceiling")
    assert (found.limit, found.outcome) == (40.0, Outcome.NOT_MET)


def test_that_a_use_without_a_published_limit_takes_the_valves_own_set_temperature() -> None:
    own = case(draft(found_c=40.9, left_c=40.9), use=Use.HAIR_WASH, valve=valve(38.0))
    found = check(judge(own), "left-above-ceiling")
    assert (found.limit, found.outcome) == (40.0, Outcome.NOT_MET)
    assert "own set temperature" in found.source
    assert "D08-35" in found.source


def test_that_a_use_without_any_limit_is_not_tested() -> None:
    judgement = judge(case(use=Use.OTHER, valve=valve(None)))
    assert judgement.verdict is Verdict.NOT_TESTED
    assert check(judgement, "left-above-ceiling").outcome is Outcome.NOT_TESTED


def test_that_a_group_valve_with_one_use_unlimited_has_no_ceiling() -> None:
    served = (outlet(Use.BASIN), outlet(Use.OTHER, id=2))
    found = check(judge(case(outlets=served, valve=valve(None))), "left-above-ceiling")
    assert found.outcome is Outcome.NOT_TESTED


def test_that_commissioning_asks_for_no_as_found_value() -> None:
    judgement = judge(case(draft(kind=VisitKind.COMMISSIONING, found_c=None)))
    codes = {each.code for each in judgement.checks}
    assert judgement.verdict is Verdict.SATISFACTORY
    assert not codes & {"found-above-ceiling", "changed-since-previous", "changed-since-reference"}


def test_that_a_hot_smaller_draw_off_is_a_failure_too() -> None:
    found = check(judge(case(draft(small_draw_c=44.0))), "small-draw-above-ceiling")
    assert found.severity is Severity.OUT_OF_USE


def test_that_a_rule_set_without_a_tolerance_does_not_judge_the_setting() -> None:
    rules = healthcare()
    values = {key: value for key, value in rules.values.items() if key != "mixed.set-tolerance"}
    judgement = judge(case(draft(found_c=38.0, left_c=38.0), rules=replace(rules, values=values)))
    found = check(judgement, "left-off-set")
    assert found.outcome is Outcome.NOT_TESTED
    assert "to be filled in by the site, with its source" in found.words
