"""A table on the screen: sortable, one row chosen at a time, opened by a key or two clicks."""

from typing import Any, Generic, TypeVar

from PySide6.QtCore import QModelIndex, Qt, Signal
from PySide6.QtGui import QFont, QFontMetrics, QKeyEvent, QResizeEvent
from PySide6.QtWidgets import QAbstractItemView, QTableView, QWidget
from typing_extensions import override

from estate.window import words
from estate.window.models.ordering import Ordered
from estate.window.models.table import TableModel
from estate.window.roles import Role
from estate.window.widgets.painting import MarkedCell

T = TypeVar("T")


class Listing(QTableView, Generic[T]):
    """Shows a `TableModel` through an `Ordered` proxy.

    Attributes:
        opened: key of the row that was opened (Enter or double click).
        picked: key of the row that became current; None for none.
    """

    opened = Signal(int)
    picked = Signal(object)

    def __init__(self, model: TableModel[T], name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.table = model
        self.ordered: Ordered[T] = Ordered(model, self)
        self.setModel(self.ordered)
        self.setAccessibleName(name)
        self.setItemDelegate(MarkedCell(self))
        self._behave()
        self._measure()
        self.doubleClicked.connect(self._on_opened)
        self.selectionModel().currentRowChanged.connect(self._on_picked)

    def _behave(self) -> None:
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setAlternatingRowColors(True)
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setTabKeyNavigation(False)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.verticalHeader().hide()
        self.verticalHeader().setDefaultSectionSize(int(self.fontMetrics().height() * 1.6))
        heading = self.horizontalHeader()
        heading.setHighlightSections(False)
        heading.setSectionsMovable(True)
        heading.setSortIndicatorClearable(True)
        heading.setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
        self.setSortingEnabled(True)

    def _measure(self) -> None:
        """Give each column the room of its usual content, never less than its heading."""
        bold = self.font()
        bold.setWeight(QFont.Weight.DemiBold)
        plain, strong = self.fontMetrics(), QFontMetrics(bold)
        for place, column in enumerate(self.table.columns):
            titles = max(strong.horizontalAdvance(line) for line in column.title.split("\n"))
            width = max(plain.horizontalAdvance(column.sample), titles) + 26
            self.setColumnWidth(place, width + (plain.height() + 4 if column.marked else 0))
        self.horizontalHeader().setMinimumSectionSize(40)

    def hide_empty(self) -> None:
        """Hide the columns in which no row has anything."""
        model = self.table
        for place in range(len(model.columns)):
            shown = {model.index(row, place).data() for row in range(len(model.rows))}
            self.setColumnHidden(place, shown <= {words.NOTHING})
        self._spread()

    def _spread(self) -> None:
        """Give the room that is left to the columns that can use it."""
        wide = [place for place, column in enumerate(self.table.columns) if column.stretches]
        others = sum(self.columnWidth(place) for place in range(len(self.table.columns)) if place not in wide)
        left = self.viewport().width() - others
        for place in wide:
            sample = self.table.columns[place].sample
            self.setColumnWidth(
                place, max(left // len(wide), self.fontMetrics().horizontalAdvance(sample) + 26)
            )

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._spread()

    def current_key(self) -> int | None:
        """The key of the current row, or None."""
        key = self.currentIndex().data(Role.KEY)
        return key if isinstance(key, int) else None

    def choose(self, key: int) -> bool:
        """Make the row of a key current; whether it is shown."""
        place = self.table.place_of(key)
        if place is None:
            return False
        index = self.ordered.mapFromSource(self.table.index(place, 0))
        if index.isValid():
            self.setCurrentIndex(index)
        return bool(index.isValid())

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.currentIndex().isValid():
            self._on_opened(self.currentIndex())
            return
        super().keyPressEvent(event)

    def _on_opened(self, index: QModelIndex) -> None:
        key: Any = index.data(Role.KEY)
        if isinstance(key, int):
            self.opened.emit(key)

    def _on_picked(self, current: QModelIndex, previous: QModelIndex) -> None:
        self.picked.emit(current.data(Role.KEY) if current.isValid() else None)
