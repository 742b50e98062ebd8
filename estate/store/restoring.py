"""A backup put in the place of a register's file: all of it or nothing, and the file before is kept."""

import os
import shutil
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Final

from estate.domain.phrases import phrase
from estate.errors import RegisterFault
from estate.store import backup
from estate.store.faults import is_in_use, told_plainly
from estate.store.schema import RegisterRow
from estate.store.standing import Standing, opened, standing, standing_of, unsound
from estate.store.transaction import writing
from estate.store.upgrade import known_revisions, open_existing

BESIDE: Final = ("-wal", "-shm", "-journal")
_ALONE_S = 1.0


def checked(backup_path: Path) -> Standing:
    """How a backup stands, once it is proved whole and of a revision that this program knows.

    Raises:
        RegisterFault: it is missing, no register, damaged, or newer than the program.
    """
    other = phrase("Choose another backup; nothing was changed.")
    with opened(backup_path) as connection:
        if said := unsound(connection):
            raise RegisterFault("The backup is damaged", f"{backup_path}: {said}.", other)
        stands = standing(connection, backup_path)
    if stands.revision not in known_revisions():
        newest = known_revisions()[-1]
        detail = phrase(
            "{backup_path} has revision {revision}; this program knows up to {newest}.",
            backup_path=backup_path,
            revision=stands.revision,
            newest=newest,
        )
        remedy = phrase(
            "Install the newest version of the program and restore with that; nothing was changed."
        )
        raise RegisterFault("The backup is newer than this program", detail, remedy)
    return stands


def present(path: Path) -> Standing | None:
    """How the register that lies there now stands; None where it is gone or too damaged to tell.

    Raises:
        RegisterFault: it is in use.
    """
    try:
        return standing_of(path)
    except RegisterFault as fault:
        if is_in_use(fault):
            raise
        return None


def kept(path: Path, folder: Path, at: datetime, reason: str) -> tuple[Path, bool]:
    """Keep the file that is there now: as a backup, or as it lies where it is damaged.

    Returns:
        The kept file, and whether it is a whole backup.

    Raises:
        RegisterFault: it can be kept neither way; nothing was changed.
    """
    if present(path) is not None:
        with suppress(RegisterFault):
            return backup.back_up(path, folder, at, reason), True
    return _as_it_lies(path, folder, at), False


def _as_it_lies(path: Path, folder: Path, at: datetime) -> Path:
    copy = folder / f"{path.stem} kept as it was {at.astimezone(UTC):%Y%m%dT%H%M%SZ}{path.suffix}"
    made: list[Path] = []
    try:
        folder.mkdir(exist_ok=True)
        for suffix in (*BESIDE, ""):
            source = path.with_name(path.name + suffix)
            if source.is_file():
                made.append(copy.with_name(copy.name + suffix))
                shutil.copyfile(source, made[-1])
                backup.settle(made[-1])
    except OSError as error:
        for each in made:
            each.unlink(missing_ok=True)
        remedy = phrase("Make room, or choose another folder for backups; nothing was changed.")
        raise RegisterFault("The present file can't be kept", f"{copy}: {error.strerror}.", remedy) from error
    return copy


def put_back(
    path: Path, backup_path: Path, stood: Standing | None, *, who: str, at: datetime, why: str
) -> Standing:
    """Make a copy of a backup with a ledger entry of its own, and put it in the place of the register's file.

    Args:
        path: the register's file.
        backup_path: a backup, see `checked`.
        stood: how the present file stood when it was kept.
        who, at, why: for the ledger.

    Returns:
        How the register stands afterwards.

    Raises:
        RegisterFault: the register is in use or was changed meanwhile, or the copy can't be made; the
            present file is as it was.
    """
    part = path.with_name(f"{path.name}.restoring{backup.PART}")
    _clear(part)
    try:
        with told_plainly(str(part)):
            shutil.copyfile(backup_path, part)
            _enter(part, f"restored from {backup_path.name}", who, at, why)
            stands = _stand_alone(part)
        if path.is_file():
            shutil.copymode(path, part)
        backup.settle(part)
        _replace(path, part, stood)
        backup.settle(path.parent)
    except OSError as error:
        remedy = phrase("Make room, or ask for the right to write in the folder; the register is as it was.")
        raise RegisterFault("The backup can't be put back", f"{path}: {error.strerror}.", remedy) from error
    finally:
        _clear(part)
    return stands


def _clear(part: Path) -> None:
    for suffix in ("", *BESIDE):
        with suppress(OSError):
            part.with_name(part.name + suffix).unlink(missing_ok=True)


def _enter(part: Path, what: str, who: str, at: datetime, why: str) -> None:
    database = open_existing(part, is_copy=True)
    try:
        with database.reading() as session:
            name = session.get_one(RegisterRow, 1).name
        with writing(database, who, what, at, why=why) as tx:
            tx.amend(RegisterRow, 1, name=name)
    finally:
        database.close()


def _stand_alone(part: Path) -> Standing:
    with opened(part) as connection:
        connection.execute("PRAGMA journal_mode = DELETE")
        return standing(connection, part)


def _replace(path: Path, part: Path, stood: Standing | None) -> None:
    if stood is None:
        for suffix in BESIDE:  # or SQLite would lay the old file's log over the new file
            path.with_name(path.name + suffix).unlink(missing_ok=True)
        part.replace(path)
        return
    with alone(path) as connection:
        if standing(connection, path) != stood:
            remedy = phrase("Look at what would change and restore again; nothing was changed.")
            raise RegisterFault("The register was changed meanwhile", f"{path}.", remedy)
        if os.name == "nt":  # where an open file can't be replaced
            connection.close()
        part.replace(path)


@contextmanager
def alone(path: Path) -> Iterator[sqlite3.Connection]:
    """A connection that nobody else can read or write beside, with the log taken into the file.

    Raises:
        RegisterFault: somebody has the register open.
    """
    try:
        with opened(path, _ALONE_S) as connection:
            connection.execute("PRAGMA journal_mode = DELETE")
            connection.execute("BEGIN EXCLUSIVE")
            yield connection
    except RegisterFault as fault:
        if not is_in_use(fault):
            raise
        remedy = phrase(
            "Close it in every window and on every machine, then restore again; nothing was changed."
        )
        raise RegisterFault("The register is in use", f"{path}.", remedy) from fault
