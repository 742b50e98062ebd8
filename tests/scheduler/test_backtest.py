from dataclasses import replace

import numpy as np
import pytest

from estate.scheduler.backtest import BackTest, back_test, hide_last, predicted, reliability
from estate.scheduler.drift import run_filter
from estate.scheduler.fit import ASSUMED
from estate.scheduler.panel import Panel
from estate.scheduler.policies import Fixed
from estate.scheduler.simulate import Trial, recorded
from estate.scheduler.truths import Truth

ESTATE = recorded(Fixed(26), Trial(valves=2000))
CEILINGS = np.full(2000, 43.0)


@pytest.fixture(scope="module")
def outcome() -> BackTest:
    return back_test(ESTATE, CEILINGS)


def test_that_coverage_is_within_2_points_of_what_is_promised(outcome: BackTest) -> None:
    assert outcome.cases == 2000
    for each in outcome.coverage:
        assert each.share == pytest.approx(each.level, abs=0.02)
    assert abs(outcome.bias_k) < 0.05
    assert outcome.spread == pytest.approx(1, abs=0.03)


def test_that_predicted_crossings_happen_as_often_as_predicted(outcome: BackTest) -> None:
    assert sum(each.cases for each in outcome.reliability) == outcome.cases
    crowded = [each for each in outcome.reliability if each.cases >= 50]
    assert len(crowded) >= 5
    inside = sum(each.likely_low <= each.predicted <= each.likely_high for each in crowded)
    assert inside >= len(crowded) - 1


def test_that_a_model_that_does_not_hold_is_found_out() -> None:
    slips = recorded(Fixed(26), Trial(Truth("slips", slip_share=0.10), valves=1000, years=4))
    assert back_test(slips, CEILINGS[:1000]).spread > 1.5


def test_that_the_hidden_reading_is_nowhere_in_what_predicts_it() -> None:
    """Change every last reading: parameters and predictions stay the same."""
    changed = ESTATE.found.copy()
    changed[np.arange(2000), ESTATE.count - 1] += 5.0
    first, second = hide_last(ESTATE), hide_last(replace(ESTATE, found=changed))
    for name in ("weeks", "found", "left", "reset", "count"):
        np.testing.assert_array_equal(getattr(first.before, name), getattr(second.before, name))
    assert second.found - first.found == pytest.approx(5.0)


def test_that_a_prediction_is_the_filters_own() -> None:
    """The filter that sees the hidden readings predicted the same before it looked."""
    hidden = hide_last(ESTATE)
    mean, spread = predicted(hidden, ASSUMED)
    run = run_filter(ESTATE, ASSUMED)
    last = (np.arange(2000), ESTATE.count - 1)
    assert mean == pytest.approx(run.predicted[last])
    assert spread == pytest.approx(run.predicted_sd[last])


def grown(*rows: list[tuple[float, float, float]]) -> Panel:
    """Valves from (week, found, left) of each visit."""
    width = max(len(row) for row in rows)
    grid = np.full((3, len(rows), width), np.nan)
    for number, row in enumerate(rows):
        grid[:, number, : len(row)] = np.array(row).reshape(-1, 3).T
    weeks, found, left = grid
    reset = ~np.isnan(left)
    return Panel(weeks, found, left, reset, np.zeros_like(reset), np.array([len(row) for row in rows]))


NAN = float("nan")


def test_that_valves_without_anything_before_their_reading_are_no_cases() -> None:
    panel = grown(
        [],
        [(0, 41.0, NAN)],
        [(0, NAN, 41.0)],
        [(0, NAN, 41.0), (10, 41.2, 41.0), (20, NAN, 41.0)],
        [(0, NAN, NAN), (10, 41.2, NAN)],
    )
    hidden = hide_last(panel)
    assert hidden.rows.tolist() == [3, 4]
    assert (hidden.found.tolist(), hidden.weeks.tolist()) == ([41.2, 41.2], [10.0, 10.0])
    found = back_test(panel, np.full(5, 43.0))
    assert (found.valves, found.cases) == (5, 1)


def test_that_valves_without_a_ceiling_count_for_coverage_only() -> None:
    found = back_test(ESTATE, np.where(np.arange(2000) < 500, 43.0, np.nan))
    assert found.cases == 2000
    assert sum(each.cases for each in found.reliability) == 500


def test_that_groups_are_fitted_apart() -> None:
    halves = [("one" if row < 1000 else "other", "estate") for row in range(2000)]
    apart, together = back_test(ESTATE, CEILINGS, halves), back_test(ESTATE, CEILINGS)
    assert apart.bias_k != together.bias_k
    assert apart.coverage[0].share == pytest.approx(together.coverage[0].share, abs=0.02)


def test_that_an_empty_register_gives_an_empty_table() -> None:
    found = back_test(ESTATE.rows(np.zeros(0, np.int64)), np.zeros(0))
    assert (found.valves, found.cases) == (0, 0)
    assert np.isnan(found.coverage[0].share)
    assert np.isnan(found.reliability[0].observed)


def test_that_bins_keep_every_chance_and_their_interval_is_wilsons() -> None:
    chance = np.array([0.0, 0.05, 0.0999, 0.1, 1.0])
    table = reliability(chance, np.array([False, True, False, False, True]))
    assert [each.cases for each in table] == [1, 0, 0, 2, 1, 0, 1]
    assert [each.above for each in table] == [0, 0, 0, 1, 0, 0, 1]
    third = table[3]
    assert third.predicted == pytest.approx(0.07495)
    assert third.observed == 0.5
    z2 = 1.959964**2
    for end in (third.likely_low, third.likely_high):
        assert (end - 0.5) ** 2 == pytest.approx(z2 * end * (1 - end) / 2, rel=1e-5)
