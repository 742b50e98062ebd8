"""The migrations make the tables that the program works with, and take an older register along."""

import os
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest
from alembic.autogenerate import compare_metadata
from alembic.config import Config
from alembic.migration import MigrationContext
from alembic.script import ScriptDirectory
from sqlalchemy import Engine, MetaData, create_engine, inspect

import estate.store.batch_schema
import estate.store.visit_schema
from estate.assets import migrations
from estate.errors import RegisterFault
from estate.operations.register import Register
from estate.operations.verify_register import verify
from estate.store import identity, places
from estate.store.columns import Row
from estate.store.database import Database
from estate.store.schema import EVIDENCE
from estate.store.transaction import writing
from estate.store.upgrade import create, known_revisions, newest_revision, open_existing
from tests.store.builders import NOW, add_basin
from tests.store.conftest import address, database, lies_in, made_empty

__all__ = ["address", "database", "lies_in", "made_empty"]

NEXT = """
import sqlalchemy as sa
from alembic import op

revision = "{revision}"
down_revision = "{newest}"
branch_labels = None
depends_on = None


def upgrade() -> None:
    with op.batch_alter_table("room") as table:
        table.add_column(sa.Column("beds", sa.Integer(), nullable=True))
        table.create_check_constraint("ck_room_beds_not_negative", "beds >= 0")
{then}
"""


LATER = f"{int(newest_revision()) + 1:04}"
OLD = Path(__file__).parent / "data" / "registers" / "0001.sql"


@pytest.fixture
def engine(database: Database) -> Iterator[Engine]:
    """An engine of the test's own on a register that the migrations made."""
    own = create_engine(database.url)
    yield own
    own.dispose()


def _later(tmp_path: Path, then: str = "") -> Path:
    """The program's migrations with one more, as a later program would have."""
    folder = tmp_path / "later"
    shutil.copytree(migrations(), folder, ignore=shutil.ignore_patterns("__pycache__"))
    text = NEXT.format(revision=LATER, newest=newest_revision(), then=then)
    (folder / "versions" / f"{LATER}_beds.py").write_text(text)
    return folder


def test_that_the_migrations_make_the_tables_the_program_works_with(engine: Engine) -> None:
    assert estate.store.visit_schema.VisitRow.metadata is Row.metadata
    assert estate.store.batch_schema.BatchRow.metadata is Row.metadata
    with engine.connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        assert compare_metadata(context, Row.metadata) == []


def _constraints(engine: Engine) -> dict[str, dict[str, set[Any]]]:
    told = inspect(engine)
    found: dict[str, dict[str, set[Any]]] = {}
    for table in told.get_table_names():
        if table == "alembic_version":
            continue
        found[table] = {
            "primary key": {told.get_pk_constraint(table)["name"]},
            "foreign keys": {each["name"] for each in told.get_foreign_keys(table)},
            "unique": {each["name"] for each in told.get_unique_constraints(table)},
            "checks": {each["name"] for each in told.get_check_constraints(table)},
            "indexes": {
                (each["name"], tuple(each["column_names"]), bool(each["unique"]))
                for each in told.get_indexes(table)
                if not each.get("duplicates_constraint")
            },
        }
    return found


def test_that_every_constraint_bears_the_name_the_program_knows_it_by(
    engine: Engine, address: str, tmp_path: Path
) -> None:
    migrated = _constraints(engine)
    other = create_engine(f"sqlite:///{tmp_path / 'other.db'}")
    metadata: MetaData = Row.metadata
    metadata.create_all(other)
    assert migrated == _constraints(other)
    other.dispose()
    names = [name for kinds in migrated.values() for group in kinds.values() for name in group]
    assert None not in names


def test_that_only_one_valve_can_be_in_place_at_a_position(engine: Engine) -> None:
    partial = {each["name"]: each for each in inspect(engine).get_indexes("fitting") if each["unique"]}
    assert set(partial) == {"uq_fitting_valve_in_place", "uq_fitting_position_in_place"}
    for each in partial.values():
        where = each["dialect_options"][f"{engine.dialect.name}_where"]
        assert "removed_on is null" in str(where).casefold()


def test_that_every_table_of_evidence_is_guarded(engine: Engine) -> None:
    queries = {
        "sqlite": "SELECT tbl_name FROM sqlite_master WHERE type = 'trigger'",
        "postgresql": "SELECT DISTINCT event_object_table FROM information_schema.triggers "
        "WHERE trigger_schema = current_schema()",
    }
    with engine.connect() as connection:
        guarded = connection.exec_driver_sql(queries[engine.dialect.name]).scalars().all()
    assert set(guarded) == EVIDENCE


def test_that_the_newest_revision_is_the_one_the_migrations_lead_to() -> None:
    config = Config()
    config.set_main_option("script_location", str(migrations()))
    scripts = ScriptDirectory.from_config(config)
    assert scripts.get_heads() == [newest_revision()]
    told = [script.revision for script in scripts.walk_revisions()]
    assert tuple(reversed(told)) == known_revisions()


def test_that_an_older_register_is_brought_up_to_date(address: str, tmp_path: Path) -> None:
    made = create(address, "Withy End", "we-1", NOW)
    with writing(made, "A. Officer", "added", NOW) as tx:
        basin = add_basin(tx)
    made.close()
    later = _later(tmp_path)
    opened = open_existing(address, scripts=later)
    with opened.reading() as session:
        assert identity.revision(session) == LATER
        assert session.connection().exec_driver_sql("SELECT beds FROM room").all() == [(None,)]
        assert places.outlet(session, basin.outlet_id).reference == "MX-G-01-B1"
    opened.close()
    open_existing(address, scripts=later).close()


def test_that_an_older_file_is_backed_up_once_before_it_is_upgraded(tmp_path: Path) -> None:
    path = tmp_path / "estate" / "register.db"
    path.parent.mkdir()
    create(path, "Withy End", "we-1", NOW).close()
    later = _later(tmp_path)
    for _ in range(2):
        open_existing(path, scripts=later).close()
    copies = list((path.parent / "register backups").iterdir())
    assert len(copies) == 1
    kept = open_existing(copies[0])
    with kept.reading() as session:
        assert identity.revision(session) == newest_revision()
    kept.close()


def test_that_a_register_upgraded_by_a_later_program_is_newer(address: str, tmp_path: Path) -> None:
    create(address, "Withy End", "we-1", NOW).close()
    open_existing(address, scripts=_later(tmp_path)).close()
    with pytest.raises(RegisterFault, match="newer than this program"):
        open_existing(address)


def test_that_an_upgrade_that_fails_changes_nothing(address: str, tmp_path: Path) -> None:
    create(address, "Withy End", "we-1", NOW).close()
    broken = _later(tmp_path, then="    raise RuntimeError('a defect')")
    with pytest.raises(RuntimeError, match="a defect"):
        open_existing(address, scripts=broken)
    opened = open_existing(address)
    with opened.reading() as session:
        assert identity.revision(session) == newest_revision()
        columns = {each["name"] for each in inspect(session.connection()).get_columns("room")}
    opened.close()
    assert "beds" not in columns


def test_that_an_upgrade_that_loses_rows_changes_nothing(tmp_path: Path) -> None:
    path = tmp_path / "register.db"
    made = create(path, "Withy End", "we-1", NOW)
    with writing(made, "A. Officer", "added", NOW) as tx:
        add_basin(tx)
    made.close()
    careless = _later(tmp_path, then="    op.execute('DELETE FROM room')")
    with pytest.raises(RegisterFault, match="rows lost their place"):
        open_existing(path, scripts=careless)
    opened = open_existing(path)
    with opened.reading() as session:
        assert len(places.rooms(session)) == 1
    opened.close()


@pytest.fixture
def old(tmp_path: Path) -> Path:
    """A register as the first program wrote it: the kept file, whose text `sqlite3` dumped."""
    path = tmp_path / "old.db"
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(OLD.read_text("utf-8"))
    return path


def _content(path: Path) -> dict[str, tuple[list[str], list[tuple[Any, ...]]]]:
    with closing(sqlite3.connect(path)) as connection:
        tables = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
        found = {}
        for (table,) in tables:
            rows = connection.execute(f"SELECT * FROM {table} ORDER BY 1")
            found[table] = ([each[0] for each in rows.description], rows.fetchall())
        return found


def test_that_a_kept_register_of_the_first_revision_keeps_every_row(old: Path) -> None:
    before = _content(old)
    assert len(before["visit"][1]) == 7
    assert len(before["batch"][1]) == 3
    open_existing(old).close()
    after = _content(old)
    for table, (columns, rows) in before.items():
        if table != "alembic_version":
            places_of = [after[table][0].index(column) for column in columns]
            kept = [tuple(row[place] for place in places_of) for row in after[table][1]]
            assert (table, kept[: len(rows)]) == (table, rows)
            assert table == "ledger_entry" or len(kept) == len(rows)
    assert after["alembic_version"][1] == [(newest_revision(),)]
    assert {row[-5:] for row in after["batch"][1]} == {("", "", "", "[]", None)}


def test_that_a_kept_register_of_the_first_revision_is_backed_up_first(old: Path) -> None:
    before = _content(old)
    open_existing(old).close()
    (copy,) = (old.parent / "old backups").iterdir()
    assert _content(copy) == before


def test_that_a_register_brought_up_to_date_is_like_a_new_one(old: Path, tmp_path: Path) -> None:
    open_existing(old).close()
    create(tmp_path / "new.db", "Withy End", "we-1", NOW).close()
    described = []
    for path in (old, tmp_path / "new.db"):
        with closing(sqlite3.connect(path)) as connection:
            described.append(dict(connection.execute("SELECT name, sql FROM sqlite_master").fetchall()))
    assert described[0] == described[1]


def test_that_a_register_brought_up_to_date_still_guards_its_evidence(old: Path) -> None:
    open_existing(old).close()
    with closing(sqlite3.connect(old)) as connection:
        for table in sorted(EVIDENCE):
            names = connection.execute(
                "SELECT name FROM sqlite_master WHERE type = 'trigger' AND tbl_name = ?", (table,)
            )
            assert {name for (name,) in names} == {
                f"{table}_no_{what}" for what in ("update", "delete", "replace")
            }
        with pytest.raises(sqlite3.IntegrityError, match="evidence is never changed or deleted: batch"):
            connection.execute("UPDATE batch SET file = 'other.csv'")


def _by_hand(checkout: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    line = [sys.executable, "-m", "alembic", *arguments]
    return subprocess.run(line, cwd=checkout, capture_output=True, text=True, check=False)


def test_that_the_migrations_run_by_hand(checkout: Path, tmp_path: Path) -> None:
    path = tmp_path / "register.db"
    done = _by_hand(checkout, "-x", f"register=sqlite:///{path}", "upgrade", "head")
    assert done.returncode == 0, done.stderr
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("SELECT version_num FROM alembic_version").fetchone() == (
            newest_revision(),
        )


def test_that_by_hand_one_has_to_say_which_register(checkout: Path) -> None:
    done = _by_hand(checkout, "upgrade", "head")
    assert done.returncode != 0
    assert "-x register=" in done.stderr


def test_that_opening_an_up_to_date_register_does_not_load_the_migrating(
    tmp_path: Path, checkout: Path
) -> None:
    path = tmp_path / "register.db"
    create(path, "Withy End", "we-1", NOW).close()
    program = (
        "import sys; from estate.store.upgrade import open_existing; "
        f"open_existing({str(path)!r}).close(); print('alembic' in sys.modules)"
    )
    environment = os.environ | {"PYTHONPATH": str(checkout)}
    line = [sys.executable, "-c", program]
    done = subprocess.run(line, env=environment, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


def test_that_a_kept_register_of_the_second_revision_keeps_every_row_and_its_trail_begins(
    tmp_path: Path,
) -> None:
    path = tmp_path / "second.db"
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(OLD.with_name("0002.sql").read_text("utf-8"))
    before = _content(path)
    opened = open_existing(path)
    after = _content(path)
    for table, (columns, rows) in before.items():
        if table != "alembic_version":
            places_of = [after[table][0].index(column) for column in columns]
            kept = [tuple(row[place] for place in places_of) for row in after[table][1]]
            assert kept[: len(rows)] == rows
            assert table == "ledger_entry" or len(kept) == len(rows)
    assert {row[-1] for row in after["outlet"][1]} == {1}
    opened.close()
    begun, entries = after["ledger_entry"][1], len(before["ledger_entry"][1])
    assert {row[-7:] for row in begun[:entries]} == {("", "", None, "", "", "", "")}
    assert [row[6] for row in begun[entries : entries + 2]] == ["trail begins", "stood"]
    assert all(row[-1] for row in begun[entries:])


def test_that_a_kept_register_of_the_third_revision_keeps_every_row_and_its_trail_goes_on(
    tmp_path: Path,
) -> None:
    path = tmp_path / "third.db"
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(OLD.with_name("0003.sql").read_text("utf-8"))
    before = _content(path)
    opened = open_existing(path)
    after = _content(path)
    kept = [table for table in before if table != "alembic_version"]
    assert [after[table] for table in kept] == [before[table] for table in kept]
    assert [after[table][1] for table in ("document_content", "document", "document_void")] == [[], [], []]
    with writing(opened, "A. Officer", "added", NOW) as tx:
        add_basin(tx, "MX-9")
    found = verify(Register(opened, {}))
    opened.close()
    assert found.fits
    assert found.chained == found.entries > len(before["ledger_entry"][1]) == 31
