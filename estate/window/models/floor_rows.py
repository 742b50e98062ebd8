"""Floor by floor: how many outlets of each state there are on each level, or in each building."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from estate.domain.browsing import PlaceKind, PlaceNode
from estate.domain.standing import OutletState
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel
from estate.window.translating import said, tr, tr_count

_MOST_LEVELS: Final = 16
"""A site with more levels is told by its buildings."""


@dataclass(frozen=True)
class Floor:
    """A level, or a building, with its outlets.

    Attributes:
        number: from 0, in the order shown.
        node: the place.
        label: its name, with the building's where several are shown.
        counts: outlets by state, the worst first; only states that there are.
    """

    number: int
    node: PlaceNode
    label: str
    counts: Mapping[OutletState, int]

    @property
    def total(self) -> int:
        """All its outlets."""
        return sum(self.counts.values())

    @property
    def words(self) -> str:
        """All of it in one line."""
        outlets = tr_count(self.total, "{n:,} outlet", "{n:,} outlets")
        states = ", ".join(f"{count:,} {tr(state.value)}" for state, count in self.counts.items())
        return f"{self.label}: {outlets}; {states}" if states else f"{self.label}: {outlets}"


def floors_of(node: PlaceNode) -> tuple[Floor, ...]:
    """The levels of a site or building, the top one first; none of a level or a room."""
    if node.kind not in (PlaceKind.SITE, PlaceKind.BUILDING):
        return ()
    places = list(_levels(node))
    if len(places) > _MOST_LEVELS:
        places = [(child.label, child) for child in node.children]
    return tuple(
        Floor(number, place, " ".join(label.split()), _counts(place))
        for number, (label, place) in enumerate(places)
    )


def _levels(node: PlaceNode) -> Iterator[tuple[str, PlaceNode]]:
    buildings = node.children if node.kind is PlaceKind.SITE else (node,)
    for building in buildings:
        for level in reversed(building.children):
            named = f"{building.label} · {level.label}" if len(buildings) > 1 else level.label
            yield named, level


def _counts(node: PlaceNode) -> dict[OutletState, int]:
    counted: Counter[OutletState] = Counter()
    _count(node, counted)
    return {state: counted[state] for state in OutletState if counted[state]}


def _count(node: PlaceNode, counted: Counter[OutletState]) -> None:
    if node.kind is PlaceKind.OUTLET:
        counted[node.state] += 1
    for child in node.children:
        _count(child, counted)


def summary(floors: tuple[Floor, ...]) -> str:
    """What the chart shows, in words."""
    return "\n".join(each.words for each in floors)


_IN_TWO_LINES: Final[Mapping[OutletState, str]] = MappingProxyType(
    {
        OutletState.OUT_OF_USE: said("take out\nof use"),
        OutletState.PUT_RIGHT: said("put\nright"),
        OutletState.TAKEN_OUT: said("out\nof use"),
        OutletState.NEVER_TESTED: said("never\ntested"),
        OutletState.NOT_TESTED: said("not\ntested"),
        OutletState.NO_VALVE: said("no\nvalve"),
        OutletState.ACTION_OPEN: said("action\nopen"),
        OutletState.OPEN_NOW: said("window\nopen"),
        OutletState.IN_ORDER: said("in\norder"),
    }
)
"""Headings, so that every state has its column in a small window too."""


def _of(state: OutletState) -> Column[Floor]:
    def cell(row: Floor) -> Cell:
        return cells.figure(row.counts.get(state), 0, tip=tr("none") if state not in row.counts else "")

    return Column(_IN_TWO_LINES.get(state, state.value), cell, "1,000", id=f"state-{state.name.casefold()}")


FLOOR_COLUMNS: tuple[Column[Floor], ...] = (
    Column(
        said("Place"),
        lambda row: cells.text(row.label),
        "Marlpit Main Block · Level 1",
        stretches=True,
        id="place",
    ),
    Column(said("Outlets"), lambda row: cells.figure(row.total, 0), "1,000", id="outlets"),
    Column(said("To act\non"), lambda row: cells.figure(row.node.attention, 0), "1,000", id="to-act-on"),
    *(_of(state) for state in OutletState),
)


def floors_model() -> TableModel[Floor]:
    """The levels as rows."""
    return TableModel(FLOOR_COLUMNS, lambda row: row.number)
