"""Draws the course of a valve's mixed temperature, for the screen, a picture or paper alike."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPolygonF

from estate.window import words
from estate.window.models import drift_words
from estate.window.models.chart_axes import Axes, range_of, ticks_c, ticks_days
from estate.window.models.drift_course import HALF_50, HALF_95, Course, Foreseen, Stop
from estate.window.shades import Shades, Tone, blend
from estate.window.translating import tr
from estate.window.widgets.chart_marks import Marks, growth_of, laid_legend, level_ink

_RAIL = 16.0
_TICK_WIDTH, _TICK_HEIGHT = 78.0, 27.0
_V, _H = Qt.AlignmentFlag.AlignVCenter, Qt.AlignmentFlag.AlignHCenter
_TO_LEFT, _TO_RIGHT = Qt.AlignmentFlag.AlignLeft | _V, Qt.AlignmentFlag.AlignRight | _V


@dataclass(frozen=True)
class Manner:
    """How a chart is drawn.

    Attributes:
        font: with its size in pixels, so that paper and screen are laid out alike.
        years: only the last so many; None for all.
        chosen: the entry that is marked; -1 for none.
        looked_at: a day of the fan that is marked.
    """

    shades: Shades
    font: QFont
    years: int | None = None
    chosen: int = -1
    looked_at: Foreseen | None = None


class Drawing:
    """One drawing of a course.

    Args:
        painter: where to.
        box: how large.
        course: what.
        manner: how.
    """

    def __init__(self, painter: QPainter, box: QRectF, course: Course, manner: Manner) -> None:
        self._painter, self._box, self._course, self._manner = painter, box, course, manner
        self._shades = manner.shades
        self._growth = growth_of(manner.font)
        self._marks = Marks(painter, manner.shades, self._growth)
        self._named = 0.0
        self._axes = axes_of(box, course, manner)
        self._plot = QRectF(
            QPointF(self._axes.left, self._axes.top), QPointF(self._axes.right, self._axes.bottom)
        )

    def draw(self) -> None:
        """Draw everything, what matters most last."""
        painter = self._painter
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setFont(self._manner.font)
        painter.fillRect(self._box, QColor(self._shades.base))
        for item, place in laid_legend(self._box, self._course, self._manner.font):
            item.draw(self._marks, place)
            self._marks.pen(self._shades.muted)
            self._say(place + QPointF(18, 0) * self._growth, item.words)
        self._grid()
        painter.setClipRect(self._plot)
        self._ceiling()
        self._fan()
        self._lines()
        painter.setClipping(False)
        self._rail()
        self._names()
        for number, stop in enumerate(self._course.stops):
            if self._axes.shown.first <= stop.on:
                self._stop(stop, number == self._manner.chosen)
        self._looked_at()
        self._beside()
        painter.restore()

    def _say(self, at: QPointF, text: str) -> None:
        """Words to the right of a place, centred on it upright."""
        high = self._metrics().height() * 1.6
        self._painter.drawText(QRectF(at.x(), at.y() - high / 2, 900 * self._growth, high), _TO_LEFT, text)

    def _grid(self) -> None:
        axes, plot, height = self._axes, self._plot, self._metrics().height()
        for value in ticks_c(axes.shown, max(2, int(plot.height() / (_TICK_HEIGHT * self._growth)))):
            y = axes.y(value)
            self._marks.pen(self._shades.line)
            self._painter.drawLine(QPointF(plot.left(), y), QPointF(plot.right(), y))
            self._marks.pen(self._shades.muted)
            room = QRectF(self._box.left(), y - height / 2, plot.left() - self._box.left() - 6, height)
            self._painter.drawText(room, _TO_RIGHT, f"{value:g}")
        foot, wide = plot.bottom() + _RAIL * self._growth, _TICK_WIDTH * self._growth
        for day, text in ticks_days(axes.shown, max(2, int(plot.width() / wide))):
            x = axes.x(day)
            self._marks.pen(self._shades.line)
            self._painter.drawLine(QPointF(x, plot.top()), QPointF(x, foot))
            self._marks.pen(self._shades.muted)
            if x + self._metrics().horizontalAdvance(text) / 2 < self._box.right():
                room = QRectF(x - wide / 2, foot, wide, height + 4)
                self._painter.drawText(room, _H | _V, text)
        self._marks.pen(self._shades.edge)
        self._painter.drawRect(plot)

    def _ceiling(self) -> None:
        course, plot = self._course, self._plot
        if course.ceiling_c is not None:
            y = self._axes.held_y(course.ceiling_c)
            danger = self._shades.tone(Tone.DANGER)
            band = QRectF(plot.topLeft(), QPointF(plot.right(), y))
            self._painter.fillRect(band, self._shades.tint(Tone.DANGER))
            self._marks.pen(danger, 1.6)
            self._painter.drawLine(band.bottomLeft(), band.bottomRight())
        if course.set_c is not None:
            y = self._axes.y(course.set_c)
            self._marks.set_pen()
            self._painter.drawLine(QPointF(plot.left(), y), QPointF(plot.right(), y))

    def _fan(self) -> None:
        fan, watch = self._course.fan, self._shades.tone(Tone.WATCH)
        if not fan:
            return
        base = QColor(self._shades.base)
        for half, strength in ((HALF_95, 0.20), (HALF_50, 0.42)):
            self._painter.setPen(Qt.PenStyle.NoPen)
            self._painter.setBrush(blend(watch, base, strength))
            self._painter.drawPolygon(QPolygonF([*self._edge(fan, -half), *reversed(self._edge(fan, half))]))
        past = [each for each in fan if each.on <= self._course.today]
        ahead = [each for each in fan if each.on >= (past[-1].on if past else fan[0].on)]
        self._marks.pen(watch, 1.0)
        for half in (-HALF_95, HALF_95):
            self._painter.drawPolyline(QPolygonF(self._edge(past, half)))
        self._marks.pen(watch, 2.2)
        self._painter.drawPolyline(QPolygonF(self._edge(past, 0.0)))
        self._marks.pen(watch, 2.2, Qt.PenStyle.DashLine)
        self._painter.drawPolyline(QPolygonF(self._edge(ahead, 0.0)))

    def _edge(self, fan: Sequence[Foreseen], half: float) -> list[QPointF]:
        axes = self._axes
        return [QPointF(axes.x(each.on), axes.y(each.mean_c + half * each.sd_k)) for each in fan]

    def _lines(self) -> None:
        """Levels that drift, and the days that divide time."""
        axes, plot = self._axes, self._plot
        self._marks.pen(level_ink(self._shades), 1.2)
        for one, other in self._course.levels:
            begin, end = _leaving(one), other.values[0]
            self._painter.drawLine(
                QPointF(axes.x(one.on), axes.mark_y(begin)), QPointF(axes.x(other.on), axes.mark_y(end))
            )
        self._marks.pen(self._shades.text, 1.2, Qt.PenStyle.DotLine)
        for stop in self._course.stops:
            if stop.counts and stop.reset and len(stop.values) > 1:
                x = axes.x(stop.on)
                ends = [QPointF(x, axes.mark_y(value)) for value in stop.values]
                self._painter.drawLine(ends[0], ends[1])
        for day, style in self._dividing():
            self._marks.pen(self._shades.muted, 1.0, style)
            self._painter.drawLine(QPointF(axes.x(day), plot.top()), QPointF(axes.x(day), plot.bottom()))

    def _dividing(self) -> Iterator[tuple[date, Qt.PenStyle]]:
        yield self._course.today, Qt.PenStyle.DotLine
        yield from ((day, Qt.PenStyle.DashLine) for day, _ in self._course.bodies)

    def _rail(self) -> None:
        """Re-adjustments and new bodies on the strip under the plot."""
        y = self._plot.bottom() + _RAIL * self._growth / 2
        for stop in self._course.stops:
            if stop.counts and stop.reset and stop.on >= self._axes.shown.first:
                self._marks.reset_mark(QPointF(self._axes.x(stop.on), y))
        for day, _ in self._course.bodies:
            if day >= self._axes.shown.first:
                self._marks.body_mark(QPointF(self._axes.x(day), y))

    def _stop(self, stop: Stop, chosen: bool) -> None:
        x = self._axes.x(stop.on)
        if stop.left_c is not None:
            self._value(x, stop.left_c, self._marks.left_mark if stop.counts else self._marks.void_left_mark)
        if stop.found_c is not None:
            self._value(x, stop.found_c, self._marks.found_mark if stop.counts else self._marks.void_mark)
        if chosen:
            for value in stop.values:
                self._marks.pen(self._shades.accent, 2.0)
                self._painter.drawEllipse(QPointF(x, self._axes.mark_y(value)), *(2 * [11 * self._growth]))

    def _value(self, x: float, celsius: float, mark: Callable[[QPointF], None]) -> None:
        at, edge = QPointF(x, self._axes.mark_y(celsius)), self._axes.held_y(celsius)
        mark(at)
        if edge != self._axes.y(celsius):
            inward = QPointF(0, 6 if edge == self._plot.top() else -6)
            self._marks.filled(self._shades.text)
            tip = QPointF(x, edge)
            points = [tip, tip + inward + QPointF(4.5, 0), tip + inward - QPointF(4.5, 0)]
            self._painter.drawPolygon(QPolygonF(points))

    def _looked_at(self) -> None:
        each = self._manner.looked_at
        if each is None:
            return
        x = self._axes.x(each.on)
        low, high = each.between(HALF_95)
        self._marks.pen(self._shades.accent, 2.0)
        self._painter.drawLine(QPointF(x, self._axes.held_y(low)), QPointF(x, self._axes.held_y(high)))
        self._painter.drawEllipse(QPointF(x, self._axes.held_y(each.mean_c)), 5, 5)

    def _names(self) -> None:
        """The ceiling by name, and that there is nothing to show."""
        course, plot = self._course, self._plot
        if course.ceiling_c is not None:
            self._marks.pen(self._shades.tone(Tone.DANGER))
            said = tr("Never above {ceiling_c}", ceiling_c=words.celsius(course.ceiling_c))
            self._named = self._metrics().horizontalAdvance(said) + 20
            self._over(plot.topLeft() + QPointF(6, 3), said, 0.0)
        if not course.stops:
            self._marks.pen(self._shades.text)
            self._painter.drawText(plot, _H | _V, tr("No mixed temperature is on record."))

    def _beside(self) -> None:
        """The chance to reach the ceiling, beside the end of the fan."""
        course = self._course
        text = drift_words.of_chance(course)
        if course.fan and course.ceiling_c is None:
            text = tr("No ceiling is given, so no chance is told")
        font = QFont(self._manner.font)
        font.setWeight(QFont.Weight.DemiBold)
        self._painter.setFont(font)
        self._marks.pen(self._shades.text)
        wide = QFontMetricsF(font).horizontalAdvance(text)
        if text:
            beside = self._named + wide <= self._plot.width()
            foot = self._plot.bottom() - QFontMetricsF(font).height() - 3
            at = QPointF(self._plot.right() - wide - 7, self._plot.top() + 3 if beside else foot)
            self._over(at, text)

    def _over(self, at: QPointF, text: str, strength: float = 0.8) -> None:
        """Words on a ground of their own, so that lines do not run through them."""
        metrics = QFontMetricsF(self._painter.font())
        room = QRectF(at.x() - 3, at.y(), metrics.horizontalAdvance(text) + 6, metrics.height())
        ground = QColor(self._shades.base)
        ground.setAlphaF(strength)
        self._painter.fillRect(room, ground)
        self._painter.drawText(room.adjusted(3, 0, 0, 0), _TO_LEFT, text)

    def _metrics(self) -> QFontMetricsF:
        return QFontMetricsF(self._manner.font)


def _leaving(stop: Stop) -> float:
    return stop.values[-1]


def axes_of(box: QRectF, course: Course, manner: Manner) -> Axes:
    """Where the plot lies in a box, and what it shows."""
    metrics = QFontMetricsF(manner.font)
    rows = max(place.y() for _, place in laid_legend(box, course, manner.font)) - box.top()
    left = box.left() + metrics.horizontalAdvance("00.0") + 14
    top = box.top() + rows + metrics.height() * 0.5 + 8
    bottom = box.bottom() - metrics.height() - 6 - _RAIL * growth_of(manner.font)
    return Axes(range_of(course, manner.years), left, top, box.right() - 12, max(bottom, top + 20))
