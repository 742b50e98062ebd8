"""A register on the test server with a login of each role; raw rows of one building or another."""

import os
import uuid
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime
from hashlib import sha256
from pathlib import Path
from typing import Any

from sqlalchemy import Connection, Table, create_engine, insert, make_url, text

from estate.domain.roles import Role
from estate.operations.make_roles import add_account, make_roles
from estate.operations.open_register import new_register, open_register
from estate.operations.register import Register
from estate.store import places, valves
from estate.store.raw_rows import tables
from estate.store.row_policies import RECORDABLE
from estate.store.schema import LedgerEntryRow
from tests.operations.conftest import ASSETS, NOW, VISITS, WHO, bring
from tests.postgresql import VARIABLE

REFUSED = "42501"
MINE, OTHERS = "WE/G/G01/WHB1", "MM/G/G01/WHB1"
LEDGER = LedgerEntryRow.metadata.tables["ledger_entry"]
EVERY_TABLE = (*tables(), LEDGER)


@contextmanager
def own_schema(name: str) -> Iterator[str]:
    """A schema of its own on the server; its address."""
    server = make_url(os.environ[VARIABLE])
    engine = create_engine(server, pool_pre_ping=True)
    with engine.begin() as connection:
        connection.execute(text(f"CREATE SCHEMA {name}"))
    own = server.update_query_dict({"options": f"-csearch_path={name}", "application_name": name})
    yield own.render_as_string(hide_password=False)
    with engine.begin() as connection:
        connection.execute(text(f"DROP SCHEMA {name} CASCADE"))
        found = connection.execute(
            text("SELECT rolname FROM pg_roles WHERE rolname LIKE :name"), {"name": f"%{name}%"}
        )
        for role in found.scalars().all():
            connection.exec_driver_sql(f'DROP ROLE "{role}"')
    engine.dispose()


@dataclass(frozen=True)
class Team:
    """A register, its address, and the address of each role's login; the recorder keeps to Withy End."""

    register: Register
    address: str
    name: str

    def login(self, role: Role) -> str:
        return f"{self.name} {role.value} login"

    def address_of(self, role: Role) -> str:
        url = make_url(self.address).set(username=self.login(role))
        return url.render_as_string(hide_password=False)

    def opened(self, role: Role) -> Register:
        return open_register(self.address_of(role))

    @contextmanager
    def connected(self, role: Role | None = None) -> Iterator[Connection]:
        engine = create_engine(self.address if role is None else self.address_of(role))
        try:
            with engine.connect() as connection:
                yield connection
        finally:
            engine.dispose()


@contextmanager
def team(folder: Path) -> Iterator[Team]:
    """The small register on the server, with its roles made."""
    name = f"t{uuid.uuid4().hex}"
    with own_schema(name) as address:
        register = new_register(address, "Marlpit Cross", at=NOW, who=WHO, identifier=name)
        bring(register, folder, ASSETS, "assets.csv")
        bring(register, folder, VISITS, "visits.csv")
        make_roles(register, who=WHO, at=NOW)
        made = Team(register, address, name)
        for role in (Role.READER, Role.RECORDER, Role.OFFICER, Role.KEEPER):
            building_id = ids_at(register, MINE)["building"] if role is Role.RECORDER else None
            add_account(register, made.login(role), role, building_id, who=WHO, at=NOW)
        try:
            yield made
        finally:
            register.close()


def ids_at(register: Register, reference: str) -> dict[str, int]:
    """Ids of an outlet, its valve, and what they lie in, by table."""
    with register.database.reading() as session:
        outlet = places.outlet_by_reference(session, reference)
        assert outlet is not None
        room_id = places.room_of_outlet(session)[outlet.id]
        fitting = next(each for each in valves.fittings(session) if each.position_id == outlet.position_id)
        room = next(each for each in places.rooms(session) if each.room_id == room_id)
    ids = {"outlet": outlet.id, "valve": fitting.valve_id, "position": outlet.position_id}
    return ids | {"room": room.room_id, "level": room.level_id, "building": room.building_id, "site": 1}


_SAMPLES: Mapping[type, Any] = {
    str: "x",
    float: 1.0,
    bool: True,
    bytes: b"x",
    int: 1,
    date: date(2026, 11, 24),
    object: datetime(2026, 11, 24, tzinfo=UTC),
}


def row_of(table: Table, ids: Mapping[str, int]) -> dict[str, Any]:
    """Values for a row of a table that hangs on the rows of `ids`; made from the table's columns."""
    values: dict[str, Any] = {}
    for column in table.columns:
        referred = [key.column.table.name for key in column.foreign_keys]
        if column.name == "id":
            continue
        if column.name in ("sha256", "content"):
            values[column.name] = _bytes_of(ids)[column.name]
        elif referred:
            values[column.name] = None if referred == [table.name] else ids.get(referred[0])
        else:
            values[column.name] = None if column.nullable else _SAMPLES[column.type.python_type]
    if "row_id" in values:
        values |= {"noun": "visit", "row_id": ids.get("visit")}
    if table.name == "document":
        values |= {"noun": "outlet", "row_id": ids["outlet"]}
    if table.name in ("signature", "ledger_entry", "account"):
        told = {"role": "signed", "action": "added", "after": "{}"}
        values |= {key: value for key, value in told.items() if key in values}
    if table.name == "alias":
        values["words_key"] = f"outlet {ids['outlet']}"
    if table.name == "ledger_entry":
        values["id"] = 1_000_000 + ids.get("outlet", 0)
    return values


def _bytes_of(ids: Mapping[str, int]) -> dict[str, Any]:
    content = f"outlet {ids['outlet']}".encode()
    return {"content": content, "sha256": sha256(content).hexdigest()}


def add_rows(connection: Connection, ids: dict[str, int]) -> None:
    """A row in every table that a recorder may add to, each hanging on the one before."""
    for table in sorted(
        EVERY_TABLE,
        key=lambda each: (
            each.name in ("batch_undo", "signature", "ledger_entry"),
            each.name == "document_content",  # allowed by the document that has the bytes
        ),
    ):
        if table.name in RECORDABLE:
            added = connection.execute(insert(table).returning(table.c.id), row_of(table, ids))
            ids[table.name] = added.scalar_one()
