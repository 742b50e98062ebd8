"""What the actions about trust do: verify, take checkpoints, and back up before a register is left."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QWidget

from estate.domain.progress import Progress
from estate.domain.trust import Verification
from estate.errors import EntryFault, KnownFault, ReportFault
from estate.window.backing_up import BackingUp
from estate.window.desk import Desk
from estate.window.dialogs.asking import Asking
from estate.window.dialogs.checkpoint import CheckpointDialog, KeptCheckpointDialog
from estate.window.dialogs.closing import ClosingDialog, NoBackupDialog
from estate.window.dialogs.verifying import VerificationDialog
from estate.window.notices import Notices
from estate.window.preferences import Preferences
from estate.window.tasks import Tasks
from estate.window.translating import said, tr
from estate.window.trust import BackedUp

_TEXT = said("Text (*.txt)")


class TrustDoings:
    """Runs operations about trust for the person at the window.

    Args:
        tasks: where they run.
        notices: where words and faults are announced.
        asking: how files and printers are asked for.
        preferences: whose name is kept, and how backups are made.
        backing_up: tells what went wrong beside a backup.
    """

    def __init__(
        self, tasks: Tasks, notices: Notices, asking: Asking, preferences: Preferences, backing_up: BackingUp
    ) -> None:
        self._tasks = tasks
        self._notices = notices
        self._asking = asking
        self._preferences = preferences
        self._backing_up = backing_up
        self._closing = False

    def look(self, desk: Desk, afresh: bool, tell: Callable[[Verification], None]) -> None:
        """Verify the newest entries while the person works on; a register that can't be read is told."""

        def failed(error: BaseException) -> None:
            if isinstance(error, KnownFault):
                self._notices.caution(error)
            else:
                self._notices.report(error)

        self._tasks.run(lambda: desk.trust.verify_quick(afresh), tell, failed)

    def verify(self, desk: Desk, tell: Callable[[Verification], None], kept: tuple[str, ...] = ()) -> None:
        """Verify everything; kept checkpoints are given as their text."""
        self._tasks.run_long(
            tr("Verifying the whole trail"), lambda progress: desk.trust.verify(progress, kept), tell
        )

    def show_verified(self, found: Verification, compare: Callable[[], None], parent: QWidget) -> None:
        """Show what verifying came to; `compare` asks for a kept checkpoint."""
        dialog = VerificationDialog(found, parent)
        dialog.compare_asked.connect(compare)
        dialog.show_modal()

    def compare(self, desk: Desk, tell: Callable[[Verification], None], parent: QWidget) -> None:
        """Verify everything, and against a kept checkpoint."""
        dialog = KeptCheckpointDialog(parent)

        def read() -> None:
            path = self._asking.file_to_open(tr("Open a kept checkpoint"), tr(_TEXT), dialog)
            if path is not None:
                self._tasks.run(lambda: _text_of(path), dialog.text.setPlainText)

        dialog.file_asked.connect(read)
        dialog.given.connect(lambda text: self.verify(desk, tell, (text,)))
        dialog.show_modal()

    def take_checkpoint(self, desk: Desk, then: Callable[[], None], parent: QWidget) -> None:
        """Take a checkpoint and offer to print, copy or save it."""
        who = self._preferences.who

        def done(text: str) -> None:
            dialog = CheckpointDialog(text, parent)
            dialog.print_asked.connect(lambda: self._print(dialog))
            dialog.save_asked.connect(lambda: self._save(text, desk, dialog))
            dialog.show_modal()
            then()

        self._tasks.run(lambda: desk.trust.checkpoint(who), done)

    def _print(self, dialog: CheckpointDialog) -> None:
        def prepare(printer: QPrinter) -> None:
            printer.setDocName(tr("Checkpoint"))

        printer = self._asking.printer(prepare, dialog)
        if printer is not None:
            dialog.text.document().print_(printer)
            self._notices.say(tr("The checkpoint was sent to the printer."))

    def _save(self, text: str, desk: Desk, dialog: CheckpointDialog) -> None:
        name = f"checkpoint {desk.today:%Y-%m-%d}.txt"
        to = self._asking.file_to_write(tr("Save the checkpoint"), name, tr(_TEXT), dialog)
        if to is not None:
            said = tr("Written: {to}. Keep it away from this machine.", to=to)
            self._tasks.run(lambda: _write(to, text), lambda done: self._notices.say(said))

    def give_back(self, desk: Desk) -> None:
        """Back up a register that is left for another, then close it; a failure is told."""
        settings = self._preferences.settings
        self._tasks.run_long(tr("Backing up"), lambda progress: desk.trust.leave(settings), self._left)
        self._tasks.run(desk.close, lambda done: None)

    def close(self, desk: Desk, then: Callable[[], None], parent: QWidget) -> None:
        """Back up before the window closes; the person may close at once, or all the same where it fails."""
        if self._closing:
            return
        self._closing = True
        settings = self._preferences.settings
        dialog = ClosingDialog(parent)
        gone: list[bool] = []

        def go() -> None:
            if not gone:
                gone.append(True)
                then()

        def work(progress: Progress) -> BackedUp | None:
            return desk.trust.leave(settings)

        def done(made: BackedUp | None) -> None:
            self._closing = False
            dialog.accept()
            if made is not None and made.faults and not gone:
                self._ask_to_close(made.faults[0], go, parent)
            else:
                go()

        def failed(error: BaseException) -> None:
            self._closing = False
            dialog.accept()
            if not isinstance(error, KnownFault):
                self._notices.report(error)
            elif not gone:
                self._ask_to_close(error, go, parent)

        dialog.at_once_asked.connect(go)
        dialog.show_modal()
        self._tasks.run_long(tr("Backing up"), work, done, dialog.follow, failed)

    def _ask_to_close(self, fault: KnownFault, go_on: Callable[[], None], parent: QWidget) -> None:
        dialog = NoBackupDialog(fault, tr("Close all the same"), parent)
        dialog.go_on_asked.connect(go_on)
        dialog.show_modal()

    def _left(self, made: BackedUp | None) -> None:
        if made is not None:
            self._backing_up.tell(made)


def _text_of(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as fault:
        raise EntryFault(
            tr("The checkpoint can't be read"), f"{path}: {fault}.", tr("Check its name.")
        ) from fault


def _write(to: Path, text: str) -> Path:
    try:
        to.write_text(text, encoding="utf-8")
    except OSError as fault:
        remedy = tr("Choose a folder that can be written to; the checkpoint is in the register.")
        raise ReportFault(
            tr("The checkpoint can't be written"), f"{to}: {fault.strerror}.", remedy
        ) from fault
    return to
