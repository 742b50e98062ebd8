"""Pages of paper one below the other, as large as wanted; only what is in sight is drawn."""

from typing import Final

from PySide6.QtCore import QPointF, QRect, QRectF, QSizeF, Qt, Signal
from PySide6.QtGui import (
    QColor,
    QGuiApplication,
    QImage,
    QKeyEvent,
    QPainter,
    QPaintEvent,
    QPen,
    QResizeEvent,
)
from PySide6.QtWidgets import QAbstractScrollArea, QWidget
from typing_extensions import override

from estate.window.models.paper import POINTS_AN_INCH, Paper, Sheet
from estate.window.schemes import shades_of
from estate.window.translating import tr

_GAP: Final = 14
_INCH: Final = 96.0
"""Logical pixels of an inch at full size."""

_KEPT: Final = 6
"""Pages kept drawn: what is in sight and what is next to it."""

_LEAST, _MOST = 0.25, 3.0


class PaperView(QAbstractScrollArea):
    """Shows a report page by page.

    Attributes:
        turned: the number of the page in sight, from 1.
        fits: whether pages are as wide as there is room.
    """

    turned = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.paper: Paper | None = None
        self.fits = True
        self._scale = 1.0
        self._drawn: dict[tuple[int, float], QImage] = {}
        self._number = 1
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setAccessibleName(tr("The report as it comes on paper"))
        self.verticalScrollBar().valueChanged.connect(self._on_scrolled)
        self.verticalScrollBar().setSingleStep(40)

    def tell(self, paper: Paper | None) -> None:
        """Show another report, or none."""
        self.paper = paper
        self._drawn.clear()
        self._number = 0
        self._lay()
        self.verticalScrollBar().setValue(0)
        self._on_scrolled()

    @property
    def scale(self) -> float:
        """How large pages are; 1 is as on paper."""
        sheets = self._sheets()
        if not self.fits or not sheets:
            return self._scale
        widest = max(each.wide_pt for each in sheets) / POINTS_AN_INCH * _INCH
        return max(_LEAST, min(_MOST, (self.viewport().width() - 2 * _GAP) / widest))

    def show_at(self, scale: float | None) -> None:
        """Show pages at a scale (1 is as on paper); None fits them to the width."""
        kept = self._number
        self.fits = scale is None
        self._scale = self._scale if scale is None else max(_LEAST, min(_MOST, scale))
        self._drawn.clear()
        self._lay()
        self.go_to(kept)
        self.viewport().update()

    def go_to(self, number: int) -> None:
        """Bring the top of a page, from 1, into sight."""
        if 1 <= number <= len(self._sheets()):
            self.verticalScrollBar().setValue(self._tops()[number - 1] - _GAP)

    def copy_words(self) -> None:
        """Copy the words of the page in sight."""
        if self.paper is not None and self._number:
            QGuiApplication.clipboard().setText(self.paper.words(self._number - 1))

    def _sheets(self) -> tuple[Sheet, ...]:
        return () if self.paper is None else self.paper.sheets

    def _high(self, sheet: Sheet) -> int:
        return round(sheet.high_pt / POINTS_AN_INCH * _INCH * self.scale)

    def _wide(self, sheet: Sheet) -> int:
        return round(sheet.wide_pt / POINTS_AN_INCH * _INCH * self.scale)

    def _tops(self) -> list[int]:
        tops, top = [], _GAP
        for each in self._sheets():
            tops.append(top)
            top += self._high(each) + _GAP
        return tops

    def _lay(self) -> None:
        sheets = self._sheets()
        high = sum(self._high(each) + _GAP for each in sheets) + _GAP
        wide = max((self._wide(each) for each in sheets), default=0) + 2 * _GAP
        room = self.viewport().size()
        self.verticalScrollBar().setPageStep(room.height())
        self.verticalScrollBar().setRange(0, max(0, high - room.height()))
        self.horizontalScrollBar().setPageStep(room.width())
        self.horizontalScrollBar().setRange(0, max(0, wide - room.width()))

    def _place(self, sheet: Sheet, top: int) -> QRect:
        """Where a page lies in the viewport."""
        wide = self._wide(sheet)
        left = max(_GAP, (self.viewport().width() - wide) // 2) - self.horizontalScrollBar().value()
        return QRect(left, top - self.verticalScrollBar().value(), wide, self._high(sheet))

    def _picture(self, sheet: Sheet) -> QImage:
        ratio = self.devicePixelRatioF()
        key = (sheet.number, self.scale * ratio)
        if key not in self._drawn and self.paper is not None:
            if len(self._drawn) >= _KEPT:
                del self._drawn[next(iter(self._drawn))]
            self._drawn[key] = self.paper.drawn(sheet.number, _INCH * key[1])
        return self._drawn[key]

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        shades = shades_of(self.palette())
        painter = QPainter(self.viewport())
        painter.fillRect(self.viewport().rect(), QColor(shades.line))
        for sheet, top in zip(self._sheets(), self._tops(), strict=True):
            place = self._place(sheet, top)
            if place.intersects(self.viewport().rect()):
                picture = self._picture(sheet)
                drawn = QSizeF(picture.size()) / self.devicePixelRatioF()  # as drawn: scaling drops lines
                painter.drawImage(QRectF(QPointF(place.topLeft()), drawn), picture)
                painter.setPen(QPen(QColor(shades.edge)))
                painter.drawRect(place)
        if self.hasFocus():
            painter.setPen(QPen(QColor(shades.accent), 2))
            painter.drawRect(self.viewport().rect().adjusted(1, 1, -1, -1))
        painter.end()

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        kept = self._number
        self._lay()
        if self.fits:
            self.go_to(kept)

    @override
    def scrollContentsBy(self, dx: int, dy: int) -> None:
        self.viewport().update()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        bar = self.verticalScrollBar()
        moves = {
            Qt.Key.Key_Home: lambda: bar.setValue(0),
            Qt.Key.Key_End: lambda: bar.setValue(bar.maximum()),
            Qt.Key.Key_PageDown: lambda: self.go_to(self._number + 1),
            Qt.Key.Key_PageUp: lambda: self.go_to(self._number - 1),
            Qt.Key.Key_C: self.copy_words,
        }
        key = Qt.Key(event.key())
        held = event.modifiers() & Qt.KeyboardModifier.ControlModifier
        if key in moves and (key is not Qt.Key.Key_C or held):
            moves[key]()
        else:
            super().keyPressEvent(event)

    def _on_scrolled(self) -> None:
        """The page in sight is the one that holds a place a third down the view."""
        middle = self.verticalScrollBar().value() + self.viewport().height() // 3
        passed = sum(top <= middle for top in self._tops())
        number = max(1, passed) if self._sheets() else 0
        if number != self._number:
            self._number = number
            self.turned.emit(number)
            said = tr("Page {number:,} of {pages:,}", number=number, pages=len(self._sheets()))
            self.setAccessibleDescription(said)
