"""A report on a printer: its pages drawn as finely as the printer can use, in the worker."""

from collections.abc import Sequence
from typing import Final

from PySide6.QtCore import QMarginsF, QRectF, Qt
from PySide6.QtGui import QPageLayout, QPageSize, QPainter
from PySide6.QtPrintSupport import QPrinter

from estate.domain.progress import Cancelled, Progress
from estate.errors import ReportFault
from estate.window.models.paper import Paper, Sheet
from estate.window.translating import tr

_FINEST_DOTS_AN_INCH: Final = 300
"""Finer pictures of text take four times the memory and look the same on paper."""


def set_up(printer: QPrinter, paper: Paper, name: str) -> None:
    """Set a printer up before the person is asked: the report's own paper, and its name."""
    printer.setDocName(name)
    if paper.sheets:
        _lay(printer, paper.sheets[0])
    printer.setFromTo(1, max(1, len(paper.sheets)))


def _lay(printer: QPrinter, sheet: Sheet) -> None:
    """The page as it is, upright in its size and turned by its orientation; its margins are drawn with it."""
    upright = sheet.size_pt.transposed() if sheet.lies else sheet.size_pt
    turned = QPageLayout.Orientation.Landscape if sheet.lies else QPageLayout.Orientation.Portrait
    size = QPageSize(upright, QPageSize.Unit.Point)
    printer.setPageLayout(QPageLayout(size, turned, QMarginsF(0, 0, 0, 0)))
    printer.setFullPage(True)


def wanted(printer: QPrinter, paper: Paper) -> Sequence[Sheet]:
    """The pages that the person chose in the printer's dialog, as often as copies are wanted."""
    first, last = printer.fromPage() or 1, printer.toPage() or len(paper.sheets)
    ranged = printer.printRange() is QPrinter.PrintRange.PageRange
    chosen = paper.sheets[first - 1 : last] if ranged else paper.sheets
    copies = 1 if printer.supportsMultipleCopies() else printer.copyCount()
    return tuple(chosen) * copies


def print_paper(printer: QPrinter, paper: Paper, progress: Progress) -> int:
    """Print a report; runs in the worker.

    Returns:
        How many pages were sent.

    Raises:
        ReportFault: the printer or its file can't be written to.
        Cancelled: the person asked to stop; what was not sent yet is thrown away.
    """
    painter = QPainter()
    if not painter.begin(printer):
        raise _refused(printer)
    sheets = wanted(printer, paper)
    try:
        for done, sheet in enumerate(sheets):
            progress(
                done, len(sheets), tr("Page {number:,} of {pages:,}", number=done + 1, pages=len(sheets))
            )
            if done and not printer.newPage():
                raise _refused(printer)
            _draw(painter, printer, paper, sheet)
    except Cancelled:
        printer.abort()
        raise
    finally:
        painter.end()
    return len(sheets)


def _draw(painter: QPainter, printer: QPrinter, paper: Paper, sheet: Sheet) -> None:
    picture = paper.drawn(sheet.number, min(printer.resolution(), _FINEST_DOTS_AN_INCH))
    room = printer.paperRect(QPrinter.Unit.DevicePixel)
    scaled = picture.size().scaled(room.size().toSize(), Qt.AspectRatioMode.KeepAspectRatio)
    painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
    painter.drawImage(QRectF(0, 0, scaled.width(), scaled.height()), picture)


def _refused(printer: QPrinter) -> ReportFault:
    to = printer.outputFileName() or printer.printerName()
    title, detail = tr("It can't be printed"), tr("{to} does not take it.", to=to)
    return ReportFault(title, detail, tr("Choose another printer."))
