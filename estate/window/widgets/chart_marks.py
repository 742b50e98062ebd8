"""The marks of the chart, each told from the others by its shape, and the legend that names them."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF

from estate.window import words
from estate.window.models.drift_course import Course
from estate.window.shades import Shades, Tone, blend

_FOUND, _LEFT = 3.6, 7.5


class Marks:
    """Draws marks around a place.

    Args:
        painter: where to.
        shades: in which colours.
    """

    def __init__(self, painter: QPainter, shades: Shades) -> None:
        self._painter, self._shades = painter, shades

    def pen(
        self, colour: str | QColor, width: float = 1.0, style: Qt.PenStyle = Qt.PenStyle.SolidLine
    ) -> None:
        """Draw outlines in a colour and fill nothing."""
        self._painter.setPen(QPen(QColor(colour), width, style))
        self._painter.setBrush(Qt.BrushStyle.NoBrush)

    def filled(self, colour: str | QColor) -> None:
        """Fill shapes with a colour, each set off from what lies under it."""
        self._painter.setPen(QPen(QColor(self._shades.base), 1.0))
        self._painter.setBrush(QColor(colour))

    def found_mark(self, at: QPointF) -> None:
        """A disc: as found."""
        self.filled(self._shades.text)
        self._painter.drawEllipse(at, _FOUND, _FOUND)

    def left_mark(self, at: QPointF) -> None:
        """A lozenge: as left."""
        self.filled(self._shades.accent)
        self._painter.drawPolygon(_lozenge(at))

    def void_mark(self, at: QPointF) -> None:
        """A hollow disc, crossed: found, but void or corrected."""
        self.pen(self._shades.muted, 1.4)
        self._painter.drawEllipse(at, _FOUND, _FOUND)
        self._cross(at)

    def void_left_mark(self, at: QPointF) -> None:
        """A hollow lozenge, crossed: left, but void or corrected."""
        self.pen(self._shades.muted, 1.4)
        self._painter.drawPolygon(_lozenge(at))
        self._cross(at)

    def _cross(self, at: QPointF) -> None:
        for slope in (1, -1):
            arm = QPointF(_LEFT, slope * _LEFT)
            self._painter.drawLine(at - arm, at + arm)

    def reset_mark(self, at: QPointF) -> None:
        """A wedge: re-adjusted."""
        self.filled(self._shades.text)
        points = [at + QPointF(0, -6), at + QPointF(5.5, 5), at + QPointF(-5.5, 5)]
        self._painter.drawPolygon(QPolygonF(points))

    def body_mark(self, at: QPointF) -> None:
        """A square frame: another body."""
        self.pen(self._shades.text, 1.8)
        self._painter.drawRect(QRectF(at.x() - 4.5, at.y() - 4.5, 9, 9))

    def fan_mark(self, at: QPointF) -> None:
        """The line and bands of what is to be expected."""
        watch, base = self._shades.tone(Tone.WATCH), QColor(self._shades.base)
        self._painter.fillRect(QRectF(at.x() - 11, at.y() - 7, 24, 14), blend(watch, base, 0.20))
        self._painter.fillRect(QRectF(at.x() - 11, at.y() - 3.5, 24, 7), blend(watch, base, 0.42))
        self.pen(watch, 2.0)
        self._painter.drawLine(at - QPointF(11, 0), at + QPointF(13, 0))

    def set_mark(self, at: QPointF) -> None:
        """The line of the set temperature."""
        self.set_pen()
        self._painter.drawLine(at - QPointF(11, 0), at + QPointF(13, 0))

    def today_mark(self, at: QPointF) -> None:
        """The line of today."""
        self.pen(self._shades.muted, 1.0, Qt.PenStyle.DotLine)
        self._painter.drawLine(at - QPointF(0, 8), at + QPointF(0, 8))

    def set_pen(self) -> None:
        """Draw lines as that of the set temperature."""
        self.pen(self._shades.tone(Tone.GOOD), 1.6, Qt.PenStyle.DashDotLine)


def _lozenge(at: QPointF) -> QPolygonF:
    arms = (QPointF(0, -_LEFT), QPointF(_LEFT, 0), QPointF(0, _LEFT), QPointF(-_LEFT, 0))
    return QPolygonF([at + arm for arm in arms])


@dataclass(frozen=True)
class Item:
    """One entry of the legend."""

    words: str
    draw: Callable[[Marks, QPointF], None]


def _legend(course: Course) -> Iterator[Item]:
    yield Item("as found, °C", Marks.found_mark)
    yield Item("as left, °C", Marks.left_mark)
    if any(stop.reset and stop.counts for stop in course.stops):
        yield Item("re-adjusted", Marks.reset_mark)
    if course.bodies:
        yield Item("new body", Marks.body_mark)
    if any(not stop.counts for stop in course.stops):
        yield Item("void or corrected", Marks.void_mark)
    if course.fan:
        yield Item("expected: mean, 50 %, 95 %", Marks.fan_mark)
    if course.set_c is not None:
        yield Item(f"set at most {words.celsius(course.set_c)}", Marks.set_mark)
    yield Item("today", Marks.today_mark)


def laid_legend(box: QRectF, course: Course, font: QFont) -> list[tuple[Item, QPointF]]:
    """The legend above the plot, in as many rows as its width asks for."""
    metrics = QFontMetricsF(font)
    row, x, y = metrics.height() * 1.35, box.left() + 20.0, box.top() + metrics.height() * 0.75
    laid: list[tuple[Item, QPointF]] = []
    for item in _legend(course):
        wide = metrics.horizontalAdvance(item.words) + 44
        if laid and x + wide > box.right():
            x, y = box.left() + 20.0, y + row
        laid.append((item, QPointF(x, y)))
        x += wide
    return laid
