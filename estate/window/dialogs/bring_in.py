"""Bring in a sheet: choose it, see every row and question, and only then write."""

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QKeyEvent
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QHBoxLayout,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from estate.domain.layouts import Layout, SheetKind
from estate.window import words
from estate.window.desk import Brought, Looked, Proposal
from estate.window.dialogs.drop import sheet_dropped
from estate.window.dialogs.shell import ENTER, Shell
from estate.window.tasks import LongTask
from estate.window.translating import said, tr, tr_count
from estate.window.widgets.progress import ProgressStrip
from estate.window.widgets.remembering import Remembering
from estate.window.widgets.sheet_preview import SheetPreview
from estate.window.widgets.text import label

_CHOOSE, _PREVIEW, _DONE = range(3)
_KINDS: tuple[tuple[str, SheetKind | None], ...] = (
    (said("Find out what it holds"), None),
    (said("An asset list: outlets and valves"), SheetKind.ASSETS),
    (said("Results of visits"), SheetKind.VISITS),
)


class BringInDialog(Shell):
    """Leads through bringing in one sheet.

    Args:
        choose: asks for a file.

    Attributes:
        look_asked: (path, kind, layout or None, answers): read the sheet against the register.
        commit_asked: (`Proposal` to write, name of the layout to keep or empty, sender).
        marked_asked: the `Proposal` of which a marked copy is wanted.
    """

    look_asked = Signal(object, object, object, object)
    commit_asked = Signal(object, str, str)
    marked_asked = Signal(object)

    def __init__(self, choose: Callable[[], Path | None], parent: QWidget | None = None) -> None:
        super().__init__(tr("Bring in a sheet"), parent)
        self._choose = choose
        self._proposal: Proposal | None = None
        self._working = False
        self._task: LongTask | None = None
        self._path: Path | None = None
        self._kept = False
        self._layout: Layout | None = None
        self.setAcceptDrops(True)
        self.kind = QComboBox()
        self.kind.setAccessibleName(tr("What the sheet holds"))
        for shown, kind in _KINDS:
            self.kind.addItem(tr(shown), kind)
        self.preview = SheetPreview()
        self.preview.again.connect(self._on_layout)
        self.preview.answers_changed.connect(self._on_answers)
        self.remembering = Remembering()
        self.done_words = label("", "large", wraps=True)
        self.done_more = label("", wraps=True)
        self.steps = QStackedWidget()
        for step in (self._choosing(), self.preview, self._ending()):
            self.steps.addWidget(step)
        self.strip = ProgressStrip()
        self.body.addWidget(self.steps, 1)
        self.body.addWidget(self.remembering)
        self.body.addWidget(self.strip)
        self.leave = self.button(tr("Leave"), self.reject)
        self.other = self.button(tr("Another file…"), self._on_choose)
        self.marked = self.button(tr("Write the questions back…"), self._on_marked)
        self.marked.setToolTip(tr("A copy of the sheet with each questioned cell marked, to send back"))
        self.again = self.button(tr("Read again with the answers"), self._on_again)
        self.take = self.button(tr("Take these rows"), self._on_take, main=True)
        self.resize(1240, 800)
        self._turn_to(_CHOOSE)

    def _choosing(self) -> QWidget:
        held = QFrame()
        held.setProperty("kind", "drop")
        column = QVBoxLayout(held)
        column.setSpacing(12)
        column.addStretch(1)
        for made in (
            label(tr("Drop a spreadsheet here"), "large"),
            label(
                tr("A list of outlets and valves, or a sheet of results as a contractor sent it:"), "muted"
            ),
            label(tr(".xlsx, .xls, .ods, .csv and their kin."), "muted"),
            label(tr("Nothing is written until you have seen every row and said so."), "muted"),
        ):
            made.setAlignment(Qt.AlignmentFlag.AlignCenter)
            column.addWidget(made)
        row = QHBoxLayout()
        row.addStretch(1)
        self.choose_button = QPushButton(tr("Choose a file…"))
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
        self.other.setVisible(step != _CHOOSE and not self._kept)
        self.again.hide()
        for widget in (self.take, self.marked, self.remembering):
            widget.setVisible(step == _PREVIEW)
        self.leave.setText(tr("Close") if step == _DONE else tr("Leave, write nothing"))

    def bring(self, path: Path) -> None:
        """Read a sheet, for the preview."""
        self.preview.answering.forget()
        self._path, self._layout = path, None
        self._read()

    def finish(self, name: str) -> None:
        """Go on with a file that the register holds; `look_asked` then names no path."""
        self.preview.answering.forget()
        self._kept = True
        self.heading.setText(name)
        self.setWindowTitle(tr("Finish {name}", name=name))

    def _read(self) -> None:
        if self._path is not None or self._kept:
            given = self.preview.answering.given
            self.look_asked.emit(self._path, self.kind.currentData(), self._layout, given)

    def follow(self, task: LongTask) -> None:
        """Show work until it has ended; nothing else can be done meanwhile."""
        self._task = task
        self.strip.follow(task)
        self._busy(True)
        task.ended.connect(lambda: self._busy(False))

    def _busy(self, working: bool) -> None:
        self._working = working
        widgets = (self.choose_button, self.kind, self.other, self.preview, self.marked, self.remembering)
        for widget in widgets:
            widget.setEnabled(not working)
        self._settle()

    def show_proposal(self, looked: Looked) -> None:
        """Show what would be taken and what is questioned."""
        proposal = looked.proposal
        self._proposal = proposal
        self.heading.setText(proposal.reading.file)
        self.preview.tell(looked)
        self.remembering.tell(proposal.reading.layout)
        self._turn_to(_PREVIEW)
        self._settle()
        first = (
            self.preview.questions if proposal.questions else self.take if proposal.accepted else self.leave
        )
        first.setFocus()

    def _settle(self) -> None:
        """Offer what can be done now."""
        proposal = self._proposal
        rows = 0 if proposal is None else proposal.accepted
        waiting = self.preview.answering.waiting
        self.take.setText(tr_count(rows, "Take {n:,} row", "Take {n:,} rows"))
        self.take.setEnabled(rows > 0 and not waiting and not self._working)
        self.again.setText(tr_count(waiting, "Read again with {n:,} answer", "Read again with {n:,} answers"))
        self.again.setVisible(waiting > 0)
        self.again.setEnabled(not self._working)
        self.marked.setEnabled(bool(proposal and proposal.questions) and not self._working)

    def show_brought(self, brought: Brought) -> None:
        """Say what was done."""
        self._turn_to(_DONE)
        self.heading.setText(tr("Brought in"))
        self.done_words.setText(
            tr_count(brought.accepted, "{n:,} row taken as one batch.", "{n:,} rows taken as one batch.")
        )
        self.done_more.setText(
            words.together(
                tr_count(
                    brought.already_there, "{n:,} row was there already.", "{n:,} rows were there already."
                ),
                tr_count(
                    len(brought.questions),
                    "{n:,} row questioned and not taken; it is kept with the batch and can be "
                    "answered later.",
                    "{n:,} rows questioned and not taken; they are kept with the batch and can be "
                    "answered later.",
                ),
            )
        )
        self.leave.setFocus()

    def _on_choose(self) -> None:
        path = self._choose()
        if path is not None:
            self.bring(path)

    def _on_take(self) -> None:
        if self._proposal is not None:
            self.commit_asked.emit(self._proposal, *self.remembering.said)

    def _on_marked(self) -> None:
        if self._proposal is not None:
            self.marked_asked.emit(self._proposal)

    def _on_again(self) -> None:
        self._read()

    def _on_layout(self, layout: Layout) -> None:
        self._layout = layout
        self._read()

    def _on_answers(self) -> None:
        self._settle()

    @override
    def reject(self) -> None:
        if self._working and self._task is not None:
            self._task.cancel()
            return
        super().reject()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter in a list or a field takes no rows: only the button that has the keys does."""
        if event.key() in ENTER and not isinstance(self.focusWidget(), QPushButton):
            event.accept()
            return
        super().keyPressEvent(event)

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
