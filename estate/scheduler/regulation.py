"""Whether a valve regulates, or only mixes: how far its mixed temperature follows its supplies.

A mixer that does not regulate gives M = f·hot + (1 − f)·cold, with f its hot fraction (PH-02); a healthy
thermostat hardly moves. The regulation index ρ is the slope of the mixed temperature on M within each
setting: near 0 the element regulates, near 1 it does not. Its product with f is the movement per
kelvin of the hot supply, the cold one and the re-adjustments accounted for.
"""

from dataclasses import dataclass

import numpy as np
from scipy.special import ndtri, stdtrit

from estate.scheduler.arrays import Floats, Whole
from estate.scheduler.panel import Panel
from estate.scheduler.visit_table import VisitTable

_WIDEST = 0.5
"""Half-width of the 95 % interval of ρ beyond which 0 and 1 can't be told apart."""


@dataclass(frozen=True, slots=True)
class Regulation:
    """How n valves regulate; NaN in every value of a valve of which nothing can be said.

    Attributes:
        slope: (n,) movement of the mixed temperature per kelvin of the hot supply, K/K.
        hot_fraction: (n,) share of hot water in the mix: mean of mixed − cold over mean of hot − cold.
        index: (n,) slope / hot fraction; 0 regulates, 1 only mixes.
        low, high: (n,) ends of the interval of the index.
        readings: (n,) mixed temperatures used.
    """

    slope: Floats
    hot_fraction: Floats
    index: Floats
    low: Floats
    high: Floats
    readings: Whole


@dataclass(frozen=True, slots=True)
class _Points:
    """Mixed temperatures of all valves and what a fixed mixer would have given, each (N,)."""

    row: Whole
    setting: Whole
    mixed: Floats
    fixed: Floats


def supplies_of(table: VisitTable) -> tuple[Floats, Floats]:
    """Hot and cold supply temperatures, °C, both (n, m) in the places of the panel of the same table."""
    return table.grid(table.hot), table.grid(table.cold)


def regulation(
    panel: Panel, hot: Floats, cold: Floats, reading_sd: float | Floats, level: float = 0.95
) -> Regulation:
    """The regulation index of n valves.

    Each stretch between two re-adjustments has an intercept of its own. The interval is the wider of the two
    that come from the scatter of the readings about the lines (Student's t) and from their known error
    (normal). Nothing is said where their error alone would leave the index open by more than ±0.5:
    the supplies varied by less than the readings resolve. An error of the supply readings pulls
    the index a little towards 0, at most by its share in the variance of the supplies.

    Args:
        panel: mixed temperatures; only visits with both supplies measured, hot above cold, are used.
        hot, cold: (n, m) supply temperatures, °C, NaN where not measured.
        reading_sd: standard deviation of one reading, K, one or (n,), above zero.
        level: of the interval.
    """
    valves = len(panel.count)
    fraction, readings, points = _points(panel, hot, cold)
    fixed, mixed = _within(points, points.fixed), _within(points, points.mixed)
    rows = _settings_with_readings(points, panel.weeks.shape[1])
    settings = np.bincount(rows, minlength=valves)
    free = readings - settings - 1
    square = np.bincount(points.row, fixed**2, valves)
    with np.errstate(invalid="ignore", divide="ignore"):
        index = np.bincount(points.row, fixed * mixed, valves) / square
        scatter = np.bincount(points.row, (mixed - index[points.row] * fixed) ** 2, valves)
        known = ndtri(0.5 + level / 2) * reading_sd / np.sqrt(square)
        seen = stdtrit(np.maximum(free, 1), 0.5 + level / 2) * np.sqrt(scatter / free / square)
        unsaid = (free < 1) | ~(known <= _WIDEST)
    index, half = np.where(unsaid, np.nan, index), np.fmax(known, seen)
    fraction = np.where(unsaid, np.nan, fraction)
    return Regulation(index * fraction, fraction, index, index - half, index + half, readings)


def _points(panel: Panel, hot: Floats, cold: Floats) -> tuple[Floats, Whole, _Points]:
    """Hot fraction (n,), readings (n,), and the readings: as found, and as left where re-adjusted."""
    valves, width = panel.weeks.shape
    usable = hot > cold
    found = np.nonzero(usable & ~np.isnan(panel.found))
    left = np.nonzero(usable & panel.reset & ~np.isnan(panel.left))
    began = np.cumsum(panel.reset, axis=1)
    row = np.concatenate((found[0], left[0]))
    setting = np.concatenate(((began - panel.reset)[found], began[left])) + row * (width + 1)
    mixed = np.concatenate((panel.found[found], panel.left[left]))
    hot, cold = (np.concatenate((each[found], each[left])) for each in (hot, cold))
    readings = np.bincount(row, minlength=valves)
    span = np.where(readings > 0, np.bincount(row, hot - cold, valves), 1.0)
    fraction = np.bincount(row, mixed - cold, valves) / span
    fixed = fraction[row] * hot + (1 - fraction[row]) * cold
    return fraction, readings, _Points(row, setting, mixed, fixed)


def _within(points: _Points, values: Floats) -> Floats:
    """Deviations (N,) from the mean of the setting."""
    total, count = np.bincount(points.setting, values), np.bincount(points.setting)
    return values - total[points.setting] / count[points.setting]


def _settings_with_readings(points: _Points, width: int) -> Whole:
    """Row of each setting that has readings; a row has one setting more than the panel's width."""
    return np.flatnonzero(np.bincount(points.setting)) // (width + 1)
