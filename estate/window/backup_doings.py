"""What is done about the backups of a register: listed, made, restored; also of one that does not open."""

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtWidgets import QWidget

from estate.domain.progress import Progress
from estate.errors import RegisterFault
from estate.window.backing_up import BackingUp
from estate.window.desk import Desk
from estate.window.dialogs.asking import Asking
from estate.window.dialogs.backups import BackupsDialog
from estate.window.dialogs.restoring import RestoreDialog
from estate.window.notices import Notices
from estate.window.preferences import Preferences
from estate.window.tasks import Tasks
from estate.window.translating import tr
from estate.window.trust import BackedUp, BackupFile, Restored, RestorePreview, Safe, Why

Leave = Callable[[], None]
Reopen = Callable[[bool], None]


class BackupDoings:
    """Runs operations on backups for the person at the window.

    Args:
        tasks: where they run.
        notices: where words and faults are announced.
        asking: how folders are asked for.
        preferences: where backups go and how long they are kept.
        backing_up: tells what went wrong beside a backup.
        safe: the backups of registers that may be closed, damaged or gone.
    """

    def __init__(
        self,
        tasks: Tasks,
        notices: Notices,
        asking: Asking,
        preferences: Preferences,
        backing_up: BackingUp,
        safe: Callable[[], Safe],
    ) -> None:
        self._tasks = tasks
        self._notices = notices
        self._asking = asking
        self._preferences = preferences
        self._backing_up = backing_up
        self._safe = safe

    def show(self, where: str, desk: Desk | None, leave: Leave, reopen: Reopen, parent: QWidget) -> None:
        """Show the backups of a register.

        Args:
            where: its file, as the person named it.
            desk: the register, if it is open.
            leave: closes it, if it is open.
            reopen: opens it again, told whether a backup was restored.
            parent: the window.
        """
        path = self._safe().file_of(where)
        if path is None:
            detail = tr("The server keeps its own backups.")
            remedy = tr("Ask whoever looks after the server; or move the register into a file.")
            self._notices.report(RegisterFault(tr("This register is on a server"), detail, remedy))
            return
        settings = self._preferences.settings
        dialog = BackupsDialog(
            path, settings, lambda title: self._asking.folder(title, parent), desk is not None, parent
        )
        _AtWork(self, path, desk, dialog, leave, reopen, parent)
        dialog.show_modal()

    def read(self, path: Path, dialog: "_AtWork") -> None:
        """Read which backups there are."""
        settings, safe = self._preferences.settings, self._safe()
        self._tasks.run(lambda: safe.backups(path, settings), dialog.tell)

    def change(self, changed: dict[str, object], at_work: "_AtWork", path: Path) -> None:
        """Keep a setting."""
        self._preferences.change(**changed)
        if "backup_folder" in changed:
            self.read(path, at_work)

    def make(self, desk: Desk, at_work: "_AtWork", dialog: BackupsDialog) -> None:
        """Make a backup now."""
        settings = self._preferences.settings

        def work(progress: Progress) -> BackedUp:
            return desk.trust.back_up(Why.BY_HAND, settings)

        self._tasks.run_long(tr("Backing up"), work, at_work.made, dialog.strip.follow)

    def preview(self, path: Path, backup: BackupFile, at_work: "_AtWork", dialog: BackupsDialog) -> None:
        """Look at what restoring would change."""
        safe = self._safe()

        def work(progress: Progress) -> RestorePreview:
            return safe.preview(path, backup.path)

        self._tasks.run_long(
            tr("Looking at the backup"), work, lambda found: at_work.ask(backup, found), dialog.strip.follow
        )

    def restore(self, path: Path, backup: BackupFile, sure: bool, leave: Leave, reopen: Reopen) -> None:
        """Close the register, put the backup in its place, and open it again, whatever came of it."""
        settings, who, safe = self._preferences.settings, self._preferences.who, self._safe()
        leave()

        def work(progress: Progress) -> Restored:
            return safe.restore(path, backup.path, who, settings, sure)

        def done(restored: Restored) -> None:
            done = tr("Restored from {name}.", name=restored.backup_path.name)
            if restored.kept is not None:
                done = f"{done} {tr('The file before is kept: {kept}.', kept=restored.kept)}"
            self._notices.say(done)
            reopen(True)

        def failed(error: BaseException) -> None:
            self._notices.report(error)
            reopen(False)

        self._tasks.run_long(tr("Restoring {name}", name=path.name), work, done, failed=failed)

    def tell(self, made: BackedUp) -> str:
        """What came of a backup, in a line; what went wrong beside it stays in sight."""
        self._backing_up.tell(made)
        return " ".join(
            [made.told, *(f"{tr(each.title)}: {tr(each.detail)} {tr(each.remedy)}" for each in made.faults)]
        )


class _AtWork:
    """One dialog about backups, while it is open."""

    def __init__(
        self,
        doings: BackupDoings,
        path: Path,
        desk: Desk | None,
        dialog: BackupsDialog,
        leave: Leave,
        reopen: Reopen,
        parent: QWidget,
    ) -> None:
        self._doings, self._path, self._desk, self._dialog = doings, path, desk, dialog
        self._leave, self._reopen, self._parent = leave, reopen, parent
        self._open = True
        dialog.finished.connect(self._on_finished)
        dialog.changed.connect(lambda changed: doings.change(changed, self, path))
        dialog.make_asked.connect(self._on_make)
        dialog.restore_asked.connect(lambda backup: doings.preview(path, backup, self, dialog))
        doings.read(path, self)

    def _on_finished(self) -> None:
        self._open = False

    def _on_make(self) -> None:
        if self._desk is not None:
            self._doings.make(self._desk, self, self._dialog)

    def tell(self, backups: Sequence[BackupFile]) -> None:
        """Show the backups, if the dialog is still open."""
        if self._open:
            self._dialog.tell(backups)

    def made(self, backed_up: BackedUp) -> None:
        """Say what came of a backup, and list it."""
        said = self._doings.tell(backed_up)
        if self._open:
            self._dialog.say(said)
            self._doings.read(self._path, self)

    def ask(self, backup: BackupFile, preview: RestorePreview) -> None:
        """Show what would change, and ask."""
        if self._open:
            asking = RestoreDialog(self._path, backup, preview, self._dialog)
            asking.confirmed.connect(lambda sure: self._on_confirmed(backup, sure))
            asking.show_modal()

    def _on_confirmed(self, backup: BackupFile, sure: bool) -> None:
        self._dialog.accept()
        self._doings.restore(self._path, backup, sure, self._leave, self._reopen)
