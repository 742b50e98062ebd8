"""Places chosen in the tree: what they hold, what may stand below them, where they may go."""

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from estate.domain.browsing import PlaceKind, PlaceNode
from estate.domain.editing import Place
from estate.domain.place_names import ABOVE
from estate.window.translating import said, tr_count

_COUNTS: Final = {
    PlaceKind.SITE: (said("{n:,} site"), said("{n:,} sites")),
    PlaceKind.BUILDING: (said("{n:,} building"), said("{n:,} buildings")),
    PlaceKind.LEVEL: (said("{n:,} level"), said("{n:,} levels")),
    PlaceKind.ROOM: (said("{n:,} room"), said("{n:,} rooms")),
    PlaceKind.OUTLET: (said("{n:,} outlet"), said("{n:,} outlets")),
}


def place_of(node: PlaceNode) -> Place:
    """The storey and id of a node."""
    return (node.kind, node.id)


def below(kind: PlaceKind) -> PlaceKind | None:
    """The storey below one; None below an outlet."""
    return next((each for each in PlaceKind if ABOVE[each] is kind), None)


def walk(nodes: Iterable[PlaceNode]) -> Iterator[PlaceNode]:
    """Every node with all below it, in the order of the tree."""
    for node in nodes:
        yield node
        yield from walk(node.children)


def outlets_below(nodes: Iterable[PlaceNode]) -> tuple[PlaceNode, ...]:
    """Every outlet at or below nodes, each once."""
    found = {node.id: node for node in walk(nodes) if node.kind is PlaceKind.OUTLET}
    return tuple(found.values())


def of_one_storey(nodes: Sequence[PlaceNode]) -> PlaceKind | None:
    """The storey that all nodes belong to; None where they don't, or there are none."""
    kinds = {node.kind for node in nodes}
    return kinds.pop() if len(kinds) == 1 else None


def may_go(places: Sequence[Place], to: PlaceNode) -> bool:
    """Whether places may be moved into a node: it is one storey above them and lacks one of them."""
    held = {place_of(each) for each in to.children}
    fits = bool(places) and all(ABOVE[kind] is to.kind for kind, _ in places)
    return fits and not held.issuperset(places)


def counted(kind: PlaceKind, count: int) -> str:
    """A count of places of a storey, such as 3 rooms."""
    return tr_count(count, *_COUNTS[kind])


def told(nodes: Sequence[PlaceNode]) -> str:
    """Nodes in a few words: the name of one, else how many."""
    if len(nodes) == 1:
        return short_name(nodes[0])
    kind = of_one_storey(nodes)
    many = len(nodes)
    return tr_count(many, "{n:,} place", "{n:,} places") if kind is None else counted(kind, many)


def short_name(node: PlaceNode) -> str:
    """What a node is called; of an outlet its reference alone."""
    return node.label.partition("  ")[0] if node.kind is PlaceKind.OUTLET else " ".join(node.label.split())


def down_to(nodes: Iterable[PlaceNode], storey: PlaceKind) -> tuple[PlaceNode, ...]:
    """The tree cut off below a storey, for one place of it to be chosen."""
    return tuple(
        PlaceNode(
            node.kind,
            node.id,
            node.label,
            node.state,
            node.attention,
            node.outlets,
            node.label,
            () if node.kind is storey else down_to(node.children, storey),
        )
        for node in nodes
    )
