"""What stands under a row of a list once it is expanded, until it is folded again."""

from typing import Any

from PySide6.QtCore import QEvent, QModelIndex, QObject, QPersistentModelIndex, QPoint, QRect, Qt
from PySide6.QtGui import QKeyEvent, QPainter
from PySide6.QtWidgets import QAbstractItemView, QApplication, QStyleOptionViewItem, QWidget
from typing_extensions import override

from estate.window.widgets.listing import Listing
from estate.window.widgets.painting import MarkedCell


class _OnTop(MarkedCell):
    """Draws a cell in the upper part of a row that has been made higher."""

    def __init__(self, listing: Listing[Any]) -> None:
        super().__init__(listing)
        self._listing = listing

    @override
    def paint(
        self, painter: QPainter, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex
    ) -> None:
        styled: Any = QStyleOptionViewItem(option)
        high = self._listing.verticalHeader().defaultSectionSize()
        styled.rect.setHeight(min(styled.rect.height(), high))
        super().paint(painter, styled, index)


class RowDetail(QObject):
    """Shows a widget under one row of a list.

    Args:
        listing: the list.
        shown: what is shown; whoever expands a row fills it first.

    Attributes:
        key: of the row that is expanded; None for none.
    """

    def __init__(self, listing: Listing[Any], shown: QWidget) -> None:
        super().__init__(listing)
        self._listing, self.shown = listing, shown
        self.key: int | None = None
        self._row = -1
        listing.setItemDelegate(_OnTop(listing))
        listing.setVerticalScrollMode(QAbstractItemView.ScrollMode.ScrollPerPixel)
        shown.setParent(listing.viewport())
        shown.setAutoFillBackground(True)
        shown.hide()
        listing.verticalScrollBar().valueChanged.connect(self._place)
        listing.ordered.layoutChanged.connect(self._again)
        listing.ordered.modelReset.connect(self.fold)
        listing.viewport().installEventFilter(self)
        listing.installEventFilter(self)
        application = QApplication.instance()
        if isinstance(application, QApplication):
            application.focusChanged.connect(self._on_focus_changed)

    def _on_focus_changed(self, before: QWidget | None, now: QWidget | None) -> None:
        """Bring into sight what has the keys."""
        if now is None or not self.shown.isAncestorOf(now):
            return
        view, bar = self._listing.viewport(), self._listing.verticalScrollBar()
        top = now.mapTo(view, QPoint()).y()
        below = top + now.height() - view.height()
        if top < 0 or below > 0:
            bar.setValue(bar.value() + (top if top < 0 else below))

    def expand(self, key: int) -> None:
        """Show the widget under the row of a key, if that is shown."""
        self.fold()
        place = self._listing.table.place_of(key)
        if place is None:
            return
        index = self._listing.ordered.mapFromSource(self._listing.table.index(place, 0))
        if index.isValid():
            self.key, self._row = key, index.row()
            self.shown.show()
            self._place()
            fits = self.shown.geometry().bottom() < self._listing.viewport().height()
            hint = QAbstractItemView.ScrollHint
            self._listing.scrollTo(index, hint.EnsureVisible if fits else hint.PositionAtTop)

    def fold(self) -> None:
        """Take the widget out of sight."""
        if self._row >= 0:
            self._listing.setRowHeight(self._row, self._high)
        self.key, self._row = None, -1
        self.shown.hide()

    @property
    def _high(self) -> int:
        return self._listing.verticalHeader().defaultSectionSize()

    def _again(self) -> None:
        """The rows stand in another order: the widget goes with its row."""
        if self.key is not None:
            self.expand(self.key)

    def _place(self) -> None:
        if self._row < 0:
            return
        wide = self._listing.viewport().width()
        high = self.shown.heightForWidth(wide) if self.shown.hasHeightForWidth() else -1
        high = max(high, self.shown.minimumSizeHint().height())
        if self._listing.rowHeight(self._row) != self._high + high:
            self._listing.setRowHeight(self._row, self._high + high)
        top = self._listing.rowViewportPosition(self._row) + self._high
        self.shown.setGeometry(QRect(0, top, wide, high))

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.Resize:
            self._place()
        escaped = isinstance(event, QKeyEvent) and event.key() == Qt.Key.Key_Escape
        if escaped and event.type() is QEvent.Type.KeyPress and self.key is not None:
            self.fold()
            return True
        return super().eventFilter(watched, event)
