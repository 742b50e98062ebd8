"""What is to be expected of valves and parts in the year ahead."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from estate.domain.findings import Verdict
from estate.domain.forecast import Forecast, PartForecast
from estate.domain.places import Outlet
from estate.domain.visits import Visit
from estate.operations.holdings import Holdings, read_holdings
from estate.operations.register import Register
from estate.operations.watch_bodies import model_words, watched_bodies
from estate.scheduler import forecasting
from estate.scheduler.counting import count_to_come
from estate.scheduler.forecasting import Watching, watching_of
from estate.scheduler.strainers import cleanings_due
from estate.store import judgements

YEAR = timedelta(days=365)
LOOKED_BACK_YEARS = 3.0
"""Parts used longer ago than this say little of those to come (this register's own default)."""


@dataclass(frozen=True, slots=True)
class PartUsed:
    """A part and how often it was used over some years, where the register has no record of it."""

    part: str
    used: float
    years: float = 1.0


def forecast(register: Register, today: date, used: Sequence[PartUsed] = ()) -> Forecast:
    """Ages, failures and drift by model, and replacements, services and parts of the year ahead.

    Args:
        register: the open register.
        today: later visits and fittings are left out; the year begins here.
        used: parts used, besides those on record with visits.
    """
    with register.database.reading() as session:
        holdings = read_holdings(session, register.published, on=today, judged=False)
        verdicts = judgements.verdicts(session)
    made = {each: _until(holdings, each, today) for each in holdings.fittings_of}
    watching = _watching(holdings, made, verdicts, today)
    estate = forecasting.forecast_group(watching, forecasting.ESTATE)
    names = [name for name in watching.rows if name != forecasting.ESTATE]
    models = [forecasting.forecast_group(watching, name) for name in names]
    in_place = [
        each for each in holdings.in_place(today).values() if each.position_id in holdings.by_position
    ]
    rules = [holdings.rules_at(holdings.by_position[each.position_id][0]) for each in in_place]
    every = [each.number("strainers.interval") for each in rules]
    due, cleanings = cleanings_due(holdings.lives(in_place), every, today)
    return Forecast(
        as_at=today,
        estate=estate,
        models=tuple(sorted(models, key=lambda each: (-each.in_place, each.name))),
        likeliest=forecasting.likeliest(watching),
        parts=_parts([visit for each in made.values() for visit in each], used, today),
        strainers_due=due,
        strainer_cleanings=cleanings,
    )


def _until(holdings: Holdings, valve_id: int, today: date) -> tuple[Visit, ...]:
    return tuple(each for each in holdings.counting(valve_id) if each.on <= today)


def _watching(
    holdings: Holdings, made: Mapping[int, Sequence[Visit]], verdicts: Mapping[int, Verdict], today: date
) -> Watching:
    served: dict[int, Outlet] = {}
    for outlet in reversed(holdings.outlets):
        served[outlet.position_id] = outlet
    fittings = [each[-1] for each in holdings.fittings_of.values() if each[-1].position_id in served]
    limits = [
        holdings.rules_at(served[each.position_id]).number("isolation.residual-flow") for each in fittings
    ]
    recent = [
        [
            visit
            for visit in made[each.valve_id]
            if visit.on > today - YEAR and not visit.draft.kind.sets_reference
        ]
        for each in fittings
    ]
    bad = (Verdict.PUT_RIGHT, Verdict.OUT_OF_USE)
    return watching_of(
        as_at=today,
        bodies=watched_bodies(
            holdings, {valve_id: [each.on for each in visits] for valve_id, visits in made.items()}, today
        ),
        lives=holdings.lives(fittings),
        models=[model_words(holdings, each.valve_id) for each in fittings],
        limits_ml_min=limits,
        tested=[bool(visits) for visits in recent],
        put_right=[any(verdicts.get(visit.id) in bad for visit in visits) for visits in recent],
    )


def _parts(visits: Sequence[Visit], used: Sequence[PartUsed], today: date) -> tuple[PartForecast, ...]:
    """Parts on record over the last years, and parts as given; a part that was not counted is one."""
    since = today - timedelta(days=round(LOOKED_BACK_YEARS * 365.25))
    first = min((each.on for each in visits), default=today)
    years = (today - max(first, since)).days / 365.25
    counts: dict[str, float] = defaultdict(float)
    for visit in visits:
        for part in visit.draft.steps.parts if visit.on > since else ():
            counts[part.name] += 1.0 if part.quantity is None else part.quantity
    on_record = [PartUsed(name, count, years) for name, count in counts.items()]
    return tuple(
        PartForecast(each.part, each.used, each.years, count_to_come(each.used, each.years, 1.0))
        for each in sorted((*on_record, *used), key=lambda each: (-each.used, each.part))
    )
