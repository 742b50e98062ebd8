"""A checkpoint that was taken, to be kept away from the machine; and one that was kept, to compare with."""

from PySide6.QtCore import Signal
from PySide6.QtGui import QGuiApplication
from PySide6.QtWidgets import QPlainTextEdit, QWidget

from estate.window.dialogs.shell import Shell
from estate.window.sizes import fixed_font
from estate.window.translating import tr
from estate.window.widgets.text import label


class CheckpointDialog(Shell):
    """Shows the text of a checkpoint.

    Attributes:
        print_asked, save_asked: what the person wants done with it.
    """

    print_asked = Signal()
    save_asked = Signal()

    def __init__(self, text: str, parent: QWidget | None = None) -> None:
        super().__init__(tr("A checkpoint was taken"), parent)
        self.setMinimumWidth(760)
        said = tr(
            "Give it to someone who can't write to the register: the water safety group, the auditor. Given "
            "back to the program when the trail is verified, it proves that everything up to its entry is as "
            "it is now. On this machine alone it proves nothing."
        )
        self.body.addWidget(label(said, wraps=True))
        self.text = QPlainTextEdit(text)
        self.text.setReadOnly(True)
        self.text.setAccessibleName(tr("Text of the checkpoint"))
        self.text.setFont(fixed_font())
        self.text.setLineWrapMode(QPlainTextEdit.LineWrapMode.NoWrap)
        self.text.setMinimumHeight(self.text.fontMetrics().lineSpacing() * (text.count("\n") + 2))
        self.body.addWidget(self.text, 1)
        self.copy = self.button(tr("Copy"), self._on_copy)
        self.save = self.button(tr("Save as text…"), self.save_asked.emit)
        self.print = self.button(tr("Print…"), self.print_asked.emit)
        self.button(tr("Close"), self.accept, main=True)

    def _on_copy(self) -> None:
        QGuiApplication.clipboard().setText(self.text.toPlainText())


class KeptCheckpointDialog(Shell):
    """Takes the text of a kept checkpoint.

    Attributes:
        file_asked: the person has it in a file.
        given: its text.
    """

    file_asked = Signal()
    given = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(tr("Compare with a kept checkpoint"), parent)
        self.setMinimumWidth(760)
        said = tr(
            "Put in the lines as they were printed or mailed, from “Register” to “Digest”. The whole trail "
            "is then verified, and its entry must have the digest that the checkpoint has."
        )
        self.body.addWidget(label(said, wraps=True))
        self.text = QPlainTextEdit()
        self.text.setAccessibleName(tr("Text of the kept checkpoint"))
        self.text.setTabChangesFocus(True)
        self.text.setFont(fixed_font())
        self.body.addWidget(self.text, 1)
        self.button(tr("Leave"), self.reject)
        self.file = self.button(tr("From a file…"), self.file_asked.emit)
        self.act = self.button(tr("Verify"), self._on_act, main=True)
        self.act.setEnabled(False)
        self.text.textChanged.connect(lambda: self.act.setEnabled(bool(self.text.toPlainText().strip())))

    def _on_act(self) -> None:
        self.given.emit(self.text.toPlainText())
        self.accept()
