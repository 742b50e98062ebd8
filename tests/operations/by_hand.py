"""Changes by hand as tests make them, and every row of places and valves to compare before and after."""

from typing import Any

from sqlalchemy import select

from estate.domain.browsing import PlaceKind
from estate.domain.changes import ChangeSet
from estate.domain.editing import Edited, OutletDraft, Place, PlaceNames
from estate.domain.places import Use, UserGroup
from estate.domain.valves import Valve
from estate.operations import browse
from estate.operations.add_outlet import add_outlet
from estate.operations.add_place import add_place
from estate.operations.register import Register
from estate.operations.take_back_edit import take_back_edit
from estate.operations.verify_register import verify
from estate.store import places
from estate.store.columns import Row
from estate.store.schema import REMOVABLE
from tests.operations.conftest import NOW, WHO

Rows = dict[str, dict[int, dict[str, Any]]]
BODY = Valve(0, "Make C", "C3", "C-9", set_c=41.0)
DRAFT = OutletDraft("MM/G/G01/WHB2", "Basin by the door", Use.BASIN, UserGroup.PATIENTS)


def rows(register: Register) -> Rows:
    """Every row of places and valves by table and number, without their versions."""
    tables = [table for table in Row.metadata.sorted_tables if table.name in REMOVABLE]
    with register.database.reading() as session:
        found = {table.name: session.execute(select(table).order_by(table.c.id)).all() for table in tables}
    return {
        name: {
            row.id: {key: value for key, value in row._asdict().items() if key != "row_version"}
            for row in told
        }
        for name, told in found.items()
    }


def place(register: Register, *names: str) -> Place:
    """A place by the names that lead to it; a room by its number, an outlet by its reference."""
    if len(names) == 1 and "/" in names[0]:
        return PlaceKind.OUTLET, browse.find_outlet(register, names[0]).id
    with register.database.reading() as session:
        for each in places.rooms(session):
            told = (each.site, each.building, each.level, each.room_number)
            if told[: len(names)] == names:
                ids = (each.site_id, each.building_id, each.level_id, each.room_id)
                return list(PlaceKind)[len(names) - 1], ids[len(names) - 1]
    raise AssertionError(f"no place {names}")


def outlet_id(register: Register, reference: str = "MM/G/G01/WHB1") -> int:
    """The number of an outlet."""
    return browse.find_outlet(register, reference).id


def added(register: Register, above: Place | None, name: str, number: str = "") -> Edited:
    """A place that is added."""
    return add_place(register, above, PlaceNames(name, number), who=WHO, at=NOW)


def with_outlet(register: Register, room: Place, draft: OutletDraft = DRAFT) -> Edited:
    """An outlet that is added."""
    return add_outlet(register, room[1], draft, who=WHO, at=NOW)


def back(register: Register, edited: Edited, why: str = "") -> ChangeSet:
    """A change that is taken back."""
    return take_back_edit(register, edited.written, who=WHO, at=NOW, why=why)


def sound(register: Register) -> bool:
    """Whether every row is as the trail tells it."""
    return verify(register).fits
