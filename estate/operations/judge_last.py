"""Judge the last visit of each valve again after what it is judged by has changed."""

from collections.abc import Collection
from datetime import date

from estate.operations.holdings import read_holdings
from estate.operations.record_visit import judge_again
from estate.operations.register import Register
from estate.store import places, valves
from estate.store.transaction import Transaction


def judge_last_again(
    tx: Transaction, register: Register, outlet_ids: Collection[int], valve_ids: Collection[int] = ()
) -> None:
    """Judge the last visit of bodies anew; a changed judgement is a further entry.

    Args:
        tx: the transaction in hand.
        register: the open register.
        outlet_ids: outlets whose body in place is meant.
        valve_ids: further bodies.
    """
    wanted = set(valve_ids)
    if outlet_ids:
        at = {each.position_id for each in places.outlets(tx.session) if each.id in outlet_ids}
        there = [each for each in valves.fittings(tx.session) if each.position_id in at]
        wanted |= {each.valve_id for each in there if each.removed_on is None}
    if not wanted:
        return
    holdings = read_holdings(tx.session, register.published, wanted)
    since: dict[int, date] = {}
    for valve_id in sorted(wanted):
        counting = holdings.counting(valve_id)
        if counting:
            since[valve_id] = counting[-1].on
    judge_again(tx, register, since)
