"""A report before it is printed or saved: its pages as they come on paper."""

from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QSpinBox, QWidget
from typing_extensions import override

from estate.window import words
from estate.window.dialogs.shell import Shell
from estate.window.models.paper import Paper
from estate.window.tasks import LongTask
from estate.window.translating import said, tr
from estate.window.widgets.paper_view import PaperView
from estate.window.widgets.progress import ProgressStrip
from estate.window.widgets.text import label

_SCALES: Final = (
    (said("As wide as the window"), None),
    (said("50 %"), 0.5),
    (said("75 %"), 0.75),
    (said("100 %"), 1.0),
    (said("150 %"), 1.5),
    (said("200 %"), 2.0),
    (said("300 %"), 3.0),
)
_HINT: Final = said("Page Up and Page Down turn pages; Ctrl+C copies the words of the page in sight.")


class PreviewDialog(Shell):
    """Shows a report; Enter prints it.

    Args:
        name: of the report.
        paper: its pages.

    Attributes:
        print_asked, pdf_asked, sheet_asked: it is to be printed, or saved in one of two ways.
        view: the pages.
    """

    print_asked = Signal()
    pdf_asked = Signal()
    sheet_asked = Signal()

    def __init__(self, name: str, paper: Paper, parent: QWidget | None = None) -> None:
        super().__init__(words.sentence(name), parent)
        self.paper = paper
        self.resize(1000, 720)
        self.view = PaperView()
        self.page = QSpinBox()
        self.page.setAccessibleName(tr("Page in sight"))
        self.page.setRange(1, max(1, len(paper.sheets)))
        self.scale = QComboBox()
        self.scale.setAccessibleName(tr("How large the pages are"))
        for shown, scale in _SCALES:
            self.scale.addItem(tr(shown), scale)
        self._strip = ProgressStrip()
        self.body.addLayout(self._head())
        self.body.addWidget(self.view, 1)
        self.body.addWidget(label(tr(_HINT), "small", wraps=True))
        self.body.addWidget(self._strip)
        self.sheet = self.button(tr("Save as a spreadsheet…"), self.sheet_asked.emit)
        self.pdf = self.button(tr("Save as PDF…"), self.pdf_asked.emit)
        self.leave = self.button(tr("Close"), self.reject)
        self.print = self.button(tr("Print…"), self.print_asked.emit, main=True)
        self.view.turned.connect(self._on_turned)
        self.page.valueChanged.connect(self._on_page)
        self.scale.currentIndexChanged.connect(lambda: self.view.show_at(self.scale.currentData()))
        self.view.tell(paper)
        self.print.setFocus()

    def _head(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(label(tr("Page")))
        row.addWidget(self.page)
        row.addWidget(label(tr("of {pages:,}", pages=len(self.paper.sheets)), "muted"))
        row.addStretch(1)
        row.addWidget(label(tr("Size")))
        row.addWidget(self.scale)
        return row

    def follow(self, task: LongTask) -> None:
        """Show printing or saving until it has ended."""
        self._strip.follow(task)

    @override
    def done(self, result: int) -> None:
        self._strip.give_up()
        super().done(result)

    def _on_page(self, number: int) -> None:
        self.view.go_to(number)

    def _on_turned(self, number: int) -> None:
        self.page.blockSignals(True)
        self.page.setValue(number)
        self.page.blockSignals(False)
