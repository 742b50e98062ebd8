import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from estate.errors import RegisterFault
from estate.store import places
from estate.store.backup import back_up
from estate.store.database import Database
from estate.store.transaction import writing
from estate.store.upgrade import create, open_existing
from tests.store.builders import NOW, add_basin


@pytest.fixture
def register(tmp_path: Path) -> Path:
    """The file of a closed register with one basin."""
    path = tmp_path / "register.db"
    made = create(path, "Marlpit Cross", "mx-1", NOW)
    with writing(made, "A. Officer", "added", NOW) as tx:
        add_basin(tx)
    made.close()
    return path


def _references(database: Database) -> list[str]:
    with database.reading() as session:
        return [each.reference for each in places.outlets(session)]


def test_that_a_backup_opens_and_holds_what_the_register_held(register: Path, tmp_path: Path) -> None:
    folder = tmp_path / "backups"
    folder.mkdir()
    copy = back_up(register, folder, NOW)
    assert copy == folder / "register backup 20261125T093000Z.db"
    assert [each.name for each in folder.iterdir()] == [copy.name]
    opened = open_existing(copy)
    assert _references(opened) == ["MX-G-01-B1"]
    opened.close()


def test_that_a_backup_is_made_while_the_register_is_in_use(register: Path, tmp_path: Path) -> None:
    opened = open_existing(register)
    with writing(opened, "A. Officer", "added", NOW) as tx:
        add_basin(tx, "MX-G-01-B2")
    with opened.reading() as session:
        assert len(places.outlets(session)) == 2
        copy = back_up(register, tmp_path)
    with writing(opened, "A. Officer", "added", NOW) as tx:
        add_basin(tx, "MX-G-01-B3")
    opened.close()
    kept = open_existing(copy)
    assert _references(kept) == ["MX-G-01-B1", "MX-G-01-B2"]
    kept.close()


def test_that_a_backup_never_writes_over_another(register: Path, tmp_path: Path) -> None:
    names = {back_up(register, tmp_path, NOW).name for _ in range(3)}
    assert len(names) == 3


def test_that_a_missing_register_is_not_backed_up(tmp_path: Path) -> None:
    with pytest.raises(RegisterFault, match="There is no register to back up"):
        back_up(tmp_path / "none.db", tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_that_a_backup_that_can_not_be_written_is_told_plainly(register: Path, tmp_path: Path) -> None:
    with pytest.raises(RegisterFault, match="The backup folder can't be used"):
        back_up(register, tmp_path / "none" / "backups")


def _damage_index(path: Path) -> None:
    """Leave a file that opens and reads, whose index does not agree with its table."""
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("PRAGMA writable_schema = ON")
        connection.execute(
            "UPDATE sqlite_master SET sql = replace(sql, 'room_id', 'name') WHERE name = 'ix_outlet_room_id'"
        )
        connection.commit()


def test_that_a_copy_that_is_not_whole_is_not_kept(register: Path, tmp_path: Path) -> None:
    _damage_index(register)
    folder = tmp_path / "backups"
    folder.mkdir()
    with pytest.raises(RegisterFault, match="The register is damaged"):
        back_up(register, folder)
    assert list(folder.iterdir()) == []


def test_that_a_copy_whose_rows_point_nowhere_is_not_kept(register: Path, tmp_path: Path) -> None:
    with closing(sqlite3.connect(register)) as connection:
        connection.execute("UPDATE outlet SET room_id = 99")
        connection.commit()
    with pytest.raises(RegisterFault, match="rows point to rows that are not there"):
        back_up(register, tmp_path)
    assert [each.name for each in tmp_path.iterdir()] == ["register.db"]
