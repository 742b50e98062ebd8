"""Regulating or only mixing: the check values of the computation's specification, and the mixing law PH-02.

Supplies and readings stand here as printed; the least-squares slope is checked a second way by
`scipy.stats.linregress`.
"""

import numpy as np
import pytest
from scipy.stats import linregress

from estate.domain.mixing import mixed_temperature
from estate.scheduler.arrays import Floats
from estate.scheduler.panel import Panel
from estate.scheduler.regulation import Regulation, regulation

HOT = np.array([60.0, 62.0, 57.0, 64.0, 59.0])
COLD = np.full(5, 15.0)
MIXED = np.array([41.0, 41.1, 40.9, 41.2, 41.0])
FIXED = 15 + 0.58 * (HOT - 15)


def regulate(mixed: Floats, hot: Floats = HOT, cold: Floats = COLD) -> Regulation:
    untouched = np.zeros((1, len(mixed)), np.bool_)
    weeks = (26.0 * np.arange(len(mixed)))[None].astype(np.float64)
    panel = Panel(
        weeks, mixed[None], np.full((1, len(mixed)), np.nan), untouched, untouched, np.array([len(mixed)])
    )
    return regulation(panel, hot[None], cold[None], 0.25)


def test_that_a_thermostat_gives_its_printed_slope_and_hot_fraction() -> None:
    found = regulate(MIXED)
    assert found.slope[0] == pytest.approx(0.041781, abs=5e-7)
    assert found.hot_fraction[0] == pytest.approx(0.573568, abs=5e-7)
    assert found.index[0] == pytest.approx(found.slope[0] / found.hot_fraction[0], rel=1e-12)
    assert found.low[0] < 0 < found.high[0] < 0.5


def test_that_the_slope_is_that_of_a_regression_program() -> None:
    assert regulate(MIXED).slope[0] == pytest.approx(linregress(HOT, MIXED).slope, rel=1e-10)


def test_that_a_fixed_mixer_gives_its_printed_slope_and_an_index_of_1() -> None:
    found = regulate(FIXED)
    assert found.slope[0] == pytest.approx(0.58, abs=5e-7)
    assert found.index[0] == pytest.approx(1, abs=1e-12)
    assert 0.5 < found.low[0] < 1 < found.high[0]


def test_that_a_fixed_mixer_by_the_mixing_law_has_an_index_of_1_whatever_its_cold_supply() -> None:
    """PH-01 with hot and cold flows of 1.3684 to 1 (PH-02: f = 0.57778), both supplies varying."""
    cold = np.array([8.0, 15.0, 19.0, 6.0, 12.0])
    mixed = np.array([mixed_temperature(26 / 19, h, 1.0, c) for h, c in zip(HOT, cold, strict=True)])
    found = regulate(mixed, cold=cold)
    assert found.hot_fraction[0] == pytest.approx(0.57778, abs=5e-6)
    assert found.index[0] == pytest.approx(1, abs=1e-9)
