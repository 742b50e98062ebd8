"""A part of a page that scrolls by itself, on the ground of the page."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QScrollArea, QVBoxLayout, QWidget


def in_scroll_area(held: QWidget) -> QScrollArea:
    """An area without a frame that scrolls up and down, and shows a widget as wide as there is room."""
    held.setProperty("kind", "page")
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setFrameShape(QFrame.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
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
