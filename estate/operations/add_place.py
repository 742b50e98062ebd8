"""Add a site, building, level or room by hand."""

from datetime import datetime

from estate.domain.browsing import PlaceKind
from estate.domain.editing import Edited, Place, PlaceNames
from estate.domain.phrases import phrase
from estate.domain.place_names import ABOVE
from estate.errors import EntryFault
from estate.operations.register import Register
from estate.store import storeys
from estate.store.retrying import retried
from estate.store.transaction import writing


@retried
def add_place(
    register: Register, above: Place | None, names: PlaceNames, *, who: str, at: datetime, why: str = ""
) -> Edited:
    """Add a place one storey below another.

    Args:
        register: the open register.
        above: what it lies in; None adds a site.
        names: what it is called.
        who: who adds it.
        at: now, UTC.
        why: the reason, for the ledger; empty where none was given.

    Raises:
        EntryFault: the name can't be kept, another place there has it, or nothing but outlets lies there.
        NotFoundFault: the place above is not there.
    """
    kind = _kind_below(above)
    with writing(register.database, who, f"added a {kind.value}", at, why=why.strip()) as tx:
        if above is not None:
            storeys.names(tx.session, above)
        place_id = storeys.add(tx, kind, None if above is None else above[1], names)
        tx.touch(everything=True)
    return Edited(tx.changes, tx.written, place_id)


def _kind_below(above: Place | None) -> PlaceKind:
    kind = None if above is None else above[0]
    found = next(below for below, lies_in in ABOVE.items() if lies_in is kind or below is PlaceKind.OUTLET)
    if found is PlaceKind.OUTLET:
        detail = phrase("In a room lie outlets, in an outlet nothing.")
        raise EntryFault("No place can lie there", detail, "Choose a site, a building or a level.")
    return found
