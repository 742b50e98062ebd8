"""Where the cells of a table stand in their sheet, however the table lies in it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from estate.intake.grid import Cell

Place = tuple[int, int]
"""A 0-based row and column of a sheet."""


@dataclass(frozen=True, slots=True)
class View:
    """How the rows of a table come from the cells of its sheet.

    Attributes:
        left: columns of the sheet to the left of the table.
        rows: 0-based row of the sheet in which each row of the table begins; None where they are the same.
        places: where each cell of the table stands; None where it stands in its own row.
    """

    left: int = 0
    rows: Sequence[int] | None = None
    places: Sequence[Sequence[Place | None]] | None = None

    def row(self, row: int) -> int:
        """The 0-based row of the sheet in which a row of the table begins."""
        return row if self.rows is None else self.rows[row]

    def place(self, row: int, column: int) -> Place | None:
        """Where a cell of the table stands; None where the sheet has no such cell."""
        if self.places is None:
            return self.row(row), column + self.left
        line = self.places[row]
        return line[column] if column < len(line) else None


@dataclass(frozen=True, slots=True)
class Said:
    """What a line around the rows says of them.

    Attributes:
        place: None for what no cell says, such as the name of the sheet.
    """

    cell: Cell
    place: Place | None = None


PLAIN = View()
"""A table whose rows and columns are the sheet's own."""
NOTHING_SAID: Mapping[str, Said] = {}
