"""The recursion of the drift filter: all valves at once, one visit after the other."""

from dataclasses import dataclass

import numpy as np

from estate.scheduler.arrays import Flags, Floats, Whole
from estate.scheduler.screening import Screen, Treatment, treatments
from estate.scheduler.states import Parameters
from estate.scheduler.steps import Steps

NEVER_READ_SD_K = 3.0
"""Spread of the level of a valve never read, K (assumed)."""

LOG_2_PI = float(np.log(2 * np.pi))


@dataclass(frozen=True, slots=True)
class Trail:
    """All that a run went through, in the order of its steps; (m, n) unless said otherwise.

    Attributes:
        before, after: (m, 5, n) level, slope, variances and covariance (p11, p12, p22) before and after a
            visit; (0, 5, n) unless they were to be kept.
        predicted, predicted_var: mean, °C, and variance, K², of the reading predicted.
        treatment: a `Treatment`.
        begins: temperature at which a level began at the visit, °C; NaN where none was measured.
        cut: whether the level after the visit says nothing of the level before.
        begun: (m, n) whether anything was known before the visit.
        log_likelihood: (n,).
        last: (5, n) the moments after the last visit.
    """

    before: Floats
    after: Floats
    predicted: Floats
    predicted_var: Floats
    treatment: Whole
    begins: Floats
    cut: Flags
    begun: Flags
    log_likelihood: Floats
    last: Floats


class _Track:
    """The first `active` valves' states at one visit, changed in place."""

    def __init__(self, steps: Steps, parameters: Parameters) -> None:
        n = len(steps.order)
        wide = (parameters.mu, parameters.omega, parameters.sigma, parameters.s)
        mu, omega, sigma, s = (_in_columns(each, steps) for each in wide)
        self.wander, self.noise = sigma**2, s**2
        self.moments = np.zeros((5, n))
        self.moments[0], self.moments[1] = steps.usual, mu
        self.moments[2], self.moments[4] = NEVER_READ_SD_K**2, omega**2
        self.known, self.begun, self.aside = (np.zeros(n, np.bool_) for _ in range(3))
        self.base = steps.usual.copy()
        self.log_likelihood = np.zeros(n)

    def advance(self, elapsed: Floats) -> None:
        """Let time pass."""
        level, slope, p11, p12, p22 = self.moments[:, : len(elapsed)]
        level += elapsed * slope
        p11 += elapsed * (2 * p12 + elapsed * p22 + self.wander[: len(elapsed)])
        p12 += elapsed * p22

    def use(self, used: Flags, miss: Floats, variance: Floats) -> None:
        """Learn from the readings used: `miss` is reading less prediction."""
        level, slope, p11, p12, p22 = self.moments[:, : len(used)]
        miss, scale = np.where(used, miss, 0.0), np.where(used, 1 / variance, 0.0)
        gain_level, gain_slope = p11 * scale, p12 * scale
        level += gain_level * miss
        slope += gain_slope * miss
        p22 -= gain_slope * p12
        p12 *= 1 - gain_level
        p11 *= 1 - gain_level
        density = np.log(variance) + miss**2 * scale + LOG_2_PI
        self.log_likelihood[: len(used)] -= np.where(used, 0.5 * density, 0.0)

    def doubt(self, doubted: Flags, miss: Floats) -> None:
        """Slip or jump, one as likely as the other: mean and spread of the two levels together."""
        if not doubted.any():
            return
        level, _, p11, p12, _ = self.moments[:, : len(doubted)]
        noise = self.noise[: len(doubted)]
        level[doubted] += miss[doubted] / 2
        p11[doubted] = (p11[doubted] + noise[doubted]) / 2 + miss[doubted] ** 2 / 4
        p12[doubted] /= 2
        self.known[: len(doubted)][doubted] = False

    def begin(self, begins: Floats) -> None:
        """Begin a level where one was measured."""
        new = ~np.isnan(begins)
        level, _, p11, p12, _ = self.moments[:, : len(begins)]
        np.copyto(level, begins, where=new)
        np.copyto(p11, self.noise[: len(begins)], where=new)
        np.copyto(p12, 0.0, where=new)
        np.copyto(self.base[: len(begins)], begins, where=new)
        for flags in (self.known, self.begun):
            flags[: len(begins)] |= new

    def lose(self, lost: Flags, spread_k: float) -> None:
        """A level began but was not measured: as it was last left, with the spread of re-adjustments."""
        if not lost.any():
            return
        level, _, p11, p12, _ = self.moments[:, : len(lost)]
        level[lost], p12[lost] = self.base[: len(lost)][lost], 0.0
        p11[lost] = np.where(self.begun[: len(lost)][lost], spread_k**2, NEVER_READ_SD_K**2)
        self.known[: len(lost)][lost] = False


def _in_columns(value: float | Floats, steps: Steps) -> Floats:
    """A parameter of one group or of each valve of the panel, in the columns of the steps."""
    if isinstance(value, np.ndarray):
        return value[steps.order]
    return np.full(len(steps.order), value, np.float64)


def trail(steps: Steps, parameters: Parameters, screen: Screen, keep: bool = False) -> Trail:
    """Go through the visits one after the other, all valves at once.

    Args:
        steps: n valves, m visits.
        parameters: of one group, or a row for each valve in the order of the panel.
        screen: when a reading is not taken at its word.
        keep: whether the moments before and after each visit are kept, for the smoother.
    """
    track, shape = _Track(steps, parameters), steps.found.shape
    before, after = np.full((2, shape[0] if keep else 0, 5, shape[1]), np.nan)
    predicted, variances, begins = np.full((3, *shape), np.nan)
    made, (cut, begun) = np.zeros(shape, np.int64), np.zeros((2, *shape), np.bool_)
    for visit, active in enumerate(steps.active):
        now = (visit, slice(active))
        track.advance(steps.elapsed[now])
        begun[now], predicted[now] = track.begun[:active], track.moments[0, :active]
        if keep:
            before[visit, :, :active] = track.moments[:, :active]
        variances[now] = track.moments[2, :active] + track.noise[:active]
        reading, reset = steps.found[now], steps.reset[now]
        made[now] = _read(track, reading, variances[now], steps.usual[:active], screen)
        started = np.where(made[now] == Treatment.STARTED, reading, np.nan)
        left = np.where(screen.out_of_reach(steps.left[now], steps.usual[:active]), np.nan, steps.left[now])
        begins[now] = np.where(reset, left, started)
        track.begin(begins[now])
        track.lose(reset & np.isnan(left), steps.restart_sd_k)
        if keep:
            after[visit, :, :active] = track.moments[:, :active]
        cut[now] = reset | ~np.isnan(begins[now]) | (made[now] == Treatment.DOUBTED)
    return Trail(
        before, after, predicted, variances, made, begins, cut, begun, track.log_likelihood, track.moments
    )


def _read(track: _Track, reading: Floats, variance: Floats, usual: Floats, screen: Screen) -> Whole:
    """Learn from one reading of each valve and say what was made of it."""
    active = len(reading)
    miss = reading - track.moments[0, :active]
    known, aside = track.known[:active], track.aside[:active]
    slip = screen.out_of_reach(reading, usual)
    made = treatments(screen, reading, np.abs(miss) / np.sqrt(variance), slip, aside, known)
    track.use(made == Treatment.USED, miss, variance)
    track.doubt(made == Treatment.DOUBTED, miss)
    np.copyto(aside, made == Treatment.SET_ASIDE, where=made != Treatment.NONE)
    return made
