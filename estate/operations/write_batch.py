"""Write what a proposal says, inside the transaction of its batch."""

from collections.abc import Collection, Sequence
from dataclasses import replace
from datetime import date

from estate.domain.places import OutletPath
from estate.domain.valves import ModelLimits, Valve
from estate.domain.visits import AttemptDraft, Visit
from estate.operations.follow_faults import follow_faults
from estate.operations.holdings import read_holdings
from estate.operations.proposals import AssetChange, MissingOutlet, NewAsset, Proposal, ProposedAttempt
from estate.operations.record_visit import judge_again
from estate.operations.register import Register
from estate.store import attempts, judgements, places, valves, visits
from estate.store.new_places import NewPlaces
from estate.store.transaction import Transaction

_LIMITS = frozenset({"min_differential_k", "max_pressure_ratio"})


def write_visits(tx: Transaction, register: Register, proposal: Proposal, batch_id: int) -> tuple[Visit, ...]:
    """Write visits with their judgements; later visits of the same valves are judged again."""
    proposed = proposal.visits
    if not proposed:
        return ()
    corrects = {place: each.corrects for place, each in enumerate(proposed) if each.corrects is not None}
    added = visits.add_visits(tx, [each.draft for each in proposed], batch_id, corrects)
    pairs = [(visit.id, each.judgement) for visit, each in zip(added, proposed, strict=True)]
    judgements.add_judgements(tx, pairs)
    if proposal.again:
        judge_again(tx, register, dict(proposal.again), {visit.id for visit in added}, batch_id)
    others = {visit.draft.valve_id for visit in added} - dict(proposal.again).keys()
    follow_faults(tx, register, others, proposal.known, batch_id)
    return added


def write_attempts(tx: Transaction, proposed: Sequence[ProposedAttempt], batch_id: int) -> None:
    """Write visits without access."""
    drafts = [
        AttemptDraft(each.outlet_id, each.row.on, each.row.why, each.row.person, each.row.source)
        for each in proposed
    ]
    attempts.add_attempts(tx, drafts, batch_id)


def write_assets(tx: Transaction, assets: Sequence[NewAsset]) -> None:
    """Write new outlets with their places and valves."""
    if not assets:
        return
    new = NewPlaces(tx)
    positions: dict[tuple[object, ...], int] = {}
    rooms: dict[tuple[str, ...], int] = {}
    for asset in assets:
        row = asset.row
        names = (row.site, row.building, row.level, row.room_number, row.room)
        if names not in rooms:
            rooms[names] = new.room(*names)
        if asset.group not in positions:
            positions[asset.group] = new.position(rooms[names], row.outlet)
            new.fitted_valve(_valve(asset), positions[asset.group], row.fitted_on)
        new.outlet(
            room_id=rooms[names],
            position_id=positions[asset.group],
            reference=row.reference.strip(),
            name=row.outlet,
            use=row.use,
            user_group=row.user_group,
            pipe_m=row.pipe_m,
            little_used=bool(row.little_used),
        )
    new.write()


def _valve(asset: NewAsset) -> Valve:
    row = asset.row
    return Valve(
        id=0,
        make=row.make,
        model=row.model,
        serial=row.serial,
        scheme_class=row.scheme_class,
        en_type=row.en_type,
        designations=row.designations,
        size_mm=row.size_mm,
        set_c=row.set_c,
        check_valves=row.check_valves,
        strainers=row.strainers,
        isolating_valves=row.isolating_valves,
        limits=ModelLimits(row.min_differential_k, row.max_pressure_ratio),
    )


def write_changes(tx: Transaction, register: Register, changes: Sequence[AssetChange]) -> None:
    """Write the fields that a person took from an asset list, and judge the last visits anew."""
    if not changes:
        return
    bodies = valves.valves(tx.session)
    for each in changes:
        if each.room is not None:
            _move(tx, each.outlet_id, each.room)
            continue
        value = getattr(each.row, each.name)
        if each.valve_id is None:
            column = "name" if each.name == "outlet" else each.name
            places.amend_outlet(tx, each.outlet_id, **{column: value})
        elif each.name in _LIMITS:
            limits = replace(bodies[each.valve_id].limits, **{each.name: value})
            bodies[each.valve_id] = replace(bodies[each.valve_id], limits=limits)
            valves.amend_valve(tx, each.valve_id, limits=limits)
        else:
            valves.amend_valve(tx, each.valve_id, **{each.name: value})
    judge_again(tx, register, _last_visits(tx, register, {each.outlet_id for each in changes}))


def _move(tx: Transaction, outlet_id: int, to: OutletPath) -> None:
    room_id = places.ensure_room(tx, to.site, to.building, to.level, to.room_number, to.room)
    places.move_outlet(tx, outlet_id, room_id)


def _last_visits(tx: Transaction, register: Register, outlet_ids: Collection[int]) -> dict[int, date]:
    """The last visit of each valve in place that serves some outlets."""
    holdings = read_holdings(tx.session, register.published)
    positions = {holdings.outlet_by_id[each].position_id for each in outlet_ids}
    served = [
        each.valve_id for each in holdings.fittings if each.position_id in positions and not each.removed_on
    ]
    counting = {valve_id: holdings.counting(valve_id) for valve_id in served}
    return {valve_id: series[-1].on for valve_id, series in counting.items() if series}


def retire(tx: Transaction, missing: Sequence[MissingOutlet], today: date) -> None:
    """Retire outlets that an asset list does not name, as a person answered."""
    for each in missing:
        places.amend_outlet(tx, each.outlet_id, retired_on=today)
