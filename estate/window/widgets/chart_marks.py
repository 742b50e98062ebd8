"""The marks of the chart, each told from the others by its shape, and the legend that names them."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen, QPolygonF

from estate.window import words
from estate.window.models.drift_course import Course
from estate.window.shades import Shades, Tone, blend
from estate.window.translating import tr

_FOUND, _LEFT = 3.6, 7.5
_NATURAL_PIXELS = 12
_LEVEL_STRENGTH = 0.7


def growth_of(font: QFont) -> float:
    """How many times larger than usual marks are beside words in a font with its size in pixels."""
    return max(1.0, font.pixelSize() / _NATURAL_PIXELS)


def level_ink(shades: Shades) -> QColor:
    """The line between readings: fainter than they are, and still plain (WCAG 2.2, 1.4.11)."""
    return blend(QColor(shades.muted), QColor(shades.base), 1.0 if shades.stark else _LEVEL_STRENGTH)


class Marks:
    """Draws marks around a place.

    Args:
        painter: where to.
        shades: in which colours.
        growth: how many times larger than usual.
    """

    def __init__(self, painter: QPainter, shades: Shades, growth: float = 1.0) -> None:
        self._painter, self._shades, self._growth = painter, shades, growth

    def pen(
        self, colour: str | QColor, width: float = 1.0, style: Qt.PenStyle = Qt.PenStyle.SolidLine
    ) -> None:
        """Draw outlines in a colour and fill nothing."""
        self._painter.setPen(QPen(QColor(colour), width * self._growth, style))
        self._painter.setBrush(Qt.BrushStyle.NoBrush)

    def filled(self, colour: str | QColor) -> None:
        """Fill shapes with a colour, each set off from what lies under it."""
        self._painter.setPen(QPen(QColor(self._shades.base), 1.0))
        self._painter.setBrush(QColor(colour))

    def found_mark(self, at: QPointF) -> None:
        """A disc: as found."""
        self.filled(self._shades.text)
        self._disc(at)

    def left_mark(self, at: QPointF) -> None:
        """A lozenge: as left."""
        self.filled(self._shades.accent)
        self._painter.drawPolygon(_lozenge(at, _LEFT * self._growth))

    def void_mark(self, at: QPointF) -> None:
        """A hollow disc, crossed: found, but void or corrected."""
        self.pen(self._shades.muted, 1.4)
        self._disc(at)
        self._cross(at)

    def void_left_mark(self, at: QPointF) -> None:
        """A hollow lozenge, crossed: left, but void or corrected."""
        self.pen(self._shades.muted, 1.4)
        self._painter.drawPolygon(_lozenge(at, _LEFT * self._growth))
        self._cross(at)

    def _disc(self, at: QPointF) -> None:
        self._painter.drawEllipse(at, _FOUND * self._growth, _FOUND * self._growth)

    def _cross(self, at: QPointF) -> None:
        for slope in (1, -1):
            arm = QPointF(_LEFT, slope * _LEFT) * self._growth
            self._painter.drawLine(at - arm, at + arm)

    def reset_mark(self, at: QPointF) -> None:
        """A wedge: re-adjusted."""
        self.filled(self._shades.text)
        arms = (QPointF(0, -6), QPointF(5.5, 5), QPointF(-5.5, 5))
        points = [at + arm * self._growth for arm in arms]
        self._painter.drawPolygon(QPolygonF(points))

    def body_mark(self, at: QPointF) -> None:
        """A square frame: another body."""
        self.pen(self._shades.text, 1.8)
        side = QPointF(4.5, 4.5) * self._growth
        self._painter.drawRect(QRectF(at - side, at + side))

    def fan_mark(self, at: QPointF) -> None:
        """The line and bands of what is to be expected."""
        watch, base = self._shades.tone(Tone.WATCH), QColor(self._shades.base)
        for half, strength in ((7.0, 0.20), (3.5, 0.42)):
            corner = QPointF(12, half) * self._growth
            self._painter.fillRect(QRectF(at - corner, at + corner), blend(watch, base, strength))
        self.pen(watch, 2.0)
        self._across(at)

    def set_mark(self, at: QPointF) -> None:
        """The line of the set temperature."""
        self.set_pen()
        self._across(at)

    def today_mark(self, at: QPointF) -> None:
        """The line of today."""
        self.pen(self._shades.muted, 1.0, Qt.PenStyle.DotLine)
        half = QPointF(0, 8) * self._growth
        self._painter.drawLine(at - half, at + half)

    def _across(self, at: QPointF) -> None:
        half = QPointF(12, 0) * self._growth
        self._painter.drawLine(at - half, at + half)

    def set_pen(self) -> None:
        """Draw lines as that of the set temperature."""
        self.pen(self._shades.tone(Tone.GOOD), 1.6, Qt.PenStyle.DashDotLine)


def _lozenge(at: QPointF, arm: float) -> QPolygonF:
    arms = (QPointF(0, -arm), QPointF(arm, 0), QPointF(0, arm), QPointF(-arm, 0))
    return QPolygonF([at + arm for arm in arms])


@dataclass(frozen=True)
class Item:
    """One entry of the legend."""

    words: str
    draw: Callable[[Marks, QPointF], None]


def _legend(course: Course) -> Iterator[Item]:
    yield Item(tr("as found, °C"), Marks.found_mark)
    yield Item(tr("as left, °C"), Marks.left_mark)
    if any(stop.reset and stop.counts for stop in course.stops):
        yield Item(tr("re-adjusted"), Marks.reset_mark)
    if course.bodies:
        yield Item(tr("new body"), Marks.body_mark)
    if any(not stop.counts for stop in course.stops):
        yield Item(tr("void or corrected"), Marks.void_mark)
    if course.fan:
        yield Item(tr("expected: mean, 50 %, 95 %"), Marks.fan_mark)
    if course.set_c is not None:
        yield Item(tr("set at most {set_c}", set_c=words.celsius(course.set_c)), Marks.set_mark)
    yield Item(tr("today"), Marks.today_mark)


def laid_legend(box: QRectF, course: Course, font: QFont) -> list[tuple[Item, QPointF]]:
    """The legend above the plot, in as many rows as its width asks for."""
    metrics = QFontMetricsF(font)
    growth = growth_of(font)
    first = box.left() + 20.0 * growth
    row, x, y = metrics.height() * 1.35, first, box.top() + metrics.height() * 0.75
    laid: list[tuple[Item, QPointF]] = []
    for item in _legend(course):
        wide = metrics.horizontalAdvance(item.words) + 44 * growth
        if laid and x + wide > box.right():
            x, y = first, y + row
        laid.append((item, QPointF(x, y)))
        x += wide
    return laid
