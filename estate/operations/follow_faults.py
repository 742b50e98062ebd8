"""Let the actions of valves agree with what their visits say: opened, found again, answered, reopened."""

from collections.abc import Collection, Iterator, Sequence
from datetime import date

from estate.domain.findings import Severity
from estate.domain.life.faults import Faults, read_faults
from estate.domain.life.following import Body, Deed, follow
from estate.domain.life.policy import target_day
from estate.operations.holdings import LOOKED_BACK, read_holdings
from estate.operations.inventory import Inventory
from estate.operations.register import Register
from estate.store import actions, judged_visits
from estate.store.database import Session
from estate.store.transaction import Transaction


def follow_faults(
    tx: Transaction,
    register: Register,
    valve_ids: Collection[int],
    known: Inventory | None = None,
    batch_id: int | None = None,
) -> None:
    """Write what the actions of some bodies go through by themselves, in the transaction in hand.

    Args:
        tx: the transaction.
        register: the open register.
        valve_ids: bodies whose visits or judgements changed.
        known: outlets and valves as they stand, if they have been read; None reads them.
        batch_id: the batch that brought the visits.
    """
    concerned = _concerned(tx.session, valve_ids)
    if not concerned:
        return
    inventory = known or read_holdings(tx.session, register.published, (), judged=False)
    outlets = _tested(inventory)
    today = tx.at.date()
    deeds: list[Deed] = []
    for body in read_bodies(tx.session, inventory, concerned):
        latest = max((each.on for each in body.faults.series), default=today)
        deeds += follow(body, _Targets(inventory, outlets.get(body.valve_id, 0)), max(today, latest))
    _write(tx, deeds, batch_id)


def _concerned(session: Session, valve_ids: Collection[int]) -> set[int]:
    failing = judged_visits.failing_valves(session, valve_ids)
    return failing | actions.acted_on(session, valve_ids)


class _Targets:
    """The policy at the outlet of a body."""

    def __init__(self, inventory: Inventory, outlet_id: int) -> None:
        self._inventory = inventory
        self._outlet_id = outlet_id

    def __call__(self, severity: Severity, on: date) -> date | None:
        outlet = self._inventory.outlet_by_id.get(self._outlet_id)
        return (
            None if outlet is None else target_day(self._inventory.rulebook.at_outlet(outlet), severity, on)
        )


def _tested(inventory: Inventory) -> dict[int, int]:
    """The first outlet that each body serves, by the valve's id; the last place of a body counts."""
    return {
        each.valve_id: inventory.by_position[each.position_id][0].id
        for each in inventory.fittings
        if each.position_id in inventory.by_position
    }


def read_bodies(session: Session, inventory: Inventory, valve_ids: Collection[int]) -> Iterator[Body]:
    """Bodies with what their visits say and the actions about them."""
    there = actions.actions_of_valves(session, valve_ids)
    visit_ids = {
        valve_id: {seen for each in group for seen in each.visit_ids} for valve_id, group in there.items()
    }
    since = {valve_id: min(ids) for valve_id, ids in visit_ids.items() if ids}
    series = judged_visits.judged_visits(session, valve_ids, LOOKED_BACK, since)
    gone = judged_visits.gone(session, {each for ids in visit_ids.values() for each in ids})
    in_place = {
        each.valve_id
        for each in inventory.fittings
        if each.removed_on is None and each.position_id in inventory.by_position
    }
    for valve_id in sorted(valve_ids):
        faults = read_faults(series.get(valve_id, ()))
        yield Body(valve_id, valve_id in in_place, faults, there.get(valve_id, ()), gone)


def faults_of(session: Session, inventory: Inventory, valve_id: int | None) -> Faults:
    """What the visits of a body say of its faults; of no body nothing."""
    if valve_id is None:
        return Faults(())
    return next(read_bodies(session, inventory, [valve_id])).faults


def _write(tx: Transaction, deeds: Sequence[Deed], batch_id: int | None) -> None:
    openings = [each.opening for each in deeds if each.opening is not None]
    ids = iter(actions.add_actions(tx, openings, batch_id))
    pairs = []
    for deed in deeds:
        action_id = next(ids) if deed.action_id is None else deed.action_id
        pairs += [(action_id, event) for event in deed.events]
    actions.add_events(tx, pairs)
