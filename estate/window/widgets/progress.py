"""How far long work is, with a way to stop it."""

from PySide6.QtWidgets import QHBoxLayout, QProgressBar, QPushButton, QWidget

from estate.window.tasks import LongTask
from estate.window.translating import tr
from estate.window.widgets.text import label


class ProgressStrip(QWidget):
    """Words, a bar and a button to stop; hidden while there is no work."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._task: LongTask | None = None
        self._words = label("")
        self._bar = QProgressBar()
        self._bar.setAccessibleName(tr("How far the work is"))
        self._bar.setMinimumWidth(180)
        self.stop = QPushButton(tr("Stop"))
        self.stop.clicked.connect(self._on_stop)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(10)
        row.addWidget(self._words, 1)
        row.addWidget(self._bar)
        row.addWidget(self.stop)
        self.hide()

    def follow(self, task: LongTask) -> None:
        """Show a task until it has ended."""
        self._task = task
        self._words.setText(task.words)
        self._bar.setRange(0, 0)
        self.stop.setEnabled(True)
        task.progressed.connect(self._on_progressed)
        task.ended.connect(self._on_ended)
        self.show()

    def _on_progressed(self, done: int, of: int, words: str) -> None:
        self._bar.setRange(0, max(of, 0))
        self._bar.setValue(done)
        if words:
            self._words.setText(words)

    def give_up(self) -> None:
        """Ask the work that is shown to stop, because the person leaves."""
        self._on_stop()

    def _on_stop(self) -> None:
        if self._task is not None:
            self.stop.setEnabled(False)
            self._task.cancel()

    def _on_ended(self) -> None:
        self._task = None
        self.hide()
