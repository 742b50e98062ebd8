import sqlite3
from collections.abc import Iterator
from contextlib import closing
from datetime import timedelta
from pathlib import Path

import pytest

from estate.domain.thinning import Keep
from estate.errors import RegisterFault
from estate.operations.back_up import (
    BEFORE_BATCH,
    BackedUp,
    back_up,
    back_up_as_set,
    backups_of,
    register_file,
)
from estate.operations.open_register import new_register, open_register
from estate.operations.register import Register
from estate.settings import Settings
from estate.store import backup, places
from estate.store.backup import is_sound
from tests.operations.conftest import ASSETS, NOW, VISITS, WHO, bring

DAY = timedelta(days=1)


@pytest.fixture
def kept(tmp_path: Path) -> Iterator[Register]:
    """A register in a file of its own folder."""
    folder = tmp_path / "estate"
    folder.mkdir()
    made = new_register(folder / "register.db", "Marlpit Cross", at=NOW, who=WHO, identifier="mx-1")
    yield made
    made.close()


def _path(register: Register) -> Path:
    path = register_file(register.database.url)
    assert path is not None
    return path


def _days(register: Register, tmp_path: Path, *days: float) -> list[BackedUp]:
    """A backup so many days ago each, each after a change."""
    found = []
    for number, day in enumerate(days):
        bring(register, tmp_path, ASSETS.replace("A15-", f"S{number}-").replace("MM/", f"M{number}/"))
        found.append(back_up(register, "on closing", at=NOW - day * DAY))
    return found


def test_that_a_backup_tells_register_moment_and_reason_and_can_be_opened(
    kept: Register, tmp_path: Path
) -> None:
    bring(kept, tmp_path, ASSETS)
    done = back_up(kept, BEFORE_BATCH, at=NOW)
    path = tmp_path / "estate" / "register backups" / "register backup 20261125T103000Z before a batch.db"
    assert (done.path, done.made, done.faults) == (path, True, ())
    assert str(path) in done.told
    assert is_sound(path)
    opened = open_register(path)
    with opened.database.reading() as session:
        assert len(places.outlets(session)) == 5
    opened.close()
    (found,) = backups_of(kept)
    assert (found.path, found.at, found.reason) == (path, NOW, "before a batch")
    assert found.can_be_read
    assert found.size_bytes == path.stat().st_size


def test_that_nothing_is_backed_up_twice(kept: Register, tmp_path: Path) -> None:
    first = back_up(kept, "on closing", at=NOW)
    second = back_up(kept, "on closing", at=NOW + DAY)
    assert (second.path, second.made) == (first.path, False)
    assert "Nothing changed" in second.told
    bring(kept, tmp_path, ASSETS)
    assert back_up(kept, "on closing", at=NOW + DAY).made
    assert len(backups_of(kept)) == 2


def test_that_a_newest_backup_that_can_not_be_read_is_made_again(kept: Register) -> None:
    first = back_up(kept, "on closing", at=NOW)
    assert first.path is not None
    first.path.write_bytes(b"cut off")
    again = back_up(kept, "on closing", at=NOW + timedelta(minutes=1))
    assert again.made
    assert [each.can_be_read for each in backups_of(kept)] == [True, False]


def test_that_two_backups_of_one_second_and_reason_both_stay(kept: Register, tmp_path: Path) -> None:
    back_up(kept, "by hand: before / after?", at=NOW)
    bring(kept, tmp_path, ASSETS)
    back_up(kept, "by hand: before / after?", at=NOW)
    found = backups_of(kept)
    assert [each.reason for each in found] == ["by hand before after", "by hand before after"]
    assert len({each.path for each in found}) == 2


def test_that_old_backups_are_thinned_and_others_files_left_alone(kept: Register, tmp_path: Path) -> None:
    folder = tmp_path / "estate" / "register backups"
    early, late = _days(kept, tmp_path, 40.1, 40)
    stray = folder / "letter.db"
    stray.write_text("Dear all")
    assert late.removed == ()
    bring(kept, tmp_path, VISITS.replace("MM/", "M0/"), "visits.csv")
    newest = back_up(kept, "on closing", at=NOW)
    assert newest.made
    assert newest.removed == (early.path,)
    assert {each.path for each in backups_of(kept)} == {late.path, newest.path}
    assert stray.exists()


def test_that_the_backups_of_another_register_of_the_same_name_are_not_touched(
    kept: Register, tmp_path: Path
) -> None:
    shared = tmp_path / "shared"
    other = new_register(tmp_path / "register.db", "Withy End", at=NOW, who=WHO, identifier="we-1")
    theirs = back_up(other, "on closing", at=NOW - 400 * DAY, folder=shared)
    own = back_up(kept, "on closing", at=NOW, folder=shared, keep=Keep(0, 0, 0))
    assert own.removed == ()
    assert [each.path for each in backups_of(kept, shared)] == [own.path]
    assert [each.path for each in backups_of(other, shared)] == [theirs.path]
    other.close()


def test_that_each_backup_is_copied_to_a_second_folder_and_thinned_there(
    kept: Register, tmp_path: Path
) -> None:
    second = tmp_path / "stick"
    second.mkdir()
    settings = Settings(
        backup_folder=str(tmp_path / "first"),
        second_backup_folder=str(second),
        backup_all_days=0,
        backup_daily_days=0,
        backup_monthly_years=0,
    )
    done = back_up_as_set(kept, "on closing", settings, at=NOW)
    assert done.path is not None
    assert done.second == second / done.path.name
    assert done.second.read_bytes() == done.path.read_bytes()
    bring(kept, tmp_path, ASSETS)
    again = back_up_as_set(kept, "on closing", settings, at=NOW + timedelta(minutes=1))
    assert set(again.removed) == {done.path, done.second}
    assert back_up_as_set(kept, "on closing", settings, at=NOW + DAY).second == again.second
    assert backups_of(kept) == ()


def test_that_a_second_folder_that_came_late_gets_the_newest(kept: Register, tmp_path: Path) -> None:
    first = back_up_as_set(kept, "on closing", Settings(), at=NOW)
    later = back_up(kept, "on closing", at=NOW, second=tmp_path)
    assert first.path is not None
    assert (later.made, later.second) == (False, tmp_path / first.path.name)


def test_that_what_a_killed_backup_left_goes_a_day_later(kept: Register, tmp_path: Path) -> None:
    folder = tmp_path / "estate" / "register backups"
    back_up(kept, "on closing", at=NOW)
    part, other = folder / "register backup 20261124T000000Z.db.part", folder / "letter.part"
    part.touch()
    other.touch()
    written = part.stat().st_mtime
    soon, later = (NOW.fromtimestamp(written + hours * 3600, NOW.tzinfo) for hours in (23, 25))
    back_up(kept, "on closing", at=soon)
    assert part.exists()
    back_up(kept, "on closing", at=later)
    assert (part.exists(), other.exists()) == (False, True)


def test_that_a_register_of_a_server_is_left_to_the_server(register: Register) -> None:
    path = register_file(register.database.url)
    done = back_up(register, "on closing", at=NOW)
    if path is None:
        assert (done.path, done.made, backups_of(register)) == (None, False, ())
        assert "server keeps its own" in done.told
    else:
        assert backups_of(path)[0].path == done.path
    assert register_file("postgresql://officer@server/estate") is None


def test_that_a_copy_that_differs_from_the_register_does_not_count(
    kept: Register, monkeypatch: pytest.MonkeyPatch
) -> None:
    def counts(connection: sqlite3.Connection, taken: list[int] = []) -> dict[str, int]:  # noqa: B006
        taken.append(1)
        return {"visit": len(taken)}

    monkeypatch.setattr(backup, "counts", counts)
    with pytest.raises(RegisterFault, match="its copy does not hold what it holds"):
        back_up(kept, "on closing", at=NOW)
    assert list(backup.backup_folder(_path(kept)).iterdir()) == []


def test_that_a_backup_with_a_row_that_points_nowhere_is_not_sound(kept: Register, tmp_path: Path) -> None:
    bring(kept, tmp_path, ASSETS)
    bring(kept, tmp_path, VISITS, "visits.csv")
    path = back_up(kept, "on closing", at=NOW).path
    assert path is not None
    with closing(sqlite3.connect(path)) as connection:
        connection.execute("UPDATE outlet SET room_id = 99")
        connection.commit()
    assert not is_sound(path)
    assert not is_sound(path.with_name("none.db"))


def test_that_an_old_backup_that_can_not_be_removed_is_told(
    kept: Register, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _days(kept, tmp_path, 40.1, 40)
    bring(kept, tmp_path, VISITS.replace("MM/", "M0/"), "visits.csv")

    def unlink(path: Path, missing_ok: bool = False) -> None:
        if path.suffix == ".db":
            raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "unlink", unlink)
    newest = back_up(kept, "on closing", at=NOW)
    (fault,) = newest.faults
    assert fault.title == "An old backup can't be removed"
    assert "Permission denied" in fault.detail


def test_that_a_second_folder_that_can_not_be_looked_into_is_told(
    kept: Register, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    stick = tmp_path / "stick"
    stick.mkdir()
    iterdir = Path.iterdir

    def refusing(path: Path) -> Iterator[Path]:
        if path == stick:
            raise PermissionError(13, "Permission denied")
        return iterdir(path)

    monkeypatch.setattr(Path, "iterdir", refusing)
    done = back_up(kept, "on closing", at=NOW, second=stick)
    (fault,) = done.faults
    assert done.made
    assert done.second is not None
    assert fault.title == "The backup folder can't be used"
    assert str(stick) in fault.detail
