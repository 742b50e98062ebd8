"""Tables that lie on their side: labels down a column, and a column a visit."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from estate.domain.layouts import Form
from estate.intake.grid import Cell, Grid, is_blank, words_of
from estate.intake.headings import Column, Headings
from estate.intake.table import Table
from estate.intake.view import Place, View

_MOST_COLUMNS = 500
_MOST_LABELS = 200
_FEWEST_VISITS = 2


def columns_of_visits(grid: Grid, headings: Headings) -> list[Table]:
    """The tables of a sheet with labels down a column and a column a visit; none where it has no such.

    Labels that come again further right begin the next table. One column of values beside each column of
    labels is a card.
    """
    width = max((len(row) for row in grid.rows[:_MOST_LABELS]), default=0)
    starts = [column for column in range(min(width, _MOST_COLUMNS)) if _labels(grid, column, headings)]
    tables = []
    for start, end in pairwise([*starts, width]):
        if (table := _turned(grid, start, end, headings)) is not None:
            tables.append(table)
    several = any(len(table.grid.rows) > _FEWEST_VISITS for table in tables)
    return tables if several else []


def _turned(grid: Grid, column: int, end: int, headings: Headings) -> Table | None:
    labels = _labels(grid, column, headings)
    rows = list(labels)
    if _are_units(grid, rows, column + 1, headings):
        labels = {row: f"{text} {words_of(grid.at(row, column + 1))}" for row, text in labels.items()}
    understood = headings.understand(enumerate(labels.values()))
    filled = {index for row in rows for index, cell in enumerate(grid.rows[row]) if not is_blank(cell)}
    visits = [
        index
        for index in range(column + 1, end)
        if index in filled and not _are_units(grid, rows, index, headings)
    ]
    if not visits or any(_is_header(grid, row, visits, headings) for row in rows):
        return None
    layout = understood.layout.name if understood.layout else None
    common = _said_once(grid, dict(zip(rows, understood.columns, strict=True)), visits)
    cells: list[list[Cell]] = [list(labels.values())]
    places: list[list[Place | None]] = [[(row, column) for row in rows]]
    for index in visits:
        line: list[Place | None] = [(row, common.get(row, index)) for row in rows]
        cells.append([grid.at(*place) for place in line if place is not None])
        places.append(line)
    view = View(rows=[rows[0]] * len(cells), places=places)
    laid = replace(grid, rows=cells, merged=())
    return Table(laid, headings.kind, (0,), understood.columns, Form.ACROSS, view, layout=layout, sheet=grid)


def _said_once(grid: Grid, columns: Mapping[int, Column], visits: Sequence[int]) -> dict[int, int]:
    """For each row above the days that says one thing of all visits, such as the valve: where it says it."""
    on = next((row for row, column in columns.items() if column.field and column.field.name == "on"), 0)
    found = {}
    for row, column in columns.items():
        filled = [index for index in visits if not is_blank(grid.at(row, index))]
        if row < on and len(filled) == 1 and column.field is not None and column.field.holds == "text":
            found[row] = filled[0]
    return found


def _labels(grid: Grid, column: int, headings: Headings) -> dict[int, str]:
    """The labels down a column, from the first that is understood to the last."""
    texts = {
        row: words_of(grid.at(row, column)).rstrip(":").strip()
        for row in range(min(len(grid.rows), _MOST_LABELS))
        if isinstance(grid.at(row, column), str) and not is_blank(grid.at(row, column))
    }
    known = [row for row, text in texts.items() if headings.knows(text)]
    if len(known) < _FEWEST_VISITS:
        return {}
    first, last = known[0], known[-1]
    while _is_filled(grid, first - 1, column) and first - 1 in texts:
        first -= 1
    while _is_filled(grid, last + 1, column) and last + 1 in texts:
        last += 1
    return {row: text for row, text in texts.items() if first <= row <= last}


def _is_filled(grid: Grid, row: int, column: int) -> bool:
    """Whether something stands right of a column."""
    return 0 <= row < len(grid.rows) and any(not is_blank(cell) for cell in grid.rows[row][column + 1 :])


def _is_header(grid: Grid, row: int, visits: Sequence[int], headings: Headings) -> bool:
    """Whether a row is one of headings beside each other rather than a label and what was found."""
    texts = [cell for index in visits if isinstance(cell := grid.at(row, index), str)]
    return sum(map(headings.knows, texts)) > 1


def _are_units(grid: Grid, rows: Sequence[int], column: int, headings: Headings) -> bool:
    """Whether a column holds units and nothing else."""
    cells = [cell for row in rows if not is_blank(cell := grid.at(row, column))]
    return bool(cells) and all(isinstance(cell, str) and headings.words.units_written(cell) for cell in cells)
