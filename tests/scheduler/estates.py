"""A large estate as a database gives it: columns of visits, with the rules and limits of each valve."""

from dataclasses import dataclass
from datetime import date
from math import isnan

import numpy as np

from estate.domain.findings import Finding, Judgement, Outcome, Severity
from estate.domain.rules.values import RuleSet
from estate.domain.visits import VisitKind
from estate.operations.open_register import published_rule_sets
from estate.scheduler.arrays import Floats, Whole
from estate.scheduler.bodies import bodies_of
from estate.scheduler.estimates import Asked
from estate.scheduler.lives import Lives
from estate.scheduler.states import DriftParameters
from estate.scheduler.visit_table import Measured

MODELS = tuple(
    DriftParameters(*each)
    for each in (
        (0.0, 0.02, 0.06, 0.25),
        (0.01, 0.03, 0.10, 0.25),
        (0.02, 0.04, 0.14, 0.20),
        (0.03, 0.02, 0.10, 0.30),
        (0.015, 0.05, 0.08, 0.25),
        (0.025, 0.03, 0.20, 0.25),
    )
)
SITES = 3
ASKED = (Asked(43.0, 0.05, 0.02, 120.0), Asked(46.0, 0.02, 0.05, 120.0), Asked(43.0, 0.1, 0.1, 120.0))
SATISFACTORY = Judgement("uk-healthcare", "1", (Finding("mixed-found", Outcome.MET, "In order."),))
TOO_HOT = Finding(
    "left-above-ceiling",
    Outcome.NOT_MET,
    "Left at 44.1 °C, above the ceiling of 43 °C. Put it right.",
    Severity.OUT_OF_USE,
    source="D08-35",
    retest_weeks=(0.0, 0.0),
)
FAILED = Judgement("uk-healthcare", "1", (TOO_HOT, *SATISFACTORY.checks))


@dataclass(frozen=True)
class Columns:
    """Visits of n valves as a driver gives them: words for days, None where nothing was measured."""

    valve_ids: tuple[int, ...]
    days: tuple[str, ...]
    kinds: tuple[str, ...]
    measured: tuple[Measured, ...]


@dataclass(frozen=True)
class LargeEstate:
    """n valves: their visits, and of each its groups, its rules, what is asked, its last judgement."""

    columns: Columns
    names: tuple[tuple[str, ...], ...]
    rules: tuple[RuleSet, ...]
    asked: tuple[Asked, ...]
    judgements: tuple[Judgement, ...]

    def lives(self) -> Lives:
        """The valves as the planner takes them, laid out from the columns."""
        columns, valves = self.columns, len(self.names)
        bodies = bodies_of(columns.valve_ids, columns.days, columns.kinds, columns.measured)
        return Lives(bodies.of(range(valves)), [None] * valves, self.judgements, [True] * valves)


def large_estate(valves: int, visits: int, seed: int) -> LargeEstate:
    """Valves of several models at several sites, with `visits` visits on average, eight at least.

    Commissioned at 41 °C, tested at random intervals, re-adjusted when read more than 1 K off; two
    readings in a thousand are written down nine kelvins too low, one shut-off in two hundred fails.
    """
    chance = np.random.default_rng(seed)
    half = chance.integers(8 - visits, visits - 7, valves // 2)
    count: Whole = np.concatenate((visits + half, visits - half, np.full(valves % 2, visits)))
    model = np.arange(valves) % len(MODELS)
    sites = np.arange(valves) % SITES
    sets = tuple(published_rule_sets().values())
    failed = chance.random(valves) < 0.02
    return LargeEstate(
        _columns(chance, count, model),
        tuple((f"M{m} at S{s}", f"M{m}", "the whole estate") for m, s in zip(model, sites, strict=True)),
        tuple(sets[each] for each in np.arange(valves) % len(sets)),
        tuple(ASKED[each] for each in np.arange(valves) % len(ASKED)),
        tuple(FAILED if each else SATISFACTORY for each in failed),
    )


def _columns(chance: np.random.Generator, count: Whole, model: Whole) -> Columns:
    shape = (len(count), int(count.max()))
    here = np.arange(shape[1]) < count[:, None]
    day, found, left = _histories(chance, shape, model)
    first = np.arange(shape[1]) == 0
    adjusted = np.where(first | (left != found), 1.0, 0.0)
    hot, cold = np.round(chance.normal(60.0, 1.5, shape), 1), np.round(chance.normal(13.0, 3.0, shape), 1)
    flow = np.where(chance.random(shape) < 0.005, 400.0, 0.0)
    cleaned = np.where(chance.random(shape) < 0.5, 1.0, 0.0)
    grids = (found, left, adjusted, hot, cold, flow, np.full(shape, np.nan), cleaned)
    kinds = np.where(first, VisitKind.COMMISSIONING.value, VisitKind.IN_SERVICE.value)
    return Columns(
        tuple(np.repeat(np.arange(len(count)), count).tolist()),
        tuple(date.fromordinal(each).isoformat() for each in day[here].tolist()),
        tuple(np.broadcast_to(kinds, shape)[here].tolist()),
        tuple(_as_read(grid[here]) for grid in grids),
    )


def _as_read(values: Floats) -> tuple[float | None, ...]:
    return tuple(None if isnan(value) else value for value in values.tolist())


def _histories(
    chance: np.random.Generator, shape: tuple[int, int], model: Whole
) -> tuple[Whole, Floats, Floats]:
    """Days, and temperatures as found and as left."""
    valves, visits = shape
    mu, omega, sigma, s = np.array([(each.mu, each.omega, each.sigma, each.s) for each in MODELS])[model].T
    slope, true = chance.normal(mu, omega), np.full(valves, 41.0)
    day = np.zeros(shape, np.int64)
    found, left = np.full((2, *shape), np.nan)
    day[:, 0] = date(2016, 1, 4).toordinal() + chance.integers(0, 700, valves)
    left[:, 0] = np.round(chance.normal(true, s), 1)
    for visit in range(1, visits):
        gap = chance.integers(42, 210, valves)
        true = true + slope * gap / 7 + sigma * np.sqrt(gap / 7) * chance.normal(size=valves)
        slip = np.where(chance.random(valves) < 0.002, -9.0, 0.0)
        read = np.round(chance.normal(true, s) + slip, 1)
        off = np.abs(read - 41.0) > 1.0
        true = np.where(off, chance.normal(41.0, 0.1, valves), true)
        day[:, visit], found[:, visit] = day[:, visit - 1] + gap, read
        left[:, visit] = np.where(off, np.round(chance.normal(true, s), 1), read)
    return day, found, left
