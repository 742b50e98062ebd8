"""Back a register up where anything changed since, thin the old backups, and copy the new one off."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from estate.domain.phrases import phrase
from estate.domain.thinning import Aged, Keep, too_many
from estate.errors import KnownFault, RegisterFault
from estate.operations.register import Register
from estate.settings import Settings
from estate.store import backup
from estate.store.database import normal_url, sqlite_path
from estate.store.standing import standing_of

CLOSING = "on closing"
BEFORE_BATCH = "before a batch"
BEFORE_UNDOING = "before undoing"
BY_HAND = "by hand"


@dataclass(frozen=True, slots=True)
class BackupFile:
    """A backup that lies in a folder.

    Attributes:
        at: when it was made, UTC.
        reason: why it was made.
        entries: how many ledger entries it holds; None where it can't be read.
    """

    path: Path
    at: datetime
    reason: str
    size_bytes: int
    entries: int | None

    @property
    def can_be_read(self) -> bool:
        """Whether it opened when the folder was looked at; `restore_register` looks closer."""
        return self.entries is not None


@dataclass(frozen=True, slots=True)
class BackedUp:
    """What backing up came to.

    Attributes:
        path: the newest backup, opened and verified; None for a register on a server.
        made: False where nothing had changed since the newest one, or the server keeps its own.
        second: the copy in the second folder, if one is set and it could be written.
        removed: backups that had grown too old, in both folders.
        faults: what went wrong beside the backup itself (second folder, thinning); to be shown.
        told: one line for the status bar or the terminal.
    """

    path: Path | None
    made: bool
    second: Path | None
    removed: tuple[Path, ...]
    faults: tuple[KnownFault, ...]
    told: str


def back_up_as_set(register: Register, reason: str, settings: Settings, *, at: datetime) -> BackedUp:
    """Back up as the person's settings say; see `back_up`.

    Args:
        register: the open register.
        reason: `CLOSING`, `BEFORE_BATCH`, `BEFORE_UNDOING`, `BY_HAND`, or other words.
        settings: folders and how long backups are kept.
        at: now, UTC.

    Raises:
        RegisterFault: see `back_up`.
    """
    folder = Path(settings.backup_folder) if settings.backup_folder else None
    second = Path(settings.second_backup_folder) if settings.second_backup_folder else None
    keep = Keep(settings.backup_all_days, settings.backup_daily_days, settings.backup_monthly_years)
    return back_up(register, reason, at=at, folder=folder, second=second, keep=keep)


def back_up(
    register: Register,
    reason: str,
    *,
    at: datetime,
    folder: Path | None = None,
    second: Path | None = None,
    keep: Keep | None = None,
) -> BackedUp:
    """Back up a register that is kept in a file, unless its newest backup holds all of it already.

    Args:
        register: the open register; others may have it open too.
        reason: goes into the backup's name.
        at: now, UTC.
        folder: where backups go; beside the register when None.
        second: another folder that each backup is copied to; a failure there is told and stops nothing.
        keep: how long backups are kept; the usual when None.

    Raises:
        RegisterFault: the register is damaged, or the backup can't be written; nothing half-written is left.
    """
    path = sqlite_path(register.database.url)
    if path is None:
        told = "The server keeps its own backups; ask whoever looks after it."
        return BackedUp(None, False, None, (), (), told)
    into = folder or backup.backup_folder(path)
    newest = _newest_with_everything(path, into)
    copy = newest or backup.back_up(path, into, at, reason)
    faults: list[KnownFault] = []
    other = _copied_off(copy, second, faults)
    removed = [each for place in (into, second) if place for each in _thinned(path, place, at, keep, faults)]
    said = f"Nothing changed since the backup {copy.name}" if newest else f"Backed up to {copy}"
    return BackedUp(copy, newest is None, other, tuple(removed), tuple(faults), f"{said}.")


def backups_of(register: Register | Path, folder: Path | None = None) -> tuple[BackupFile, ...]:
    """The backups of a register in a folder, newest first.

    Args:
        register: open, or its file, which may be damaged or gone.
        folder: where to look; beside the register when None.

    Raises:
        RegisterFault: the folder can't be read.
    """
    path = sqlite_path(register.database.url) if isinstance(register, Register) else register
    if path is None:
        return ()
    found = backup.copies(path, folder or backup.backup_folder(path))
    return tuple(
        BackupFile(
            each.path, each.at, each.reason, each.size_bytes, each.standing.entries if each.standing else None
        )
        for each in found
    )


def register_file(where: str | Path) -> Path | None:
    """The file of a register's address; None for one on a server."""
    return sqlite_path(normal_url(where))


def _newest_with_everything(path: Path, folder: Path) -> Path | None:
    """The newest backup where it ends as the register does, so that a further one would tell nothing new."""
    newest = next(iter(backup.copies(path, folder)), None)
    if newest is None or newest.standing is None or newest.standing != standing_of(path):
        return None
    return newest.path


def _copied_off(copy: Path, second: Path | None, faults: list[KnownFault]) -> Path | None:
    if second is None:
        return None
    there = second / copy.name
    if there.is_file() and there.stat().st_size == copy.stat().st_size:
        return there
    try:
        return backup.copy_off(copy, second)
    except RegisterFault as fault:
        faults.append(fault)
        return None


def _thinned(
    path: Path, folder: Path, at: datetime, keep: Keep | None, faults: list[KnownFault]
) -> Sequence[Path]:
    """Remove what has grown too old; a backup that can't be removed is told and stops nothing."""
    removed = []
    try:
        found = {each.path.name: each for each in backup.copies(path, folder)}
        backup.clear_parts(path, folder, at)
        aged = [Aged(name, each.at, each.standing is not None) for name, each in found.items()]
        for each in too_many(aged, at, keep or Keep()):
            found[each.name].path.unlink()
            removed.append(found[each.name].path)
    except RegisterFault as fault:
        faults.append(fault)
    except OSError as error:
        remedy = phrase("Remove it yourself, or ask for the right to; the new backup is whole.")
        faults.append(RegisterFault("An old backup can't be removed", f"{folder}: {error.strerror}.", remedy))
    return removed
