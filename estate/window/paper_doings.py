"""What is done with a report: shown as it comes on paper, printed, saved as PDF or as a spreadsheet."""

from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from PySide6.QtWidgets import QWidget

from estate.domain.progress import Progress
from estate.errors import ReportFault
from estate.window import words
from estate.window.dialogs.asking import Asking
from estate.window.dialogs.preview_report import PreviewDialog
from estate.window.models.paper import Paper
from estate.window.notices import Notices
from estate.window.tasks import Tasks
from estate.window.translating import said, tr, tr_count

Writer = Callable[[Path, Progress], Path]

_PDF: Final = said("PDF (*.pdf)")
_SHEET: Final = said("Spreadsheet (*.xlsx)")


class PaperDoings:
    """Shows reports before they are printed or saved.

    Args:
        tasks: where they are written and printed.
        notices: where it is said what was done.
        asking: how files and printers are asked for.
    """

    def __init__(self, tasks: Tasks, notices: Notices, asking: Asking) -> None:
        self._tasks, self._notices, self._asking = tasks, notices, asking

    def show(self, name: str, file: str, write: Writer, parent: QWidget) -> None:
        """Write a report aside and show its pages.

        Args:
            name: in words, such as ``overdue list``.
            file: the name that its file would have, without an ending.
            write: writes it to a file that ends in ``.pdf`` or ``.xlsx``; runs in the worker.
            parent: the window.
        """
        self._tasks.run_long(
            tr("Writing the {name}", name=name),
            lambda progress: _paper(write, progress),
            lambda paper: self._open(name, file, write, paper, parent),
        )

    def _open(self, name: str, file: str, write: Writer, paper: Paper, parent: QWidget) -> None:
        dialog = PreviewDialog(name, paper, parent)
        dialog.print_asked.connect(lambda: self.print(name, paper, dialog))
        dialog.pdf_asked.connect(lambda: self._save(f"{file}.pdf", tr(_PDF), _as_seen(paper), dialog))
        dialog.sheet_asked.connect(lambda: self._save(f"{file}.xlsx", tr(_SHEET), write, dialog))
        dialog.finished.connect(lambda: self._put_away(paper, dialog))
        dialog.show_modal()

    def _put_away(self, paper: Paper, dialog: PreviewDialog) -> None:
        """Give the pages back, in the worker: there nothing is printing any more."""
        dialog.view.tell(None)
        self._tasks.run(paper.close, lambda done: None)

    def print(self, name: str, paper: Paper, dialog: PreviewDialog) -> None:
        """Print a report as it is shown."""
        from estate.window.widgets.paper_printing import print_paper, set_up  # noqa: PLC0415 - printing is rare

        printer = self._asking.printer(lambda made: set_up(made, paper, words.sentence(name)), dialog)
        if printer is None:
            return

        def done(pages: int) -> None:
            self._notices.say(
                tr(
                    "The {name} was sent to the printer: {pages}.",
                    name=name,
                    pages=tr_count(pages, "{n:,} page", "{n:,} pages"),
                )
            )
            _leave(dialog)

        self._tasks.run_long(
            tr("Printing the {name}", name=name),
            lambda progress: print_paper(printer, paper, progress),
            done,
            began=dialog.follow,
        )

    def _save(self, usual: str, kind: str, write: Writer, dialog: PreviewDialog) -> None:
        to = self._asking.file_to_write(tr("Save {file}", file=usual), usual, kind, dialog)
        if to is None:
            return

        def done(path: Path) -> None:
            self._notices.say(tr("Written: {path}", path=path))
            _leave(dialog)
            self._asking.show_file(path)

        self._tasks.run_long(
            tr("Writing {file}", file=to.name),
            lambda progress: write(to, progress),
            done,
            began=dialog.follow,
        )


def _leave(dialog: PreviewDialog) -> None:
    """Close a preview, unless the person did so meanwhile."""
    if not dialog.left:
        dialog.accept()


def _paper(write: Writer, progress: Progress) -> Paper:
    """Write a report where nobody finds it, and take its bytes."""
    with TemporaryDirectory(prefix="estate-register-") as folder:
        return Paper(write(Path(folder) / "report.pdf", progress).read_bytes())


def _as_seen(paper: Paper) -> Writer:
    """Saves the very bytes that are shown."""

    def write(to: Path, progress: Progress) -> Path:
        if to.suffix.lower() != ".pdf":
            detail = tr("{name} does not end in .pdf.", name=to.name)
            raise ReportFault(tr("Unknown kind of file"), detail, tr("Give a name that ends in .pdf."))
        try:
            to.write_bytes(paper.content)
        except OSError as error:
            title, detail = tr("The report can't be written"), f"{to}: {error.strerror}."
            raise ReportFault(
                title, detail, tr("Choose another folder, one that you may write in.")
            ) from error
        return to

    return write
