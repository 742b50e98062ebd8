"""Bodies expected to be replaced in the year ahead: a bar a model, with the interval drawn over it."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QLineF, QRectF, QSize, Qt
from PySide6.QtGui import QAccessible, QColor, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget
from typing_extensions import override

from estate.domain.forecast import Expected
from estate.window.models.forecast_rows import expected_words
from estate.window.schemes import shades_of
from estate.window.shades import Shades
from estate.window.spoken import speaks_as
from estate.window.translating import said, tr

_EDGE = 8.0
_GAP = 10.0
_LEGEND = said("Bar: bodies expected to be replaced. Line: where the count falls 95 times in 100.")
_LEFT = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)
_RIGHT = int(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)


@dataclass(frozen=True, slots=True)
class Bar:
    """One model and what is expected of it."""

    name: str
    expected: Expected


class ForecastBars(QWidget):
    """Shows what is expected of each model; nothing is drawn of one of which too little is known."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bars: tuple[Bar, ...] = ()
        speaks_as(self, QAccessible.Role.Chart)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(tr("Bodies expected to be replaced in the year ahead"))

    def tell(self, bars: Sequence[Bar]) -> None:
        """Show other models."""
        self.bars = tuple(bars)
        self.setAccessibleDescription(
            "; ".join(f"{each.name}: {expected_words(each.expected)}" for each in self.bars)
        )
        self.updateGeometry()
        self.update()

    @override
    def sizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        return QSize(600, round(line * (2.2 + 1.7 * len(self.bars)) + 2 * _EDGE))

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(26 * self.fontMetrics().height(), self.sizeHint().height())

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        shades = shades_of(self.palette())
        box = self.rect().toRectF().adjusted(0.5, 0.5, -0.5, -0.5)
        painter.setPen(QPen(QColor(shades.accent if self.hasFocus() else shades.line), 1 + self.hasFocus()))
        painter.setBrush(QColor(shades.base))
        painter.drawRect(box)
        if self.bars:
            _draw(painter, box.adjusted(_EDGE, _EDGE, -_EDGE, -_EDGE), self.bars, shades)
        painter.end()


def _draw(painter: QPainter, box: QRectF, bars: tuple[Bar, ...], shades: Shades) -> None:
    metrics = QFontMetricsF(painter.font())
    line = metrics.height()
    painter.setPen(QColor(shades.muted))
    legend = metrics.elidedText(tr(_LEGEND), Qt.TextElideMode.ElideRight, box.width())
    painter.drawText(QRectF(box.left(), box.top(), box.width(), line), _LEFT, legend)
    names = min(box.width() * 0.3, max(metrics.horizontalAdvance(each.name) for each in bars))
    said = max(metrics.horizontalAdvance(expected_words(each.expected)) for each in bars)
    room = QRectF(box.left() + names + _GAP, box.top() + line * 1.8, 0, line * 1.7)
    room.setWidth(box.right() - said - _GAP - room.left())
    scale = room.width() / max(1.0, *(float(max(each.expected.high, each.expected.mean)) for each in bars))
    for place, each in enumerate(bars):
        across = room.translated(0, place * line * 1.7)
        named = QRectF(box.left(), across.top(), names, across.height())
        painter.setPen(QColor(shades.text))
        short = metrics.elidedText(each.name, Qt.TextElideMode.ElideRight, names)
        painter.drawText(named, _LEFT, short)
        painter.drawText(
            QRectF(box.right() - said, across.top(), said, across.height()),
            _RIGHT,
            expected_words(each.expected),
        )
        _bar(painter, across, each.expected, scale, shades)


def _bar(painter: QPainter, across: QRectF, made: Expected, scale: float, shades: Shades) -> None:
    """The bar, the line of its interval with an end at either side, and the ground line at nought."""
    middle, high = across.center().y(), across.height()
    bar = QRectF(across.left(), middle - high * 0.28, made.mean * scale, high * 0.56)
    painter.setPen(QPen(QColor(shades.accent), 1.2))
    painter.setBrush(QColor(shades.chosen))
    painter.drawRect(bar)
    low, top = across.left() + made.low * scale, across.left() + made.high * scale
    painter.setPen(QPen(QColor(shades.text), 1.6))
    painter.drawLine(QLineF(low, middle, top, middle))
    for end in (low, top):
        painter.drawLine(QLineF(end, middle - high * 0.16, end, middle + high * 0.16))
    painter.setPen(QPen(QColor(shades.edge), 1))
    painter.drawLine(QLineF(across.left(), across.top(), across.left(), across.bottom()))
