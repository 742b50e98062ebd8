"""Outlets changed by hand: fields and references, and moving them with the positions of their valves."""

from collections import defaultdict
from collections.abc import Collection, Mapping
from typing import Any

from sqlalchemy import select

from estate.store.places import amend_outlet, free_reference
from estate.store.schema import OutletRow, PositionRow
from estate.store.transaction import Transaction


def write_outlet(tx: Transaction, outlet_id: int, fields: Mapping[str, object]) -> None:
    """Change fields of an outlet by their columns, the reference too.

    Raises:
        EntryFault: the reference is empty or taken, or the pipe's length is not a length.
    """
    changed: dict[str, Any] = dict(fields)
    if "reference" in changed:
        changed["reference_key"] = free_reference(tx.session, changed["reference"], but=outlet_id)
    amend_outlet(tx, outlet_id, **changed)


def move_outlets(tx: Transaction, outlet_ids: Collection[int], room_id: int) -> None:
    """Move outlets to another room.

    The position of a valve moves along where it lay in the room that its outlet leaves and serves no outlet
    in any other room afterwards.

    Args:
        outlet_ids: outlets that lie in other rooms.
        room_id: of the room.
    """
    left: dict[int, set[int]] = defaultdict(set)
    for outlet_id in sorted(outlet_ids):
        query = select(OutletRow.room_id, OutletRow.position_id).where(OutletRow.id == outlet_id)
        old_room_id, position_id = tx.session.execute(query).one()
        left[position_id].add(old_room_id)
        amend_outlet(tx, outlet_id, room_id=room_id)
    for position_id, old_room_ids in left.items():
        lies = select(PositionRow.room_id).where(PositionRow.id == position_id)
        served = select(OutletRow.room_id).where(OutletRow.position_id == position_id).distinct()
        rooms_served = set(tx.session.execute(served).scalars())
        if tx.session.execute(lies).scalar_one() in old_room_ids and rooms_served == {room_id}:
            tx.amend(PositionRow, position_id, room_id=room_id)
