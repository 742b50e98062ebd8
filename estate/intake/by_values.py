"""Columns known by their values and their neighbours, where their headings do not tell."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from statistics import median

from estate.intake.composed import is_other_day
from estate.intake.grid import Cell, is_blank, words_of
from estate.intake.headings import Column, Headings
from estate.intake.sections import is_day
from estate.intake.table import IDENTITY, Table
from estate.intake.words import Words, fold

SAMPLE_ROWS = 300
_ENOUGH = 0.9
_FEWEST_VALUES = 3
_LONGEST_CODE = 40
_MOST_WORDY = 0.3
_WARM = {"hot_c": (48.0, 75.0), "cold_c": (3.0, 24.0), "found_c": (36.0, 47.9)}
"""Where the middle of a column of temperatures lies, °C: to suggest what it may be, never to take it."""


class Values:
    """The values under a header, column by column, from the first rows that hold any.

    Args:
        table: the table.
        headings: how headings are understood.
    """

    def __init__(self, table: Table, headings: Headings) -> None:
        self._table, self._headings = table, headings
        start = table.header[-1] + 1 if table.header else 0
        rows = table.grid.rows[start : min(table.last, start + 3 * SAMPLE_ROWS)]
        self._rows = [row for row in rows if sum(not is_blank(cell) for cell in row) > 1][:SAMPLE_ROWS]

    def of(self, column: int) -> list[Cell]:
        """The filled cells of a column."""
        cells = (row[column] if column < len(row) else None for row in self._rows)
        return [cell for cell in cells if not is_blank(cell)]

    def share(self, column: int, test: Callable[[Cell], bool]) -> float:
        """The share of a column's filled cells that pass a test; 0 where too few are filled."""
        cells = self.of(column)
        if len(cells) < min(_FEWEST_VALUES, max(len(self._rows), 1)) or len(cells) * 2 < len(self._rows):
            return 0.0
        return sum(map(test, cells)) / len(cells)

    @property
    def several(self) -> bool:
        """Whether there is more than one row, so that codes can be seen to differ."""
        return len(self._rows) > 1

    @property
    def unmapped(self) -> list[Column]:
        """Columns whose headings are not understood, and columns without a heading, that hold something."""
        width = max(map(len, self._rows), default=0)
        headed = {column.index: column for column in self._table.columns}
        found = [headed.get(index) or Column(index, "") for index in range(width)]
        return [column for column in found if column.field is None and self._is_free(column)]

    def _is_free(self, column: Column) -> bool:
        said = column.heading
        known = self._headings.words.is_set_aside(said) or (
            bool(said) and self._headings.known_otherwise(said)
        )
        return not known and bool(self.of(column.index))


def completed(table: Table, headings: Headings) -> Table:
    """The table with day and references found by their values, where just one column can hold them."""
    if table.layout is not None:
        return table
    values = Values(table, headings)
    if "on" not in table.holds:
        table = _taken(table, "on", _days(values, headings), headings)
    if not {*IDENTITY} & set(table.holds) and values.several:
        table = _taken(table, "reference", _codes(values), headings)
    return table


def corrected(table: Table, headings: Headings) -> Table:
    """The table with names of outlets taken for names, and with units that stand beside numbers."""
    if table.layout is not None:
        return table
    values = Values(table, headings)
    return _with_units(_with_names(table, values, headings), values, headings)


def _taken(table: Table, name: str, columns: Sequence[Column], headings: Headings) -> Table:
    field = headings.field(name)
    if len(columns) != 1 or field is None:
        return table
    return table.with_columns(replace(columns[0], field=field, how="values"))


def _days(values: Values, headings: Headings) -> list[Column]:
    other = headings.words.labels["other_days"]
    return [
        column
        for column in values.unmapped
        if not other.intersection(fold(column.heading).split())
        and not is_other_day(column.heading)
        and values.share(column.index, lambda cell: is_day(cell, headings)) >= _ENOUGH
    ]


def _codes(values: Values) -> list[Column]:
    """Columns of distinct short texts of letters and digits; running numbers are none."""
    found = []
    for column in values.unmapped:
        texts = [words_of(cell) for cell in values.of(column.index)]
        alike = len(set(texts)) < len(texts) * _ENOUGH
        if not alike and values.share(column.index, _is_code) >= _ENOUGH:
            found.append(column)
    return found


def _is_code(cell: Cell) -> bool:
    if not isinstance(cell, str) or len(cell) > _LONGEST_CODE:
        return False
    text = cell.strip()
    return " " not in text and any(map(str.isdigit, text)) and any(map(str.isalpha, text))


def _with_names(table: Table, values: Values, headings: Headings) -> Table:
    """Take "Outlet" for names where its words have no digits and come again or go with rooms."""
    column, outlet = table.column("reference"), headings.field("outlet")
    if column is None or outlet is None or column.sure or "outlet" in table.holds:
        return table
    texts = [words_of(cell) for cell in values.of(column.index)]
    digits = sum(any(map(str.isdigit, text)) for text in texts)
    again = len(set(texts)) < len(texts) * _ENOUGH or not {"room", "room_number"}.isdisjoint(table.places)
    if not texts or digits > len(texts) * _MOST_WORDY or not again:
        return table
    return table.with_columns(replace(column, field=outlet, how="values"))


def _with_units(table: Table, values: Values, headings: Headings) -> Table:
    """Units that stand in a column of their own behind the numbers go to the numbers."""
    words = headings.words
    known = {column.index for column in table.known}
    pairs = []
    for column in table.known:
        beside = column.index + 1
        if column.field is None or not column.field.dimension or beside in known:
            continue
        cells = values.of(beside)
        units = [cell for cell in cells if isinstance(cell, str) and words.unit(cell, column.field.dimension)]
        if units and len(units) * 2 > len(cells):
            pairs.append((column.index, column.field.dimension))
    return _joined(table, pairs, words) if pairs else table


def _joined(table: Table, numbers: Sequence[tuple[int, str]], words: Words) -> Table:
    rows: list[Sequence[Cell]] = []
    for place, row in enumerate(table.grid.rows):
        cells = list(row)
        for column, dimension in numbers if place > table.header[-1] else ():
            unit = table.grid.at(place, column + 1)
            if isinstance(unit, str) and words.unit(unit, dimension):
                cells[column] = with_unit(cells[column], unit)
        rows.append(cells)
    return replace(table, grid=replace(table.grid, rows=rows), sheet=table.sheet or table.grid)


def with_unit(number: Cell, unit: str) -> Cell:
    """A number with the unit that stands beside it; anything but a bare number stays as it is."""
    if isinstance(number, float):
        return f"{number!r} {unit.strip()}"
    bare = isinstance(number, str) and number.strip()[-1:].isdigit()
    return f"{str(number).strip()} {unit.strip()}" if bare else number


def suggested(table: Table, headings: Headings) -> Table:
    """The table with a suggestion for each column of temperatures that is not understood."""
    values = Values(table, headings)
    free = {name: limits for name, limits in _WARM.items() if name not in table.holds}
    columns = []
    for column in values.unmapped if free else ():
        numbers = [cell for cell in values.of(column.index) if isinstance(cell, float)]
        if (
            not column.heading
            or len(numbers) < _FEWEST_VALUES
            or values.share(column.index, _is_number) < _ENOUGH
        ):
            continue
        middle = median(numbers)
        names = [name for name, (least, most) in free.items() if least <= middle <= most]
        if names:
            columns.append(replace(column, suggested=names[0]))
    return table.with_columns(*columns) if columns else table


def _is_number(cell: Cell) -> bool:
    return isinstance(cell, float)
