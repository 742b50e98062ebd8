"""What upkeep outlets ask for, and when: flushing, shower heads, whether the valve is still needed."""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date

from estate.domain.life.care import Care, CareAsked, CareKind, CareLine, Intervals, Review, care_lines
from estate.domain.life.outlet_use import OutletUse, use_of
from estate.domain.life.policy import FLUSHED, NO_INTERVAL, REVIEWED, SHOWER_CLEANED
from estate.domain.life.supplies import SuppliesMeasured
from estate.domain.phrases import phrase
from estate.domain.places import Outlet
from estate.domain.rules.values import RuleSet
from estate.errors import NotFoundFault
from estate.operations.register import Register
from estate.operations.rulebook import RuleBook, read_rulebook
from estate.store import outlet_use, places, upkeep
from estate.store.database import Session


def upkeep_lines(
    register: Register, today: date, *, asked: CareAsked | None = None, due_only: bool = False
) -> tuple[CareLine, ...]:
    """What upkeep is asked for in the whole estate, in walking order.

    Outlets out of use are flushed like little-used ones: water stands in them.

    Args:
        register: the open register.
        today: the as-at day.
        asked: only this; None gives all.
        due_only: only what is due, or was never done.
    """
    with register.database.reading() as session:
        book = read_rulebook(session, register.published)
        lines = upkeep_in(session, book, places.outlets(session))
    return tuple(
        each for each in lines if (asked is None or each.asked is asked) and (each.due(today) or not due_only)
    )


def upkeep_in(session: Session, book: RuleBook, outlets: Iterable[Outlet]) -> list[CareLine]:
    """What upkeep is asked for at some outlets, in their order, from an open session."""
    events = outlet_use.use_events(session)
    cares, reviews = upkeep.cares(session), upkeep.reviews(session)
    done: defaultdict[int, list[Care]] = defaultdict(list)
    for each in cares:
        done[each.draft.outlet_id].append(each)
    said: defaultdict[int, list[Review]] = defaultdict(list)
    for review in reviews:
        said[review.draft.outlet_id].append(review)
    return [
        line
        for outlet in outlets
        if outlet.retired_on is None
        for line in care_lines(
            outlet,
            done[outlet.id],
            said[outlet.id],
            intervals(book.at_outlet(outlet)),
            stands=use_of(events.get(outlet.id, ()), None).use is OutletUse.OUT_OF_USE,
        )
    ]


def upkeep_of(session: Session, register: Register, outlet: Outlet) -> tuple[CareLine, ...]:
    """What upkeep one outlet asks for, from an open session; nothing of a retired one."""
    if outlet.retired_on is not None:
        return ()
    rules = read_rulebook(session, register.published).at_outlet(outlet)
    events = outlet_use.use_events(session, [outlet.id]).get(outlet.id, ())
    cares, reviews = upkeep.cares(session, [outlet.id]), upkeep.reviews(session, [outlet.id])
    stands = use_of(events, None).use is OutletUse.OUT_OF_USE
    return care_lines(outlet, cares, reviews, intervals(rules), stands=stands)


def intervals(rules: RuleSet) -> Intervals:
    """How often upkeep is asked for under the rules of a place."""
    return Intervals(
        flushing_days=rules.number(FLUSHED),
        flushing_source=_source(rules, FLUSHED),
        shower_months=_months(rules, SHOWER_CLEANED),
        shower_source=_source(rules, SHOWER_CLEANED),
        review_months=_months(rules, REVIEWED),
        review_source=_source(rules, REVIEWED),
    )


def _months(rules: RuleSet, key: str) -> int | None:
    found = rules.number(key)
    return None if found is None else int(found)


def _source(rules: RuleSet, key: str) -> str:
    found = rules.get(key)
    return NO_INTERVAL if found is None else found.shown_source


def cares_of(register: Register, outlet_id: int) -> tuple[Care, ...]:
    """Upkeep on record of an outlet, newest first; withdrawn too."""
    with register.database.reading() as session:
        return upkeep.cares(session, [outlet_id])[::-1]


def entry_behind(register: Register, line: CareLine) -> int:
    """The id of the entry that a line of upkeep shows as the last one; of two on a day, the later entered.

    Raises:
        NotFoundFault: none of that day counts.
    """
    found: Sequence[Care | Review]
    if line.asked is CareAsked.REVIEW:
        found = reviews_of(register, line.outlet.id)
    else:
        kind = _DONE[line.asked]
        found = [each for each in cares_of(register, line.outlet.id) if each.draft.kind is kind]
    for each in found:
        if not each.withdrawn and each.draft.on == line.last:
            return each.id
    detail = phrase("{outlet}: {asked}.", outlet=line.outlet.reference, asked=phrase(line.asked.value))
    raise NotFoundFault(
        "Nothing to take back", detail, "No such entry counts any more; read the list afresh."
    )


_DONE = {CareAsked.FLUSHING: CareKind.FLUSHED, CareAsked.SHOWER_HEAD: CareKind.SHOWER_HEAD}


def reviews_of(register: Register, outlet_id: int) -> tuple[Review, ...]:
    """Reviews on record of an outlet, newest first; withdrawn too."""
    with register.database.reading() as session:
        return upkeep.reviews(session, [outlet_id])[::-1]


def surveys_of(register: Register, outlet_id: int) -> tuple[SuppliesMeasured, ...]:
    """Supplies measured at an outlet, newest first; withdrawn too."""
    with register.database.reading() as session:
        return upkeep.surveys(session, [outlet_id])[::-1]
