"""The search box and the tree of places under it."""

from collections.abc import Iterable

from PySide6.QtCore import QEvent, QModelIndex, QObject, QPoint, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget
from typing_extensions import override

from estate.domain.browsing import PlaceKind, PlaceNode
from estate.domain.editing import Place
from estate.window.models.place_choice import of_one_storey, outlets_below, place_of, told
from estate.window.models.place_tree import PlaceTree
from estate.window.translating import tr, tr_count
from estate.window.widgets.text import label
from estate.window.widgets.tree_of_places import TreeOfPlaces

_UNFOLD_AT_MOST = 400


class PlacePanel(QWidget):
    """Finds places and lets one or several be chosen.

    Attributes:
        chosen: the `PlaceNode` that became current.
        opened: the `PlaceNode` that was opened (Enter or double click).
        picked: other places are chosen than before.
        menu_asked: where on the screen a menu for them is asked for.
        moved: (places, the place that they were dragged to).

    Args:
        leaf: the storey that is looked for.
        several: whether several places may be chosen.
    """

    chosen = Signal(object)
    opened = Signal(object)
    picked = Signal()
    menu_asked = Signal(QPoint)
    moved = Signal(object, object)

    def __init__(
        self, parent: QWidget | None = None, leaf: PlaceKind = PlaceKind.OUTLET, several: bool = True
    ) -> None:
        super().__init__(parent)
        self.model = PlaceTree(self, leaf)
        self._unfolded: set[Place] = set()
        self._to_unfold: set[Place] = set()
        self._current: Place | None = None
        self._picked: tuple[Place, ...] = ()
        self._awaited: Place | None = None
        self._told = 0
        self._quiet = False
        self.search = QLineEdit()
        self.search.setPlaceholderText(tr("Only places with these words"))
        self.search.setAccessibleName(tr("Leave in the tree only places with these words"))
        self.search.setClearButtonEnabled(True)
        self.tree = TreeOfPlaces(self.model, several)
        self.found = label("", "small")
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(10, 10, 4, 8)
        self._column.setSpacing(6)
        self._column.addWidget(self.search)
        self._column.addWidget(self.tree, 1)
        self._column.addWidget(self.found)
        self._listen()

    def _listen(self) -> None:
        self.search.textChanged.connect(self._on_sought)
        self.search.installEventFilter(self)
        self.tree.opened.connect(self._on_opened)
        self.tree.settled.connect(lambda index: self._on_current(index, QModelIndex()))
        self.tree.selectionModel().currentChanged.connect(self._on_current)
        self.tree.selectionModel().selectionChanged.connect(lambda now, before: self._on_picked())
        self.tree.customContextMenuRequested.connect(self._on_menu)
        self.tree.hovered.connect(self._on_hovered)
        # Not from inside the drop: what it comes to tells the tree afresh.
        self.tree.dropped.connect(self.moved, Qt.ConnectionType.QueuedConnection)

    def part_from_edge(self, by: int) -> None:
        """Leave some pixels on every side."""
        self._column.setContentsMargins(by, by, by, by)

    def tell(self, nodes: Iterable[PlaceNode]) -> None:
        """Show another tree; what was unfolded, chosen and in sight stays so."""
        first = not self._unfolded
        shown = tuple(nodes)
        top = self.tree.verticalScrollBar().value()
        self._keep_unfolded()
        ways_up = self._ways_up()
        self.model.fill(shown)
        self._let_go(ways_up)
        if first and shown and self._to_unfold:
            self._unfolded, self._to_unfold = self._to_unfold, set()
        elif first:
            self._unfolded = {place_of(each) for each in shown}
            if len(shown) <= 3:
                self._unfolded |= {place_of(below) for each in shown for below in each.children}
        self._restore()
        self.tree.verticalScrollBar().setValue(top)
        self._told = sum(each.outlets for each in shown)
        self._say_found()
        if self._awaited is not None and self.model.node_of(self._awaited) is not None:
            awaited, self._awaited = self._awaited, None
            self.choose(awaited)
        self.picked.emit()

    def _ways_up(self) -> list[Place]:
        """The current place and those that it lies in, from within outwards."""
        found: list[Place] = []
        node = None if self._current is None else self.model.node_of(self._current)
        while node is not None:
            found.append(place_of(node))
            node = self.model.above(found[-1])
        return found

    def _let_go(self, ways_up: list[Place]) -> None:
        """Where the current place is gone, go on with the nearest that it lay in."""
        still = [each for each in ways_up if self.model.node_of(each) is not None]
        if ways_up and still != ways_up:
            self._current = still[0] if still else None
            self._picked = tuple(each for each in self._picked if each not in ways_up) or tuple(still[:1])

    def open_up(self, place: Place) -> None:
        """Let what a place holds be seen, now and after the tree is told again."""
        index = self.model.index_of(place)
        while index.isValid():
            self.tree.setExpanded(index, True)
            index = index.parent()

    def await_place(self, place: Place) -> None:
        """Make a place current once the tree is told that has it."""
        self._awaited = place

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
    def unfolded(self) -> frozenset[Place]:
        """The places that are unfolded, whatever a filter unfolds."""
        self._keep_unfolded()
        return frozenset(self._unfolded)

    def unfold(self, places: Iterable[Place]) -> None:
        """Unfold some places once the tree is told, in the place of the usual ones."""
        self._to_unfold = set(places)

    @property
    def current(self) -> PlaceNode | None:
        """The current place, or None."""
        index = self.tree.currentIndex()
        return self.model.node_at(index) if index.isValid() else None

    @property
    def picked_nodes(self) -> tuple[PlaceNode, ...]:
        """The places that are chosen and shown, in the order of the tree."""
        return self.tree.chosen_nodes()

    def _on_sought(self, text: str) -> None:
        self._keep_unfolded()
        self.model.seek(text)
        self._restore()
        if self.model.filtered:
            for index in self.model.to_unfold(_UNFOLD_AT_MOST):
                self.tree.setExpanded(index, True)
        elif self.tree.currentIndex().isValid():
            self.tree.scrollTo(self.tree.currentIndex())
        self._say_found()
        self.picked.emit()

    def _say_found(self) -> None:
        nodes = self.picked_nodes if len(self._picked) > 1 else ()
        if len(nodes) > 1:
            outlets = tr_count(len(outlets_below(nodes)), "{n:,} outlet", "{n:,} outlets")
            said = tr("{what} chosen: {outlets}", what=told(nodes), outlets=outlets)
            if of_one_storey(nodes) is PlaceKind.OUTLET:
                said = tr("{what} chosen", what=outlets)
        elif self.model.filtered:
            outlets = tr_count(self.model.found, "{n:,} outlet", "{n:,} outlets")
            said = tr("{told} found", told=outlets)
        else:
            said = tr_count(self._told, "{n:,} outlet", "{n:,} outlets")
        self.found.setText(said)

    def _on_hovered(self, words: str) -> None:
        if words:
            self.found.setText(words)
        else:
            self._say_found()

    def _keep_unfolded(self) -> None:
        """Remember what is unfolded, except where a filter unfolded it."""
        if not self.model.filtered:
            self._unfolded = {place for place, index in self.tree.groups() if self.tree.isExpanded(index)}

    def _restore(self) -> None:
        self._quiet = True
        for place, index in self.tree.groups(self._unfolded):
            if place in self._unfolded:
                self.tree.setExpanded(index, True)
        self.tree.choose(self._picked, self._current)
        self._quiet = False

    def _on_current(self, current: QModelIndex, previous: QModelIndex) -> None:
        node = self.model.node_at(current) if current.isValid() else None
        if node is None or self._quiet or self.tree.entering:
            return
        self._current = place_of(node)
        self.chosen.emit(node)

    def _on_picked(self) -> None:
        if not self._quiet:
            self._picked = tuple(place_of(node) for node in self.picked_nodes)
            self._say_found()
            self.picked.emit()

    def _on_menu(self, at: QPoint) -> None:
        self.menu_asked.emit(self.tree.viewport().mapToGlobal(at))

    def _on_opened(self, index: QModelIndex) -> None:
        node = self.model.node_at(index)
        if node is not None:
            self.opened.emit(node)

    def _on_search_entered(self) -> None:
        first = self.model.first_leaf()
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
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self._on_search_entered()  # and no button of a dialog around it
                return True
            if event.key() == Qt.Key.Key_Escape and self.search.text():
                self.search.clear()
                return True
        return super().eventFilter(watched, event)
