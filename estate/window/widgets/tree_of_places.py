"""The tree of places itself: several may be chosen and dragged, and are found again by what they are."""

from collections.abc import Iterable, Sequence

from PySide6.QtCore import QItemSelection, QItemSelectionModel, QItemSelectionRange, QModelIndex, Qt, Signal
from PySide6.QtGui import QDragEnterEvent, QDragLeaveEvent, QDragMoveEvent, QDropEvent, QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QAbstractItemView, QTreeView, QWidget
from typing_extensions import override

from estate.domain.browsing import PlaceKind, PlaceNode
from estate.domain.editing import Place
from estate.window.models.place_choice import place_of, short_name, told
from estate.window.models.place_tree import PlaceTree
from estate.window.translating import tr
from estate.window.widgets.painting import PlaceCell

_TO_THE_TOP = (Qt.Key.Key_Home, Qt.Key.Key_Up, Qt.Key.Key_PageUp)
_CHOOSE = QItemSelectionModel.SelectionFlag.ClearAndSelect


class TreeOfPlaces(QTreeView):
    """The tree; Enter or two clicks open.

    Attributes:
        opened: an index was opened.
        settled: an index that was current already was chosen.
        hovered: what letting go now would do, in words; empty once nothing is dragged over it.
        dropped: (places, the place that they were dropped on).
        entering: whether the keys are just coming to it.

    Args:
        places: the model.
        several: whether several places may be chosen.
    """

    opened = Signal(QModelIndex)
    settled = Signal(QModelIndex)
    hovered = Signal(str)
    dropped = Signal(object, object)

    def __init__(self, places: PlaceTree, several: bool, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.entering = False
        self._places = places
        self.setModel(places)
        self.setHeaderHidden(True)
        self.setUniformRowHeights(True)
        self.setIndentation(11)
        self.setExpandsOnDoubleClick(True)
        self.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        modes = QAbstractItemView.SelectionMode
        self.setSelectionMode(modes.ExtendedSelection if several else modes.SingleSelection)
        self.setAccessibleName(tr("Places and outlets"))
        self.setItemDelegate(PlaceCell(self))
        self.doubleClicked.connect(self.opened)
        if several:
            self.setContextMenuPolicy(Qt.ContextMenuPolicy.CustomContextMenu)
            self.setDragDropMode(QAbstractItemView.DragDropMode.InternalMove)
            self.setDragDropOverwriteMode(True)  # a place is dropped on another, never between two
            self.setAutoExpandDelay(700)

    @override
    def focusInEvent(self, event: QFocusEvent) -> None:
        """Make a first place current where none is; that alone leads nowhere (WCAG 2.2, 3.2.1)."""
        self.entering = True
        super().focusInEvent(event)
        self.entering = False

    def groups(self, unfolded: Iterable[Place] = ()) -> list[tuple[Place, QModelIndex]]:
        """Every place that can be seen and holds others, or would be seen if more were unfolded."""
        known = frozenset(unfolded)
        return self._groups(QModelIndex(), known)

    def _groups(self, above: QModelIndex, unfolded: frozenset[Place]) -> list[tuple[Place, QModelIndex]]:
        found: list[tuple[Place, QModelIndex]] = []
        for row in range(self._places.rowCount(above)):
            index = self._places.index(row, 0, above)
            node = self._places.node_at(index)
            if node is not None and node.kind is not PlaceKind.OUTLET:
                found.append((place_of(node), index))
                if self.isExpanded(index) or place_of(node) in unfolded:
                    found.extend(self._groups(index, unfolded))
        return found

    def chosen_nodes(self) -> tuple[PlaceNode, ...]:
        """What is chosen, in the order of the tree."""
        indexes = sorted(self.selectionModel().selectedIndexes(), key=_way)
        found = (self._places.node_at(index) for index in indexes)
        return tuple(node for node in found if node is not None)

    def choose(self, places: Iterable[Place], current: Place | None) -> None:
        """Choose those of some places that are shown, and make one of them current."""
        indexes = [index for place in places if (index := self._places.index_of(place)).isValid()]
        chosen = QItemSelection()
        for first, last in _runs(sorted(indexes, key=_way)):
            chosen.append(QItemSelectionRange(first, last))
        kept = self._places.index_of(current) if current is not None else QModelIndex()
        self.setAutoScroll(False)  # it would unfold what was folded, and move what is in sight
        if kept.isValid():
            self.selectionModel().setCurrentIndex(kept, QItemSelectionModel.SelectionFlag.NoUpdate)
        if not chosen.isEmpty():
            self.selectionModel().select(chosen, _CHOOSE)
        self.setAutoScroll(True)

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.currentIndex().isValid():
            self.opened.emit(self.currentIndex())
            return
        before = self.currentIndex()
        super().keyPressEvent(event)
        unchosen = before.isValid() and not self.selectionModel().isSelected(before)
        if (
            unchosen
            and before == self.currentIndex()
            and event.key() in _TO_THE_TOP
            and not event.modifiers()
        ):
            self.selectionModel().select(before, _CHOOSE)  # it was only come to by the keys
            self.settled.emit(before)

    @override
    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if self._places.carried(event.mimeData()):
            event.acceptProposedAction()
        else:
            event.ignore()

    @override
    def dragMoveEvent(self, event: QDragMoveEvent) -> None:
        super().dragMoveEvent(event)
        to, carried = self._target(event), self._places.carried(event.mimeData())
        nodes = [node for place in carried if (node := self._places.node_of(place)) is not None]
        if to is None:
            self.hovered.emit(tr("{what}: not to there", what=told(nodes)) if nodes else "")
            event.ignore()
        else:
            self.hovered.emit(tr("{what} → {to}", what=told(nodes), to=short_name(to)))
            event.acceptProposedAction()

    @override
    def dragLeaveEvent(self, event: QDragLeaveEvent) -> None:
        super().dragLeaveEvent(event)
        self.hovered.emit("")

    @override
    def dropEvent(self, event: QDropEvent) -> None:
        to = self._target(event)
        self.hovered.emit("")
        self.stopAutoScroll()
        self.setState(QAbstractItemView.State.NoState)
        self.viewport().update()
        if to is None:
            event.ignore()
            return
        # The register moves them, and the tree is then told afresh: the view has nothing to take away.
        event.setDropAction(Qt.DropAction.CopyAction)
        event.accept()
        self.dropped.emit(self._places.carried(event.mimeData()), place_of(to))

    def _target(self, event: QDropEvent) -> PlaceNode | None:
        index = self.indexAt(event.position().toPoint())
        action = Qt.DropAction.MoveAction
        fits = index.isValid() and self._places.canDropMimeData(event.mimeData(), action, -1, -1, index)
        return self._places.node_at(index) if fits else None


def _way(index: QModelIndex) -> tuple[int, ...]:
    """The rows that lead to an index: its place in the order of the tree."""
    rows = [index.row()]
    while (index := index.parent()).isValid():
        rows.append(index.row())
    return tuple(reversed(rows))


def _runs(indexes: Sequence[QModelIndex]) -> list[tuple[QModelIndex, QModelIndex]]:
    """Indexes in order as runs of neighbours, first and last."""
    runs: list[tuple[QModelIndex, QModelIndex]] = []
    for index in indexes:
        if runs and runs[-1][1].row() + 1 == index.row() and runs[-1][1].parent() == index.parent():
            runs[-1] = (runs[-1][0], index)
        else:
            runs.append((index, index))
    return runs
