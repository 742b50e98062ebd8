"""What the actions about sheets do: bring in, finish, undo, and write sheets out."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtWidgets import QWidget

from estate.domain.changes import ChangeSet
from estate.domain.layouts import Layout, SheetKind
from estate.domain.progress import Progress
from estate.domain.questions import Answer
from estate.domain.register import Batch
from estate.window.backing_up import BackingUp
from estate.window.desk import Brought, Desk, Looked, Proposal
from estate.window.dialogs.asking import Asking
from estate.window.dialogs.bring_in import BringInDialog
from estate.window.dialogs.entry import undo_dialog
from estate.window.form_keeping import FormKeeper, Given
from estate.window.notices import Notices
from estate.window.preferences import Preferences
from estate.window.tasks import Tasks
from estate.window.translating import said, tr, tr_count
from estate.window.trust import Why
from estate.window.undoing import Step

_SHEETS = said("Sheets (*.xlsx *.xlsm *.xls *.ods *.fods *.csv *.tsv *.txt);;All files (*)")
_WORKBOOK = said("Spreadsheet (*.xlsx)")

_UNDO_THERE = said("A sheet is undone whole, with a reason, on the page of sheets brought in.")


class SheetDoings:
    """Runs operations about sheets for the person at the window.

    Args:
        tasks: where they run.
        notices: where their change sets are announced.
        asking: how files are asked for and shown.
        preferences: whose name is kept beside entries.
        backing_up: backs up before a batch is taken or undone.
    """

    def __init__(
        self, tasks: Tasks, notices: Notices, asking: Asking, preferences: Preferences, backing_up: BackingUp
    ) -> None:
        self._backing_up = backing_up
        self._tasks = tasks
        self._forms = FormKeeper(tasks, notices)
        self._notices = notices
        self._asking = asking
        self._preferences = preferences

    def bring_in(self, desk: Desk, path: Path | None, parent: QWidget) -> None:
        """Bring in a sheet, one already chosen or one to be chosen."""
        dialog = BringInDialog(
            lambda: self._asking.file_to_open(tr("Choose a sheet"), tr(_SHEETS), parent), parent
        )

        def look(
            file: Path, kind: SheetKind | None, layout: Layout | None, given: tuple[Answer, ...]
        ) -> None:
            self._look(
                desk,
                dialog,
                file.name,
                lambda progress: desk.look(file, kind, progress, layout, given),
            )

        dialog.look_asked.connect(look)
        self._open(desk, dialog)
        if path is not None:
            dialog.bring(path)

    def finish_batch(self, desk: Desk, batch: Batch, parent: QWidget) -> None:
        """Answer what was left open of a batch, and take more of its rows."""
        dialog = BringInDialog(lambda: None, parent)
        dialog.finish(batch.file)

        def look(layout: Layout | None, given: tuple[Answer, ...]) -> None:
            self._look(
                desk,
                dialog,
                batch.file,
                lambda progress: desk.look_again(batch.id, progress, layout, given),
            )

        dialog.look_asked.connect(lambda file, kind, layout, given: look(layout, given))
        self._open(desk, dialog)
        look(None, ())

    def _open(self, desk: Desk, dialog: BringInDialog) -> None:
        dialog.commit_asked.connect(
            lambda proposal, name, sender: self._backing_up.first(
                desk,
                Why.BATCH,
                lambda: self._commit(desk, proposal, (name, sender), dialog),
                dialog,
                dialog.follow,
            )
        )
        dialog.marked_asked.connect(lambda proposal: self._write_marked(desk, proposal, dialog))
        dialog.show_modal()

    def _look(
        self, desk: Desk, dialog: BringInDialog, name: str, read: Callable[[Progress], Proposal]
    ) -> None:
        def work(progress: Progress) -> Looked:
            proposal = read(progress)
            return Looked(proposal, desk.fields(proposal.reading.kind), desk.shown(proposal))

        self._tasks.run_long(tr("Reading {name}", name=name), work, dialog.show_proposal, began=dialog.follow)

    def _commit(
        self, desk: Desk, proposal: Proposal, remembered: tuple[str, str], dialog: BringInDialog
    ) -> None:
        who = self._preferences.who

        def work(progress: Progress) -> Brought:
            return desk.commit(proposal, who, progress, *remembered)

        def done(brought: Brought) -> None:
            dialog.show_brought(brought)
            file = proposal.reading.file
            self._notices.did(Step(desk, tr("bring in {file}", file=file), tr(_UNDO_THERE)))
            self._notices.announce(brought.changes)
            self._notices.say(
                tr_count(
                    brought.accepted,
                    "{n:,} row of {file} taken.",
                    "{n:,} rows of {file} taken.",
                    file=proposal.reading.file,
                )
            )

        self._tasks.run_long(tr("Taking {file}", file=proposal.reading.file), work, done, began=dialog.follow)

    def undo_batch(self, desk: Desk, batch: Batch, parent: QWidget) -> None:
        """Undo a batch whole, with a reason."""
        dialog = undo_dialog(batch, parent)
        who = self._preferences.who

        def done(changes: ChangeSet) -> None:
            self._notices.announce(changes)
            self._notices.say(
                tr("Undone: {file}. The file and what was in it stay on record.", file=batch.file)
            )

        def undo(why: str) -> None:
            self._forms.keep(dialog, Given(lambda seen: desk.undo_batch(batch.id, who, why), done, {}))

        dialog.given.connect(lambda why: self._backing_up.first(desk, Why.UNDOING, lambda: undo(why), dialog))
        dialog.show_modal()

    def save_batch_file(self, desk: Desk, batch: Batch, parent: QWidget) -> None:
        """Save the file of a batch as it came."""
        to = self._asking.file_to_write(
            tr("Save the file as it came"), batch.file, tr("All files (*)"), parent
        )
        if to is not None:
            self._tasks.run(
                lambda: desk.save_batch_file(batch.id, to),
                lambda path: self._notices.say(tr("Written: {path}", path=path)),
            )

    def write_round_sheet(self, desk: Desk, weeks: int, parent: QWidget) -> None:
        """Write a blank round sheet where the person says, then open it."""
        name = f"round sheet {desk.today:%Y-%m-%d}.xlsx"
        title = tr_count(
            weeks,
            "Write a round sheet of what is due within {n:,} week",
            "Write a round sheet of what is due within {n:,} weeks",
        )
        to = self._asking.file_to_write(title, name, tr(_WORKBOOK), parent)
        if to is not None:
            self._tasks.run_long(
                tr("Writing a round sheet"),
                lambda progress: desk.write_round_sheet(to, weeks, progress),
                self._show_written,
            )

    def _write_marked(self, desk: Desk, proposal: Proposal, dialog: BringInDialog) -> None:
        name = f"{Path(proposal.reading.file).stem} questions.xlsx"
        to = self._asking.file_to_write(tr("Write the questions back"), name, tr(_WORKBOOK), dialog)
        if to is not None:
            self._tasks.run_long(
                tr("Writing the questions back"),
                lambda progress: desk.write_marked(proposal, to, progress),
                self._show_written,
                began=dialog.follow,
            )

    def _show_written(self, path: Path) -> None:
        self._notices.say(tr("Written: {path}", path=path))
        self._asking.show_file(path)
