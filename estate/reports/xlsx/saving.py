"""A workbook from its first moment to its file: the same content gives the same bytes."""

import re
from datetime import date, datetime, time
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from openpyxl.workbook import Workbook

from estate.reports.xlsx.cells import safe_text

_MODIFIED = re.compile(rb"(<dcterms:modified[^>]*>)[^<]*(<)")


def new_book(title: str, creator: str) -> Workbook:
    """A workbook without a sheet."""
    book = Workbook()
    book.remove(book.worksheets[0])
    book.properties.title = safe_text(title)
    book.properties.creator = safe_text(creator)
    book.properties.language = "en-GB"
    return book


def show_first(book: Workbook, shown: int) -> None:
    """Open on one sheet only: two selected sheets would take every edit twice."""
    book.active = shown
    for number, sheet in enumerate(book.worksheets):
        sheet.sheet_view.tabSelected = number == shown


def save(book: Workbook, written: Path, day: date) -> None:
    """Save a workbook with a day in place of the moment of writing.

    Args:
        written: the file, in a folder that is this file's alone.
    """
    book.properties.created = datetime.combine(day, time())
    loose = written.with_name("loose.xlsx")
    book.save(loose)
    stamp = (day.year, day.month, day.day, 0, 0, 0)
    moment = f"{day.isoformat()}T00:00:00Z".encode()
    with ZipFile(loose) as source, ZipFile(written, "w", ZIP_DEFLATED) as target:
        for name in source.namelist():
            content = source.read(name)
            if name == "docProps/core.xml":
                content = _MODIFIED.sub(rb"\g<1>" + moment + rb"\g<2>", content)
            target.writestr(ZipInfo(name, stamp), content, ZIP_DEFLATED)
