"""What is to be expected of each model: ages, failures, drift, replacements and parts, with intervals."""

from dataclasses import dataclass, field
from datetime import date

LEVEL = 0.95
"""Of every interval in a forecast."""
FORECAST_CAUTION = (
    "These are estimates from this register's own records, for budgets and stores. They replace no test and "
    "no service, and a valve is not in order because its model seldom fails."
)


@dataclass(frozen=True, slots=True)
class Ranged:
    """An estimate with its 95 % interval; an end is None where the readings leave it open."""

    value: float
    low: float | None
    high: float | None


@dataclass(frozen=True, slots=True)
class Expected:
    """A count expected in the year ahead: its mean, and the interval in which it falls 95 times in 100."""

    mean: float
    low: int
    high: int


@dataclass(frozen=True, slots=True)
class Counted:
    """Something counted over a time.

    Attributes:
        count: how often it was seen.
        years: valve-years over which it would have been seen.
        rate_per_year: of one valve; None where there is too little to tell.
        expected: in the year ahead, of all valves of the group; None likewise.
    """

    count: int
    years: float
    rate_per_year: Ranged | None = None
    expected: Expected | None = None


@dataclass(frozen=True, slots=True)
class Ages:
    """Ages of the bodies in place, years; None where none is known.

    Attributes:
        known, unknown: bodies whose day of fitting is on record, and the others.
    """

    known: int
    unknown: int
    median_years: float | None = None
    oldest_years: float | None = None


@dataclass(frozen=True, slots=True)
class StillInPlace:
    """Share of bodies still in place at an age, as far as bodies were watched to that age.

    Attributes:
        share: with the interval; its ends are None where none has been replaced by then.
        at_risk: bodies that were watched at that age.
    """

    age_years: float
    share: Ranged
    at_risk: int


@dataclass(frozen=True, slots=True)
class Drift:
    """Drift of a model's valves, K per week.

    Attributes:
        mean: of the model.
        spread: standard deviation from valve to valve.
        valves, readings: what it rests on.
    """

    mean: Ranged
    spread: float
    valves: int
    readings: int


@dataclass(frozen=True, slots=True)
class BodyChance:
    """A body in place and its chance to be replaced within a year, given the age that it has reached.

    Attributes:
        age_years: None where the day of fitting is not on record.
    """

    ref: str
    valve: str
    age_years: float | None
    chance: Ranged


@dataclass(frozen=True, slots=True)
class PartForecast:
    """A part, how often it was used over the time looked back, and what is expected in the year ahead."""

    part: str
    used: float
    looked_back_years: float
    expected: Expected | None


@dataclass(frozen=True, slots=True)
class GroupForecast:
    """What is expected of the valves of one model, or of all.

    Attributes:
        in_place: bodies in place today.
        watched: bodies that were watched for a time, in place or not.
        replaced: replacements seen and expected.
        by_age: whether replacements were told apart by age; False takes one rate for all ages.
        still_in_place: at some ages.
        half_replaced_years: age by which half have been replaced; None where it was not reached.
        shut_off_tests: share of tests that found that it does not shut, of `shut_off_tested` tests.
        shut_off: failures of the shut-off.
        put_right: share of the valves tested in the last year for which something had to be put right.
        services: services of the kind recorded.
        too_few: what there is too little to tell, in words.
    """

    name: str
    in_place: int
    watched: int
    ages: Ages
    replaced: Counted
    by_age: bool
    shut_off: Counted
    services: Counted
    still_in_place: tuple[StillInPlace, ...] = ()
    half_replaced_years: Ranged | None = None
    shut_off_tested: int = 0
    shut_off_tests: Ranged | None = None
    tested_valves: int = 0
    put_right: Ranged | None = None
    drift: Drift | None = None
    too_few: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Forecast:
    """The whole estate and each model, as at a day.

    Attributes:
        estate: all models as one.
        models: each model that has bodies, most first.
        likeliest: bodies in place that are likeliest to be replaced within a year, likeliest first.
        parts: parts used at visits, or as given.
        strainers_due: valves whose strainers fall due within the year, once or more often.
        strainer_cleanings: how many cleanings that makes.
    """

    as_at: date
    estate: GroupForecast
    models: tuple[GroupForecast, ...]
    likeliest: tuple[BodyChance, ...] = ()
    parts: tuple[PartForecast, ...] = field(default=())
    strainers_due: int = 0
    strainer_cleanings: int = 0
