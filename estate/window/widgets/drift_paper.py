"""The chart on paper: one page, with what has been learned beneath it."""

from collections.abc import Iterable

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPageLayout, QPainter
from PySide6.QtPrintSupport import QPrinter

from estate.errors import ReportFault
from estate.window import words
from estate.window.models.drift_course import Course
from estate.window.models.drift_words import Told
from estate.window.schemes import LIGHT
from estate.window.translating import tr
from estate.window.widgets.drift_chart import MARGIN, draw_titled, pixel_font

_PIXELS_AN_INCH = 96.0
_CHART_SHARE = 0.64
_GAP = 18.0


def lie_flat(printer: QPrinter, reference: str) -> None:
    """Set a page up before the person is asked: landscape, named for its outlet."""
    printer.setPageOrientation(QPageLayout.Orientation.Landscape)
    printer.setDocName(tr("Mixed temperature of {reference}", reference=reference))


def print_course(
    printer: QPrinter, course: Course, told: Iterable[Told], font: QFont, years: int | None = None
) -> None:
    """Print a chart and what has been learned.

    Raises:
        ReportFault: the printer or its file can't be written to.
    """
    painter = QPainter()
    if not painter.begin(printer):
        to = printer.outputFileName() or printer.printerName()
        raise ReportFault(
            tr("The chart can't be printed"),
            tr("{to} does not take it.", to=to),
            tr("Choose another printer."),
        )
    scale = printer.resolution() / _PIXELS_AN_INCH
    page = printer.pageRect(QPrinter.Unit.DevicePixel)
    painter.scale(scale, scale)
    wide, high = page.width() / scale, page.height() / scale
    draw_titled(painter, QRectF(0, 0, wide, high * _CHART_SHARE), course, font, years)
    columns = tuple(told)
    each_wide = (wide - 2 * MARGIN - _GAP * (len(columns) - 1)) / max(1, len(columns))
    for number, column in enumerate(columns):
        room = QRectF(MARGIN + number * (each_wide + _GAP), high * _CHART_SHARE + 6, each_wide, high)
        _write(painter, room, column, pixel_font(font))
    painter.end()


def _write(painter: QPainter, room: QRectF, told: Told, font: QFont) -> None:
    strong = QFont(font)
    strong.setWeight(QFont.Weight.DemiBold)
    left = QRectF(room)
    painter.setPen(QColor(LIGHT.text))
    heading = told.heading if told.chip is None else f"{told.heading}: {told.chip[1]}"
    lines = [(heading, strong), *((f"{fact[0]}: {fact[1]}", font) for fact in told.facts)]
    if told.weeks:
        shares = ", ".join(
            tr("{weeks} weeks {value}", weeks=weeks, value=words.share(value)) for weeks, value in told.weeks
        )
        lines.append((f"{told.weeks_words}: {shares}.", font))
    lines.append((told.caution, font))
    for text, each in lines:
        painter.setFont(each)
        flags = int(Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
        needed = QFontMetricsF(each).boundingRect(left, flags, text)
        painter.drawText(left, flags, text)
        left.setTop(left.top() + needed.height() + 4)
