"""Histories for the drift tests: written out, or simulated with a truth that is known."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from estate.scheduler.arrays import Floats
from estate.scheduler.panel import Panel
from estate.scheduler.states import DriftParameters

TRUTH = DriftParameters(mu=0.02, omega=0.03, sigma=0.10, s=0.25)
NOTHING = float("nan")

Row = tuple[float, float, float]
"""Week, as found, as left where a new level began (else NaN)."""

EXAMPLE: tuple[Row, ...] = (
    (0, NOTHING, 41.0),
    (7, 41.6, NOTHING),
    (13, 42.1, 41.0),
    (26, 41.9, NOTHING),
)


def panel(*valves: Sequence[Row]) -> Panel:
    """A panel of written histories."""
    width = max(1, *(len(rows) for rows in valves))
    grid = np.full((3, len(valves), width), np.nan)
    for number, rows in enumerate(valves):
        grid[:, number, : len(rows)] = np.array(rows, np.float64).reshape(-1, 3).T
    reset = ~np.isnan(grid[2])
    weeks, found, left = grid
    sets = reset & (np.arange(width) == 0)
    return Panel(weeks, found, left, reset, sets, np.array([len(rows) for rows in valves]))


@dataclass(frozen=True)
class Simulated:
    """A simulated estate with what is true of it."""

    panel: Panel
    level: Floats
    slope: Floats


def simulated(
    valves: int,
    visits: int,
    seed: int,
    truth: DriftParameters = TRUTH,
    weeks: tuple[float, float] = (6, 30),
) -> Simulated:
    """Commissioned at 41 °C, visited at random intervals, re-adjusted when read more than 1 K off."""
    chance = np.random.default_rng(seed)
    slope = chance.normal(truth.mu, truth.omega, valves)
    true = np.full(valves, 41.0)
    grid = np.full((3, valves, visits), np.nan)
    grid[0, :, 0], grid[2, :, 0] = 0.0, chance.normal(true, truth.s)
    for visit in range(1, visits):
        gap = chance.uniform(*weeks, valves)
        true = true + slope * gap + truth.sigma * np.sqrt(gap) * chance.normal(size=valves)
        read = chance.normal(true, truth.s)
        off = np.abs(read - 41.0) > 1.0
        true = np.where(off, chance.normal(41.0, 0.1, valves), true)
        left = np.where(off, chance.normal(true, truth.s), np.nan)
        grid[:, :, visit] = grid[0, :, visit - 1] + gap, read, left
    dates, found, left = grid
    reset = ~np.isnan(left)
    sets = reset & (np.arange(visits) == 0)
    return Simulated(Panel(dates, found, left, reset, sets, np.full(valves, visits)), true, slope)


def without_last(estate: Panel) -> Panel:
    """The same valves before their last visit."""
    return Panel(
        estate.weeks[:, :-1],
        estate.found[:, :-1],
        estate.left[:, :-1],
        estate.reset[:, :-1],
        estate.kind_sets_reference[:, :-1],
        estate.count - 1,
    )


def together(*parts: Panel) -> Panel:
    """The valves of several panels in one."""
    width = max(part.weeks.shape[1] for part in parts)
    rows = sum(len(part.count) for part in parts)
    dates, found, left = np.full((3, rows, width), np.nan)
    reset, sets = np.zeros((2, rows, width), np.bool_)
    first = 0
    for part in parts:
        here = (slice(first, first + len(part.count)), slice(part.weeks.shape[1]))
        dates[here], found[here], left[here] = part.weeks, part.found, part.left
        reset[here], sets[here] = part.reset, part.kind_sets_reference
        first += len(part.count)
    return Panel(dates, found, left, reset, sets, np.concatenate([part.count for part in parts]))
