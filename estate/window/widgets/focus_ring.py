"""A ring round the field that has the keys, where its style draws none that can be seen well enough."""

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, Qt
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import (
    QAbstractScrollArea,
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QScrollArea,
    QWidget,
)
from typing_extensions import override

from estate.window.schemes import shades_of

_THICK = 2
_OUT = 2
"""How far outside the field it lies, pixels."""
_MOVES = frozenset({QEvent.Type.Move, QEvent.Type.Resize, QEvent.Type.Show, QEvent.Type.Hide})


class FocusRing(QWidget):
    """Drawn round one field, over whatever lies beside it; it follows the field.

    It lies in what scrolls, or in the window, and not in the field's own parent, which may have no room.
    """

    def __init__(self, field: QWidget) -> None:
        room = _room_round(field)
        super().__init__(room)
        self._field: QWidget | None = field
        self._room = room
        self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        held: QWidget | None = field
        while held is not None and held is not self._room:
            held.installEventFilter(self)
            held = held.parentWidget()
        self._follow()

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() in _MOVES:
            self._follow()
        return False

    def let_go(self) -> None:
        """Follow no longer: the field may be gone before the ring is."""
        self._field = None
        self.hide()
        self.deleteLater()

    def _follow(self) -> None:
        if self._field is None:
            return
        where = QRect(self._field.mapTo(self._room, QPoint()), self._field.size())
        self.setGeometry(where.adjusted(-_OUT, -_OUT, _OUT, _OUT))
        self.setVisible(self._field.isVisibleTo(self._room))
        self.raise_()

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(shades_of(self.palette()).accent), _THICK))
        half = _THICK / 2
        painter.drawRoundedRect(self.rect().toRectF().adjusted(half, half, -half, -half), 4, 4)
        painter.end()


class FocusRings(QObject):
    """Sets a ring round each choice, day, count and scrolled part that gets the keys.

    Args:
        application: whose fields; the rings live as long as it does.
    """

    def __init__(self, application: QApplication) -> None:
        super().__init__(application)
        self._ring: FocusRing | None = None
        application.focusChanged.connect(self._on_focus_changed)

    def _on_focus_changed(self, before: QWidget | None, now: QWidget | None) -> None:
        if self._ring is not None:
            self._ring.let_go()
            self._ring = None
        field = _ringed(now)
        if field is not None:
            self._ring = FocusRing(field)
            self._ring.destroyed.connect(self._on_destroyed)

    def _on_destroyed(self, gone: QObject) -> None:
        """A ring goes with its window."""
        if self._ring is not None and self._ring is gone:
            self._ring = None


def _ringed(widget: QWidget | None) -> QWidget | None:
    """The choice, day, count or scrolled part that a widget is, or is the inner part of."""
    if isinstance(widget, QScrollArea):
        return widget
    for each in (widget, widget.parentWidget() if widget is not None else None):
        if isinstance(each, QComboBox | QAbstractSpinBox):
            return each
    return None


def _room_round(field: QWidget) -> QWidget:
    """What a ring round a field lies in: the widget that scrolls with the field, else its window."""
    room, above = field, field.parentWidget()
    while above is not None and not room.isWindow() and not _is_viewport(above):
        room, above = above, above.parentWidget()
    return room if room is not field else above or field


def _is_viewport(widget: QWidget) -> bool:
    area = widget.parentWidget()
    return isinstance(area, QAbstractScrollArea) and area.viewport() is widget
