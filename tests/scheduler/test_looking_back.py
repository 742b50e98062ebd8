"""What past days knew of many valves is what each valve alone says of its first visits."""

from datetime import date, timedelta

import numpy as np

from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.scheduler.interval import plan
from estate.scheduler.life import ValveLife
from estate.scheduler.lives import Lives, lives_of
from estate.scheduler.looking_back import last_days, table_until, visits_until
from estate.scheduler.planning import windows_of
from tests.builders import TODAY, healthcare
from tests.scheduler.test_planning import RULE_SETS

BEGAN = date(2025, 1, 6)


def life(*weeks: int) -> ValveLife:
    visits = tuple(
        VisitDraft(
            1,
            1,
            VisitKind.IN_SERVICE if number else VisitKind.COMMISSIONING,
            BEGAN + timedelta(weeks=week),
            Readings(found_c=41.0, left_c=41.0),
        )
        for number, week in enumerate(weeks)
    )
    return ValveLife(BEGAN, visits, None, True)


LIVES = (life(0, 7, 14), life(), life(3), life(0, 7, 7, 30))
TABLE = lives_of(LIVES).table


def test_that_visits_up_to_a_day_are_counted_the_day_itself_included() -> None:
    for weeks in (-1, 0, 3, 7, 13, 14, 30, 99):
        day = BEGAN + timedelta(weeks=weeks)
        counted = [sum(visit.on <= day for visit in each.visits) for each in LIVES]
        assert visits_until(TABLE, day.toordinal()).tolist() == counted


def test_that_the_first_visits_of_valves_are_taken_as_often_as_asked() -> None:
    found = table_until(TABLE, [3, 0, 3, 1], [2, 3, 4, 0])
    assert found.count.tolist() == [2, 3, 4, 0]
    weeks = ((found.day - BEGAN.toordinal()) // 7).tolist()
    assert weeks == [0, 7, 0, 7, 14, 0, 7, 7, 30]


def test_that_windows_of_the_first_visits_end_where_each_valve_alone_ends() -> None:
    rows, counts = [0, 0, 3, 2, 3], [1, 3, 2, 1, 4]
    for rules in (healthcare(), *RULE_SETS):
        lives = Lives(table_until(TABLE, rows, counts), [BEGAN] * 5, [None] * 5, [True] * 5)
        ends = last_days(windows_of(lives, [rules] * 5, TODAY))
        alone = [
            plan(ValveLife(BEGAN, LIVES[row].visits[:count], None, True), rules, TODAY).not_after
            for row, count in zip(rows, counts, strict=True)
        ]
        assert np.array_equal(ends, [each.toordinal() for each in alone])
