"""A ring round the field that has the keys, where its style draws none that can be seen well enough."""

from PySide6.QtCore import QObject
from PySide6.QtGui import QColor, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractSpinBox, QApplication, QComboBox, QFocusFrame, QWidget
from typing_extensions import override

from estate.window.schemes import shades_of

_THICK = 2


class FocusRing(QFocusFrame):
    """Drawn round one field, over whatever lies beside it; it follows the field."""

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(QColor(shades_of(self.palette()).accent), _THICK))
        half = _THICK / 2
        painter.drawRoundedRect(self.rect().toRectF().adjusted(half, half, -half, -half), 4, 4)
        painter.end()


class FocusRings(QObject):
    """Sets a ring round each choice, day and count that gets the keys.

    Args:
        application: whose fields; the rings live as long as it does.
    """

    def __init__(self, application: QApplication) -> None:
        super().__init__(application)
        self._ring: FocusRing | None = None
        application.focusChanged.connect(self._on_focus_changed)

    def _on_focus_changed(self, before: QWidget | None, now: QWidget | None) -> None:
        if self._ring is not None:
            self._ring.hide()
            self._ring.deleteLater()
            self._ring = None
        field = _ringed(now)
        if field is not None:
            self._ring = FocusRing(field)
            self._ring.destroyed.connect(self._on_destroyed)
            self._ring.setWidget(field)

    def _on_destroyed(self, gone: QObject) -> None:
        """A ring goes with its window."""
        if self._ring is not None and self._ring is gone:
            self._ring = None


def _ringed(widget: QWidget | None) -> QWidget | None:
    """The choice, day or count that a widget is, or is the inner part of."""
    for each in (widget, widget.parentWidget() if widget is not None else None):
        if isinstance(each, QComboBox | QAbstractSpinBox):
            return each
    return None
