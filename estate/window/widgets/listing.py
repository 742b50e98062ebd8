"""A table on the screen: sorted, gathered, its columns chosen, its lines opened and copied."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any, Generic, Protocol, TypeVar

from PySide6.QtCore import QEvent, QModelIndex, QPoint, QSize, Qt, QTimer, Signal
from PySide6.QtGui import (
    QContextMenuEvent,
    QGuiApplication,
    QHideEvent,
    QKeyEvent,
    QKeySequence,
    QPaintEvent,
    QResizeEvent,
)
from PySide6.QtWidgets import QAbstractItemView, QMenu, QTableView, QWidget
from typing_extensions import override

from estate.domain.shown_list import ShownList
from estate.settings import ListLook
from estate.window import words
from estate.window.models.ordering import Ordered
from estate.window.models.shown_rows import shown_lines, shown_list
from estate.window.models.table import TableModel
from estate.window.roles import Role
from estate.window.widgets.group_headings import draw_headings, frame_current
from estate.window.widgets.list_columns import ColumnsLiked
from estate.window.widgets.list_copying import copied
from estate.window.widgets.list_menu import fill_list_menu
from estate.window.widgets.painting import MarkedCell

T = TypeVar("T")
_KEPT_AFTER_MS = 400
_LEAST_ROWS = 3


class ListMemory(Protocol):
    """Keeps how a person likes each list."""

    def recall(self, name: str) -> ListLook:
        """How the person likes a list; the usual look where nothing is kept of it."""

    def keep(self, name: str, look: ListLook) -> None:
        """Keep how the person likes a list."""


class Listing(QTableView, Generic[T]):
    """Shows a `TableModel` through an `Ordered`.

    Args:
        model: the table.
        name: for screen readers, and the title of what is saved and printed.
        known_as: what the person's columns are remembered by; empty for the name.

    Attributes:
        opened: key of the row that was opened (Enter or double click).
        picked: key of the row that became current; None for none.
        columns_asked, save_asked, print_asked: what the person wants done with the list.
        served: whether somebody answers these.
        narrowing: says in words what was asked for, beside what the list itself knows.
    """

    opened = Signal(int)
    picked = Signal(object)
    columns_asked = Signal()
    save_asked = Signal()
    print_asked = Signal()

    def __init__(
        self, model: TableModel[T], name: str, parent: QWidget | None = None, known_as: str = ""
    ) -> None:
        super().__init__(parent)
        self._built = False
        self.table = model
        self.known_as = known_as or name
        self.served = False
        self.narrowing: Callable[[], Sequence[str]] = tuple
        self._memory: ListMemory | None = None
        self._last_picked: int | None = None
        self.ordered: Ordered[T] = Ordered(model, self)
        self.setModel(self.ordered)
        self.setAccessibleName(name)
        self.setItemDelegate(MarkedCell(self))
        self._behave()
        self.liked = ColumnsLiked(self, model, self.ordered)
        self.liked.wear(ListLook())
        self._kept_soon = QTimer(self)
        self._kept_soon.setSingleShot(True)
        self._kept_soon.setInterval(_KEPT_AFTER_MS)
        self._listen()
        self._built = True

    def _fit_rows(self) -> None:
        heading, high = self.verticalHeader(), int(self.fontMetrics().height() * 1.6)
        heading.setMinimumSectionSize(high)  # else it goes by its own font, which may not have changed yet
        heading.setDefaultSectionSize(high)

    @override
    def minimumSizeHint(self) -> QSize:
        rows = self.verticalHeader().defaultSectionSize() * _LEAST_ROWS
        return QSize(super().minimumSizeHint().width(), self.horizontalHeader().sizeHint().height() + rows)

    @override
    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and self._built:
            self._fit_rows()
            self.liked.follow_text()

    def _behave(self) -> None:
        self.setSelectionBehavior(QAbstractItemView.SelectionBehavior.SelectRows)
        self.setSelectionMode(QAbstractItemView.SelectionMode.ExtendedSelection)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setAlternatingRowColors(True)
        self.setShowGrid(False)
        self.setWordWrap(False)
        self.setTabKeyNavigation(False)
        self.setHorizontalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        self.verticalHeader().hide()
        self._fit_rows()
        heading = self.horizontalHeader()
        heading.setHighlightSections(False)
        heading.setSectionsMovable(True)
        heading.setSortIndicatorClearable(True)
        heading.setSortIndicator(-1, Qt.SortOrder.AscendingOrder)
        heading.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
        self.setSortingEnabled(True)

    def _listen(self) -> None:
        self.clicked.connect(self._on_clicked)
        self.doubleClicked.connect(self._on_opened)
        self.selectionModel().currentRowChanged.connect(self._on_picked)
        self.ordered.layoutChanged.connect(self._on_laid_anew)
        self.horizontalHeader().customContextMenuRequested.connect(self._on_heading_asked)
        self.liked.changed.connect(self._kept_soon.start)
        self._kept_soon.timeout.connect(self._keep)

    def remember(self, memory: ListMemory) -> None:
        """Lay the columns out as the person likes them, and keep what the person changes from now on."""
        self._memory = memory
        self.liked.wear(memory.recall(self.known_as))

    def _keep(self) -> None:
        self._kept_soon.stop()
        if self._memory is not None:
            self._memory.keep(self.known_as, self.liked.look)

    @override
    def hideEvent(self, event: QHideEvent) -> None:
        if self._kept_soon.isActive():
            self._keep()
        super().hideEvent(event)

    def hide_empty(self) -> None:
        """Hide the columns in which no row has anything, where the person did not ask for them."""
        rows = range(len(self.table.rows))
        empty = {
            column.key: all(self.table.cell(row, place).text == words.NOTHING for row in rows)
            for place, column in enumerate(self.table.columns)
        }
        self.liked.suggest_hidden(empty)

    def suggest_hidden(self, hidden: Mapping[str, bool]) -> None:
        """Hide or show columns, by their ids, where the person chose nothing about them."""
        self.liked.suggest_hidden(hidden)

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.liked.spread()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self.ordered.gathered_by is not None:
            draw_headings(self)
        frame_current(self)

    def current_key(self) -> int | None:
        """The key of the current row, or None."""
        key = self.currentIndex().data(Role.KEY)
        return key if isinstance(key, int) else None

    def choose(self, key: int) -> bool:
        """Make the row of a key current; whether it is shown."""
        place = self.table.place_of(key)
        if place is None:
            return False
        self.ordered.show_line(place)
        index = self.ordered.mapFromSource(self.table.index(place, 0))
        if index.isValid():
            self.setCurrentIndex(self._in_sight(index))
        return index.isValid()

    def _in_sight(self, index: QModelIndex) -> QModelIndex:
        """The same row in a column that is shown, so that the view does not scroll to a hidden one."""
        shown = self.liked.places_shown()
        return self.ordered.index(index.row(), shown[0] if shown else 0)

    @override
    def selectRow(self, row: int) -> None:
        """Choose a row; where a heading stands, the first line below it."""
        last = self.ordered.rowCount() - 1
        while row < last and self.ordered.heading_at(row) is not None:
            row += 1
        super().selectRow(row)

    def shown_list(self) -> ShownList:
        """What is shown, for a file or for paper."""
        return shown_list(
            self.table, self.ordered, self.liked.places_shown(), self.accessibleName(), self.narrowed()
        )

    def narrowed(self) -> tuple[str, ...]:
        """What was asked for, in words."""
        only = (
            f"{self.table.columns[place].plain_title}: {words.listed(sorted(texts), 4)}"
            for place, texts in self.ordered.kept_only.items()
        )
        return (*self.narrowing(), *only)

    def copy_chosen(self) -> int:
        """Put the chosen lines onto the clipboard; how many there were."""
        rows = sorted({each.row() for each in self.selectionModel().selectedRows()})
        return self._copy([place for row in rows if (place := self.ordered.place_at(row)) is not None])

    def copy_all(self) -> int:
        """Put every line shown onto the clipboard, in the order shown; how many there were."""
        return self._copy(self.ordered.places_shown())

    def _copy(self, places: Sequence[int]) -> int:
        if places:
            columns = self.liked.places_shown()
            titles = [self.table.columns[each].plain_title for each in columns]
            QGuiApplication.clipboard().setMimeData(copied(titles, shown_lines(self.table, places, columns)))
        return len(places)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        index = self.currentIndex()
        heading = self.ordered.heading_at(index.row()) if index.isValid() else None
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copy_chosen()
        elif event.key() == Qt.Key.Key_F10 and event.modifiers() == Qt.KeyboardModifier.ShiftModifier:
            self._show_menu(self.viewport().mapToGlobal(self.visualRect(index).bottomLeft()))
        elif heading is not None and event.key() in _FOLDING:
            self.ordered.fold(index.row(), _FOLDING[event.key()])
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and index.isValid():
            self._on_opened(index)
        else:
            super().keyPressEvent(event)

    @override
    def contextMenuEvent(self, event: QContextMenuEvent) -> None:
        at = event.globalPos()
        if event.reason() == QContextMenuEvent.Reason.Keyboard:
            at = self.viewport().mapToGlobal(self.visualRect(self.currentIndex()).bottomLeft())
        self._show_menu(at)

    def _on_heading_asked(self, at: QPoint) -> None:
        heading = self.horizontalHeader()
        self._show_menu(heading.mapToGlobal(at), heading.logicalIndexAt(at))

    def _show_menu(self, at: QPoint, column: int = -1) -> None:
        menu = QMenu(self)
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        fill_list_menu(menu, self, column)
        menu.popup(at)

    def _on_clicked(self, index: QModelIndex) -> None:
        if not QGuiApplication.keyboardModifiers() & _CHOOSING_MORE:
            self.ordered.fold(index.row())

    def _on_opened(self, index: QModelIndex) -> None:
        key: Any = index.data(Role.KEY)
        if isinstance(key, int):
            self.opened.emit(key)

    def _on_picked(self, current: QModelIndex, previous: QModelIndex) -> None:
        self._last_picked = current.data(Role.KEY) if current.isValid() else None
        self.picked.emit(self._last_picked)

    def _on_laid_anew(self) -> None:
        """Say that nothing is picked where the line that was is no longer shown."""
        if self._last_picked is not None and not self.currentIndex().isValid():
            self._last_picked = None
            self.picked.emit(None)


_CHOOSING_MORE = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
_FOLDING: Mapping[int, bool | None] = {
    Qt.Key.Key_Left: True,
    Qt.Key.Key_Right: False,
    Qt.Key.Key_Return: None,
    Qt.Key.Key_Enter: None,
    Qt.Key.Key_Space: None,
}
