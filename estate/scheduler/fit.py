"""Drift parameters of a group: the maximum of its pooled exact likelihood.

Fisher scoring in μ, ω², σ², s², each variance held at its least value where the likelihood pushes it
there, with step halving: deterministic, and no step ever lowers the likelihood. Readings that the screen
does not take at their word are found with the parameters of the fit before, and the fit is repeated until
they stay the same.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from estate.scheduler.arrays import Flags, Floats, Whole
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
    run, iterations = trail(steps, parameters_of(figures), screen), 0
    for _ in range(MOST_SCREENINGS):
        seen, course = run.treatment, course_of(steps, run)
        figures, here, turns = _climb(course, figures, free, prior)
        iterations += turns
        run = trail(steps, parameters_of(figures), screen)
        if np.array_equal(seen, run.treatment):
            break
    return _fit(course, seen, figures, here, free, iterations)


def figures_of(parameters: DriftParameters) -> Floats:
    """μ, ω², σ², s²."""
    return np.array([parameters.mu, parameters.omega**2, parameters.sigma**2, parameters.s**2])


def parameters_of(figures: Floats) -> DriftParameters:
    """Back from μ, ω², σ², s²."""
    mu, *variances = figures.tolist()
    omega, sigma, s = np.sqrt(variances).tolist()
    return DriftParameters(mu, omega, sigma, s)


def _begin(steps: Steps) -> DriftParameters:
    """From the typical change between visits, a third of its variance to each cause."""
    changes, weeks = _changes(steps)
    changes, weeks = changes[weeks > 0], weeks[weeks > 0]
    if not len(changes):
        return ASSUMED
    mu, typical = float(np.median(changes / weeks)), float(np.median(weeks))
    spread = 1.4826 * float(np.median(np.abs(changes - mu * weeks)))
    third = max(spread, np.sqrt(LEAST[NOISE])) / np.sqrt(3)
    return DriftParameters(mu, third / typical, third / np.sqrt(typical), third / np.sqrt(2))


def _changes(steps: Steps) -> tuple[Floats, Floats]:
    """Change of the reading since the level was last read or set, °C, and the weeks between."""
    before, since = np.full(len(steps.order), np.nan), np.zeros(len(steps.order))
    changes, weeks = [], []
    for elapsed, found, left, reset in zip(steps.elapsed, steps.found, steps.left, steps.reset, strict=True):
        since += elapsed
        pair = ~np.isnan(found - before)
        changes.append((found - before)[pair])
        weeks.append(since[pair])
        value = np.where(reset, left, found)
        told = ~np.isnan(value) | reset
        before, since = np.where(told, value, before), np.where(told, 0.0, since)
    return np.concatenate(changes), np.concatenate(weeks)


def _climb(
    course: Course, figures: Floats, free: Flags, prior: Prior | None
) -> tuple[Floats, Likelihood, int]:
    """Scoring steps until nothing more is to be gained."""
    here = _believed(likelihood(course, figures), figures, prior)
    turns = 0
    while turns < MOST_STEPS:
        step = _scoring_step(here, figures, free)
        if here.gradient @ step < ENOUGH_GAIN:
            break
        for _ in range(MOST_HALVINGS):
            further = figures + step
            there = _believed(likelihood(course, further), further, prior)
            if there.value >= here.value:
                break
            step = step / 2
        else:
            break
        figures, here, turns = further, there, turns + 1
    return figures, here, turns


def _scoring_step(here: Likelihood, figures: Floats, free: Flags) -> Floats:
    """Solve for the step; a figure that would fall through its least value goes there and no further."""
    step, moving = np.zeros(4), free & ~((figures <= LEAST) & (here.gradient <= 0))
    while moving.any():
        rest = here.gradient - here.information @ np.where(moving, 0.0, step)
        inside = here.information[np.ix_(moving, moving)]
        step[moving] = np.linalg.solve(inside + 1e-12 * np.diag(np.diag(inside)), rest[moving])
        through = moving & (figures + step < LEAST)
        if not through.any():
            return step
        step[through] = (LEAST - figures)[through]
        moving &= ~through
    return step


def _believed(said: Likelihood, figures: Floats, prior: Prior | None) -> Likelihood:
    """Add what is believed beforehand: normal in μ and in the logarithms of the variances."""
    if prior is None:
        return said
    centre = figures_of(prior.parameters)
    variances = np.maximum(figures[1:], 1e-12)
    off = np.concatenate(([figures[MU] - centre[MU]], np.log(variances / centre[1:])))
    rate = np.concatenate(([1.0], 1 / variances))
    weight = np.array([prior.mu_sd] + 3 * [2 * prior.log_sd]) ** -2.0
    value = -float(weight @ off**2) / 2
    return said.plus(Likelihood(value, -weight * off * rate, np.diag(weight * rate**2)))


def _fit(
    course: Course, treatment: Whole, figures: Floats, here: Likelihood, free: Flags, iterations: int
) -> Fit:
    used = treatment == Treatment.USED
    covariance = np.zeros((4, 4))
    inside = here.information[np.ix_(free, free)]
    covariance[np.ix_(free, free)] = np.linalg.pinv(inside, hermitian=True)
    errors = np.sqrt(np.diag(covariance))
    roots = np.sqrt(figures[1:])
    with np.errstate(divide="ignore", invalid="ignore"):
        errors[1:] = np.where(roots > 0, errors[1:] / (2 * roots), np.sqrt(errors[1:]))
    return Fit(
        parameters_of(figures),
        DriftParameters(*errors.tolist()),
        likelihood(course, figures).value,
        iterations,
        readings=int(used.sum()),
        screened=int((treatment >= Treatment.SET_ASIDE).sum()),
        valves=int(used.any(axis=0).sum()),
    )
