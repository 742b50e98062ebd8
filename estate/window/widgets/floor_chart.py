"""Floor by floor: a bar for each level with its outlets by state; each leads to its level."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QPoint, QPointF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QFocusEvent,
    QFontMetricsF,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
)
from PySide6.QtWidgets import QSizePolicy, QToolTip, QWidget
from typing_extensions import override

from estate.window.models.floor_rows import Floor, summary
from estate.window.schemes import shades_of
from estate.window.spoken import speaks_as
from estate.window.translating import tr
from estate.window.widgets.floor_drawing import Storeys, draw_floors, storeys
from estate.window.widgets.stepping import stepped

_NONE = -1


class FloorChart(QWidget):
    """Shows levels.

    Attributes:
        asked: the `PlaceNode` of the bar that was opened.
        moved: the row that the keys stand on, so that it can be brought into sight.
    """

    asked = Signal(object)
    moved = Signal(int, int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        speaks_as(self, QAccessible.Role.Chart)
        self.floors: tuple[Floor, ...] = ()
        self.chosen = _NONE
        self._pointed = _NONE
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(
            tr("Outlets by state, floor by floor. Up and down choose a floor, Enter shows it.")
        )

    def tell(self, floors: Sequence[Floor]) -> None:
        """Show other levels."""
        self.floors = tuple(floors)
        self.chosen = self._pointed = _NONE
        self.setAccessibleDescription(summary(self.floors))
        self.updateGeometry()
        self.update()

    def laid(self) -> Storeys:
        """Where the bars lie."""
        return storeys(self.floors, QFontMetricsF(self.font()), self.width())

    @override
    def sizeHint(self) -> QSize:
        return QSize(480, round(self.laid().high * len(self.floors)))

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(320, self.sizeHint().height())

    def floor_at(self, at: QPointF) -> int:
        """The number of the level at a place; -1 for none."""
        number = int(at.y() // self.laid().high)
        return number if 0 <= number < len(self.floors) else _NONE

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(self.font())
        focused = self.hasFocus()
        shown = self.chosen if focused else self._pointed
        draw_floors(painter, self.laid(), self.floors, shades_of(self.palette()), shown, focused)
        painter.end()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        goes = stepped(event, self.chosen, len(self.floors), down=True)
        if goes is not None:
            self._choose(goes)
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.chosen != _NONE:
            self.asked.emit(self.floors[self.chosen].node)
        else:
            super().keyPressEvent(event)

    def _choose(self, number: int) -> None:
        self.chosen = number
        self.setAccessibleDescription(self.floors[number].words)
        QAccessible.updateAccessibility(QAccessibleEvent(self, QAccessible.Event.DescriptionChanged))
        row = self.laid().row(number)
        self.moved.emit(round(row.top()), round(row.bottom()))
        self.update()

    @override
    def mousePressEvent(self, event: QMouseEvent) -> None:
        number = self.floor_at(event.position())
        if event.button() is Qt.MouseButton.LeftButton and number != _NONE:
            self.chosen = number
            self.asked.emit(self.floors[number].node)

    @override
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._pointed = self.floor_at(event.position())
        if self._pointed == _NONE:
            self.unsetCursor()
            QToolTip.hideText()
        else:
            self.setCursor(Qt.CursorShape.PointingHandCursor)
            at = self.mapToGlobal(event.position().toPoint() + QPoint(0, 4))
            QToolTip.showText(at, self.floors[self._pointed].words, self)
        self.update()

    @override
    def leaveEvent(self, event: QEvent) -> None:
        self._pointed = _NONE
        self.update()
        super().leaveEvent(event)

    @override
    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        if self.chosen == _NONE and self.floors:
            self._choose(0)
        self.update()

    @override
    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()
