"""Writes a document as a workbook."""

from functools import partial
from pathlib import Path

from openpyxl.workbook import Workbook

from estate.domain.progress import Progress, silent
from estate.reports.document import Document
from estate.reports.replacing import replacing
from estate.reports.xlsx.cells import add_looks
from estate.reports.xlsx.saving import new_book, save, show_first
from estate.reports.xlsx.sheets import add_read_first, add_table


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
        save(_book(document, progress), written, document.as_at)
    return path


def _book(document: Document, progress: Progress) -> Workbook:
    book = new_book(document.title, document.register)
    add_looks(book)
    add_read_first(book, document)
    tables = [(section, section.table) for section in document.sections if section.table is not None]
    of = sum(table.row_count for _, table in tables)
    done = 0
    for section, table in tables:
        add_table(book, document, section, table, partial(_tell, progress, done, of))
        done += table.row_count
    progress(of, of, "rows")
    show_first(book, 1 if tables else 0)
    return book


def _tell(progress: Progress, done: int, of: int, rows: int) -> None:
    progress(done + rows, of, "rows")
