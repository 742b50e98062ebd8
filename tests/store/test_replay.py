"""Entries that can't be true are told, and so are rows that stand otherwise than the entries say."""

import json
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from estate.domain.trust import Misfit
from estate.store import judgements, visits
from estate.store.canonical import text_of
from estate.store.covering import read_cover
from estate.store.database import Database
from estate.store.ledger import entries
from estate.store.replay import Replay
from estate.store.transaction import writing
from estate.store.upgrade import create, open_existing
from estate.store.verifying import Walk
from tests.store.builders import JUDGED, NOW, add_basin, draft
from tests.test_migrations import OLD


@pytest.fixture
def filled(tmp_path: Path) -> Iterator[Database]:
    made = create(tmp_path / "register.db", "Marlpit Cross", "mx-1", NOW, who="A. Officer")
    with writing(made, "A. Officer", "added", NOW) as tx:
        basin = add_basin(tx)
        added = visits.add_visits(tx, [draft(basin)] * 3, None)
        judgements.add_judgements(tx, [(each.id, JUDGED) for each in added])
    yield made
    made.close()


@pytest.mark.parametrize(
    ("action", "before", "after", "words"),
    [
        ("added", {}, {"name": "Other"}, "site 1 is added twice"),
        ("amended", {"name": "Nothing"}, {"name": "Other"}, "not as this amendment says that it found it"),
        ("removed", {"name": "Nothing"}, {}, "not as this removal says that it found it"),
    ],
)
def test_that_an_entry_that_can_not_be_true_is_told(
    filled: Database, action: str, before: dict[str, str], after: dict[str, str], words: str
) -> None:
    with filled.reading() as session:
        replay = Replay(session)
        list(replay.apply(1, "site", 1, "added", "", '{"name":"Marlpit Cross"}'))
        told = list(replay.apply(2, "site", 1, action, text_of(before), text_of(after)))
    assert [each.entry_id for each in told] == [2]
    assert words in told[0].what


def test_that_a_row_that_was_never_added_is_not_amended(filled: Database) -> None:
    with filled.reading() as session:
        (told,) = Replay(session).apply(2, "site", 9, "amended", "{}", "{}")
    assert told.what == "site 9 is amended and never was added"


def _covered(database: Database, **other: object) -> list[Misfit]:
    with database.reading() as session:
        (entry,) = entries(session, "judgement")
        replay = Replay(session)
        after = text_of({**json.loads(entry.after), **other})
        return list(replay.apply(entry.id, "judgement", None, "added many", "", after))


def test_that_a_row_made_to_look_alike_is_told_by_the_digest_of_all(filled: Database) -> None:
    assert _covered(filled) == []
    (told,) = _covered(filled, digest="0" * 64)
    assert told.what == "the digest of rows 1 to 3 of judgement is another"
    assert "care that it would not show" in told.means


def test_that_a_value_in_a_column_that_the_entry_does_not_tell_is_told(filled: Database) -> None:
    with filled.reading() as session:
        (entry,) = entries(session, "judgement")
    fewer = [each for each in read_cover(entry.after).columns if each != "verdict"]
    told = _covered(filled, columns=fewer)
    assert [each.row_id for each in told] == [1, 2, 3]


def test_that_many_rows_of_none_are_nothing(filled: Database) -> None:
    assert _covered(filled, rows=0) == []


def _begun(path: Path) -> None:
    """A register of the first revision whose numbers have gaps, with its trail begun."""
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(OLD.read_text("utf-8"))
        _without(connection, "finding", "DELETE FROM finding WHERE id = 2")
        connection.commit()
    opened = open_existing(path)
    with writing(opened, "A. Officer", "added", NOW + timedelta(days=1)) as tx:
        add_basin(tx, "MX-9")
    opened.close()


def _without(connection: sqlite3.Connection, table: str, *statements: str) -> None:
    query = "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name = ?"
    guards = connection.execute(query, (table,)).fetchall()
    for name, _ in guards:
        connection.execute(f"DROP TRIGGER {name}")
    for each in statements:
        connection.execute(each)
    for _, sql in guards:
        connection.execute(sql)


@pytest.mark.parametrize(
    ("statement", "row_id", "words"),
    [
        ("UPDATE finding SET words = 'well' WHERE id = 4", 4, "changed"),
        ("DELETE FROM finding WHERE id = 4", 4, "not there"),
        ("INSERT INTO finding SELECT 2, judgement_id, code, outcome, words, severity, required, measured, "
         "limit_value, unit, source, action, retest_from_weeks, 77.0 FROM finding WHERE id = 1",
         2, "no such row"),
    ],
)  # fmt: skip
def test_that_where_numbers_had_gaps_when_the_trail_began_the_place_is_told(
    tmp_path: Path, statement: str, row_id: int, words: str
) -> None:
    path = tmp_path / "old.db"
    _begun(path)
    with closing(sqlite3.connect(path)) as connection:
        _without(connection, "finding", statement)
        connection.commit()
    opened = open_existing(path)
    with opened.reading() as session:
        walk = Walk(session, ())
        walk.replay()
        found = list(walk.misfits())
    opened.close()
    assert row_id in {each.row_id for each in found}
    assert any(words in each.what for each in found)
