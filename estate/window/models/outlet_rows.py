"""Columns of the outlets at a place: one line each, with the due line where there is a valve."""

from collections.abc import Iterable
from dataclasses import dataclass

from estate.domain.browsing import PlaceKind, PlaceNode
from estate.domain.due import DueLine
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel


@dataclass(frozen=True, slots=True)
class OutletRow:
    """An outlet of the tree, where it stands, and its due line if it has a valve."""

    node: PlaceNode
    where: tuple[str, ...]
    due: DueLine | None = None


def _where(row: OutletRow) -> Cell:
    return cells.text(" · ".join(" ".join(part.split()) for part in row.where))


def _ref(row: OutletRow) -> Cell:
    return cells.text(_reference(row.node), row.node.label)


COLUMNS: tuple[Column[OutletRow], ...] = (
    Column("State", lambda row: cells.state(row.node.state), "take out of use", marked=True),
    Column("Outlet", _ref, "WW/W/W00/WHB1"),
    Column("Where", _where, "Level 1 · W00 Assisted bathroom"),
    Column("Use", lambda row: cells.text(row.due.use.value if row.due else ""), "assisted bath"),
    Column("Users", lambda row: cells.text(row.due.user_group.value if row.due else ""), "dependent people"),
    Column("Test by", lambda row: cells.on_day(row.due.window.not_after if row.due else None), "25 Nov 2026"),
    Column("Last visit", lambda row: cells.on_day(row.due.last_visit if row.due else None), "25 Nov 2026"),
    Column(
        "Valve",
        lambda row: cells.text(row.due.valve if row.due else ""),
        "Make Model WW-000000",
        stretches=True,
    ),
)


class OutletsModel(TableModel[OutletRow]):
    """The outlets at a place."""

    def __init__(self) -> None:
        super().__init__(COLUMNS, lambda row: row.node.id)


def outlets_below(node: PlaceNode, lines: Iterable[DueLine]) -> list[OutletRow]:
    """Every outlet at or below a place, in the tree's order; a group valve's line stands at each outlet."""
    by_reference = {ref: line for line in lines for ref in (line.ref, *line.also_serves)}
    return [
        OutletRow(outlet, where[1:], by_reference.get(_reference(outlet)))
        for outlet, where in _walk(node, ())
    ]


def _reference(node: PlaceNode) -> str:
    """An outlet's label begins with its reference, set apart by two spaces."""
    return node.label.split("  ", 1)[0]


def _walk(node: PlaceNode, above: tuple[str, ...]) -> list[tuple[PlaceNode, tuple[str, ...]]]:
    if node.kind is PlaceKind.OUTLET:
        return [(node, above)]
    below = (*above, node.label)
    return [found for child in node.children for found in _walk(child, below)]
