"""Things beside each other, or one below the other where there is too little room for that."""

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtWidgets import QLayout, QLayoutItem, QWidget
from typing_extensions import override

from estate.window.sizes import grown

_LEAST = 250


class Folding(QLayout):
    """Lays widgets out from left to right, or downwards where one would be too narrow.

    Args:
        least: what is too narrow for one of them, pixels for text at 100 %.
    """

    def __init__(self, parent: QWidget, gap: int, least: int) -> None:
        super().__init__(parent)
        self._least = least
        self._items: list[QLayoutItem] = []
        self._shares: list[int] = []
        self.setContentsMargins(0, 0, 0, 0)
        self.setSpacing(gap)

    def add(self, widget: QWidget, share: int) -> None:
        """Add a widget with its share of the room."""
        self.addWidget(widget)
        self._shares[-1] = share

    @override
    def addItem(self, item: QLayoutItem) -> None:
        self._items.append(item)
        self._shares.append(1)

    @override
    def count(self) -> int:
        return len(self._items)

    @override
    def itemAt(self, index: int) -> QLayoutItem | None:
        return self._items[index] if 0 <= index < len(self._items) else None

    @override
    def takeAt(self, index: int) -> QLayoutItem | None:
        if not 0 <= index < len(self._items):
            return None
        del self._shares[index]
        return self._items.pop(index)

    @override
    def expandingDirections(self) -> Qt.Orientation:
        return Qt.Orientation(0)

    @override
    def hasHeightForWidth(self) -> bool:
        return True

    def folds_at(self, width: int) -> bool:
        """Whether things lie one below the other at a width."""
        shown = self._shown()
        wide = self._widths(width)
        least = grown(self._least)
        return any(
            has < max(item.minimumSize().width(), least) for (item, _), has in zip(shown, wide, strict=True)
        )

    @override
    def heightForWidth(self, width: int) -> int:
        shown = [item for item, _ in self._shown()]
        if not shown:
            return 0
        if self.folds_at(width):
            return sum(_high(each, width) for each in shown) + self.spacing() * (len(shown) - 1)
        return max(_high(each, has) for each, has in zip(shown, self._widths(width), strict=True))

    @override
    def sizeHint(self) -> QSize:
        shown = [item.sizeHint() for item, _ in self._shown()]
        wide = sum(each.width() for each in shown) + self.spacing() * max(0, len(shown) - 1)
        return QSize(wide, max((each.height() for each in shown), default=0))

    @override
    def minimumSize(self) -> QSize:
        least = [item.minimumSize() for item, _ in self._shown()]
        wide = max((each.width() for each in least), default=0)
        return QSize(wide, max((each.height() for each in least), default=0))

    @override
    def setGeometry(self, rect: QRect) -> None:
        super().setGeometry(rect)
        shown = self._shown()
        if self.folds_at(rect.width()):
            shares = sum(share for _, share in shown)
            over = max(0, rect.height() - self.heightForWidth(rect.width()))
            top = rect.top()
            for item, share in shown:
                high = _high(item, rect.width()) + over * share // shares
                item.setGeometry(QRect(rect.left(), top, rect.width(), high))
                top += high + self.spacing()
            return
        left = rect.left()
        for (item, _), wide in zip(shown, self._widths(rect.width()), strict=True):
            item.setGeometry(QRect(left, rect.top(), wide, rect.height()))
            left += wide + self.spacing()

    def _shown(self) -> list[tuple[QLayoutItem, int]]:
        pairs = zip(self._items, self._shares, strict=True)
        return [(item, share) for item, share in pairs if not item.isEmpty()]

    def _widths(self, width: int) -> list[int]:
        """How wide each thing is beside the others."""
        shown = self._shown()
        left = width - self.spacing() * max(0, len(shown) - 1)
        shares = sum(share for _, share in shown)
        return [left * share // shares for _, share in shown]


class Beside(QWidget):
    """Holds things beside each other.

    Attributes:
        row: their layout.
    """

    def __init__(self, gap: int = 10, least: int = _LEAST, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.row = Folding(self, gap, least)

    def add(self, widget: QWidget, share: int = 1) -> None:
        """Add a widget with its share of the room."""
        self.row.add(widget, share)


def _high(item: QLayoutItem, width: int) -> int:
    wanted = item.heightForWidth(width) if item.hasHeightForWidth() else item.sizeHint().height()
    return max(wanted, item.minimumSize().height())
