"""How a window comes to a register: new, opened, on a server, the sample; how it leaves one for another."""

from collections.abc import Callable
from typing import Final

from PySide6.QtWidgets import QWidget

from estate.errors import KnownFault
from estate.window.desk import Desk, Doors
from estate.window.doings import Doings
from estate.window.preferences import Preferences
from estate.window.showing import Showing
from estate.window.tasks import Tasks
from estate.window.translating import tr
from estate.window.windows_flow import WindowsFlow

MOST_REGISTERS: Final = 8
"""So many registers opened of late are offered."""


class OpeningFlow:
    """Opens registers for one window.

    Args:
        window: under dialogs.
        showing: where the register is sat down at.
        tasks: where it is opened.
        doors: how registers are opened and made.
        doings: ask which one.
        preferences: what was opened of late.
        windows: the others, which may show it already.
        not_opened: tells why a file was not opened.
        leave: what else of the window must know that another register comes.
    """

    def __init__(
        self,
        *,
        window: QWidget,
        showing: Showing,
        tasks: Tasks,
        doors: Doors,
        doings: Doings,
        preferences: Preferences,
        windows: WindowsFlow,
        not_opened: Callable[[str, BaseException], None],
        leave: Callable[[Desk | None], None],
    ) -> None:
        self._window, self._showing, self._tasks = window, showing, tasks
        self._doors, self._doings, self._preferences = doors, doings, preferences
        self._windows, self._not_opened, self._leave = windows, not_opened, leave
        start = showing.pages.start
        start.sample_asked.connect(self._on_sample)
        start.new_asked.connect(self._on_new)
        start.open_asked.connect(self._on_open)
        start.late_asked.connect(self.open)

    def runs(self) -> dict[str, Callable[[], None]]:
        """What the actions run."""
        return {
            "new": self._on_new,
            "open": self._on_open,
            "connect": self._on_connect,
            "sample": self._on_sample,
        }

    def seat(self, desk: Desk | None) -> None:
        """Show a register, or none."""
        self._leave(desk)
        self._showing.seat(desk)
        if desk is None:
            self._showing.pages.start.tell_late(self._preferences.settings.registers)
            return
        self._windows.seated(desk)
        others = [each for each in self._preferences.settings.registers if each != desk.where]
        self._preferences.change(register=desk.where, registers=[desk.where, *others][:MOST_REGISTERS])

    def open(self, where: str) -> None:
        """Open a register in the worker, then show it; one that another window shows is shared with it."""
        shared = self._windows.desk_at(where)
        if shared is not None:
            self.seat(shared)
            return
        if self._showing.desk is None:
            self._showing.pages.start.tell_opening(where)
        self._tasks.run(
            lambda: self._doors.open(where),
            self.seat,
            lambda error: self._on_not_opened(where, error),
        )

    def _on_not_opened(self, where: str, error: BaseException) -> None:
        if self._showing.desk is None:
            self._showing.pages.start.tell(None)
            self._showing.pages.start.tell_late(self._preferences.settings.registers)
        if "://" in where and isinstance(error, KnownFault):
            told = f"{error.title}. {error.detail} {error.remedy}"
            self._doings.connect(self._doors, self.seat, self._window, self._doors.address(where), told)
        else:
            self._not_opened(where, error)

    def _on_new(self) -> None:
        self._doings.make_register(self._doors, self.seat, self._window)

    def _on_open(self) -> None:
        self._doings.choose_register(self.open, self._window)

    def _on_connect(self) -> None:
        last = self._preferences.settings.register
        self._doings.connect(self._doors, self.seat, self._window, last if "://" in last else "")

    def _on_sample(self) -> None:
        self._tasks.run_long(tr("Opening the sample estate"), self._doors.sample, self.seat)
