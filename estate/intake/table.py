"""A table found in a sheet: its header, its columns, and where its cells stand."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from estate.domain.cell_names import column_name, place_name
from estate.domain.layouts import Form, SheetKind, TableColumn, TableMap
from estate.intake.grid import Grid
from estate.intake.headings import Column
from estate.intake.raw_cells import Pairs
from estate.intake.view import PLAIN, Place, Said, View
from estate.intake.words import Field

_MANY = ("remarks",)
"""Fields that several columns may hold together."""
IDENTITY = ("reference", "key")
PLACES = ("site", "building", "level", "room_number", "room", "outlet")
_ROOMS = ("room_number", "room", "outlet")
"""Places of which one must be told where a sheet of results has no references."""

EXPECTED = {
    SheetKind.VISITS: "a reference, a date and at least one measurement (such as hot, cold, found, left)",
    SheetKind.ASSETS: "a reference, building, room, use and who uses it",
}


@dataclass(frozen=True)
class Table:
    """A table found in a sheet.

    Attributes:
        grid: the rows of the table, and those above and below; of cards and visits across, one row an entry.
        header: 0-based rows of the header in the grid, one to three.
        columns: every column with a heading, understood or not.
        view: where the cells of the grid stand in the sheet.
        end: row of the grid behind the last that can belong to the table; None for all.
        layout: name of the remembered layout that was used; empty for none.
        said: what the lines above say of all rows, by field.
        told: the fields without a column that lines above or between the rows tell.
        header_rows: 0-based rows of the header in the sheet, where they are not those of the grid.
        lines: 0-based rows of the sheet, from and up to but not with, that belong to this table alone.
        common: 0-based rows of the sheet before and from which lines may belong to all its tables.
        sheet: the whole sheet, where the grid is a part of it or laid out otherwise.
    """

    grid: Grid
    kind: SheetKind
    header: tuple[int, ...]
    columns: tuple[Column, ...]
    form: Form = Form.ROWS
    view: View = PLAIN
    end: int | None = None
    layout: str | None = None
    said: Mapping[str, Said] = field(default_factory=dict)
    told: Mapping[str, Field] = field(default_factory=dict)
    header_rows: tuple[int, ...] = ()
    lines: tuple[int, int] | None = None
    common: tuple[int, int] | None = None
    sheet: Grid | None = None

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
    def firsts(self) -> Mapping[str, int]:
        """The first column of each field."""
        return {name: columns[0] for name, columns in self.places.items()}

    @cached_property
    def headings(self) -> Mapping[int, str]:
        """Each column's heading as written."""
        return {column.index: column.heading for column in self.columns}

    @cached_property
    def pairs(self) -> Pairs:
        """The cells of its rows as they stand."""
        return Pairs(self.headings)

    @cached_property
    def letters(self) -> tuple[tuple[str, str], ...]:
        """Each field with the letters of its first column, of a table whose rows are the sheet's."""
        return tuple((name, column_name(column + self.view.left)) for name, column in self.firsts.items())

    @cached_property
    def holds(self) -> Mapping[str, str]:
        """What each field holds: text, date, choice, number, answer or codes."""
        found = {column.field.name: column.field.holds for column in self.known if column.field}
        return found | {name: each.holds for name, each in self.told.items() if name not in found}

    @cached_property
    def data_fields(self) -> tuple[str, ...]:
        """The fields whose cells make a row data rather than words between rows."""
        return tuple(name for name in self.firsts if self.holds[name] != "text")

    @property
    def last(self) -> int:
        """Row of the grid behind the last that can belong to the table."""
        return len(self.grid.rows) if self.end is None else self.end

    def column(self, field: str) -> Column | None:
        """The first column of a field, or None."""
        return self._firsts.get(field)

    @cached_property
    def _firsts(self) -> Mapping[str, Column]:
        return {column.field.name: column for column in reversed(self.known) if column.field}

    @cached_property
    def missing(self) -> tuple[str, ...]:
        """What the table lacks to be read at all."""
        return _missing(self.kind, self.holds)

    @property
    def doubled(self) -> tuple[str, ...]:
        """Fields that two columns claim."""
        return tuple(name for name, indices in self.places.items() if len(indices) > 1 and name not in _MANY)

    @cached_property
    def hidden_rows(self) -> frozenset[int]:
        """0-based rows of the sheet that nobody who opens it sees."""
        return (self.sheet or self.grid).hidden_rows

    def is_hidden(self, column: Column) -> bool:
        """Whether nobody who opens the sheet sees a column."""
        hidden = (self.sheet or self.grid).hidden_columns
        return bool(hidden) and self.view.rows is None and column.index + self.view.left in hidden

    @property
    def taken(self) -> frozenset[int]:
        """0-based rows of the sheet that are header, and of cards and visits across those of their cells."""
        if self.view.places is None:
            return frozenset(self.header)
        inside = {place[0] for line in self.view.places for place in line if place is not None}
        return frozenset(inside) | frozenset(self.header_rows)

    def named(self, row: int, column: int) -> str:
        """The name of a cell of the grid in the sheet; empty where the sheet has none."""
        place: Place | None = self.view.place(row, column)
        return place_name(*place) if place else ""

    def with_columns(self, *columns: Column) -> "Table":
        """The table with some columns understood otherwise."""
        by_index = {column.index: column for column in self.columns}
        by_index |= {column.index: column for column in columns}
        return replace(self, columns=tuple(by_index[index] for index in sorted(by_index)))

    def map(self, first: int, last: int) -> TableMap:
        """Where the table is, for a person.

        Args:
            first, last: 1-based rows of the first and last entry; 0 without one.
        """
        rows = self.header_rows or self.header if self.view.rows is None else self.header_rows
        header = tuple(row + 1 for row in rows)
        return TableMap(self.grid.name, self.form, header, first, last, tuple(map(self._shown, self.columns)))

    def _shown(self, column: Column) -> TableColumn:
        index = column.index + self.view.left
        name = column.field.name if column.field else ""
        unit = column.unit.name if column.unit else ""
        how = column.how if column.field else ""
        return TableColumn(index, column.heading, name, unit, how, column.suggested)


def _missing(kind: SheetKind, holds: Mapping[str, str]) -> tuple[str, ...]:
    names = set(holds)
    if kind is SheetKind.VISITS:
        wanted = [("reference", {*IDENTITY, *_ROOMS}), ("date", {"on"})]
        measures = {name for name, held in holds.items() if held in ("number", "answer")}
        wanted.append(("a measurement", measures or {"a measurement"}))
    else:
        wanted = [("reference", {"reference"}), ("building", {"building"}), ("use", {"use"})]
        wanted += [("room", {"room", "room_number"}), ("who uses it", {"user_group"})]
    return tuple(words for words, any_of in wanted if not any_of & names)
