"""Climbing to the maximum of the likelihood of many groups side by side.

Fisher scoring in μ, ω², σ², s², each variance held at its least value where the likelihood pushes it
there; a step that would lower the likelihood is halved. Deterministic.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from estate.scheduler.arrays import Flags, Floats, Whole
from estate.scheduler.likelihood import MU, Course, Likelihood, likelihood
from estate.scheduler.states import DriftParameters

LEAST = np.array([-np.inf, 0.0, 0.0, 0.02**2])
"""No reading is better than a display of 0.1 K allows, rounding and reading together."""

LEAST_BELIEVED = 1e-12
ENOUGH_GAIN = 1e-6
MOST_ROUNDS, LEAST_SCALE = 80, 1e-7


@dataclass(frozen=True, slots=True)
class Prior:
    """What is believed of a group before its own readings: about the parameters of the wider group.

    Attributes:
        parameters: the most likely, none of them 0 but μ.
        mu_sd: standard deviation of μ between groups, K/week.
        log_sd: standard deviation of the logarithms of ω, σ and s between groups.
    """

    parameters: DriftParameters
    mu_sd: float = 0.02
    log_sd: float = 0.4


def figures_of(parameters: DriftParameters) -> Floats:
    """μ, ω², σ², s²."""
    return np.array([parameters.mu, parameters.omega**2, parameters.sigma**2, parameters.s**2])


def parameters_of(figures: Floats) -> DriftParameters:
    """Back from μ, ω², σ², s²."""
    omega, sigma, s = np.sqrt(figures[1:]).tolist()
    return DriftParameters(float(figures[MU]), omega, sigma, s)


@dataclass(frozen=True, slots=True)
class Summit:
    """Where the climb of g groups ended.

    Attributes:
        figures: (g, 4) estimates.
        here: their likelihood, the priors included.
        log_likelihood: (g,) the same without the priors.
        rounds: (g,) steps tried.
    """

    figures: Floats
    here: Likelihood
    log_likelihood: Floats
    rounds: Whole

    def where(self, chosen: Flags, other: "Summit") -> "Summit":
        """This one of the groups chosen, the other of the rest; rounds of both together."""
        return Summit(
            np.where(chosen[:, None], self.figures, other.figures),
            self.here.where(chosen, other.here),
            np.where(chosen, self.log_likelihood, other.log_likelihood),
            self.rounds + other.rounds,
        )


def climb(
    course: Course,
    figures: Floats,
    free: Flags,
    priors: Sequence[Prior | None],
    among: Flags | None = None,
) -> Summit:
    """Climb until no group has anything more to gain.

    Args:
        course: the readings of g groups.
        figures: (g, 4) where to begin.
        free: (4,) which figures may move.
        priors: of each group.
        among: (g,) groups that climb; None for all. The course needs readings of these alone.
    """
    said = likelihood(course, figures)
    here, log_likelihood = _believed(said, figures, priors), said.value
    steps, scale = _scoring_steps(here, figures, free), np.ones(len(figures))
    rounds = np.zeros(len(figures), np.int64)
    allowed = np.ones(len(figures), np.bool_) if among is None else among
    taken, some = np.ones(len(figures), np.bool_), course
    for _ in range(MOST_ROUNDS):
        gain = (here.gradient * steps).sum(axis=1)
        climbing = allowed & (gain > ENOUGH_GAIN) & (scale > LEAST_SCALE)
        if not climbing.any():
            break
        rounds += climbing
        tried = figures + np.where(climbing, scale, 0.0)[:, None] * steps
        if not np.array_equal(climbing, taken):
            taken, some = climbing, course.of_groups(climbing)
        said = likelihood(some, tried)
        there = _believed(said, tried, priors)
        better = climbing & (there.value >= here.value)
        figures = np.where(better[:, None], tried, figures)
        here, log_likelihood = there.where(better, here), np.where(better, said.value, log_likelihood)
        scale = np.where(better, 1.0, np.where(climbing, scale / 2, scale))
        steps[better] = _scoring_steps(here, figures, free)[better]
    return Summit(figures, here, log_likelihood, rounds)


def _scoring_steps(here: Likelihood, figures: Floats, free: Flags) -> Floats:
    """Solve for the steps; a figure that would fall through its least value goes there and no further."""
    step = np.zeros_like(figures)
    moving = free & ~((figures <= LEAST) & (here.gradient <= 0))
    for _ in range(5):
        rest = here.gradient - np.einsum("gij,gj->gi", here.information, np.where(moving, 0.0, step))
        both = moving[:, :, None] & moving[:, None, :]
        diagonal = np.einsum("gii->gi", here.information)
        ridge = np.where(moving, 1e-12 * diagonal + 1e-300, 1.0)
        matrix = np.where(both, here.information, 0.0) + ridge[:, :, None] * np.eye(4)
        solved = np.linalg.solve(matrix, np.where(moving, rest, 0.0)[:, :, None])[:, :, 0]
        step = np.where(moving, solved, step)
        through = moving & (figures + step < LEAST)
        step = np.where(through, LEAST - figures, step)
        moving = moving & ~through
    return step


def _believed(said: Likelihood, figures: Floats, priors: Sequence[Prior | None]) -> Likelihood:
    """Add what is believed beforehand: normal in μ and in the logarithms of the variances."""
    value, gradient, information = said.value.copy(), said.gradient.copy(), said.information.copy()
    for group, prior in enumerate(priors):
        if prior is not None:
            centre, row = figures_of(prior.parameters), figures[group]
            variances = np.maximum(row[1:], LEAST_BELIEVED)
            off = np.concatenate(([row[MU] - centre[MU]], np.log(variances / centre[1:])))
            rate = np.concatenate(([1.0], 1 / variances))
            weight = np.array([prior.mu_sd] + 3 * [2 * prior.log_sd]) ** -2.0
            value[group] -= float(weight @ off**2) / 2
            gradient[group] -= weight * off * rate
            information[group] += np.diag(weight * rate**2)
    return Likelihood(value, gradient, information)
