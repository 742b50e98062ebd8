"""Fitting the groups of an estate: drift and shut-off together, as they are kept in the register."""

from collections.abc import Sequence
from datetime import date

import numpy as np

from estate.domain.learned import GroupParameters
from estate.scheduler.arrays import Whole
from estate.scheduler.fit import Fit
from estate.scheduler.groups import fit_estate_and_groups
from estate.scheduler.lives import Lives
from estate.scheduler.proof_tests import evidence_from
from estate.scheduler.shutoff_fit import ShutOffFit, fit_shut_off

KEPT_DIGITS = 6
"""Significant digits kept, so that the same register gives the same figures on any machine."""


def fit_estate(
    lives: Lives, names: Sequence[tuple[str, ...]], limits_ml_min: Sequence[float | None], on: date
) -> tuple[GroupParameters, ...]:
    """Fit every group that is big enough to stand alone, and the whole estate.

    Args:
        lives: every body with visits, those removed too.
        names: the groups of each, narrowest first, the estate last.
        limits_ml_min: residual flow accepted of each.
        on: day up to which visits were used.

    Returns:
        One for each group, the estate last; empty without a visit.
    """
    if not lives.visited.any():
        return ()
    everyone, chosen = fit_estate_and_groups(lives.panel, names, steps=lives.steps)
    estate, fits = everyone.name, {each.name: each.fit for each in (everyone, *chosen)}
    evidence = evidence_from(lives.table, np.array(limits_ml_min, np.float64))
    whole = fit_shut_off(evidence)
    members = _members(names)
    found = []
    for name in sorted(fits, key=lambda each: (each == estate, each)):
        shut = whole if name == estate else fit_shut_off(evidence.rows(members[name]), whole.prior)
        found.append(_kept(name, fits[name], shut, on))
    return tuple(found)


def _members(names: Sequence[tuple[str, ...]]) -> dict[str, Whole]:
    """Rows of each group, by its name."""
    found: dict[str, list[int]] = {}
    for row, groups in enumerate(names):
        for name in set(groups):
            found.setdefault(name, []).append(row)
    return {name: np.array(rows, np.int64) for name, rows in found.items()}


def _kept(name: str, fit: Fit, shut: ShutOffFit, on: date) -> GroupParameters:
    drift = fit.parameters
    return GroupParameters(
        name=name,
        mu=_rounded(drift.mu),
        omega=_rounded(drift.omega),
        sigma=_rounded(drift.sigma),
        s=_rounded(drift.s),
        a=_rounded(shut.prior.a),
        b_years=_rounded(shut.prior.b_years),
        valves=fit.valves,
        readings=fit.readings,
        fitted_on=on,
        version=f"drift {fit.version}, shut-off {shut.version}",
    )


def _rounded(value: float) -> float:
    return float(f"{value:.{KEPT_DIGITS}g}")
