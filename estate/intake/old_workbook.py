"""Workbooks of the form from 1997 to 2003 (xls), read record by record within the file's own length.

The form is published as [MS-XLS]. The reader of xlsx files is not asked here: it makes room for whatever
such a file claims to hold, and it tells neither errors nor what is hidden.
"""

import struct

from estate.domain.phrases import phrase
from estate.intake.compound import Compound
from estate.intake.grid import Grid
from estate.intake.old_book import Book, Listed, book_of, records
from estate.intake.old_sheet import Sheet
from estate.intake.package import check_cells, damaged, locked
from estate.intake.signatures import other_old_container

_BOOK = "workbook"
_ENCRYPTED = "encryptedpackage"


def grids_of(content: bytes, file: str) -> tuple[Grid, ...]:
    """The sheets of a workbook in an old compound container.

    Args:
        content: the file's bytes.
        file: its name, for faults.

    Raises:
        IntakeFault: the file is damaged, locked, too big, or not such a workbook.
    """
    container = Compound(content, file)
    names = {name.lower() for name in container.names()}
    if _ENCRYPTED in names:
        raise locked(file)
    if _BOOK not in names:
        raise other_old_container(names, file)
    try:
        return _read(container.stream(_BOOK), file)
    except (struct.error, IndexError, ValueError) as fault:
        raise damaged(file, phrase("one of its records is cut off")) from fault


def _read(stream: bytes, file: str) -> tuple[Grid, ...]:
    book = book_of(stream, file)
    grids = []
    cells = 0
    left = 2 * len(stream)
    for listed in book.sheets:
        grid, end = _grid(stream, book, listed, file)
        left -= end - listed.start
        if left < 0:
            raise damaged(file, phrase("its sheets lie over each other"))
        cells += sum(map(len, grid.rows))
        check_cells(cells, file)
        grids.append(grid)
    return tuple(grids)


def _grid(stream: bytes, book: Book, listed: Listed, file: str) -> tuple[Grid, int]:
    sheet = Sheet(book)
    end = listed.start
    for kind, data, at in records(stream, listed.start):
        sheet.hear(kind, data)
        end = at
    grid = Grid(
        listed.name,
        sheet.rows(file),
        tuple(sheet.merged),
        book.epoch,
        listed.hidden,
        frozenset(sheet.hidden_rows),
        frozenset(sheet.hidden_columns),
    )
    return grid, end
