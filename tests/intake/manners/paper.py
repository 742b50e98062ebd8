"""A sheet as it is written, and beside it what is true of each of its entries."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from typing import Any

Between = tuple[float, float]


class Due(StrEnum):
    """What a careful clerk does with an entry."""

    TAKE = "take"
    EITHER = "take rightly or ask"
    ASK = "ask"
    ATTEMPT = "keep as an attempt and ask"


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula and the value that the file remembers of it; None if it remembers none."""

    text: str
    cached: float | None


@dataclass(frozen=True, slots=True)
class Entry:
    """What is true of one entry of a sheet.

    Attributes:
        ref: the outlet's reference in the register.
        on: the true day; None where the sheet does not tell it.
        values: by name of the reading; a pair is the least and the most that may be taken.
        due: what has to happen.
        first, last: rows of the entry, 1-based.
        free: names of readings that may be taken or not, with any value.
        instrument: its reference, where the sheet tells it.
        why: what is special about it.
    """

    ref: str
    on: date | None
    values: Mapping[str, float | bool | Between]
    due: Due
    page: str
    first: int
    last: int
    free: frozenset[str] = frozenset()
    kind: str = "in-service test"
    instrument: str = ""
    why: str = ""


@dataclass(slots=True)
class Page:
    """One sheet of a workbook; rows and columns are counted from 1."""

    name: str
    rows: list[list[Any]] = field(default_factory=list)
    merged: list[tuple[int, int, int, int]] = field(default_factory=list)
    hidden_rows: set[int] = field(default_factory=set)
    hidden: bool = False

    def line(self, *cells: Any, at: int = 1) -> int:
        """Add a row that begins in a column; says its number."""
        self.rows.append([None] * (at - 1) + list(cells))
        return len(self.rows)

    def put(self, row: int, column: int, cell: Any) -> None:
        """Write one cell, wherever it is."""
        while len(self.rows) < row:
            self.rows.append([])
        line = self.rows[row - 1]
        line.extend([None] * (column - len(line)))
        line[column - 1] = cell

    def merge(self, top: int, left: int, bottom: int, right: int) -> None:
        """Merge a block of cells."""
        self.merged.append((top, left, bottom, right))


@dataclass(frozen=True, slots=True)
class Sheet:
    """A file to be saved, and the truth of it.

    Attributes:
        saver: how it is saved; see `savers`.
        style: of the estate whose register it belongs to.
        since_1904: whether its serial dates count from 1904.
    """

    manner: str
    seed: int
    style: str
    saver: str
    pages: Sequence[Page]
    entries: Sequence[Entry]
    since_1904: bool = False
