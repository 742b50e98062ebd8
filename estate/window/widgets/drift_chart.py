"""The chart of an outlet's mixed temperature: looked at, pointed at, stepped through, copied and printed."""

from math import hypot

from PySide6.QtCore import QEvent, QPoint, QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import (
    QAccessible,
    QAccessibleEvent,
    QAction,
    QColor,
    QFocusEvent,
    QFont,
    QFontInfo,
    QFontMetricsF,
    QImage,
    QKeyEvent,
    QKeySequence,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QApplication, QSizePolicy, QToolTip, QWidget
from typing_extensions import override

from estate.window.models import drift_words
from estate.window.models.chart_axes import Axes
from estate.window.models.drift_course import Course, Foreseen, on_day
from estate.window.schemes import LIGHT, shades_of
from estate.window.spoken import speaks_as
from estate.window.translating import tr
from estate.window.widgets.drift_drawing import Drawing, Manner, axes_of

_NEAR = 14.0
_PICTURE = QSize(1000, 460)
_SHARPNESS = 2
MARGIN = 12
NONE = -1


class DriftChart(QWidget):
    """Shows a `Course`.

    Attributes:
        told: what is pointed at or stepped to, in words; empty for nothing.
        print_asked: the person wants it on paper.
    """

    told = Signal(str)
    print_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.course: Course | None = None
        self.chosen = NONE
        self._years: int | None = None
        self._looked_at: Foreseen | None = None
        speaks_as(self, QAccessible.Role.Chart)
        self.setMouseTracking(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Expanding)
        self.setAccessibleName(tr("Chart of the mixed temperature"))
        self.copy_action = QAction(tr("Copy as picture"), self)
        self.copy_action.setShortcut(QKeySequence(QKeySequence.StandardKey.Copy))
        self.copy_action.setShortcutContext(Qt.ShortcutContext.WidgetShortcut)
        self.copy_action.triggered.connect(self.copy)
        self.print_action = QAction(tr("Print…"), self)
        self.print_action.triggered.connect(self.print_asked)
        self.addActions([self.copy_action, self.print_action])
        self.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)

    def tell(self, course: Course) -> None:
        """Show another course."""
        self.course, self.chosen, self._looked_at = course, NONE, None
        self.setAccessibleDescription(drift_words.of_course(course))
        self.told.emit("")
        self.update()

    def show_years(self, years: int | None) -> None:
        """Show only the last so many years, or all."""
        self._years = years
        self.update()

    def axes(self) -> Axes | None:
        """Where days and temperatures lie on the widget."""
        return axes_of(self._box(), self.course, self._manner()) if self.course is not None else None

    def _box(self) -> QRectF:
        return self.rect().toRectF().adjusted(2, 2, -2, -2)

    def _manner(self) -> Manner:
        return Manner(
            shades_of(self.palette()), pixel_font(self.font()), self._years, self.chosen, self._looked_at
        )

    @override
    def sizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        return QSize(45 * line, 21 * line)

    @override
    def minimumSizeHint(self) -> QSize:
        line = self.fontMetrics().height()
        return QSize(23 * line, round(13.5 * line))

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        if self.course is None:
            return
        painter = QPainter(self)
        manner = self._manner()
        Drawing(painter, self._box(), self.course, manner).draw()
        if self.hasFocus():
            painter.setPen(QPen(QColor(manner.shades.accent), 2))
            painter.drawRect(self.rect().adjusted(1, 1, -1, -1))
        painter.end()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        steps = {Qt.Key.Key_Right: 1, Qt.Key.Key_Left: -1, Qt.Key.Key_Down: 1, Qt.Key.Key_Up: -1}
        ends = {Qt.Key.Key_Home: 0, Qt.Key.Key_End: self._last()}
        key = Qt.Key(event.key())
        if self.course is None or (key not in steps and key not in ends):
            super().keyPressEvent(event)
        elif key in ends:
            self.step_to(ends[key])
        else:
            self.step_to(self._after(steps[key]))

    def _last(self) -> int:
        """The last stop: the end of the fan after all entries, where there is one."""
        course = self.course
        return len(course.stops) - (0 if course.fan else 1) if course is not None else NONE

    def _after(self, step: int) -> int:
        """The stop after the one chosen; from nowhere, the latest entry."""
        count = len(self.course.stops) if self.course is not None else 0
        if self.chosen == NONE:
            return max(count - 1, 0)
        return min(max(self.chosen + step, self._first()), self._last())

    def _first(self) -> int:
        """The first entry that the years shown hold."""
        axes, course = self.axes(), self.course
        stops = course.stops if course is not None and axes is not None else ()
        shown = [place for place, stop in enumerate(stops) if axes is None or stop.on >= axes.shown.first]
        return shown[0] if shown else len(stops)

    def step_to(self, place: int) -> None:
        """Choose an entry, or the end of the fan after the last, and announce it."""
        course = self.course
        place = min(max(place, self._first()), self._last())
        if course is None or place < 0:
            return
        self.chosen = place
        self._looked_at = course.fan[-1] if place == len(course.stops) else None
        self._announce(self._words_of(place))

    def _words_of(self, place: int) -> str:
        course = self.course
        if course is None or place == NONE:
            return ""
        if place < len(course.stops):
            return drift_words.of_stop(course.stops[place])
        return drift_words.of_foreseen(course.fan[-1], course)

    def _announce(self, said: str) -> None:
        self.setAccessibleDescription(said)
        event = QAccessibleEvent(self, QAccessible.Event.DescriptionChanged)
        QAccessible.updateAccessibility(event)
        self.told.emit(said)
        self.update()

    @override
    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._point_at(event.position())
        super().mouseMoveEvent(event)

    def _point_at(self, at: QPointF) -> None:
        """Show what is nearest to the pointer: an entry, or else a day of the fan."""
        place, looked_at = self.nearest(at), self._fan_at(at)
        self.chosen = place
        self._looked_at = looked_at if place == NONE else None
        said = self._words_of(place)
        if self._looked_at is not None and self.course is not None:
            said = drift_words.of_foreseen(self._looked_at, self.course)
        if said:
            QToolTip.showText(self.mapToGlobal(at.toPoint() + QPoint(0, 4)), _wrapped(said), self)
        else:
            QToolTip.hideText()
        self.told.emit(said)
        self.update()

    def nearest(self, at: QPointF) -> int:
        """The entry nearest to a place on the widget, if one is near; else -1."""
        axes, course = self.axes(), self.course
        if axes is None or course is None:
            return NONE
        apart = [
            (hypot(axes.x(stop.on) - at.x(), axes.mark_y(value) - at.y()), place)
            for place, stop in enumerate(course.stops)
            for value in stop.values
            if stop.on >= axes.shown.first
        ]
        distance, place = min(apart, default=(_NEAR + 1, NONE))
        return place if distance <= _NEAR else NONE

    def _fan_at(self, at: QPointF) -> Foreseen | None:
        axes, course = self.axes(), self.course
        if axes is None or course is None or not axes.top <= at.y() <= axes.bottom:
            return None
        return on_day(course, axes.day_at(at.x()))

    @override
    def leaveEvent(self, event: QEvent) -> None:
        if self._looked_at is not None or self.chosen != NONE:
            self.chosen, self._looked_at = NONE, None
            self.told.emit("")
            self.update()
        super().leaveEvent(event)

    @override
    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.update()

    @override
    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.update()

    def copy(self) -> None:
        """Put the chart on the clipboard as a picture on a light ground."""
        if self.course is not None:
            QApplication.clipboard().setImage(self.picture())

    def picture(self) -> QImage:
        """The chart as a picture with its heading, sharp enough for a document."""
        size = self.size().expandedTo(_PICTURE)
        image = QImage(size * _SHARPNESS, QImage.Format.Format_RGB32)
        image.setDevicePixelRatio(_SHARPNESS)
        painter = QPainter(image)
        if self.course is not None:
            box = QRectF(0, 0, size.width(), size.height())
            draw_titled(painter, box, self.course, self.font(), self._years)
        painter.end()
        return image


def draw_titled(
    painter: QPainter, box: QRectF, course: Course, font: QFont, years: int | None = None
) -> None:
    """Draw a chart under its heading, on a light ground, as it leaves the program."""
    manner = Manner(LIGHT, pixel_font(font), years)
    painter.fillRect(box, QColor(LIGHT.base))
    inner = box.adjusted(MARGIN, MARGIN, -MARGIN, -MARGIN)
    strong = QFont(manner.font)
    strong.setWeight(QFont.Weight.DemiBold)
    height = QFontMetricsF(strong).height()
    painter.setPen(QColor(LIGHT.text))
    for number, (text, each) in enumerate(
        ((course.reference, strong), (f"{course.where}. {drift_words.as_at(course)}", manner.font))
    ):
        painter.setFont(each)
        room = QRectF(inner.left(), inner.top() + number * height * 1.2, inner.width(), height * 1.2)
        painter.drawText(room, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, text)
    Drawing(painter, inner.adjusted(0, height * 2.8, 0, 0), course, manner).draw()


def pixel_font(font: QFont) -> QFont:
    """The same font with its size in pixels."""
    made = QFont(font)
    made.setPixelSize(max(8, QFontInfo(font).pixelSize()))
    return made


def _wrapped(said: str) -> str:
    """Each sentence on a line of its own."""
    return said.replace("; ", ";\n").replace(". ", ".\n")
