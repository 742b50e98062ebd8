from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estate.domain.findings import Judgement
from estate.domain.judging.judge import judge
from estate.domain.visits import Isolation, VisitDraft, VisitKind
from estate.operations.open_register import published_rule_sets
from estate.scheduler.interval import plan
from estate.scheduler.life import ValveLife, shown_interval
from tests.builders import TODAY, case, draft, healthcare

BEGAN = date(2024, 1, 8)
REFERENCE = draft(BEGAN, VisitKind.COMMISSIONING, found_c=None, left_c=41.0)


def week(number: float) -> date:
    return BEGAN + timedelta(days=round(number * 7))


def steady(number: float, found: float = 41.2) -> VisitDraft:
    return draft(week(number), found_c=found, left_c=found)


def life(*visits: VisitDraft, judgement: Judgement | None = None) -> ValveLife:
    return ValveLife(BEGAN, (REFERENCE, *visits), judgement)


def test_that_a_valve_never_tested_is_due_since_it_was_fitted() -> None:
    window = plan(ValveLife(BEGAN, ()), healthcare(), TODAY)
    assert (window.reason.code, window.not_after) == ("never-tested", BEGAN)
    assert window.days_late(TODAY) == (TODAY - BEGAN).days


def test_that_a_valve_never_tested_of_unknown_age_is_due_today() -> None:
    assert plan(ValveLife(None, ()), healthcare(), TODAY).not_after == TODAY


def test_that_a_valve_never_tested_has_no_tests() -> None:
    never = ValveLife(BEGAN, ())
    assert (never.reference, never.tests, shown_interval(never, healthcare())) == (None, (), None)


def test_that_after_commissioning_the_first_stage_binds() -> None:
    window = plan(life(), healthcare(), TODAY)
    assert (window.reason.code, window.not_before, window.not_after) == ("stage-1", week(6), week(8))
    assert "6 to 8 weeks after the commissioning of 8 Jan 2024" in window.reason.words


def test_that_the_stages_restart_after_a_service() -> None:
    serviced = draft(week(40), VisitKind.SERVICE, found_c=None, left_c=41.0)
    window = plan(life(steady(7), steady(13), steady(26), serviced), healthcare(), TODAY)
    assert (window.reason.code, window.not_before, window.not_after) == ("stage-1", week(46), week(48))


def test_that_without_a_commissioning_the_first_visit_is_the_reference() -> None:
    only = ValveLife(None, (steady(0), steady(7)))
    assert plan(only, healthcare(), TODAY).reason.code == "stage-2"


def test_that_after_the_stages_the_interval_shown_binds() -> None:
    window = plan(life(steady(7), steady(13), steady(26)), healthcare(), TODAY)
    assert (window.reason.code, window.not_after) == ("shown-interval", week(52))
    assert window.not_before == week(26) + timedelta(days=round(26 * 7 * 0.857))
    assert window.reason.source.startswith("D08-86")


def test_that_a_valve_re_adjusted_in_its_stages_has_shown_less() -> None:
    adjusted = draft(week(13), found_c=42.3, left_c=41.0, adjusted=True)
    shown = shown_interval(life(steady(7), adjusted, steady(26)), healthcare())
    assert shown == timedelta(weeks=13)


def test_that_an_interval_grows_only_as_tests_show_it() -> None:
    tests = [steady(each) for each in (7, 13, 26, 52, 90)]
    assert shown_interval(life(*tests), healthcare()) == timedelta(weeks=38)


def test_that_a_significant_change_wipes_out_what_was_shown() -> None:
    strayed = draft(week(78), found_c=43.6, left_c=41.0, adjusted=True)
    before = [steady(each) for each in (7, 13, 26, 52)]
    assert shown_interval(life(*before, strayed), healthcare()) is None
    assert shown_interval(life(*before, strayed, steady(90, 41.0)), healthcare()) == timedelta(weeks=12)
    window = plan(life(*before, strayed), healthcare(), TODAY)
    shown = next(each for each in window.candidates if each.reason.code == "shown-interval")
    assert shown.not_after == week(78 + 21)


def test_that_one_late_test_shows_no_long_interval() -> None:
    """The published principle speaks of intervals after the first two or three tests."""
    window = plan(life(steady(45)), healthcare(), TODAY)
    assert (window.reason.code, window.not_after) == ("shown-interval", week(45 + 21))


def test_that_the_rule_sets_longest_interval_is_never_passed() -> None:
    tests = [steady(each) for each in (7, 13, 26, 95)]
    window = plan(life(*tests), healthcare(), TODAY)
    assert (window.reason.code, window.not_after) == ("longest-interval", date(2026, 11, 3))


def test_that_strainers_last_cleaned_long_ago_bind() -> None:
    tests = [
        replace(each, readings=replace(each.readings, strainers_cleaned=False))
        for each in (steady(7), steady(13), steady(26), steady(50))
    ]
    window = plan(life(*tests), healthcare(), TODAY)
    assert (window.reason.code, window.not_after) == ("strainers", date(2025, 1, 8))
    assert "HSE-10" in window.reason.source
    without = replace(life(*tests), has_strainers=False)
    assert plan(without, healthcare(), TODAY).reason.code == "shown-interval"


def test_that_a_failed_shut_off_is_due_before_the_outlet_is_used_again() -> None:
    failed = draft(TODAY, cold_isolated=Isolation(residual_ml_min=500.0))
    window = plan(life(failed, judgement=judge(case(failed))), healthcare(), TODAY)
    assert (window.reason.code, window.not_after) == ("retest-cold-isolated-flow", TODAY)
    assert "before the outlet is used again" in window.reason.words


def test_that_a_missing_measurement_asks_for_the_test_again() -> None:
    visit = draft(TODAY, cold_isolated=Isolation())
    window = plan(life(visit, judgement=judge(case(visit))), healthcare(), TODAY)
    assert (window.reason.code, window.not_after) == ("retest-cold-isolated-flow", TODAY + timedelta(weeks=4))


def test_that_type_2_valves_are_tested_yearly() -> None:
    rules = published_rule_sets()["uk-type2"]
    window = plan(life(steady(20)), rules, TODAY)
    assert (window.reason.code, window.not_after) == ("longest-interval", date(2025, 5, 27))
    assert "T2-07" in window.reason.source


def test_that_a_rule_set_without_any_interval_says_so() -> None:
    rules = healthcare()
    bare = replace(
        rules, values={key: value for key, value in rules.values.items() if key.startswith("mixed")}
    )
    window = plan(life(), bare, TODAY)
    assert (window.reason.code, window.not_after) == ("no-rule", BEGAN)


@given(
    gaps=st.lists(st.integers(1, 120), min_size=1, max_size=12),
    found=st.lists(st.one_of(st.none(), st.floats(36, 48)), min_size=12, max_size=12),
    adjusted=st.lists(st.sampled_from([True, False, None]), min_size=12, max_size=12),
    kinds=st.lists(st.sampled_from(list(VisitKind)), min_size=12, max_size=12),
)
def test_that_no_history_passes_the_longest_interval_or_looks_back(
    gaps: list[int], found: list[float | None], adjusted: list[bool | None], kinds: list[VisitKind]
) -> None:
    """Whatever the data: never later than the maximum, never a window that ends before it opens."""
    visits, number = [REFERENCE], 0.0
    for gap, value, turned, kind in zip(gaps, found, adjusted, kinds, strict=False):
        number += gap
        visits.append(draft(week(number), kind, found_c=value, left_c=value, adjusted=turned))
    window = plan(ValveLife(BEGAN, tuple(visits)), healthcare(), TODAY)
    assert window.not_after <= visits[-1].on + timedelta(days=366)
    assert all(each.not_before <= each.not_after for each in window.candidates)
    assert window.not_after == min(each.not_after for each in window.candidates)


@pytest.mark.parametrize("code", ["stage-1", "longest-interval", "strainers"])
def test_that_every_candidate_says_why_and_by_which_source(code: str) -> None:
    window = plan(life(), healthcare(), TODAY)
    reason = next(each.reason for each in window.candidates if each.reason.code == code)
    assert reason.words.endswith(".")
    assert reason.source.split(":")[0] in ("D08-80", "HSE-10", "T2-07")
