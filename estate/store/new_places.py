"""Places, valves and outlets by the thousand, as the asset list of a whole estate brings them.

What would otherwise be looked up for each row is read once, and the rows are written table by table.
"""

from dataclasses import fields
from datetime import date
from typing import Any, Final

from sqlalchemy import select
from sqlalchemy.orm import Session

from estate.domain.places import Use, UserGroup
from estate.domain.references import reference_key
from estate.domain.valves import Valve
from estate.store.columns import Row
from estate.store.places import check_pipe, key_of, must_be_level, reference_is_taken
from estate.store.records import valve_values
from estate.store.schema import (
    BuildingRow,
    FittingRow,
    LevelRow,
    OutletRow,
    PositionRow,
    RoomRow,
    SiteRow,
    ValveRow,
)
from estate.store.transaction import NewRow, Transaction
from estate.store.valves import check_figures

_NAMED: Final[dict[type[Row], tuple[str, ...]]] = {
    SiteRow: ("name_key",),
    BuildingRow: ("site_id", "name_key"),
    LevelRow: ("building_id", "name_key"),
    RoomRow: ("level_id", "number_key", "name_key"),
}
"""The columns that tell a place from the others of its kind."""


class NewPlaces:
    """Adds to the places of a register.

    Args:
        tx: the transaction; nothing else adds places or valves to it until `write` was called.
    """

    def __init__(self, tx: Transaction) -> None:
        self._tx = tx
        self._rows: list[NewRow] = []
        self._known = {kind: _ids(tx.session, kind, names) for kind, names in _NAMED.items()}
        levels = select(LevelRow.building_id, LevelRow.name_key, LevelRow.name)
        self._levels = {(row.building_id, row.name_key): row.name for row in tx.session.execute(levels)}
        query = select(OutletRow.reference_key, OutletRow.reference)
        self._references = {row.reference_key: row.reference for row in tx.session.execute(query)}

    def room(self, site: str, building: str, level: str, room_number: str, room: str) -> int:
        """The room of these names, made with everything above it where missing; see `places.ensure_room`.

        Raises:
            EntryFault: the level would be taken for another one.
        """
        names = [each.strip() for each in (site, building, level, room_number, room)]
        keys = [reference_key(each) for each in names]
        site_id = self._ensure(SiteRow, name=names[0], name_key=keys[0])
        building_id = self._ensure(BuildingRow, site_id=site_id, name=names[1], name_key=keys[1])
        must_be_level(names[2], self._levels.setdefault((building_id, keys[2]), names[2]))
        level_id = self._ensure(LevelRow, building_id=building_id, name=names[2], name_key=keys[2])
        number = {"number": names[3], "number_key": keys[3]}
        return self._ensure(RoomRow, level_id=level_id, **number, name=names[4], name_key=keys[4])

    def position(self, room_id: int, words: str) -> int:
        """A mounting place for a valve body in a room."""
        return self._add(PositionRow, room_id=room_id, words=words.strip())

    def fitted_valve(self, valve: Valve, position_id: int, on: date | None) -> int:
        """A valve body at a new position; its own id is not used.

        Raises:
            EntryFault: a figure is not a figure.
        """
        values = valve_values({each.name: getattr(valve, each.name) for each in fields(valve)})
        check_figures(values)
        valve_id = self._add(ValveRow, **values)
        self._add(FittingRow, valve_id=valve_id, position_id=position_id, fitted_on=on)
        self._tx.touch(valves=[valve_id])
        return valve_id

    def outlet(
        self,
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
        """An outlet; see `places.add_outlet`.

        Raises:
            EntryFault: the reference is empty or taken, or the pipe's length is not a length.
        """
        key = key_of(reference)
        if key in self._references:
            raise reference_is_taken(reference, self._references[key])
        self._references[key] = reference.strip()
        check_pipe(pipe_m)
        outlet_id = self._add(
            OutletRow,
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
        self._tx.touch(outlets=[outlet_id])
        return outlet_id

    def write(self) -> None:
        """Write what was added, with an entry of the ledger for each in the order in which it was added."""
        self._tx.insert_numbered(self._rows)
        self._rows = []

    def _ensure(self, kind: type[Row], **values: Any) -> int:
        known, key = self._known[kind], tuple(values[name] for name in _NAMED[kind])
        if key not in known:
            known[key] = self._add(kind, **values)
        return known[key]

    def _add(self, kind: type[Row], **values: Any) -> int:
        row_id = self._tx.number(kind)
        self._rows.append(NewRow(kind, row_id, values))
        return row_id


def _ids(session: Session, kind: type[Row], names: tuple[str, ...]) -> dict[tuple[Any, ...], int]:
    columns = kind.__table__.c
    query = select(columns["id"], *(columns[name] for name in names))
    return {tuple(key): row_id for row_id, *key in session.execute(query)}
