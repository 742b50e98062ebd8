"""Small dialogs that take a few words: a reason, a name, a new estate."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit, QPlainTextEdit, QWidget

from estate.domain.browsing import HistoryLine
from estate.domain.register import Batch
from estate.window.dialogs.shell import Shell
from estate.window.models.outlet_facts import visit_heading
from estate.window.translating import tr
from estate.window.widgets.text import label


class WordsDialog(Shell):
    """Takes one line of words, which must not be blank.

    Attributes:
        given: the words.
        stays: whether it stays then, until whoever asked closes it.
    """

    given = Signal(str)

    def __init__(
        self, title: str, said: str, name: str, words: str, act: str, parent: QWidget | None
    ) -> None:
        super().__init__(title, parent)
        self.stays = False
        self.setMinimumWidth(520)
        self.body.addWidget(label(said, wraps=True))
        self.line = QLineEdit(words)
        self.line.setAccessibleName(name)
        self.line.setMaxLength(200)
        self.body.addWidget(label(name, "heading"))
        self.body.addWidget(self.line)
        self.body.addStretch(1)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(act, self._on_act, main=True)
        self.line.textChanged.connect(self._on_typed)
        self._on_typed(words)

    def _on_typed(self, text: str) -> None:
        self.act.setEnabled(bool(text.strip()))

    def _on_act(self) -> None:
        self.given.emit(self.line.text().strip())
        if not self.stays:
            self.accept()


def name_dialog(name: str, parent: QWidget | None) -> WordsDialog:
    """Takes the name kept beside entries."""
    said = tr("This name is kept beside everything you enter, correct or make void.")
    return WordsDialog(tr("Your name on entries"), said, tr("Name"), name, tr("Keep"), parent)


def estate_dialog(parent: QWidget | None) -> WordsDialog:
    """Takes the name of a new estate."""
    said = tr(
        "One register holds one estate. Its name stands at the head of every report. "
        "Next you choose where the file lies."
    )
    return WordsDialog(tr("New register"), said, tr("Name of the estate"), "", tr("Choose the file…"), parent)


def undo_dialog(batch: Batch, parent: QWidget | None) -> WordsDialog:
    """Takes the reason why a batch is undone; it stays until that is done."""
    said = tr(
        "Every row of “{file}” that was taken ({accepted:,}) stops counting: its visits stay "
        "on record as void, its outlets and valves are taken out again. The file itself "
        "stays on record. What rests on it would be named first, and nothing then happens.",
        file=batch.file,
        accepted=batch.accepted,
    )
    dialog = WordsDialog(tr("Undo this batch?"), said, tr("Reason"), "", tr("Undo the batch"), parent)
    dialog.stays = True
    return dialog


class VoidDialog(Shell):
    """Takes the reason why an entry does not count.

    Attributes:
        given: the reason. The dialog stays until the entry is void.
    """

    given = Signal(str)

    def __init__(self, line: HistoryLine, parent: QWidget | None) -> None:
        super().__init__(tr("Make this entry void?"), parent)
        self.setMinimumWidth(560)
        self.body.addWidget(label(visit_heading(line), "strong", wraps=True))
        said = tr(
            "It stays on record, struck through, with your name and reason. Judging and planning "
            "go on as if it had not been made, so the next window may change. If only a value is wrong, "
            "correct the entry instead."
        )
        self.body.addWidget(label(said, wraps=True))
        self.body.addWidget(label(tr("Reason"), "heading"))
        self.reason = QPlainTextEdit()
        self.reason.setAccessibleName(tr("Reason"))
        self.reason.setTabChangesFocus(True)
        self.reason.setMaximumHeight(96)
        self.body.addWidget(self.reason)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Make void"), self._on_act, main=True)
        self.act.setEnabled(False)
        self.reason.textChanged.connect(self._on_typed)

    def _on_typed(self) -> None:
        self.act.setEnabled(bool(self.reason.toPlainText().strip()))

    def _on_act(self) -> None:
        self.given.emit(self.reason.toPlainText().strip())
