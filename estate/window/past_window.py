"""A window on the register as it was known at a past moment: marked as such, and nothing in it changes."""

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtGui import QCloseEvent
from PySide6.QtWidgets import QBoxLayout, QFrame, QHBoxLayout, QMainWindow, QWidget
from typing_extensions import override

from estate.domain.dates import moment_words
from estate.domain.roles import Deed
from estate.window.commands.table import COMMANDS
from estate.window.desk import Desk
from estate.window.main_window import MainWindow
from estate.window.marks import Mark
from estate.window.showing import Reading
from estate.window.translating import said, tr
from estate.window.widgets.text import Chip, label
from estate.window.widgets.withholding import withhold

READING: Final = frozenset(
    {
        *("write-overdue", "write-summary", "verify", "quit", "entry-trail", "entry-sheet", "trail"),
        *("find", "due"),
        *("places", "history", "chart", "drift", "rules", "batches", "refresh", "keys", "cautions", "about"),
        *("light-system", "light-light", "light-dark", "light-contrast-light", "light-contrast-dark"),
        *("text-100", "text-125", "text-150", "text-200", "text-larger", "text-smaller"),
        *("scale-C", "scale-F"),
        *("find-any", "back", "forward", "close-window"),
        *("today", "actions", "people", "upkeep", "instruments", "forecast", "diagnosis"),
        *("list-words", "list-columns", "list-copy", "list-save", "list-print"),
        *("suitable", "suitable-figures", "certificate", "write-actions"),
    }
)
"""Actions that change nothing. Any other, also one that is added later, is not available here."""

WHY: Final = said(
    "Not available: this window shows the past, which can't be changed. Use the register's own window."
)


class PastWindow(MainWindow):
    """Shows one past register; closing it frees the memory that it takes."""

    def show_past(self, desk: Desk) -> None:
        """Show a past register in this window and bring it to the front."""
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setAcceptDrops(False)
        self.watching.timer.stop()  # nothing is news to the past
        self._mark(desk)
        self.seat(desk)
        self.show()
        self.raise_()

    def _mark(self, desk: Desk) -> None:
        moment = "" if desk.known_at is None else moment_words(desk.known_at)
        said = label(
            tr(
                "Nothing that was entered, corrected or voided later shows here, and nothing can be changed. "
                "Reports written from this window say so."
            ),
            wraps=True,
        )
        if self.windows.late is not None:
            self.windows.late.setEnabled(False)
        self.pages.outlet.known = tr("as known at {moment}", moment=moment)
        self.strip = QFrame()
        self.strip.setProperty("kind", "notice")
        self.strip.setAccessibleName(tr("As known at {moment}. {said}", moment=moment, said=said.text()))
        row = QHBoxLayout(self.strip)
        row.setContentsMargins(14, 8, 10, 8)
        row.setSpacing(12)
        row.addWidget(Chip(Mark.OPEN_WEDGE, tr("As known at {moment}", moment=moment)))
        row.addWidget(said, 1)
        central = self.centralWidget()
        layout = central.layout() if central is not None else None
        if isinstance(layout, QBoxLayout):
            layout.insertWidget(0, self.strip)

    @override
    def _show_account(self, reading: Reading | None) -> None:
        super()._show_account(reading)
        self._refused = dict.fromkeys(Deed, tr(WHY))
        start = self.pages.start
        held: list[QWidget] = [start.sample, start.new, start.open]
        for buttons in self._writing_buttons().values():
            held += buttons
        for each in held:
            withhold(each, tr(WHY))

    @override
    def _on_moved(self) -> None:
        super()._on_moved()
        for command in COMMANDS:
            if command.id not in READING:
                action = self.actions_[command.id]
                action.setEnabled(False)
                action.setToolTip(tr(WHY))
                action.setStatusTip(tr(WHY))
        desk = self.showing.desk
        if desk is not None and desk.known_at is not None:
            self.setWindowTitle(
                tr(
                    "{title} – as known at {moment}",
                    title=self.windowTitle(),
                    moment=moment_words(desk.known_at),
                )
            )

    @override
    def closeEvent(self, event: QCloseEvent) -> None:
        self.windows.closed()
        desk = self.showing.leave()
        if desk is not None:
            self._tasks.run(desk.close, lambda done: None)
        QMainWindow.closeEvent(self, event)
