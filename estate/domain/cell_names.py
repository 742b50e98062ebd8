"""Names of cells as a spreadsheet program gives them, such as ``C9``."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

_CELL = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")


def place_name(row: int, column: int) -> str:
    """The name of a 0-based place, such as ``C9``."""
    return f"{column_name(column)}{row + 1}"


@lru_cache(maxsize=1_000)
def column_name(column: int) -> str:
    """The letters of a 0-based column, such as ``C``."""
    letters = ""
    left = column + 1
    while left:
        left, digit = divmod(left - 1, 26)
        letters = chr(ord("A") + digit) + letters
    return letters


@dataclass(frozen=True, slots=True)
class CellsOfRow:
    """Each field with the name of its cell, of fields that stand in one row; written out when asked for.

    Attributes:
        letters: each field with the letters of its column.
        row: number of the row, from 1.
    """

    letters: tuple[tuple[str, str], ...]
    row: int

    def __iter__(self) -> Iterator[tuple[str, str]]:
        number = str(self.row)
        return ((field, letters + number) for field, letters in self.letters)


FieldCells = tuple[tuple[str, str], ...] | CellsOfRow
"""Each field with the name of its cell."""


def place_of(cell: str) -> tuple[int, int] | None:
    """The 0-based row and column of a name; None for anything else."""
    found = _CELL.fullmatch(cell)
    if found is None:
        return None
    column = 0
    for letter in found[1]:
        column = column * 26 + ord(letter) - ord("A") + 1
    return int(found[2]) - 1, column - 1
