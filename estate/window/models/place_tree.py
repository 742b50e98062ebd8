"""The tree of places with its own filter: matches stand in their place, the rest is left out."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any

from PySide6.QtCore import QAbstractItemModel, QModelIndex, QObject, Qt
from typing_extensions import override

from estate.domain.browsing import PlaceKind, PlaceNode
from estate.domain.references import reference_key
from estate.window import words
from estate.window.marks import OF_STATE
from estate.window.roles import AnyIndex, Role

_NOWHERE = QModelIndex()
Place = tuple[PlaceKind, int]
Sought = tuple[tuple[str, str], ...]


@dataclass(slots=True, eq=False)
class Item:
    """One node as the model keeps it: its children in full and those shown."""

    node: PlaceNode | None
    parent: "Item | None" = None
    children: list["Item"] = field(default_factory=list)
    shown: list["Item"] = field(default_factory=list)
    row: int = 0
    haystack: str = ""

    @property
    def place(self) -> Place | None:
        """What it stands for."""
        return None if self.node is None else (self.node.kind, self.node.id)


def _grow(nodes: Iterable[PlaceNode], parent: Item, trail: str) -> None:
    for row, node in enumerate(nodes):
        heard = f"{node.label} {node.search_words} {reference_key(node.label)}".casefold()
        item = Item(node, parent, row=row, haystack=f"{trail} {heard}")
        parent.children.append(item)
        _grow(node.children, item, item.haystack)
    parent.shown = parent.children


class PlaceTree(QAbstractItemModel):
    """Sites, buildings, levels, rooms and outlets with what needs attention at each."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._root = Item(None)
        self._sought: tuple[str, ...] = ()
        self._found = 0

    def fill(self, nodes: Iterable[PlaceNode]) -> None:
        """Show another tree; the filter stays."""
        root = Item(None)
        _grow(nodes, root, "")
        self.beginResetModel()
        self._root = root
        self._sift()
        self.endResetModel()

    def seek(self, text: str) -> int:
        """Show only places in which every word of `text` is found; returns how many outlets those are."""
        sought = tuple(text.casefold().split())
        if sought != self._sought:
            self.beginResetModel()
            self._sought = sought
            self._sift()
            self.endResetModel()
        return self._found

    @property
    def filtered(self) -> bool:
        """Whether only matches are shown."""
        return bool(self._sought)

    def index_of(self, place: Place) -> QModelIndex:
        """Where a place is shown; an invalid index if it is not."""
        found = next((item for item in self._walk(self._root) if item.place == place), None)
        return QModelIndex() if found is None else self.createIndex(found.row, 0, found)

    def node_at(self, index: AnyIndex) -> PlaceNode | None:
        """The node behind an index."""
        return self._item(index).node

    def first_outlet(self) -> QModelIndex:
        """The first outlet shown; an invalid index if there is none."""
        found = next((item for item in self._walk(self._root) if _is_outlet(item)), None)
        return QModelIndex() if found is None else self.createIndex(found.row, 0, found)

    def _sift(self) -> None:
        keys = tuple(reference_key(word) or word for word in self._sought)
        self._found = _sift(self._root, tuple(zip(self._sought, keys, strict=True))) or 0

    def _walk(self, item: Item) -> Iterator[Item]:
        for child in item.shown:
            yield child
            yield from self._walk(child)

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


def _is_outlet(item: Item) -> bool:
    return item.node is not None and item.node.kind is PlaceKind.OUTLET


def _sift(item: Item, sought: Sought) -> int | None:
    """Keep what matches: an outlet by all that is said of it and of the places above it.

    Returns:
        How many outlets are kept at or below; None if nothing is.
    """
    kept: list[Item] = []
    outlets = 0
    for child in item.children:
        below = _sift(child, sought)
        if below is not None:
            child.row = len(kept)
            kept.append(child)
            outlets += below
    item.shown = kept
    if kept or item.node is None:
        return outlets
    if not all(word in item.haystack or key in item.haystack for word, key in sought):
        return None
    return int(item.node.kind is PlaceKind.OUTLET)


def _count_words(node: PlaceNode) -> str:
    if node.kind is PlaceKind.OUTLET:
        return node.state.value
    return f"{node.attention:,} to act on" if node.attention else ""


def _spoken(node: PlaceNode) -> str:
    if node.kind is PlaceKind.OUTLET:
        return f"{node.label}: {node.state.value}"
    held = words.count(node.outlets, "outlet")
    if not node.attention:
        return f"{node.label}: {held}, none needs anyone to act now"
    return f"{node.label}: {node.attention:,} of {held} to act on, the worst: {node.state.value}"
