import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.errors import RegisterFault
from estate.operations.back_up import back_up, backups_of
from estate.operations.keep_documents import add_document, owner_named
from estate.operations.open_register import new_register, open_register
from estate.operations.record_visit import record_visit
from estate.operations.register import Register
from estate.operations.restore_register import preview_restore, restore
from estate.operations.verify_register import verify
from estate.store import ledger, restoring, visits
from estate.store.backup import is_sound
from tests.builders import TODAY
from tests.files import PDF
from tests.operations.conftest import ASSETS, NOW, VISITS, WHO, bring

LATER = NOW + timedelta(hours=1)
OLD = Path(__file__).parent.parent / "data" / "registers" / "0001.sql"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A closed register with outlets, and a backup of it from before its visits."""
    place = tmp_path / "estate" / "register.db"
    place.parent.mkdir()
    made = new_register(place, "Marlpit Cross", at=NOW, who=WHO, identifier="mx-1")
    bring(made, tmp_path, ASSETS, "assets.csv")
    back_up(made, "before a batch", at=NOW)
    bring(made, tmp_path, VISITS, "visits.csv")
    made.close()
    return place


@pytest.fixture
def backup(path: Path) -> Path:
    """That backup."""
    (found,) = backups_of(path)
    return found.path


@pytest.fixture
def opened(path: Path) -> Iterator[Register]:
    """The register, open."""
    register = open_register(path)
    yield register
    register.close()


def _visits(path: Path) -> int:
    register = open_register(path)
    with register.database.reading() as session:
        found = len(visits.visits(session))
    assert verify(register).fits
    register.close()
    return found


def test_that_the_preview_says_what_would_be_lost_and_changes_nothing(opened: Register, backup: Path) -> None:
    preview = preview_restore(opened, backup)
    assert preview.compared
    assert (preview.name, preview.gained) == ("Marlpit Cross", ())
    lost = {each.noun: each for each in preview.lost}
    assert set(lost) == {"visit", "batch", "ledger entry"}
    assert "visits.csv" in lost["batch"].newest
    assert "A. Officer on 25 Nov 2026, 10:30 UTC" in lost["batch"].newest
    assert preview.words[0].startswith(f"The register would lose {lost['visit'].count} visits, the newest: ")
    assert "The register would lose 1 batch: visits.csv" in preview.words[1]
    assert "ledger entries, the newest: brought in visits.csv" in preview.words[2]


def test_that_a_backup_of_the_same_content_changes_nothing(opened: Register) -> None:
    newest = back_up(opened, "by hand", at=LATER).path
    assert newest is not None
    assert preview_restore(opened, newest).words == (
        "Nothing would change: the backup holds what the register holds.",
    )


def test_that_restoring_puts_the_backup_back_keeps_the_file_before_and_tells_the_ledger(
    path: Path, backup: Path
) -> None:
    had = _visits(path)
    assert had > 0
    path.chmod(0o640)
    done = restore(path, backup, who="B. Other", at=LATER)
    assert _visits(path) == 0
    assert path.stat().st_mode & 0o777 == 0o640
    assert done.kept is not None
    assert (done.kept_whole, done.register_path, done.backup_path) == (True, path, backup)
    assert _visits(done.kept) == had
    register = open_register(path)
    with register.database.reading() as session:
        last = ledger.entries(session)[-1]
    register.close()
    assert (last.who, last.at, last.what) == ("B. Other", LATER, f"restored from {backup.name}")
    assert done.kept.name in last.why
    assert last.id == done.entries
    assert sorted(each.name for each in path.parent.iterdir()) == ["register backups", "register.db"]


def test_that_restoring_can_itself_be_taken_back(path: Path, backup: Path) -> None:
    had = _visits(path)
    kept = restore(path, backup, who=WHO, at=LATER).kept
    assert kept is not None
    preview = preview_restore(path, kept)
    assert "The register would get back 1 batch: visits.csv" in "\n".join(preview.words)
    assert [each.noun for each in preview.lost] == ["ledger entry"]
    restore(path, kept, who=WHO, at=LATER + timedelta(hours=1))
    assert _visits(path) == had


def test_that_outlets_and_single_visits_are_told_too(path: Path, tmp_path: Path) -> None:
    register = open_register(path)
    before = back_up(register, "by hand", at=LATER).path
    bring(register, tmp_path, ASSETS.replace("A15-", "B-").replace("MM/", "NN/"), "more.csv")
    draft = VisitDraft(1, 1, VisitKind.IN_SERVICE, TODAY, Readings(hot_c=60.0, left_c=41.0), "A. Thorne")
    record_visit(register, draft, who="", at=LATER, today=TODAY)
    assert before is not None
    told = "\n".join(preview_restore(register, before).words)
    register.close()
    assert "lose 1 visit: in-service test of MM/" in told
    assert "on 25 Nov 2026" in told
    assert " outlets, the newest: NN/" in told
    assert "recorded a visit, by nobody named on" in told


def test_that_an_older_backup_is_compared_and_brought_up_to_date(tmp_path: Path) -> None:
    old, path = tmp_path / "old.db", tmp_path / "register.db"
    for each in (old, path):
        with closing(sqlite3.connect(each)) as connection:
            connection.executescript(OLD.read_text("utf-8"))
    open_register(path).close()
    (lost,) = preview_restore(path, old).words
    assert "ledger entries, the newest: brought up to date, by the program" in lost
    restore(path, old, who=WHO, at=LATER)
    assert _visits(path) == 7
    with closing(sqlite3.connect(old)) as connection:
        assert connection.execute("SELECT version_num FROM alembic_version").fetchone() == ("0001",)


def test_that_a_register_that_is_gone_is_restored_once_the_person_is_sure(path: Path, backup: Path) -> None:
    path.unlink()
    preview = preview_restore(path, backup)
    assert not preview.compared
    assert "can't be read" in preview.words[0]
    with pytest.raises(RegisterFault, match="can't be told whether the backup is of this register") as caught:
        restore(path, backup, who=WHO, at=LATER)
    assert "Marlpit Cross" in caught.value.detail
    assert not path.exists()
    done = restore(path, backup, who=WHO, at=LATER, sure=True)
    assert (done.kept, done.kept_whole) == (None, False)
    assert _visits(path) == 0


def test_that_a_damaged_register_is_kept_as_it_lies_with_its_log(path: Path, backup: Path) -> None:
    content = b"\x00" * 4096 + path.read_bytes()[4096:]
    path.write_bytes(content)
    path.with_name("register.db-wal").write_bytes(b"log")
    done = restore(path, backup, who=WHO, at=LATER, sure=True)
    assert done.kept is not None
    assert not done.kept_whole
    assert done.kept.read_bytes() == content
    assert done.kept.with_name(f"{done.kept.name}-wal").read_bytes() == b"log"
    assert _visits(path) == 0
    assert backups_of(path)[0].path == backup


def test_that_a_register_with_a_damaged_page_is_kept_as_it_lies(path: Path, backup: Path) -> None:
    with closing(sqlite3.connect(path)) as connection:
        query = "SELECT rootpage FROM sqlite_master WHERE name = 'visit'"
        page = connection.execute(query).fetchone()[0]
    content = bytearray(path.read_bytes())
    content[(page - 1) * 4096 : page * 4096] = b"\xa5" * 4096
    path.write_bytes(content)
    done = restore(path, backup, who=WHO, at=LATER)
    assert done.kept is not None
    assert (done.kept_whole, done.kept.read_bytes()[100:]) == (False, bytes(content[100:]))
    assert _visits(path) == 0


def test_that_the_backup_of_another_register_is_refused(path: Path, tmp_path: Path) -> None:
    other = new_register(tmp_path / "other.db", "Withy End", at=NOW, who=WHO, identifier="we-1")
    theirs = back_up(other, "by hand", at=NOW).path
    other.close()
    assert theirs is not None
    before = path.read_bytes()
    for attempt in (lambda: preview_restore(path, theirs), lambda: restore(path, theirs, who=WHO, at=NOW)):
        with pytest.raises(RegisterFault) as caught:
            attempt()
        assert caught.value.title == "The backup is of another register"
        assert "Withy End (we-1)" in caught.value.detail
        assert "Marlpit Cross (mx-1)" in caught.value.detail
    assert path.read_bytes() == before


def test_that_what_was_written_meanwhile_is_not_lost(
    path: Path, backup: Path, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    first = restoring.kept

    def kept(*given: object) -> object:
        found = first(*given)  # type: ignore[arg-type]  # handed through as it came
        register = open_register(path)
        bring(register, tmp_path, ASSETS.replace("A15-", "B-").replace("MM/", "NN/"), "more.csv")
        register.close()
        return found

    monkeypatch.setattr(restoring, "kept", kept)
    with pytest.raises(RegisterFault, match="The register was changed meanwhile"):
        restore(path, backup, who=WHO, at=LATER)
    assert _visits(path) > 0
    assert is_sound(path)


def test_that_a_server_s_register_is_not_restored_from_a_file(register: Register, tmp_path: Path) -> None:
    fault = r"on a server" if register.database.url.startswith("postgresql") else "There is no such file"
    with pytest.raises(RegisterFault, match=fault):
        preview_restore(register, tmp_path / "none.db")


def _with_document(path: Path, folder: Path) -> None:
    (folder / "certificate.pdf").write_bytes(PDF)
    register = open_register(path)
    owner = owner_named(register, "register")
    add_document(register, owner, folder / "certificate.pdf", who=WHO, at=LATER)
    register.close()


def test_that_documents_that_would_be_lost_are_told(path: Path, backup: Path, tmp_path: Path) -> None:
    _with_document(path, tmp_path)
    said = "1 document: certificate.pdf, added by A. Officer on 25 Nov 2026, 11:30 UTC"
    assert f"The register would lose {said}." in preview_restore(path, backup).words


def test_that_documents_are_told_beside_a_backup_that_knows_none(tmp_path: Path) -> None:
    old, path = tmp_path / "old.db", tmp_path / "register.db"
    for each in (old, path):
        with closing(sqlite3.connect(each)) as connection:
            connection.executescript(OLD.read_text("utf-8"))
    _with_document(path, tmp_path)
    lost = {each.noun: each for each in preview_restore(path, old).lost}
    assert (lost["document"].count, lost["document"].newest[:15]) == (1, "certificate.pdf")
