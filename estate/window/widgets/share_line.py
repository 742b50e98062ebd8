"""A small line: the share of valves with a satisfactory test in date at the ends of months, and today."""

from collections.abc import Sequence

from PySide6.QtCore import QPointF, QRectF, QSize, Qt
from PySide6.QtGui import (
    QAccessible,
    QColor,
    QFontMetricsF,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QPolygonF,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget
from typing_extensions import override

from estate.domain.today import Share
from estate.window import words
from estate.window.models import share_words
from estate.window.schemes import shades_of
from estate.window.shades import Shades
from estate.window.spoken import speaks_as
from estate.window.translating import tr

_TOP = 0.6
_CENTRED = Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignVCenter
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


class ShareLine(QWidget):
    """Shows how the share moved; from nothing to the whole, so that a small change looks small."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.shares: tuple[Share, ...] = ()
        speaks_as(self, QAccessible.Role.Chart)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(tr("Share of valves with a satisfactory test in date, month by month"))

    def tell(self, shares: Sequence[Share]) -> None:
        """Show other shares, the oldest first, today's last."""
        self.shares = tuple(shares)
        self.setAccessibleDescription(share_words.in_words(self.shares))
        self.update()

    @override
    def sizeHint(self) -> QSize:
        return QSize(300, round(self.fontMetrics().height() * 6.5))

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(200, self.sizeHint().height())

    def _plot(self) -> QRectF:
        line = QFontMetricsF(self.font()).height()
        left = QFontMetricsF(self.font()).horizontalAdvance("100 %") + 8
        return self.rect().toRectF().adjusted(left, _TOP * line, -0.9 * line, -1.5 * line)

    def place(self, number: int) -> QPointF | None:
        """Where a share lies; None where no valve was in place."""
        share, plot = self.shares[number].of_one, self._plot()
        if share is None:
            return None
        x = plot.left() + plot.width() * number / max(1, len(self.shares) - 1)
        return QPointF(x, plot.bottom() - plot.height() * share)

    @override
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        if self.shares:
            plot = self._plot()
            along = (event.position().x() - plot.left()) / max(1.0, plot.width())
            number = min(len(self.shares) - 1, max(0, round(along * (len(self.shares) - 1))))
            said = share_words.of_day(self.shares[number], number == len(self.shares) - 1)
            QToolTip.showText(self.mapToGlobal(event.position().toPoint()), said, self)
        super().mouseMoveEvent(event)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        shades = shades_of(self.palette())
        if self.hasFocus():
            painter.setPen(QPen(QColor(shades.accent), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        if self.shares:
            self._grid(painter, shades)
            self._line(painter, shades)
        painter.end()

    def _grid(self, painter: QPainter, shades: Shades) -> None:
        plot, line = self._plot(), QFontMetricsF(self.font()).height()
        for share, said in ((0.0, "0 %"), (0.5, "50 %"), (1.0, "100 %")):
            y = plot.bottom() - plot.height() * share
            ink = shades.line if share else shades.edge
            painter.fillRect(QRectF(plot.left(), y, plot.width(), 1), QColor(ink))
            painter.setPen(QColor(shades.muted))
            painter.drawText(QRectF(0, y - line / 2, plot.left() - 6, line), _RIGHT, said)
        last = len(self.shares) - 1
        under = QRectF(0, plot.bottom() + 3, self.width(), line)
        painter.drawText(under, _RIGHT, tr("today"))
        for number in range(last - 3, -1, -3):
            x = plot.left() + plot.width() * number / last
            said = words.month(self.shares[number].on).split()[0]
            painter.drawText(QRectF(x - 3 * line, under.top(), 6 * line, line), _CENTRED, said)

    def _line(self, painter: QPainter, shades: Shades) -> None:
        accent = QColor(shades.accent)
        places = [self.place(number) for number in range(len(self.shares))]
        painter.setPen(QPen(accent, 2))
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.drawPolyline(QPolygonF([each for each in places if each is not None]))
        for number, each in enumerate(places):
            if each is not None:
                today = number == len(places) - 1
                painter.setBrush(accent if today else QColor(shades.base))
                radius = QFontMetricsF(self.font()).height() * (0.28 if today else 0.17)
                painter.drawEllipse(each, radius, radius)
