"""Sites, buildings, levels and rooms one by one: their names, what lies in them, and their changes."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, Final

from sqlalchemy import select
from sqlalchemy.orm import Session

from estate.domain.browsing import PlaceKind
from estate.domain.editing import Place, PlaceNames
from estate.domain.phrases import phrase
from estate.domain.place_names import room_words, tidied
from estate.domain.references import reference_key
from estate.errors import EntryFault, NotFoundFault
from estate.store.columns import Row
from estate.store.parting import parts
from estate.store.schema import BuildingRow, LevelRow, OutletRow, RoomRow, SiteRow
from estate.store.transaction import Transaction


@dataclass(frozen=True, slots=True)
class _Storey:
    """A table of places, the column that tells what a place lies in, and the storey below."""

    row: type[Row]
    above: str | None
    below: PlaceKind | None


_STOREYS: Final[Mapping[PlaceKind, _Storey]] = MappingProxyType(
    {
        PlaceKind.SITE: _Storey(SiteRow, None, PlaceKind.BUILDING),
        PlaceKind.BUILDING: _Storey(BuildingRow, "site_id", PlaceKind.LEVEL),
        PlaceKind.LEVEL: _Storey(LevelRow, "building_id", PlaceKind.ROOM),
        PlaceKind.ROOM: _Storey(RoomRow, "level_id", PlaceKind.OUTLET),
        PlaceKind.OUTLET: _Storey(OutletRow, "room_id", None),
    }
)


def _row(session: Session, place: Place) -> Any:
    kind, place_id = place
    table = _STOREYS[kind].row.__table__
    row = session.execute(select(*table.columns).where(table.c.id == place_id)).one_or_none()
    if row is None:
        raise NotFoundFault(
            phrase("No such {kind}", kind=phrase(kind.value)),
            phrase("{kind} {place_id}.", kind=phrase(kind.value), place_id=place_id),
            "Read the register afresh.",
        )
    return row


def names(session: Session, place: Place) -> PlaceNames:
    """What a site, building, level or room is called.

    Raises:
        NotFoundFault: there is no such place.
    """
    row = _row(session, place)
    return PlaceNames(row.name, row.number if place[0] is PlaceKind.ROOM else "")


def above(session: Session, place: Place) -> int | None:
    """The place that a place lies in; None of a site.

    Raises:
        NotFoundFault: there is no such place.
    """
    row, column = _row(session, place), _STOREYS[place[0]].above
    return None if column is None else getattr(row, column)


def words(session: Session, place: Place) -> str:
    """A place with what it lies in, from the building on; an outlet by its reference.

    Raises:
        NotFoundFault: there is no such place.
    """
    kind, place_id = place
    if kind is PlaceKind.OUTLET:
        return str(_row(session, place).reference)
    said: list[str] = []
    at: int | None = place_id
    if kind is PlaceKind.SITE:
        return names(session, place).name
    for storey in (PlaceKind.ROOM, PlaceKind.LEVEL, PlaceKind.BUILDING):
        if at is None or (storey is not kind and not said):
            continue
        told = names(session, (storey, at))
        said.append(f"Level {told.name}" if storey is PlaceKind.LEVEL else room_words(told))
        at = above(session, (storey, at))
    return " · ".join(reversed(said))


def add(tx: Transaction, kind: PlaceKind, above_id: int | None, given: PlaceNames) -> int:
    """Add a site, building, level or room.

    Returns:
        Its id.

    Raises:
        EntryFault: the name can't be kept, or another place there has it.
    """
    told = _free(tx.session, kind, above_id, given)
    column = _STOREYS[kind].above
    lies_in = {} if column is None else {column: above_id}
    return tx.insert(_STOREYS[kind].row(**told, **lies_in))


def rename(tx: Transaction, place: Place, given: PlaceNames) -> None:
    """Call a site, building, level or room otherwise.

    Raises:
        NotFoundFault: there is no such place.
        EntryFault: the name can't be kept, or another place there has it.
    """
    kind, place_id = place
    told = _free(tx.session, kind, above(tx.session, place), given, but=place_id)
    tx.amend(_STOREYS[kind].row, place_id, **told)


def move(tx: Transaction, place: Place, above_id: int) -> None:
    """Move a building, level or room to another place one storey above it.

    Raises:
        NotFoundFault: there is no such place.
        EntryFault: another place there has its name.
    """
    kind, place_id = place
    column = _STOREYS[kind].above
    assert column is not None, "a site lies in no place"
    _free(tx.session, kind, above_id, names(tx.session, place), but=place_id)
    tx.amend(_STOREYS[kind].row, place_id, **{column: above_id})


def remove(tx: Transaction, place: Place) -> None:
    """Take a place away that nothing refers to."""
    tx.remove(_STOREYS[place[0]].row, place[1])


def _free(
    session: Session, kind: PlaceKind, above_id: int | None, given: PlaceNames, but: int | None = None
) -> dict[str, str]:
    """The columns of a name that no other place there has."""
    told = tidied(kind, given)
    columns = {"name": told.name, "name_key": reference_key(told.name)}
    if kind is PlaceKind.ROOM:
        columns |= {"number": told.number, "number_key": reference_key(told.number)}
    table, lies_in = _STOREYS[kind].row.__table__, _STOREYS[kind].above
    query = select(table.c.id).where(
        *(table.c[name] == key for name, key in columns.items() if name.endswith("_key"))
    )
    if lies_in is not None:
        query = query.where(table.c[lies_in] == above_id)
    taken = [each for each in session.execute(query).scalars() if each != but]
    if taken:
        raise _is_taken(session, (kind, taken[0]))
    return columns


def _is_taken(session: Session, place: Place) -> EntryFault:
    detail = phrase("{words} is there already.", words=words(session, place))
    remedy = phrase("Choose another name; case, spaces and punctuation make no difference.")
    return EntryFault(phrase("That {kind} is there already", kind=phrase(place[0].value)), detail, remedy)


def outlets_in(session: Session, places: Sequence[Place]) -> set[int]:
    """Ids of the outlets in places of one storey, however deep; of outlets their own."""
    ids: Collection[int] = {place_id for _, place_id in places}
    kind = places[0][0]
    while (below := _STOREYS[kind].below) is not None:
        table, lies_in = _STOREYS[below].row.__table__, _STOREYS[below].above
        found = [select(table.c.id).where(table.c[str(lies_in)].in_(part)) for part in parts(ids)]
        ids = {each for query in found for each in session.execute(query).scalars()}
        kind = below
    return set(ids)
