"""Drift parameters of groups of valves: the maximum of the pooled exact likelihood.

Readings that the screen does not take at their word are found with the parameters of the fit before, and
the fit is repeated until they stay the same.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from estate.scheduler.arrays import Flags, Floats, Whole
from estate.scheduler.likelihood import DRIFT, MU, NOISE, WANDER, course_of
from estate.scheduler.panel import Panel
from estate.scheduler.scoring import LEAST, Prior, Summit, climb, figures_of, parameters_of
from estate.scheduler.screening import SCREEN, Screen, Treatment
from estate.scheduler.states import DriftParameters, ParameterColumns
from estate.scheduler.steps import Steps, steps_of
from estate.scheduler.track import Trail, trail

__all__ = ["ASSUMED", "VERSION", "Fit", "Prior", "fit_each", "fit_pooled", "fit_steps"]

VERSION = 1
"""Raised whenever the same readings would give other parameters."""

ASSUMED = DriftParameters(mu=0.015, omega=0.03, sigma=0.10, s=0.25)
"""What is assumed while there are hardly any readings (own default: no field figure is published, PH-11)."""

MOST_SCREENINGS = 4
PLACES = {"mu": MU, "omega": DRIFT, "sigma": WANDER, "s": NOISE}


@dataclass(frozen=True, slots=True)
class Fit:
    """Parameters of one group and what they rest on.

    Attributes:
        parameters: the estimates.
        standard_errors: of each, in its unit; for one at zero that of its square, rooted; 0 if held.
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
    version: int = VERSION


def fit_pooled(
    panel: Panel,
    prior: Prior | None = None,
    *,
    held: Mapping[str, float] | None = None,
    start: DriftParameters | None = None,
    screen: Screen = SCREEN,
) -> Fit:
    """Fit all valves of a panel as one group.

    Args:
        panel: n valves, m visits.
        prior: what to lean on while there are few readings; None for the likelihood alone.
        held: parameters not to be fitted, by name, with their values (`s` above 0).
        start: where to begin; None to begin at the prior, or from the readings.
        screen: when a reading is not taken at its word.

    Returns:
        The fit; without a single reading to use, where it began.
    """
    group = np.zeros(len(panel.count), np.int64)
    return fit_each(
        panel, group, [prior], held=held, starts=None if start is None else [start], screen=screen
    )[0]


def fit_each(
    panel: Panel,
    group: Whole,
    priors: Sequence[Prior | None],
    *,
    held: Mapping[str, float] | None = None,
    starts: Sequence[DriftParameters] | None = None,
    screen: Screen = SCREEN,
) -> list[Fit]:
    """Fit g groups side by side, each for itself.

    Args:
        panel: n valves, m visits.
        group: (n,) number of each valve's group, below g.
        priors: of each group; also where it begins, unless there are `starts`.
        held, screen: as for `fit_pooled`.
    """
    return fit_steps(steps_of(panel), group, priors, held=held, starts=starts, screen=screen)


def fit_steps(
    steps: Steps,
    group: Whole,
    priors: Sequence[Prior | None],
    *,
    held: Mapping[str, float] | None = None,
    starts: Sequence[DriftParameters] | None = None,
    screen: Screen = SCREEN,
) -> list[Fit]:
    """The same for a panel that has been turned on its side."""
    figures = _starts(steps, priors, starts)
    free = np.ones(4, np.bool_)
    for name, value in (held or {}).items():
        free[PLACES[name]] = False
        figures[:, PLACES[name]] = value if name == "mu" else value**2
    figures = np.where(free, np.maximum(figures, LEAST), figures)
    return _climbed(steps, figures, group, free, priors, screen)


def _climbed(
    steps: Steps, figures: Floats, group: Whole, free: Flags, priors: Sequence[Prior | None], screen: Screen
) -> list[Fit]:
    """Climb and screen by turns; a group whose readings are treated as before is settled."""
    group_of, among = group[steps.order], np.ones(len(priors), np.bool_)
    run = _run(steps, figures, group, screen)
    seen, summit = run.treatment.copy(), climb(course_of(steps, run, group), figures, free, priors)
    for _ in range(MOST_SCREENINGS - 1):
        moved = among & (summit.figures != figures).any(axis=1)
        figures, columns = summit.figures, np.flatnonzero(moved[group_of])
        some = steps.columns(columns)
        run = _run(some, figures, group, screen)
        otherwise = (run.treatment != seen[:, columns]).any(axis=0)
        among = np.bincount(group_of[columns[otherwise]], minlength=len(priors)) > 0
        if not among.any():
            break
        seen[:, columns] = run.treatment
        course = course_of(some, run, group).of_groups(among)
        summit = climb(course, figures, free, priors, among).where(among, summit)
    return _fits(group_of, seen, summit, free)


def _run(steps: Steps, figures: Floats, group: Whole, screen: Screen) -> Trail:
    mu, *variances = figures[group].T
    omega, sigma, s = np.sqrt(variances)
    return trail(steps, ParameterColumns(mu, omega, sigma, s), screen)


def _starts(steps: Steps, priors: Sequence[Prior | None], starts: Sequence[DriftParameters] | None) -> Floats:
    if starts is not None:
        return np.stack([figures_of(start) for start in starts])
    begin = None if all(priors) else _begin(steps)
    return np.stack([figures_of(prior.parameters if prior else begin or ASSUMED) for prior in priors])


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


def _fits(group_of: Whole, treatment: Whole, summit: Summit, free: Flags) -> list[Fit]:
    used = (treatment == Treatment.USED).sum(axis=0)
    doubted = (treatment >= Treatment.SET_ASIDE).sum(axis=0)
    groups = len(summit.rounds)
    counts = [np.bincount(group_of, each, groups) for each in (used, doubted, used > 0)]
    return [
        Fit(
            parameters_of(summit.figures[number]),
            _errors(summit.figures[number], summit.here.information[number], free),
            float(summit.log_likelihood[number]),
            int(summit.rounds[number]),
            *(int(count[number]) for count in counts),
        )
        for number in range(groups)
    ]


def _errors(figures: Floats, information: Floats, free: Flags) -> DriftParameters:
    covariance = np.zeros((4, 4))
    covariance[np.ix_(free, free)] = np.linalg.pinv(information[np.ix_(free, free)], hermitian=True)
    errors, roots = np.sqrt(np.maximum(np.diag(covariance), 0.0)), np.sqrt(figures[1:])
    at_zero = roots == 0
    errors[1:] = np.where(at_zero, np.sqrt(errors[1:]), errors[1:] / np.where(at_zero, 1.0, 2 * roots))
    return DriftParameters(*errors.tolist())
