"""Going back to a past moment: asks for it, rebuilds the register in the worker, opens a window on it."""

from collections.abc import Callable
from datetime import datetime

from PySide6.QtWidgets import QWidget

from estate.domain.dates import moment_words
from estate.window.desk import Desk
from estate.window.dialogs.past_moment import PastMomentDialog
from estate.window.tasks import Tasks
from estate.window.translating import tr


class PastDoings:
    """Opens windows on the past.

    Args:
        tasks: where the register is rebuilt, with progress and a way to stop it.
        now: tells the moment, UTC.
        open_window: opens a window of its own on a past register.
    """

    def __init__(
        self, tasks: Tasks, now: Callable[[], datetime], open_window: Callable[[Desk], None]
    ) -> None:
        self._tasks = tasks
        self._now = now
        self._open_window = open_window

    def ask(self, desk: Desk, parent: QWidget) -> None:
        """Ask for a moment, then show what was known at it."""
        dialog = PastMomentDialog(self._now(), parent)
        dialog.given.connect(lambda moment: self._go(desk, moment))
        dialog.show_modal()

    def _go(self, desk: Desk, moment: datetime) -> None:
        self._tasks.run_long(
            tr("Going back to {moment}", moment=moment_words(moment)),
            lambda progress: desk.as_known_at(moment, progress),
            self._open_window,
        )
