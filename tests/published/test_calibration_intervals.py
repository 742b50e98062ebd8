"""Two published recalibration methods, as a yardstick for intervals.

INT-02: ILAC-G24 / OIML D 10, method 1 (second-hand, S2). INT-07: NCSLI RP-1, method A1; its numbers follow
from the condition that intervals keep their mean logarithm at the reliability aimed at.
"""

import math

import numpy as np
import pytest

from estate.scheduler.ladders import shrinkage, simple_response, staircase

UP, DOWN = 1.25, 0.5


@pytest.mark.parametrize(
    ("share_of_permissible", "factor"),
    [
        (0.0, UP),
        (0.79, UP),
        (0.80, UP),
        (0.81, 1.0),
        (1.0, 1.0),
        (1.01, DOWN),
        (3.0, DOWN),
        (-0.8, UP),
        (-1.5, DOWN),
    ],
)
def test_that_the_staircase_steps_at_80_and_100_per_cent(share_of_permissible: float, factor: float) -> None:
    error = np.array([share_of_permissible * 2.5])
    assert staircase(np.array([20.0]), error, 2.5, UP, DOWN)[0] == 20.0 * factor


def test_that_the_staircase_stands_still_without_a_reading() -> None:
    assert staircase(np.array([20.0]), np.array([np.nan]), 2.5, UP, DOWN)[0] == 20.0


@pytest.mark.parametrize(("target", "printed"), [(0.90, 0.576), (0.95, 0.836), (0.85, 0.417)])
def test_that_method_a1_shrinks_by_its_published_share(target: float, printed: float) -> None:
    assert shrinkage(0.10, target) == pytest.approx(printed, abs=5e-4)


@pytest.mark.parametrize("target", [0.5, 0.85, 0.95])
def test_that_method_a1_has_no_drift_at_the_reliability_aimed_at(target: float) -> None:
    longer, shorter = simple_response(np.full(2, 30.0), np.array([True, False]), 0.10, target) / 30.0
    assert longer == pytest.approx(1.10)
    assert target * math.log(longer) + (1 - target) * math.log(shorter) == pytest.approx(0, abs=1e-12)


def test_that_method_a1_ends_at_the_reliability_aimed_at() -> None:
    """Items whose chance of being in tolerance is exp(−I/100 weeks): the share in tolerance ends at 0.85."""
    random = np.random.default_rng(7)
    interval = np.full(4000, 40.0)
    inside = []
    for turn in range(400):
        in_tolerance = random.random(4000) < np.exp(-interval / 100)
        interval = simple_response(interval, in_tolerance, 0.02, 0.85)
        if turn >= 100:
            inside.append(in_tolerance.mean())
    assert np.mean(inside) == pytest.approx(0.85, abs=0.005)
