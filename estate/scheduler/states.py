"""What is known of the drift of each valve: parameters of its group, its own level and slope."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from scipy.special import ndtri

from estate.scheduler.arrays import Floats


@dataclass(frozen=True, slots=True)
class DriftParameters:
    """Parameters of one group of valves.

    Attributes:
        mu: mean drift of the group, K/week.
        omega: standard deviation of the valves' own drifts about `mu`, K/week.
        sigma: wandering of a valve's true temperature, K/√week.
        s: standard deviation of one reading about the true temperature, K.
    """

    mu: float
    omega: float
    sigma: float
    s: float


@dataclass(frozen=True, slots=True)
class ParameterColumns:
    """The same for n valves of different groups, each (n,)."""

    mu: Floats
    omega: Floats
    sigma: Floats
    s: Floats


Parameters = DriftParameters | ParameterColumns


def parameter_columns(parameters: Sequence[DriftParameters]) -> ParameterColumns:
    """One row for each valve from the parameters of its group."""
    rows = [(each.mu, each.omega, each.sigma, each.s) for each in parameters]
    table = np.array(rows, np.float64).reshape(-1, 4)
    return ParameterColumns(table[:, 0], table[:, 1], table[:, 2], table[:, 3])


@dataclass(frozen=True, slots=True)
class DriftState:
    """Level and slope of n valves at one moment, given the readings up to it: jointly Gaussian.

    Attributes:
        level: (n,) mean of the true mixed temperature, °C.
        slope: (n,) mean of the drift, K/week.
        var_level: (n,) K².
        cov: (n,) covariance of level and slope, K²/week.
        var_slope: (n,) (K/week)².
    """

    level: Floats
    slope: Floats
    var_level: Floats
    cov: Floats
    var_slope: Floats


def ahead(state: DriftState, sigma: float | Floats, weeks: float | Floats) -> DriftState:
    """The state `weeks` later if nothing is touched and nothing is read.

    Args:
        state: n valves.
        sigma: wandering, K/√week, one or (n,).
        weeks: time ahead, weeks, one or (n,), not negative.
    """
    cov = state.cov + weeks * state.var_slope
    wander = np.square(sigma) * weeks
    var_level = state.var_level + weeks * (state.cov + cov) + wander
    return DriftState(state.level + weeks * state.slope, state.slope, var_level, cov, state.var_slope)


def forecast(state: DriftState, sigma: float | Floats, weeks: Floats) -> tuple[Floats, Floats]:
    """Mean and standard deviation of the true mixed temperature at several times ahead.

    Args:
        state: n valves.
        sigma: wandering, K/√week, one or (n,).
        weeks: (k,) for all valves or (n, k), weeks.

    Returns:
        Mean, °C, and standard deviation, K, both (n, k).
    """
    spread = np.reshape(sigma, (-1, 1))
    wide = DriftState(
        state.level[:, None],
        state.slope[:, None],
        state.var_level[:, None],
        state.cov[:, None],
        state.var_slope[:, None],
    )
    then = ahead(wide, spread, np.atleast_2d(weeks))
    return then.level, np.sqrt(then.var_level)


def predictive_interval(
    state: DriftState, parameters: Parameters, weeks: float | Floats, level: float = 0.999
) -> tuple[Floats, Floats]:
    """Interval in which the next as-found reading is expected, its own measuring error included.

    Args:
        state: n valves after their last visit.
        parameters: of their groups.
        weeks: weeks from the last visit to the reading, one or (n,).
        level: share of readings that fall inside if the model holds.

    Returns:
        Low and high ends, °C, each (n,).
    """
    then = ahead(state, parameters.sigma, weeks)
    half = ndtri(0.5 + level / 2) * np.sqrt(then.var_level + np.square(parameters.s))
    return then.level - half, then.level + half
