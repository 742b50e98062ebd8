import sqlite3
from contextlib import closing
from pathlib import Path
from typing import Any

from estate.operations.register import Register
from estate.operations.verify_register import verify
from estate.store.schema import EVIDENCE
from estate.store.transaction import writing
from estate.store.upgrade import open_existing
from estate.store.visits import add_visit
from tests.store.builders import NOW, add_basin, draft
from tests.store.life_rows import add_life

OLD = Path(__file__).parent.parent / "data" / "registers" / "0004.sql"
NEW = (
    *("action", "action_event", "outlet_event", "visit_check", "visit_part", "visit_justification"),
    *("person", "competence", "care", "outlet_review", "survey"),
)


def content(path: Path) -> dict[str, list[tuple[Any, ...]]]:
    """Every row of every table."""
    with closing(sqlite3.connect(path)) as connection:
        tables = connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'").fetchall()
        return {name: connection.execute(f"SELECT * FROM {name} ORDER BY 1").fetchall() for (name,) in tables}


def test_that_a_kept_register_of_the_fourth_revision_keeps_every_row_and_its_trail_goes_on(
    tmp_path: Path,
) -> None:
    path = tmp_path / "fourth.db"
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(OLD.read_text("utf-8"))
    before = content(path)
    opened = open_existing(path)
    after = content(path)
    kept = [table for table in before if table != "alembic_version"]
    assert [after[table] for table in kept] == [before[table] for table in kept]
    assert {table: after[table] for table in NEW} == {table: [] for table in NEW}
    assert set(NEW) - {"person"} <= EVIDENCE
    with writing(opened, "A. Officer", "added", NOW) as tx:
        basin = add_basin(tx, "MX-9")
        add_life(tx, basin, add_visit(tx, draft(basin)).id)
    found = verify(Register(opened, {}))
    opened.close()
    assert [each.noun for each in found.misfits] == ["signature"]  # the kept file's one is made up of noughts
    assert found.chained == found.entries > len(before["ledger_entry"]) == 40
