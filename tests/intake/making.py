"""Makes the sheets that the tests bring in."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import Any

import openpyxl

from estate.domain.intake import SheetReading, VisitRow
from estate.domain.layouts import SheetKind
from estate.intake.reading import read

SHEETS = Path(__file__).parents[1] / "data" / "sheets"
FORMS = Path(__file__).parents[1] / "data" / "forms"
HEADING = ("Ref", "Date", "Hot °C", "Cold °C", "Mixed found °C", "Mixed left °C")
ASSET_HEADING = ("Asset ref", "Site", "Building", "Level", "Room no", "Room", "Use", "Used by")


def text_file(
    folder: Path,
    rows: Iterable[Sequence[str]],
    delimiter: str = ";",
    encoding: str = "utf-8",
    end: str = "\r\n",
) -> Path:
    """Writes delimited text without quoting anything."""
    path = folder / "round.csv"
    path.write_bytes("".join(delimiter.join(row) + end for row in rows).encode(encoding))
    return path


def workbook_file(
    folder: Path,
    sheets: Mapping[str, Iterable[Any]],
    merged: Mapping[str, Sequence[str]] | None = None,
) -> Path:
    """Writes a workbook by openpyxl."""
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    for name, rows in sheets.items():
        sheet = book.create_sheet(name)
        for row in rows:
            sheet.append(list(row))
        for cells in (merged or {}).get(name, ()):
            sheet.merge_cells(cells)
    path = folder / "round.xlsx"
    book.save(path)
    return path


def read_rows(folder: Path, *rows: Sequence[str], heading: Sequence[str] = HEADING) -> SheetReading:
    """Reads rows under a heading from delimited text."""
    return read(text_file(folder, [heading, *rows]), SheetKind.VISITS)


def one_visit(folder: Path, row: Sequence[str], heading: Sequence[str] = HEADING) -> VisitRow:
    """The visit of one row, which must not be questioned."""
    reading = read_rows(folder, row, heading=heading)
    assert reading.questions == ()
    (visit,) = reading.visits
    return visit


def dates_and_codes(folder: Path, *written: str) -> list[date | str]:
    """The date, else the question's code, of each row of a column of written dates."""
    rows = [(f"A{number:03}", text, "60", "15", "41", "41") for number, text in enumerate(written)]
    reading = read_rows(folder, *rows)
    found: dict[int, date | str] = {visit.source.row: visit.on for visit in reading.visits}
    found |= {question.row: question.code for question in reading.questions}
    return [found[row] for row in sorted(found)]
