"""What the register has learned of a valve from its own readings, and by which parameters."""

from dataclasses import dataclass
from datetime import date

from estate.domain.places import OutletPath


@dataclass(frozen=True, slots=True)
class GroupParameters:
    """Fitted parameters of one group of valves, kept so that a past date can be explained again.

    Attributes:
        name: ``model @ site``, the model alone, or ``estate`` (INT-11).
        mu, omega: mean and spread of the drift, K per week.
        sigma: wander, K per square root of a week.
        s: standard deviation of a reading, K.
        a, b_years: Gamma distribution of the failure rate of the shut-off, per year.
        valves, readings: data used.
        fitted_on: day up to which readings were used.
        version: of the method.
    """

    name: str
    mu: float
    omega: float
    sigma: float
    s: float
    a: float
    b_years: float
    valves: int
    readings: int
    fitted_on: date
    version: str


@dataclass(frozen=True, slots=True)
class DriftEstimate:
    """Level and drift of one valve after its last visit, with standard deviations.

    Attributes:
        at: day of the last visit.
        level_c, level_sd_k: mixed temperature.
        drift_k_per_week, drift_sd: its drift.
        covariance: of level and drift, K² per week.
        risk: chance to reach the ceiling within some weeks of the last visit: (weeks, probability).
        horizon_weeks: longest time within the accepted risk; None without a ceiling.
        accepted_risk: of the user group.
    """

    at: date
    level_c: float
    level_sd_k: float
    drift_k_per_week: float
    drift_sd: float
    covariance: float
    risk: tuple[tuple[int, float], ...] = ()
    horizon_weeks: float | None = None
    accepted_risk: float | None = None


@dataclass(frozen=True, slots=True)
class ShutOffEstimate:
    """The hidden failure of one valve's shut-off.

    Attributes:
        passed_years: time over which tests have shown it in order.
        failures: tests that found it failed.
        rate_per_year: mean failure rate.
        unavailability: average share of time without a working shut-off for intervals: (weeks, share).
        horizon_weeks: longest interval within the accepted share.
    """

    passed_years: float
    failures: int
    rate_per_year: float
    unavailability: tuple[tuple[int, float], ...] = ()
    horizon_weeks: float | None = None
    accepted_share: float | None = None


@dataclass(frozen=True, slots=True)
class RegulationEstimate:
    """Whether the element regulates: 0 it does, 1 it only mixes (PH-02).

    Attributes:
        index, low, high: slope over hot fraction with its interval.
        readings: how many it rests on.
    """

    index: float
    low: float
    high: float
    readings: int


@dataclass(frozen=True, slots=True)
class Learned:
    """All of it for one valve; None where nothing can be said."""

    group: GroupParameters
    drift: DriftEstimate | None = None
    shut_off: ShutOffEstimate | None = None
    regulation: RegulationEstimate | None = None


@dataclass(frozen=True, slots=True)
class LearnedLine:
    """What has been learned of one valve, with the outlet it is tested at, for lists of the estate.

    Attributes:
        ceiling_c: its ceiling, °C; None where there is none.
    """

    ref: str
    outlet_id: int
    valve: str
    path: OutletPath
    learned: Learned
    ceiling_c: float | None = None
