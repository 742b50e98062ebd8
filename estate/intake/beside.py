"""What stands beside what under one header row: tables side by side, and small tables that are none of it."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from estate.intake.grid import is_blank
from estate.intake.headings import Headings
from estate.intake.table import PLACES, Table
from estate.intake.view import View
from estate.intake.words import fold

_OWN_TABLE = ("reference", "key", *PLACES)
"""Fields that begin a table of its own where they stand behind an empty column."""
_LEAST_SHARED = 0.8
_FEWEST_ROWS = 6
_DEEPEST_LOOK = 1_000
"""A column without a heading that is empty so far down is an empty one; rows."""
Piece = tuple[int, int]


def parted(table: Table, headings: Headings) -> list[Table]:
    """The tables under a header: one, or several side by side.

    Args:
        table: as its header row has it, from the first column to the last.
        headings: how headings are understood.

    Returns:
        Every complete table, cut to its columns; the table itself where it has no empty column inside.
    """
    pieces = _pieces(table)
    if len(pieces) == 1:
        repeated = _repeated(table)
        tables = [_piece(table, piece, headings) for piece in repeated]
        whole = len(tables) > 1 and not any(each.missing or each.doubled for each in tables)
        return [cut(each, piece) for each, piece in zip(tables, repeated, strict=True)] if whole else [table]
    tables = [_piece(table, piece, headings) for piece in pieces]
    complete = [place for place, each in enumerate(tables) if not each.missing]
    if not complete:
        return [table]
    if len(complete) > 1:
        return [cut(tables[place], pieces[place]) for place in complete]
    return [_with_neighbours(table, tables, pieces, complete[0])]


def cut(table: Table, piece: Piece) -> Table:
    """A table whose grid has its own columns only."""
    first, last = piece
    rows = [row[first : last + 1] for row in table.grid.rows]
    columns = tuple(
        replace(column, index=column.index - first)
        for column in table.columns
        if first <= column.index <= last
    )
    return replace(
        table,
        grid=replace(table.grid, rows=rows),
        columns=columns,
        view=View(left=table.view.left + first),
        sheet=table.sheet or table.grid,
    )


def _pieces(table: Table) -> list[Piece]:
    """The columns of a table, parted where columns are empty from the header down."""
    indices = sorted(column.index for column in table.columns)
    starts = [indices[0]]
    pieces = []
    for left, right in pairwise(indices):
        if right > left + 1 and any(_is_empty(table, column) for column in range(left + 1, right)):
            pieces.append((starts[-1], left))
            starts.append(right)
    return [*pieces, (starts[-1], indices[-1])]


def _is_empty(table: Table, column: int) -> bool:
    rows = table.grid.rows[table.header[0] : min(table.last, table.header[-1] + _DEEPEST_LOOK)]
    return all(column >= len(row) or is_blank(row[column]) for row in rows)


def _repeated(table: Table) -> list[Piece]:
    """The columns of a table, parted where its first understood heading comes again."""
    known = [column for column in table.columns if column.heading]
    first = next((fold(column.heading) for column in known if column.field), "")
    starts = [column.index for column in known if fold(column.heading) == first] or [known[0].index]
    lead = starts[0] - known[0].index
    starts = [start - lead for start in starts]
    last = known[-1].index
    return [(start, end - 1) for start, end in zip(starts, [*starts[1:], last + 1], strict=True)]


def _piece(table: Table, piece: Piece, headings: Headings) -> Table:
    first, last = piece
    own = [column for column in table.columns if first <= column.index <= last]
    understood = headings.understand((column.index, column.heading) for column in own)
    layout = understood.layout.name if understood.layout else table.layout
    return replace(table, columns=understood.columns, layout=layout)


def _with_neighbours(table: Table, tables: Sequence[Table], pieces: Sequence[Piece], main: int) -> Table:
    """The one complete table with the columns beside it that are its own."""
    taken = set(tables[main].places)
    belong = {main}
    for place, each in enumerate(tables):
        if place != main and _belongs(each, tables[main], taken):
            belong.add(place)
            taken |= set(each.places)
    first, last = min(belong), max(belong)
    columns = [
        column if place in belong else replace(column, field=None, unit=None, how="", unit_from="")
        for place in range(first, last + 1)
        for column in tables[place].columns
    ]
    joined = replace(table, columns=tuple(columns), layout=tables[main].layout)
    if len(pieces) == last - first + 1:
        return joined
    return cut(joined, (pieces[first][0], pieces[last][1]))


def _belongs(piece: Table, main: Table, taken: set[str]) -> bool:
    """Whether columns behind an empty one are more of the same rows, rather than a table of their own."""
    names = set(piece.places)
    if not names or names & taken - {"remarks"}:
        return False
    leading = piece.columns[0]
    if leading.field is not None and leading.field.name not in _OWN_TABLE:
        return True
    rows = main.grid.rows[main.header[-1] + 1 : main.last]
    inside = {place for place, row in enumerate(rows) if _fills(row, main)}
    beside = {place for place, row in enumerate(rows) if _fills(row, piece)}
    shared = len(inside & beside)
    return shared >= _FEWEST_ROWS and shared >= _LEAST_SHARED * max(len(inside), len(beside))


def _fills(row: Sequence[object], table: Table) -> bool:
    return any(column.index < len(row) and row[column.index] not in (None, "") for column in table.columns)
