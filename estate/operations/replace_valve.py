"""Replace the valve body at an outlet; the old one's history stays with it."""

from dataclasses import replace
from datetime import date, datetime

from estate.domain.changes import ChangeSet
from estate.domain.conflicts import Seen
from estate.domain.dates import day_words
from estate.domain.phrases import phrase
from estate.domain.valves import Valve
from estate.errors import EntryFault
from estate.operations.open_action import ask_for_commissioning
from estate.operations.register import Register
from estate.store import places, row_versions, valves, visits
from estate.store.retrying import retried
from estate.store.transaction import writing


@retried
def replace_valve(
    register: Register,
    outlet_id: int,
    body: Valve,
    *,
    on: date,
    who: str,
    at: datetime,
    seen: Seen | None = None,
) -> ChangeSet:
    """Take out the body in place and fit another on the same day.

    The new body has no test on record, so it is due at once, and an action asks for its commissioning before
    use; actions about the old body end with it.

    Args:
        register: the open register.
        outlet_id: an outlet that the valve serves.
        body: the new body; its id is ignored.
        on: day of the work.
        who: who records it.
        at: now, UTC.
        seen: the fitting of the body in place as the form saw it; None asks nothing.

    Raises:
        NotFoundFault: there is no such outlet.
        EntryFault: the day lies before the old body was fitted or last tested.
        ConflictFault: somebody else took that body out meanwhile.
    """
    with writing(register.database, who, "replaced a valve", at) as tx:
        row_versions.must_be_as_seen(tx, seen)
        outlet = places.outlet(tx.session, outlet_id)
        there = [each for each in valves.fittings(tx.session) if each.position_id == outlet.position_id]
        removed: list[int] = []
        for fitting in there:
            if fitting.removed_on is not None:
                continue
            last = max((each.on for each in visits.visits(tx.session, {fitting.valve_id})), default=None)
            latest = max((day for day in (fitting.fitted_on, last) if day is not None), default=None)
            if latest is not None and on < latest:
                detail = phrase(
                    "The old body was fitted or tested on {day}, after {replaced_day}.",
                    day=day_words(latest),
                    replaced_day=day_words(on),
                )
                raise EntryFault("The replacement comes too early", detail, "Correct the date.")
            valves.remove(tx, fitting.valve_id, outlet.position_id, on)
            removed.append(fitting.valve_id)
        valve_id = valves.add_valve(tx, replace(body, id=0))
        valves.fit(tx, valve_id, outlet.position_id, on)
        ask_for_commissioning(tx, register, outlet, valve_id, removed, on)
        tx.touch(outlets=[outlet_id], valves=[valve_id])
    return tx.changes
