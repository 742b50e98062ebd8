from dataclasses import replace
from datetime import timedelta
from typing import Any

import numpy as np
import pytest

from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.scheduler.life import ValveLife
from estate.scheduler.panel import Panel, panel_of
from tests.builders import COMMISSIONED, draft

NEW = draft(COMMISSIONED, VisitKind.COMMISSIONING, Readings(left_c=41.0, adjusted=True))


def after(weeks: float, kind: VisitKind = VisitKind.IN_SERVICE, **readings: Any) -> VisitDraft:
    return draft(COMMISSIONED + timedelta(days=round(7 * weeks)), kind, Readings(**readings))


def one(*visits: VisitDraft) -> Panel:
    return panel_of([ValveLife(COMMISSIONED, visits)])


def test_that_weeks_run_from_the_first_visit_of_each_valve() -> None:
    late = replace(NEW, on=NEW.on + timedelta(days=70))
    found = panel_of([ValveLife(None, (NEW, after(7, found_c=41.2))), ValveLife(None, (late,))])
    assert found.weeks[0].tolist() == [0.0, 7.0]
    assert found.weeks[1, 0] == 0.0
    assert np.isnan(found.weeks[1, 1])
    assert found.count.tolist() == [2, 1]


def test_that_visits_out_of_order_are_put_in_order() -> None:
    found = one(after(13, found_c=41.4), NEW, after(7, found_c=41.2))
    assert found.weeks[0].tolist() == [0.0, 7.0, 13.0]
    assert found.found[0, 1:].tolist() == [41.2, 41.4]


def test_that_two_visits_on_one_day_keep_their_order() -> None:
    found = one(NEW, after(7, found_c=41.3), after(7, found_c=41.2))
    assert found.weeks[0].tolist() == [0.0, 7.0, 7.0]
    assert found.found[0, 1:].tolist() == [41.3, 41.2]


@pytest.mark.parametrize(
    ("visit", "reset"),
    [
        (after(7, found_c=42.0, left_c=41.0), True),
        (after(7, found_c=42.0, left_c=41.0, adjusted=True), True),
        (after(7, found_c=41.2, left_c=41.2, adjusted=True), True),
        (after(7, found_c=41.2, adjusted=True), True),
        (after(7, found_c=41.2, left_c=41.0, adjusted=False), True),
        (after(7, VisitKind.SERVICE, found_c=41.2, left_c=41.2), True),
        (after(7, VisitKind.SERVICE, found_c=41.2), True),
        (after(7, VisitKind.SERVICE, left_c=41.2, adjusted=False), True),
        (after(7, found_c=41.2), False),
        (after(7, found_c=41.2, left_c=41.2), False),
        (after(7, found_c=41.2, adjusted=False), False),
        (after(7, VisitKind.SERVICE, found_c=41.2, left_c=41.2, adjusted=False), False),
        (after(7), False),
    ],
)
def test_that_a_level_begins_only_where_something_was_changed(visit: VisitDraft, reset: bool) -> None:
    found = one(NEW, visit)
    assert bool(found.reset[0, 1]) is reset
    assert bool(found.kind_sets_reference[0, 1]) is (visit.kind is VisitKind.SERVICE)


def test_that_what_was_left_untouched_counts_as_found() -> None:
    found = one(NEW, after(7, left_c=41.2, adjusted=False))
    assert found.found[0, 1] == 41.2
    assert not found.reset[0, 1]


def test_that_what_is_not_a_number_was_not_measured() -> None:
    found = one(NEW, after(7, found_c=float("inf"), left_c=float("nan")))
    assert np.isnan(found.found[0, 1])
    assert not found.reset[0, 1]


def test_that_a_life_without_visits_is_an_empty_row() -> None:
    found = panel_of([ValveLife(None, (NEW,)), ValveLife(None, ())])
    assert found.count.tolist() == [1, 0]
    assert np.isnan(found.weeks[1]).all()
    assert panel_of([ValveLife(None, ())]).weeks.shape == (1, 1)
    assert panel_of([]).weeks.shape == (0, 1)


def test_that_some_rows_keep_only_their_own_visits() -> None:
    lives = [ValveLife(None, (NEW,)), ValveLife(None, (NEW, after(7, found_c=41.2)))]
    some = panel_of(lives).rows(np.array([0]))
    assert some.weeks.shape == (1, 1)
    assert panel_of(lives).rows(np.array([False, True])).found[0, 1] == 41.2
