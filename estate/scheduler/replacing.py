"""How many bodies will be replaced in the year ahead, each with the chance of the age that it has reached.

Watched years and replacements are counted by bands of age. The bands are as many as the years allow: at the
rate of all ages each would have at least `ENOUGH`, so that few replacements give one rate for all. The rate
of a band is Gamma(replacements + ½, years) (Jeffreys); a body of that age is replaced within a year with the
chance 1 − exp(−rate). The count of a band is binomial, averaged over what is known of its rate; bands add up.
"""

from dataclasses import dataclass

import numpy as np
from scipy.special import gammaincinv, gammaln

from estate.domain.forecast import LEVEL, Expected, Ranged
from estate.scheduler.arrays import Floats, Whole
from estate.scheduler.counting import JEFFREYS
from estate.scheduler.survival import Lifetimes

EDGES = (0.0, 2.0, 4.0, 6.0, 8.0, 10.0, 15.0)
"""Ages in years at which a band may begin (this register's own default)."""
ENOUGH = 5
"""Fewest replacements that a band would have at the rate of all ages (this register's own default)."""
_NODES = 64
AHEAD_YEARS = 1.0


@dataclass(frozen=True, slots=True)
class AgeBands:
    """Bands of age of one group of bodies.

    Attributes:
        begin: (k,) age in years at which each begins, the first 0.
        years: (k,) watched.
        replaced: (k,) replacements seen.
    """

    begin: Floats
    years: Floats
    replaced: Whole

    def of(self, ages: Floats) -> Whole:
        """The band of each age."""
        found: Whole = np.searchsorted(self.begin, ages, side="right") - 1
        return found

    def chances(self, level: float = LEVEL) -> list[Ranged]:
        """The chance of one body of each band to be replaced within a year."""
        shape, tail = self.replaced + JEFFREYS, (1 - level) / 2
        mean = 1 - (self.years / (self.years + AHEAD_YEARS)) ** shape
        low, high = (-np.expm1(-gammaincinv(shape, at) / self.years) for at in (tail, 1 - tail))
        return [Ranged(*each) for each in zip(mean.tolist(), low.tolist(), high.tolist(), strict=True)]


def bands_of(lives: Lifetimes) -> AgeBands:
    """Count by bands of age, joined from the youngest on until each has watched years enough."""
    begin = np.array(EDGES)
    end = np.append(begin[1:], np.inf)
    within = np.minimum(lives.exit[:, None], end) - np.maximum(lives.entry[:, None], begin)
    years = np.maximum(within, 0.0).sum(axis=0)
    place = np.searchsorted(begin, lives.exit[lives.replaced], side="left") - 1
    counted = np.bincount(np.maximum(place, 0), minlength=len(begin))
    return _joined(begin, years, counted)


def one_band(years: float, replaced: int) -> AgeBands:
    """One rate for all ages."""
    return AgeBands(np.zeros(1), np.array([years]), np.array([replaced]))


def _joined(begin: Floats, years: Floats, replaced: Whole) -> AgeBands:
    due = years * replaced.sum() / max(years.sum(), 1e-9)
    starts, gathered = [0], 0.0
    for place, each in enumerate(due.tolist()):
        if gathered >= ENOUGH and due[place:].sum() >= ENOUGH:
            starts.append(place)
            gathered = 0.0
        gathered += each
    at = np.array(starts)
    return AgeBands(begin[at], np.add.reduceat(years, at), np.add.reduceat(replaced, at))


def replacements_to_come(bands: AgeBands, in_place: Whole, level: float = LEVEL) -> Expected:
    """Replacements expected within a year.

    Args:
        bands: with watched years in each.
        in_place: (k,) bodies in place in each band today.
        level: of the prediction interval.
    """
    total = np.ones(1)
    for bodies, years, replaced in zip(in_place.tolist(), bands.years, bands.replaced, strict=True):
        total = np.convolve(total, _chances_of_counts(bodies, float(years), int(replaced)))
    up_to, tail = np.cumsum(total / total.sum()), (1 - level) / 2
    low, high = (int(np.searchsorted(up_to, at)) for at in (tail, 1 - tail))
    mean = sum(count * each.value for count, each in zip(in_place.tolist(), bands.chances(), strict=True))
    return Expected(mean, low, high)


def _chances_of_counts(bodies: int, years: float, replaced: int) -> Floats:
    """(bodies + 1,) chances of each count of one band, over equally likely rates."""
    levels = (np.arange(_NODES) + 0.5) / _NODES
    rate = gammaincinv(replaced + JEFFREYS, levels) / years * AHEAD_YEARS
    log_out, count = -rate, np.arange(bodies + 1)
    log_in = np.log(-np.expm1(-rate))
    ways = gammaln(bodies + 1) - gammaln(count + 1) - gammaln(bodies - count + 1)
    log_chance = ways + count * log_in[:, None] + (bodies - count) * log_out[:, None]
    found: Floats = np.exp(log_chance).mean(axis=0)
    return found
