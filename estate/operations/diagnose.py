"""Likely causes of what the last visit to an outlet's valve found."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from estate.domain.diagnosis.course import Companion, Course
from estate.domain.diagnosis.diagnose import diagnose as weigh
from estate.domain.diagnosis.diagnosed import Diagnosed
from estate.domain.judging.judge import judge
from estate.domain.phrases import phrase
from estate.domain.valves import Fitting
from estate.domain.visits import Visit, VisitDraft
from estate.errors import NotFoundFault
from estate.operations.holdings import Holdings, read_holdings
from estate.operations.judge_series import Bench
from estate.operations.learn import group_of, learned_of
from estate.operations.register import Register
from estate.scheduler.learning import expected_reading
from estate.store import places, valves, visits
from estate.store.database import Session
from estate.store.visit_columns import counting_columns


def diagnose(
    register: Register, outlet_id: int, today: date, hardness_mg_l: float | None = None
) -> Diagnosed:
    """Weigh the causes of what the last visit up to a day found.

    Args:
        register: the open register.
        outlet_id: an outlet that the valve serves.
        today: later visits are left out.
        hardness_mg_l: of the water, mg/l CaCO3; None if not known.

    Raises:
        NotFoundFault: there is no such outlet, no valve, or no visit to the body in place.
    """
    with register.database.reading() as session:
        outlet = places.outlet(session, outlet_id)
        here = {each.valve_id for each in valves.fittings(session) if each.position_id == outlet.position_id}
        holdings = read_holdings(session, register.published, here, on=today, judged=False)
        fitting = holdings.in_place(today).get(outlet.position_id)
        tested = _until(holdings.counting(fitting.valve_id), today) if fitting is not None else ()
        if fitting is None or not tested:
            raise NotFoundFault(
                "There is nothing to diagnose",
                phrase(
                    "{reference} has no {lacking}.",
                    reference=outlet.reference,
                    lacking=phrase("valve in place") if fitting is None else phrase("visit on record"),
                ),
                "Test the valve and enter the visit first.",
            )
        others = _companions(session, holdings, tested[-1].draft, outlet.path.site)
    course = _course(holdings, fitting, tested, others, hardness_mg_l)
    return Diagnosed(outlet, holdings.valves[fitting.valve_id].words, weigh(course))


def _until(made: Sequence[Visit], day: date) -> tuple[Visit, ...]:
    return tuple(each for each in made if each.on <= day)


def _course(
    holdings: Holdings,
    fitting: Fitting,
    tested: Sequence[Visit],
    others: tuple[Companion, ...],
    hardness_mg_l: float | None,
) -> Course:
    *before, last = (each.draft for each in tested)
    case = Bench(holdings).case(last, before)
    return Course(
        case=case,
        valve=holdings.valves[fitting.valve_id],
        judgement=judge(case),
        earlier=tuple(before),
        learned=learned_of(holdings, [fitting]).get(fitting.valve_id),
        expected_c=_expected(holdings, fitting, before, last),
        companions=others,
        hardness_mg_l=hardness_mg_l,
    )


def _expected(
    holdings: Holdings, fitting: Fitting, before: Sequence[VisitDraft], last: VisitDraft
) -> tuple[float, float] | None:
    """Interval in which the reading was expected by the visits before it; None before groups were fitted."""
    if not holdings.fits or last.kind.sets_reference:
        return None
    group = group_of(holdings, fitting, holdings.outlet_by_id[last.outlet_id])
    return expected_reading(replace(holdings.life(fitting), visits=tuple(before)), group, last.on)


def _companions(session: Session, holdings: Holdings, last: VisitDraft, site: str) -> tuple[Companion, ...]:
    """Other valves of the site that were visited on the same day, with their changes."""
    columns = counting_columns(session, last.on)
    pairs = zip(columns.valve_ids, range(len(columns.ids)), strict=True)
    that_day = {valve_id for valve_id, place in pairs if columns.day(place) == last.on} - {last.valve_id}
    made: dict[int, list[Visit]] = {}
    for visit in visits.visits(session, that_day) if that_day else ():
        if visit.counts and visit.on <= last.on:
            made.setdefault(visit.draft.valve_id, []).append(visit)
    found = []
    for history in made.values():
        outlet = holdings.outlet_by_id[history[-1].draft.outlet_id]
        if outlet.path.site == site:
            found.append(_companion(outlet.reference, [each.draft for each in history], last))
    return tuple(found)


def _companion(ref: str, history: Sequence[VisitDraft], last: VisitDraft) -> Companion:
    *before, then = history
    by_id = then.instrument_id is not None and then.instrument_id == last.instrument_id
    by_words = bool(then.instrument_words) and then.instrument_words == last.instrument_words
    same = by_id or by_words
    if not before or then.kind.sets_reference:
        return Companion(ref, same)
    now, earlier = then.readings, before[-1].readings
    return Companion(
        ref,
        same,
        _difference(now.found_c, earlier.as_left_c),
        _difference(now.hot_c, earlier.hot_c),
        _difference(now.cold_c, earlier.cold_c),
    )


def _difference(now: float | None, then: float | None) -> float | None:
    return None if now is None or then is None else round(now - then, 6)
