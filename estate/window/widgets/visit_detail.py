"""One entry of an outlet's history in full: findings, what was seen and done, who entered it."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from estate.domain.browsing import HistoryLine
from estate.domain.temperature import Scale
from estate.window.models.service_rows import entered_words, seen_words
from estate.window.translating import tr
from estate.window.widgets.findings import FindingsList
from estate.window.widgets.text import label


class VisitDetail(QFrame):
    """Shows a line of the history.

    Attributes:
        sheet_asked: the sheet is wanted from which the entry came.
    """

    sheet_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("kind", "band")
        self.findings = FindingsList()
        self.done = label("", wraps=True)
        self.entered = label("", "small", wraps=True)
        self.sheet = QPushButton(tr("Show its sheet"))
        self.sheet.setAutoDefault(False)
        self.sheet.clicked.connect(self.sheet_asked)
        column = QVBoxLayout(self)
        column.setContentsMargins(18, 8, 14, 8)
        column.setSpacing(6)
        column.addWidget(self.findings)
        column.addWidget(self.done)
        foot = QHBoxLayout()
        foot.addWidget(self.entered, 1)
        foot.addWidget(self.sheet)
        column.addLayout(foot)

    def tell(self, line: HistoryLine, scale: Scale) -> None:
        """Show another entry, temperatures on a scale."""
        self.findings.tell(line.judgement)
        seen = seen_words(line.visit.draft, scale)
        self.done.setText(tr("Seen and done: {seen}", seen=seen))
        self.done.setVisible(bool(seen))
        self.entered.setText(entered_words(line.visit))
        self.sheet.setVisible(line.visit.batch_id is not None)
        self.setAccessibleName(tr("Findings of the entry"))
