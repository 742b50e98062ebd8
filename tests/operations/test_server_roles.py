"""What each role can't do, tried by raw SQL on every table; the statements are made from the tables."""

from collections.abc import Iterator, Mapping
from typing import Any

import pytest
from sqlalchemy import Connection, Executable, Table, delete, insert, text, update
from sqlalchemy.exc import DBAPIError

from estate.domain.roles import Role
from estate.store.row_policies import RECORDABLE
from estate.store.schema import EVIDENCE
from tests.operations.team import (
    EVERY_TABLE,
    LEDGER,
    MINE,
    OTHERS,
    REFUSED,
    Team,
    add_rows,
    ids_at,
    row_of,
    team,
)

NAMED = {each.name: each for each in EVERY_TABLE}
RULES = frozenset({"rule_override", "account"})


@pytest.fixture(scope="module")
def our_team(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Team]:
    with team(tmp_path_factory.mktemp("team")) as made:
        yield made


def with_key(connection: Connection, ids: dict[str, int]) -> dict[str, int]:
    key = NAMED["person_key"]
    ids["person_key"] = connection.execute(insert(key).returning(key.c.id), row_of(key, ids)).scalar_one()
    return ids


@pytest.fixture(scope="module")
def others(our_team: Team) -> dict[str, int]:
    """Ids of rows of the other building, one in every table that a recorder may add to."""
    with our_team.connected() as connection:
        ids = with_key(connection, ids_at(our_team.register, OTHERS))
        add_rows(connection, ids)
        connection.commit()
    return ids


def sqlstate(connection: Connection, statement: Executable, values: Mapping[str, Any] | None = None) -> str:
    """How the server answers; nothing of it is kept."""
    try:
        connection.execute(statement, dict(values or {}))
    except DBAPIError as error:
        return str(getattr(error.orig, "sqlstate", ""))
    finally:
        connection.rollback()
    return "done"


def changes_of(table: Table) -> Iterator[Executable]:
    """Every way to change or take away what a table holds, or what guards it."""
    for column in table.columns:
        yield update(table).values({column.name: table.c[column.name]})
    yield delete(table)
    for words in (
        "TRUNCATE {}",
        "DROP TABLE {}",
        "ALTER TABLE {} ADD COLUMN more TEXT",
        "ALTER TABLE {} DISABLE TRIGGER ALL",
        "ALTER TABLE {} DISABLE ROW LEVEL SECURITY",
        "CREATE POLICY mine ON {} USING (true)",
        "LOCK TABLE {} IN EXCLUSIVE MODE",
        "CREATE RULE mine AS ON INSERT TO {} DO INSTEAD NOTHING",
    ):
        yield text(words.format(table.name))
    yield text(f"SELECT setval('{table.name}_id_seq', 1)")


@pytest.mark.parametrize("table", EVERY_TABLE, ids=lambda each: each.name)
def test_that_no_write_of_the_auditor_succeeds(our_team: Team, others: dict[str, int], table: Table) -> None:
    with our_team.connected(Role.READER) as connection:
        answers = {str(each): sqlstate(connection, each) for each in changes_of(table)}
        answers["insert"] = sqlstate(connection, insert(table), row_of(table, others))
    assert {each: found for each, found in answers.items() if found != REFUSED} == {}


def test_that_the_auditor_makes_nothing_and_becomes_nobody_else(our_team: Team) -> None:
    with our_team.connected(Role.READER) as connection:
        for words in (
            f"CREATE TABLE {our_team.name}.mine (id INT)",
            f"CREATE FUNCTION {our_team.name}.mine() RETURNS INT LANGUAGE sql AS 'SELECT 1'",
            f"DROP SCHEMA {our_team.name} CASCADE",
            "DROP FUNCTION refuse_change_of_evidence() CASCADE",
            "UPDATE alembic_version SET version_num = '9999'",
            "SET session_replication_role = replica",
            f'SET ROLE "estate {our_team.name} keeper"',
            f'GRANT "estate {our_team.name} keeper" TO "{our_team.login(Role.READER)}"',
            f'ALTER ROLE "{our_team.login(Role.READER)}" SUPERUSER',
        ):
            assert (words, sqlstate(connection, text(words))) == (words, REFUSED)


@pytest.mark.parametrize("table", EVERY_TABLE, ids=lambda each: each.name)
def test_that_the_auditor_hands_no_right_on(our_team: Team, table: Table) -> None:
    right = text("SELECT has_table_privilege(:login, :name, 'INSERT, UPDATE, DELETE, TRUNCATE, TRIGGER')")
    with our_team.connected(Role.READER) as connection:
        connection.execute(text(f"GRANT ALL ON {table.name} TO PUBLIC"))  # the server only warns
        held = {"login": our_team.login(Role.READER), "name": table.name}
        assert connection.execute(right, held).scalar_one() is False


def test_that_the_auditor_reads_every_table(our_team: Team, others: dict[str, int]) -> None:
    with our_team.connected() as owner, our_team.connected(Role.READER) as connection:
        for table in EVERY_TABLE:
            query = text(f"SELECT count(*) FROM {table.name}")
            seen = connection.execute(query).scalar_one()
            assert (table.name, seen) == (table.name, owner.execute(query).scalar_one())


@pytest.mark.parametrize("table", EVERY_TABLE, ids=lambda each: each.name)
def test_that_no_write_of_a_recorder_outside_their_buildings_succeeds(
    our_team: Team, others: dict[str, int], table: Table
) -> None:
    values = row_of(table, others)
    if table.name == "batch":
        values["follows"] = others["batch"]
    with our_team.connected(Role.RECORDER) as connection:
        changes = [each for each in changes_of(table) if "setval" not in str(each)]
        answers = {str(each): sqlstate(connection, each) for each in changes}
        answers["insert"] = sqlstate(connection, insert(table), values)
    assert {each: found for each, found in answers.items() if found != REFUSED} == {}


def test_that_a_recorder_adds_to_every_table_of_records_in_their_buildings(our_team: Team) -> None:
    with our_team.connected() as owner, our_team.connected(Role.RECORDER) as connection:
        ids = with_key(owner, ids_at(our_team.register, MINE))
        owner.commit()
        add_rows(connection, ids)
        connection.rollback()
    assert set(RECORDABLE) <= set(ids)


def test_that_a_recorder_does_not_teach_the_words_of_others_anew(
    our_team: Team, others: dict[str, int]
) -> None:
    mine = row_of(NAMED["alias"], ids_at(our_team.register, MINE))
    theirs = row_of(NAMED["alias"], others)
    with our_team.connected(Role.RECORDER) as connection:
        assert sqlstate(connection, insert(NAMED["alias"]), mine) == "done"
        taken = mine | {"words_key": theirs["words_key"]}
        assert sqlstate(connection, insert(NAMED["alias"]), taken) == REFUSED


MIXED = ("outlet", "valve", "visit", "batch", "attempt", "judgement")


@pytest.mark.parametrize("swapped", MIXED)
def test_that_no_row_joins_a_recorders_building_with_another(
    our_team: Team, others: dict[str, int], swapped: str
) -> None:
    with our_team.connected() as owner:
        ids = with_key(owner, ids_at(our_team.register, MINE))
        owner.commit()
    mixed = {**others, **ids_at(our_team.register, MINE), **{swapped: others[swapped]}}
    touched = [
        NAMED[name]
        for name in sorted(RECORDABLE)
        if any(key.column.table.name == swapped for key in NAMED[name].foreign_keys)
        and not (swapped == "batch" and name == "batch")
    ]
    assert ids
    assert touched
    with our_team.connected(Role.RECORDER) as connection:
        for table in touched:
            values = row_of(table, mixed)
            own = [
                key.parent.name
                for key in table.foreign_keys
                if key.column.table is table and swapped == table.name
            ]
            values |= dict.fromkeys(own, others[swapped])
            found = sqlstate(connection, insert(table), values)
            assert (table.name, found) == (table.name, REFUSED)


@pytest.mark.parametrize("noun", sorted(NAMED))
@pytest.mark.parametrize("action", ["added", "added many", "amended", "removed", "stood", "trail begins"])
def test_that_a_recorder_tells_the_ledger_of_nothing_of_others(
    our_team: Team, others: dict[str, int], noun: str, action: str
) -> None:
    row_id = others.get(noun, 1)
    told = {"noun": noun, "row_id": row_id, "action": action, "after": "{}"}
    if action == "added many":
        told |= {"row_id": None, "after": f'{{"first_id": {row_id}, "last_id": {row_id}}}'}
    with our_team.connected(Role.RECORDER) as connection:
        values = row_of(LEDGER, others) | told | {"id": 2_000_000}
        assert sqlstate(connection, insert(LEDGER), values) == REFUSED


@pytest.mark.parametrize("shadowed", ["account", "outlet", "room", "level", "visit"])
def test_that_a_temporary_table_does_not_stand_in_for_a_real_one(
    our_team: Team, others: dict[str, int], shadowed: str
) -> None:
    with our_team.connected(Role.RECORDER) as connection:
        connection.execute(
            text(f"CREATE TEMPORARY TABLE {shadowed} AS SELECT * FROM {our_team.name}.{shadowed}")
        )
        if shadowed == "account":
            connection.execute(text("UPDATE account SET building_id = NULL"))
        connection.commit()
        table = NAMED["attempt"]
        values = row_of(table, others) | {"batch_id": None}
        assert sqlstate(connection, insert(table), values) == REFUSED


@pytest.mark.parametrize("table", EVERY_TABLE, ids=lambda each: each.name)
def test_that_an_officer_changes_neither_evidence_nor_rules(
    our_team: Team, others: dict[str, int], table: Table
) -> None:
    with our_team.connected(Role.OFFICER) as connection:
        if table.name in EVIDENCE | RULES:
            for each in (update(table).values(id=table.c.id), delete(table)):
                assert sqlstate(connection, each) == REFUSED
        if table.name in RULES:
            assert sqlstate(connection, insert(table), row_of(table, others)) == REFUSED
        if "rule_set" in table.c and table.name not in EVIDENCE:
            assert sqlstate(connection, update(table).values(rule_set="x")) == REFUSED


@pytest.mark.parametrize("name", ["building", "outlet"])
def test_that_an_officer_adds_no_place_with_rules_of_its_own(our_team: Team, name: str) -> None:
    values = row_of(NAMED[name], ids_at(our_team.register, MINE)) | {
        "name_key": "new",
        "reference_key": "new",
    }
    values = {key: value for key, value in values.items() if key in NAMED[name].c}
    with our_team.connected(Role.OFFICER) as connection:
        assert sqlstate(connection, insert(NAMED[name]), values | {"rule_set": "x"}) == REFUSED
        assert sqlstate(connection, insert(NAMED[name]), values) == "done"


def test_that_a_keeper_changes_rules_but_no_evidence(our_team: Team, others: dict[str, int]) -> None:
    with our_team.connected(Role.KEEPER) as connection:
        values = row_of(NAMED["rule_override"], others)
        assert sqlstate(connection, insert(NAMED["rule_override"]), values | {"number_value": 1.0}) == "done"
        for name in EVIDENCE:
            assert sqlstate(connection, delete(NAMED[name])) == REFUSED
