"""The course of a valve's mixed temperature: what was read, and what is to be expected; no ink."""

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise
from math import sqrt

from estate.domain.browsing import HistoryLine, OutletPage
from estate.domain.learned import DriftEstimate

HALF_50, HALF_95 = 0.6745, 1.9600
"""Standard deviations on either side that hold 50 and 95 % of a normal distribution."""
_MOST_STEPS = 80


@dataclass(frozen=True, slots=True)
class Stop:
    """The temperatures of one entry, for marks and to stop at with the keys.

    Attributes:
        found_c, left_c: mixed temperature as found and as left, °C; at least one was measured.
        reset: whether a new level began.
        counts: whether the entry counts; void and corrected ones do not.
        body: id of the body that was read.
    """

    line: HistoryLine
    found_c: float | None
    left_c: float | None
    reset: bool
    counts: bool
    body: int

    @property
    def on(self) -> date:
        """Day of the visit."""
        return self.line.visit.on

    @property
    def values(self) -> tuple[float, ...]:
        """The temperatures measured, °C."""
        return tuple(each for each in (self.found_c, self.left_c) if each is not None)


@dataclass(frozen=True, slots=True)
class Foreseen:
    """The true temperature to be expected on one day, °C, with its standard deviation, K."""

    on: date
    mean_c: float
    sd_k: float

    def between(self, half: float) -> tuple[float, float]:
        """The interval of `half` standard deviations on either side, °C."""
        return self.mean_c - half * self.sd_k, self.mean_c + half * self.sd_k


@dataclass(frozen=True, slots=True)
class Course:
    """Everything that the chart shows of one outlet.

    Attributes:
        stops: entries with a temperature, oldest first.
        bodies: days on which another body was fitted, with its words.
        fan: from the last visit to the last day looked at; empty where nothing is known.
        window_ends: last day of the next window.
        chance: to reach the ceiling by the last day of the fan; None where it can't be said.
    """

    reference: str
    where: str
    today: date
    stops: tuple[Stop, ...] = ()
    bodies: tuple[tuple[date, str], ...] = ()
    set_c: float | None = None
    ceiling_c: float | None = None
    fan: tuple[Foreseen, ...] = ()
    window_ends: date | None = None
    chance: float | None = None

    @property
    def levels(self) -> tuple[tuple[Stop, Stop], ...]:
        """Entries that count and follow each other on one body: the level of one drifts to the next."""
        kept = [stop for stop in self.stops if stop.counts]
        pairs = pairwise(kept)
        return tuple((one, other) for one, other in pairs if one.body == other.body)


def fan_end(page: OutletPage, today: date) -> date:
    """Last day looked at: that of the next window, or today where it has passed."""
    return max(page.window.not_after, today) if page.window is not None else today


def course_of(page: OutletPage, today: date, chance: float | None = None) -> Course:
    """What the chart shows of an outlet page."""
    fitted = sorted(
        (fitting.fitted_on, valve.words) for fitting, valve in page.fittings if fitting.fitted_on is not None
    )
    return Course(
        reference=page.outlet.reference,
        where=f"{page.outlet.path.site} · {page.outlet.path}",
        today=today,
        stops=tuple(stop for line in reversed(page.history) if (stop := _stop(line)).values),
        bodies=tuple(fitted[1:] if len(fitted) == len(page.fittings) else fitted),
        set_c=page.set_c,
        ceiling_c=page.ceiling_c,
        fan=_fan(page, fan_end(page, today)),
        window_ends=page.window.not_after if page.window is not None else None,
        chance=chance,
    )


def _stop(line: HistoryLine) -> Stop:
    readings = line.visit.readings
    return Stop(
        line, readings.found_c, readings.left_c, readings.level_reset, line.visit.counts, line.valve.id
    )


def foreseen(drift: DriftEstimate, sigma: float, on: date) -> Foreseen:
    """The true temperature to be expected on a day at or after the last visit.

    Args:
        drift: level and drift after that visit.
        sigma: wander of its group, K per square root of a week.
        on: the day.

    Source:
        var(t) = var level + 2 t cov + t² var drift + σ² t, t in weeks.
    """
    weeks = (on - drift.at).days / 7
    variance = drift.level_sd_k**2 + 2 * weeks * drift.covariance
    variance += weeks**2 * drift.drift_sd**2 + sigma**2 * weeks
    return Foreseen(on, drift.level_c + drift.drift_k_per_week * weeks, sqrt(max(variance, 0.0)))


def _fan(page: OutletPage, last: date) -> tuple[Foreseen, ...]:
    learned = page.learned
    if learned is None or learned.drift is None or last <= learned.drift.at or page.window is None:
        return ()
    drift, days = learned.drift, (last - learned.drift.at).days
    step = max(1, -(-days // _MOST_STEPS))
    ahead = [*range(0, days, step), days]
    return tuple(foreseen(drift, learned.group.sigma, drift.at + timedelta(days=each)) for each in ahead)


def on_day(course: Course, on: date) -> Foreseen | None:
    """What the fan says of a day, between its steps along straight lines; None outside the fan."""
    for one, other in pairwise(course.fan):
        if one.on <= on <= other.on:
            share = (on - one.on).days / (other.on - one.on).days
            mean = one.mean_c + share * (other.mean_c - one.mean_c)
            return Foreseen(on, mean, one.sd_k + share * (other.sd_k - one.sd_k))
    return None
