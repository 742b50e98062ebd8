"""Copies of a register, made while it may be in use, and opened and proved before they count."""

import hashlib
import os
import re
import shutil
import sqlite3
from contextlib import closing, suppress
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Final

from estate.domain.phrases import phrase
from estate.errors import RegisterFault
from estate.store.faults import is_in_use, told_plainly
from estate.store.standing import Standing, counts, opened, standing, standing_of, unsound

PART: Final = ".part"
_STAMP: Final = "%Y%m%dT%H%M%SZ"
_NAME: Final = re.compile(r"(?P<stem>.+) backup (?P<at>\d{8}T\d{6}Z)(?: (?P<reason>.+?))?(?: \(\d+\))?")
_REASON_LETTERS: Final = 40
_STALE: Final = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Copy:
    """A backup that lies in a folder.

    Attributes:
        at: when it was made, UTC, from its name.
        reason: why, from its name.
        size_bytes: of the file.
        standing: what it holds; None where it can't be read.
    """

    path: Path
    at: datetime
    reason: str
    size_bytes: int
    standing: Standing | None


def backup_folder(database_path: Path) -> Path:
    """Where the backups of a register lie unless the person chose another folder."""
    return database_path.parent / f"{database_path.stem} backups"


def back_up(database_path: Path, folder: Path, at: datetime | None = None, reason: str = "") -> Path:
    """Copy a register's file through SQLite's backup and prove that the copy is whole.

    Args:
        database_path: the register; others may have it open.
        folder: where the copy goes; made if its own folder is there.
        at: the moment that the copy's name tells; now if None.
        reason: why, for the copy's name, such as ``before an upgrade``.

    Returns:
        The copy, such as ``estate backup 20261125T093000Z before an upgrade.db``.

    Raises:
        RegisterFault: the register can't be read, or the copy can't be written or is not whole; a copy
            that is not whole is not kept.
    """
    if not database_path.is_file():
        remedy = phrase("Check the path; a register that was moved has to be opened where it is now.")
        raise RegisterFault("There is no register to back up", f"{database_path}.", remedy)
    _must_be_there(folder)
    copy = _free_name(database_path, folder, at or datetime.now(UTC), reason)
    part = copy.with_name(copy.name + PART)
    try:
        part.touch()  # or a folder that takes no files would be told as a register that can't be opened
        _copy(database_path, copy, part)
        settle(part)
        part.replace(copy)
        settle(folder)
    except OSError as error:
        raise _unwritten(copy, error) from error
    finally:
        _forget(part)
    return copy


def _must_be_there(folder: Path) -> None:
    try:
        folder.mkdir(exist_ok=True)
    except OSError as error:
        remedy = phrase("Make the folder, connect the disk or share it lies on, or choose another.")
        raise _unusable(folder, error, remedy) from error


def _unusable(folder: Path, error: OSError, remedy: str) -> RegisterFault:
    return RegisterFault("The backup folder can't be used", f"{folder}: {error.strerror}.", remedy)


def _forget(part: Path) -> None:
    for suffix in ("", "-journal", "-wal", "-shm"):
        with suppress(OSError):
            part.with_name(part.name + suffix).unlink(missing_ok=True)


def _unwritten(copy: Path, error: OSError) -> RegisterFault:
    remedy = phrase(
        "Make room, or choose a folder that you may write in; the register itself was not touched."
    )
    return RegisterFault("The backup can't be written", f"{copy}: {error.strerror}.", remedy)


def _free_name(database_path: Path, folder: Path, at: datetime, reason: str) -> Path:
    said = " ".join(re.sub(r"[^\w-]+", " ", reason).split())[:_REASON_LETTERS].strip()
    stem = f"{database_path.stem} backup {at.astimezone(UTC).strftime(_STAMP)} {said}".strip()
    copy = folder / f"{stem}{database_path.suffix}"
    number = 2
    while copy.exists():
        copy = folder / f"{stem} ({number}){database_path.suffix}"
        number += 1
    return copy


def _copy(database_path: Path, copy: Path, part: Path) -> None:
    """Copy, and compare with the state that was copied: revision, rows of each table, end of the ledger."""
    with opened(database_path) as register:
        register.execute("BEGIN")
        stood = (standing(register, database_path), counts(register))
        with told_plainly(f"{database_path} to {copy}"), closing(sqlite3.connect(part)) as made:
            register.backup(made)
            # A copy stands alone: no write-ahead log beside it that could be left behind when it is moved.
            made.execute("PRAGMA journal_mode = DELETE")
    with opened(part) as made:
        said = unsound(made)
        if not said and (standing(made, part), counts(made)) != stood:
            said = phrase("its copy does not hold what it holds")
    if said:
        remedy = phrase("Keep the register as it is and go on from an earlier backup.")
        raise RegisterFault(
            "The register is damaged",
            phrase("{database_path}: {said}.", database_path=database_path, said=said),
            remedy,
        )


def settle(path: Path) -> None:
    """Have the disk keep a file, or the names in a folder, before going on.

    Raises:
        OSError: the disk refuses.
    """
    if path.is_dir() and os.name == "nt":
        return  # Windows keeps names by itself and opens no folder
    handle = os.open(path, os.O_RDONLY if path.is_dir() else os.O_RDWR)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def copies(database_path: Path, folder: Path) -> list[Copy]:
    """The backups of a register in a folder, newest first.

    Those of another register of the same file name are left out; one that can't be read is told as such.

    Raises:
        RegisterFault: the folder can't be read, or the register is in use by somebody who is writing.
    """
    identifier = _identifier(database_path)
    try:
        files = sorted(folder.iterdir()) if folder.is_dir() else []
    except OSError as error:
        raise _unusable(folder, error, "Ask for the right to read the folder.") from error
    named = [(each, _NAME.fullmatch(each.stem)) for each in files if each.suffix == database_path.suffix]
    found = [_read(path, name) for path, name in named if name and name["stem"] == database_path.stem]
    ours = [each for each in found if identifier in (None, _told(each)) or each.standing is None]
    return sorted(ours, key=lambda each: (each.at, each.path.name), reverse=True)


def _told(copy: Copy) -> str | None:
    return copy.standing.identifier if copy.standing else None


def _identifier(database_path: Path) -> str | None:
    try:
        return standing_of(database_path).identifier
    except RegisterFault as fault:
        if is_in_use(fault):
            raise
        return None


def _read(path: Path, name: re.Match[str]) -> Copy:
    try:
        stands: Standing | None = standing_of(path)
    except RegisterFault:
        stands = None
    at = datetime.strptime(name["at"], _STAMP).replace(tzinfo=UTC)
    return Copy(path, at, name["reason"] or "", path.stat().st_size, stands)


def is_sound(path: Path) -> bool:
    """Whether a backup opens and is whole, every page and every row's place."""
    try:
        with opened(path) as connection:
            standing(connection, path)
            return not unsound(connection)
    except RegisterFault:
        return False


def copy_off(copy: Path, folder: Path) -> Path:
    """Copy a backup to a second folder and compare the bytes.

    Args:
        copy: a backup.
        folder: another disk or a share; it must be there, so that a disk that is away is noticed.

    Raises:
        RegisterFault: the folder is not there, or can't be written; nothing is left in it then.
    """
    other = folder / copy.name
    part = folder / (copy.name + PART)
    if not folder.is_dir():
        remedy = phrase("Connect the disk or share it lies on, or choose another folder in the settings.")
        detail = phrase("{folder}. The backup itself is whole: {copy}.", folder=folder, copy=copy)
        raise RegisterFault("The second backup folder is not there", detail, remedy)
    try:
        shutil.copyfile(copy, part)
        settle(part)
        if _digest(part) != _digest(copy):
            raise OSError(0, "what was written reads back differently")
        part.replace(other)
    except OSError as error:
        remedy = phrase(
            "Make room there, or choose a folder that you may write in; the backup itself is whole."
        )
        raise RegisterFault(
            "The second backup can't be written", f"{other}: {error.strerror}.", remedy
        ) from error
    finally:
        _forget(part)
    return other


def _digest(path: Path) -> str:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def clear_parts(database_path: Path, folder: Path, now: datetime) -> None:
    """Remove what a backup that was cut off left behind, a day later; until then it may be being written."""
    for part in folder.glob(f"*{PART}*"):
        if not part.name.startswith(f"{database_path.stem} backup "):
            continue
        with suppress(OSError):
            if now - datetime.fromtimestamp(part.stat().st_mtime, UTC) > _STALE:
                part.unlink()
