"""The one way in which a fault reaches a person, and the one for a defect of the program."""

import platform
import sys
import traceback
from collections.abc import Callable

from PySide6.QtCore import qVersion
from PySide6.QtGui import QFontDatabase, QGuiApplication
from PySide6.QtWidgets import QPlainTextEdit, QPushButton, QWidget

from estate.errors import KnownFault
from estate.window.dialogs.shell import Shell
from estate.window.widgets.text import label


class FaultDialog(Shell):
    """A known fault: what went wrong, where, and what to do.

    Attributes:
        offered: buttons that do something about it, by their words.
    """

    def __init__(self, fault: KnownFault, parent: QWidget | None = None) -> None:
        super().__init__(fault.title, parent)
        self.setMinimumWidth(520)
        self.offered: dict[str, QPushButton] = {}
        self.body.addWidget(label(fault.detail, wraps=True))
        self.body.addWidget(label("What you can do", "heading"))
        self.body.addWidget(label(fault.remedy, wraps=True))
        self.body.addStretch(1)
        self.leave = self.button("Close", self.accept, main=True)

    def offer(self, words: str, run: Callable[[], None]) -> None:
        """Offer something to do about it, before the dialog is closed."""

        def act() -> None:
            self.accept()
            run()

        made = self.button(words, act)
        self.buttons.removeWidget(made)
        self.buttons.insertWidget(1, made)
        self.offered[words] = made


class DefectDialog(Shell):
    """A defect: what was being done, and a report to copy."""

    def __init__(self, error: BaseException, parent: QWidget | None = None) -> None:
        super().__init__("This is a defect of the program", parent)
        self.setMinimumSize(640, 420)
        said = (
            "What you were doing was not finished, and nothing half-done was kept. "
            "Copy the report and send it to whoever looks after this program. "
            "It holds no readings and no names from the register beyond what the lines below show."
        )
        self.body.addWidget(label(said, wraps=True))
        self.report = QPlainTextEdit(defect_report(error))
        self.report.setReadOnly(True)
        self.report.setAccessibleName("Report of the defect")
        self.report.setFont(QFontDatabase.systemFont(QFontDatabase.SystemFont.FixedFont))
        self.body.addWidget(self.report, 1)
        self.button("Copy the report", self._on_copy)
        self.button("Close", self.accept, main=True)

    def _on_copy(self) -> None:
        QGuiApplication.clipboard().setText(self.report.toPlainText())


def defect_report(error: BaseException) -> str:
    """Versions and the trace of an exception, ready to send."""
    trace = "".join(traceback.format_exception(error))
    system = f"{platform.system()} {platform.release()}"
    return f"Python {sys.version.split()[0]}, Qt {qVersion()}, {system}\n\n{trace}"
