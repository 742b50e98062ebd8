"""Add an outlet to a room by hand."""

from datetime import datetime

from estate.domain.browsing import PlaceKind
from estate.domain.editing import Edited, OutletDraft
from estate.domain.place_names import must_fit
from estate.operations.register import Register
from estate.store import places, storeys
from estate.store.retrying import retried
from estate.store.transaction import writing


@retried
def add_outlet(
    register: Register, room_id: int, draft: OutletDraft, *, who: str, at: datetime, why: str = ""
) -> Edited:
    """Add an outlet with a position for its valve, and no valve yet.

    Args:
        register: the open register.
        room_id: where it lies.
        draft: the outlet.
        who: who adds it.
        at: now, UTC.
        why: the reason, for the ledger; empty where none was given.

    Raises:
        EntryFault: the reference is empty, too long or taken, or the pipe's length is not a length.
        NotFoundFault: there is no such room.
    """
    name = " ".join(draft.words.split())
    for each in (draft.reference, name):
        must_fit(each)
    with writing(register.database, who, "added an outlet", at, why=why.strip()) as tx:
        storeys.names(tx.session, (PlaceKind.ROOM, room_id))
        outlet_id = places.add_outlet(
            tx,
            room_id=room_id,
            position_id=places.add_position(tx, room_id, name),
            reference=draft.reference,
            name=name,
            use=draft.use,
            user_group=draft.user_group,
            pipe_m=draft.pipe_m,
            little_used=draft.little_used,
        )
        tx.touch(everything=True)
    return Edited(tx.changes, tx.written, outlet_id)
