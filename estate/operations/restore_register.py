"""Restore a register from a backup, after showing what that would change."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from estate.domain.phrases import phrase
from estate.errors import RegisterFault
from estate.operations.register import Register
from estate.store import backup, restoring
from estate.store.database import sqlite_path
from estate.store.differing import Only, differences
from estate.store.standing import Standing

_PLURALS = {"batch": "batches", "ledger entry": "ledger entries"}


@dataclass(frozen=True, slots=True)
class RestorePreview:
    """What restoring would change.

    Attributes:
        name: of the register in the backup.
        entries: how many ledger entries the backup holds.
        lost: what the register has and the backup has not.
        gained: what the backup has and the register has not.
        compared: False where the present file is gone or so damaged that it can't be read.
    """

    register_path: Path
    backup_path: Path
    name: str
    entries: int
    lost: tuple[Only, ...]
    gained: tuple[Only, ...]
    compared: bool

    @property
    def words(self) -> tuple[str, ...]:
        """What would change, a line each."""
        if not self.compared:
            return ("The present file can't be read, so the two can't be compared; it is kept as it lies.",)
        if not (self.lost or self.gained):
            return ("Nothing would change: the backup holds what the register holds.",)
        return (
            *(f"The register would lose {_told(each)}." for each in self.lost),
            *(f"The register would get back {_told(each)}." for each in self.gained),
        )


@dataclass(frozen=True, slots=True)
class Restored:
    """What restoring came to.

    Attributes:
        kept: the file that was there before: a backup, or a copy of it as it lay; None where none was.
        kept_whole: whether that is a backup that can be restored in its turn.
        entries: ledger entries now, with the one that tells of the restoring.
    """

    register_path: Path
    backup_path: Path
    kept: Path | None
    kept_whole: bool
    entries: int


def _told(only: Only) -> str:
    if only.count == 1:
        return f"1 {only.noun}: {only.newest}"
    return f"{only.count} {_PLURALS.get(only.noun, only.noun + 's')}, the newest: {only.newest}"


def preview_restore(register: Register | Path, backup_path: Path) -> RestorePreview:
    """What restoring would change; nothing is written.

    Args:
        register: open, or its file, which may be damaged or gone.
        backup_path: a backup of it.

    Raises:
        RegisterFault: the register is on a server, or the backup is missing, damaged, of another register
            or newer than the program.
    """
    path = sqlite_path(register.database.url) if isinstance(register, Register) else register
    if path is None:
        remedy = phrase("Ask whoever looks after the server to restore the server's own backup.")
        raise RegisterFault(
            "This register is on a server",
            phrase("{backup_path} was not looked at.", backup_path=backup_path),
            remedy,
        )
    stands, stood = restoring.checked(backup_path), restoring.present(path)
    _must_be_the_same(path, backup_path, stood, stands)
    lost, gained = differences(path, backup_path) if stood else ((), ())
    return RestorePreview(path, backup_path, stands.name, stands.entries, lost, gained, stood is not None)


def restore(
    register_path: Path,
    backup_path: Path,
    *,
    who: str,
    at: datetime,
    folder: Path | None = None,
    sure: bool = False,
) -> Restored:
    """Put a backup in the place of a register; the file before is kept first, and the ledger tells of it.

    Close the register before, here and everywhere.

    Args:
        register_path: the register's file, which may be damaged or gone.
        backup_path: a backup of it.
        who: who restores.
        at: now, UTC.
        folder: where the file before is kept; beside the register when None.
        sure: True once the person has said that the backup is of this register, where the present file
            can't tell.

    Raises:
        RegisterFault: the backup is missing, damaged, of another register or newer than the program; the
            register is in use; or there is no room. The register is as it was.
    """
    stands, stood = restoring.checked(backup_path), restoring.present(register_path)
    _must_be_the_same(register_path, backup_path, stood, stands)
    if stood is None and not sure:
        detail = phrase(
            "{register_path} is gone or damaged, and the backup is of {name}.",
            register_path=register_path,
            name=stands.name,
        )
        remedy = phrase("Say that the backup is of this register, then restore again; nothing was changed.")
        raise RegisterFault("It can't be told whether the backup is of this register", detail, remedy)
    if stood is not None:
        with restoring.alone(register_path):
            pass  # found out before anything is copied
    into = folder or backup.backup_folder(register_path)
    kept, whole = None, False
    if register_path.exists():
        kept, whole = restoring.kept(register_path, into, at, "before restoring")
    why = f"the file before is kept as {kept.name}" if kept else "the register's file was gone"
    now = restoring.put_back(register_path, backup_path, stood, who=who, at=at, why=why)
    return Restored(register_path, backup_path, kept, whole, now.entries)


def _must_be_the_same(path: Path, backup_path: Path, stood: Standing | None, stands: Standing) -> None:
    if stood is not None and stood.identifier != stands.identifier:
        detail = phrase(
            "{backup_path} is of {name} ({identifier}), {path} is {stood_name}",
            backup_path=backup_path,
            name=stands.name,
            identifier=stands.identifier,
            path=path,
            stood_name=stood.name,
        )
        remedy = phrase(
            "Choose a backup of this register, or open that one under another name; nothing was changed."
        )
        raise RegisterFault(
            "The backup is of another register",
            phrase("{detail} ({identifier}).", detail=detail, identifier=stood.identifier),
            remedy,
        )
