"""Drift parameters of a group: the maximum of its pooled exact likelihood.

Fisher scoring in μ, ω², σ², s², each variance held at its least value where the likelihood pushes it
there, with step halving: deterministic, and no step ever lowers the likelihood. Readings that the screen
does not take at their word are found with the parameters of the fit before, and the fit is repeated until
they stay the same.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from estate.scheduler.arrays import Flags, Floats
from estate.scheduler.likelihood import DRIFT, MU, NOISE, WANDER, Course, Likelihood, course_of, likelihood
from estate.scheduler.panel import Panel
from estate.scheduler.screening import SCREEN, Screen, Treatment
from estate.scheduler.states import DriftParameters
from estate.scheduler.steps import Steps, steps_of
from estate.scheduler.track import trail

VERSION = "drift-1"
"""Changes whenever the same readings would give other parameters."""

ASSUMED = DriftParameters(mu=0.015, omega=0.03, sigma=0.10, s=0.25)
"""What is assumed while there are hardly any readings (no published field figure was found)."""

LEAST = np.array([-np.inf, 0.0, 0.0, 0.02**2])
"""No reading is better than a display of 0.1 K allows, rounding and reading together."""

ENOUGH_GAIN = 1e-5
MOST_STEPS, MOST_SCREENINGS, MOST_HALVINGS = 60, 4, 30
HELD = {"mu": MU, "omega": DRIFT, "sigma": WANDER, "s": NOISE}


@dataclass(frozen=True, slots=True)
class Prior:
    """What is believed of a group before its own readings: about the parameters of the wider group.

    Attributes:
        parameters: the most likely.
        mu_sd: standard deviation of μ between groups, K/week.
        log_sd: standard deviation of the logarithm of ω, σ and s between groups.
    """

    parameters: DriftParameters
    mu_sd: float = 0.02
    log_sd: float = 0.4


@dataclass(frozen=True, slots=True)
class Fit:
    """Parameters of one group and what they rest on.

    Attributes:
        parameters: the estimates.
        standard_errors: of each, in its unit; for one at zero that of its square, rooted.
        log_likelihood: of the readings used, at the estimates.
        iterations: scoring steps in all.
        readings: readings that were compared with a prediction.
        screened: readings not taken at their word.
        valves: valves with at least one reading used.
        version: of this method.
    """

    parameters: DriftParameters
    standard_errors: DriftParameters
    log_likelihood: float
    iterations: int
    readings: int
    screened: int
    valves: int
    version: str = VERSION


def fit_pooled(
    panel: Panel,
    prior: Prior | None = None,
    *,
    held: Mapping[str, float] | None = None,
    start: DriftParameters | None = None,
    screen: Screen = SCREEN,
) -> Fit:
    """Fit one group.

    Args:
        panel: n valves, m visits.
        prior: what to lean on while there are few readings; None for the likelihood alone.
        held: parameters not to be fitted, by name, with their values (`s` above 0).
        start: where to begin; None to begin from the readings.
        screen: when a reading is not taken at its word.

    Returns:
        The fit; without a single reading to use, the start unchanged.
    """
    steps = steps_of(panel)
    fixed = {HELD[name]: value**2 if name != "mu" else value for name, value in (held or {}).items()}
    free = np.array([place not in fixed for place in range(4)])
    figures = figures_of(start or (prior.parameters if prior else None) or _begin(steps))
    figures[list(fixed)] = list(fixed.values())
    seen, iterations = None, 0
    for _ in range(MOST_SCREENINGS):
        run = trail(steps, parameters_of(figures), screen)
        if seen is not None and np.array_equal(seen, run.treatment):
            break
        seen, course = run.treatment, course_of(steps, run)
        figures, here, turns = _climb(course, figures, free, prior)
        iterations += turns
    return _fit(course, seen, figures, here, free, iterations)


def figures_of(parameters: DriftParameters) -> Floats:
    """μ, ω², σ², s²."""
    return np.array([parameters.mu, parameters.omega**2, parameters.sigma**2, parameters.s**2])


def parameters_of(figures: Floats) -> DriftParameters:
    """Back from μ, ω², σ², s²."""
    mu, *variances = figures.tolist()
    omega, sigma, s = np.sqrt(variances).tolist()
    return DriftParameters(mu, omega, sigma, s)
