"""Call a site, building, level or room otherwise; what lies in it and its history stay."""

from datetime import datetime

from estate.domain.browsing import PlaceKind
from estate.domain.conflicts import Seen
from estate.domain.editing import Edited, Place, PlaceNames
from estate.domain.phrases import phrase
from estate.domain.place_names import tidied
from estate.errors import EntryFault
from estate.operations.register import Register
from estate.store import row_versions, storeys
from estate.store.retrying import retried
from estate.store.transaction import writing


def names_of(register: Register, place: Place) -> PlaceNames:
    """What a site, building, level or room is called.

    Raises:
        NotFoundFault: there is no such place.
        EntryFault: it is an outlet.
    """
    _must_be_named(place)
    with register.database.reading() as session:
        return storeys.names(session, place)


def seen_of(register: Register, noun: str, row_id: int) -> Seen:
    """A row as it is now, for a form that is filled from it next.

    Args:
        register: the open register.
        noun: ``site``, ``building``, ``level``, ``room``, ``outlet`` or ``valve``.
        row_id: the row; one that is gone has version 0.
    """
    with register.database.reading() as session:
        return row_versions.seen_of(session, noun, row_id)


@retried
def rename_place(
    register: Register,
    place: Place,
    names: PlaceNames,
    *,
    who: str,
    at: datetime,
    why: str = "",
    seen: Seen | None = None,
) -> Edited:
    """Call a place otherwise.

    Args:
        register: the open register.
        place: a site, building, level or room.
        names: what it is called from now on.
        who: who renames it.
        at: now, UTC.
        why: the reason, for the ledger; empty where none was given.
        seen: the place as the form saw it; None asks nothing.

    Raises:
        EntryFault: the name can't be kept, another place there has it, or it is the name already.
        ConflictFault: somebody else changed the place meanwhile.
        NotFoundFault: there is no such place.
    """
    _must_be_named(place)
    kind = place[0]
    with writing(register.database, who, f"renamed a {kind.value}", at, why=why.strip()) as tx:
        row_versions.must_be_as_seen(tx, seen)
        if storeys.names(tx.session, place) == tidied(kind, names):
            raise nothing_changes(
                phrase("{words} is called so already.", words=storeys.words(tx.session, place))
            )
        storeys.rename(tx, place, names)
        tx.touch(outlets=storeys.outlets_in(tx.session, [place]), everything=True)
    return Edited(tx.changes, tx.written)


def _must_be_named(place: Place) -> None:
    if place[0] is PlaceKind.OUTLET:
        remedy = phrase("Amend its reference or its words.")
        raise EntryFault(
            "An outlet has a reference",
            phrase("outlet {place} is no place by a name.", place=place[1]),
            remedy,
        )


def nothing_changes(detail: str) -> EntryFault:
    """The fault of a change that would leave everything as it is."""
    return EntryFault("Nothing would change", detail, "Change something, or leave it as it is.")
