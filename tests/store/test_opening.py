"""What stands in the way of making or opening a register, each made to happen."""

import sqlite3
import threading
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from estate.errors import RegisterFault
from estate.store import database as database_module
from estate.store import identity
from estate.store.database import Database
from estate.store.faults import told_plainly
from estate.store.transaction import writing
from estate.store.upgrade import create, newest_revision, open_existing
from tests.store.builders import NOW, add_basin


@pytest.fixture
def register(tmp_path: Path) -> Path:
    """The file of a closed register."""
    path = tmp_path / "register.db"
    create(path, "Marlpit Cross", "mx-1", NOW).close()
    return path


def _alter(path: Path, *statements: str) -> None:
    with closing(sqlite3.connect(path)) as connection:
        for statement in statements:
            connection.execute(statement)
        connection.commit()


def _fault(path: Path | str) -> RegisterFault:
    with pytest.raises(RegisterFault) as caught:
        open_existing(path).close()
    assert str(path) in caught.value.detail
    assert caught.value.remedy.endswith(".")
    return caught.value


def test_that_a_register_opens_again_as_it_was_left(address: str) -> None:
    made = create(address, "Withy End", "we-1", NOW, rule_set="uk-type2")
    with writing(made, "A. Officer", "added", NOW) as tx:
        add_basin(tx)
    made.close()
    opened = open_existing(address)
    with opened.reading() as session:
        assert (identity.name(session), identity.identifier(session)) == ("Withy End", "we-1")
        assert identity.revision(session) == newest_revision()
    opened.close()


def test_that_a_closed_register_is_one_file(register: Path) -> None:
    opened = open_existing(register)
    with writing(opened, "A. Officer", "added", NOW) as tx:
        add_basin(tx)
    opened.close()
    assert [each.name for each in register.parent.iterdir()] == ["register.db"]


def test_that_a_missing_file_is_not_made_by_opening_it(tmp_path: Path) -> None:
    assert _fault(tmp_path / "none.db").title == "There is no register"
    assert list(tmp_path.iterdir()) == []


def test_that_a_folder_is_no_register(tmp_path: Path) -> None:
    assert _fault(tmp_path).title == "There is no register"


@pytest.mark.parametrize("content", [b"", b"PK\x03\x04 a spreadsheet", b"SQLite format 2"])
def test_that_another_file_is_no_register(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "round.xlsx"
    path.write_bytes(content)
    assert _fault(path).title == "That is not a register"
    assert path.read_bytes() == content


def test_that_the_database_of_another_program_is_no_register(tmp_path: Path) -> None:
    path = tmp_path / "other.db"
    _alter(path, "CREATE TABLE alembic_version (version_num TEXT)", "CREATE TABLE song (id INTEGER)")
    before = path.read_bytes()
    assert _fault(path).title == "That is not a register"
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("SELECT count(*) FROM sqlite_master").fetchone() == (2,)
    assert len(path.read_bytes()) == len(before)


def test_that_a_newer_register_is_left_alone(register: Path) -> None:
    _alter(register, "UPDATE alembic_version SET version_num = '9001'")
    fault = _fault(register)
    assert fault.title == "The register is newer than this program"
    assert "9001" in fault.detail
    assert newest_revision() in fault.detail
    assert [each.name for each in register.parent.iterdir()] == ["register.db"]


@pytest.mark.parametrize(
    "statement",
    ["DELETE FROM alembic_version", "DELETE FROM register", "UPDATE alembic_version SET version_num = ''"],
)
def test_that_a_register_that_does_not_say_what_it_is_is_not_opened(register: Path, statement: str) -> None:
    _alter(register, statement)
    _fault(register)


@pytest.mark.parametrize("damage", ["header", "schema", "cut short"])
def test_that_a_damaged_register_is_not_opened(register: Path, damage: str) -> None:
    content = bytearray(register.read_bytes())
    if damage == "header":
        content[16:24] = b"\xff" * 8
    elif damage == "schema":
        content[100:4096] = b"\xa5" * 3996
    else:
        del content[6000:]
    register.write_bytes(content)
    fault = _fault(register)
    assert fault.title == "The register is damaged"
    assert "backup" in fault.remedy


def test_that_a_damaged_page_found_later_is_told_plainly(register: Path) -> None:
    with closing(sqlite3.connect(register)) as connection:
        query = "SELECT rootpage FROM sqlite_master WHERE name = 'ledger_entry'"
        page = connection.execute(query).fetchone()[0]
        size = connection.execute("PRAGMA page_size").fetchone()[0]
    content = bytearray(register.read_bytes())
    content[(page - 1) * size : page * size] = b"\xa5" * size
    register.write_bytes(content)
    opened = open_existing(register)
    with pytest.raises(RegisterFault, match="The register is damaged"), opened.reading() as session:
        session.connection().exec_driver_sql("SELECT * FROM ledger_entry").all()
    opened.close()


def test_that_making_a_register_never_writes_over_a_file(tmp_path: Path) -> None:
    path = tmp_path / "letters.txt"
    path.write_text("Dear all")
    with pytest.raises(RegisterFault, match="There is a file of that name already"):
        create(path, "n", "i", NOW)
    assert path.read_text() == "Dear all"


def test_that_a_register_is_made_once(address: str) -> None:
    create(address, "first", "i", NOW).close()
    with pytest.raises(RegisterFault):
        create(address, "second", "i", NOW)
    opened = open_existing(address)
    with opened.reading() as session:
        assert identity.name(session) == "first"
    opened.close()


def test_that_a_register_is_not_made_in_a_folder_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(RegisterFault, match="There is no such folder"):
        create(tmp_path / "none" / "register.db", "n", "i", NOW)


def test_that_a_folder_that_takes_no_files_is_told_plainly() -> None:
    closed = [
        (path, "The register can't be opened") for path in (Path("/proc"), Path("/dev/fd")) if path.is_dir()
    ]
    folder, title = [*closed, (Path("/proc"), "There is no such folder")][0]
    with pytest.raises(RegisterFault) as caught:
        create(folder / "register.db", "n", "i", NOW)
    assert caught.value.title == title


def test_that_a_register_that_could_not_be_finished_leaves_no_file(tmp_path: Path) -> None:
    with pytest.raises(Exception, match="a moment needs a time zone"):
        create(tmp_path / "register.db", "n", "i", NOW.replace(tzinfo=None))
    assert list(tmp_path.iterdir()) == []


def test_that_a_register_opened_for_reading_only_can_be_read_and_says_so_when_written(register: Path) -> None:
    opened = open_existing(f"sqlite:///file:{register}?mode=ro&uri=true")
    with opened.reading() as session:
        assert identity.name(session) == "Marlpit Cross"
    with (
        pytest.raises(RegisterFault, match="The register can't be written"),
        writing(opened, "A. Officer", "tried", NOW) as tx,
    ):
        add_basin(tx)
    opened.close()


@pytest.fixture
def impatient(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setattr(database_module, "BUSY_SECONDS", 0.2)
    yield


def test_that_a_register_that_stays_in_use_is_told_plainly(impatient: None, database: Database) -> None:
    other = open_existing(database.url)
    held, done = threading.Event(), threading.Event()

    def hold() -> None:
        with writing(database, "A. Officer", "held it", NOW):
            held.set()
            done.wait(20)

    thread = threading.Thread(target=hold)
    thread.start()
    held.wait(5)
    try:
        with (
            pytest.raises(RegisterFault, match="The register is in use"),
            writing(other, "B. Other", "tried", NOW) as tx,
        ):
            add_basin(tx)
    finally:
        done.set()
        thread.join(5)
        other.close()


def test_that_broken_text_of_a_damaged_schema_is_told_plainly() -> None:
    with pytest.raises(RegisterFault, match="damaged"), told_plainly("a.db"):
        b"table v\xe5lve".decode()
