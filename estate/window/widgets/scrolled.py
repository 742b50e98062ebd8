"""A part of a page that scrolls by itself, on the ground of the page."""

from PySide6.QtCore import QSize, Qt, QTimer
from PySide6.QtWidgets import QApplication, QFrame, QLayout, QScrollArea, QVBoxLayout, QWidget
from typing_extensions import override

from estate.window.sizes import grown, room_for

_LEAST_LINES = 7
_LEAST_HELD_LINES = 5
_EDGE = 8
_ROUNDS = 3
_RING = 3
"""Room for the ring round what has the keys, pixels."""
_MARGINS = 60
"""Room beside the area in its dialog, pixels for text at 100 %."""


class KeyArea(QScrollArea):
    """An area without a frame that the keyboard can scroll, and that brings into sight what has the keys."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._rounds = 0
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        for bar in (self.verticalScrollBar(), self.horizontalScrollBar()):
            bar.rangeChanged.connect(self._on_range_changed)
        application = QApplication.instance()
        if isinstance(application, QApplication):
            application.focusChanged.connect(self._on_focus_changed)

    def _on_range_changed(self) -> None:
        """It takes the keys only where there is something to scroll."""
        scrolls = self.verticalScrollBar().maximum() > 0 or self.horizontalScrollBar().maximum() > 0
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus if scrolls else Qt.FocusPolicy.NoFocus)

    def _on_focus_changed(self, before: QWidget | None, now: QWidget | None) -> None:
        """Also where a key of the window, and not the Tab key, sent them there."""
        if now is not None and self.isAncestorOf(now):
            self._bring(now)
            self._rounds = _ROUNDS
            QTimer.singleShot(0, self._bring_again)

    def _bring_again(self) -> None:
        """Once what came with it is laid out, which takes a round for each layout that lies in another."""
        now, self._rounds = QApplication.focusWidget(), self._rounds - 1
        if now is not None and self.isAncestorOf(now):
            self._bring(now)
            if self._rounds:
                QTimer.singleShot(0, self._bring_again)

    def _bring(self, now: QWidget) -> None:
        areas = _areas_round(now)
        if areas[:1] == [self]:
            for area in areas:  # the innermost first: each next one needs to know where it went
                area.ensureWidgetVisible(now, _EDGE, _EDGE)


def _areas_round(widget: QWidget) -> list[KeyArea]:
    """The areas that a widget lies in, the innermost first."""
    found: list[KeyArea] = []
    above = widget.parentWidget()
    while above is not None:
        if isinstance(above, KeyArea):
            found.append(above)
        above = above.parentWidget()
    return found


class BodyArea(KeyArea):
    """Shows all of what it holds while there is room, and scrolls where there is not.

    Args:
        held: its layout says how much room is needed.
    """

    def __init__(self, held: QLayout, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        inner = QWidget()
        inner.setProperty("kind", "page")
        inner.setLayout(held)
        held.setContentsMargins(_RING, _RING, _RING, _RING)
        self.setWidget(inner)
        self._held = held

    @override
    def hasHeightForWidth(self) -> bool:
        return self._held.hasHeightForWidth()

    @override
    def heightForWidth(self, width: int) -> int:
        return self._held.heightForWidth(width)

    @override
    def sizeHint(self) -> QSize:
        return self._held.sizeHint()

    @override
    def minimumSizeHint(self) -> QSize:
        least = self._held.minimumSize()
        bar = self.verticalScrollBar().sizeHint().width()
        wide = min(least.width() + bar, room_for(self).width() - grown(_MARGINS))
        return QSize(wide, min(least.height(), self.fontMetrics().height() * _LEAST_LINES))


class _HeldArea(KeyArea):
    """Never so low that a line in it could not be read."""

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(super().minimumSizeHint().width(), self.fontMetrics().height() * _LEAST_HELD_LINES)


def in_scroll_area(held: QWidget) -> QScrollArea:
    """An area without a frame that scrolls, and shows a widget as wide as there is room."""
    held.setProperty("kind", "page")
    area = _HeldArea()
    area.setWidget(held)
    return area


def scrolled(widget: QWidget) -> QScrollArea:
    """A widget at the top of such an area, however little room it takes."""
    held = QWidget()
    column = QVBoxLayout(held)
    column.setContentsMargins(0, 0, 8, 0)
    column.addWidget(widget)
    column.addStretch(1)
    return in_scroll_area(held)
