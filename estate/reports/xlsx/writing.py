"""Writes a document as a workbook."""

import re
from datetime import datetime, time
from functools import partial
from pathlib import Path
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from openpyxl.workbook import Workbook

from estate.domain.progress import Progress, silent
from estate.reports.document import Document
from estate.reports.replacing import replacing
from estate.reports.xlsx.cells import add_looks, safe_text
from estate.reports.xlsx.sheets import add_read_first, add_table

_MODIFIED = re.compile(rb"(<dcterms:modified[^>]*>)[^<]*(<)")


def write(document: Document, path: Path, progress: Progress = silent) -> Path:
    """Write a document to an .xlsx file, whole or not at all; the same document gives the same bytes.

    Args:
        document: what is said; each table has a sheet, the first of them in front.
        path: the file; one already there is replaced.
        progress: told of rows written; may raise `Cancelled`.

    Returns:
        The path written.

    Raises:
        ReportFault: the file can't be written.
    """
    with replacing(path) as written:
        book = _book(document, progress)
        loose = written.with_name("loose.xlsx")
        book.save(loose)
        _fix_moments(loose, written, document)
    return path


def _book(document: Document, progress: Progress) -> Workbook:
    book = Workbook()
    book.remove(book.worksheets[0])
    add_looks(book)
    book.properties.title = safe_text(document.title)
    book.properties.creator = safe_text(document.register)
    book.properties.language = "en-GB"
    book.properties.created = datetime.combine(document.as_at, time())
    add_read_first(book, document)
    tables = [(section, section.table) for section in document.sections if section.table is not None]
    of = sum(table.row_count for _, table in tables)
    done = 0
    for section, table in tables:
        add_table(book, document, section, table, partial(_tell, progress, done, of))
        done += table.row_count
    progress(of, of, "rows")
    _show_first(book, 1 if tables else 0)
    return book


def _tell(progress: Progress, done: int, of: int, rows: int) -> None:
    progress(done + rows, of, "rows")


def _show_first(book: Workbook, shown: int) -> None:
    """Open on one sheet only: two selected sheets would take every edit twice."""
    book.active = shown
    for number, sheet in enumerate(book.worksheets):
        sheet.sheet_view.tabSelected = number == shown


def _fix_moments(loose: Path, written: Path, document: Document) -> None:
    """Copy the archive with the as-at date in place of the moment of writing."""
    stamp = (document.as_at.year, document.as_at.month, document.as_at.day, 0, 0, 0)
    moment = f"{document.as_at.isoformat()}T00:00:00Z".encode()
    with ZipFile(loose) as source, ZipFile(written, "w", ZIP_DEFLATED) as target:
        for name in source.namelist():
            content = source.read(name)
            if name == "docProps/core.xml":
                content = _MODIFIED.sub(rb"\g<1>" + moment + rb"\g<2>", content)
            target.writestr(ZipInfo(name, stamp), content, ZIP_DEFLATED)
