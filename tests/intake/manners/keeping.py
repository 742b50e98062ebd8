"""Keeps a few sheets as other programs save them, with their truth, under tests/data/sheets/manners.

    python -m tests.intake.manners.keeping

Needs LibreOffice, XlsxWriter, xlwt and pandas, which the tests themselves do not: they read what is kept.
"""

import importlib
import io
import json
import subprocess
import sys
import tempfile
from collections.abc import Callable, Mapping
from dataclasses import asdict
from datetime import date, datetime
from pathlib import Path
from typing import Any

from tests.intake.manners.kept import KEPT
from tests.intake.manners.manner import made
from tests.intake.manners.paper import Entry, Formula, Page, Sheet
from tests.intake.manners.savers import by_hand, by_openpyxl


def by_xlsxwriter(sheet: Sheet) -> bytes:
    """A workbook with a format for dates and what its formulas came to."""
    target = io.BytesIO()
    options = {"in_memory": True, "date_1904": sheet.since_1904, "default_date_format": "dd/mm/yyyy"}
    book = importlib.import_module("xlsxwriter").Workbook(target, options)
    for page in sheet.pages:
        tab = book.add_worksheet(page.name)
        for row, column, cell in _cells(page):
            if isinstance(cell, Formula):
                tab.write_formula(
                    row, column, f"={cell.text}", None, "" if cell.cached is None else cell.cached
                )
            elif isinstance(cell, date):
                tab.write_datetime(row, column, _moment(cell))
            else:
                tab.write(row, column, cell)
        for top, left, bottom, right in page.merged:
            tab.merge_range(top - 1, left - 1, bottom - 1, right - 1, page.rows[top - 1][left - 1])
        for row in page.hidden_rows:
            tab.set_row(row - 1, None, None, {"hidden": True})
    book.close()
    return target.getvalue()


def by_xlwt(sheet: Sheet) -> bytes:
    """A workbook of the old binary form."""
    xlwt = importlib.import_module("xlwt")
    book = xlwt.Workbook()
    style = xlwt.easyxf(num_format_str="DD/MM/YYYY")
    for page in sheet.pages:
        tab = book.add_sheet(page.name)
        for row, column, cell in _cells(page):
            tab.write(row, column, cell, style) if isinstance(cell, date) else tab.write(row, column, cell)
    target = io.BytesIO()
    book.save(target)
    return target.getvalue()


def by_pandas(sheet: Sheet) -> bytes:
    """A data frame as it is exported, its first row the header."""
    pandas = importlib.import_module("pandas")
    (page,) = sheet.pages
    frame = pandas.DataFrame(page.rows[1:], columns=page.rows[0])
    target = io.BytesIO()
    frame.to_excel(target, sheet_name=page.name, index=False)
    return target.getvalue()


def _cells(page: Page) -> list[tuple[int, int, Any]]:
    return [
        (row, column, cell)
        for row, cells in enumerate(page.rows)
        for column, cell in enumerate(cells)
        if cell is not None
    ]


def _moment(day: date) -> datetime:
    return day if isinstance(day, datetime) else datetime(day.year, day.month, day.day)


def by_libreoffice(ending: str, form: str = "") -> Callable[[Sheet], bytes]:
    """Opened and saved by LibreOffice in another form."""

    def save(sheet: Sheet) -> bytes:
        with tempfile.TemporaryDirectory() as folder:
            source = Path(folder) / "sheet.xlsx"
            source.write_bytes(by_hand(sheet) if sheet.since_1904 else by_openpyxl(sheet))
            out = Path(folder) / "out"
            profile = f"-env:UserInstallation={(Path(folder) / 'profile').as_uri()}"
            line = [
                "soffice",
                profile,
                "--headless",
                "--convert-to",
                form or ending,
                "--outdir",
                str(out),
                str(source),
            ]
            subprocess.run(line, check=True, capture_output=True)
            return (out / f"sheet.{ending}").read_bytes()

    return save


PROGRAMS: Mapping[str, tuple[str, Callable[[Sheet], bytes]]] = {
    "xlsxwriter": ("xlsx", by_xlsxwriter),
    "xlwt": ("xls", by_xlwt),
    "pandas": ("xlsx", by_pandas),
    "lo": ("xlsx", by_libreoffice("xlsx")),
    "lo-xls": ("xls", by_libreoffice("xls", "xls:MS Excel 97")),
    "lo-ods": ("ods", by_libreoffice("ods")),
    "lo-xlsm": ("xlsm", by_libreoffice("xlsm", "xlsm:Calc MS Excel 2007 VBA XML")),
    "lo-csv": ("csv", by_libreoffice("csv")),
}
WANTED = (
    ("plain", 11, ("xlsxwriter", "xlwt", "pandas", "lo", "lo-xls", "lo-ods", "lo-xlsm", "lo-csv")),
    ("titled", 12, ("xlsxwriter", "lo-xls", "lo-ods")),
    ("by building", 13, ("lo-xls", "lo-ods")),
    ("totals and hidden", 14, ("xlsxwriter", "lo-xls", "lo-ods")),
    ("german", 15, ("lo", "xlwt")),
    ("cards down", 16, ("lo-xls", "xlsxwriter")),
    ("visits across", 17, ("lo-ods", "lo")),
    ("formulas", 18, ("xlsxwriter",)),
    ("units in cells", 19, ("pandas", "lo-ods")),
    ("serial days", 20, ("lo-xls", "lo-ods")),
    ("days across", 21, ("lo-xls",)),
    ("decimal slips", 22, ("lo-ods", "xlwt")),
    ("no access in results", 23, ("lo-xls",)),
    ("date slips", 24, ("xlsxwriter", "lo-ods")),
    ("fahrenheit told", 25, ("lo-xls", "pandas")),
)


def keep() -> list[str]:
    """Save every sheet wanted, and one file with the truth of all; says their names."""
    KEPT.mkdir(parents=True, exist_ok=True)
    truth: dict[str, Any] = {}
    files: dict[str, str] = {}
    for manner, seed, programs in WANTED:
        sheet = made(manner, seed)
        truth[manner] = {
            "seed": seed,
            "style": sheet.style,
            "entries": [_told(entry) for entry in sheet.entries],
        }
        for program in programs:
            ending, save = PROGRAMS[program]
            name = f"{manner.replace(' ', '-')}-{program}.{ending}"
            (KEPT / name).write_bytes(save(sheet))
            files[name] = manner
    told = {"files": files, "truth": truth}
    text = json.dumps(told, ensure_ascii=False, indent=0, separators=(",", ":"))
    (KEPT / "truth.json").write_text(text, encoding="utf-8")
    return sorted(files)


def _told(entry: Entry) -> dict[str, Any]:
    """An entry without what every other has too."""
    told = asdict(entry) | {"on": entry.on and entry.on.isoformat(), "free": sorted(entry.free)}
    return {name: value for name, value in told.items() if value not in ("", [], "in-service test")}


if __name__ == "__main__":
    sys.stdout.write("\n".join(keep()) + "\n")
