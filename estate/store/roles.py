"""The groups of a register on PostgreSQL, what each is granted, and which of them a login is in."""

from collections.abc import Iterator, Mapping
from typing import Final

from sqlalchemy import Connection, Table, select, text
from sqlalchemy.orm import Session

from estate.domain.phrases import phrase
from estate.domain.roles import Role
from estate.errors import EntryFault, RegisterFault
from estate.store.raw_rows import tables
from estate.store.row_policies import RECORDABLE, functions, policies
from estate.store.schema import EVIDENCE, LedgerEntryRow, RegisterRow
from estate.store.transaction import Transaction
from estate.store.trust_schema import AccountRow

GROUPS: Final = (Role.READER, Role.RECORDER, Role.OFFICER, Role.KEEPER)
KEPT_BY_KEEPERS: Final = frozenset({"rule_override", "account"})
_LONGEST_NAME = 63


def is_server(session: Session) -> bool:
    """Whether the register lies on a server, where there are accounts at all."""
    return session.connection().dialect.name == "postgresql"


def group_names(session: Session) -> dict[Role, str]:
    """The groups of this register: of another on the same server they are others."""
    identifier = session.execute(select(RegisterRow.identifier)).scalar_one()
    return {role: f"estate {identifier} {role.value}" for role in GROUPS}


def role_of_login(session: Session) -> Role:
    """What the login of the connection may do."""
    if not is_server(session):
        return Role.OWNER
    connection = session.connection()
    query = (
        "SELECT rolsuper OR pg_has_role(session_user, relowner, 'MEMBER') FROM pg_class, pg_roles "
        "WHERE pg_class.oid = 'register'::regclass AND rolname = session_user"
    )
    if connection.execute(text(query)).scalar_one():
        return Role.OWNER
    names = group_names(session)
    member = text(
        "SELECT count(*) FROM pg_roles WHERE rolname = :name AND pg_has_role(session_user, oid, 'MEMBER')"
    )
    for role in reversed(GROUPS):
        if connection.execute(member, {"name": names[role]}).scalar_one():
            return role
    return Role.READER


def make_groups(tx: Transaction) -> None:
    """Make the groups, grant them what they may, and put the row policies in place; again, where they are."""
    connection = tx.session.connection()
    quote = connection.dialect.identifier_preparer.quote_identifier
    names = group_names(tx.session)
    for name in names.values():
        if len(name.encode()) > _LONGEST_NAME:
            detail = phrase('"{name}" is longer than the server takes.', name=name)
            raise RegisterFault("The groups can't be named", detail, "Give the register a short identifier.")
        if not _is_there(connection, name):
            connection.exec_driver_sql(f"CREATE ROLE {quote(name)} NOLOGIN")
    _grant(connection, names)
    name = tx.session.execute(select(RegisterRow.name)).scalar_one()
    tx.amend(RegisterRow, 1, name=name)  # so that the ledger tells of it


def renew_groups(session: Session) -> None:
    """Grant the groups what they may, where they were made: an upgrade may bring tables that they lack."""
    if not is_server(session):
        return
    connection, names = session.connection(), group_names(session)
    if all(_is_there(connection, name) for name in names.values()):
        _grant(connection, names)


def _grant(connection: Connection, names: Mapping[Role, str]) -> None:
    quote = connection.dialect.identifier_preparer.quote_identifier
    schema = quote(str(connection.execute(text("SELECT current_schema()")).scalar_one()))
    groups = {role.value: quote(name) for role, name in names.items()}
    for statement in (*functions(schema), *_grants(schema, groups), *policies(groups)):
        connection.exec_driver_sql(statement)


def _is_there(connection: Connection, name: str) -> bool:
    found = connection.execute(text("SELECT count(*) FROM pg_roles WHERE rolname = :name"), {"name": name})
    return bool(found.scalar_one())


def _every_table() -> tuple[Table, ...]:
    return (*tables(), LedgerEntryRow.metadata.tables["ledger_entry"])


def _grants(schema: str, groups: Mapping[str, str]) -> Iterator[str]:
    everyone = ", ".join(groups.values())
    for each in ("PUBLIC", everyone):
        yield f"REVOKE ALL ON ALL TABLES IN SCHEMA {schema} FROM {each}"
        yield f"REVOKE ALL ON ALL SEQUENCES IN SCHEMA {schema} FROM {each}"
    yield f"REVOKE CREATE ON SCHEMA {schema} FROM PUBLIC, {everyone}"
    yield f"GRANT USAGE ON SCHEMA {schema} TO {everyone}"
    yield f"GRANT SELECT ON ALL TABLES IN SCHEMA {schema} TO {everyone}"
    for name in RECORDABLE:
        yield from _may_add(name, groups["recorder"])
    for table in _every_table():
        if table.name not in KEPT_BY_KEEPERS:
            yield from _may_add(table.name, groups["officer"])
        yield from _may_add(table.name, groups["keeper"])
        if table.name not in EVIDENCE:
            yield from _may_change(table, groups)


def _may_add(table: str, group: str) -> Iterator[str]:
    yield f"GRANT INSERT ON {table} TO {group}"
    if table != "ledger_entry":  # whose numbers the program gives
        yield f"GRANT USAGE, UPDATE ON SEQUENCE {table}_id_seq TO {group}"


def _may_change(table: Table, groups: Mapping[str, str]) -> Iterator[str]:
    columns = [name for name in table.columns.keys() if name != "id"]  # noqa: SIM118 - a column collection
    yield f"GRANT UPDATE ({', '.join(columns)}) ON {table.name} TO {groups['keeper']}"
    if table.name not in KEPT_BY_KEEPERS:
        plain = ", ".join(name for name in columns if name != "rule_set")
        yield f"GRANT UPDATE ({plain}) ON {table.name} TO {groups['officer']}"
        if table.name != "register":
            yield f"GRANT DELETE ON {table.name} TO {groups['officer']}, {groups['keeper']}"


def add_login(tx: Transaction, name: str, role: Role, building_id: int | None) -> None:
    """Make a login, put it into the group of its role, and note it; without a password.

    Raises:
        EntryFault: the login has another role already.
    """
    connection = tx.session.connection()
    held = tx.session.execute(select(AccountRow.role).where(AccountRow.name == name)).scalars().all()
    others = sorted(set(held) - {role.value})
    if others:
        remedy = phrase("Withdraw that one first.")
        raise EntryFault(
            "The account has another role",
            phrase("{name} is {others}.", name=name, others=", ".join(others)),
            remedy,
        )
    quote = connection.dialect.identifier_preparer.quote_identifier
    group = group_names(tx.session)[role]
    if not _is_there(connection, group):
        raise EntryFault(
            "The roles are not made",
            phrase('There is no group "{group}".', group=group),
            "Make the roles first.",
        )
    if not _is_there(connection, name):
        connection.exec_driver_sql(f"CREATE ROLE {quote(name)} LOGIN")
    connection.exec_driver_sql(f"GRANT {quote(group)} TO {quote(name)}")
    tx.insert(AccountRow(name=name, role=role.value, building_id=building_id, at=tx.at, who=tx.who))


def withdraw_login(tx: Transaction, name: str) -> None:
    """Take a login out of the register's groups; the login itself stays with the server."""
    connection = tx.session.connection()
    quote = connection.dialect.identifier_preparer.quote_identifier
    groups = group_names(tx.session)
    rows = tx.session.execute(select(AccountRow.id, AccountRow.role).where(AccountRow.name == name)).all()
    if not rows:
        raise EntryFault("No such account", phrase("{name} has none here.", name=name), "Check the name.")
    for row_id, role in rows:
        connection.exec_driver_sql(f"REVOKE {quote(groups[Role(role)])} FROM {quote(name)}")
        tx.remove(AccountRow, row_id)
