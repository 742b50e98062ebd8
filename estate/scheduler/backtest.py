"""Does the drift model keep its promise? The register's own last readings, predicted from those before."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from scipy.special import ndtr, ndtri

from estate.scheduler.arrays import Flags, Floats, Whole
from estate.scheduler.drift import run_filter
from estate.scheduler.groups import fit_groups
from estate.scheduler.life import ValveLife
from estate.scheduler.panel import Panel, panel_of
from estate.scheduler.states import Parameters, ahead, parameter_columns

LEVELS = (0.50, 0.80, 0.95)
BINS = (0.0, 0.01, 0.02, 0.05, 0.10, 0.20, 0.50, 1.0)
EVERYONE = "every valve"


@dataclass(frozen=True, slots=True)
class Coverage:
    """How many of the hidden readings fell inside their intervals.

    Attributes:
        level: share that should.
        inside, cases: counts.
    """

    level: float
    inside: int
    cases: int

    @property
    def share(self) -> float:
        """Share that did; NaN without a case."""
        return self.inside / self.cases if self.cases else float("nan")


@dataclass(frozen=True, slots=True)
class Reliability:
    """Hidden readings whose predicted chance of being above the ceiling lay in one bin.

    Attributes:
        low, high: ends of the bin; the low one belongs to it, and 1 to the last.
        cases: readings.
        predicted: mean chance; NaN without a case.
        above: readings that were above.
        likely_low, likely_high: 95 % interval of the share above, given what was seen (Wilson score).
    """

    low: float
    high: float
    cases: int
    predicted: float
    above: int
    likely_low: float
    likely_high: float

    @property
    def observed(self) -> float:
        """Share that was above; NaN without a case."""
        return self.above / self.cases if self.cases else float("nan")


@dataclass(frozen=True, slots=True)
class BackTest:
    """What the hidden readings say of the model.

    Attributes:
        valves: in the register.
        cases: valves whose last reading could be predicted.
        coverage: for each level.
        bias_k: mean of reading less prediction, K.
        spread: standard deviation of reading less prediction in its own standard deviations; 1 is right.
        reliability: of predicted crossings, for each bin; only valves with a ceiling.
    """

    valves: int
    cases: int
    coverage: tuple[Coverage, ...]
    bias_k: float
    spread: float
    reliability: tuple[Reliability, ...]


@dataclass(frozen=True, slots=True)
class Hidden:
    """The last readings of the valves that have something before them, k in all.

    Attributes:
        rows: (k,) in the panel.
        before: their panel without the visit of the last reading and any after it.
        found: (k,) the hidden readings, °C.
        weeks: (k,) since the last visit before.
    """

    rows: Whole
    before: Panel
    found: Floats
    weeks: Floats


def back_test(
    panel: Panel, ceilings: Floats, names: Sequence[Sequence[str]] | None = None, display_k: float = 0.1
) -> BackTest:
    """Hide each valve's last reading, fit the groups without them, and predict each.

    Args:
        panel: n valves.
        ceilings: (n,) °C, NaN where there is none.
        names: the groups of each valve, narrowest first; None takes all as one.
        display_k: steps of the thermometer's display, K: above the ceiling begins half a step over it.
    """
    hidden = hide_last(panel)
    groups = [(EVERYONE,)] * len(panel.count) if names is None else names
    fits = fit_groups(hidden.before, [groups[row] for row in hidden.rows])
    parameters = parameter_columns([each.fit.parameters for each in fits])
    mean, spread = predicted(hidden, parameters)
    known = np.isfinite(mean)
    missed, scaled = (hidden.found - mean)[known], ((hidden.found - mean) / spread)[known]
    ceiling = ceilings[hidden.rows]
    judged = known & ~np.isnan(ceiling)
    chance = ndtr((mean - ceiling - display_k / 2) / spread)[judged]
    return BackTest(
        len(panel.count),
        len(missed),
        tuple(_coverage(scaled, level) for level in LEVELS),
        float(missed.mean()) if len(missed) else float("nan"),
        float(scaled.std()) if len(missed) else float("nan"),
        reliability(chance, (hidden.found > ceiling)[judged]),
    )


def back_test_of(
    lives: Sequence[ValveLife], ceilings_c: Sequence[float | None], names: Sequence[Sequence[str]]
) -> BackTest:
    """The back-test of n lives; see `back_test`. A ceiling of None is none."""
    ceilings = np.array([np.nan if each is None else each for each in ceilings_c], np.float64)
    return back_test(panel_of(lives), ceilings, names)


def hide_last(panel: Panel) -> Hidden:
    """Take from each valve its last as-found reading and whatever came with or after it."""
    places = np.arange(panel.found.shape[1])
    read = ~np.isnan(panel.found) & (places < panel.count[:, None])
    last = np.where(read, places, 0).max(axis=1, initial=0)
    rows = np.flatnonzero(last > 0)
    last = last[rows]
    whole = panel.rows(rows)
    kept = Panel(whole.weeks, whole.found, whole.left, whole.reset, whole.kind_sets_reference, last)
    weeks = whole.weeks[np.arange(len(rows)), last] - whole.weeks[np.arange(len(rows)), last - 1]
    return Hidden(rows, _beyond_cut(kept), whole.found[np.arange(len(rows)), last], weeks)


def _beyond_cut(panel: Panel) -> Panel:
    """The same with nothing left in the places beyond the last visit of each valve."""
    beyond = np.arange(panel.weeks.shape[1]) >= panel.count[:, None]
    weeks, found, left = (np.where(beyond, np.nan, each) for each in (panel.weeks, panel.found, panel.left))
    cut = Panel(weeks, found, left, panel.reset & ~beyond, panel.kind_sets_reference & ~beyond, panel.count)
    return cut.rows(np.arange(len(panel.count)))


def predicted(hidden: Hidden, parameters: Parameters) -> tuple[Floats, Floats]:
    """Mean, °C, and standard deviation, K, of each hidden reading, (k,); NaN where nothing was known."""
    run = run_filter(hidden.before, parameters)
    then = ahead(run.state, parameters.sigma, hidden.weeks)
    spread = np.sqrt(then.var_level + np.square(parameters.s))
    known = (~np.isnan(hidden.before.found) | (hidden.before.reset & ~np.isnan(hidden.before.left))).any(
        axis=1
    )
    return np.where(known, then.level, np.nan), spread


def _coverage(scaled: Floats, level: float) -> Coverage:
    half = ndtri(0.5 + level / 2)
    return Coverage(level, int(np.count_nonzero(np.abs(scaled) <= half)), len(scaled))


def reliability(chance: Floats, above: Flags, bins: Sequence[float] = BINS) -> tuple[Reliability, ...]:
    """Compare predicted chances with what happened, bin by bin.

    Args:
        chance: (k,) predicted.
        above: (k,) whether it happened.
        bins: ends of the bins, rising.

    Source:
        Interval: E. B. Wilson (1927).
    """
    place = np.clip(np.searchsorted(bins, chance, side="right") - 1, 0, len(bins) - 2)
    table = []
    for number, (low, high) in enumerate(pairwise(bins)):
        here = place == number
        cases, hits = int(here.sum()), int(above[here].sum())
        mean = float(chance[here].mean()) if cases else float("nan")
        table.append(Reliability(low, high, cases, mean, hits, *_likely(hits, cases)))
    return tuple(table)


def _likely(hits: int, cases: int) -> tuple[float, float]:
    if not cases:
        return 0.0, 1.0
    z2 = float(ndtri(0.975)) ** 2
    middle = (hits + z2 / 2) / (cases + z2)
    half = float(np.sqrt(z2 * (hits * (cases - hits) / cases + z2 / 4))) / (cases + z2)
    return max(0.0, middle - half), min(1.0, middle + half)
