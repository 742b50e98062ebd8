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
    return Panel(*grid, reset, reset & (np.arange(width) == 0), np.array([len(rows) for rows in valves]))


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
    reset = ~np.isnan(grid[2])
    return Simulated(
        Panel(*grid, reset, reset & (np.arange(visits) == 0), np.full(valves, visits)), true, slope
    )
