"""A copy of a register that can be opened, made while the register may be in use."""

import sqlite3
from contextlib import closing
from datetime import UTC, datetime
from pathlib import Path

from estate.errors import RegisterFault
from estate.store.faults import told_plainly


def back_up(database_path: Path, folder: Path, at: datetime | None = None) -> Path:
    """Copy a register's file through SQLite's backup and prove that the copy is whole.

    Args:
        database_path: the register; others may have it open.
        folder: where the copy goes.
        at: the moment that the copy's name tells; now if None.

    Returns:
        The copy, such as ``estate backup 20261125T093000Z.db``.

    Raises:
        RegisterFault: the register can't be read, or the copy can't be written or is not whole; a copy
            that is not whole is not kept.
    """
    if not database_path.is_file():
        remedy = "Check the path; a register that was moved has to be opened where it is now."
        raise RegisterFault("There is no register to back up", f"{database_path}.", remedy)
    copy = _free_name(database_path, folder, at or datetime.now(UTC))
    part = copy.with_name(copy.name + ".part")
    try:
        with told_plainly(f"{database_path} to {copy}"):
            _copy(database_path, part)
            _verify(database_path, part)
        part.replace(copy)
    except OSError as error:
        remedy = "Choose a folder that you may write in."
        raise RegisterFault("The backup can't be written", f"{copy}: {error.strerror}.", remedy) from error
    finally:
        part.unlink(missing_ok=True)
    return copy


def _free_name(database_path: Path, folder: Path, at: datetime) -> Path:
    stem = f"{database_path.stem} backup {at.astimezone(UTC):%Y%m%dT%H%M%SZ}"
    copy = folder / f"{stem}{database_path.suffix}"
    number = 2
    while copy.exists():
        copy = folder / f"{stem} {number}{database_path.suffix}"
        number += 1
    return copy


def _copy(database_path: Path, part: Path) -> None:
    # Opened for writing, or SQLite would leave the log's files beside the register.
    source = f"{database_path.absolute().as_uri()}?mode=rw"
    with closing(sqlite3.connect(source, uri=True)) as register, closing(sqlite3.connect(part)) as copy:
        register.backup(copy)
        # A copy stands alone: no write-ahead log beside it that could be left behind when it is moved.
        copy.execute("PRAGMA journal_mode = DELETE")


def _verify(database_path: Path, part: Path) -> None:
    with closing(sqlite3.connect(part)) as copy:
        said = copy.execute("PRAGMA integrity_check").fetchone()[0]
        if said == "ok" and copy.execute("PRAGMA foreign_key_check").fetchone() is not None:
            said = "rows point to rows that are not there"
    if said != "ok":
        remedy = "Keep the register as it is and go on from an earlier backup."
        raise RegisterFault("The register is damaged", f"{database_path}: {said}.", remedy)
