"""Fills in a round sheet as a person would, by the headings of its columns."""

from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

from openpyxl import load_workbook
from openpyxl.worksheet.worksheet import Worksheet

ROUND = "Round"
Entries = Mapping[str, Any]


def sheet_of(path: Path) -> Worksheet:
    """The sheet to fill in."""
    sheet = load_workbook(path)[ROUND]
    assert isinstance(sheet, Worksheet)
    return sheet


def head_of(sheet: Worksheet) -> int:
    """The row of the headings."""
    return next(row[0].row for row in sheet.iter_rows() if row[0].value == "Outlet reference")


def columns_of(sheet: Worksheet) -> dict[str, int]:
    """The column of each heading; of several alike the first."""
    found: dict[str, int] = {}
    for number, cell in enumerate(sheet[head_of(sheet)], start=1):
        found.setdefault(str(cell.value), number)
    return found


def row_of(sheet: Worksheet, reference: str) -> int:
    """The row of an outlet."""
    return next(row[0].row for row in sheet.iter_rows() if row[0].value == reference)


def fill(path: Path, entries: Mapping[str, Entries], whole: Entries | None = None) -> Path:
    """Fill in some rows, by reference and heading, and save the sheet.

    Args:
        path: the round sheet.
        entries: what is entered in the row of each outlet.
        whole: what is entered once for the whole round, by its label.
    """
    book = load_workbook(path)
    sheet = book[ROUND]
    assert isinstance(sheet, Worksheet)
    columns = columns_of(sheet)
    for reference, cells in entries.items():
        for heading, value in cells.items():
            sheet.cell(row_of(sheet, reference), columns[heading]).value = value
    for label, value in (whole or {}).items():
        (place,) = [cell for row in sheet.iter_rows() for cell in row if cell.value == label]
        sheet.cell(place.row, place.column + 1).value = value
    book.save(path)
    return path


def rearrange(path: Path, references: Sequence[str]) -> Path:
    """Put the rows in another order, as sorting does, and widen every column."""
    book = load_workbook(path)
    sheet = book[ROUND]
    assert isinstance(sheet, Worksheet)
    head = head_of(sheet)
    values = {str(row[0]): row for row in sheet.iter_rows(min_row=head + 1, values_only=True)}
    for number, reference in enumerate(references, start=head + 1):
        for column, value in enumerate(values[reference], start=1):
            sheet.cell(number, column).value = value
    for shape in sheet.column_dimensions.values():
        shape.width = 25
        shape.hidden = False
    book.save(path)
    return path


TESTED: Entries = {
    "Date": date(2026, 11, 20),
    "Hot (°C)": 60.2,
    "Cold (°C)": 12.9,
    "Mixed as found (°C)": 41.3,
    "Flow (l/min)": 6.5,
    "Cold off: max (°C)": 42.1,
    "Cold off: stabilised (°C)": 41.9,
    "Cold off: residual flow (ml/min)": 12,
    "Cold off: shut-off time (s)": 2.5,
    "Hot off: residual flow (ml/min)": 0,
    "Strainers cleaned": "yes",
    "Check valves good": "yes",
    "Isolating valves open": "no",
    "Adjusted": "no",
    "Mixed as left (°C)": 41.3,
    "Cap refitted": "yes",
    "Instrument": "T-101",
    "Tested by": "A. Thorne",
    "Remarks": "quiet ward",
}
"""A row in which everything is entered."""
