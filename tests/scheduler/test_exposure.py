from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pytest

from estate.domain.learned import GroupParameters
from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.scheduler.estimates import Asked, Estimates
from estate.scheduler.exposure import weeks_above_a_year
from estate.scheduler.fitting import fit_estate
from estate.scheduler.life import ValveLife
from estate.scheduler.lives import lives_of
from estate.scheduler.passage import above
from tests.builders import TODAY

BEGAN = date(2025, 1, 6)
GROUP = GroupParameters("A15", 0.02, 0.02, 0.1, 0.2, 2.0, 40.0, 30, 200, BEGAN, "1")
BEGINNING = VisitDraft(1, 1, VisitKind.COMMISSIONING, BEGAN, Readings(left_c=41.0))
READ = VisitDraft(1, 1, VisitKind.IN_SERVICE, BEGAN + timedelta(weeks=20), Readings(found_c=42.2))
UNREAD = replace(READ, readings=Readings())


def estimates(*lives: ValveLife, ceiling_c: float | None = 43.0) -> Estimates:
    asked = [Asked(ceiling_c, 0.05, 0.02, 120.0)] * len(lives)
    return Estimates(lives_of(lives), [GROUP] * len(lives), asked)


def test_that_time_above_is_the_chance_averaged_over_the_interval() -> None:
    """Against a plain sum over many moments of the interval."""
    known = estimates(ValveLife(None, (BEGINNING, READ)))
    moments = (np.arange(2000) + 0.5) / 2000 * 26
    chances = above(known.state, GROUP.sigma, 43.0, moments)
    found = weeks_above_a_year(known, np.array([26.0]))
    assert found == pytest.approx(chances.mean() * 52.1775, rel=1e-5)


def test_that_only_valves_with_level_ceiling_and_interval_are_counted() -> None:
    read, unread = ValveLife(None, (BEGINNING, READ)), ValveLife(None, (UNREAD,))
    alone = weeks_above_a_year(estimates(read), np.array([26.0]))
    assert weeks_above_a_year(estimates(read, unread, read), np.array([26.0, 26.0, 0.0])) == alone
    assert weeks_above_a_year(estimates(unread), np.array([26.0])) is None
    assert weeks_above_a_year(estimates(read, ceiling_c=None), np.array([26.0])) is None


def test_that_without_a_visit_there_is_nothing_to_fit() -> None:
    nothing = lives_of([ValveLife(BEGAN, ())])
    assert fit_estate(nothing, [("A15 at MX", "A15", "the whole estate")], [120.0], TODAY) == ()
