from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from statsmodels.tsa.statespace.mlemodel import MLEModel  # type: ignore[import-untyped]  # carries no types

from estate.scheduler.drift import (
    DriftParameters,
    Treatment,
    predictive_interval,
    run_filter,
    smooth,
)
from estate.scheduler.panel import Panel
from estate.scheduler.passage import reached
from estate.scheduler.screening import UNSCREENED
from estate.scheduler.states import ahead, parameter_columns
from tests.scheduler.histories import EXAMPLE, NOTHING, TRUTH, Row, panel, simulated, without_last

OTHER = DriftParameters(mu=-0.01, omega=0.05, sigma=0.2, s=0.1)
STEADY: list[Row] = [(0, NOTHING, 41.0), *((13.0 * k, 41.0 + 0.2 * k, NOTHING) for k in range(1, 6))]


def statsmodels_of(rows: Sequence[Row], parameters: DriftParameters) -> Any:
    """The same valve by another hand: resets as a transition that forgets the level."""
    weeks, found, left = (np.array(each) for each in zip(*rows, strict=True))
    model = MLEModel(found, k_states=2)
    times = len(rows)
    model["design"] = np.array([[1.0, 0.0]])
    model["selection"] = np.eye(2)
    model["obs_cov"] = np.array([[parameters.s**2]])
    transition, intercept = np.zeros((2, 2, times)), np.zeros((2, times))
    state_cov = np.zeros((2, 2, times))
    for visit, gap in enumerate(np.diff(weeks)):
        reset = not np.isnan(left[visit])
        transition[:, :, visit] = [[0.0 if reset else 1.0, gap], [0.0, 1.0]]
        intercept[0, visit] = left[visit] if reset else 0.0
        state_cov[0, 0, visit] = parameters.sigma**2 * gap + (parameters.s**2 if reset else 0.0)
    model["transition"], model["state_intercept"], model["state_cov"] = transition, intercept, state_cov
    start = np.array([left[0], parameters.mu])
    model.ssm.initialize_known(start, np.diag([parameters.s**2, parameters.omega**2]))
    return model.ssm


def rows_of(estate: Panel, valve: int) -> list[Row]:
    grid = zip(estate.weeks[valve], estate.found[valve], estate.left[valve], strict=True)
    return [(float(week), float(found), float(left)) for week, found, left in grid]


@pytest.mark.parametrize("parameters", [TRUTH, OTHER])
@pytest.mark.parametrize("valve", range(6))
def test_that_statsmodels_has_the_same_likelihood_states_and_smoothed_states(
    valve: int, parameters: DriftParameters
) -> None:
    estate = simulated(6, 15, seed=5).panel
    rows = rows_of(estate, valve)
    theirs = statsmodels_of(rows, parameters).smooth()
    ours, later = run_filter(estate, parameters, UNSCREENED), smooth(estate, parameters, UNSCREENED)
    assert ours.log_likelihood[valve] == pytest.approx(theirs.llf, abs=1e-8)
    measured = ~np.isnan(estate.found[valve])
    assert ours.innovation[valve, measured] == pytest.approx(theirs.forecasts_error[0, measured], abs=1e-9)
    assert ours.state.slope[valve] == pytest.approx(theirs.filtered_state[1, -1], abs=1e-10)
    assert ours.state.var_slope[valve] == pytest.approx(theirs.filtered_state_cov[1, 1, -1], abs=1e-12)
    assert later.found[valve, 1:] == pytest.approx(theirs.smoothed_state[0, 1:], abs=1e-9)
    assert later.found_sd[valve, 1:] ** 2 == pytest.approx(theirs.smoothed_state_cov[0, 0, 1:], abs=1e-10)
    assert later.slope[valve] == pytest.approx(theirs.smoothed_state[1, 0], abs=1e-10)
    assert later.slope_sd[valve] ** 2 == pytest.approx(theirs.smoothed_state_cov[1, 1, 0], abs=1e-12)


def test_that_later_readings_of_example_a_move_its_earlier_levels() -> None:
    later = smooth(panel(EXAMPLE), TRUTH)
    before = run_filter(panel(EXAMPLE[:2]), TRUTH).state
    assert later.left[0, 0] > 41.0
    assert later.found_sd[0, 1] ** 2 < before.var_level[0]
    assert later.found[0, 1] == later.left[0, 1]
    assert later.left[0, 2] == pytest.approx(41.058157, abs=1e-6)


def test_that_a_valve_does_not_depend_on_its_neighbours() -> None:
    alone = run_filter(panel(EXAMPLE), TRUTH).state
    among = run_filter(panel(STEADY, EXAMPLE, [(0, NOTHING, 41.0)]), TRUTH).state
    assert among.level[1] == alone.level[0]
    assert among.cov[1] == alone.cov[0]


def test_that_each_valve_is_filtered_with_the_parameters_of_its_own_group() -> None:
    both = run_filter(panel(EXAMPLE, EXAMPLE), parameter_columns([TRUTH, OTHER])).state
    assert both.level[0] == run_filter(panel(EXAMPLE), TRUTH).state.level[0]
    assert both.level[1] == run_filter(panel(EXAMPLE), OTHER).state.level[0]


def test_that_the_first_reading_begins_a_level_as_an_as_left_value_does() -> None:
    read = run_filter(panel([(0, 41.0, NOTHING), *EXAMPLE[1:]]), TRUTH)
    left = run_filter(panel(EXAMPLE), TRUTH)
    assert read.treatment[0, 0] == Treatment.STARTED
    assert read.state.level[0] == left.state.level[0]
    assert read.log_likelihood[0] == left.log_likelihood[0]


def test_that_two_readings_of_one_day_are_two_measurements_of_one_level() -> None:
    state = run_filter(panel([(0, NOTHING, 41.0), (0, 41.6, NOTHING)]), TRUTH).state
    assert state.level[0] == pytest.approx(41.3)
    assert state.var_level[0] == pytest.approx(0.25**2 / 2)
    assert state.slope[0] == pytest.approx(0.02)


def test_that_a_valve_never_read_stays_what_its_group_is_wide() -> None:
    run = run_filter(panel([(0, NOTHING, NOTHING), (7, NOTHING, NOTHING)], EXAMPLE), TRUTH)
    assert run.state.slope[0] == TRUTH.mu
    assert run.state.var_slope[0] == pytest.approx(TRUTH.omega**2)
    assert run.state.var_level[0] > 9
    assert np.isnan(run.predicted[0]).all()
    assert run.log_likelihood[0] == 0.0


def test_that_a_re_adjustment_without_a_reading_leaves_the_level_wide_but_not_the_slope() -> None:
    history = panel(STEADY)
    history.reset[0, 3] = True
    run = run_filter(history, TRUTH)
    cut = run_filter(panel(STEADY[:4]), TRUTH).state
    unmeasured = run_filter(history.rows(np.array([0])), TRUTH)
    assert run.treatment[0].tolist() == [0, 1, 1, 1, Treatment.STARTED, 1]
    assert run.predicted_sd[0, 4] > 1.0
    assert unmeasured.state.slope[0] == run.state.slope[0]
    assert run.state.var_slope[0] < cut.var_slope[0]


def test_that_after_an_unmeasured_re_adjustment_the_chance_of_scalding_is_not_called_small() -> None:
    history = panel([*STEADY[:2], (26, 41.3, NOTHING)])
    measured = run_filter(history, TRUTH).state
    history.reset[0, 2] = True
    wide = run_filter(history, TRUTH).state
    weeks = np.array([4.0])
    assert wide.var_level[0] == 1.0
    assert reached(wide, 0.1, 43.0, weeks)[0, 0] > 10 * reached(measured, 0.1, 43.0, weeks)[0, 0]


def test_that_a_ten_year_gap_only_widens_what_is_known() -> None:
    run = run_filter(panel([*EXAMPLE, (26 + 520, 44.0, NOTHING)]), TRUTH)
    assert run.predicted_sd[0, 4] > 5
    assert run.treatment[0, 4] == Treatment.USED
    assert run.state.level[0] == pytest.approx(44.0, abs=0.1)


@pytest.mark.parametrize("slip", [4.16, 416.0, 14.6, 0.0, 99.9])
def test_that_a_slipped_decimal_neither_hides_a_drift_nor_causes_a_panic(slip: float) -> None:
    slipped = [*STEADY[:3], (39.0, slip, NOTHING), *STEADY[4:]]
    clean = run_filter(panel([*STEADY[:3], *STEADY[4:]]), TRUTH).state
    run = run_filter(panel(slipped), TRUTH)
    assert run.treatment[0, 3] == Treatment.SET_ASIDE
    assert run.state.slope[0] == pytest.approx(clean.slope[0], abs=1e-12)
    assert run.state.level[0] == pytest.approx(clean.level[0], abs=1e-12)


def test_that_a_slip_at_the_last_visit_changes_nothing_but_time() -> None:
    run = run_filter(panel([*STEADY, (78.0, 4.22, NOTHING)]), TRUTH).state
    waited = ahead(run_filter(panel(STEADY), TRUTH).state, TRUTH.sigma, 13.0)
    assert run.level[0] == pytest.approx(waited.level[0])
    assert run.var_level[0] == pytest.approx(waited.var_level[0])


def test_that_a_slip_in_the_as_left_value_counts_as_not_measured() -> None:
    run = run_filter(panel([*STEADY[:4], (52.0, 41.9, 4.1), (65.0, 41.2, NOTHING)]), TRUTH)
    assert run.treatment[0, 5] == Treatment.STARTED
    assert run.state.level[0] == pytest.approx(41.2)


def test_that_a_slip_at_the_first_visit_does_not_begin_the_level() -> None:
    run = run_filter(panel([(0, 4.1, NOTHING), *STEADY[1:]]), TRUTH)
    assert run.treatment[0, :2].tolist() == [Treatment.SET_ASIDE, Treatment.STARTED]
    assert run.state.level[0] == pytest.approx(42.0, abs=0.3)


def test_that_two_cold_readings_in_a_row_are_believed() -> None:
    run = run_filter(panel([*STEADY, (78.0, 25.0, NOTHING), (80.0, 25.2, NOTHING)]), TRUTH)
    assert run.treatment[0, -2:].tolist() == [Treatment.SET_ASIDE, Treatment.STARTED]
    assert run.state.level[0] == pytest.approx(25.2)


@pytest.mark.parametrize("jump", [44.9, 47.0, 54.0])
def test_that_a_jump_to_hot_is_never_hidden(jump: float) -> None:
    run = run_filter(panel([*STEADY[:2], (26.0, jump, NOTHING)]), TRUTH)
    assert run.treatment[0, -1] == Treatment.DOUBTED
    assert reached(run.state, TRUTH.sigma, 43.0, np.array([4.0]))[0, 0] > 0.25


def test_that_a_jump_that_stays_is_believed_at_the_next_reading() -> None:
    run = run_filter(panel([*STEADY[:2], (26.0, 45.0, NOTHING), (27.0, 45.2, NOTHING)]), TRUTH)
    assert run.state.level[0] == pytest.approx(45.2)
    assert run.state.var_level[0] == pytest.approx(TRUTH.s**2)


def test_that_swapped_digits_are_forgotten_at_the_next_reading() -> None:
    swapped = [*STEADY[:3], (39.0, 46.1, NOTHING), *STEADY[4:]]
    run, clean = run_filter(panel(swapped), TRUTH).state, run_filter(panel(STEADY), TRUTH).state
    assert run.level[0] == pytest.approx(clean.level[0], abs=0.15)
    assert run.slope[0] == pytest.approx(clean.slope[0], abs=0.01)


def test_that_999_in_1000_readings_fall_inside_the_predictive_interval() -> None:
    estate = simulated(40_000, 4, seed=11, weeks=(13, 13)).panel
    low, high = predictive_interval(run_filter(without_last(estate), TRUTH).state, TRUTH, 13.0)
    outside = np.mean((estate.found[:, 3] < low) | (estate.found[:, 3] > high))
    assert outside == pytest.approx(0.001, abs=4 * (0.001 / 40_000) ** 0.5)


def test_that_a_swapped_digit_falls_outside_the_predictive_interval() -> None:
    low, high = predictive_interval(run_filter(panel(EXAMPLE), TRUTH).state, TRUTH, 13.0)
    assert low[0] < 42.5 < high[0]
    assert not low[0] < 45.2 < high[0]


temperatures = st.one_of(st.just(NOTHING), st.floats(-20, 120))
histories = st.lists(st.tuples(st.floats(0, 600), temperatures, temperatures), min_size=1, max_size=12)


@settings(deadline=None)
@given(st.lists(histories, min_size=1, max_size=4))
def test_that_no_history_breaks_the_filter_or_the_smoother(valves: list[list[Row]]) -> None:
    estate = panel(*(sorted(rows, key=lambda row: row[0]) for rows in valves))
    run, later = run_filter(estate, TRUTH), smooth(estate, TRUTH)
    state = run.state
    for values in (state.level, state.slope, run.log_likelihood):
        assert np.isfinite(values).all()
    assert (state.var_level > 0).all()
    assert (state.var_slope * state.var_level - state.cov**2 > 0).all()
    assert ((later.left_sd >= 0) | np.isnan(later.left_sd)).all()
    chance = reached(state, TRUTH.sigma, 43.0, np.array([0.0, 4.0, 52.0]))
    assert ((chance >= 0) & (chance <= 1)).all()
    assert (np.diff(chance, axis=1) >= -1e-9).all()
