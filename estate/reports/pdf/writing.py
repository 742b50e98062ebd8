"""Writes a document as PDF."""

from collections.abc import Iterator
from pathlib import Path

from estate.domain.progress import Progress, silent
from estate.reports.document import Document
from estate.reports.pdf.headings import masthead, running_foot, running_head, section_heading
from estate.reports.pdf.ink import BODY_TOP, MM, PAGE_HEIGHT, Block
from estate.reports.pdf.pages import Page, lay_out
from estate.reports.pdf.pen import Pen
from estate.reports.pdf.tables import table_blocks
from estate.reports.replacing import replacing


def write(document: Document, path: Path, progress: Progress = silent) -> Path:
    """Write a document to a PDF file, whole or not at all.

    Args:
        document: what is said.
        path: the file; one already there is replaced.
        progress: told of each page; may raise `Cancelled`.

    Returns:
        The path written.

    Raises:
        ReportFault: the file can't be written.
    """
    pages = lay_out(_blocks(document))
    with replacing(path) as written:
        pen = Pen(written, document)
        head = running_head(document)
        for number, page in enumerate(pages, start=1):
            progress(number, len(pages), "pages")
            pen.put(head, 10 * MM)
            _put(page, pen)
            pen.put(running_foot(document, number, len(pages)), PAGE_HEIGHT - 13 * MM)
            pen.end_page()
        pen.save()
    return path


def _put(page: Page, pen: Pen) -> None:
    for block, down in page.blocks:
        pen.put(block, BODY_TOP + down)


def _blocks(document: Document) -> Iterator[Block]:
    yield masthead(document)
    for section in document.sections:
        yield from section_heading(section)
        if section.table is not None:
            yield from table_blocks(section.table)
        else:
            yield Block(10)
