"""Names of cells as a spreadsheet program gives them, such as ``C9``."""

import re
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


def place_of(cell: str) -> tuple[int, int] | None:
    """The 0-based row and column of a name; None for anything else."""
    found = _CELL.fullmatch(cell)
    if found is None:
        return None
    column = 0
    for letter in found[1]:
        column = column * 26 + ord(letter) - ord("A") + 1
    return int(found[2]) - 1, column - 1
