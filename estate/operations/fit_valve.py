"""Fit the first valve of an outlet by hand."""

from dataclasses import replace
from datetime import date, datetime

from estate.domain.dates import day_words
from estate.domain.editing import Edited
from estate.domain.phrases import phrase
from estate.domain.place_names import must_fit
from estate.domain.valve_figures import must_be_possible
from estate.domain.valves import Valve
from estate.errors import EntryFault
from estate.operations.open_action import ask_for_commissioning
from estate.operations.register import Register
from estate.store import places, valves
from estate.store.retrying import retried
from estate.store.transaction import Transaction, writing


@retried
def fit_valve(
    register: Register,
    outlet_id: int,
    body: Valve,
    *,
    on: date | None,
    who: str,
    at: datetime,
    why: str = "",
) -> Edited:
    """Fit a body at an outlet that has none; an action asks for its commissioning before use.

    A body recorded alike that is fitted nowhere and never was tested (its fitting was taken back) is taken.

    Args:
        register: the open register.
        outlet_id: the outlet.
        body: the body; its id is ignored.
        on: day of the work; None if it is not known.
        who: who records it.
        at: now, UTC.
        why: the reason, for the ledger; empty where none was given.

    Raises:
        EntryFault: a valve is in place or was until later, the outlet is retired, the day lies ahead, or a
            figure can't be true.
        NotFoundFault: there is no such outlet.
    """
    must_be_possible(body)
    for each in (body.make, body.model, body.serial):
        must_fit(each)
    today = at.astimezone().date()
    if on is not None and on > today:
        raise EntryFault("The work lies ahead", f"{day_words(on)}.", "Give the day on which it was done.")
    with writing(register.database, who, "fitted a valve", at, why=why.strip()) as tx:
        outlet = places.outlet(tx.session, outlet_id)
        if outlet.retired_on is not None:
            detail = phrase(
                "{reference} is retired since {day}.",
                reference=outlet.reference,
                day=day_words(outlet.retired_on),
            )
            raise EntryFault("The outlet is retired", detail, "Take it up again first.")
        there = [each for each in valves.fittings(tx.session) if each.position_id == outlet.position_id]
        if any(each.removed_on is None for each in there):
            detail = phrase("At {reference} a valve is in place.", reference=outlet.reference)
            raise EntryFault("There is a valve already", detail, "Replace it instead.")
        valve_id = _body(tx, body)
        valves.fit(tx, valve_id, outlet.position_id, on)
        ask_for_commissioning(tx, register, outlet, valve_id, (), on or today)
        tx.touch(outlets=[outlet_id], valves=[valve_id], everything=True)
    return Edited(tx.changes, tx.written, valve_id)


def _body(tx: Transaction, body: Valve) -> int:
    fitted = {each.valve_id for each in valves.fittings(tx.session)}
    for valve_id, held in valves.valves(tx.session).items():
        if valve_id not in fitted and replace(held, id=body.id) == body:
            return valve_id
    return valves.add_valve(tx, replace(body, id=0))
