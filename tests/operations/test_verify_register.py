"""What was altered past the program is found, and its place named in plain words."""

import shutil
import sqlite3
from collections.abc import Callable, Iterable
from contextlib import closing
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from random import Random

import pytest
from sqlalchemy import text

from estate.domain.trust import KnownHead, Misfit, Verification
from estate.operations import browse
from estate.operations.open_register import open_register
from estate.operations.record_visit import void_visit
from estate.operations.register import Register
from estate.operations.verify_register import verify, verify_quick
from estate.store.database import Session
from estate.store.transaction import writing
from estate.store.upgrade import open_existing
from tests.benchmarks.alterations import KINDS, Subject, altered, found, subject
from tests.store.builders import NOW, add_basin
from tests.test_migrations import OLD

COUNT, SEED = 40, 5


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Subject:
    return subject(tmp_path_factory.mktemp("altered"), outlets=8)


@pytest.fixture
def copy(whole: Subject, tmp_path: Path) -> Path:
    shutil.copy(whole.file, tmp_path / "copy.db")
    return tmp_path / "copy.db"


def _free(connection: sqlite3.Connection, table: str) -> None:
    for kind in ("update", "delete", "replace"):
        connection.execute(f"DROP TRIGGER {table}_no_{kind}")


def _changed(path: Path, table: str, *statements: str) -> None:
    with closing(sqlite3.connect(path)) as connection:
        _free(connection, table)
        for each in statements:
            connection.execute(each)
        connection.commit()


def _verified(path: Path, known_head: KnownHead | None = None) -> Verification:
    register = open_register(path)
    try:
        return verify(register, known_head=known_head)
    finally:
        register.close()


def _of(verification: Verification, noun: str) -> tuple[Misfit, ...]:
    return tuple(each for each in verification.misfits if each.noun == noun)


def test_that_a_register_that_nobody_altered_fits(copy: Path, whole: Subject) -> None:
    said = _verified(copy, whole.known)
    assert said.misfits == ()
    assert said.fits
    assert said.entries == said.chained > 100
    assert said.rows > 250
    assert said.words.startswith("Everything is as the ledger tells")


def test_that_each_of_many_random_alterations_is_found_and_its_place_named(
    whole: Subject, tmp_path: Path
) -> None:
    random, file = Random(SEED), tmp_path / "altered.db"
    results = [found(whole, file, altered(whole, file, random)) for _ in range(COUNT)]
    assert [each.alteration for each in results if not each.words] == []
    assert [(each.alteration, each.words) for each in results if not each.named] == []


@pytest.mark.parametrize("make", [make for make, _ in KINDS])
def test_that_every_kind_of_alteration_is_found(
    whole: Subject, copy: Path, make: Callable[[Path, Subject, Random], object]
) -> None:
    if make.__name__ == "_byte":
        content = copy.read_bytes()
        copy.write_bytes(content.replace(b"in-service", b"in-servise", 1))
        assert not _verified(copy).fits
        return
    make(copy, whole, Random(3))
    assert not _verified(copy, whole.known).fits


def test_that_a_reading_that_was_altered_is_told_with_outlet_day_and_both_values(copy: Path) -> None:
    register = open_register(copy)
    with register.database.reading() as session:
        query = text("SELECT id, outlet_id, visited_on, found_c FROM visit WHERE found_c IS NOT NULL LIMIT 1")
        row = session.execute(query).one()
        reference = session.execute(text(f"SELECT reference FROM outlet WHERE id = {row[1]}")).scalar_one()
    register.close()
    _changed(copy, "visit", f"UPDATE visit SET found_c = 12.5 WHERE id = {row[0]}")
    (misfit,) = _of(_verified(copy), "visit")
    assert misfit.place == f"visit {row[0]} (outlet {reference}, {row[2]})"
    assert misfit.what == f"found_c is 12.5, the ledger tells {row[3]}"
    assert "changed past the program" in misfit.means


def test_that_a_reading_put_in_where_there_was_none_is_told(copy: Path) -> None:
    _changed(copy, "visit", "UPDATE visit SET small_draw_c = 41.0 WHERE id = 3")
    (misfit,) = _of(_verified(copy), "visit")
    assert misfit.what == "small_draw_c is 41.0, the ledger tells empty"


def test_that_a_visit_taken_out_is_told_with_its_outlet_and_day(copy: Path) -> None:
    _changed(copy, "visit", "DELETE FROM visit WHERE id = 2")
    (misfit,) = _of(_verified(copy), "visit")
    assert misfit.row_id == 2
    assert misfit.place.startswith("visit 2 (outlet ")
    assert misfit.what == "the row is not there"


def test_that_of_findings_added_together_the_one_altered_is_named(copy: Path) -> None:
    _changed(
        copy,
        "finding",
        "UPDATE finding SET words = 'all well' WHERE id = 5",
        "DELETE FROM finding WHERE id = 7",
    )
    said = _of(_verified(copy), "finding")
    assert [each.row_id for each in said] == [5, 7]
    assert "visit " in said[0].place


def test_that_a_place_altered_past_the_program_is_told(copy: Path) -> None:
    with closing(sqlite3.connect(copy)) as connection:
        connection.execute("UPDATE outlet SET name = 'Sluice', row_version = 9 WHERE id = 2")
        connection.execute("UPDATE valve SET set_c = 55.0 WHERE id = 1")
        connection.commit()
    said = {each.noun: each for each in _verified(copy).misfits}
    assert said.keys() == {"outlet", "valve"}
    assert "name is Sluice, the ledger tells" in said["outlet"].what
    assert "row_version is 9, the ledger tells 1" in said["outlet"].what
    assert said["valve"].row_id == 1


def test_that_a_place_put_in_and_one_taken_out_are_told(copy: Path) -> None:
    with closing(sqlite3.connect(copy)) as connection:
        connection.execute("INSERT INTO site (id, name, name_key) VALUES (77, 'Other', 'other')")
        connection.execute("DELETE FROM calibration WHERE id = 1")
        connection.commit()
    told = {(each.noun, each.row_id): each.what for each in _verified(copy).misfits}
    assert told == {
        ("site", 77): "the ledger tells of no such row",
        ("calibration", 1): "the row is not there",
    }


def test_that_entries_changed_dropped_and_swapped_are_told(copy: Path) -> None:
    _changed(
        copy,
        "ledger_entry",
        "UPDATE ledger_entry SET who = 'Somebody' WHERE id = 20",
        "DELETE FROM ledger_entry WHERE id = 30",
        "UPDATE ledger_entry SET id = -1 WHERE id = 40",
        "UPDATE ledger_entry SET id = 40 WHERE id = 41",
        "UPDATE ledger_entry SET id = 41 WHERE id = -1",
    )
    told = [(each.row_id, each.what) for each in _of(_verified(copy), "ledger_entry")]
    assert told[0][0] == 20
    assert "its digest does not fit what it tells" in told[0][1]
    assert "Somebody" in told[0][1]
    assert (31, "entries 30 to 30 before it are not there") in told
    assert {40, 41, 42} <= {number for number, _ in told}


@pytest.mark.parametrize(
    "change",
    [
        "action = 'mended'",
        "noun = 'nothing'",
        "row_id = 'x'",
        "after = 'x'",
        "after = after || ' '",
        "before = x'00'",
        "at = 'then'",
        "digest = ''",
        "previous = ''",
    ],
)
def test_that_an_entry_that_tells_nothing_is_told_and_the_walk_goes_on(copy: Path, change: str) -> None:
    _changed(
        copy,
        "ledger_entry",
        f"UPDATE ledger_entry SET {change} WHERE id = 25",
        "UPDATE ledger_entry SET who = 'Somebody' WHERE id = 60",
    )
    numbers = [each.entry_id for each in _of(_verified(copy), "ledger_entry")]
    assert 25 in numbers
    assert 60 in numbers


def test_that_a_table_changed_and_a_revision_changed_are_told(copy: Path) -> None:
    with closing(sqlite3.connect(copy)) as connection:
        connection.execute("CREATE TABLE other (id INTEGER)")
        connection.execute("DROP INDEX ix_alias_words_key")
        connection.commit()
    places = [each.place for each in _verified(copy).misfits]
    assert places == ["schema of ix_alias_words_key", "schema of other"]


@pytest.mark.parametrize("table", ["finding", "ledger_entry"])
def test_that_a_damaged_page_is_told_and_nothing_is_refused(copy: Path, table: str) -> None:
    with closing(sqlite3.connect(copy)) as connection:
        query = "SELECT rootpage FROM sqlite_master WHERE name = ?"
        (page,) = connection.execute(query, (table,)).fetchone()
        (size,) = connection.execute("PRAGMA page_size").fetchone()
    content = bytearray(copy.read_bytes())
    content[(page - 1) * size : (page - 1) * size + 40] = b"\xff" * 40
    copy.write_bytes(bytes(content))
    register = open_register(copy)
    said = verify(register)
    assert said.misfits[0].place == "the register's file"
    assert verify_quick(register).fits == (table == "finding")
    assert browse.identity(register).name
    register.close()


def test_that_an_older_copy_shows_where_a_newer_one_was_seen(whole: Subject) -> None:
    assert _verified(whole.older).fits
    said = _verified(whole.older, whole.known)
    assert "and the checkpoint of 2026-11-25 has entry" in said.words
    assert "older copy" in said.words


def test_that_the_quick_look_walks_the_newest_entries_and_finds_them_changed(
    copy: Path, whole: Subject
) -> None:
    register = open_register(copy)
    quick = verify_quick(register, recent=10)
    assert (quick.fits, quick.entries, quick.whole) == (True, 10, False)
    assert quick.words.startswith("What was looked at is as the ledger tells")
    assert quick.head.entry_id == whole.known.entry_id + 1
    since = verify_quick(register, whole.known, recent=1)
    assert since.fits
    wrong = replace(whole.known, digest="0" * 64)
    assert "is not the one that the checkpoint of" in verify_quick(register, wrong, recent=1).words
    register.close()
    _changed(copy, "ledger_entry", f"UPDATE ledger_entry SET why = 'x' WHERE id = {quick.head.entry_id}")
    register = open_register(copy)
    misfits = verify_quick(register).misfits
    register.close()
    assert [each.place for each in misfits] == ["table ledger_entry", f"ledger entry {quick.head.entry_id}"]


def test_that_signatures_are_checked_by_what_is_handed_in(copy: Path) -> None:
    odd = Misfit("signature", 1, None, "signature 1", "it does not fit", "Ask who signed.")

    def check(session: Session) -> Iterable[Misfit]:
        return [odd]

    register = open_register(copy)
    assert verify(register, signatures=check).misfits == (odd,)
    register.close()


def test_that_more_misfits_than_are_shown_are_counted(copy: Path) -> None:
    _changed(copy, "finding", "DELETE FROM finding WHERE id > 1")
    _changed(copy, "visit", "DELETE FROM visit")
    _changed(copy, "judgement", "DELETE FROM judgement")
    said = _verified(copy)
    assert len(said.misfits) == 50
    assert said.more > 0
    assert said.words.endswith(f" {said.more + 49} more places do not fit.")


@pytest.fixture
def old(tmp_path: Path) -> Register:
    """A register of the first revision, brought up to date."""
    path = tmp_path / "old.db"
    with closing(sqlite3.connect(path)) as connection:
        connection.executescript(OLD.read_text("utf-8"))
    return open_register(path)


def test_that_the_trail_of_an_older_register_begins_as_it_is_brought_up_to_date(old: Register) -> None:
    said = verify(old)
    assert said.fits
    assert 0 < said.chained < said.entries
    assert verify_quick(old).fits
    with old.database.reading() as session:
        query = text("SELECT DISTINCT who, what FROM ledger_entry WHERE digest <> ''")
        assert session.execute(query).all() == [("the program", "brought up to date")]


@pytest.mark.parametrize("wiped", ["program = '', local_at = '', ", ""])
def test_that_a_ledger_whose_digests_were_all_wiped_is_found_and_stays_so(copy: Path, wiped: str) -> None:
    _changed(copy, "ledger_entry", f"UPDATE ledger_entry SET {wiped}previous = '', digest = ''")
    register = open_register(copy)
    assert not verify_quick(register).fits
    assert not verify(register).fits
    with writing(register.database, "A. Officer", "added", NOW) as tx:
        add_basin(tx, "MX-9")
    said = verify(register)
    register.close()
    assert not said.fits


def test_that_a_ledger_without_digests_is_told_in_plain_words(copy: Path) -> None:
    emptied = "UPDATE ledger_entry SET program = '', previous = '', digest = ''"
    _changed(copy, "ledger_entry", emptied)
    said = [str(each) for each in _verified(copy).misfits]
    assert any(each.startswith("the ledger: none of its entries has a digest. Its digests") for each in said)


def test_that_the_trail_of_an_older_register_covers_what_stood_when_it_began(
    old: Register, tmp_path: Path
) -> None:
    void_visit(old, 1, reason="wrong", who="A. Officer", at=NOW)
    with writing(old.database, "A. Officer", "added", NOW) as tx:
        add_basin(tx)
    said = verify(old)
    assert said.misfits == ()
    assert 0 < said.chained < said.entries
    old.close()
    path = tmp_path / "old.db"
    _changed(path, "visit", "UPDATE visit SET found_c = 1.5 WHERE id = 2", "DELETE FROM visit WHERE id = 4")
    _changed(path, "ledger_entry", "UPDATE ledger_entry SET who = 'Somebody' WHERE id = 3")
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE outlet SET name = 'Sluice' WHERE id = 1")
        connection.commit()
    said = _verified(path)
    assert {(each.noun, each.row_id) for each in said.misfits} >= {("visit", 2), ("visit", 4), ("outlet", 1)}
    assert any("when the trail began" in each.what for each in said.misfits)


def test_that_the_trail_begins_once(old: Register) -> None:
    for number in range(2):
        with writing(old.database, "A. Officer", "added", NOW + timedelta(days=number)) as tx:
            add_basin(tx, f"MX-{number}")
    database = open_existing(old.database.url)
    with database.reading() as session:
        begun = session.execute(text("SELECT count(*) FROM ledger_entry WHERE action = 'trail begins'"))
        assert begun.scalar_one() == 1
    database.close()
    assert verify(old).fits
