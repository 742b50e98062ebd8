"""How registers are opened and made; the store is imported when first used, after the window shows."""

from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path

from estate.domain.progress import Progress
from estate.errors import RegisterFault
from estate.settings import Settings
from estate.window.desk import Desk
from estate.window.trust import Safe


class RegisterDoors:
    """Opens and makes registers.

    Args:
        today: tells the day by which everything is judged and planned.
        now: tells the moment kept beside entries, UTC.
        sample: gives a copy of the sample estate to look round in.
        settings: the person's, as they are now.
        seen: the file of the profile in which the newest entry seen is kept; None keeps nothing.
    """

    def __init__(
        self,
        today: Callable[[], date],
        now: Callable[[], datetime],
        sample: Callable[[Progress], Path],
        settings: Callable[[], Settings],
        seen: Path | None = None,
    ) -> None:
        self._today = today
        self._now = now
        self._sample = sample
        self._settings = settings
        self._seen = seen
        self._passwords: dict[str, str] = {}

    def address(self, where: str) -> str:
        """Where a register lies, without a password; nothing where that is no address at all."""
        from estate.operations.open_register import part_address  # noqa: PLC0415 - after the window shows

        try:
            return part_address(where)[0]
        except RegisterFault:
            return ""

    def open(self, where: str, password: str = "") -> Desk:
        """Open a register; an older one is backed up and brought up to date.

        Args:
            where: a file or a server's address.
            password: for the server's login; it is remembered while the window is open, in memory alone.

        Raises:
            RegisterFault: it can't be opened.
        """
        from estate.operations.open_register import (  # noqa: PLC0415 - after the window shows
            open_register,
            part_address,
        )
        from estate.window.register_desk import RegisterDesk  # noqa: PLC0415 - after the window shows

        folder = self._settings().backup_folder
        address, within = part_address(where)
        given = password or within or self._passwords.get(address, "")
        register = open_register(address, backups=Path(folder) if folder else None, password=given)
        if given:
            self._passwords[address] = given
        return RegisterDesk(register, address, self._today, self._now, self._seen)

    def make(self, where: Path, name: str, who: str) -> Desk:
        """Make an empty register.

        Raises:
            RegisterFault: it can't be made there.
        """
        from estate.operations.open_register import new_register  # noqa: PLC0415 - after the window shows
        from estate.window.register_desk import RegisterDesk  # noqa: PLC0415 - after the window shows

        register = new_register(where, name, at=self._now(), who=who)
        return RegisterDesk(register, str(where), self._today, self._now, self._seen)

    def sample(self, progress: Progress) -> Desk:
        """Open a copy of the sample estate."""
        return self.open(str(self._sample(progress)))

    @property
    def safe(self) -> Safe:
        """Backups of registers, and restoring from them."""
        from estate.window.register_trust import RegisterSafe  # noqa: PLC0415 - after the window shows

        return RegisterSafe(self._now)
