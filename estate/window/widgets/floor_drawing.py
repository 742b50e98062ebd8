"""Draws a bar for each level: its outlets by state, each state by its mark, its number and its tone."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPen

from estate.domain.standing import OutletState
from estate.window import marks
from estate.window.marks import OF_STATE
from estate.window.models.floor_rows import Floor
from estate.window.shades import Shades
from estate.window.translating import tr

_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_GAP = 8.0


@dataclass(frozen=True, slots=True)
class Storeys:
    """Where everything lies.

    Attributes:
        wide: of the whole, pixels.
        line: height of a line of text, pixels.
        named: width of the names, pixels.
        told: width of the counts after the bars, pixels.
        most: outlets of the longest bar.
    """

    wide: float
    line: float
    named: float
    told: float
    most: int

    @property
    def high(self) -> float:
        """Height of a row."""
        return round(self.line * 1.75)

    def row(self, number: int) -> QRectF:
        """The row of a level."""
        return QRectF(0, number * self.high, self.wide, self.high)

    def bar(self, floor: Floor) -> QRectF:
        """The whole bar of a level."""
        row = self.row(floor.number)
        room = max(40.0, self.wide - self.named - self.told - 5 * _GAP)
        left, wide = self.named + 2 * _GAP, room * floor.total / max(1, self.most)
        return QRectF(left, row.top() + self.line * 0.2, wide, row.height() - self.line * 0.4)

    def parts(self, floor: Floor) -> Iterator[tuple[OutletState, int, QRectF]]:
        """The part of each state in a bar."""
        bar = self.bar(floor)
        left = bar.left()
        for state, count in floor.counts.items():
            wide = bar.width() * count / max(1, floor.total)
            yield state, count, QRectF(left, bar.top(), wide, bar.height())
            left += wide


def storeys(floors: Sequence[Floor], metrics: QFontMetricsF, wide: float) -> Storeys:
    """Lay the bars out; names take at most a third of the width."""
    named = max((metrics.horizontalAdvance(each.label) for each in floors), default=0.0)
    told = max((metrics.horizontalAdvance(told_words(each)) for each in floors), default=0.0)
    most = max((each.total for each in floors), default=0)
    return Storeys(wide, metrics.height(), min(named, wide / 3), told, most)


def told_words(floor: Floor) -> str:
    """What stands after a bar."""
    if not floor.node.attention:
        return f"{floor.total:,}"
    return tr("{total:,}, {acting:,} to act on", total=floor.total, acting=floor.node.attention)


def draw_floors(
    painter: QPainter, laid: Storeys, floors: Sequence[Floor], shades: Shades, shown: int, focused: bool
) -> None:
    """Draw every bar; the row `shown` stands out, -1 for none."""
    metrics = QFontMetricsF(painter.font())
    for each in floors:
        row = laid.row(each.number)
        if each.number == shown:
            painter.fillRect(row, QColor(shades.chosen))
            if focused:
                painter.setPen(QPen(QColor(shades.accent), 2))
                painter.setBrush(Qt.BrushStyle.NoBrush)
                painter.drawRect(row.adjusted(1, 1, -1, -1))
        painter.setPen(QColor(shades.on_chosen if each.number == shown else shades.text))
        name = metrics.elidedText(each.label, Qt.TextElideMode.ElideMiddle, laid.named)
        painter.drawText(row.adjusted(_GAP, 0, 0, 0), _LEFT, name)
        for state, count, part in laid.parts(each):
            _part(painter, part, state, count, shades)
        painter.setPen(QColor(shades.on_chosen if each.number == shown else shades.text))
        painter.drawText(row.adjusted(laid.bar(each).right() + _GAP, 0, -2, 0), _LEFT, told_words(each))


def _part(painter: QPainter, part: QRectF, state: OutletState, count: int, shades: Shades) -> None:
    """One state: a pale ground, an edge, and as much of mark and number as there is room for."""
    mark = OF_STATE[state]
    tone = shades.tone(marks.TONES[mark])
    painter.fillRect(part, QColor(shades.base))
    painter.fillRect(part, shades.tint(marks.TONES[mark]))
    painter.setPen(QPen(tone, 1.2))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(part)
    side = part.height() * 0.55
    number = f"{count:,}"
    needed = QFontMetricsF(painter.font()).horizontalAdvance(number)
    both = side + 3 + needed
    left = part.center().x() - (both if both + 4 <= part.width() else side) / 2
    if side + 3 <= part.width():
        box = QRectF(left, part.center().y() - side / 2, side, side)
        marks.paint(painter, box, mark, tone)
    if both + 4 <= part.width():
        painter.setPen(tone)
        painter.drawText(QRectF(left + side + 3, part.top(), needed + 1, part.height()), _RIGHT, number)
