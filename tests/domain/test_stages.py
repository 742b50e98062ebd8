from datetime import date, timedelta

import pytest

from estate.domain.stages import (
    Change,
    Stage,
    changes_since_setting,
    classify_change,
    next_stage,
    third_stage,
)
from estate.domain.visits import VisitKind
from estate.operations.open_register import published_rule_sets
from tests.builders import draft, healthcare

BEGAN = date(2026, 1, 5)


def week(number: float) -> date:
    return BEGAN + timedelta(days=round(number * 7))


@pytest.mark.parametrize(
    ("change", "expected"),
    [
        (0.99, Change.NONE),
        (1.0, Change.SMALL),
        (-1.0, Change.SMALL),
        (2.0, Change.SMALL),
        (-2.01, Change.LARGE),
    ],
)
def test_that_the_edges_count_as_small(change: float, expected: Change) -> None:
    assert classify_change(change, 1.0, 2.0) is expected


def test_that_a_change_worked_out_in_floating_point_keeps_its_edge() -> None:
    assert classify_change(42.1 - 41.1, 1.0, 2.0) is Change.SMALL
    assert classify_change(43.1 - 41.1, 1.0, 2.0) is Change.SMALL


def test_that_changes_run_from_the_last_setting() -> None:
    reference = draft(BEGAN, VisitKind.COMMISSIONING, found_c=None, left_c=41.0)
    tests = [
        draft(week(7), found_c=42.2, left_c=41.0, adjusted=True),
        draft(week(13), found_c=41.8, left_c=41.8),
        draft(week(26), found_c=43.5, left_c=43.5),
    ]
    assert changes_since_setting(reference, tests, 1.0, 2.0) == (Change.SMALL, Change.NONE, Change.LARGE)


def test_that_a_missing_value_leaves_the_change_unknown_and_the_next_level_counts() -> None:
    reference = draft(BEGAN, VisitKind.COMMISSIONING, found_c=None, left_c=None)
    tests = [draft(week(7), found_c=41.5, left_c=41.5), draft(week(13), found_c=42.6, left_c=42.6)]
    assert changes_since_setting(reference, tests, 1.0, 2.0) == (None, Change.SMALL)


@pytest.mark.parametrize(
    ("weeks", "stage"),
    [
        ([], Stage.FIRST),
        ([3], Stage.FIRST),
        ([5], Stage.SECOND),
        ([7], Stage.SECOND),
        ([7, 9], Stage.SECOND),
        ([13], Stage.THIRD_LONG),
        ([7, 13], Stage.THIRD_LONG),
        ([7, 13, 20], Stage.THIRD_LONG),
        ([7, 13, 24], None),
        ([30], None),
    ],
)
def test_that_a_test_counts_for_the_stage_whose_window_it_reaches(
    weeks: list[int], stage: Stage | None
) -> None:
    """A week early is early enough; a retest between two windows is no stage of its own."""
    found = next_stage(healthcare(), BEGAN, [(week(each), Change.NONE) for each in weeks])
    assert (found[0] if found else None) is stage


def test_that_the_worst_change_of_a_period_decides_its_class() -> None:
    tests = [(week(7), Change.NONE), (week(9), Change.SMALL), (week(13), Change.SMALL)]
    assert next_stage(healthcare(), BEGAN, tests) == (Stage.THIRD_SHORT, (18.0, 21.0))


def test_that_an_unknown_change_counts_as_small() -> None:
    tests = [(week(7), None), (week(13), None)]
    assert next_stage(healthcare(), BEGAN, tests) == (Stage.THIRD_SHORT, (18.0, 21.0))


def test_that_a_rule_set_without_stages_has_none() -> None:
    assert next_stage(published_rule_sets()["uk-type2"], BEGAN, []) is None


def test_that_third_stage_is_symmetrical_except_for_the_order_of_events() -> None:
    for first in Change:
        for second in Change:
            assert third_stage(first, second) is third_stage(second, first)
