"""The sheet that an entry came from, as it came, at its row."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from estate.domain.layouts import ShownSheet
from estate.domain.register import Batch
from estate.domain.visits import Source
from estate.window import words
from estate.window.dialogs.shell import Shell
from estate.window.translating import tr
from estate.window.widgets.sheet_picture import SheetPicture
from estate.window.widgets.text import Facts, label


class SourceSheetDialog(Shell):
    """Shows a kept file at one row; Enter goes to its batch.

    Args:
        batch: the file's.
        source: the row that the entry came from; None where it is not recorded.
        sheets: the file's sheets as they are.

    Attributes:
        batch_asked: the batch is wanted.
        file_asked: the file is wanted as it came.
        picture: the sheet.
        read: the cells that the entry was read from.
    """

    batch_asked = Signal()
    file_asked = Signal()

    def __init__(
        self,
        batch: Batch,
        source: Source | None,
        sheets: Sequence[ShownSheet],
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(_title(batch, source), parent)
        self.resize(1000, 640)
        told = tr(
            "Brought in by {who} on {day}; kept byte for byte, SHA-256 {digest}",
            who=batch.who or tr("nobody named"),
            day=words.moment(batch.at),
            digest=f"{batch.digest[:16]}…",
        )
        self.body.addWidget(label(told, "muted", wraps=True))
        self.picture = SheetPicture()
        self.picture.tell(sheets, (), ())
        self.body.addWidget(self.picture, 1)
        self._source = source
        self.found = self._go()
        self.read = Facts()
        if source is not None and not self.found:
            said = tr("The row can't be found in the file any more; these are the cells as they were read:")
            self.body.addWidget(label(said, "caution", wraps=True))
            self.read.tell([(heading, cell, "") for heading, cell in source.cells])
            self.body.addWidget(self.read)
        self.button(tr("Close"), self.reject)
        self.button(tr("Save the file…"), self.file_asked.emit)
        self.to_batch = self.button(tr("Go to its batch"), self._on_batch, main=True)
        self.picture.cells.setFocus()

    def _go(self) -> bool:
        """Bring the row into sight; whether it is there."""
        return self._source is not None and self.picture.go_to(self._source.sheet, self._source.row)

    @override
    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._go()

    def _on_batch(self) -> None:
        self.accept()
        self.batch_asked.emit()


def _title(batch: Batch, source: Source | None) -> str:
    if source is None:
        return batch.file
    told = {"row": source.row, "sheet": source.sheet, "file": source.file}
    return tr("Row {row} of {sheet} in {file}", **told)
