"""What is to be expected of each model and of the whole estate in the year ahead."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from functools import cached_property

import numpy as np

from estate.domain.forecast import Ages, BodyChance, Counted, Drift, GroupForecast
from estate.domain.visits import VisitKind
from estate.scheduler.arrays import Flags, Floats, Whole
from estate.scheduler.counting import count_to_come, rate_of, share_of
from estate.scheduler.drift_by_model import drift_by_group
from estate.scheduler.lives import Lives
from estate.scheduler.proof_tests import ShutOffEvidence, evidence_from, shut_then
from estate.scheduler.replacing import AgeBands, bands_of, one_band, replacements_to_come
from estate.scheduler.survival import age_when_left, still_in_place
from estate.scheduler.visit_table import KINDS
from estate.scheduler.watched import WatchedBody, ages_in_place, lifetimes_of

FEWEST_BODIES, FEWEST_YEARS = 5, 10.0
"""Fewer bodies, or fewer valve-years watched, are too few to tell anything (this register's own default)."""
ESTATE = "the whole estate"
LIKELIEST = 10


@dataclass(frozen=True)
class Watching:
    """All that a forecast is made from; a row of `lives` and of the arrays is a valve body.

    Attributes:
        bodies: each body at each position where it has been.
        lives: of the bodies that were ever fitted, each once.
        models: of the same.
        limits_ml_min: residual flow accepted of each; NaN where there is none.
        tested, put_right: whether it was tested in the year before, and found to be put right then.
    """

    as_at: date
    bodies: Sequence[WatchedBody]
    lives: Lives
    models: Sequence[str]
    limits_ml_min: Floats
    tested: Flags
    put_right: Flags

    @cached_property
    def evidence(self) -> ShutOffEvidence:
        """What the tests of the shut-offs prove."""
        return evidence_from(self.lives.table, self.limits_ml_min)

    @cached_property
    def rows(self) -> Mapping[str, Whole]:
        """Rows of each model by its name, and of the whole estate."""
        found: dict[str, list[int]] = {ESTATE: list(range(len(self.models)))}
        for row, model in enumerate(self.models):
            found.setdefault(model, []).append(row)
        return {name: np.array(rows, np.int64) for name, rows in found.items()}

    @cached_property
    def drifts(self) -> Mapping[str, Drift]:
        """The drift of each group that is big enough."""
        return drift_by_group(self.lives.panel, self.rows)

    @cached_property
    def in_order_or_not(self) -> tuple[Floats, Floats]:
        """In-service tests of the shut-off of each row: in which it shut, and in which it did not."""
        table = self.lives.table
        shut, valves = shut_then(table, self.limits_ml_min), len(table.count)
        counted = [
            np.bincount(table.row[~table.sets_reference & (shut == each)], minlength=valves)
            for each in (1, 0)
        ]
        return counted[0].astype(np.float64), counted[1].astype(np.float64)

    @cached_property
    def services(self) -> Floats:
        """Services of each row."""
        table = self.lives.table
        chosen = table.row[table.kind == KINDS.index(VisitKind.SERVICE)]
        return np.bincount(chosen, minlength=len(table.count)).astype(np.float64)

    def bodies_of(self, name: str) -> Sequence[WatchedBody]:
        """The bodies of one group."""
        return [each for each in self.bodies if name in (ESTATE, each.model)]


def watching_of(
    as_at: date,
    bodies: Sequence[WatchedBody],
    lives: Lives,
    models: Sequence[str],
    limits_ml_min: Sequence[float | None],
    tested: Sequence[bool],
    put_right: Sequence[bool],
) -> Watching:
    """The same from plain sequences; a limit of None is none."""
    limits, flags = (
        np.array(limits_ml_min, np.float64),
        [np.array(each, np.bool_) for each in (tested, put_right)],
    )
    return Watching(as_at, bodies, lives, models, limits, *flags)


def forecast_group(watching: Watching, name: str) -> GroupForecast:
    """What is to be expected of one group, `ESTATE` or a model."""
    bodies, as_at = watching.bodies_of(name), watching.as_at
    ages, unknown = ages_in_place(bodies, as_at)
    watched = [each for each in bodies if each.years_watched(as_at) > 0]
    in_place = len(ages) + unknown
    years = sum(each.years_watched(as_at) for each in watched)
    enough = len(watched) >= FEWEST_BODIES and years >= FEWEST_YEARS
    bands, lives = age_bands(bodies, as_at), lifetimes_of(bodies, as_at)
    drift, shut_off = watching.drifts.get(name), _shut_off(watching, name, in_place)
    made = GroupForecast(
        name=name,
        in_place=in_place,
        watched=len(watched),
        ages=_ages(ages, unknown),
        replaced=_replaced(bands, watched, years, ages, unknown, enough),
        by_age=len(bands.begin) > 1,
        shut_off=shut_off,
        services=_counted(float(watching.services[watching.rows[name]].sum()), years, in_place, enough),
        still_in_place=still_in_place(lives) if enough else (),
        half_replaced_years=age_when_left(lives) if enough else None,
        drift=drift,
        too_few=_too_few(len(watched), years, shut_off, drift),
    )
    return _with_shares(made, watching)


def age_bands(bodies: Sequence[WatchedBody], as_at: date) -> AgeBands:
    """Bands of age where each body that was replaced has a known age, else one for all."""
    watched = [each for each in bodies if each.years_watched(as_at) > 0]
    if any(each.born is None for each in watched):
        years = sum(each.years_watched(as_at) for each in watched)
        return one_band(years, sum(each.replaced for each in watched))
    return bands_of(lifetimes_of(bodies, as_at))


def _ages(ages: Floats, unknown: int) -> Ages:
    if not len(ages):
        return Ages(0, unknown)
    return Ages(len(ages), unknown, float(np.median(ages)), float(ages.max()))


def _replaced(
    bands: AgeBands, watched: Sequence[WatchedBody], years: float, ages: Floats, unknown: int, enough: bool
) -> Counted:
    count = sum(each.replaced for each in watched)
    if not enough:
        return Counted(count, years)
    in_place = np.bincount(bands.of(ages), minlength=len(bands.begin))
    in_place[0] += unknown
    return Counted(count, years, rate_of(count, years), replacements_to_come(bands, in_place))


def _counted(count: float, years: float, in_place: int, enough: bool) -> Counted:
    if not enough:
        return Counted(int(count), years)
    return Counted(int(count), years, rate_of(int(count), years), count_to_come(count, years, in_place))


def _shut_off(watching: Watching, name: str, in_place: int) -> Counted:
    """Failures of the shut-off; the time before a failed test counts half, for it failed somewhere in it."""
    evidence = watching.evidence.rows(watching.rows[name])
    failures = int(np.count_nonzero(~np.isnan(evidence.failed_years)))
    years = float(evidence.passed_years.sum() + np.nansum(evidence.failed_years) / 2)
    tested = int(np.count_nonzero(evidence.tests))
    return _counted(failures, years, in_place, tested >= FEWEST_BODIES and years >= FEWEST_YEARS)


def _with_shares(made: GroupForecast, watching: Watching) -> GroupForecast:
    rows = watching.rows[made.name]
    shut, not_shut = (int(each[rows].sum()) for each in watching.in_order_or_not)
    tested = int(watching.tested[rows].sum())
    return replace(
        made,
        shut_off_tested=shut + not_shut,
        shut_off_tests=share_of(not_shut, shut + not_shut),
        tested_valves=tested,
        put_right=share_of(int(watching.put_right[rows].sum()), tested),
    )


def _too_few(watched: int, years: float, shut_off: Counted, drift: Drift | None) -> tuple[str, ...]:
    least = f"at least {FEWEST_BODIES} bodies and {FEWEST_YEARS:g} valve-years are needed"
    said = []
    if watched < FEWEST_BODIES or years < FEWEST_YEARS:
        said.append(
            f"replacements and services: {watched} bodies watched over {years:.1f} valve-years; {least}"
        )
    if shut_off.rate_per_year is None:
        said.append(f"failures of the shut-off: tests over {shut_off.years:.1f} valve-years; {least}")
    if drift is None:
        said.append("drift: at least 20 valves and 100 readings that can be compared are needed")
    return tuple(said)


def likeliest(watching: Watching) -> tuple[BodyChance, ...]:
    """The bodies in place that are likeliest to be replaced within a year, the likeliest first.

    A model goes by itself where it was replaced often enough to tell ages apart; the others go by all bodies.
    Nobody is named where no ages can be told apart: then one chance holds for all.
    """
    as_at = watching.as_at
    whole = age_bands(watching.bodies, as_at)
    own = {name: age_bands(watching.bodies_of(name), as_at) for name in watching.rows if name != ESTATE}
    told = {name: bands for name, bands in own.items() if len(bands.begin) > 1}
    if not told and len(whole.begin) == 1:
        return ()
    chances = {id(bands): bands.chances() for bands in (whole, *told.values())}
    found = []
    for each in watching.bodies:
        if each.left is None:
            bands, age = told.get(each.model, whole), each.age_years(as_at)
            place = 0 if age is None else int(bands.of(np.array([age]))[0])
            found.append(BodyChance(each.ref, each.valve, age, chances[id(bands)][place]))
    found.sort(key=lambda each: (-each.chance.value, -(each.age_years or 0.0), each.ref))
    return tuple(found[:LIKELIEST])
