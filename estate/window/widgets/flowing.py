"""A layout that goes on to the next line where there is no more room, as words do."""

from PySide6.QtCore import QMargins, QPoint, QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget
from typing_extensions import override


class Flowing(QLayout):
    """Lays widgets from left to right, line after line.

    Args:
        parent: the widget that it lays out.
        gap: between widgets and between lines, pixels.
        to_right: whether what is left of a line's room stands before its widgets.
    """

    def __init__(self, parent: QWidget | None = None, gap: int = 8, to_right: bool = False) -> None:
        super().__init__(parent)
        self.setContentsMargins(QMargins(0, 0, 0, 0))
        self.setSpacing(gap)
        self._to_right = to_right
        self._items: list[QLayoutItem] = []

    @override
    def addItem(self, item: QLayoutItem) -> None:
        self._items.append(item)

    def insertWidget(self, place: int, widget: QWidget) -> None:
        """Put a widget before the one at a place."""
        self.addWidget(widget)
        self._items.insert(place, self._items.pop())

    @override
    def count(self) -> int:
        return len(self._items)

    @override
    def itemAt(self, index: int) -> QLayoutItem | None:
        return self._items[index] if 0 <= index < len(self._items) else None

    @override
    def takeAt(self, index: int) -> QLayoutItem | None:
        return self._items.pop(index) if 0 <= index < len(self._items) else None

    @override
    def expandingDirections(self) -> Qt.Orientation:
        return Qt.Orientation(0)

    @override
    def hasHeightForWidth(self) -> bool:
        return True

    @override
    def heightForWidth(self, width: int) -> int:
        lines = self._lines(width)
        return sum(map(_high, lines)) + self.spacing() * max(0, len(lines) - 1)

    @override
    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        top = rect.top()
        for line in self._lines(rect.width()):
            used = sum(each.sizeHint().width() for each in line) + self.spacing() * (len(line) - 1)
            left = rect.left() + (max(0, rect.width() - used) if self._to_right else 0)
            for item in line:
                size = item.sizeHint()
                size.setWidth(min(size.width(), rect.width()))
                middle = top + (_high(line) - size.height()) // 2
                item.setGeometry(QRect(QPoint(left, middle), size))
                left += size.width() + self.spacing()
            top += _high(line) + self.spacing()

    @override
    def sizeHint(self) -> QSize:
        shown = self._shown()
        wide = sum(each.sizeHint().width() for each in shown) + self.spacing() * max(0, len(shown) - 1)
        return QSize(wide, _high(shown))

    @override
    def minimumSize(self) -> QSize:
        shown = self._shown()
        return QSize(max((each.minimumSize().width() for each in shown), default=0), _high(shown))

    def _shown(self) -> list[QLayoutItem]:
        return [each for each in self._items if not each.isEmpty()]

    def _lines(self, width: int) -> list[list[QLayoutItem]]:
        lines: list[list[QLayoutItem]] = []
        left = 0
        for item in self._shown():
            wide = item.sizeHint().width()
            if not lines or left + wide > width:
                lines.append([])
                left = 0
            lines[-1].append(item)
            left += wide + self.spacing()
        return lines


def _high(line: list[QLayoutItem]) -> int:
    return max((each.sizeHint().height() for each in line), default=0)
