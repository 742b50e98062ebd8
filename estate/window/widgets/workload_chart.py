"""Bars of the coming work: one a week, what is overdue apart and hatched; each opens its list."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QPoint, QPointF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QColor,
    QFocusEvent,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget
from typing_extensions import override

from estate.window.models.workload_rows import Bar
from estate.window.schemes import shades_of
from estate.window.spoken import speaks_as
from estate.window.translating import said, tr
from estate.window.widgets.stepping import stepped
from estate.window.widgets.workload_drawing import Ground, draw

_NONE = -1
_LEAST_WIDE = 520
_MEANING = said(
    "Test windows by the week in which they end. Left and right choose a bar, Enter opens its list."
)


class WorkloadChart(QWidget):
    """Shows the coming work.

    Attributes:
        asked: the `ListAsked` behind a bar.
    """

    asked = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.bars: tuple[Bar, ...] = ()
        self.chosen = _NONE
        self._pointed = _NONE
        speaks_as(self, QAccessible.Role.Chart)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.MinimumExpanding)
        self.setAccessibleName(tr(_MEANING))

    def tell(self, bars: Sequence[Bar], said: str) -> None:
        """Show other bars; `said` is all of it in words."""
        self.bars = tuple(bars)
        self.chosen = self._pointed = _NONE
        self.setAccessibleDescription(said)
        self.update()

    @override
    def sizeHint(self) -> QSize:
        return QSize(680, round(self.fontMetrics().height() * 11))

    @override
    def minimumSizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        return QSize(max(_LEAST_WIDE, 24 * line), 9 * line)

    def _ground(self) -> Ground:
        line = QFontMetricsF(self.font()).height()
        return Ground(self.rect().toRectF(), line, len(self.bars))

    def bar_at(self, at: QPointF) -> int:
        """The bar whose column holds a place; -1 for none."""
        ground = self._ground()
        return next((each.number for each in self.bars if ground.column(each.number).contains(at)), _NONE)

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(self.font())
        if self.bars:
            shown = self.chosen if self.hasFocus() else self._pointed
            draw(painter, self._ground(), self.bars, shades_of(self.palette()), shown)
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(shades_of(self.palette()).accent), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        goes = stepped(event, self.chosen, len(self.bars), down=False)
        if goes is not None:
            self._choose(goes)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.chosen != _NONE:
            self._open(self.chosen)
        else:
            super().keyPressEvent(event)

    def _choose(self, number: int) -> None:
        self.chosen = number
        said = self.bars[number].words
        self.setAccessibleDescription(said)
        QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.DescriptionChanged))
        where = self._ground().column(number).center().toPoint()
        QToolTip.showText(self.mapToGlobal(where), said, self)
        self.update()

    def _open(self, number: int) -> None:
        if self.bars[number].count:
            self.asked.emit(self.bars[number].asks)

    @override
    def mousePressEvent(self, event: QMouseEvent) -> None:
        number = self.bar_at(event.position())
        if event.button() is Qt.MouseButton.LeftButton and number != _NONE:
            self.chosen = number
            self._open(number)
            self.update()

    @override
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._pointed = self.bar_at(event.position())
        counts = self._pointed != _NONE and self.bars[self._pointed].count > 0
        self.setCursor(Qt.CursorShape.PointingHandCursor if counts else Qt.CursorShape.ArrowCursor)
        if self._pointed == _NONE:
            QToolTip.hideText()
        else:
            where = self.mapToGlobal(event.position().toPoint() + QPoint(0, 4))
            QToolTip.showText(where, self.bars[self._pointed].words, self)
        self.update()

    @override
    def leaveEvent(self, event: QEvent) -> None:
        self._pointed = _NONE
        self.update()
        super().leaveEvent(event)

    @override
    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    @override
    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()
