"""The nodes of the tree as its model keeps them, and the sieve that leaves only matches."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from estate.domain.browsing import PlaceNode
from estate.domain.editing import Place
from estate.domain.references import reference_key

Sought = tuple[tuple[str, str], ...]
"""Each word sought, beside its key as a reference."""


@dataclass(slots=True, eq=False)
class Item:
    """One node as the model keeps it: its children in full and those shown.

    Attributes:
        row: where it stands among those shown.
        heard: what the search box looks in, of this node alone.
        partial: whether only some of what is below it was left.
    """

    node: PlaceNode | None
    parent: "Item | None" = None
    children: Sequence["Item"] = ()
    shown: Sequence["Item"] = ()
    row: int = 0
    heard: str = ""
    partial: bool = False

    @property
    def place(self) -> Place | None:
        """What it stands for."""
        return None if self.node is None else (self.node.kind, self.node.id)

    @property
    def seen(self) -> bool:
        """Whether the sieve left it and everything above it."""
        above = self.parent
        if above is None:
            return True
        return self.row < len(above.shown) and above.shown[self.row] is self and above.seen


Items = dict[Place, Item]


def grow(nodes: Iterable[PlaceNode], before: Mapping[Place, Item]) -> tuple[Item, Items]:
    """Items for nodes.

    Args:
        nodes: what is at the top.
        before: items of the same places before, whose words are taken over where nothing in them changed.

    Returns:
        The item above all, and each by its place.
    """
    root, items = Item(None), Items()
    _grow(nodes, root, before, items)
    return root, items


def _grow(nodes: Iterable[PlaceNode], parent: Item, before: Mapping[Place, Item], items: Items) -> None:
    children: list[Item] = []
    for row, node in enumerate(nodes):
        place = (node.kind, node.id)
        item = Item(node, parent, row=row, heard=_heard(node, before.get(place)))
        children.append(item)
        items.setdefault(place, item)
        if node.children:
            _grow(node.children, item, before, items)
    parent.children = parent.shown = children


def _heard(node: PlaceNode, before: Item | None) -> str:
    if before is not None and before.node is not None:
        old = before.node
        if (old.label, old.search_words) == (node.label, node.search_words):
            return before.heard
    return f"{node.label} {node.search_words} {reference_key(node.label)}".casefold()


def sought_in(words: Iterable[str]) -> Sought:
    """Words, each beside its key as a reference."""
    return tuple((word, reference_key(word) or word) for word in words)


def sift(item: Item, sought: Sought) -> int:
    """Keep below an item what matches: an outlet by all that is said of it and of the places above it.

    Returns:
        How many outlets are kept.
    """
    if not sought:
        return _keep_all(item)
    kept: list[Item] = []
    outlets = 0
    for child in item.children:
        missing = tuple(each for each in sought if each[0] not in child.heard and each[1] not in child.heard)
        if missing and not child.children:
            continue
        below = sift(child, missing)
        if not missing or child.shown:
            child.row = len(kept)
            kept.append(child)
            outlets += below
    item.shown, item.partial = kept, True
    return outlets


def _keep_all(item: Item) -> int:
    item.shown, item.partial = item.children, False
    for row, child in enumerate(item.children):
        child.row = row
        if child.children:
            _keep_all(child)
    return (
        sum(each.node.outlets for each in item.children if each.node)
        if item.node is None
        else item.node.outlets
    )


def walk_shown(item: Item) -> Iterator[Item]:
    """Everything shown below an item, in the order of the tree."""
    for child in item.shown:
        yield child
        yield from walk_shown(child)


def to_unfold(item: Item, whole_below: int) -> Iterator[Item]:
    """What to unfold below an item so that matches are seen: not what matches as a whole, unless it is small.

    Args:
        item: where to begin.
        whole_below: the most outlets of a whole place that is unfolded too.
    """
    for child in item.shown:
        small = child.node is not None and child.node.outlets <= whole_below
        if child.shown and (child.partial or small):
            yield child
            yield from to_unfold(child, whole_below)
