"""Drift of mixed temperature as a state-space model: the filter and the smoother over many valves.

Between visits the true temperature moves as x(t + d) = x(t) + β d + σ W(d); a reading is y = x + e with
e ~ N(0, s²); each valve's β is drawn from its group, β ~ N(μ, ω²). A re-adjustment or a service begins a
new level, N(as-left reading, s²), which says nothing of β. Filter: R. E. Kalman (1960); smoother and the
level that is not known (exact diffuse, so without a share in the likelihood): P. de Jong (1989, 1991).
"""

from dataclasses import dataclass

import numpy as np

from estate.scheduler.arrays import Flags, Floats, Whole
from estate.scheduler.panel import Panel
from estate.scheduler.screening import SCREEN, Screen, Treatment
from estate.scheduler.states import (
    DriftParameters,
    DriftState,
    ParameterColumns,
    Parameters,
    predictive_interval,
)
from estate.scheduler.steps import Steps, in_panel_order, steps_of
from estate.scheduler.track import Trail, trail

__all__ = [
    "DriftParameters",
    "DriftState",
    "FilterRun",
    "ParameterColumns",
    "Smoothed",
    "Treatment",
    "last_state",
    "predictive_interval",
    "run_filter",
    "smooth",
]


@dataclass(frozen=True, slots=True)
class FilterRun:
    """What the filter makes of a panel of n valves and m visits.

    Attributes:
        predicted: (n, m) reading predicted from all that came before, °C; NaN while nothing is known.
        predicted_sd: (n, m) its standard deviation, measuring error included, K.
        innovation: (n, m) reading less prediction, K; NaN without a reading.
        treatment: (n, m) what was made of the reading, a `Treatment`.
        log_likelihood: (n,) of the readings used; one that starts a level says nothing of the parameters.
        state: after the last visit.
    """

    predicted: Floats
    predicted_sd: Floats
    innovation: Floats
    treatment: Whole
    log_likelihood: Floats
    state: DriftState


@dataclass(frozen=True, slots=True)
class Smoothed:
    """Levels of n valves at m visits given all their readings, earlier and later; NaN where not known.

    Attributes:
        found, found_sd: (n, m) true temperature before anything was touched, °C and K.
        left, left_sd: (n, m) true temperature as left, °C and K.
        slope, slope_sd: (n,) drift of the valve, K/week.
    """

    found: Floats
    found_sd: Floats
    left: Floats
    left_sd: Floats
    slope: Floats
    slope_sd: Floats


def run_filter(panel: Panel, parameters: Parameters, screen: Screen = SCREEN) -> FilterRun:
    """Filter the readings of a panel.

    Args:
        panel: n valves, m visits.
        parameters: of one group, or a row for each valve.
        screen: when a reading is not taken at its word.

    Source:
        Worked example A of the documentation; R. E. Kalman (1960).
    """
    steps = steps_of(panel)
    run = trail(steps, parameters, screen)
    predicted = np.where(run.begun, run.predicted, np.nan)
    spread = np.where(run.begun, np.sqrt(run.predicted_var), np.nan)
    return FilterRun(
        in_panel_order(steps, predicted),
        in_panel_order(steps, spread),
        in_panel_order(steps, steps.found - predicted),
        in_panel_order(steps, run.treatment),
        in_panel_order(steps, run.log_likelihood),
        _last(steps, run),
    )


def last_state(steps: Steps, parameters: Parameters, screen: Screen = SCREEN) -> DriftState:
    """Level and drift of n valves after their last visits: what `run_filter` ends with."""
    return _last(steps, trail(steps, parameters, screen))


def _last(steps: Steps, run: Trail) -> DriftState:
    return DriftState(*in_panel_order(steps, run.last).T)


def smooth(panel: Panel, parameters: Parameters, screen: Screen = SCREEN) -> Smoothed:
    """Levels and slopes given all readings: backwards through the filter's trail.

    Args:
        panel: n valves, m visits.
        parameters: of one group, or a row for each valve.
        screen: when a reading is not taken at its word.

    Source:
        P. de Jong (1989), Smoothing and interpolation with the state-space model.
    """
    steps = steps_of(panel)
    run = trail(steps, parameters, screen, keep=True)
    grids = np.full((4, *steps.found.shape), np.nan)
    score, weight = np.zeros((2, len(steps.order))), np.zeros((3, len(steps.order)))
    for visit in range(len(steps.active) - 1, -1, -1):
        active = steps.active[visit]
        r, w = score[:, :active], weight[:, :active]
        grids[2:, visit, :active] = _given_later(run.after[visit, :, :active], r, w)
        _through_cut(run.cut[visit, :active], r, w)
        _through_reading(run, visit, steps.found[visit, :active], r, w)
        grids[:2, visit, :active] = _given_later(run.before[visit, :, :active], r, w)
        _back_in_time(steps.elapsed[visit, :active], r, w)
    same = ~(run.begun & steps.reset)
    grids[:2] = np.where(same, grids[2:], grids[:2])
    grids[:2, ~run.begun & steps.reset] = np.nan
    slope, slope_sd = run.last[1], np.sqrt(run.last[4])
    return Smoothed(*(in_panel_order(steps, each) for each in (*grids, slope, slope_sd)))


def _given_later(moments: Floats, score: Floats, weight: Floats) -> Floats:
    """Level and its standard deviation once what comes later is known."""
    level, _, p11, p12, _ = moments
    mean = level + p11 * score[0] + p12 * score[1]
    less = p11**2 * weight[0] + 2 * p11 * p12 * weight[1] + p12**2 * weight[2]
    return np.stack((mean, np.sqrt(np.maximum(p11 - less, 0.0))))


def _through_cut(cut: Flags, score: Floats, weight: Floats) -> None:
    """What comes after a new level says nothing of the level before, only of the slope."""
    score[0, cut], weight[0, cut], weight[1, cut] = 0.0, 0.0, 0.0


def _through_reading(run: Trail, visit: int, reading: Floats, score: Floats, weight: Floats) -> None:
    """Take back what a reading told: r = v/F + L'r, N = 1/F + L'NL with L = I - K Z."""
    active = len(reading)
    used = run.treatment[visit, :active] == Treatment.USED
    level, _, p11, p12, _ = run.before[visit, :, :active]
    scale = np.where(used, 1 / run.predicted_var[visit, :active], 0.0)
    gain_level, gain_slope = p11 * scale, p12 * scale
    kept = 1 - gain_level
    score[0] = np.where(used, reading - level, 0.0) * scale + kept * score[0] - gain_slope * score[1]
    weight[0] = scale + kept**2 * weight[0] - 2 * kept * gain_slope * weight[1] + gain_slope**2 * weight[2]
    weight[1] = kept * weight[1] - gain_slope * weight[2]


def _back_in_time(elapsed: Floats, score: Floats, weight: Floats) -> None:
    score[1] += elapsed * score[0]
    weight[2] += elapsed * (2 * weight[1] + elapsed * weight[0])
    weight[1] += elapsed * weight[0]
