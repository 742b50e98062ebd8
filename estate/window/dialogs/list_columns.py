"""Which columns of a list are shown, and in which order."""

from collections.abc import Sequence

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QListWidget, QListWidgetItem, QPushButton, QVBoxLayout, QWidget

from estate.window.dialogs.shell import Shell
from estate.window.translating import tr
from estate.window.widgets.text import label


class ColumnsDialog(Shell):
    """Ticks columns and moves them.

    Args:
        title: of the list.
        columns: (id, words, whether it is shown), from the left.

    Attributes:
        given: (ids in order, ids of those shown).
        at_first: everything is wanted as it was at first.
    """

    given = Signal(object, object)
    at_first = Signal()

    def __init__(
        self, title: str, columns: Sequence[tuple[str, str, bool]], parent: QWidget | None = None
    ) -> None:
        super().__init__(tr("Columns: {list}", list=title), parent)
        self.setMinimumSize(480, 560)
        self.listed = QListWidget()
        self.listed.setProperty("kind", "ticks")
        self.listed.setAccessibleName(tr("Columns, from the left; the space bar shows or hides one"))
        for key, words, shown in columns:
            item = QListWidgetItem(words)
            item.setData(Qt.ItemDataRole.UserRole, key)
            item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            item.setSizeHint(QSize(0, round(self.fontMetrics().height() * 1.7)))
            item.setCheckState(Qt.CheckState.Checked if shown else Qt.CheckState.Unchecked)
            self.listed.addItem(item)
        self.up = QPushButton(tr("Move up"))
        self.down = QPushButton(tr("Move down"))
        self.up.clicked.connect(lambda checked=False: self._move(-1))
        self.down.clicked.connect(lambda checked=False: self._move(1))
        self._lay_out()
        self.usual = self.button(tr("As at first"), self._on_usual)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Show these columns"), self._on_act, main=True)
        self.listed.itemChanged.connect(lambda item: self._settle())
        self.listed.currentRowChanged.connect(lambda row: self._settle())
        self.listed.setCurrentRow(0)
        self._settle()
        self.listed.setFocus()

    def _lay_out(self) -> None:
        beside = QVBoxLayout()
        for button in (self.up, self.down):
            button.setAutoDefault(False)
            beside.addWidget(button)
        beside.addStretch(1)
        row = QHBoxLayout()
        row.addWidget(self.listed, 1)
        row.addLayout(beside)
        self.body.addWidget(
            label(tr("The column at the top stands on the left. At least one stays."), "muted", wraps=True)
        )
        self.body.addLayout(row, 1)

    def shown(self) -> list[str]:
        """The ids of the columns ticked."""
        return [key for key, item in self._items() if item.checkState() == Qt.CheckState.Checked]

    def _items(self) -> list[tuple[str, QListWidgetItem]]:
        items = [self.listed.item(row) for row in range(self.listed.count())]
        return [(str(item.data(Qt.ItemDataRole.UserRole)), item) for item in items]

    def _move(self, by: int) -> None:
        row = self.listed.currentRow()
        if 0 <= row + by < self.listed.count():
            self.listed.insertItem(row + by, self.listed.takeItem(row))
            self.listed.setCurrentRow(row + by)

    def _settle(self) -> None:
        row = self.listed.currentRow()
        self.up.setEnabled(row > 0)
        self.down.setEnabled(0 <= row < self.listed.count() - 1)
        self.act.setEnabled(bool(self.shown()))

    def _on_usual(self) -> None:
        self.at_first.emit()
        self.accept()

    def _on_act(self) -> None:
        self.given.emit([key for key, _ in self._items()], self.shown())
        self.accept()
