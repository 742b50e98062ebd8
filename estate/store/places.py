"""Places from site to outlet: reading, making and amending them."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from math import isfinite
from typing import Any, Final, TypedDict, Unpack

from sqlalchemy import Select, select
from sqlalchemy.orm import Session

from estate.domain.due import walking_key
from estate.domain.phrases import phrase
from estate.domain.places import Outlet, OutletPath, Use, UserGroup
from estate.domain.references import level_key, reference_key
from estate.errors import EntryFault, NotFoundFault
from estate.store.parting import parts
from estate.store.records import outlet_of
from estate.store.schema import BuildingRow, LevelRow, OutletRow, PositionRow, RoomRow, SiteRow
from estate.store.transaction import Transaction


@dataclass(frozen=True, slots=True)
class RoomPlace:
    """A room and what it lies in."""

    site_id: int
    site: str
    building_id: int
    building: str
    level_id: int
    level: str
    room_id: int
    room_number: str
    room: str

    @property
    def path(self) -> OutletPath:
        """The words that lead to the room; no outlet."""
        return OutletPath(self.site, self.building, self.level, self.room_number, self.room, "")


_NO_ROOM: Final[tuple[Any, ...]] = (0, "", 0, "", 0, "", 0, "", "")


class OutletFields(TypedDict, total=False):
    """Fields of an outlet that may be amended."""

    name: str
    use: Use
    user_group: UserGroup
    pipe_m: float | None
    little_used: bool
    rule_set: str | None
    retired_on: date | None
    position_id: int
    room_id: int


def outlet_query() -> Select[Any]:
    """Outlets with the names of the places they lie in, for `records.outlet_of`."""
    columns: tuple[Any, ...] = (
        *(OutletRow.id, OutletRow.reference),
        *(SiteRow.name, BuildingRow.name, LevelRow.name, RoomRow.number, RoomRow.name, OutletRow.name),
        *(OutletRow.use, OutletRow.user_group, OutletRow.position_id, OutletRow.little_used),
        *(OutletRow.pipe_m, OutletRow.rule_set, OutletRow.retired_on),
    )
    return (
        select(*columns)
        .join(RoomRow, RoomRow.id == OutletRow.room_id)
        .join(LevelRow, LevelRow.id == RoomRow.level_id)
        .join(BuildingRow, BuildingRow.id == LevelRow.building_id)
        .join(SiteRow, SiteRow.id == BuildingRow.site_id)
    )


def outlets(session: Session) -> tuple[Outlet, ...]:
    """Every outlet, retired ones too, in walking order."""
    found = [outlet_of(row) for row in session.execute(outlet_query())]
    return tuple(sorted(found, key=lambda each: (walking_key(each.path, each.reference), each.id)))


def outlet(session: Session, outlet_id: int) -> Outlet:
    """One outlet.

    Raises:
        NotFoundFault: there is none with this id.
    """
    row = session.execute(outlet_query().where(OutletRow.id == outlet_id)).one_or_none()
    if row is None:
        raise NotFoundFault(
            "No such outlet", phrase("outlet {outlet_id}.", outlet_id=outlet_id), "Read the register afresh."
        )
    return outlet_of(row)


def outlets_by_id(session: Session, outlet_ids: Sequence[int]) -> tuple[Outlet, ...]:
    """Outlets in the order asked.

    Raises:
        NotFoundFault: there is none with one of these ids.
    """
    found = {
        row.id: outlet_of(row)
        for part in parts(outlet_ids)
        for row in session.execute(outlet_query().where(OutletRow.id.in_(part)))
    }
    return tuple(found[each] if each in found else outlet(session, each) for each in outlet_ids)


def outlet_by_reference(session: Session, reference: str) -> Outlet | None:
    """The outlet with a reference, however it is written (case and punctuation do not matter)."""
    key = reference_key(reference)
    row = session.execute(outlet_query().where(OutletRow.reference_key == key)).one_or_none()
    return None if row is None else outlet_of(row)


def rooms(session: Session, bare: bool = False) -> tuple[RoomPlace, ...]:
    """Every room with its level, building and site, in walking order.

    Args:
        session: reads.
        bare: True gives sites, buildings and levels without a room as well: 0 stands for the numbers of what
            they have not, and its names are empty.
    """
    query = (
        select(
            SiteRow.id.label("site_id"),
            SiteRow.name.label("site"),
            BuildingRow.id.label("building_id"),
            BuildingRow.name.label("building"),
            LevelRow.id.label("level_id"),
            LevelRow.name.label("level"),
            RoomRow.id.label("room_id"),
            RoomRow.number.label("room_number"),
            RoomRow.name.label("room"),
        )
        .join(BuildingRow, BuildingRow.site_id == SiteRow.id, isouter=bare)
        .join(LevelRow, LevelRow.building_id == BuildingRow.id, isouter=bare)
        .join(RoomRow, RoomRow.level_id == LevelRow.id, isouter=bare)
    )
    found = [RoomPlace(*_told(row)) for row in session.execute(query)]
    return tuple(sorted(found, key=lambda each: (walking_key(each.path, ""), each.room_id)))


def _told(row: Iterable[Any]) -> tuple[Any, ...]:
    return tuple(none if value is None else value for value, none in zip(row, _NO_ROOM, strict=True))


def room_of_outlet(session: Session) -> dict[int, int]:
    """The room's id of every outlet."""
    return {row.id: row.room_id for row in session.execute(select(OutletRow.id, OutletRow.room_id))}


def building_of_outlet(session: Session) -> dict[int, int]:
    """The building's id of every outlet."""
    query = (
        select(OutletRow.id, LevelRow.building_id)
        .join(RoomRow, RoomRow.id == OutletRow.room_id)
        .join(LevelRow, LevelRow.id == RoomRow.level_id)
    )
    return {row.id: row.building_id for row in session.execute(query)}


def building_rule_sets(session: Session) -> dict[int, str]:
    """Rule sets chosen for whole buildings, by the building's id."""
    query = select(BuildingRow.id, BuildingRow.rule_set).where(BuildingRow.rule_set.is_not(None))
    return {building: rule_set for building, rule_set in session.execute(query) if rule_set is not None}


def _room_id(session: Session, keys: tuple[str, ...], level_name: str) -> int | None:
    site, building, level, number, room = keys
    query = (
        select(RoomRow.id, LevelRow.name)
        .join(LevelRow, LevelRow.id == RoomRow.level_id)
        .join(BuildingRow, BuildingRow.id == LevelRow.building_id)
        .join(SiteRow, SiteRow.id == BuildingRow.site_id)
        .where(SiteRow.name_key == site, BuildingRow.name_key == building, LevelRow.name_key == level)
        .where(RoomRow.number_key == number, RoomRow.name_key == room)
    )
    found = session.execute(query).one_or_none()
    if found is None:
        return None
    must_be_level(level_name, found.name)
    room_id: int = found.id
    return room_id


def ensure_room(tx: Transaction, site: str, building: str, level: str, room_number: str, room: str) -> int:
    """The room of these names, made with everything above it where it is missing.

    Names compare without case and punctuation; the first writing is kept.

    Returns:
        The room's id.

    Raises:
        EntryFault: the level would be taken for another one.
    """
    names = tuple(each.strip() for each in (site, building, level, room_number, room))
    keys = tuple(reference_key(each) for each in names)
    found = _room_id(tx.session, keys, names[2])
    if found is not None:
        return found
    site_id = _ensure_site(tx, names[0], keys[0])
    building_id = _ensure_building(tx, site_id, names[1], keys[1])
    level_id = _ensure_level(tx, building_id, names[2], keys[2])
    row = RoomRow(level_id=level_id, number=names[3], number_key=keys[3], name=names[4], name_key=keys[4])
    return tx.insert(row)


def _ensure_site(tx: Transaction, name: str, key: str) -> int:
    found = tx.session.execute(select(SiteRow.id).where(SiteRow.name_key == key)).scalar_one_or_none()
    return tx.insert(SiteRow(name=name, name_key=key)) if found is None else found


def _ensure_building(tx: Transaction, site_id: int, name: str, key: str) -> int:
    query = select(BuildingRow.id).where(BuildingRow.site_id == site_id, BuildingRow.name_key == key)
    found = tx.session.execute(query).scalar_one_or_none()
    return tx.insert(BuildingRow(site_id=site_id, name=name, name_key=key)) if found is None else found


def _ensure_level(tx: Transaction, building_id: int, name: str, key: str) -> int:
    query = select(LevelRow.id, LevelRow.name).where(
        LevelRow.building_id == building_id, LevelRow.name_key == key
    )
    found = tx.session.execute(query).one_or_none()
    if found is None:
        return tx.insert(LevelRow(building_id=building_id, name=name, name_key=key))
    must_be_level(name, found.name)
    level_id: int = found.id
    return level_id


def must_be_level(name: str, held: str) -> None:
    """Refuse a level that would be taken for another one: the keys kept of -1 and of 1 are the same.

    Args:
        name: the level that is meant.
        held: the one that has its key.

    Raises:
        EntryFault: the one is a number below zero and the other is not.
    """
    if level_key(name) != level_key(held):
        detail = phrase(
            "“{name}” would be taken for “{held}”, which the building has already.", name=name, held=held
        )
        remedy = phrase(
            "Give the one below ground a name of its own, such as B1 or Basement 1, and do it again."
        )
        raise EntryFault("Two levels can't be told apart", detail, remedy)


def add_position(tx: Transaction, room_id: int, words: str) -> int:
    """Add a mounting place for a valve body in a room; returns its id."""
    return tx.insert(PositionRow(room_id=room_id, words=words.strip()))


def add_outlet(
    tx: Transaction,
    *,
    room_id: int,
    position_id: int,
    reference: str,
    name: str,
    use: Use,
    user_group: UserGroup,
    pipe_m: float | None,
    little_used: bool = False,
) -> int:
    """Add an outlet.

    Args:
        pipe_m: blended pipe from valve to outlet, m; None if not measured.

    Returns:
        Its id.

    Raises:
        EntryFault: the reference is empty or taken, or the pipe's length is not a length.
    """
    key = free_reference(tx.session, reference)
    check_pipe(pipe_m)
    row = OutletRow(
        room_id=room_id,
        position_id=position_id,
        reference=reference.strip(),
        reference_key=key,
        name=name.strip(),
        use=use.value,
        user_group=user_group.value,
        little_used=little_used,
        pipe_m=pipe_m,
    )
    outlet_id = tx.insert(row)
    tx.touch(outlets=[outlet_id])
    return outlet_id


def free_reference(session: Session, reference: str, but: int | None = None) -> str:
    """What tells a reference from others, where no other outlet has it.

    Args:
        session: reads.
        reference: as it is written.
        but: an outlet that may have it.

    Raises:
        EntryFault: it is empty or taken.
    """
    key = key_of(reference)
    query = select(OutletRow.reference).where(OutletRow.reference_key == key)
    if but is not None:
        query = query.where(OutletRow.id != but)
    taken = session.execute(query).scalar_one_or_none()
    if taken is not None:
        raise reference_is_taken(reference, taken)
    return key


def key_of(reference: str) -> str:
    """What tells a reference from others.

    Raises:
        EntryFault: the reference is empty.
    """
    key = reference_key(reference)
    if not key:
        remedy = phrase("Give it letters or figures, such as G-02-B1.")
        raise EntryFault(
            "An outlet needs a reference",
            phrase("'{reference}' has no letter or figure.", reference=reference),
            remedy,
        )
    return key


def reference_is_taken(reference: str, taken: str) -> EntryFault:
    """The fault of a reference that differs from another by no letter or figure."""
    remedy = phrase("Choose another one; case, spaces and punctuation make no difference.")
    return EntryFault(
        "That reference is taken",
        phrase("'{reference}' is the same as '{taken}'.", reference=reference, taken=taken),
        remedy,
    )


def check_pipe(pipe_m: float | None) -> None:
    """Refuse what is no length, m.

    Raises:
        EntryFault: it is below 0 or not finite.
    """
    if pipe_m is not None and not (isfinite(pipe_m) and pipe_m >= 0):
        raise EntryFault(
            "That is not a length",
            phrase("blended pipe {pipe_m} m.", pipe_m=pipe_m),
            "Give metres, 0 or more.",
        )


def plain_fields(fields: Mapping[str, object]) -> dict[str, object]:
    """Fields of an outlet as their columns hold them."""
    return {key: value.value if isinstance(value, StrEnum) else value for key, value in fields.items()}


def amend_outlet(tx: Transaction, outlet_id: int, **fields: Unpack[OutletFields]) -> None:
    """Change fields of an outlet.

    Raises:
        EntryFault: the pipe's length is not a length.
    """
    check_pipe(fields.get("pipe_m"))
    tx.amend(OutletRow, outlet_id, **plain_fields(fields))
    tx.touch(outlets=[outlet_id], rules="rule_set" in fields)


def move_outlet(tx: Transaction, outlet_id: int, room_id: int) -> None:
    """Move an outlet to another room; the position of its valve moves along where it lies in the same room.

    Args:
        room_id: of the room, see `ensure_room`. The other outlets of the position that lie in the old
            room are to be moved as well.
    """
    query = (
        select(OutletRow.room_id, PositionRow.id, PositionRow.room_id)
        .join(PositionRow, PositionRow.id == OutletRow.position_id)
        .where(OutletRow.id == outlet_id)
    )
    old_room_id, position_id, position_room_id = tx.session.execute(query).one()
    amend_outlet(tx, outlet_id, room_id=room_id)
    if position_room_id == old_room_id:
        tx.amend(PositionRow, position_id, room_id=room_id)


def choose_building_rules(tx: Transaction, building_id: int, rule_set: str | None) -> None:
    """Choose the rule set of a building; None takes the estate's."""
    tx.amend(BuildingRow, building_id, rule_set=rule_set)
    tx.touch(rules=True)
