"""One entry of a table: its cells, where they stand, and what the lines around say of it."""

from collections.abc import Mapping, Sequence

from estate.domain.cell_names import CellsOfRow, FieldCells, place_name
from estate.domain.visits import Source
from estate.intake.grid import Cell, is_blank, words_of
from estate.intake.table import Table
from estate.intake.view import NOTHING_SAID, Said


class TableRow:
    """One row of a table, or one card, or one visit of several across.

    Args:
        table: the table.
        index: its 0-based row in the table's grid.
        said: what lines around the rows say of it, by field; a column goes first.
        cells: its cells, where merged cells of rows above reach down into it.
    """

    __slots__ = ("_firsts", "cells", "index", "said", "table")

    def __init__(
        self,
        table: Table,
        index: int,
        said: Mapping[str, Said] = NOTHING_SAID,
        cells: Sequence[Cell] | None = None,
    ) -> None:
        self.table = table
        self.index = index
        self.said = said
        self.cells = table.grid.rows[index] if cells is None else cells
        self._firsts = table.firsts

    @property
    def number(self) -> int:
        """Its number as a spreadsheet program shows it; of a card, that of its first row."""
        return self.table.view.row(self.index) + 1

    def cell(self, field: str) -> Cell:
        """The cell of a field; None where neither a column nor a line tells it."""
        column = self._firsts.get(field)
        if column is None:
            return self.said[field].cell if field in self.said else None
        cells = self.cells
        return cells[column] if column < len(cells) else None

    def text(self, field: str) -> str:
        """The words of a field, of all its columns together."""
        columns = self.table.places.get(field, ())
        if len(columns) < 2:
            cell = self.cell(field)
            return "" if cell is None else words_of(cell)
        cells = self.cells
        texts = [words_of(cells[column]) for column in columns if column < len(cells)]
        return "; ".join(text for text in texts if text)

    def where(self, field: str) -> str:
        """The name of a field's cell; empty where the sheet has no such cell."""
        column = self._firsts.get(field)
        if column is not None:
            return self.table.named(self.index, column)
        said = self.said.get(field)
        return place_name(*said.place) if said is not None and said.place else ""

    def places(self) -> FieldCells:
        """Each field with its cell's name."""
        if self.table.view.places is not None:
            own: FieldCells = tuple((name, self.where(name)) for name in self._firsts)
        else:
            own = CellsOfRow(self.table.letters, self.number)
        if not self.said:
            return own
        return (*own, *((name, self.where(name)) for name in self.said if name not in self._firsts))

    def source(self, file: str) -> Source:
        """Where the row came from, with its filled cells as they stand."""
        table = self.table
        raw = table.pairs.of(table.grid.rows[self.index], lambda column: table.named(self.index, column))
        return Source(file, table.grid.name, self.number, raw)

    def filled(self, *fields: str) -> bool:
        """Whether any of some fields has something in its cell."""
        return any(not is_blank(self.cell(field)) for field in fields)
