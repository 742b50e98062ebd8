"""How long bodies stay in place: the product-limit estimate (Kaplan and Meier, 1958) of what was watched.

A body that is still in place, or went for another reason than to be replaced, is censored. One that was
fitted before anything of it is on record counts from the age at which it was first watched (delayed entry):
those of its kind that went before left no record, and counting from new would make bodies look longer-lived.
"""

from dataclasses import dataclass

import numpy as np
from scipy.special import ndtri

from estate.domain.forecast import LEVEL, Ranged, StillInPlace
from estate.scheduler.arrays import Flags, Floats, Whole

FEWEST_AT_RISK = 5
"""An age at which fewer bodies were watched says too little (this register's own default)."""
AGES_SHOWN = (1.0, 2.0, 3.0, 5.0, 8.0, 10.0, 15.0, 20.0)
"""In years, as far as bodies were watched."""


@dataclass(frozen=True, slots=True)
class Lifetimes:
    """The times over which n bodies were watched, as ages in years.

    Attributes:
        entry: (n,) age at which watching began, from 0.
        exit: (n,) age at which it ended, above `entry`.
        replaced: (n,) whether it ended with a replacement.
    """

    entry: Floats
    exit: Floats
    replaced: Flags


@dataclass(frozen=True, slots=True)
class Curve:
    """Share still in place just after each age at which a body was replaced.

    Attributes:
        age: (k,) years, rising.
        at_risk, replaced: (k,) bodies watched at that age, and those replaced then.
        share: (k,) still in place.
        greenwood: (k,) Greenwood's sum of d/(n(n − d)): the variance of the logarithm of the share.
    """

    age: Floats
    at_risk: Whole
    replaced: Whole
    share: Floats
    greenwood: Floats

    def ends(self, level: float = LEVEL) -> tuple[Floats, Floats]:
        """Ends (k,) of the log-log interval of the share; NaN where all have been replaced."""
        with np.errstate(divide="ignore", invalid="ignore"):
            spread = ndtri(0.5 + level / 2) * np.sqrt(self.greenwood) / np.abs(np.log(self.share))
            return self.share ** np.exp(spread), self.share ** np.exp(-spread)


def product_limit(lives: Lifetimes) -> Curve:
    """The curve of some bodies; with no replacement it is empty."""
    ages, replaced = np.unique(lives.exit[lives.replaced], return_counts=True)
    at_risk = watched_at(lives, ages)
    share = np.asarray(np.cumprod(1 - replaced / at_risk), np.float64)
    with np.errstate(divide="ignore"):
        greenwood = np.cumsum(replaced / (at_risk * (at_risk - replaced)))
    return Curve(ages, at_risk, replaced, share, greenwood)


def watched_at(lives: Lifetimes, ages: Floats) -> Whole:
    """How many bodies were watched at each age: begun before it, and not ended before it."""
    begun = np.searchsorted(np.sort(lives.entry), ages, side="left")
    ended = np.searchsorted(np.sort(lives.exit), ages, side="left")
    found: Whole = begun - ended
    return found


def still_in_place(lives: Lifetimes, ages: tuple[float, ...] = AGES_SHOWN) -> tuple[StillInPlace, ...]:
    """Shares still in place at some ages, as long as enough bodies were watched there.

    A share rests on every earlier age too: it is told only where all of them were watched by enough.
    """
    curve, wanted = product_limit(lives), np.array(ages)
    low, high = curve.ends()
    watched = watched_at(lives, wanted)
    thin = curve.age[curve.at_risk < FEWEST_AT_RISK]
    found = []
    for age, at_risk in zip(ages, watched.tolist(), strict=True):
        if at_risk < FEWEST_AT_RISK or np.any(thin <= age):
            continue
        place = int(np.searchsorted(curve.age, age, side="right")) - 1
        share = Ranged(1.0, None, None)
        if place >= 0:
            share = Ranged(float(curve.share[place]), float(low[place]), float(high[place]))
        found.append(StillInPlace(age, share, at_risk))
    return tuple(found)


def age_when_left(lives: Lifetimes, share: float = 0.5) -> Ranged | None:
    """Age by which no more than a share is still in place, with its log-log interval.

    Returns:
        None where the share was not reached, or rests on too few; an end is None where it was not reached.
    """
    curve = product_limit(lives)
    low, high = curve.ends()
    reached = np.flatnonzero(curve.share <= share)
    if not len(reached) or np.any(curve.at_risk[: reached[0] + 1] < FEWEST_AT_RISK):
        return None
    return Ranged(
        float(curve.age[reached[0]]), _first(curve.age, low <= share), _first(curve.age, high <= share)
    )


def _first(ages: Floats, reached: Flags) -> float | None:
    places = np.flatnonzero(reached)
    return float(ages[places[0]]) if len(places) else None
