"""One sheet of an OpenDocument spreadsheet while it is being heard."""

from datetime import date

from estate.intake.grid import Cell, Grid, Row
from estate.intake.package import MOST_COLUMNS, check_size


class Table:
    """Gathers rows. Blank cells and rows said to be repeated a million times are counted, not made."""

    def __init__(self, file: str, name: str, hidden: bool) -> None:
        self.name = name
        self._file = file
        self._hidden = hidden
        self._rows: list[Row] = []
        self._blank_rows = 0
        self._width = 0
        self._cells: list[Cell] = []
        self._blanks = 0
        self._repeated = 1
        self._unseen = False
        self._columns = 0
        self._merged: list[tuple[int, int, int, int]] = []
        self._hidden_rows: set[int] = set()
        self._hidden_columns: set[int] = set()

    def column(self, repeated: int, unseen: bool) -> None:
        """Hear of a column, or of several alike."""
        last = min(self._columns + repeated, MOST_COLUMNS)
        if unseen:
            self._hidden_columns |= set(range(self._columns, last))
        self._columns = last

    def begin_row(self, repeated: int, unseen: bool) -> None:
        """Hear a row begin, or several alike."""
        self._cells, self._blanks = [], 0
        self._repeated, self._unseen = repeated, unseen

    def cell(self, value: Cell, repeated: int, spans: tuple[int, int]) -> None:
        """Hear a cell.

        Args:
            value: what it holds.
            repeated: how many like it stand side by side.
            spans: how many rows and columns it is merged over.

        Raises:
            IntakeFault: the row reaches too far.
        """
        row, column = len(self._rows) + self._blank_rows, len(self._cells) + self._blanks
        if spans != (1, 1):
            self._merged.append((row, column, row + spans[0] - 1, column + spans[1] - 1))
        if value is None:
            self._blanks += repeated
            return
        if self._blanks or repeated > 1:
            check_size(1, column + repeated, self._file)
            self._cells += [None] * self._blanks + [value] * repeated
            self._blanks = 0
        else:
            self._cells.append(value)

    def end_row(self) -> int:
        """Hear a row end.

        Returns:
            How many cells it adds to the sheet.

        Raises:
            IntakeFault: the sheet grows too big.
        """
        if not self._cells:
            self._blank_rows += self._repeated
            return 0
        first = len(self._rows) + self._blank_rows
        self._width = max(self._width, len(self._cells))
        check_size(first + self._repeated, self._width, self._file)
        blank: Row = ()
        self._rows += [blank] * self._blank_rows + [self._cells] * self._repeated
        self._blank_rows = 0
        if self._unseen:
            self._hidden_rows |= set(range(first, first + self._repeated))
        return len(self._cells) * self._repeated

    def grid(self, epoch: date) -> Grid:
        """The sheet as heard."""
        hidden_lines = frozenset(self._hidden_rows), frozenset(self._hidden_columns)
        return Grid(self.name, self._rows, tuple(self._merged), epoch, self._hidden, *hidden_lines)
