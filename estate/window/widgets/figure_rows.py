"""Figures as sentences: a mark with its word, the number that opens its list, and what it says."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QAccessible, QFont, QFontMetrics, QPainter, QPaintEvent
from PySide6.QtWidgets import QGridLayout, QPushButton, QSizePolicy, QWidget
from typing_extensions import override

from estate.domain.today import Figure, ListAsked, Weight
from estate.window import marks, words
from estate.window.marks import Mark
from estate.window.schemes import shades_of
from estate.window.spoken import speaks_as
from estate.window.translating import tr
from estate.window.widgets.text import empty, label

OF_WEIGHT: dict[Weight, Mark] = {
    Weight.HARM: Mark.BARRED,
    Weight.WITHDRAWN: Mark.DASH,
    Weight.MEND: Mark.WEDGE,
    Weight.LATE: Mark.LOZENGE,
    Weight.SETTLE: Mark.TARGET,
    Weight.UNKNOWN: Mark.HALF,
    Weight.COMING: Mark.OPEN_WEDGE,
}
_TOP = Qt.AlignmentFlag.AlignTop


class Sign(QWidget):
    """A mark and its word in the mark's tone, on the plain ground."""

    def __init__(self, mark: Mark, said: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.mark, self.said = mark, said
        speaks_as(self, QAccessible.Role.StaticText)
        self.setAccessibleName(said)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)

    @override
    def sizeHint(self) -> QSize:
        metrics = QFontMetrics(self.font())
        return QSize(metrics.horizontalAdvance(self.said) + round(metrics.height() * 1.5), self._high())

    def _high(self) -> int:
        return QFontMetrics(self.font()).height() + 6

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        shades, tone = shades_of(self.palette()), marks.TONES[self.mark]
        height = QFontMetrics(self.font()).height()
        side = height * 0.8
        painter = QPainter(self)
        box = QRectF(1, (self.height() - side) / 2, side, side)
        marks.paint(painter, box, self.mark, shades.tone(tone), shades.outline)
        painter.setPen(shades.tone(tone))
        room = self.rect().toRectF().adjusted(height * 1.3, 0, 0, 0)
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, self.said)
        painter.end()


class ListLink(QPushButton):
    """A number with its noun that opens the list behind it.

    Attributes:
        asked: the `ListAsked`.
    """

    asked = Signal(object)

    def __init__(self, said: str, sentence: str, asks: ListAsked, parent: QWidget | None = None) -> None:
        super().__init__(said, parent)
        self.asks = asks
        self.setProperty("kind", "figure")
        self.setAutoDefault(False)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(sentence)
        self.setAccessibleDescription(tr("Opens the list"))
        self.setToolTip(tr("Show the list: {asks}", asks=words.sentence(tr(asks.words))))
        self.clicked.connect(lambda checked=False: self.asked.emit(self.asks))


class FigureRows(QWidget):
    """Shows the figures of one part of the page.

    Attributes:
        asked: the `ListAsked` behind a number.
    """

    asked = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.links: dict[str, ListLink] = {}
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(8)
        self._grid.setVerticalSpacing(5)
        self._grid.setColumnStretch(2, 1)

    def tell(self, figures: Sequence[Figure], all_well: str) -> None:
        """Show figures; those that count nothing stand together below.

        Args:
            figures: in their order.
            all_well: said where nothing is counted: what that means, and what it does not.
        """
        empty(self._grid)
        self.links = {}
        shown = [each for each in figures if each.count]
        self._grid.setColumnMinimumWidth(0, self._widest([tr(each.value) for each in Weight]))
        self._grid.setColumnMinimumWidth(1, self._link_room())
        for row, each in enumerate(shown):
            self._row(row, each)
        if not shown:
            unknown = any(each.unknown for each in figures)
            mark = Mark.HALF if unknown else Mark.TICK
            said = label(all_well, wraps=True)
            self._grid.addWidget(
                Sign(mark, tr(Weight.UNKNOWN.value) if unknown else tr("nothing")), 0, 0, _TOP
            )
            self._grid.addWidget(said, 0, 1, 1, 2)
        nothing = [tr(each.nothing) for each in figures if not each.count and each.nothing]
        if nothing:
            below = label(f"{words.sentence('; '.join(nothing))}.", "muted", wraps=True)
            self._grid.addWidget(below, len(shown) + 1, 0, 1, 3)

    def _row(self, row: int, figure: Figure) -> None:
        link = ListLink(tr(figure.counted), tr(figure.sentence), figure.asks)
        link.asked.connect(self.asked)
        self.links[figure.asks.behind] = link
        said = label(words.together(tr(figure.words), tr(figure.more)), wraps=True)
        said.setContentsMargins(0, 3, 0, 0)
        self._grid.addWidget(Sign(OF_WEIGHT[figure.weight], tr(figure.weight.value)), row, 0, _TOP)
        self._grid.addWidget(link, row, 1, _TOP | Qt.AlignmentFlag.AlignRight)
        self._grid.addWidget(said, row, 2, _TOP)

    def _widest(self, said: Sequence[str]) -> int:
        metrics = QFontMetrics(self.font())
        return max(metrics.horizontalAdvance(each) for each in said) + round(metrics.height() * 1.5)

    def _link_room(self) -> int:
        """Room for a number with its noun, alike in every part so that the numbers line up."""
        bold = QFont(self.font())
        bold.setWeight(QFont.Weight.DemiBold)
        return QFontMetrics(bold).horizontalAdvance("20,000 valves") + 8
