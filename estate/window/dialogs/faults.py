"""The one way in which a fault reaches a person, and the one for a defect of the program."""

from collections.abc import Callable

from PySide6.QtGui import QGuiApplication, QShowEvent
from PySide6.QtWidgets import QPlainTextEdit, QPushButton, QWidget
from typing_extensions import override

from estate.errors import KnownFault
from estate.window.announcing import alert
from estate.window.dialogs.defect_report import defect_report
from estate.window.dialogs.shell import Shell
from estate.window.sizes import fixed_font
from estate.window.translating import tr
from estate.window.widgets.text import label


class FaultDialog(Shell):
    """A known fault: what went wrong, where, and what to do.

    Attributes:
        offered: buttons that do something about it, by their words.
    """

    def __init__(self, fault: KnownFault, parent: QWidget | None = None) -> None:
        super().__init__(tr(fault.title), parent)
        self.setMinimumWidth(520)
        self.offered: dict[str, QPushButton] = {}
        self.body.addWidget(label(tr(fault.detail), wraps=True))
        self.body.addWidget(label(tr("What you can do"), "heading"))
        self.body.addWidget(label(tr(fault.remedy), wraps=True))
        self.body.addStretch(1)
        self.leave = self.button(tr("Close"), self.accept, main=True)
        self.setAccessibleDescription(f"{tr(fault.detail)} {tr(fault.remedy)}")

    @override
    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        alert(self)

    def offer(self, words: str, run: Callable[[], None]) -> None:
        """Offer something to do about it, before the dialog is closed."""

        def act() -> None:
            self.accept()
            run()

        made = self.button(words, act)
        self.buttons.removeWidget(made)
        self.buttons.insertWidget(0, made)
        self.offered[words] = made


class DefectDialog(Shell):
    """A defect: what was being done, and a report to copy."""

    def __init__(self, error: BaseException, parent: QWidget | None = None) -> None:
        super().__init__(tr("This is a defect of the program"), parent)
        self.setMinimumSize(640, 420)
        said = tr(
            "What you were doing was not finished, and nothing half-done was kept. "
            "Copy the report and send it to whoever looks after this program. "
            "Folders of this machine and addresses of servers are left out. Read it before you send it: "
            "its last line may quote what was in the register."
        )
        self.body.addWidget(label(said, wraps=True))
        self.report = QPlainTextEdit(defect_report(error))
        self.report.setReadOnly(True)
        self.report.setAccessibleName(tr("Report of the defect"))
        self.report.setFont(fixed_font())
        self.body.addWidget(self.report, 1)
        self.button(tr("Copy the report"), self._on_copy)
        self.button(tr("Close"), self.accept, main=True)

    def _on_copy(self) -> None:
        QGuiApplication.clipboard().setText(self.report.toPlainText())
