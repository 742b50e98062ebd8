from datetime import date, timedelta

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estate.domain.stages import next_stage
from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.scheduler.life import ValveLife, shown_interval, stage_changes
from estate.scheduler.panel import panel_of
from estate.scheduler.staging import staged_weeks
from tests.builders import draft, healthcare

BEGAN = date(2024, 1, 1)
RULES = healthcare()
SHORT_THIRD = 21.0


def visit(week: float, found: float | None, left: float | None = None, service: bool = False) -> VisitDraft:
    kind = VisitKind.SERVICE if service else VisitKind.IN_SERVICE
    readings = Readings(found_c=found, left_c=left, adjusted=left is not None)
    return draft(BEGAN + timedelta(round(7 * week)), kind, readings)


def life(*visits: VisitDraft) -> ValveLife:
    began = draft(BEGAN, VisitKind.COMMISSIONING, Readings(left_c=41.0))
    return ValveLife(BEGAN, (began, *visits))


def by_the_domain(one: ValveLife, growth: float = 1.0) -> float:
    """Weeks from the last visit, by the date-wise rules that plan the register."""
    reference, last = one.reference, one.last
    assert reference is not None
    assert last is not None
    coming = next_stage(RULES, reference.on, stage_changes(one, RULES))
    if coming is not None:
        return coming[1][1] - (last.on - reference.on).days / 7
    shown = shown_interval(one, RULES)
    if shown is None or (len(one.tests) < 2 and shown > timedelta(weeks=SHORT_THIRD)):
        return SHORT_THIRD
    return growth * shown.days / 7


HISTORIES = st.lists(
    st.tuples(
        st.integers(1, 30),
        st.sampled_from([None, 39.5, 40.4, 41.0, 41.4, 42.0, 42.4, 43.0, 43.1, 44.0]),
        st.sampled_from([None, None, 41.0, 41.2]),
        st.sampled_from([False, False, False, True]),
    ),
    max_size=8,
)


@settings(max_examples=300, deadline=None)
@given(HISTORIES, st.sampled_from([1.0, 1.5]))
def test_that_the_stages_of_many_valves_are_those_of_each(
    history: list[tuple[int, float | None, float | None, bool]], growth: float
) -> None:
    week, visits = 0, []
    for gap, found, left, service in history:
        week += gap
        visits.append(visit(week, found, left if left is not None or not service else 41.0, service))
    one = life(*visits)
    together = staged_weeks(panel_of([life(), one, life(visit(8, 41.1))]), growth)
    assert together[1] == pytest.approx(by_the_domain(one, growth))
    assert together[0] == 8
    assert together[2] == 7


def test_that_an_undisturbed_valve_goes_through_the_published_weeks() -> None:
    """Tested at the end of each window: weeks 8, 15, 28, then as long as has been shown undisturbed."""
    tests = [visit(8, 41.1), visit(15, 41.2), visit(28, 41.3)]
    lives = [life(*tests[:done]) for done in range(4)]
    assert staged_weeks(panel_of(lives)).tolist() == [8, 7, 13, 28]


def test_that_growth_passes_what_was_shown_by_its_factor_only() -> None:
    tests = [visit(8, 41.1), visit(15, 41.2), visit(28, 41.3)]
    assert staged_weeks(panel_of([life(*tests)]), 1.25)[0] == 35
    assert np.isfinite(staged_weeks(panel_of([life(*tests)]))[0])
