"""Lengths that follow the size of the text: they are written for text at 100 %."""

from typing import Final

from PySide6.QtCore import QSize
from PySide6.QtGui import QFont, QFontDatabase, QFontInfo
from PySide6.QtWidgets import QApplication, QWidget

_ROOM: Final = 0.94
"""Share of the screen that a window takes at most: its frame and a panel need some too."""
_LEAST: Final = QSize(1280, 800)
"""The smallest screen that windows are made for; a screen said to be smaller is taken for this."""


def natural_font() -> QFont:
    """The font that the system would use."""
    return QFontDatabase.systemFont(QFontDatabase.SystemFont.GeneralFont)


def fixed_font() -> QFont:
    """The system's font of even widths, at the size that text has now."""
    font = QFontDatabase.systemFont(QFontDatabase.SystemFont.FixedFont)
    font.setPointSizeF(_points(font) * growth())
    return font


def growth() -> float:
    """How many times its natural size text has now."""
    return _points(QApplication.font()) / _points(natural_font())


def grown(pixels: float) -> int:
    """A length in logical pixels, written for text at 100 %, at the size that text has now."""
    return round(pixels * growth())


def room_for(widget: QWidget) -> QSize:
    """The largest size, logical pixels, that a window may take on its screen."""
    screen = widget.screen().availableGeometry().size().expandedTo(_LEAST)
    return QSize(round(screen.width() * _ROOM), round(screen.height() * _ROOM))


def _points(font: QFont) -> float:
    return font.pointSizeF() if font.pointSizeF() > 0 else QFontInfo(font).pointSizeF()
