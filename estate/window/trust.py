"""What the window asks about trust: the trail, checkpoints, verifying and backups; a port, as `desk` is."""

from collections.abc import Sequence
from datetime import datetime
from enum import StrEnum
from pathlib import Path
from typing import Protocol

from estate.domain.progress import Progress
from estate.domain.trail import TrailPage, TrailWanted
from estate.domain.trust import Verification
from estate.errors import KnownFault
from estate.settings import Settings


class Why(StrEnum):
    """Why a backup is made."""

    CLOSING = "closing"
    BATCH = "batch"
    UNDOING = "undoing"
    BY_HAND = "by hand"


class BackedUp(Protocol):
    """What backing up came to."""

    @property
    def made(self) -> bool:
        """Whether there was something new to back up."""

    @property
    def faults(self) -> Sequence[KnownFault]:
        """What went wrong beside the backup itself."""

    @property
    def told(self) -> str:
        """All of it in a line."""


class BackupFile(Protocol):
    """A backup that lies in a folder."""

    @property
    def path(self) -> Path:
        """Where it lies."""

    @property
    def at(self) -> datetime:
        """When it was made, UTC."""

    @property
    def reason(self) -> str:
        """Why it was made."""

    @property
    def size_bytes(self) -> int:
        """Its size."""

    @property
    def entries(self) -> int | None:
        """How many ledger entries it holds; None where it can't be read."""


class RestorePreview(Protocol):
    """What restoring would change."""

    @property
    def words(self) -> Sequence[str]:
        """What would change, a line each."""

    @property
    def compared(self) -> bool:
        """False where the present file is gone or can't be read."""

    @property
    def entries(self) -> int:
        """How many ledger entries the backup holds."""

    @property
    def name(self) -> str:
        """Of the register in the backup."""


class Restored(Protocol):
    """What restoring came to."""

    @property
    def kept(self) -> Path | None:
        """The file that was there before."""

    @property
    def backup_path(self) -> Path:
        """The backup whose content is there now."""


class Trust(Protocol):
    """Everything about trust that the window can ask of one open register."""

    def verify_quick(self, afresh: bool = False) -> Verification:
        """A look that costs little, at the newest entries; the newest one is kept as seen where it fits.

        Args:
            afresh: compare with nothing that was seen before, because a backup was restored.
        """

    def verify(self, progress: Progress, kept: Sequence[str] = ()) -> Verification:
        """Walk the whole trail and compare every row; kept checkpoints are given as their text."""

    def trail(self, wanted: TrailWanted, below: int | None) -> TrailPage:
        """Entries of the trail, newest first."""

    def trail_count(self, wanted: TrailWanted) -> int:
        """How many entries are wanted."""

    def trail_people(self) -> Sequence[str]:
        """Everybody who wrote an entry."""

    def checkpoint(self, who: str) -> str:
        """Take how the trail ends now; a few lines to print or mail."""

    def leave(self, settings: Settings) -> BackedUp | None:
        """Keep the newest entry as seen, and back up if the settings say so."""

    def back_up(self, why: Why, settings: Settings) -> BackedUp:
        """Back up where anything changed, as the settings say."""


class Safe(Protocol):
    """Backups of a register that may be closed, damaged or gone; each call may run in the worker."""

    def file_of(self, where: str) -> Path | None:
        """The file of a register; None for one on a server."""

    def backups(self, path: Path, settings: Settings) -> Sequence[BackupFile]:
        """Its backups, newest first."""

    def preview(self, path: Path, backup: Path) -> RestorePreview:
        """What restoring would change; nothing is written."""

    def restore(self, path: Path, backup: Path, who: str, settings: Settings, sure: bool) -> Restored:
        """Put a backup in the place of a register that is closed; the file before is kept."""
