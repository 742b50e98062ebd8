"""What the panel of documents does: adds, opens, takes out and voids, for the person at the window."""

from collections.abc import Sequence
from pathlib import Path

from PySide6.QtGui import QImage
from PySide6.QtWidgets import QWidget

from estate.domain.browsing import OutletPage
from estate.domain.changes import ChangeSet
from estate.domain.dates import day_words
from estate.domain.documents import Document, Owner
from estate.window.desk import Desk
from estate.window.dialogs.asking import Asking
from estate.window.dialogs.document import AddDocumentDialog, OpeningDialog, void_document_dialog
from estate.window.documents import owners_of
from estate.window.notices import Notices
from estate.window.preferences import Preferences
from estate.window.tasks import Latest, Tasks
from estate.window.translating import said, tr
from estate.window.widgets.documents_panel import DocumentsPanel
from estate.window.widgets.thumbnail import thumbnail

_KINDS = said(
    "Documents and photographs (*.pdf *.jpg *.jpeg *.png *.heic *.txt *.csv *.xlsx *.docx *.ods *.odt)"
)
_MOST_PICTURES = 40
"""Small pictures of the newest so many are shown; the others are named."""


class DocumentDoings:
    """Runs operations about documents.

    Args:
        tasks: where they run.
        notices: where their change sets are announced.
        asking: how files are asked for and opened.
        preferences: whose name is kept, and the greatest size.
    """

    def __init__(self, tasks: Tasks, notices: Notices, asking: Asking, preferences: Preferences) -> None:
        self._tasks = tasks
        self._notices = notices
        self._asking = asking
        self._preferences = preferences
        self._latest = Latest(tasks)
        self._copies: list[tuple[Desk, Path]] = []

    def read(self, desk: Desk, page: OutletPage, panel: DocumentsPanel) -> None:
        """Show the documents of an outlet."""
        self.read_of(desk, owners_of(page), panel)

    def read_of(self, desk: Desk, owners: Sequence[Owner], panel: DocumentsPanel) -> None:
        """Show the documents of these owners."""

        def work() -> tuple[Sequence[Document], dict[int, QImage]]:
            found = desk.documents.of(owners)
            return found, _small(desk, found)

        self._latest.run(work, lambda found: panel.tell(*found))

    def add(self, desk: Desk, page: OutletPage, files: Sequence[Path], parent: QWidget) -> None:
        """Keep files with an outlet, its valves or visits; without any the person chooses one."""
        self.add_to(desk, _named(page), files, parent)

    def add_to(self, desk: Desk, owners: Sequence[Owner], files: Sequence[Path], parent: QWidget) -> None:
        """Keep files with one of these owners; without any the person chooses one."""
        chosen = list(files)
        if not chosen:
            one = self._asking.file_to_open(tr("Add a document"), tr(_KINDS), parent)
            if one is None:
                return
            chosen = [one]
        dialog = AddDocumentDialog([each.name for each in chosen], owners, parent)
        dialog.given.connect(lambda owner, remark: self._keep(desk, owner, chosen, remark, dialog))
        dialog.show_modal()

    def _keep(
        self, desk: Desk, owner: Owner, files: list[Path], remark: str, dialog: AddDocumentDialog
    ) -> None:
        who, bound_mb = self._preferences.who, self._preferences.settings.largest_document_mb

        def work() -> ChangeSet:
            return desk.documents.add(owner, files[0], remark, who=who, bound_mb=bound_mb)

        def done(changes: ChangeSet) -> None:
            self._notices.announce(changes)
            self._notices.say(tr("Kept: {name}.", name=files[0].name))
            del files[0]
            if files:
                self._keep(desk, owner, files, remark, dialog)
            else:
                dialog.accept()

        def failed(error: BaseException) -> None:
            dialog.release()
            self._notices.report(error)

        self._tasks.run(work, done, failed)

    def open(self, desk: Desk, document: Document, parent: QWidget) -> None:
        """Open a read-only copy, once the person says so."""
        dialog = OpeningDialog(document, parent)
        dialog.agreed.connect(
            lambda: self._tasks.run(
                lambda: desk.documents.copy_to_open(document.id), lambda copy: self._show(desk, copy)
            )
        )
        dialog.show_modal()

    def _show(self, desk: Desk, copy: Path) -> None:
        self._copies.append((desk, copy))
        self._asking.show_file(copy)

    def clear_away(self) -> None:
        """Take away the copies that were opened."""
        for desk, copy in self._copies:
            desk.documents.clear_away(copy)
        self._copies = []

    def take_out(self, desk: Desk, document: Document, parent: QWidget) -> None:
        """Write a document to a file that the person names."""
        kinds = f"{document.media_type.words} (*{document.media_type.endings[0]})"
        to = self._asking.file_to_write(tr("Take out a document"), Path(document.name).name, kinds, parent)
        if to is not None:
            self._tasks.run(
                lambda: desk.documents.take_out(document.id, to),
                lambda written: self._notices.say(tr("Written: {written}.", written=written)),
            )

    def void(self, desk: Desk, document: Document, parent: QWidget) -> None:
        """Make a document void, with a reason."""
        who = self._preferences.who
        dialog = void_document_dialog(document, parent)
        dialog.given.connect(
            lambda why: self._tasks.run(
                lambda: desk.documents.void(document.id, why, who), self._notices.announce
            )
        )
        dialog.show_modal()


def _small(desk: Desk, documents: Sequence[Document]) -> dict[int, QImage]:
    pictures = [each for each in documents if each.media_type.is_picture][-_MOST_PICTURES:]
    drawn = {each.id: thumbnail(desk.documents.content(each.id), each.media_type) for each in pictures}
    return {number: image for number, image in drawn.items() if image is not None}


def _named(page: OutletPage) -> list[Owner]:
    """What a document may belong to, every visit by its kind and day."""
    drafts = {each.visit.id: each.visit.draft for each in page.history}
    return [
        Owner(
            each.noun,
            each.row_id,
            tr(
                "{kind} visit of {day}",
                kind=tr(drafts[each.row_id].kind.value),
                day=day_words(drafts[each.row_id].on),
            ),
        )
        if each.noun == "visit"
        else each
        for each in owners_of(page)
    ]
