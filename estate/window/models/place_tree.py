"""The tree of places with its own filter: matches stand in their place, the rest is left out."""

import json
from collections.abc import Iterable, Sequence
from itertools import islice
from typing import Any, Final

from PySide6.QtCore import QAbstractItemModel, QMimeData, QModelIndex, QObject, Qt
from typing_extensions import override

from estate.domain.browsing import PlaceKind, PlaceNode
from estate.domain.editing import Place
from estate.window.marks import OF_STATE
from estate.window.models.place_choice import may_go
from estate.window.models.place_items import Item, grow, sift, sought_in, to_unfold, walk_shown
from estate.window.roles import AnyIndex, Role
from estate.window.translating import tr, tr_count

_NOWHERE = QModelIndex()
_WHOLE_BELOW: Final = 12
PLACES_MIME: Final = "application/x-estate-places"


class PlaceTree(QAbstractItemModel):
    """Sites, buildings, levels, rooms and outlets with what needs attention at each.

    Attributes:
        movable: whether places may be dragged to others.

    Args:
        leaf: the storey that is looked for.
    """

    def __init__(self, parent: QObject | None = None, leaf: PlaceKind = PlaceKind.OUTLET) -> None:
        super().__init__(parent)
        self._leaf, self.movable = leaf, False
        self._root = Item(None)
        self._items: dict[Place, Item] = {}
        self._sought: tuple[str, ...] = ()
        self._found = 0

    def fill(self, nodes: Iterable[PlaceNode]) -> None:
        """Show another tree; the filter stays."""
        root, items = grow(nodes, self._items)
        self.beginResetModel()
        self._root, self._items = root, items
        self._found = sift(self._root, sought_in(self._sought))
        self.endResetModel()

    def seek(self, text: str) -> int:
        """Show only places in which every word of `text` is found; returns how many outlets those are."""
        sought = tuple(text.casefold().split())
        if sought != self._sought:
            self.beginResetModel()
            self._sought = sought
            self._found = sift(self._root, sought_in(sought))
            self.endResetModel()
        return self._found

    @property
    def found(self) -> int:
        """How many outlets the search left."""
        return self._found

    @property
    def filtered(self) -> bool:
        """Whether only matches are shown."""
        return bool(self._sought)

    def index_of(self, place: Place) -> QModelIndex:
        """Where a place is shown; an invalid index if it is not."""
        found = self._items.get(place)
        return self._at(found if found is not None and found.seen else None)

    def node_at(self, index: AnyIndex) -> PlaceNode | None:
        """The node behind an index."""
        return self._item(index).node

    def node_of(self, place: Place) -> PlaceNode | None:
        """The node of a place, shown or not."""
        found = self._items.get(place)
        return None if found is None else found.node

    def above(self, place: Place) -> PlaceNode | None:
        """The node that a place lies in."""
        found = self._items.get(place)
        return None if found is None or found.parent is None else found.parent.node

    def first_leaf(self) -> QModelIndex:
        """The first shown of the storey looked for; an invalid index if there is none."""
        return self._at(next((item for item in walk_shown(self._root) if self._is_leaf(item)), None))

    def to_unfold(self, most: int) -> list[QModelIndex]:
        """What to unfold so that matches are seen; nothing where that would be too much."""
        found = list(islice(to_unfold(self._root, _WHOLE_BELOW), most + 1))
        return [self._at(item) for item in found] if len(found) <= most else []

    def _is_leaf(self, item: Item) -> bool:
        return item.node is not None and item.node.kind is self._leaf

    def _at(self, item: Item | None) -> QModelIndex:
        return QModelIndex() if item is None else self.createIndex(item.row, 0, item)

    def _item(self, index: AnyIndex) -> Item:
        found = index.internalPointer() if index.isValid() else None
        return found if isinstance(found, Item) else self._root

    @override
    def index(self, row: int, column: int, parent: AnyIndex = _NOWHERE) -> QModelIndex:
        shown = self._item(parent).shown
        if column != 0 or not 0 <= row < len(shown):
            return QModelIndex()
        return self.createIndex(row, 0, shown[row])

    @override
    def parent(self, index: AnyIndex = _NOWHERE) -> Any:
        above = self._item(index).parent
        if above is None or above.node is None:
            return QModelIndex()
        return self.createIndex(above.row, 0, above)

    @override
    def rowCount(self, parent: AnyIndex = _NOWHERE) -> int:
        return len(self._item(parent).shown)

    @override
    def columnCount(self, parent: AnyIndex = _NOWHERE) -> int:
        return 1

    @override
    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        node = self._item(index).node
        if node is None:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return node.label
        if role == Role.MARK:
            return OF_STATE[node.state]
        if role == Role.COUNT_WORDS:
            return _count_words(node)
        if role in (Qt.ItemDataRole.ToolTipRole, Qt.ItemDataRole.AccessibleTextRole):
            return _spoken(node)
        return node.id if role == Role.KEY else None

    @override
    def flags(self, index: AnyIndex) -> Qt.ItemFlag:
        held = super().flags(index)
        node = self._item(index).node
        if not self.movable or node is None:
            return held
        if node.kind is not PlaceKind.SITE:
            held |= Qt.ItemFlag.ItemIsDragEnabled
        return held if node.kind is PlaceKind.OUTLET else held | Qt.ItemFlag.ItemIsDropEnabled

    @override
    def supportedDropActions(self) -> Qt.DropAction:
        return Qt.DropAction.MoveAction

    @override
    def mimeTypes(self) -> list[str]:
        return [PLACES_MIME]

    @override
    def mimeData(self, indexes: Sequence[QModelIndex]) -> QMimeData:
        places = [place for each in indexes if (place := self._item(each).place) is not None]
        carried = QMimeData()
        carried.setData(PLACES_MIME, json.dumps(places).encode())
        return carried

    @override
    def canDropMimeData(
        self, data: QMimeData, action: Qt.DropAction, row: int, column: int, parent: AnyIndex
    ) -> bool:
        node = self._item(parent).node
        return self.movable and node is not None and may_go(self.carried(data), node)

    def carried(self, data: QMimeData) -> tuple[Place, ...]:
        """The places that are dragged, as far as they are known here."""
        if not data.hasFormat(PLACES_MIME):
            return ()
        told = json.loads(bytes(data.data(PLACES_MIME).data()))
        places = [(PlaceKind(kind), int(number)) for kind, number in told]
        return tuple(each for each in places if each in self._items)


def _count_words(node: PlaceNode) -> str:
    if node.kind is PlaceKind.OUTLET:
        return tr(node.state.value)
    return tr("{attention:,} to act on", attention=node.attention) if node.attention else ""


def _spoken(node: PlaceNode) -> str:
    if node.kind is PlaceKind.OUTLET:
        return f"{node.label}: {tr(node.state.value)}"
    held = tr_count(node.outlets, "{n:,} outlet", "{n:,} outlets")
    if not node.attention:
        return tr("{label}: {held}, none needs anyone to act now", label=node.label, held=held)
    return tr(
        "{label}: {attention:,} of {held} to act on, the worst: {state}",
        label=node.label,
        attention=node.attention,
        held=held,
        state=tr(node.state.value),
    )
