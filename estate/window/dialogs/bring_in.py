"""Bring in a sheet: choose it, see every row and question, and only then write."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QHBoxLayout,
    QPushButton,
    QStackedWidget,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from estate.domain.findings import Verdict
from estate.domain.intake import AssetRow
from estate.domain.layouts import SheetKind
from estate.domain.questions import Question
from estate.window import words
from estate.window.desk import Brought, Proposal, ProposedVisit
from estate.window.dialogs.drop import sheet_dropped
from estate.window.dialogs.shell import Shell
from estate.window.marks import OF_VERDICT
from estate.window.models.sheet_rows import (
    Heading,
    assets_model,
    headings_model,
    questions_model,
    visits_model,
)
from estate.window.tasks import LongTask
from estate.window.widgets.listing import Listing
from estate.window.widgets.progress import ProgressStrip
from estate.window.widgets.text import Chip, empty, label

_CHOOSE, _PREVIEW, _DONE = range(3)
_KINDS: tuple[tuple[str, SheetKind | None], ...] = (
    ("Find out what it holds", None),
    ("An asset list: outlets and valves", SheetKind.ASSETS),
    ("Results of visits", SheetKind.VISITS),
)


class BringInDialog(Shell):
    """Leads through bringing in one sheet.

    Args:
        choose: asks for a file.

    Attributes:
        look_asked: (path, kind): read the sheet against the register.
        commit_asked: the `Proposal` to write.
    """

    look_asked = Signal(object, object)
    commit_asked = Signal(object)

    def __init__(self, choose: Callable[[], Path | None], parent: QWidget | None = None) -> None:
        super().__init__("Bring in a sheet", parent)
        self._choose = choose
        self._proposal: Proposal | None = None
        self._working = False
        self._task: LongTask | None = None
        self.setAcceptDrops(True)
        self.kind = QComboBox()
        self.kind.setAccessibleName("What the sheet holds")
        for shown, kind in _KINDS:
            self.kind.addItem(shown, kind)
        self.preview = _Preview()
        self.done_words = label("", "large", wraps=True)
        self.done_more = label("", wraps=True)
        self.steps = QStackedWidget()
        for step in (self._choosing(), self.preview, self._ending()):
            self.steps.addWidget(step)
        self.strip = ProgressStrip()
        self.body.addWidget(self.steps, 1)
        self.body.addWidget(self.strip)
        self.leave = self.button("Leave", self.reject)
        self.other = self.button("Another file…", self._on_choose)
        self.take = self.button("Take these rows", self._on_take, main=True)
        self.resize(1120, 680)
        self._turn_to(_CHOOSE)

    def _choosing(self) -> QWidget:
        held = QFrame()
        held.setProperty("kind", "drop")
        column = QVBoxLayout(held)
        column.setSpacing(12)
        column.addStretch(1)
        for made in (
            label("Drop an .xlsx or .csv file here", "large"),
            label("A list of outlets and valves, or a sheet of results as a contractor sent it.", "muted"),
            label("Nothing is written until you have seen every row and said so.", "muted"),
        ):
            made.setAlignment(Qt.AlignmentFlag.AlignCenter)
            column.addWidget(made)
        row = QHBoxLayout()
        row.addStretch(1)
        self.choose_button = QPushButton("Choose a file…")
        self.choose_button.setProperty("kind", "main")
        self.choose_button.clicked.connect(self._on_choose)
        row.addWidget(self.kind)
        row.addWidget(self.choose_button)
        row.addStretch(1)
        column.addSpacing(8)
        column.addLayout(row)
        column.addStretch(1)
        return held

    def _ending(self) -> QWidget:
        held = QWidget()
        column = QVBoxLayout(held)
        column.addStretch(1)
        for made in (self.done_words, self.done_more):
            made.setAlignment(Qt.AlignmentFlag.AlignCenter)
            column.addWidget(made)
        column.addStretch(1)
        return held

    def _turn_to(self, step: int) -> None:
        self.steps.setCurrentIndex(step)
        self.other.setVisible(step != _CHOOSE)
        self.take.setVisible(step == _PREVIEW)
        self.leave.setText("Close" if step == _DONE else "Leave, write nothing")

    def bring(self, path: Path) -> None:
        """Read a sheet, for the preview."""
        self.look_asked.emit(path, self.kind.currentData())

    def follow(self, task: LongTask) -> None:
        """Show work until it has ended; nothing else can be done meanwhile."""
        self._task = task
        self.strip.follow(task)
        self._busy(True)
        task.ended.connect(lambda: self._busy(False))

    def _busy(self, working: bool) -> None:
        self._working = working
        for widget in (self.choose_button, self.kind, self.other, self.take):
            widget.setEnabled(not working)

    def show_proposal(self, proposal: Proposal) -> None:
        """Show what would be taken and what is questioned."""
        self._proposal = proposal
        self.heading.setText(proposal.reading.file)
        self.preview.tell(proposal)
        self.take.setText(f"Take {words.count(proposal.accepted, 'row')}")
        self.take.setEnabled(proposal.accepted > 0)
        self._turn_to(_PREVIEW)
        self.take.setFocus() if proposal.accepted else self.leave.setFocus()

    def show_brought(self, brought: Brought) -> None:
        """Say what was done."""
        self._turn_to(_DONE)
        self.heading.setText("Brought in")
        self.done_words.setText(f"{words.count(brought.accepted, 'row')} taken as one batch.")
        self.done_more.setText(
            f"{words.count(brought.already_there, 'row')} were there already. "
            f"{words.count(len(brought.questions), 'row')} questioned and not taken; "
            "they are kept with the batch."
        )
        self.leave.setFocus()

    def _on_choose(self) -> None:
        path = self._choose()
        if path is not None:
            self.bring(path)

    def _on_take(self) -> None:
        if self._proposal is not None:
            self.commit_asked.emit(self._proposal)

    @override
    def reject(self) -> None:
        if self._working and self._task is not None:
            self._task.cancel()
            return
        super().reject()

    @override
    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if not self._working and sheet_dropped(event.mimeData()) is not None:
            event.acceptProposedAction()

    @override
    def dropEvent(self, event: QDropEvent) -> None:
        sheet = sheet_dropped(event.mimeData())
        if sheet is not None and not self._working:
            event.acceptProposedAction()
            self.bring(sheet)


class _Preview(QWidget):
    """Rows to be taken, questions, headings understood."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._said = label("", "strong", wraps=True)
        self._chips = QHBoxLayout()
        self._chips.setSpacing(8)
        self._visits = visits_model()
        self._assets = assets_model()
        self._asked = questions_model()
        self._headings = headings_model()
        self.visits: Listing[ProposedVisit] = Listing(self._visits, "Results to be taken")
        self.assets: Listing[AssetRow] = Listing(self._assets, "Outlets to be added")
        self.questions: Listing[Question] = Listing(self._asked, "Rows not taken, and what to do")
        self.headings: Listing[Heading] = Listing(self._headings, "Headings understood")
        self.tabs = QTabWidget()
        self.tabs.setAccessibleName("Rows, questions and headings")
        self._detail = label("", wraps=True)
        self.questions.picked.connect(self._on_question)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(self._said)
        column.addLayout(self._chips)
        column.addWidget(self.tabs, 1)
        column.addWidget(self._detail)

    def _on_question(self, key: int | None) -> None:
        index = self.questions.currentIndex()
        asked = self.questions.ordered.row_at(index) if index.isValid() else None
        where = f"{asked.sheet}, row {asked.row}, cell {asked.cell}" if asked else ""
        self._detail.setText(f"{where}: {asked.found}. {asked.remedy}" if asked else "")

    def tell(self, proposal: Proposal) -> None:
        """Show a proposal."""
        reading = proposal.reading
        self._visits.fill(proposal.visits)
        self._assets.fill(each.row for each in proposal.assets)
        self._asked.fill(proposal.questions)
        self._headings.fill(reading.mapping)
        self._said.setText(
            f"{words.count(reading.read, 'row')} read as {reading.kind.value}: "
            f"{proposal.accepted:,} to be taken, "
            f"{proposal.already_there:,} there already, {len(proposal.questions):,} questioned."
        )
        self._count(proposal)
        while self.tabs.count():
            self.tabs.removeTab(0)
        rows: QWidget = self.assets if reading.kind is SheetKind.ASSETS else self.visits
        self.tabs.addTab(rows, f"To be taken ({proposal.accepted:,})")
        self.tabs.addTab(self.questions, f"Questioned ({len(proposal.questions):,})")
        self.tabs.addTab(self.headings, "Headings understood")
        self.tabs.setCurrentIndex(0 if proposal.accepted else 1)
        self.visits.hide_empty()
        self.assets.hide_empty()

    def _count(self, proposal: Proposal) -> None:
        empty(self._chips)
        for verdict in reversed(Verdict):
            number = sum(each.judgement.verdict is verdict for each in proposal.visits)
            if number:
                self._chips.addWidget(Chip(OF_VERDICT[verdict], f"{number:,} {verdict.value}"))
        self._chips.addStretch(1)
