"""The kept sample is what the program builds today, row for row, at the newest schema."""

import sqlite3
import subprocess
import sys
from contextlib import closing
from pathlib import Path
from typing import Any

import pytest

from estate.store.upgrade import newest_revision

PROJECT = Path(__file__).resolve().parent.parent
Content = dict[str, tuple[str, list[tuple[Any, ...]]]]
EVIDENCE_TABLES = {"visit", "judgement", "finding", "batch", "ledger_entry"}


def content(database: Path) -> Content:
    """Each table's definition and all its rows, read without touching the file."""
    with closing(sqlite3.connect(f"{database.as_uri()}?mode=ro&immutable=1", uri=True)) as connection:
        schema = connection.execute("SELECT name, type, sql FROM sqlite_master ORDER BY name").fetchall()
        return {
            name: (
                sql,
                sorted(connection.execute(f'SELECT * FROM "{name}"'), key=repr) if kind == "table" else [],
            )
            for name, kind, sql in schema
        }


def unlike(kept: Content, built: Content) -> list[str]:
    """Tables, indexes and triggers that differ, in words; the first differing row says what to look at."""
    faults = [f"{name} is in one only" for name in sorted(kept.keys() ^ built.keys())]
    for name in sorted(kept.keys() & built.keys()):
        (kept_sql, kept_rows), (built_sql, built_rows) = kept[name], built[name]
        if kept_sql != built_sql:
            faults.append(f"{name} is defined otherwise")
        if len(kept_rows) != len(built_rows):
            faults.append(f"{name}: {len(kept_rows)} rows kept, {len(built_rows)} built")
        pairs = zip(kept_rows, built_rows, strict=False)
        faults += [f"{name}: {one} kept, {other} built" for one, other in pairs if one != other][:1]
    return faults


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A sample built now by the command that people use."""
    database = tmp_path_factory.mktemp("sample") / "built.db"
    line = [sys.executable, "-m", "estate", "sample", str(database)]
    subprocess.run(line, cwd=PROJECT, check=True, capture_output=True)
    return database


def test_that_the_kept_sample_is_what_the_program_builds(checkout: Path, built: Path) -> None:
    assert unlike(content(checkout / "sample_estate.db"), content(built)) == []


def test_that_the_kept_sample_holds_a_history(checkout: Path) -> None:
    kept = content(checkout / "sample_estate.db")
    assert {name for name, (_, rows) in kept.items() if rows} >= EVIDENCE_TABLES
    assert len(kept["outlet"][1]) >= 250
    assert len(kept["visit"][1]) > 1000


def test_that_the_kept_sample_is_at_the_newest_schema(checkout: Path) -> None:
    assert content(checkout / "sample_estate.db")["alembic_version"][1] == [(newest_revision(),)]


def test_that_a_row_that_differs_is_told() -> None:
    kept: Content = {"visit": ("CREATE", [(1, 41.0), (2, 38.0)])}
    built: Content = {"visit": ("CREATE", [(1, 41.0), (2, 39.0)])}
    assert unlike(kept, kept) == []
    assert unlike(kept, built) == ["visit: (2, 38.0) kept, (2, 39.0) built"]
    assert unlike(kept, {"visit": ("CREATE", [(1, 41.0)])}) == ["visit: 2 rows kept, 1 built"]
    assert unlike(kept, {}) == ["visit is in one only"]
    assert unlike(kept, {"visit": ("OTHER", kept["visit"][1])}) == ["visit is defined otherwise"]
