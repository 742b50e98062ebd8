"""Draws the bars of the coming work."""

from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF

from estate.window import words
from estate.window.models.workload_rows import Bar
from estate.window.shades import Shades, Tone
from estate.window.translating import tr

_EDGE = 4.0
_APART = 0.8
_CENTRED = Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter


@dataclass(frozen=True, slots=True)
class Ground:
    """Where everything lies.

    Attributes:
        box: the whole.
        line: height of a line of text, pixels.
        bars: how many; the first, of what is overdue, stands apart and is wider.
    """

    box: QRectF
    line: float
    bars: int

    @property
    def foot(self) -> float:
        """Where the bars stand."""
        return self.box.bottom() - 2.4 * self.line - _EDGE

    @property
    def room(self) -> float:
        """How high a bar can be."""
        return self.foot - self.box.top() - 1.6 * self.line - _EDGE

    @property
    def first_wide(self) -> float:
        """Width of the first column: its name has to fit."""
        return 5.0 * self.line

    @property
    def wide(self) -> float:
        """Width of a week's column."""
        return (self.box.width() - 2 * _EDGE - self.first_wide - _APART * self.line) / max(1, self.bars - 1)

    def column(self, number: int) -> QRectF:
        """The column of a bar from top to foot and its name."""
        top, high = self.box.top() + _EDGE, self.box.height() - 2 * _EDGE
        if number == 0:
            return QRectF(self.box.left() + _EDGE, top, self.first_wide, high)
        begins = self.box.left() + _EDGE + self.first_wide + _APART * self.line
        return QRectF(begins + (number - 1) * self.wide, top, self.wide, high)


def draw(painter: QPainter, ground: Ground, bars: Sequence[Bar], shades: Shades, shown: int) -> None:
    """Draw bars, their counts and their days; the bar `shown` stands out, -1 for none."""
    most = max([1, *(each.count for each in bars[1:])])
    small = _fitting(painter.font(), bars, ground.wide)
    plain = painter.font()
    for each in bars:
        column = ground.column(each.number)
        if each.number == shown:
            painter.fillRect(column, QColor(shades.chosen))
        high, cut = _height(each, most, ground.room)
        thick = min(column.width() * 0.72, 2.6 * ground.line)
        bar = QRectF(column.center().x() - thick / 2, ground.foot - high, thick, high)
        _bar(painter, bar, each, shades, cut)
        painter.setFont(plain if each.overdue else small)
        over = QRectF(column.left(), bar.top() - 1.3 * ground.line, column.width(), 1.3 * ground.line)
        _write(painter, over, f"{each.count:,}" if each.count or each.overdue else "", shades.text, _CENTRED)
        painter.setFont(plain)
    _names(painter, ground, bars, shades)
    begins = ground.column(1).left() if len(bars) > 1 else ground.box.right()
    for left, right in ((ground.column(0).left(), ground.column(0).right()), (begins, ground.box.right())):
        painter.fillRect(QRectF(left, ground.foot, right - left - 1, 1.2), QColor(shades.edge))


def _height(bar: Bar, most: int, room: float) -> tuple[float, bool]:
    """How high a bar is, and whether it is cut short: what is overdue must not flatten the weeks."""
    high = room * bar.count / most
    return (room, True) if high > room else (max(high, 2.0 if bar.count else 0.0), False)


def _bar(painter: QPainter, bar: QRectF, each: Bar, shades: Shades, cut: bool) -> None:
    if bar.height() <= 0:
        return
    ink = shades.tone(Tone.LATE) if each.overdue else QColor(shades.accent)
    painter.setPen(QPen(ink, 1.4))
    painter.setBrush(QBrush(ink, Qt.BrushStyle.BDiagPattern if each.overdue else Qt.BrushStyle.SolidPattern))
    painter.drawRect(bar)
    if cut:
        _break(painter, bar, QColor(shades.base))


def _break(painter: QPainter, bar: QRectF, ground: QColor) -> None:
    """Two gaps across a bar that is cut short."""
    painter.setPen(QPen(ground, 3.0))
    for part in (0.16, 0.24):
        y = bar.top() + bar.height() * part
        painter.drawLine(QPointF(bar.left() - 3, y + 4), QPointF(bar.right() + 3, y - 4))


def _names(painter: QPainter, ground: Ground, bars: Sequence[Bar], shades: Shades) -> None:
    """Under the bars: overdue, the mark of this week, and each month where its first week begins."""
    under = QRectF(ground.column(0).left(), ground.foot + 3, ground.first_wide, ground.line)
    _write(painter, under, tr("overdue"), shades.text, _CENTRED)
    for each in bars[1:]:
        if each.this_week:
            middle = ground.column(each.number).center().x()
            _this_week(painter, QPointF(middle, ground.foot + 4), shades, ground.line)
            beside = QRectF(middle + ground.line * 0.6, ground.foot + 3, 20 * ground.line, ground.line)
            _write(painter, beside, tr("this week"), shades.text, _LEFT)
    begins = _months(bars)
    ends = [ground.column(number).left() for number, _ in begins[1:]] + [ground.box.right()]
    metrics = QFontMetricsF(painter.font())
    for (number, named), end in zip(begins, ends, strict=True):
        left = ground.column(number).left()
        row = QRectF(left + 3, ground.foot + 3 + ground.line * 1.1, end - left - 3, ground.line)
        painter.fillRect(QRectF(left, row.top(), 1, ground.line), QColor(shades.edge))
        told = next((each for each in named if metrics.horizontalAdvance(each) <= row.width()), "")
        _write(painter, row, told, shades.muted, _LEFT)


def _months(bars: Sequence[Bar]) -> list[tuple[int, tuple[str, ...]]]:
    """The first bar of each month with the month's names, the one wanted most first."""
    found: list[tuple[int, tuple[str, ...]]] = []
    before = ""
    for each in bars[1:]:
        named = words.month(each.from_on) if each.from_on is not None else before
        if named != before:
            short = named.split()[0]
            told = (named, short) if not before or short == "Jan" else (short,)
            found.append((each.number, told))
        before = named
    return found


def _this_week(painter: QPainter, tip: QPointF, shades: Shades, line: float) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(shades.text))
    half = line * 0.3
    painter.drawPolygon(QPolygonF([tip, tip + QPointF(-half, 2 * half), tip + QPointF(half, 2 * half)]))


def _write(painter: QPainter, room: QRectF, said: str, ink: str, how: Qt.AlignmentFlag) -> None:
    painter.setPen(QColor(ink))
    painter.drawText(room, how, said)


def _fitting(font: QFont, bars: Sequence[Bar], wide: float) -> QFont:
    """The font, smaller where the widest count of a week would not fit over its bar."""
    made = QFont(font)
    widest = max((QFontMetricsF(made).horizontalAdvance(f"{each.count:,}") for each in bars[1:]), default=0.0)
    if widest > wide - 2:
        made.setPointSizeF(max(6.0, made.pointSizeF() * (wide - 2) / widest))
    return made
