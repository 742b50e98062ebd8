"""Move rooms, levels and buildings to another place, and outlets to another room."""

from collections.abc import Collection, Sequence
from datetime import datetime

from estate.domain.browsing import PlaceKind
from estate.domain.editing import Edited, Place
from estate.domain.phrases import phrase, together
from estate.domain.place_names import ABOVE
from estate.errors import EntryFault
from estate.operations.judge_last import judge_last_again
from estate.operations.register import Register
from estate.operations.rename_place import nothing_changes
from estate.store import outlet_changes, storeys
from estate.store import places as place_rows
from estate.store.retrying import retried
from estate.store.transaction import Transaction, writing


@retried
def move_places(
    register: Register, places: Sequence[Place], to: Place, *, who: str, at: datetime, why: str = ""
) -> Edited:
    """Move places of one storey, all or none, to a place one storey above them.

    The position of a valve moves with its outlet where it lay in the same room and serves no outlet
    elsewhere. Where other rules hold in the new building, the last visits are judged again.

    Args:
        register: the open register.
        places: rooms, levels, buildings or outlets; those that lie there already stay.
        to: a level for rooms, a building for levels, a site for buildings, a room for outlets.
        who: who moves them.
        at: now, UTC.
        why: the reason, for the ledger; empty where none was given.

    Raises:
        EntryFault: they are not of one storey, `to` is not one above it, another place there has the name of
            one, or all lie there already.
        NotFoundFault: one of the places is not there.
    """
    kind = _one_kind(places, to)
    ids = list(dict.fromkeys(place_id for _, place_id in places))
    with writing(register.database, who, _what(kind, len(ids)), at, why=why.strip()) as tx:
        where = storeys.words(tx.session, to)
        moving = [each for each in ids if storeys.above(tx.session, (kind, each)) != to[1]]
        if not moving:
            raise nothing_changes(phrase("They lie in {where} already.", where=where))
        below = storeys.outlets_in(tx.session, [(kind, each) for each in moving])
        before = _buildings(tx, below)
        if kind is PlaceKind.OUTLET:
            outlet_changes.move_outlets(tx, moving, to[1])
        else:
            for each in moving:
                storeys.move(tx, (kind, each), to[1])
        after = _buildings(tx, below)
        judge_last_again(tx, register, [each for each in below if before[each] != after[each]])
        tx.touch(outlets=below, everything=True)
    return Edited(tx.changes, tx.written)


def _one_kind(places: Sequence[Place], to: Place) -> PlaceKind:
    kinds = {kind for kind, _ in places}
    if len(kinds) != 1:
        chosen = [phrase(each) for each in sorted(each.value for each in kinds)] or [phrase("no places")]
        detail = phrase("Chosen were {places}.", places=together(*chosen, between=" and "))
        raise EntryFault("Only places of one storey move together", detail, "Move them one after the other.")
    (kind,) = kinds
    above = ABOVE[kind]
    if above is None:
        raise EntryFault("A site lies in no place", "It can't be moved.", "Rename it, or move its buildings.")
    if above is not to[0]:
        detail = phrase(
            "A {kind} lies in a {above}, not in a {to}.",
            kind=phrase(kind.value),
            above=phrase(above.value),
            to=phrase(to[0].value),
        )
        raise EntryFault(
            "That can't be moved there", detail, phrase("Choose a {above}.", above=phrase(above.value))
        )
    return kind


def _what(kind: PlaceKind, count: int) -> str:
    return f"moved a {kind.value}" if count == 1 else f"moved {count} {kind.value}s"


def _buildings(tx: Transaction, outlet_ids: Collection[int]) -> dict[int, int]:
    every = place_rows.building_of_outlet(tx.session)
    return {each: every[each] for each in outlet_ids}
