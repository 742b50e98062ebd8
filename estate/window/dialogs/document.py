"""Dialogs about documents: what one belongs to and shows, why one is void, and the caution before opening."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QLineEdit, QWidget

from estate.domain.documents import OPENING_CAUTION, Document, Owner
from estate.window.dialogs.entry import WordsDialog
from estate.window.dialogs.shell import Shell
from estate.window.translating import tr
from estate.window.widgets.text import label


class AddDocumentDialog(Shell):
    """Takes what files belong to and what they show.

    Attributes:
        given: the `Owner` and the remark. The dialog stays until the files are kept.
    """

    given = Signal(object, str)

    def __init__(self, names: Sequence[str], owners: Sequence[Owner], parent: QWidget | None) -> None:
        super().__init__(
            tr("Add a document") if len(names) == 1 else tr("Add {names} documents", names=len(names)), parent
        )
        self.setMinimumWidth(560)
        self._owners = tuple(owners)
        self.body.addWidget(label(", ".join(names), "strong", wraps=True))
        said = tr(
            "The content is checked against its kind and kept byte for byte; it can be made void later, "
            "never taken out of the record. Keep no photograph that shows a patient or resident."
        )
        self.body.addWidget(label(said, wraps=True))
        self.owner = QComboBox()
        self.owner.setAccessibleName(tr("Belongs to"))
        self.owner.addItems([each.words for each in self._owners])
        self.remark = QLineEdit()
        self.remark.setAccessibleName(tr("What it shows"))
        self.remark.setMaxLength(200)
        for name, field in (
            (tr("Belongs to"), self.owner),
            (tr("What it shows (may stay empty)"), self.remark),
        ):
            self.body.addWidget(label(name, "heading"))
            self.body.addWidget(field)
        self.body.addStretch(1)
        self.button(tr("Leave"), self.reject)
        self.button(self.windowTitle(), self._on_keep, main=True)

    def _on_keep(self) -> None:
        self.hold()
        self.given.emit(self._owners[self.owner.currentIndex()], self.remark.text().strip())


class OpeningDialog(Shell):
    """Cautions before a document is opened with another program.

    Attributes:
        agreed: the person wants it opened.
    """

    agreed = Signal()

    def __init__(self, document: Document, parent: QWidget | None) -> None:
        super().__init__(tr("Open this document?"), parent)
        self.setMinimumWidth(560)
        said = f"{document.name} ({document.media_type.words}, {document.size_words})"
        self.body.addWidget(label(said, "strong", wraps=True))
        self.body.addWidget(label(OPENING_CAUTION, "caution", wraps=True))
        if document.void is not None:
            self.body.addWidget(label(tr("It is void: {why}", why=document.void.why), "caution", wraps=True))
        self.body.addStretch(1)
        self.button(tr("Open it"), self._on_open)
        self.button(tr("Leave"), self.reject, main=True).setFocus()

    def _on_open(self) -> None:
        self.accept()
        self.agreed.emit()


def void_document_dialog(document: Document, parent: QWidget | None) -> WordsDialog:
    """Takes the reason why a document counts no more."""
    said = tr(
        "{name} of {owner} stays on record, marked void, with your name and reason. Its bytes stay as well.",
        name=document.name,
        owner=document.owner.words,
    )
    return WordsDialog(tr("Make this document void?"), said, tr("Reason"), "", tr("Make void"), parent)
