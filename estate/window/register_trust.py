"""Trust over the real operations."""

from collections.abc import Callable, Sequence
from datetime import datetime
from pathlib import Path
from typing import Final

from estate.domain.progress import Progress
from estate.domain.trail import TrailPage, TrailWanted
from estate.domain.trust import KnownHead, Verification
from estate.operations import back_up, browse_trail, checkpoints, restore_register, verify_register
from estate.operations.register import Register
from estate.settings import Settings
from estate.window.trust import Why

_REASONS: Final = {
    Why.CLOSING: back_up.CLOSING,
    Why.BATCH: back_up.BEFORE_BATCH,
    Why.UNDOING: back_up.BEFORE_UNDOING,
    Why.BY_HAND: back_up.BY_HAND,
}


class RegisterTrust:
    """Runs the operations about trust on one open register.

    Args:
        register: the open register.
        now: tells the moment, UTC.
        seen: the file of the person's profile in which the newest entry seen is kept; None keeps nothing.
    """

    def __init__(self, register: Register, now: Callable[[], datetime], seen: Path | None) -> None:
        self._register = register
        self._now = now
        self._seen = seen

    def verify_quick(self, afresh: bool = False) -> Verification:
        """A look that costs little; the newest entry is kept as seen where it fits."""
        known = None if afresh else self._known()
        return self._kept(verify_register.verify_quick(self._register, known))

    def _known(self) -> KnownHead | None:
        return checkpoints.last_seen(self._register, self._seen) if self._seen else None

    def verify(self, progress: Progress, kept: Sequence[str] = ()) -> Verification:
        """Walk the whole trail and compare every row; kept checkpoints are given as their text."""
        heads = [
            checkpoints.known_head_of(self._register, checkpoints.read_checkpoint(each)) for each in kept
        ]
        found = verify_register.verify(self._register, progress, self._known(), known_heads=heads)
        return self._kept(found)

    def _kept(self, found: Verification) -> Verification:
        if self._seen is not None:
            checkpoints.keep_seen(self._register, self._seen, found)
        return found

    def trail(self, wanted: TrailWanted, below: int | None) -> TrailPage:
        """Entries of the trail, newest first."""
        return browse_trail.trail_page(self._register, wanted, below)

    def trail_count(self, wanted: TrailWanted) -> int:
        """How many entries are wanted."""
        return browse_trail.trail_count(self._register, wanted)

    def trail_people(self) -> tuple[str, ...]:
        """Everybody who wrote an entry."""
        return browse_trail.trail_people(self._register)

    def checkpoint(self, who: str) -> str:
        """Take how the trail ends now; a few lines to print or mail."""
        taken = checkpoints.make_checkpoint(self._register, who=who, at=self._now())
        return checkpoints.checkpoint_text(taken)

    def leave(self, settings: Settings) -> back_up.BackedUp | None:
        """Keep the newest entry as seen, and back up if the settings say so."""
        if self._register.known_at is not None:
            return None  # the past is no register of its own
        self.verify_quick()
        return self.back_up(Why.CLOSING, settings) if settings.backup_on_closing else None

    def back_up(self, why: Why, settings: Settings) -> back_up.BackedUp:
        """Back up where anything changed, as the settings say."""
        return back_up.back_up_as_set(self._register, _REASONS[why], settings, at=self._now())


class RegisterSafe:
    """Backups of registers that may be closed, damaged or gone.

    Args:
        now: tells the moment, UTC.
    """

    def __init__(self, now: Callable[[], datetime]) -> None:
        self._now = now

    def file_of(self, where: str) -> Path | None:
        """The file of a register; None for one on a server."""
        return back_up.register_file(where)

    def backups(self, path: Path, settings: Settings) -> tuple[back_up.BackupFile, ...]:
        """Its backups, newest first."""
        return back_up.backups_of(path, _folder(settings))

    def preview(self, path: Path, backup: Path) -> restore_register.RestorePreview:
        """What restoring would change; nothing is written."""
        return restore_register.preview_restore(path, backup)

    def restore(
        self, path: Path, backup: Path, who: str, settings: Settings, sure: bool
    ) -> restore_register.Restored:
        """Put a backup in the place of a register that is closed; the file before is kept."""
        folder, at = _folder(settings), self._now()
        return restore_register.restore(path, backup, who=who, at=at, folder=folder, sure=sure)


def _folder(settings: Settings) -> Path | None:
    return Path(settings.backup_folder) if settings.backup_folder else None
