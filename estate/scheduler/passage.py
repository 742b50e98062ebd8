"""The chance that the true mixed temperature reaches a limit before a given time: first passage.

Take a valve whose level is a below the limit and whose drift is N(b, w²). At time h its room D is
N(a - b h, v) with v = σ²h + w²h²; given a and D > 0, the path between reached the limit with the chance
exp(-k a D), k = 2/(σ²h) (Brownian bridge). Averaged over D,

    P = Φ(-z1) + exp((z2² - z1²)/2) Φ(-z2),   z1 = (a - b h)/√v,   z2 = k a √v - z1,

which for w = 0 is the inverse-Gaussian law (R. S. Chhikara, J. L. Folks 1989) and for w > 0 its average
over normal drifts (G. A. Whitmore 1986). So the slope is averaged over exactly, and only the level is left
to Gauss-Legendre rules over the part of it below the limit: closer than a product rule over level and
slope, with fewer nodes, and σ → 0 needs no case of its own. A level at or over the limit has reached it.
Against 1200 nodes the error is below 5e-6 for σ of 0.05 K/√week and more, below 2e-3 for any σ.
"""

import numpy as np
from scipy.special import erfcx, ndtr, ndtri

from estate.scheduler.arrays import Floats
from estate.scheduler.states import DriftState, forecast

NODES = 14
REACH_SD = 5.5
"""How much of the level's distribution is averaged over: all but 4e-8 of it."""

LEAST_VARIANCE = 1e-18
BESIDE = np.array([-0.45, 0.45])
AT_ONCE = 2**16
"""Values worked on at once, so that they stay in the processor's cache."""

NODE, WEIGHT = np.polynomial.legendre.leggauss(NODES)


def mirrored(state: DriftState) -> DriftState:
    """The same valves with temperature counted downwards, for a lower limit (give it negated too)."""
    return DriftState(-state.level, -state.slope, state.var_level, state.cov, state.var_slope)


def reached(state: DriftState, sigma: float | Floats, ceiling: float | Floats, horizons: Floats) -> Floats:
    """Chance that the true temperature reaches the ceiling at any time before each horizon.

    Args:
        state: n valves.
        sigma: wandering, K/√week, one or (n,).
        ceiling: °C, one or (n,).
        horizons: (k,) for all valves or (n, k), weeks, not negative.

    Returns:
        (n, k) probabilities.

    Source:
        Worked example A of the documentation.
    """
    n = len(state.level)
    weeks = np.atleast_2d(np.asarray(horizons, np.float64))
    weeks = np.broadcast_to(weeks, (n, weeks.shape[1]))
    rows = max(1, AT_ONCE // (2 * NODES * max(1, weeks.shape[1])))
    columns = _columns(state, sigma, ceiling)
    chances = np.empty(weeks.shape)
    for first in range(0, n, rows):
        part = slice(first, first + rows)
        chances[part] = _averaged(columns[:, part], weeks[part])
    return chances


def fallen(state: DriftState, sigma: float | Floats, limit: float | Floats, horizons: Floats) -> Floats:
    """Chance that the true temperature falls to a lower limit before each horizon; see `reached`."""
    return reached(mirrored(state), sigma, np.negative(limit), horizons)


def above(state: DriftState, sigma: float | Floats, ceiling: float | Floats, horizons: Floats) -> Floats:
    """Chance that the true temperature is above the ceiling at each horizon; see `reached`."""
    mean, spread = forecast(state, sigma, horizons)
    over = mean - np.reshape(ceiling, (-1, 1))
    chance: Floats = ndtr(over / np.maximum(spread, np.sqrt(LEAST_VARIANCE)))
    return chance


def longest_horizon(
    state: DriftState,
    sigma: float | Floats,
    ceiling: float | Floats,
    risk: float | Floats,
    longest: float | Floats,
    within: float = 0.02,
) -> Floats:
    """Longest time for which the chance of reaching the ceiling stays within the accepted risk.

    Args:
        state: n valves.
        sigma: wandering, K/√week, one or (n,).
        ceiling: °C, one or (n,).
        risk: accepted probability, one or (n,).
        longest: no horizon is longer, weeks, one or (n,).
        within: the answer is short of the exact one by less than this, weeks.

    Returns:
        (n,) weeks; 0 where the risk is exceeded already.
    """
    n = len(state.level)
    columns = _columns(state, sigma, ceiling)
    accepted, low = np.broadcast_to(np.asarray(risk, np.float64), (n,)), np.zeros(n)
    high = np.array(np.broadcast_to(np.asarray(longest, np.float64), (n,)))
    rows = AT_ONCE // (2 * NODES)
    for first in range(0, n, rows):
        part = slice(first, first + rows)
        low[part] = _searched(columns[:, part], accepted[part], high[part], within)
    return low


def _searched(columns: Floats, risk: Floats, longest: Floats, within: float) -> Floats:
    """Close in on where the chance, which never falls with time, passes the risk.

    The root lies just below where the chance of being above at that time does. On paper of normal
    probability the chance is there nearly a straight line, so a straight line gives each guess; every
    third time the bracket is halved instead, whatever the shape.
    """
    shift = ndtri(risk)
    ends = np.stack([_last_below(columns, share * risk, longest, within) for share in (0.5, 1.0)], axis=1)
    ends, excess = _bracketed(columns, shift, ends, longest, within)
    answer = np.where(excess[:, 1] <= 0, longest, 0.0)
    rows = np.flatnonzero((excess[:, 0] <= 0) & (excess[:, 1] > 0))
    ends, excess = ends[rows], excess[rows]
    turn = 0
    while len(rows):
        wide = ends[:, 1] - ends[:, 0] > within
        answer[rows[~wide]] = ends[~wide, 0]
        rows, ends, excess, turn = rows[wide], ends[wide], excess[wide], turn + 1
        share = 0.5 if turn % 3 == 0 else -excess[:, 0] / (excess[:, 1] - excess[:, 0])
        guess = ends[:, 0] + share * (ends[:, 1] - ends[:, 0])
        tried = np.clip(guess[:, None] + BESIDE * within, ends[:, :1], ends[:, 1:])
        ends, excess = _narrowed(columns[:, rows], shift[rows], ends, excess, tried)
    return answer


def _last_below(columns: Floats, risk: Floats, longest: Floats, within: float) -> Floats:
    """About where the chance of being above the ceiling at that time, and not before, passes the risk."""
    room, spread, slope, tilt, rest, wander = columns
    low, high, shift = np.zeros_like(longest), longest.copy(), -ndtri(risk)
    while (high - low).max(initial=0.0) > within:
        weeks = (low + high) / 2
        variance = (spread - weeks * tilt) ** 2 + weeks**2 * rest + weeks * wander
        below = room - weeks * slope > shift * np.sqrt(variance)
        low, high = np.where(below, weeks, low), np.where(below, high, weeks)
    return high


def _bracketed(
    columns: Floats, shift: Floats, ends: Floats, longest: Floats, within: float
) -> tuple[Floats, Floats]:
    """Widen the ends that do not enclose the root: to almost nothing, to the longest."""
    excess = _excess(columns, ends, shift)
    early, late = np.minimum(within, longest), longest
    for side, wrong, end in ((0, excess[:, 0] > 0, early), (1, excess[:, 1] <= 0, late)):
        ends[wrong, side] = end[wrong]
        excess[wrong, side] = _excess(columns[:, wrong], ends[wrong, side, None], shift[wrong])[:, 0]
    return ends, excess


def _narrowed(
    columns: Floats, shift: Floats, ends: Floats, excess: Floats, tried: Floats
) -> tuple[Floats, Floats]:
    """Look at the two times tried, and keep the narrowest bracket."""
    times = np.hstack((ends[:, :1], tried, ends[:, 1:]))
    found = np.hstack((excess[:, :1], _excess(columns, tried, shift), excess[:, 1:]))
    low = (found[:, :3] <= 0).cumprod(axis=1).sum(axis=1).astype(np.int64) - 1
    pick = np.stack((low, low + 1), axis=1)
    return np.take_along_axis(times, pick, axis=1), np.take_along_axis(found, pick, axis=1)


def _excess(columns: Floats, weeks: Floats, shift: Floats) -> Floats:
    """Normal deviate of the chance, less that of the risk accepted."""
    return ndtri(np.clip(_averaged(columns, weeks), 1e-300, 1 - 1e-16)) - shift[:, None]


def _columns(state: DriftState, sigma: float | Floats, ceiling: float | Floats) -> Floats:
    """(6, n): room, its spread, slope, change of slope with the level, what is left of its variance, σ²."""
    room = np.asarray(ceiling, np.float64) - state.level
    variance = np.maximum(state.var_level, LEAST_VARIANCE)
    spread = np.sqrt(variance)
    rest = np.maximum(state.var_slope - state.cov**2 / variance, 0.0)
    wander = np.broadcast_to(np.square(np.asarray(sigma, np.float64)), room.shape)
    return np.stack((room, spread, state.slope, -state.cov / spread, rest, wander))


def _averaged(columns: Floats, weeks: Floats) -> Floats:
    """Chance of passage by each of (n, k) times, averaged over the level.

    The rule is applied to either side of the level from which the mean path just arrives: with little
    wandering the chance has a step there.
    """
    room, spread, slope, tilt, rest, wander = columns[:, :, None]
    over = -room / spread
    edge = np.clip(over, -REACH_SD, REACH_SD)
    closing = spread - tilt * weeks
    closing = np.where(np.abs(closing) < LEAST_VARIANCE, LEAST_VARIANCE, closing)
    step = np.clip((slope * weeks - room) / closing, edge, REACH_SD)
    middle = np.stack((edge + step, step + REACH_SD), axis=2) / 2
    half = np.stack((step - edge, REACH_SD - step), axis=2) / 2
    z = (middle[..., None] + half[..., None] * NODE).reshape(*weeks.shape, 2 * NODES)
    density = (half[..., None] * WEIGHT).reshape(z.shape) * np.exp(-(z**2) / 2)
    density *= (ndtr(-over) / np.maximum(density.sum(axis=2), LEAST_VARIANCE))[..., None]
    rooms = np.maximum(room[..., None] + spread[..., None] * z, 0.0)
    drifts = slope[..., None] + tilt[..., None] * z
    chance = _passage(rooms, drifts, rest[..., None], wander[..., None], weeks[..., None])
    average: Floats = np.minimum(ndtr(over) + (chance * density).sum(axis=2), 1.0)
    return average


def _passage(room: Floats, drift: Floats, rest: Floats, wander: Floats, weeks: Floats) -> Floats:
    """The formula at the head of this module; its second term never overflows in either form."""
    wandered = np.maximum(wander * weeks, LEAST_VARIANCE)
    spread = np.sqrt(wandered + rest * weeks**2)
    first = (room - drift * weeks) / spread
    second = room * (2 * spread / wandered) - first
    beside = np.exp(-(first**2) / 2) * erfcx(np.maximum(second, 0.0) / np.sqrt(2)) / 2
    behind = np.nonzero(second < 0)
    exponent = np.minimum((second[behind] ** 2 - first[behind] ** 2) / 2, 0.0)
    beside[behind] = np.exp(exponent) * ndtr(-second[behind])
    chance: Floats = ndtr(-first) + beside
    return chance
