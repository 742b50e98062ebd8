"""The published in-service test frequency, TMV3 scheme guide as reproduced in makers' manuals.

Source: "in the absence of any other instruction or guidance", facts D08-80 to D08-86 and the change
triggers D08-72, D08-74; second-hand (S2). The values stand here as published, apart from the rule files.
"""

from datetime import date, timedelta

import pytest

from estate.domain.findings import Outcome, Severity
from estate.domain.judging.judge import judge
from estate.domain.stages import Change, Stage, next_stage, third_stage
from estate.domain.visits import VisitKind
from estate.scheduler.interval import plan
from estate.scheduler.life import ValveLife
from tests.builders import case, check, draft, healthcare

BEGAN = date(2026, 1, 5)
N, S, L = Change.NONE, Change.SMALL, Change.LARGE
LONG, SHORT = (24.0, 28.0), (18.0, 21.0)
TRUTH = [
    (N, N, LONG),  # D08-82 (a)
    (N, S, LONG),  # D08-83 (b)
    (S, N, LONG),  # D08-83 (b)
    (S, S, SHORT),  # D08-84 (c)
    (L, N, SHORT),  # D08-85 (d), over (a)
    (N, L, SHORT),
    (L, S, SHORT),
    (S, L, SHORT),
    (L, L, SHORT),
]
FOUND = {N: 41.4, S: 42.5, L: 43.6}


@pytest.mark.parametrize(("first", "second", "weeks"), TRUTH)
def test_that_the_third_test_follows_the_truth_table(
    first: Change, second: Change, weeks: tuple[float, float]
) -> None:
    tests = [(BEGAN + timedelta(weeks=7), first), (BEGAN + timedelta(weeks=13), second)]
    found = next_stage(healthcare(), BEGAN, tests)
    assert found is not None
    assert (found[0], found[1]) == (third_stage(first, second), weeks)


@pytest.mark.parametrize(("first", "second", "weeks"), TRUTH)
def test_that_the_truth_table_reaches_the_planned_window(
    first: Change, second: Change, weeks: tuple[float, float]
) -> None:
    """The same table by way of readings: each test re-adjusted to 41.0, judged, planned."""
    visits = (
        draft(BEGAN, VisitKind.COMMISSIONING, found_c=None, left_c=41.0),
        draft(BEGAN + timedelta(weeks=7), found_c=FOUND[first], left_c=41.0, adjusted=True),
        draft(BEGAN + timedelta(weeks=13), found_c=FOUND[second], left_c=41.0, adjusted=True),
    )
    window = plan(ValveLife(BEGAN, visits), healthcare(), visits[-1].on)
    stage = next(each for each in window.candidates if each.reason.code == "stage-3")
    assert stage.not_before == BEGAN + timedelta(weeks=weeks[0])
    assert stage.not_after == BEGAN + timedelta(weeks=weeks[1])
    assert stage.reason.source.startswith("D08-8")


@pytest.mark.parametrize(
    ("made", "stage", "weeks"), [((), Stage.FIRST, (6.0, 8.0)), ((7,), Stage.SECOND, (12.0, 15.0))]
)
def test_that_the_first_two_tests_have_their_published_windows(
    made: tuple[int, ...], stage: Stage, weeks: tuple[float, float]
) -> None:
    """D08-80: test 1 at 6 to 8 weeks; D08-81: test 2 at 12 to 15 weeks, from commissioning."""
    tests = [(BEGAN + timedelta(weeks=each), N) for each in made]
    assert next_stage(healthcare(), BEGAN, tests) == (stage, weeks)


@pytest.mark.parametrize(
    ("found", "code", "severity"),
    [(42.1, "changed-since-previous", Severity.WATCH), (43.1, "changed-since-previous", Severity.PUT_RIGHT)],
)
def test_that_changes_over_1_k_and_2_k_trigger(found: float, code: str, severity: Severity) -> None:
    """D08-72: over 1 K from the previous test; 1.7 and D08-74: over 2 K needs service."""
    reference = draft(BEGAN, VisitKind.COMMISSIONING, found_c=None, left_c=41.0)
    judgement = judge(case(draft(found_c=found, left_c=41.0, adjusted=True), reference=reference))
    assert (check(judgement, code).outcome, check(judgement, code).severity) == (Outcome.NOT_MET, severity)
