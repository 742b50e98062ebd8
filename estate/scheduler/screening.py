"""Readings that can't be taken at their word: slips of the pen, and jumps that look like one."""

from dataclasses import dataclass
from enum import IntEnum

import numpy as np

from estate.scheduler.arrays import Flags, Floats, Whole


class Treatment(IntEnum):
    """What was made of an as-found reading."""

    NONE = 0
    """Nothing was read."""
    USED = 1
    """Compared with what was predicted."""
    STARTED = 2
    """Began the level, which was not known or in doubt."""
    SET_ASIDE = 3
    """No mixed water can have had it: a slip; the next reading decides."""
    DOUBTED = 4
    """Hardly to be expected: a slip or a jump, so the level is in doubt between the two."""


@dataclass(frozen=True, slots=True)
class Screen:
    """When a reading is not taken at its word (limits: common practice, no source).

    A reading far below the valve's usual temperature, or above what any supply can give, is set aside;
    two in a row are believed. Any other that lies more than `gate_sd` from what was predicted leaves the
    level in doubt, half way between the two with all their spread, until the next reading: a jump that
    is real is never hidden, and a slip is forgotten at the next visit.

    Attributes:
        gate_sd: standard deviations of the prediction.
        below_k, above_k: distance from the valve's usual temperature, K.
    """

    gate_sd: float = 5.0
    below_k: float = 10.0
    above_k: float = 35.0

    def out_of_reach(self, reading: Floats, usual: Floats) -> Flags:
        """Whether no mixed water of the valve can have had a temperature; never where none was read."""
        found: Flags = (reading < usual - self.below_k) | (reading > usual + self.above_k)
        return found


SCREEN = Screen()
UNSCREENED = Screen(np.inf, np.inf, np.inf)
"""Every reading is taken at its word."""


def treatments(
    screen: Screen, reading: Floats, miss_sd: Floats, slip: Flags, aside: Flags, known: Flags
) -> Whole:
    """Decide what to make of one reading of each valve.

    Args:
        screen: the limits.
        reading: (n,) °C, NaN where nothing was read.
        miss_sd: (n,) distance from the prediction in its standard deviations.
        slip: (n,) whether the reading is out of reach.
        aside: (n,) whether the valve's last reading was set aside.
        known: (n,) whether the level is known.

    Returns:
        (n,) values of `Treatment`.
    """
    unlikely = known & (miss_sd > screen.gate_sd)
    made = np.where(known, np.where(unlikely, Treatment.DOUBTED, Treatment.USED), Treatment.STARTED)
    made = np.where(slip, np.where(aside, Treatment.STARTED, Treatment.SET_ASIDE), made)
    return np.where(np.isnan(reading), Treatment.NONE, made).astype(np.int64)
