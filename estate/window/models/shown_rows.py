"""What is shown of a list, as values that can be copied, saved and printed."""

import re
from collections.abc import Sequence
from typing import Any

from estate.domain.shown_list import ShownCell, ShownColumn, ShownGroup, ShownList
from estate.window import words
from estate.window.models.cells import Cell
from estate.window.models.ordering import Ordered
from estate.window.models.table import TableModel

_PLAIN = re.compile(r"[-+]?[\d,]+(\.\d+)?")


def shown_cell(cell: Cell) -> ShownCell:
    """A cell; a dash for nothing becomes nothing."""
    told = "" if cell.text == words.NOTHING else cell.text
    return ShownCell(told, cell.value, _decimals(cell), cell.mark.value if cell.mark else "")


def _decimals(cell: Cell) -> int | None:
    if cell.value is None or not _PLAIN.fullmatch(cell.text):
        return None
    return len(cell.text.partition(".")[2])


def shown_list(
    table: TableModel[Any],
    ordered: Ordered[Any],
    columns: Sequence[int],
    title: str,
    narrowed: Sequence[str] = (),
) -> ShownList:
    """All lines wanted, those folded away too.

    Args:
        table: the rows.
        ordered: which of them are wanted, and in which order.
        columns: places of the columns shown, from the left.
        title: of the list.
        narrowed: what was asked for, in words.
    """
    return ShownList(
        title,
        tuple(_column(table, place) for place in columns),
        tuple(_groups(table, ordered, columns)),
        len(table.rows),
        "" if ordered.gathered_by is None else table.columns[ordered.gathered_by].plain_title,
        tuple(narrowed),
    )


def _column(table: TableModel[Any], place: int) -> ShownColumn:
    return ShownColumn(table.columns[place].plain_title, bool(table.rows) and table.cell(0, place).to_right)


def _groups(table: TableModel[Any], ordered: Ordered[Any], columns: Sequence[int]) -> list[ShownGroup]:
    places = ordered.places_shown()
    if ordered.gathered_by is None:
        return [ShownGroup("", "", shown_lines(table, places, columns))]
    groups, first = [], 0
    for heading in ordered.headings:
        held = places[first : first + heading.count]
        first += heading.count
        mark = heading.mark.value if heading.mark is not None else ""
        groups.append(ShownGroup(heading.words, mark, shown_lines(table, held, columns)))
    return groups


def shown_lines(
    table: TableModel[Any], places: Sequence[int], columns: Sequence[int]
) -> tuple[tuple[ShownCell, ...], ...]:
    """Some rows, by their numbers."""
    return tuple(tuple(shown_cell(table.cell(place, each)) for each in columns) for place in places)
