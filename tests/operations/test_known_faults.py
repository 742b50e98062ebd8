"""Every fault of disk, folder, share and file made to happen, and what the program says of it read."""

import shutil
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass, replace
from functools import partial
from itertools import count
from pathlib import Path, PurePosixPath

import pytest

from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.errors import RegisterFault
from estate.operations.back_up import back_up, backups_of
from estate.operations.bring_in import commit, look
from estate.operations.open_register import new_register, open_register
from estate.operations.record_visit import record_visit
from estate.operations.register import Register
from estate.operations.restore_register import preview_restore, restore
from estate.operations.verify_register import verify
from estate.store import database, location, standing, visits
from estate.store.backup import backup_folder, is_sound
from tests.builders import TODAY
from tests.operations.conftest import ASSETS, NOW, VISITS, WHO, bring
from tests.operations.happening import (
    Said,
    as_nobody,
    can_mount,
    no_file_above,
    said_in_a_child,
    small_disk,
)

PAGE = 4096
MANY = VISITS.splitlines()[0] + "".join(
    f"\nMM/G/G01/WHB1,{2026 - n // 12}-{1 + n % 12:02}-01,In-service,60,13,41.{n % 10},41.{n % 10},{n % 9}"
    for n in range(1, 120)
)
DRAFT = VisitDraft(1, 1, VisitKind.IN_SERVICE, TODAY, Readings(hot_c=60.0, left_c=41.0), "A. Thorne")


@pytest.fixture
def folder() -> Iterator[Path]:
    """A folder that everybody may look into (the tests' own are closed to others)."""
    with tempfile.TemporaryDirectory() as name:
        made = Path(name) / "estate"
        made.mkdir()
        Path(name).chmod(0o755)
        yield made


@pytest.fixture
def path(folder: Path, tmp_path: Path) -> Path:
    """A closed register with outlets and visits and one backup, and beside it a large sheet."""
    place = folder / "register.db"
    made = new_register(place, "Marlpit Cross", at=NOW, who=WHO, identifier="mx-1")
    bring(made, tmp_path, ASSETS, "assets.csv")
    back_up(made, "before a batch", at=NOW)
    bring(made, tmp_path, VISITS, "visits.csv")
    made.close()
    (folder / "many.csv").write_text(MANY, encoding="utf-8")
    return place


@pytest.fixture
def backup(path: Path) -> Path:
    """That backup."""
    (found,) = backups_of(path)
    return found.path


ROUNDS = count(1)


def _opened(path: Path) -> None:
    open_register(path).close()


def _record(path: Path) -> None:
    register = open_register(path)
    try:
        draft = replace(DRAFT, remarks=f"round {next(ROUNDS)}")
        record_visit(register, draft, who=WHO, at=NOW, today=TODAY)
    finally:
        register.close()


def _record_until_it_is_full(path: Path) -> None:
    first, recorded = _content(path)[0], 0
    try:
        while True:
            _record(path)
            recorded += 1
    finally:
        assert _content(path) == (first + recorded, True)


def _bring(path: Path) -> None:
    register = open_register(path)
    try:
        commit(register, look(register, path.with_name("many.csv"), None, TODAY), who=WHO, at=NOW)
    finally:
        register.close()


def _back_up(path: Path) -> None:
    register = open_register(path)
    try:
        back_up(register, "on closing", at=NOW)
    finally:
        register.close()


def _restore(path: Path) -> None:
    restore(path, backups_of(path)[0].path, who=WHO, at=NOW)


def _content(path: Path) -> tuple[int, bool]:
    register = open_register(path)
    try:
        with register.database.reading() as session:
            found = len(visits.visits(session))
        return found, verify(register).fits
    finally:
        register.close()


def _said(deed: Callable[[], object]) -> Said:
    with pytest.raises(RegisterFault) as caught:
        deed()
    return caught.value.title, caught.value.detail, caught.value.remedy


def _files(folder: Path) -> list[str]:
    return sorted(str(each.relative_to(folder)) for each in folder.rglob("*"))


# No room on the disk


@dataclass(frozen=True)
class Cramped:
    """A register with hardly any room: how that comes about in a child, and where it lies there."""

    come_about: Callable[[], None]
    path: Path
    small_disk: bool


SMALL_DISK, GIVES_UP = "a small disk", "a disk that gives up"
SPARE_KIB = 128


def _ways() -> list[str]:
    with tempfile.TemporaryDirectory() as name:
        return [GIVES_UP, SMALL_DISK] if can_mount(Path(name)) else [GIVES_UP]


@pytest.fixture(params=_ways())
def cramped(request: pytest.FixtureRequest, path: Path, tmp_path: Path) -> Cramped:
    """A register on a disk of its own that is nearly full, or one that takes no file above 32 KiB."""
    if request.param == GIVES_UP:
        return Cramped(no_file_above(32 * 1024), path, small_disk=False)
    disk = tmp_path / "disk"
    disk.mkdir()
    used = sum(each.stat().st_size for each in path.parent.rglob("*") if each.is_file())

    def come_about() -> None:
        small_disk(disk, used // 1024 + SPARE_KIB)()
        shutil.copytree(path.parent, disk / "estate")

    return Cramped(come_about, disk / "estate" / path.name, small_disk=True)


def _left_as_it_was(cramped: Cramped, deed: Callable[[Path], None], before: tuple[int, bool]) -> Said:
    """What is said when there is no room; the child looks as well that nothing was half written."""

    def and_look() -> None:
        files = _files(cramped.path.parent)
        try:
            deed(cramped.path)
        finally:
            assert deed is _record_until_it_is_full or _content(cramped.path) == before
            logs = {f"{cramped.path.name}-wal", f"{cramped.path.name}-shm"}
            assert sorted({*_files(cramped.path.parent)} - logs) == files

    return said_in_a_child(cramped.come_about, and_look)


@pytest.mark.parametrize("deed", [_bring, _record_until_it_is_full], ids=["batch", "visit"])
def test_that_without_room_nothing_is_written_by_halves(
    cramped: Cramped, path: Path, deed: Callable[[Path], None]
) -> None:
    title, detail, remedy = _left_as_it_was(cramped, deed, _content(path))
    wanted = "There is no room on the disk" if cramped.small_disk else "The disk can't be read or written"
    assert title == wanted
    assert str(cramped.path) in detail
    assert "nothing was written" in remedy
    assert "room" in remedy


def test_that_without_room_no_half_backup_stays(cramped: Cramped, path: Path) -> None:
    title, detail, remedy = _left_as_it_was(cramped, _back_up, _content(path))
    assert title in ("There is no room on the disk", "The disk can't be read or written")
    assert "register backup 20261125T103000Z on closing.db" in detail
    assert "room" in remedy


def test_that_without_room_nothing_is_restored(cramped: Cramped, path: Path) -> None:
    title, detail, remedy = _left_as_it_was(cramped, _restore, _content(path))
    assert title == "The present file can't be kept"
    assert "kept as it was" in detail
    assert remedy == "Make room, or choose another folder for backups; nothing was changed."


def test_that_a_backup_that_does_not_fit_beside_the_register_is_not_put_back(
    path: Path, backup: Path
) -> None:
    before = _content(path)
    limit = no_file_above(32 * 1024)
    path.with_name("gone.db").write_bytes(b"")
    title, detail, remedy = said_in_a_child(
        limit, lambda: restore(path.with_name("gone.db"), backup, who=WHO, at=NOW, sure=True)
    )
    assert title == "The backup can't be put back"
    assert "gone.db: File too large" in detail
    assert remedy == "Make room, or ask for the right to write in the folder; the register is as it was."
    assert path.with_name("gone.db").read_bytes() == b""
    assert _content(path) == before
    assert not [each for each in _files(path.parent) if each.endswith(".part")]


# A folder or a file that can't be written


@pytest.fixture
def closed(path: Path) -> Iterator[Callable[[Path, int], None]]:
    """Sets the rights of files and folders for everybody; they are given back afterwards."""
    changed = []

    def close(what: Path, mode: int) -> None:
        changed.append((what, what.stat().st_mode))
        what.chmod(mode)

    yield close
    for what, mode in reversed(changed):
        what.chmod(mode)


def test_that_a_folder_that_takes_no_files_is_told(path: Path, closed: Callable[[Path, int], None]) -> None:
    files = _files(path.parent)
    closed(path, 0o666)
    closed(path.parent, 0o555)
    for deed in (_opened, _record, _bring):
        title, detail, remedy = said_in_a_child(as_nobody, partial(deed, path))
        assert title == "The register can't be written"
        assert str(path) in detail
        assert remedy == "Ask for the right to write to the file and to its folder."
    assert _files(path.parent) == files


def test_that_a_file_that_can_not_be_written_is_told(path: Path, closed: Callable[[Path, int], None]) -> None:
    closed(path, 0o444)
    closed(path.parent, 0o777)
    title, detail, remedy = said_in_a_child(as_nobody, lambda: _record(path))
    assert title == "The register can't be written"
    assert str(path) in detail
    assert remedy == "Ask for the right to write to the file and to its folder."


def test_that_a_file_that_can_not_be_read_is_told(path: Path, closed: Callable[[Path, int], None]) -> None:
    closed(path, 0o000)
    title, detail, remedy = said_in_a_child(as_nobody, lambda: _opened(path))
    assert title == "The register can't be read"
    assert f"{path}: Permission denied" in detail
    assert remedy == "Ask for the right to read the file."


def test_that_a_backup_folder_that_takes_no_files_is_told(
    path: Path, closed: Callable[[Path, int], None]
) -> None:
    folder, before = backup_folder(path), _files(backup_folder(path))
    closed(path, 0o666)
    closed(path.parent, 0o777)
    closed(folder, 0o555)
    title, detail, remedy = said_in_a_child(as_nobody, lambda: _back_up(path))
    assert title == "The backup can't be written"
    assert "Permission denied" in detail
    assert remedy.endswith("choose a folder that you may write in; the register itself was not touched.")
    assert _files(folder) == before


def test_that_a_backup_folder_that_can_not_be_looked_into_is_told(
    path: Path, closed: Callable[[Path, int], None]
) -> None:
    closed(path.parent, 0o777)
    closed(path, 0o666)
    closed(backup_folder(path), 0o311)
    title, detail, remedy = said_in_a_child(as_nobody, lambda: backups_of(path))
    assert title == "The backup folder can't be used"
    assert str(backup_folder(path)) in detail
    assert remedy == "Ask for the right to read the folder."


def test_that_a_folder_that_takes_no_files_is_not_restored_into(
    path: Path, backup: Path, closed: Callable[[Path, int], None]
) -> None:
    files = _files(path.parent)
    closed(path.parent, 0o555)
    closed(backup, 0o666)
    closed(backup.parent, 0o777)
    gone = path.with_name("gone.db")
    title, detail, remedy = said_in_a_child(
        as_nobody, lambda: restore(gone, backup, who=WHO, at=NOW, sure=True)
    )
    assert title == "The backup can't be put back"
    assert f"{gone}: Permission denied" in detail
    assert "ask for the right to write in the folder" in remedy
    assert _files(path.parent) == files


# A network share


@pytest.fixture
def on_a_share(monkeypatch: pytest.MonkeyPatch) -> None:
    """The system says that everything lies on a share."""
    monkeypatch.setattr(location, "_mounts", lambda: {PurePosixPath("/"): "cifs"})


def _journal(register: Register) -> str:
    with register.database.reading() as session:
        return str(session.connection().exec_driver_sql("PRAGMA journal_mode").scalar_one())


def test_that_on_a_share_no_write_ahead_log_is_used_and_everything_works(
    path: Path, on_a_share: None
) -> None:
    register = open_register(path)
    assert _journal(register) == "delete"
    record_visit(register, DRAFT, who=WHO, at=NOW, today=TODAY)
    assert not list(path.parent.glob("*-wal"))
    made = back_up(register, "on closing", at=NOW)
    register.close()
    assert made.path is not None
    assert is_sound(made.path)
    restore(path, made.path, who=WHO, at=NOW)
    assert _content(path)[1]
    assert not list(path.parent.glob("register.db-*"))


def test_that_on_a_disk_of_its_own_the_log_is_used(path: Path) -> None:
    register = open_register(path)
    assert _journal(register) == "wal"
    register.close()


# In use by another


HOLD = """
import sqlite3, sys
connection = sqlite3.connect(sys.argv[1], isolation_level=None)
connection.execute(sys.argv[2]).fetchall()
print("held", flush=True)
sys.stdin.read()
"""


@contextmanager
def _held(path: Path, statement: str) -> Iterator[None]:
    """Another process has the register open and has run a statement in it."""
    line = [sys.executable, "-c", HOLD, str(path), statement]
    with subprocess.Popen(line, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as other:
        assert other.stdout is not None
        assert other.stdin is not None
        assert other.stdout.readline() == "held\n"
        try:
            yield
        finally:
            other.stdin.close()
            other.wait(10)


def test_that_a_register_that_another_writes_to_is_told_and_can_still_be_read_and_backed_up(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(database, "BUSY_SECONDS", 0.2)
    before = _content(path)
    with _held(path, "BEGIN IMMEDIATE"):
        title, detail, remedy = _said(lambda: _record(path))
        assert _content(path) == before
        _back_up(path)
    assert title == "The register is in use"
    assert str(path) in detail
    assert remedy == "Wait a moment and do it again; nothing was written."
    assert len(backups_of(path)) == 2


@pytest.mark.parametrize("statement", ["BEGIN IMMEDIATE", "SELECT count(*) FROM visit"])
def test_that_a_register_that_another_has_open_is_not_restored(
    path: Path, backup: Path, statement: str
) -> None:
    before = _content(path)
    _opened(path)
    with _held(path, statement):
        title, detail, remedy = _said(lambda: restore(path, backup, who=WHO, at=NOW))
    assert title == "The register is in use"
    assert str(path) in detail
    assert remedy.startswith("Close it in every window and on every machine")
    assert _content(path) == before
    assert [each.path for each in backups_of(path)] == [backup]


def test_that_a_register_locked_on_a_share_is_never_taken_for_a_damaged_one(
    path: Path, backup: Path, on_a_share: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(standing, "BUSY_S", 0.2)
    _opened(path)
    with _held(path, "BEGIN EXCLUSIVE"):
        for deed in (
            lambda: restore(path, backup, who=WHO, at=NOW, sure=True),
            lambda: preview_restore(path, backup),
            lambda: backups_of(path),
        ):
            assert _said(deed)[0] == "The register is in use"
    assert _content(path)[1]


# Newer, damaged, no register


def _made_newer(path: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9001'")
        connection.commit()


def test_that_a_newer_register_is_left_alone(path: Path) -> None:
    _made_newer(path)
    content, files = path.read_bytes(), _files(path.parent)
    title, detail, remedy = _said(lambda: _opened(path))
    assert title == "The register is newer than this program"
    assert "9001" in detail
    assert remedy.startswith("Install the newest version of the program")
    assert (path.read_bytes(), _files(path.parent)) == (content, files)


def test_that_a_newer_backup_is_not_restored(path: Path, backup: Path) -> None:
    before = _content(path)
    _made_newer(backup)
    title, detail, remedy = _said(lambda: restore(path, backup, who=WHO, at=NOW))
    assert title == "The backup is newer than this program"
    assert str(backup) in detail
    assert "9001" in detail
    assert remedy.startswith("Install the newest version of the program")
    assert _content(path) == before


def _damage(path: Path, table: str | None) -> None:
    """Write over a file's header, or over the first page of a table in the middle of it."""
    content = bytearray(path.read_bytes())
    if table is None:
        content[:PAGE] = b"\xa5" * PAGE
    else:
        with closing(sqlite3.connect(path)) as connection:
            query = "SELECT rootpage FROM sqlite_master WHERE name = ?"
            page = connection.execute(query, (table,)).fetchone()[0]
        assert page > 1
        content[(page - 1) * PAGE : page * PAGE] = b"\xa5" * PAGE
    path.write_bytes(content)


def test_that_a_register_with_a_damaged_header_is_told_and_can_be_restored(path: Path, backup: Path) -> None:
    _damage(path, None)
    title, detail, remedy = _said(lambda: _opened(path))
    assert title == "That is not a register"
    assert str(path) in detail
    assert "go on from the latest backup" in remedy
    assert restore(path, backup, who=WHO, at=NOW, sure=True).kept is not None
    assert _content(path) == (0, True)


def test_that_a_register_with_a_damaged_page_is_told_never_backed_up_and_can_be_restored(
    path: Path, backup: Path
) -> None:
    _damage(path, "visit")
    for deed in (lambda: _content(path), lambda: _back_up(path)):
        title, detail, remedy = _said(deed)
        assert title == "The register is damaged"
        assert str(path) in detail
        assert "backup" in remedy
    assert [each.path for each in backups_of(path)] == [backup]
    assert not [each for each in _files(path.parent) if each.endswith(".part")]
    done = restore(path, backup, who=WHO, at=NOW)
    assert not done.kept_whole
    assert _content(path) == (0, True)


@pytest.mark.parametrize("table", [None, "outlet"])
def test_that_a_damaged_backup_is_not_restored(path: Path, backup: Path, table: str | None) -> None:
    before = _content(path)
    _damage(backup, table)
    title, detail, remedy = _said(lambda: restore(path, backup, who=WHO, at=NOW))
    assert title == ("That is not a register" if table is None else "The backup is damaged")
    assert str(backup) in detail
    assert remedy.startswith("Choose another")
    assert _content(path) == before


def test_that_what_is_no_register_is_neither_opened_nor_restored(path: Path) -> None:
    letter, songs = path.with_name("letter.db"), path.with_name("songs.db")
    letter.write_text("Dear all")
    with closing(sqlite3.connect(songs)) as connection:
        connection.execute("CREATE TABLE song (id INTEGER)")
        connection.commit()
    for other in (letter, songs):
        for deed in (
            lambda other=other: _opened(other),
            lambda other=other: restore(path, other, who=WHO, at=NOW),
        ):
            title, detail, remedy = _said(deed)
            assert title == "That is not a register"
            assert str(other) in detail
            assert remedy.startswith("Choose")
    assert letter.read_text() == "Dear all"


@pytest.mark.parametrize("table", ["register", "alembic_version"])
def test_that_a_backup_that_does_not_say_what_it_is_is_not_restored(
    path: Path, backup: Path, table: str
) -> None:
    with closing(sqlite3.connect(backup)) as connection:
        connection.execute(f"DELETE FROM {table}")
        connection.commit()
    title, detail, remedy = _said(lambda: preview_restore(path, backup))
    assert title == "The register is damaged"
    assert "does not say what it is" in detail
    assert remedy == "Keep it as it is and go on from the latest backup."


# Folders that are not there


def test_that_a_missing_folder_is_told(path: Path, folder: Path) -> None:
    register = open_register(path)
    title, detail, remedy = _said(
        lambda: back_up(register, "on closing", at=NOW, folder=folder / "none" / "backups")
    )
    assert title == "The backup folder can't be used"
    assert str(folder / "none" / "backups") in detail
    assert remedy == "Make the folder, connect the disk or share it lies on, or choose another."
    assert not (folder / "none").exists()
    register.close()
    title, detail, remedy = _said(lambda: _opened(folder / "none" / "register.db"))
    assert (title, remedy) == ("There is no register", "Check the path, or make a new register there.")
    title, detail, remedy = _said(lambda: preview_restore(path, folder / "none" / "backup.db"))
    assert title == "There is no such file"
    assert remedy == "Check the path, and whether the folder is there."


def test_that_a_missing_second_folder_is_told_and_stops_nothing(path: Path, folder: Path) -> None:
    register = open_register(path)
    done = back_up(register, "on closing", at=NOW, second=folder / "stick")
    register.close()
    assert done.path is not None
    assert (done.made, done.second, is_sound(done.path)) == (True, None, True)
    (fault,) = done.faults
    assert fault.title == "The second backup folder is not there"
    assert str(folder / "stick") in fault.detail
    assert f"The backup itself is whole: {done.path}" in fault.detail
    assert fault.remedy.startswith("Connect the disk or share it lies on")
    assert not (folder / "stick").exists()


def test_that_a_second_folder_that_takes_no_files_is_told_and_nothing_is_left_in_it(
    path: Path, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stick = folder / "stick"
    stick.mkdir()

    def copyfile(source: Path, other: Path) -> None:
        other.write_bytes(source.read_bytes()[:-1])

    monkeypatch.setattr(shutil, "copyfile", copyfile)
    register = open_register(path)
    done = back_up(register, "on closing", at=NOW, second=stick)
    register.close()
    (fault,) = done.faults
    assert fault.title == "The second backup can't be written"
    assert "reads back differently" in fault.detail
    assert fault.remedy.endswith("the backup itself is whole.")
    assert list(stick.iterdir()) == []
