"""Backing up before something is done; where that fails the person is asked, and nothing is lost silently."""

from collections.abc import Callable

from PySide6.QtWidgets import QWidget

from estate.domain.progress import Progress
from estate.errors import KnownFault
from estate.window.desk import Desk
from estate.window.dialogs.closing import NoBackupDialog
from estate.window.notices import Notices
from estate.window.preferences import Preferences
from estate.window.tasks import LongTask, Tasks
from estate.window.translating import said, tr
from estate.window.trust import BackedUp, Why

_WORDS = {Why.BATCH: said("before the batch"), Why.UNDOING: said("before undoing")}
_GO_ON = {Why.BATCH: said("Take the rows without a backup"), Why.UNDOING: said("Undo without a backup")}


class BackingUp:
    """Backs up as the person's settings say.

    Args:
        tasks: where backups are made.
        notices: where what went wrong beside them is told.
        preferences: the person's.
    """

    def __init__(self, tasks: Tasks, notices: Notices, preferences: Preferences) -> None:
        self._tasks = tasks
        self._notices = notices
        self._preferences = preferences

    def first(
        self,
        desk: Desk,
        why: Why,
        then: Callable[[], None],
        parent: QWidget,
        began: Callable[[LongTask], None] | None = None,
    ) -> None:
        """Back up, then go on; where no backup can be made the person says whether to.

        Args:
            desk: the register.
            why: what comes after.
            then: goes on.
            parent: for the question.
            began: shows the task; None leaves that to the window.
        """
        settings = self._preferences.settings
        if not settings.backup_before_batches:
            then()
            return

        def work(progress: Progress) -> BackedUp:
            return desk.trust.back_up(why, settings)

        def done(made: BackedUp) -> None:
            self.tell(made)
            then()

        def failed(error: BaseException) -> None:
            if not isinstance(error, KnownFault):
                self._notices.report(error)
                return
            dialog = NoBackupDialog(error, tr(_GO_ON[why]), parent)
            dialog.go_on_asked.connect(then)
            dialog.show_modal()

        self._tasks.run_long(tr("Backing up {when}", when=tr(_WORDS[why])), work, done, began, failed)

    def tell(self, made: BackedUp) -> None:
        """Tell what went wrong beside a backup that was made."""
        for fault in made.faults:
            self._notices.caution(fault)
