from datetime import timedelta

import numpy as np
import pytest

from estate.domain.visits import VisitKind
from estate.scheduler.arrays import Flags, Floats
from estate.scheduler.life import ValveLife
from estate.scheduler.panel import Panel, panel_of
from estate.scheduler.regulation import Regulation, regulation, supplies_of
from estate.scheduler.visit_table import table_of
from tests.builders import COMMISSIONED, draft

SD = 0.25


def panel(found: Floats, left: Floats | None = None, reset: Flags | None = None) -> Panel:
    weeks = np.tile(13.0 * np.arange(found.shape[1]), (len(found), 1))
    none = np.zeros(found.shape, np.bool_)
    left = np.full(found.shape, np.nan) if left is None else left
    return Panel(
        weeks, found, left, none if reset is None else reset, none, np.full(len(found), found.shape[1])
    )


def estate(index: float, valves: int, visits: int, seed: int) -> Regulation:
    """Valves that follow their supplies by `index`, drift, and are read with an error."""
    random = np.random.default_rng(seed)
    hot, cold = random.normal(60, 3, (valves, visits)), random.normal(13, 4, (valves, visits))
    follows = 0.6 * (hot - 60) + 0.4 * (cold - 13)
    drift = np.cumsum(random.normal(0, 0.1, (valves, visits)), axis=1)
    found = 41 + index * follows + drift + random.normal(0, SD, (valves, visits))
    return regulation(panel(found), hot, cold, SD)


@pytest.mark.parametrize("index", [0.0, 0.3, 1.0])
def test_that_the_true_index_lies_in_most_intervals_and_in_the_middle(index: float) -> None:
    found = estate(index, 2000, 10, seed=4)
    covered = np.mean((found.low <= index) & (index <= found.high))
    assert 0.94 < covered < 1
    assert np.mean(found.index) == pytest.approx(index, abs=0.02)


def test_that_a_re_adjustment_does_not_look_like_following_the_supply() -> None:
    """Set 2 K higher when the supply rose: over all readings the index would be 0.29; within settings 0."""
    hot = np.array([[58.0, 61.0, 58.5, 65.0, 62.0, 64.5]])
    found = np.array([[40.0, 40.0, 40.0, 40.0, 42.0, 42.0]])
    left, reset = np.full((1, 6), np.nan), np.zeros((1, 6), np.bool_)
    left[0, 3], reset[0, 3] = 42.0, True
    cold = np.full((1, 6), 13.0)
    assert regulation(panel(found, left, reset), hot, cold, SD).index[0] == pytest.approx(0, abs=1e-12)
    assert regulation(panel(found), hot, cold, SD).index[0] > 0.28


def test_that_an_unmeasured_re_adjustment_still_begins_a_setting() -> None:
    hot = np.array([[56.0, 61.0, 56.0, 65.0, 60.0, 65.0]])
    found = np.array([[40.0, 40.0, 40.0, 42.0, 42.0, 42.0]])
    reset = np.zeros((1, 6), np.bool_)
    reset[0, 2] = True
    found_index = regulation(panel(found, reset=reset), hot, np.full((1, 6), 13.0), SD)
    assert found_index.index[0] == pytest.approx(0, abs=1e-12)
    assert found_index.readings[0] == 6


@pytest.mark.parametrize("spread", [0.0, 0.1, 0.4])
def test_that_nothing_is_said_of_supplies_that_hardly_varied(spread: float) -> None:
    hot = 60 + spread * np.array([[-1.0, 1.0, 0.0, 1.0, -1.0]])
    found = regulation(panel(np.array([[41.0, 41.2, 41.1, 41.0, 41.1]])), hot, np.full((1, 5), 13.0), SD)
    values = [found.slope, found.hot_fraction, found.index, found.low, found.high]
    assert np.isnan(values).all()
    assert found.readings[0] == 5


def test_that_nothing_is_said_of_two_readings_of_one_setting() -> None:
    found = regulation(
        panel(np.array([[41.0, 45.0]])), np.array([[55.0, 65.0]]), np.array([[13.0, 13.0]]), SD
    )
    assert np.isnan(found.index[0])


def test_that_visits_without_both_supplies_are_left_out() -> None:
    nan = np.nan
    hot = np.array([[56.0, nan, 61.0, 65.0, 58.0, 40.0]])
    cold = np.array([[13.0, 13.0, 13.0, 13.0, nan, 41.0]])
    found = regulation(panel(np.array([[41.0, 50.0, 41.0, 41.0, 50.0, 50.0]])), hot, cold, SD)
    assert found.readings[0] == 3
    assert found.index[0] == pytest.approx(0, abs=1e-12)


def test_that_readings_that_agree_by_chance_do_not_narrow_the_interval() -> None:
    """Three readings of exactly 41.0 leave no scatter; their known error still does."""
    hot = np.array([[56.0, 61.0, 65.0]])
    found = regulation(panel(np.full((1, 3), 41.0)), hot, np.full((1, 3), 13.0), SD)
    assert found.high[0] - found.low[0] > 0.1


def test_that_supplies_lie_in_the_places_of_the_panel_whatever_the_order_of_visits() -> None:
    visits = [
        draft(COMMISSIONED + timedelta(weeks=26), hot_c=62.0, cold_c=None, found_c=41.2),
        draft(COMMISSIONED, VisitKind.COMMISSIONING, hot_c=58.0, cold_c=12.0, found_c=None, left_c=41.0),
    ]
    lives = [ValveLife(None, tuple(visits)), ValveLife(None, ())]
    laid_out = panel_of(lives)
    hot, cold = supplies_of(table_of(lives))
    assert laid_out.found[0, 1] == pytest.approx(41.2)
    assert hot[0].tolist() == [58.0, 62.0]
    assert cold[0, 0] == 12.0
    assert np.isnan(cold[0, 1])
    assert np.isnan(regulation(laid_out, hot, cold, SD).index).all()
