"""Where the table of a sheet is: its header on any row or over two rows, titles above."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from estate.domain.layouts import SheetKind
from estate.errors import IntakeFault
from estate.intake.grid import Cell, Grid, is_blank, place_name, words_of
from estate.intake.headings import Column, understand
from estate.intake.words import Words

HEADER_SEARCH_ROWS = 200
HEADER_SEARCH_CELLS = 8_000
"""A header further down than these is not looked for."""

_MANY = ("remarks",)
"""Fields that several columns may hold together."""

EXPECTED = {
    SheetKind.VISITS: "a reference, a date and at least one measurement (such as hot, cold, found, left)",
    SheetKind.ASSETS: "a reference, building, room, use and who uses it",
}


@dataclass(frozen=True)
class Table:
    """A table found in a sheet.

    Attributes:
        header: 0-based rows of the header, one or two.
        columns: every column with a heading, understood or not.
    """

    grid: Grid
    kind: SheetKind
    header: tuple[int, ...]
    columns: tuple[Column, ...]

    @cached_property
    def known(self) -> tuple[Column, ...]:
        """The columns understood."""
        return tuple(column for column in self.columns if column.field)

    @cached_property
    def places(self) -> Mapping[str, tuple[int, ...]]:
        """The columns of each field, left to right."""
        found: dict[str, tuple[int, ...]] = {}
        for name, index in [(column.field.name, column.index) for column in self.columns if column.field]:
            found[name] = (*found.get(name, ()), index)
        return found

    @cached_property
    def headings(self) -> Mapping[int, str]:
        """Each column's heading as written."""
        return {column.index: column.heading for column in self.columns}

    @cached_property
    def holds(self) -> Mapping[str, str]:
        """What each field holds: text, date, choice, number, answer or codes."""
        return {column.field.name: column.field.holds for column in self.known if column.field}

    @cached_property
    def data_fields(self) -> tuple[str, ...]:
        """The fields whose cells make a row data rather than words between rows."""
        return tuple(name for name, holds in self.holds.items() if holds != "text")

    def column(self, field: str) -> Column | None:
        """The first column of a field, or None."""
        return self._firsts.get(field)

    @cached_property
    def _firsts(self) -> Mapping[str, Column]:
        return {column.field.name: column for column in reversed(self.known) if column.field}

    @property
    def missing(self) -> tuple[str, ...]:
        """What the table lacks to be read at all."""
        return _missing(self.kind, self.holds)

    @property
    def doubled(self) -> tuple[str, ...]:
        """Fields that two columns claim."""
        return tuple(name for name, indices in self.places.items() if len(indices) > 1 and name not in _MANY)


def find_table(grid: Grid, words: Words, kind: SheetKind) -> Table | None:
    """The table of a sheet, or None if no row is a header with all that is needed.

    Raises:
        IntakeFault: two columns claim the same field, so that choosing one would be a guess.
    """
    whole = [table for table in _candidates(grid, words, kind) if not table.missing]
    best = max(whole, key=_worth, default=None)
    if best is not None and best.doubled:
        raise _doubled_fault(best)
    return best


def _worth(table: Table) -> tuple[bool, int, int, int]:
    units = sum(column.unit is not None for column in table.known)
    return not table.doubled, len(table.places), units, -table.header[0]


def nearest(grid: Grid, words: Words, kind: SheetKind) -> Table | None:
    """The row that comes closest to a header, to tell the person what was found; None in an empty sheet."""
    found = list(_candidates(grid, words, kind))
    return max(found, key=lambda table: (len(table.places), len(table.columns)), default=None)


def _doubled_fault(table: Table) -> IntakeFault:
    name = table.doubled[0]
    both = [column for column in table.known if column.field and column.field.name == name]
    places = " and ".join(f"“{each.heading}” in {place_name(table.header[-1], each.index)}" for each in both)
    detail = f"Sheet “{table.grid.name}”: {places} both look like {name}."
    return IntakeFault(
        "Two columns claim the same thing", detail, "Rename or remove one of them and bring it in again."
    )


def _missing(kind: SheetKind, holds: Mapping[str, str]) -> tuple[str, ...]:
    names = set(holds)
    if kind is SheetKind.VISITS:
        wanted = [("reference", {"reference"}), ("date", {"on"})]
        measures = {name for name, held in holds.items() if held in ("number", "answer")}
        wanted.append(("a measurement", measures or {"a measurement"}))
    else:
        wanted = [("reference", {"reference"}), ("building", {"building"}), ("use", {"use"})]
        wanted += [("room", {"room", "room_number"}), ("who uses it", {"user_group"})]
    return tuple(words for words, any_of in wanted if not any_of & names)


def _candidates(grid: Grid, words: Words, kind: SheetKind) -> Iterator[Table]:
    left = HEADER_SEARCH_CELLS
    for row in range(min(len(grid.rows), HEADER_SEARCH_ROWS)):
        left -= len(grid.rows[row])
        if left < 0:
            return
        both = _two_rows(grid, words, kind, row - 1) if row else None
        if both is not None:
            yield both
        cells = _texts(grid.rows[row])
        grouped = both is not None and not both.missing and _is_group_row(grid, row - 1, row)
        # Where group words stand above, the headings alone could mean another thing.
        if len(cells) > 1 and not grouped and _wordy_cells(grid.rows[row]) * 2 > len(cells):
            yield Table(grid, kind, (row,), understand(cells.items(), words, kind))


def _two_rows(grid: Grid, words: Words, kind: SheetKind, top: int) -> Table | None:
    """The table whose header is a row of group words and the row of headings under it."""
    bottom = top + 1
    if bottom >= len(grid.rows) or not _is_wordy(grid.rows[bottom]):
        return None
    upper, lower = _texts(grid.rows[top]), _texts(grid.rows[bottom])
    if not upper or not lower:
        return None
    upper = _spread(grid, top, upper, lower)
    indices = sorted(upper.keys() | lower.keys())
    headings = [(index, f"{upper.get(index, '')} {lower.get(index, '')}") for index in indices]
    return Table(grid, kind, (top, bottom), understand(headings, words, kind))


def _spread(grid: Grid, top: int, upper: dict[int, str], lower: dict[int, str]) -> dict[int, str]:
    """Group words carried over the columns they stand above: by merged cells, else up to the next group."""
    spread = dict(upper)
    ranges = [merged for merged in grid.merged if merged[0] == top]
    if ranges:
        for _, left, _, right in ranges:
            last = min(right, len(grid.rows[top + 1]) - 1)
            spread |= {index: upper[left] for index in range(left, last + 1) if left in upper}
        return spread
    for index in sorted(lower):
        if index not in spread and index - 1 in spread:
            spread[index] = spread[index - 1]
    return spread


def _is_group_row(grid: Grid, row: int, header: int) -> bool:
    """Whether a row holds words above headings, rather than a title or a line of facts about the sheet."""
    cells = _texts(grid.rows[row])
    first = min(_texts(grid.rows[header]), default=0)
    inner = {index: text for index, text in cells.items() if index > first}
    return bool(inner) and not any(":" in text or re.search(r"\d{2}", text) for text in cells.values())


def _texts(cells: Sequence[Cell]) -> dict[int, str]:
    return {index: words_of(cell) for index, cell in enumerate(cells) if not is_blank(cell)}


def _is_wordy(cells: Sequence[Cell]) -> bool:
    """Whether a row may stand under group words: texts that do not begin with a digit."""
    return _wordy_cells(cells) == sum(not is_blank(cell) for cell in cells)


def _wordy_cells(cells: Sequence[Cell]) -> int:
    return sum(
        isinstance(cell, str) and not cell.strip()[:1].isdigit() and bool(cell.strip()) for cell in cells
    )
