"""Take a place away that holds nothing and never held anything."""

from datetime import datetime

from estate.domain.browsing import PlaceKind
from estate.domain.editing import Edited, Place
from estate.domain.phrases import phrase, together
from estate.errors import EntryFault
from estate.operations.register import Register
from estate.store import emptiness, storeys
from estate.store.retrying import retried
from estate.store.transaction import writing


@retried
def remove_empty(register: Register, place: Place, *, who: str, at: datetime, why: str = "") -> Edited:
    """Take a site, building, level, room or outlet away to which nothing in the register ever belonged.

    Args:
        register: the open register.
        place: the place.
        who: who takes it away.
        at: now, UTC.
        why: the reason, for the ledger; empty where none was given.

    Raises:
        EntryFault: it holds something or held it once; says what.
        NotFoundFault: there is no such place.
    """
    kind = place[0]
    article = "an" if kind is PlaceKind.OUTLET else "a"
    with writing(register.database, who, f"removed {article} {kind.value}", at, why=why.strip()) as tx:
        where = storeys.words(tx.session, place)
        held = emptiness.held(tx.session, place)
        if held:
            remedy = phrase("Retire the outlets in it: what was recorded stays on record for good.")
            if kind is PlaceKind.OUTLET:
                remedy = phrase("Retire it: what was recorded stays on record for good.")
            raise EntryFault(
                phrase("The {kind} is not empty", kind=phrase(kind.value)),
                phrase("{where}: {held}.", where=where, held=together(*held, between="; ")),
                remedy,
            )
        if kind is PlaceKind.OUTLET:
            emptiness.remove_outlet(tx, place[1])
        else:
            storeys.remove(tx, place)
        tx.touch(everything=True)
    return Edited(tx.changes, tx.written)
