from datetime import date, timedelta

import pytest

from estate.domain.learned import GroupParameters
from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.scheduler.learning import expected_reading, group_names
from estate.scheduler.life import ValveLife

BEGAN = date(2025, 1, 6)
GROUP = GroupParameters("A15", 0.02, 0.02, 0.1, 0.2, 2.0, 40.0, 30, 200, BEGAN, "1")
BEGINNING = VisitDraft(1, 1, VisitKind.COMMISSIONING, BEGAN, Readings(left_c=41.0))
UNREAD = VisitDraft(1, 1, VisitKind.IN_SERVICE, BEGAN, Readings(hot_c=60.0))


def test_that_the_narrowest_group_comes_first() -> None:
    names = group_names("Make A A15", "Marlpit Cross")
    assert names == ("Make A A15 at Marlpit Cross", "Make A A15", "the whole estate")


def test_that_the_interval_expected_follows_the_drift_and_grows_with_time() -> None:
    life = ValveLife(None, (BEGINNING,))
    at_once, later = (expected_reading(life, GROUP, BEGAN + timedelta(weeks=weeks)) for weeks in (0, 50))
    assert at_once is not None
    assert later is not None
    assert sum(at_once) / 2 == pytest.approx(41.0)
    assert sum(later) / 2 == pytest.approx(42.0)
    assert later[1] - later[0] > at_once[1] - at_once[0]


@pytest.mark.parametrize("visits", [(), (UNREAD,)])
def test_that_nothing_is_expected_of_a_valve_never_read(visits: tuple[VisitDraft, ...]) -> None:
    assert expected_reading(ValveLife(None, visits), GROUP, BEGAN) is None


def test_that_nothing_is_expected_before_the_last_visit() -> None:
    assert expected_reading(ValveLife(None, (BEGINNING,)), GROUP, BEGAN - timedelta(days=1)) is None
