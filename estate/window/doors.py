"""How registers are opened and made; the store is imported when first used, after the window shows."""

from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path

from estate.window.desk import Desk


class RegisterDoors:
    """Opens and makes registers.

    Args:
        today: tells the day by which everything is judged and planned.
        now: tells the moment kept beside entries, UTC.
        sample: gives a copy of the sample estate to look round in.
    """

    def __init__(
        self, today: Callable[[], date], now: Callable[[], datetime], sample: Callable[[], Path]
    ) -> None:
        self._today = today
        self._now = now
        self._sample = sample

    def open(self, where: str) -> Desk:
        """Open a register.

        Raises:
            RegisterFault: it can't be opened.
        """
        from estate.operations.open_register import open_register  # noqa: PLC0415 - after the window shows
        from estate.window.register_desk import RegisterDesk  # noqa: PLC0415 - after the window shows

        return RegisterDesk(open_register(where), where, self._today, self._now)

    def make(self, where: Path, name: str, who: str) -> Desk:
        """Make an empty register.

        Raises:
            RegisterFault: it can't be made there.
        """
        from estate.operations.open_register import new_register  # noqa: PLC0415 - after the window shows
        from estate.window.register_desk import RegisterDesk  # noqa: PLC0415 - after the window shows

        register = new_register(where, name, at=self._now(), who=who)
        return RegisterDesk(register, str(where), self._today, self._now)

    def sample(self) -> Desk:
        """Open a copy of the sample estate."""
        return self.open(str(self._sample()))
