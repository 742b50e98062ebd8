"""The search box and the tree of places under it."""

from collections.abc import Iterable

from PySide6.QtCore import QEvent, QItemSelectionModel, QModelIndex, QObject, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QLineEdit, QTreeView, QVBoxLayout, QWidget
from typing_extensions import override

from estate.domain.browsing import PlaceKind, PlaceNode
from estate.window import words
from estate.window.models.place_tree import Place, PlaceTree
from estate.window.widgets.painting import PlaceCell
from estate.window.widgets.text import label

_OPEN_ALL_BELOW = 400


class PlacePanel(QWidget):
    """Finds places and lets one be chosen.

    Attributes:
        chosen: the `PlaceNode` that became current.
        opened: the `PlaceNode` that was opened (Enter or double click).
    """

    chosen = Signal(object)
    opened = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.model = PlaceTree(self)
        self._unfolded: set[Place] = set()
        self._current: Place | None = None
        self._quiet = False
        self.search = QLineEdit()
        self.search.setPlaceholderText("Find by reference, room, valve, serial")
        self.search.setAccessibleName("Find an outlet or a place")
        self.search.setClearButtonEnabled(True)
        self.search.textChanged.connect(self._on_sought)
        self.search.returnPressed.connect(self._on_search_entered)
        self.search.installEventFilter(self)
        self.tree = _Tree()
        self.tree.setModel(self.model)
        self.tree.opened.connect(self._on_opened)
        self.tree.selectionModel().currentChanged.connect(self._on_current)
        self.found = label("", "small")
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 10, 4, 8)
        column.setSpacing(6)
        column.addWidget(self.search)
        column.addWidget(self.tree, 1)
        column.addWidget(self.found)

    def tell(self, nodes: Iterable[PlaceNode]) -> None:
        """Show another tree; what was unfolded and chosen stays so."""
        first = not self._unfolded
        shown = tuple(nodes)
        self._keep_unfolded()
        self.model.fill(shown)
        if first:
            self._unfolded = {(each.kind, each.id) for each in shown}
            if len(shown) <= 3:
                self._unfolded |= {(below.kind, below.id) for each in shown for below in each.children}
        self._restore()
        self._say_found(sum(each.outlets for each in shown))

    def choose(self, place: Place) -> bool:
        """Make a place current and unfold the way to it; whether it is shown."""
        index = self.model.index_of(place)
        if not index.isValid() and self.search.text():
            self.search.clear()
            index = self.model.index_of(place)
        if index.isValid():
            self.tree.setCurrentIndex(index)
            self.tree.scrollTo(index)
        return index.isValid()

    @property
    def current(self) -> PlaceNode | None:
        """The current place, or None."""
        index = self.tree.currentIndex()
        return self.model.node_at(index) if index.isValid() else None

    def _on_sought(self, text: str) -> None:
        self._keep_unfolded()
        found = self.model.seek(text)
        self._restore()
        if self.model.filtered and found <= _OPEN_ALL_BELOW:
            self.tree.expandAll()
        self._say_found(found)

    def _say_found(self, outlets: int) -> None:
        told = words.count(outlets, "outlet")
        self.found.setText(f"{told} found" if self.model.filtered else told)

    def _keep_unfolded(self) -> None:
        """Remember what is unfolded, except where a filter unfolded it."""
        if self.model.filtered:
            return
        self._unfolded = {
            place for place, index in self._groups(QModelIndex()) if self.tree.isExpanded(index)
        }

    def _groups(self, above: QModelIndex) -> list[tuple[Place, QModelIndex]]:
        found: list[tuple[Place, QModelIndex]] = []
        for row in range(self.model.rowCount(above)):
            index = self.model.index(row, 0, above)
            node = self.model.node_at(index)
            if node is not None and node.kind is not PlaceKind.OUTLET:
                found.append(((node.kind, node.id), index))
                if self.tree.isExpanded(index) or (node.kind, node.id) in self._unfolded:
                    found.extend(self._groups(index))
        return found

    def _restore(self) -> None:
        self._quiet = True
        for place, index in self._groups(QModelIndex()):
            self.tree.setExpanded(index, place in self._unfolded)
        kept = self.model.index_of(self._current) if self._current is not None else QModelIndex()
        if kept.isValid():
            choice = QItemSelectionModel.SelectionFlag.ClearAndSelect
            self.tree.selectionModel().setCurrentIndex(kept, choice)
        self._quiet = False

    def _on_current(self, current: QModelIndex, previous: QModelIndex) -> None:
        node = self.model.node_at(current) if current.isValid() else None
        if node is None or self._quiet:
            return
        self._current = (node.kind, node.id)
        self.chosen.emit(node)

    def _on_opened(self, index: QModelIndex) -> None:
        node = self.model.node_at(index)
        if node is not None:
            self.opened.emit(node)

    def _on_search_entered(self) -> None:
        first = self.model.first_outlet()
        if first.isValid():
            if first == self.tree.currentIndex():
                self._on_opened(first)
            self.tree.setCurrentIndex(first)
            self.tree.setFocus(Qt.FocusReason.ShortcutFocusReason)

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if watched is self.search and isinstance(event, QKeyEvent) and event.type() is QEvent.Type.KeyPress:
            if event.key() == Qt.Key.Key_Down:
                self.tree.setFocus(Qt.FocusReason.ShortcutFocusReason)
                return True
            if event.key() == Qt.Key.Key_Escape and self.search.text():
                self.search.clear()
                return True
        return super().eventFilter(watched, event)


class _Tree(QTreeView):
    """The tree itself; Enter or two clicks open."""

    opened = Signal(QModelIndex)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setHeaderHidden(True)
        self.setUniformRowHeights(True)
        self.setIndentation(11)
        self.setExpandsOnDoubleClick(True)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.setAccessibleName("Places and outlets")
        self.setItemDelegate(PlaceCell(self))
        self.doubleClicked.connect(self.opened)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.currentIndex().isValid():
            self.opened.emit(self.currentIndex())
            return
        super().keyPressEvent(event)
