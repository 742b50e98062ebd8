"""Lays sheets out in every form and reads them from their bytes."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from io import BytesIO
from typing import Any

import openpyxl

from estate.domain.intake import SheetReading, VisitRow
from estate.domain.layouts import SheetKind
from estate.domain.visits import measured
from estate.intake.reading import read_content

DAY = date(2026, 10, 14)
HEADING = ("Ref", "Date", "Hot °C", "Cold °C", "Mixed found °C", "Mixed left °C")
Rows = Iterable[Any]


def row_of(ref: str, on: date | None = DAY, found: float = 41.0) -> list[Any]:
    """A row under `HEADING`."""
    return [ref, on, 60.0, 14.0, found, found]


def book(
    sheets: Mapping[str, Rows],
    merged: Sequence[str] = (),
    hidden_rows: Sequence[int] = (),
    hidden_columns: Sequence[str] = (),
) -> bytes:
    """A workbook by openpyxl; what is merged or hidden is so in every sheet."""
    made = openpyxl.Workbook()
    made.remove(made.worksheets[0])
    for name, rows in sheets.items():
        sheet = made.create_sheet(name)
        for row in rows:
            sheet.append(list(row))
        for cells in merged:
            sheet.merge_cells(cells)
        for row_number in hidden_rows:
            sheet.row_dimensions[row_number].hidden = True
        for letter in hidden_columns:
            sheet.column_dimensions[letter].hidden = True
    target = BytesIO()
    made.save(target)
    return target.getvalue()


def laid(rows: Rows, merged: Sequence[str] = (), **how: Any) -> SheetReading:
    """What one sheet of results comes to."""
    return read_content(book({"Sheet1": rows}, merged), "round.xlsx", SheetKind.VISITS, **how)


def told(visit: VisitRow) -> tuple[str, date, dict[str, Any]]:
    """Reference, day and temperatures of a visit."""
    values = measured(visit.readings)
    return visit.reference, visit.on, {name: value for name, value in values.items() if name.endswith("_c")}


def codes(reading: SheetReading) -> list[tuple[int, str]]:
    """Row and code of each question."""
    return [(question.row, question.code) for question in reading.questions]
