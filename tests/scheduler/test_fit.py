from dataclasses import astuple, replace

import numpy as np
import pytest

from estate.scheduler.arrays import Floats
from estate.scheduler.drift import DriftParameters, run_filter
from estate.scheduler.fit import ASSUMED, Fit, Prior, fit_each, fit_pooled
from estate.scheduler.likelihood import course_of, likelihood
from estate.scheduler.panel import Panel
from estate.scheduler.scoring import climb, figures_of
from estate.scheduler.screening import SCREEN, UNSCREENED, Treatment
from estate.scheduler.steps import steps_of
from estate.scheduler.track import trail
from tests.scheduler.histories import EXAMPLE, NOTHING, TRUTH, panel, simulated, together

NAMES = ("mu", "omega", "sigma", "s")
AWAY = DriftParameters(mu=0.01, omega=0.04, sigma=0.12, s=0.3)


def misses(fit: Fit, truth: DriftParameters = TRUTH) -> Floats:
    """Each estimate's distance from the truth in its standard errors."""
    off = np.array(astuple(fit.parameters)) - np.array(astuple(truth))
    relative: Floats = off / np.array(astuple(fit.standard_errors))
    return relative


def slipped(estate: Panel, share: float, seed: int) -> Panel:
    """Some as-found readings with their decimal point one place too far left."""
    wrong = np.random.default_rng(seed).uniform(size=estate.found.shape) < share
    return replace(estate, found=np.where(wrong, estate.found / 10, estate.found))


def values_about(estate: Panel, figures: Floats) -> tuple[Floats, Floats]:
    """Gradient by the code and by differences."""
    steps = steps_of(estate)
    course = course_of(steps, trail(steps, AWAY, SCREEN), np.zeros(len(estate.count), np.int64))
    nudge = figures * 1e-4
    by_differences = [
        (likelihood(course, (figures + row)[None]).value - likelihood(course, (figures - row)[None]).value)[0]
        / (2 * row.sum())
        for row in np.diag(nudge)
    ]
    return likelihood(course, figures[None]).gradient[0], np.array(by_differences)


def test_that_the_gradient_is_that_of_the_likelihood() -> None:
    estate = simulated(50, 10, seed=3).panel
    estate.reset[::3, 4] = True
    estate.left[::3, 4] = np.nan
    exact, by_differences = values_about(estate, figures_of(AWAY))
    assert exact == pytest.approx(by_differences, rel=1e-5)


def test_that_the_expected_information_is_that_of_many_gradients() -> None:
    estate = simulated(4000, 6, seed=4).panel
    steps = steps_of(estate)
    valves = np.arange(4000)
    course = course_of(steps, trail(steps, TRUTH, UNSCREENED), valves)
    each = likelihood(course, np.tile(figures_of(TRUTH), (4000, 1)))
    information = each.information.sum(axis=0)
    spread = each.gradient.T @ each.gradient
    scale = np.sqrt(np.outer(np.diag(information), np.diag(information)))
    assert (spread / scale) == pytest.approx(information / scale, abs=0.1)
    assert np.abs(each.gradient.sum(axis=0) / np.sqrt(np.diag(information))).max() < 4


def test_that_the_likelihood_of_the_fit_is_that_of_the_filter() -> None:
    estate = simulated(200, 8, seed=6).panel
    fit = fit_pooled(estate)
    assert fit.log_likelihood == pytest.approx(run_filter(estate, fit.parameters).log_likelihood.sum())
    assert fit.readings == int(np.count_nonzero(~np.isnan(estate.found)))
    assert (fit.valves, fit.screened) == (200, 0)


def test_that_no_parameters_near_the_fit_are_more_likely() -> None:
    estate = simulated(300, 10, seed=7).panel
    fit = fit_pooled(estate)
    for name in NAMES:
        for factor in (0.99, 1.01):
            near = replace(fit.parameters, **{name: getattr(fit.parameters, name) * factor})
            assert run_filter(estate, near).log_likelihood.sum() < fit.log_likelihood


@pytest.mark.parametrize("seed", range(8))
def test_that_the_truth_is_found_again_within_its_standard_errors(seed: int) -> None:
    assert np.abs(misses(fit_pooled(simulated(1000, 10, seed=100 + seed).panel))).max() < 3.5


def test_that_the_standard_errors_are_neither_too_small_nor_too_large() -> None:
    all_misses = np.array(
        [misses(fit_pooled(simulated(400, 8, seed=200 + seed).panel)) for seed in range(60)]
    )
    spread = np.sqrt((all_misses**2).mean(axis=0))
    assert (spread > 0.75).all()
    assert (spread < 1.25).all()


@pytest.mark.parametrize(
    "truth",
    [
        DriftParameters(mu=-0.01, omega=0.01, sigma=0.05, s=0.1),
        DriftParameters(mu=0.08, omega=0.06, sigma=0.3, s=0.4),
    ],
)
def test_that_other_truths_are_found_too(truth: DriftParameters) -> None:
    assert np.abs(misses(fit_pooled(simulated(2000, 10, 31, truth).panel), truth)).max() < 3.5


def test_that_where_the_climb_begins_does_not_matter() -> None:
    estate = simulated(300, 10, seed=8).panel
    far = DriftParameters(mu=-0.2, omega=0.3, sigma=0.01, s=1.0)
    here, there = fit_pooled(estate).parameters, fit_pooled(estate, start=far).parameters
    assert astuple(there) == pytest.approx(astuple(here), rel=1e-3)


def test_that_the_same_readings_always_give_the_same_fit() -> None:
    assert fit_pooled(simulated(100, 8, seed=9).panel) == fit_pooled(simulated(100, 8, seed=9).panel)


def test_that_one_slip_in_a_hundred_readings_moves_no_parameter_by_much() -> None:
    estate = simulated(1000, 10, seed=12).panel
    clean, with_slips = fit_pooled(estate), fit_pooled(slipped(estate, 0.01, seed=13))
    assert with_slips.screened == pytest.approx(90, abs=30)
    assert astuple(with_slips.parameters) == pytest.approx(astuple(clean.parameters), rel=0.04)


def test_that_taking_slips_at_their_word_would_ruin_the_fit() -> None:
    estate = simulated(1000, 10, seed=12).panel
    ruined = fit_pooled(slipped(estate, 0.01, seed=13), screen=UNSCREENED)
    assert ruined.parameters.s > 5 * TRUTH.s


def test_that_swapped_digits_are_screened_too() -> None:
    estate = simulated(1000, 10, seed=14).panel
    wrong = np.random.default_rng(15).uniform(size=estate.found.shape) < 0.005
    swapped = replace(estate, found=np.where(wrong, estate.found + 5.4, estate.found))
    assert np.abs(misses(fit_pooled(swapped))).max() < 5


def test_that_a_start_that_doubts_good_readings_is_put_right() -> None:
    estate = simulated(400, 10, seed=24).panel
    narrow = DriftParameters(mu=0.02, omega=0.01, sigma=0.05, s=0.1)
    assert (run_filter(estate, narrow).treatment >= Treatment.SET_ASIDE).sum() > 100
    found = fit_pooled(estate, start=narrow)
    assert found.screened == 0
    assert astuple(found.parameters) == pytest.approx(astuple(fit_pooled(estate).parameters), rel=1e-3)


def test_that_a_fit_that_is_stopped_early_says_what_it_has(monkeypatch: pytest.MonkeyPatch) -> None:
    estate = simulated(100, 10, seed=25).panel
    monkeypatch.setattr("estate.scheduler.fit.MOST_SCREENINGS", 1)
    monkeypatch.setattr("estate.scheduler.scoring.MOST_ROUNDS", 1)
    narrow = DriftParameters(mu=0.02, omega=0.01, sigma=0.05, s=0.1)
    stopped = fit_pooled(estate, start=narrow)
    assert stopped.iterations == 1
    assert stopped.screened > 0


def test_that_groups_with_shorter_histories_are_fitted_as_if_alone() -> None:
    long, short = simulated(60, 12, seed=26).panel, simulated(60, 5, seed=27).panel
    both = together(long, short)
    group = np.repeat([0, 1], 60)
    fits = fit_each(both, group, [Prior(TRUTH), Prior(AWAY)])
    alone = fit_pooled(short, Prior(AWAY))
    assert astuple(fits[1].parameters) == pytest.approx(astuple(alone.parameters), rel=1e-6)


def test_that_without_readings_the_fit_is_what_was_assumed() -> None:
    fit = fit_pooled(panel([(0, NOTHING, 41.0)]))
    assert fit.parameters == ASSUMED
    assert (fit.readings, fit.valves) == (0, 0)


def test_that_one_valve_alone_leans_on_what_is_believed_beforehand() -> None:
    alone = fit_pooled(panel(EXAMPLE), Prior(TRUTH)).parameters
    assert astuple(alone) == pytest.approx(astuple(TRUTH), rel=0.6)
    assert min(alone.omega, alone.sigma) > 0.02


def test_that_with_many_valves_what_was_believed_beforehand_is_forgotten() -> None:
    estate = simulated(2000, 10, seed=16).panel
    wrong = Prior(DriftParameters(mu=0.0, omega=0.06, sigma=0.2, s=0.5))
    assert np.abs(misses(fit_pooled(estate, wrong))).max() < 3.5


def test_that_a_variance_may_be_nothing_but_is_never_less() -> None:
    straight = DriftParameters(mu=0.02, omega=0.03, sigma=0.0, s=0.2)
    found = [fit_pooled(simulated(60, 6, seed, straight).panel) for seed in range(20)]
    at_zero = [fit for fit in found if fit.parameters.sigma == 0.0]
    assert 3 <= len(at_zero) <= 17
    assert all(np.isfinite(astuple(fit.standard_errors)).all() for fit in found)


def test_that_readings_that_never_vary_do_not_break_the_fit() -> None:
    rows = [(0, NOTHING, 41.0), *((13.0 * k, 41.0, NOTHING) for k in range(1, 6))]
    fit = fit_pooled(panel(rows, rows, rows))
    assert fit.parameters.s == pytest.approx(0.02)
    assert fit.parameters.mu == pytest.approx(0.0, abs=1e-9)


def test_that_a_parameter_that_is_held_is_not_fitted() -> None:
    fit = fit_pooled(simulated(100, 8, seed=17).panel, held={"s": 0.25, "mu": 0.02})
    assert (fit.parameters.mu, fit.parameters.s) == (0.02, 0.25)
    assert (fit.standard_errors.mu, fit.standard_errors.s) == (0.0, 0.0)


def test_that_groups_fitted_side_by_side_are_fitted_as_if_alone() -> None:
    estate = simulated(300, 8, seed=18).panel
    group = np.arange(300) % 3
    priors = [Prior(TRUTH), Prior(AWAY), Prior(TRUTH)]
    side_by_side = fit_each(estate, group, priors)
    for number, prior in enumerate(priors):
        alone = fit_pooled(estate.rows(group == number), prior)
        assert astuple(side_by_side[number].parameters) == pytest.approx(astuple(alone.parameters), rel=1e-6)
        assert side_by_side[number].readings == alone.readings


def test_that_no_step_of_the_climb_lowers_the_likelihood() -> None:
    steps = steps_of(simulated(30, 6, seed=19).panel)
    course = course_of(steps, trail(steps, TRUTH, SCREEN), np.zeros(30, np.int64))
    begin = figures_of(DriftParameters(mu=1.0, omega=1.0, sigma=0.001, s=0.02))[None]
    end = climb(course, begin, np.ones(4, np.bool_), [None])
    assert end.here.value[0] > likelihood(course, begin).value[0]
    assert 2 < end.rounds[0] < 60
