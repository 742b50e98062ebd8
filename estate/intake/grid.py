"""A sheet as a plain grid of cells, whatever file it came from."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta


@dataclass(frozen=True, slots=True)
class Trouble:
    """A cell whose value the file does not hold.

    Attributes:
        code: ``formula-without-value`` or ``unreadable-value`` (the spreadsheet program's own error).
        text: the formula or the error as the file has it.
    """

    code: str
    text: str


Cell = str | float | bool | date | time | timedelta | Trouble | None
Row = Sequence[Cell]


@dataclass(frozen=True, slots=True)
class Grid:
    """One sheet.

    Attributes:
        rows: all rows from the sheet's first row and column, so that index 0 is row 1 and column A.
        merged: (top, left, bottom, right) of merged ranges, 0-based and inclusive.
        epoch: the day from which the file counts serial dates.
        hidden: whether a person who opens the file does not see the sheet.
        hidden_rows: 0-based rows that such a person does not see, be they hidden or filtered out.
        hidden_columns: 0-based columns that such a person does not see.
    """

    name: str
    rows: Sequence[Row]
    merged: tuple[tuple[int, int, int, int], ...] = ()
    epoch: date = date(1899, 12, 30)
    hidden: bool = False
    hidden_rows: frozenset[int] = frozenset()
    hidden_columns: frozenset[int] = frozenset()

    def at(self, row: int, column: int) -> Cell:
        """The cell at a 0-based place; None beyond the sheet's edge."""
        if not 0 <= row < len(self.rows):
            return None
        cells = self.rows[row]
        return cells[column] if column < len(cells) else None


def is_blank(cell: Cell) -> bool:
    """Whether a cell holds nothing that a reader could see."""
    return cell is None or (isinstance(cell, str) and not cell.strip())


def shown(cell: Cell) -> str:
    """A cell's content as a person sees it; numbers without a needless ``.0``."""
    if cell is None:
        return ""
    if isinstance(cell, Trouble):
        return cell.text
    if isinstance(cell, bool):
        return "TRUE" if cell else "FALSE"
    if isinstance(cell, float):
        return str(int(cell)) if cell.is_integer() and abs(cell) < 1e15 else repr(cell)
    if isinstance(cell, datetime):
        return cell.isoformat(sep=" ")
    if isinstance(cell, date | time):
        return cell.isoformat()
    return str(cell)


def words_of(cell: Cell) -> str:
    """A cell's content with white space tidied."""
    return " ".join(shown(cell).split())
